package main

import (
	"encoding/json"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

type practiceFlags struct {
	seed, settings, runs value[uint64]
	auto                 bool
	manner
	coarse, locks bool
	steps         value[bool]
	hand          value[practice.Hand] // how simulated hands wind
	setup         value[practice.Setup]
	trap          value[practice.Trap]
	traps         bool // are to be listed
	gauge         bool // a cable indicator watches, and the person winds
	lesson        value[practice.Lesson]
}

func newPractice(w world, c *common) *cobra.Command {
	const from0 = "a whole number from 0"
	f := practiceFlags{
		seed: wholeNumber(0, math.MaxUint64, from0), settings: wholeNumber(0, math.MaxUint64, from0), runs: wholeNumber(1, mostRuns,
			fmt.Sprintf("a whole number from 1 to %d", mostRuns)),
		hand:  value[practice.Hand]{kind: "HAND", unset: practice.Parked.String(), read: practice.ParseHand},
		setup: value[practice.Setup]{kind: "SETUP", unset: practice.Carried.String(), read: practice.ParseSetup},
		trap:  value[practice.Trap]{kind: "TRAP", read: practice.ParseTrap}, lesson: lessonFlag(),
	}
	cmd := &cobra.Command{
		Use:   "practice",
		Short: "work on a simulated machine with backlash, pitch error and a noisy dial",
		Long: `practice opens the built-in simulated machine: an offset head over the pivot bore
of a belt tensioner's plate, with backlash, pitch error, an offset slide that
misses the head axis, and a dial that never reads twice the same.

With --setup turned it is a rotary table that turns under a spindle that stands still,
with cross slides on top that are a little out of square; with --setup taps the work lies
loose on that table and is tapped into place; with --setup points there are readouts, and the
bore is touched with an edge finder; with --setup set-off the spindle is stood over a
table's axis, and carried off it by a slide with a readout; with --setup about, or
about-table, the arc has nothing to sweep about its centre, and readouts lead there from the bore.

With --gauge the machine has a cable indicator: its needle moves as the head swings and as
you wind, with the arrow keys; Enter takes what it shows.

With --auto (or where there is no terminal) simulated hands play it through: they
wind with the head parked under the needle, or with --hand collar by the collar.

With --runs N they set N machines drawn at random, from --seed on, and what that
took is told: --hand two-point is cut-and-try without a program, for comparison;
--coarse starts up to 2 mm out, --locks clamps every slide once it stands.

With --trap the machine has something that its files do not say, or say wrong: a reach
that is off, a reference that is not round, a handle that turns the other way. See what
the program says of it; --traps lists them.

With --lesson N it is a short lesson: 1 read, fit and wind, 2 a misread and a wrong statement,
3 a plate from its drawing. Its first page says what is aimed at, its last what was learnt.`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return practiceVerb(w, c, f) },
	}
	cmd.Flags().Var(&f.seed, "seed", "which simulated machine (default: a new one each time, 1 when played through)")
	cmd.Flags().Var(&f.setup, "setup", "carried: an offset head swung over the plate; turned: a rotary table with cross slides on it; "+
		"taps: one without; points: a circle touched by readouts; set-off: a spindle carried off a table's axis; "+
		"about, about-table: an arc about no hole, under the head or on the table")
	cmd.Flags().BoolVar(&f.auto, "auto", false, "play it through and print the lines")
	cmd.Flags().Var(&f.hand, "hand", "how simulated hands wind: parked, collar, or with --runs two-point")
	cmd.Flags().Var(&f.runs, "runs", "set so many machines drawn at random, and tell what it took")
	cmd.Flags().BoolVar(&f.coarse, "coarse", false, "with --runs: start up to 2 mm out in radius and centre")
	cmd.Flags().
		Var(&f.settings, "settings", "with --runs: so many settings on each machine one after the other, of which the last counts")
	cmd.Flags().BoolVar(&f.locks, "locks", false, "with --runs: clamp every slide, which moves it")
	cmd.Flags().Var(&f.trap, "trap", "something that the files do not say, or say wrong; --traps lists them")
	cmd.Flags().
		BoolVar(&f.gauge, "gauge", false, "a cable indicator watches, and the arrow keys wind while its needle moves; on the screen")
	cmd.Flags().BoolVar(&f.traps, "traps", false, "list the traps")
	cmd.Flags().Var(&f.lesson, "lesson", "take one of the three lessons of a short course")
	addSteps(cmd, &f.steps)
	cmd.Flags().Lookup("steps").Usage = "ask for the order at the machine step by step, to the checked arc (on a screen and in lesson 3 " +
		"unless --steps=false; in lessons 1 and 2 with --steps alone)"
	f.manner.add(cmd)
	return cmd
}

func practiceVerb(w world, c *common, f practiceFlags) error {
	switch {
	case f.traps:
		return listTraps(w, c)
	case f.gauge && !f.setup.v.Dial():
		return misuse("--gauge with --setup %v, which has no dial, need a set-up that has one", f.setup.v)
	case f.gauge && !f.onScreen(w, c):
		return misuse(
			"--gauge where simulated hands play, which read the dial themselves; need a terminal, and no --auto, --runs or --json",
		)
	case f.lesson.set:
		return lessonVerb(w, c, f)
	case f.trap.set && !f.setup.v.Wide():
		return misuse("--trap with --setup %v, need carried or turned", f.setup.v)
	case f.runs.set:
		return convergeVerb(w, c, f)
	}
	if err := f.single(); err != nil {
		return err
	}
	watch := f.onScreen(w, c)
	n := uint64(1)
	if watch {
		n = uint64(w.now().UnixMilli()) % 10000
	}
	n = f.seed.or(n)
	bench := f.setup.v.Bench(n)
	jobText, machineText := f.setup.v.Files()
	set, err := practiceSetting(f.trap.v.Lay(n, &bench, jobText), machineText)
	if err != nil {
		return err
	}
	return f.sit(w, c, set, practice.New(bench, n), n, &session.Memory{})
}

// sit works on a machine until the setting is left: on the screen, else by simulated hands. What is done is kept in memory.
func (f *practiceFlags) sit(w world, c *common, set session.Opened, machine *practice.Machine, n uint64, mem *session.Memory) error {
	watch := f.onScreen(w, c)
	if f.hand.v == practice.Collar {
		for i := range set.Machine.Slides {
			set.Machine.Slides[i].ByCollar = true
		}
	}
	if watch {
		if f.hand.set {
			return misuse("--hand on the screen, which has your own; need --auto or --runs with it")
		}
		if err := c.screen(set.Job.Unit); err != nil {
			return err
		}
	}
	if c := set.Job.Cut; c != nil {
		worn := c.Cutter - practiceWear
		if c.Hollow {
			worn = -worn
		}
		machine.Cutter(worn)
	}
	set.Steps = f.steps.or(watch)
	live := session.NewLive(session.State{}, mem)
	steps, err := live.Do(session.Open{Opened: set}, w.now())
	if err != nil {
		return err
	}
	if watch {
		return onScreen(w, &f.manner, func(w world) error { return f.practiceScreen(w, live, machine, n) })
	}
	u := c.unit.or(set.Job.Unit)
	if err := saySteps(w, c, u, steps); err != nil {
		return err
	}
	var sayErr error
	err = machine.Play(live, w.now, func(st session.Step) {
		if sayErr == nil {
			sayErr = saySteps(w, c, u, []session.Step{st})
		}
	})
	if sayErr != nil {
		return sayErr
	}
	return err
}

// listTraps says which traps there are, and what each is in truth.
func listTraps(w world, c *common) error {
	for _, t := range practice.Traps() {
		if !c.json {
			fmt.Fprintf(w.out, "%-14s %s\n", t, t.Told())
			continue
		}
		line, err := json.Marshal(struct {
			Trap string `json:"trap"`
			Told string `json:"told"`
		}{t.String(), t.Told()})
		if err != nil {
			return err
		}
		fmt.Fprintf(w.out, "%s\n", line)
	}
	return nil
}

// onScreen reports whether a person works the machine.
func (f *practiceFlags) onScreen(w world, c *common) bool {
	return w.terminal && !f.auto && !f.runs.set && !c.json
}

// practiceScreen works on a simulated machine on the screen.
func (f *practiceFlags) practiceScreen(w world, live *session.Live, machine *practice.Machine, n uint64) error {
	t := w.screen
	c := tui.Config{Live: live, Now: w.now, Bench: machine, Seed: n, Plain: f.plainly(w), In: t.in, Out: t.out, Shell: t.shell,
		Topics: helpTopics()}
	if f.lesson.set {
		c.Remind = f.lesson.v.Reminder
	}
	var line *feed
	if f.gauge {
		c.Wheel = practice.Watch(machine, n)
		var err error
		if line, err = practiceFeed(w, c.Wheel); err != nil {
			return err
		}
		c.Cable = line.forScreen(w, live.State().Set)
	}
	end, err := tui.Run(t.ctx, c)
	line.end() // the machine is nobody else's from here on
	if err == nil {
		printPracticeEnd(w, end, machine, n)
		if f.trap.set {
			fmt.Fprintf(w.out, "the trap: %s\n", f.trap.v.Told())
		}
	}
	return err
}

// single refuses what only many machines can be asked for.
func (f *practiceFlags) single() error {
	switch {
	case f.hand.v == practice.TwoPoint:
		return misuse("--hand two-point asks no program, so there is nothing to play; need --runs with it")
	case f.coarse:
		return misuse("--coarse without --runs, need how many machines to draw")
	case f.settings.set:
		return misuse("--settings without --runs, need how many machines to draw")
	case f.locks:
		return misuse("--locks without --runs, need how many machines to draw")
	}
	return nil
}

// practiceSetting reads a job's and a machine's file.
func practiceSetting(jobText, machineText []byte) (session.Opened, error) {
	set := session.Opened{Program: programName()}
	var err error
	if set.Job, err = job.ParseJob("practice job", jobText); err != nil {
		return set, err
	}
	set.Machine, err = job.ParseMachine("practice machine", machineText)
	return set, err
}

// practiceWear is by how much the simulated cutter is smaller than it is taken for, mm.
const practiceWear = 0.03

// printPracticeEnd tells the truth, which only a simulated machine can, and what to think of it.
func printPracticeEnd(w world, end session.State, m *practice.Machine, n uint64) {
	printTruth(w, end, m, n)
	if end.Accepted() {
		fmt.Fprintln(w.out, "of what is accepted one figure in twenty lies outside its ±: trammel help trust")
	}
}

func printTruth(w world, end session.State, m *practice.Machine, n uint64) {
	t := m.Truth()
	word := "left open"
	if end.Accepted() {
		word = "accepted"
	}
	if end.SetUp().Does().Turns {
		fmt.Fprintf(w.out, "practice machine %d: %s in trial %d; the spindle truly stands %.4f mm off the table's axis\n", n, word,
			end.Trial, math.Hypot(t.CentreX, t.CentreY))
		return
	}
	aim := ""
	if r := end.Set.Job.Target.SwingRadius; r > 0 {
		aim = fmt.Sprintf(" for a swing radius of %.4f mm", r)
	}
	fmt.Fprintf(w.out, "practice machine %d: %s in trial %d%s; %sit truly stands at swing radius %.4f mm, %s\n",
		n, word, end.Trial, aim, woundSince(&end), t.Swing, offWords(t.CentreX, t.CentreY))
	if arc := m.CutArc(); arc > 0 && end.Phase == session.Ended && end.Set.Steps {
		fmt.Fprintf(w.out, "its arc is cut to radius %.2f mm, for one of %.2f mm\n", arc, end.Set.Job.Arc())
	}
}

// offWords say how far the centre is off, millimetres.
func offWords(x, y float64) string {
	return fmt.Sprintf("centre off by x %s mm, y %s mm", geom.FormatFixed(x, 4), geom.FormatFixed(y, 4))
}

// woundSince says which wind has moved the swing radius since the setting was accepted; empty where none has.
func woundSince(end *session.State) (words string) {
	for _, w := range end.Worked {
		switch {
		case w.Skipped:
		case w.Step == session.LeaveStock:
			words = "after the wind that leaves stock on "
		case w.Step == session.LastWind:
			words = "after the last wind, by what the arc measured, to its finished radius, "
		}
	}
	return words
}
