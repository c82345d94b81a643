package main

import (
	"encoding/json"
	"fmt"
	"io"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// mostRuns bounds --runs: so many machines take some ten minutes.
const mostRuns = 100000

// mostSettings bounds how many settings are made on each machine.
const mostSettings = 100

// convergeVerb lets a hand set many drawn machines, and tells what that took.
func convergeVerb(w world, c *common, f practiceFlags) error {
	switch {
	case f.auto:
		return misuse("--auto prints one machine's lines, --runs what many took; need one of them")
	case f.plain.set:
		return misuse("--plain is for the screen, which --runs does not open")
	case f.settings.set && (f.settings.v < 1 || f.settings.v > mostSettings):
		return misuse("--settings %d, need 1 to %d", f.settings.v, mostSettings)
	case f.settings.set && f.hand.v == practice.TwoPoint:
		return misuse("--settings with --hand two-point, which learns nothing of a machine; need the parked or the collar hand")
	case f.trap.set && f.hand.v == practice.TwoPoint:
		return misuse("--trap with --hand two-point, which asks no program; need the parked or the collar hand")
	}
	if err := f.narrow(); err != nil {
		return err
	}
	o := f.setup.v.Draws(practice.Options{Coarse: f.coarse, Locks: f.locks, Settings: int(f.settings.v), Trap: f.trap.v})
	all, err := practice.Converge(int(f.runs.v), f.seed.or(1), f.hand.v, o, drawnSetting)
	if err != nil {
		return err
	}
	sum := practice.Summarize(f.hand.v, all)
	if f.setup.v != practice.Carried {
		sum.Setup = f.setup.v.String()
	}
	if f.trap.set {
		sum.Trap = f.trap.v.String()
	}
	if c.json {
		line, err := json.Marshal(sum)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(w.out, "%s\n", line)
		return err
	}
	return printConvergence(w.out, &sum, f.setup.v.Told(), o)
}

// narrow refuses what a setup's machines are not drawn with.
func (f *practiceFlags) narrow() error {
	switch {
	case f.setup.v.Wide():
		return nil
	case f.hand.v == practice.TwoPoint:
		return misuse("--hand two-point with --setup %v, which it cannot set; need the parked or the collar hand", f.setup.v)
	case f.coarse || f.locks || f.settings.set:
		return misuse("--coarse, --locks or --settings with --setup %v, need carried or turned", f.setup.v)
	}
	return nil
}

// drawnSetting reads the files that the owner of a drawn machine would have written.
func drawnSetting(d *practice.Drawn) (session.Opened, error) {
	return practiceSetting(d.Job, d.Machine)
}

func printConvergence(w io.Writer, s *practice.Summary, with string, o practice.Options) error {
	if o.Coarse {
		with += ", coarse start"
	}
	if o.Locks {
		with += ", slides clamped"
	}
	if o.Trap != practice.NoTrap {
		with += ", trap " + o.Trap.String()
	}
	_, err := fmt.Fprintf(w, "%d machines, hand %s%s\naccepted %d, of them truly within %d\n", s.Runs, s.Hand, with, s.Settled,
		s.TrulyWithin)
	type count struct {
		name string
		s    practice.Spread
	}
	rows := []count{{"trials", s.Trials}, {"readings", s.Readings}, {"parked readings", s.ParkedReadings}, {"winds", s.Winds}}
	if s.Taps != nil {
		rows = append(rows, count{"taps", *s.Taps})
	}
	for _, row := range rows {
		if err == nil {
			_, err = fmt.Fprintf(w, "%-15s  mean %.2f, half up to %d, 95 %% up to %d, worst %d\n", row.name, row.s.Mean, row.s.P50,
				row.s.P95, row.s.Worst)
		}
	}
	return err
}
