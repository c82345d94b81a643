package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
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

// opened is a session with its journal.
type opened struct {
	live    *session.Live
	journal *journal.Journal
	path    string
	gauge   *feed          // nil for none
	steps   []session.Step // what opening it caused
	resumed bool
	run     *dialFlags // of a whole plate; nil of a setting by itself
	next    string     // what was said behind a run's setting that is not about it
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

// openSession opens or resumes the journal and, where that is asked for, a setting in it. It returns nil where the person
// wants neither.
func openSession(w world, c *common, f *dialFlags) (o *opened, err error) {
	var set session.Opened
	made := &opened{path: f.journal, resumed: f.resume} // o itself is nil where an error is returned
	defer func() {
		if err != nil {
			made.gauge.end()
		}
	}()
	if !f.resume { // which uses the journal alone
		var leave bool
		if set, leave, err = f.toOpen(w, c); err != nil || leave {
			return nil, err
		}
		made.path, made.resumed = f.journal, f.resume // for one that is open may go on
	}
	if !f.resume {
		if made.gauge, err = openGauge(w, f, &set); err != nil { // before there is a journal
			return nil, err
		}
	}
	o = made
	state, err := o.open(w, f)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			made.journal.Close()
		}
	}()
	// That no word can be left of who writes does the session no harm.
	_ = o.journal.Sign(signature(w))
	if err = bringsArcs(f, &state); err != nil {
		return nil, err
	}
	o.live = session.NewLive(state, o.journal)
	open := state.Phase != session.Unopened && !state.Accepted()
	switch {
	case f.resume && !f.part.set && !open && state.Phase != session.Cutting:
		return nil, withHint(fmt.Errorf("%s: no open setting to resume, every setting in it is accepted", o.path),
			"add --part for the next part on the last of them, or leave out --resume to begin the next setting in it")
	case f.resume:
		if err = o.goesOn(w, c, f); err != nil {
			return nil, err
		}
	case open:
		return nil, stillOpen(o.path)
	default:
		o.steps, err = o.live.Do(session.Open{Opened: set}, w.now())
	}
	return o, err
}

// goesOn goes on with the journal's setting: where it stands, or with its next part.
func (o *opened) goesOn(w world, c *common, f *dialFlags) (err error) {
	s := o.live.State()
	if f.part.set {
		if err = o.takesPart(w, &s); err != nil {
			return err
		}
	}
	if err = f.unitFits(c, s.Set); err != nil {
		return err
	}
	tellChanges(w, s.Set, f)
	if o.gauge, err = openGauge(w, f, s.Set); err != nil {
		return err
	}
	if o.steps, err = o.live.Settle(w.now()); err != nil {
		return err
	}
	if f.part.set {
		return o.beginPart(w, f)
	}
	return o.differing(w, f)
}

// signature says who writes a journal.
func signature(w world) string {
	return fmt.Sprintf("process %d since %s, %s", os.Getpid(), w.now().Format("2006-01-02 15:04:05"), programName())
}

// unitFits refuses a unit that a screen would not show, before anything is written.
func (f *dialFlags) unitFits(c *common, set *session.Opened) error {
	if !f.screen {
		return nil
	}
	return c.screen(set.Job.Unit)
}

// open opens the journal's file and folds what it holds.
func (o *opened) open(w world, f *dialFlags) (s session.State, err error) {
	switch {
	case f.journal == "":
		if all := f.onJob(w, f.jobSum); len(all) > 0 && !f.anew {
			f.tellOpen(w, all)
		}
		o.journal, o.path, err = newJournal(w, cmp.Or(f.job, f.machine), f.target)
		if err == nil {
			fmt.Fprintf(w.err, "trammel: journal: %s\n", printable(o.path))
		}
		return s, err
	case !f.resume:
		o.journal, err = journal.Create(f.journal)
		if !errors.Is(err, fs.ErrExist) {
			return s, err
		}
	}
	var torn journal.Recovery
	if o.journal, torn, err = openJournal(f.journal); err != nil {
		return s, err
	}
	if torn.Torn > 0 {
		fmt.Fprintf(w.err, "trammel: journal: the last line was torn; its %d bytes are set aside in %s\n", torn.Torn,
			printable(torn.TornPath))
	}
	if s, err = session.Fold(o.journal.Lines(), nil); err != nil {
		o.journal.Close()
		return s, fmt.Errorf("%s: %w", f.journal, err)
	}
	return s, nil
}

// readSetting reads both files and checks that they go together. All that is wrong with them is told at once.
func readSetting(f *dialFlags) (session.Opened, error) {
	set := session.Opened{Program: programName(), By: f.by, Steps: f.steps.or(f.screen), Bearings: session.Bearings(f.bearings)}
	draft, text, wrongJob := f.readJob()
	if set.Arc = f.set; f.set != nil && f.planned != nil {
		set.Outline = f.planned.drawing.Runs
	}
	if draft != nil {
		set.Job, wrongJob = draft.For(f.set.Figures())
	}
	set.Found = f.foundOf(&set.Job)
	set.Files = append(set.Files, digest(f.job, text))
	var wrongMachine, mismatch error
	set.Machine, text, wrongMachine = readMachine(f.machine)
	set.Files = append(set.Files, digest(f.machine, text))
	if f.planned != nil {
		set.Files = append(set.Files, f.planned.file())
		if f.run {
			set.Plate = f.planned.plate()
		}
	}
	if wrongJob == nil && len(set.Machine.Slides) > 0 {
		mismatch = job.Match(&set.Job, &set.Machine, f.machine)
	}
	return set, together(wrongJob, wrongMachine, mismatch)
}

func digest(name string, text []byte) session.File {
	sum := sha256.Sum256(text)
	return session.File{Name: name, SHA256: hex.EncodeToString(sum[:])}
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
