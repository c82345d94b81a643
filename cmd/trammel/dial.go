package main

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

type dialFlags struct {
	job, machine, journal string
	by                    string // the operator's initials
	resume, lines         bool
	part                  value[session.PartHow] // the next part begins on a setting that was left accepted
	manner
	steps          value[bool] // the order at the machine is asked for step by step
	jobSum, target string      // digest of the job file, and its target for a file name; empty where a session is resumed
	bearings       string      // by which figures places are told
	learntFrom     string      // another journal whose checked arcs correct this setting
	gauge          string      // where the cable indicator is found; empty for what the machine's file states
	screen         bool        // the session goes on on a screen, not in lines
	fromPlan       bool        // the arc was chosen on the plan's screen, which comes back behind it
	said           string      // behind the last setting of a run; empty for nothing
	run            bool        // the whole plate is worked off, and each opening keeps it
	askedJob
	told  bool            // which arc is to be set was said before the questions
	again *session.Opened // the setting of the part before, which this one is set by; nil for none
	anew  bool            // it was asked, and a new session is wanted beside those that are open
	arcFlags
}

func newDial(w world, c *common) *cobra.Command {
	f := dialFlags{part: partFlag(), arcFlags: newArcFlags()}
	cmd := &cobra.Command{
		Use:   "dial [--job JOB.toml] [--machine NAME|MACHINE.toml] [--drawing FILE [--arc N]]",
		Short: "bring a radius in at the machine",
		Long: `dial asks for readings, fits the circle, tells the winds and keeps the journal.

With --lines (or where there is no terminal) it takes one answer a line: a number
is the reading, at a station or where a wind has stopped; an empty line confirms, as
done does; else a word:

` + grammarHelp() + `
The end of input pauses the session; --resume goes on. A journal that another program
writes is opened for looking only: it says who has it, and what is said there; nothing
is taken down (lines then exit with 1).

Without --job it asks for the job first, and what a file leaves open in any case, on a
terminal page by page; in lines an empty one takes what is proposed, ? explains, back goes
to the question before, unknown leaves out what may be left out. Without --machine the one
machine that is known by name is taken.

With --drawing it sets the arcs of a plan: the target of arc N is its swing radius, and
the job file says the rest; where it does not, or its reach would put the needle off the
dial at the target, the reference and the reach of this arc are asked for. Without --arc a screen shows the outline and how far each
arc is. The other flags are those of plan; lengths are in the job's unit. The X/Y places
of an arc that no swing makes are no setting: plan and sheet list them (--step-height,
--readout-step).`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return dialVerb(w, c, &f) },
	}
	cmd.Flags().StringVar(&f.job, "job", "", "job, by its name or its file (default: it is asked for, question by question)")
	cmd.Flags().StringVar(&f.machine, "machine", "", "machine, by its name or its file (default: the one that is known)")
	cmd.Flags().StringVar(&f.journal, "journal", "", "journal (default: a new one in the data folder)")
	cmd.Flags().StringVar(&f.by, "by", "", "the operator's initials, kept with the setting")
	cmd.Flags().BoolVar(&f.resume, "resume", false, "go on with the open setting of --journal (default: the last one in the data folder)")
	cmd.Flags().Var(&f.part, "part",
		"with --resume: begin the next part on the accepted setting of --journal; =sweep, =bracket, =unswept as the word part takes them")
	cmd.Flags().Lookup("part").NoOptDefVal = asDue
	cmd.Flags().BoolVar(&f.lines, "lines", false, "plain lines in and out")
	addSteps(cmd, &f.steps)
	cmd.Flags().StringVar(&f.learntFrom, "learnt-from", "", "another journal whose checked arcs correct this setting")
	cmd.Flags().StringVar(&f.gauge, "gauge", "",
		"cable indicator, "+gauge.SourceForms()+"; "+withoutGauge+" for none (default: the machine file's)")
	cmd.Flags().StringVar(&f.bearings, "bearings", "", "tell places by the ring's figures (ring) or in the one frame (plain)")
	f.manner.add(cmd)
	f.arcFlags.add(cmd)
	cmd.SetFlagErrorFunc(placesElsewhere)
	return cmd
}

func dialVerb(w world, c *common, f *dialFlags) error {
	f.screen = !f.lines && !c.json && w.terminal
	if err := f.check(); err != nil {
		return err
	}
	if err := f.arcsFit(); err != nil {
		return err
	}
	if !f.resume {
		f.machine = w.orMachine(f.machine)
	}
	if !f.screen {
		return completed(w, c, f)
	}
	return onScreen(w, &f.manner, func(w world) error { return completed(w, c, f) })
}

// check refuses flags that do not go together.
func (f *dialFlags) check() error {
	switch {
	case session.Bearings(f.bearings).Check() != nil:
		return misuse("--bearings %q, need %s or %s", f.bearings, session.ByRing, session.ByFrame)
	case f.resume && f.learntFrom != "":
		return misuse("--learnt-from with --resume, need it where the setting is opened")
	case f.part.set && !f.resume:
		return misuse("--part without --resume, need it: the next part begins on a setting that is accepted")
	case f.resume && f.by != "":
		return misuse("--by with --resume, need it where the setting is opened")
	case !initials(f.by):
		return misuse("--by %q, need initials: at most %d letters, points between them", f.by, mostInitials)
	}
	return checkGauge(f.gauge)
}

func dial(w world, c *common, f *dialFlags) error {
	if f.resume && f.journal == "" {
		var err error
		last := lastOpen
		if f.part.set {
			last = lastDone
		}
		if f.journal, err = last(w); err != nil {
			return err
		}
	}
	choose, err := f.fromDrawing(w, c)
	if err != nil {
		return err
	}
	switch {
	case choose && f.screen:
		return dialPlan(w, c, f)
	case choose:
		return runLines(w, c, f)
	case f.resume && !f.screen && !f.part.set:
		if run := f.keptRun(); run != nil {
			return runLines(w, c, run)
		}
	}
	if leave, err := f.completeArc(w, c); err != nil || leave {
		return err
	}
	_, err = dialOnce(w, c, f)
	return err
}

// dialOnce carries one setting on, and returns where it stands then; nil where another program writes the
// journal, so that this one has only looked on, and where nothing was begun.
func dialOnce(w world, c *common, f *dialFlags) (*opened, error) {
	o, err := openSession(w, c, f)
	if other := (*journal.LockedError)(nil); errors.As(err, &other) {
		return nil, lookOn(w, c, f, other)
	}
	if err != nil || o == nil {
		return nil, err
	}
	f.kept.done()
	defer o.journal.Close()
	defer o.gauge.end()
	defer func() { keepTaught(w, o.live.State(), o.path) }()
	if f.screen {
		return o, dialScreen(w, o, f)
	}
	o.next = leaves
	if f.run && f.planned != nil {
		o.run = f
	}
	if !f.lines && !w.terminal {
		fmt.Fprintln(w.err, "trammel: hint: this is no terminal, so the session goes on in plain lines (--lines)")
	}
	return o, lineMode(w, c, o)
}

// mostInitials keeps names out of the journal: nothing personal is collected.
const mostInitials = 6

// initials reports whether a text is empty or no more than somebody's initials.
func initials(s string) bool {
	letters := strings.ReplaceAll(s, ".", "")
	return utf8.RuneCountInString(letters) <= mostInitials && !strings.ContainsFunc(letters,
		func(r rune) bool { return !unicode.IsLetter(r) }) &&
		(s == "" || letters != "") && len(s) <= 4*mostInitials
}

func dialScreen(w world, o *opened, f *dialFlags) error {
	t, c := w.screen, tui.Config{Live: o.live, Now: w.now, Plain: f.plainly(w), Journal: quoted(o.path), Plan: f.fromPlan,
		Topics: helpTopics()}
	c.In, c.Out, c.Shell = t.in, t.out, t.shell
	if o.gauge != nil {
		c.Cable = o.gauge.forScreen(w, o.live.State().Set)
	}
	end, err := tui.Run(t.ctx, c)
	if err != nil {
		return withHint(err, "everything entered is in %s; go on with --journal and --resume", o.path)
	}
	printEnd(w, end, o.path)
	return nil
}

// changeOver is what comes between the dial and the cut.
const changeOver = `before the cut: isolate the spindle; indicator out, cutter in, spindle free again; clamp work and
head; one ` + record.DryRun + ` through the whole arc. The machine's manual, local rules and trained
supervision go first.`

// printEnd says, after the screen has gone, where the session stands.
func printEnd(w world, end session.State, path string) {
	switch end.Phase {
	case session.Ended:
		fmt.Fprintf(w.out, "accepted in trial %d; journal %s\n", end.Trial, printable(path))
		if !end.Set.Steps {
			fmt.Fprintln(w.out, changeOver)
		}
		return
	case session.Cutting:
		fmt.Fprintf(w.out, "accepted in trial %d; the steps to the checked arc go on with: trammel dial --resume --journal %s\n%s\n",
			end.Trial, printable(path), changeOver)
		return
	case session.Unopened, session.Preparing, session.Loading, session.Sweeping, session.Winding, session.SettledDown:
	}
	fmt.Fprintf(w.out, "%s\ngo on with: trammel dial --resume --journal %s\n", lines.Paused(end.Events).Text(), printable(path))
}
