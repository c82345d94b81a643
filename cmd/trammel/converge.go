package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// mostRuns bounds --runs: so many machines take some ten minutes.
const mostRuns = 100000

// runs is a whole number of machines, 0 where it is not given.
type runs int

func (r *runs) String() string {
	if *r == 0 {
		return ""
	}
	return strconv.Itoa(int(*r))
}

func (r *runs) Set(text string) error {
	v, err := strconv.Atoi(text)
	if err != nil || v < 1 || v > mostRuns {
		return fmt.Errorf("%q, need a whole number from 1 to %d", text, mostRuns)
	}
	*r = runs(v)
	return nil
}

func (r *runs) Type() string { return "N" }

// mostSettings bounds how many settings are made on each machine.
const mostSettings = 100

// convergeVerb lets a hand set many drawn machines, and tells what that took.
func convergeVerb(w world, c *common, f practiceFlags) error {
	switch {
	case f.auto:
		return misuse("--auto prints one machine's lines, --runs what many took; need one of them")
	case f.plain:
		return misuse("--plain is for the screen, which --runs does not open")
	case f.settings.set && (f.settings.v < 1 || f.settings.v > mostSettings):
		return misuse("--settings %d, need 1 to %d", f.settings.v, mostSettings)
	case f.settings.set && f.hand.v == practice.TwoPoint:
		return misuse("--settings with --hand two-point, which no machine teaches; need the parked or the collar hand")
	}
	if err := f.setup.only(&f); err != nil {
		return err
	}
	first := uint64(1)
	if f.seed.set {
		first = f.seed.v
	}
	o := practice.Options{Coarse: f.coarse, Locks: f.locks, Settings: int(f.settings.v), Turned: f.setup.turned(), Taps: f.setup.taps, Points: f.setup.points(), SetOff: f.setup.setOff}
	all, err := practice.Converge(int(f.runs), first, f.hand.v, o, drawnSetting)
	if err != nil {
		return err
	}
	sum := practice.Summarize(f.hand.v, all)
	if f.setup != (setup{}) {
		sum.Setup = f.setup.String()
	}
	if c.json {
		line, err := json.Marshal(sum)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(w.out, "%s\n", line)
		return err
	}
	return printConvergence(w.out, &sum, o)
}

// only refuses what a setup's machines are not drawn with.
func (s *setup) only(f *practiceFlags) error {
	switch {
	case !s.taps && !s.points() && !s.setOff:
		return nil
	case f.hand.v == practice.TwoPoint:
		return misuse("--hand two-point with --setup %v, which it cannot set; need the parked or the collar hand", s)
	case f.coarse || f.locks || f.settings.set:
		return misuse("--coarse, --locks or --settings with --setup %v, need carried or turned", s)
	}
	return nil
}

// drawnSetting reads the files that the owner of a drawn machine would have written.
func drawnSetting(d *practice.Drawn) (session.Opened, error) {
	return practiceSetting(d.Job, d.Machine)
}

func printConvergence(w io.Writer, s *practice.Summary, o practice.Options) error {
	with := ""
	switch {
	case o.Taps:
		with += ", rotary table, work tapped"
	case o.Turned:
		with += ", rotary table"
	case o.SetOff:
		with += ", set off a table's axis"
	case o.Points:
		with += ", readouts, circle touched"
	}
	if o.Coarse {
		with += ", coarse start"
	}
	if o.Locks {
		with += ", slides clamped"
	}
	_, err := fmt.Fprintf(w, "%d machines, hand %s%s\naccepted %d, of them truly within %d\n", s.Runs, s.Hand, with, s.Settled, s.TrulyWithin)
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
			_, err = fmt.Fprintf(w, "%-15s  mean %.2f, half up to %d, 95 %% up to %d, worst %d\n", row.name, row.s.Mean, row.s.P50, row.s.P95, row.s.Worst)
		}
	}
	return err
}
