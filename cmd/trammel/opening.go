package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

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
