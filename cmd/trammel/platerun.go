package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// lineByLine hands over no more than a line at a time, so that whoever reads on behind a setting has all that follows.
type lineByLine struct{ in io.Reader }

func (l lineByLine) Read(p []byte) (int, error) {
	for n := range p {
		if k, err := l.in.Read(p[n : n+1]); k == 0 || err != nil || p[n] == '\n' {
			return n + k, err
		}
	}
	return len(p), nil
}

// keptRun is the run of a plate that a journal keeps, which goes on from the journal alone; nil where it keeps none.
func (f *dialFlags) keptRun() *dialFlags {
	l := look(f.journal)
	set := l.State.Set
	if l.Wrong != "" || set == nil || set.Plate == nil || set.Arc == nil || len(set.Files) < 3 {
		return nil
	}
	run := *f
	run.planned = &planned{Planned: record.Planned{Name: set.Plate.Name}, name: set.Files[2].Name, kept: set.Plate,
		drawing: record.Drawn{SHA256: set.Files[2].SHA256, Runs: set.Outline}}
	run.resume = false
	if run.machine == "" {
		run.machine = set.Files[1].Name
	}
	if text, err := readPlain(set.Files[0].Name, mostKept); run.job == "" && err == nil &&
		digest("", text).SHA256 == set.Files[0].SHA256 {
		run.job = set.Files[0].Name // it is there as it was
	}
	if run.job == "" {
		run.draft, run.asked = job.Shared(&set.Job), fmt.Appendf(nil, "# as in %s\n", l.Name)
	}
	return &run
}

// where tells where the plate is, and in which journals what comes now is gone on with.
func (f *dialFlags) where(w world, c *common) (record.Where, []record.Journal) {
	wait, _ := f.journals(w)
	x, open := record.NewWhere(f.planned.plate(), &f.planned.drawing, wait, f.runUnit(c))
	if f.parts > 0 {
		x.Ways = record.NewWays(f.planned.plate(), f.parts, usualStations)
	}
	return x, open
}

// runUnit is the unit that a run is told in: the job's.
func (f *dialFlags) runUnit(c *common) geom.Unit {
	if draft, _, err := f.readJob(); err == nil {
		return c.unit.or(draft.Unit)
	}
	return c.unit.or(geom.Millimetre)
}

// runLines works a plate off in lines: it says where one is, sets up what comes now once it is told to, and comes back behind it,
// until all is done. A journal that is gone on with goes on at once.
func runLines(w world, c *common, f *dialFlags) error {
	w.in = lineByLine{w.in}
	f.run = true
	if l := look(f.journal); f.journal != "" && l.Unfinished() && f.planned.drawing.Drew(l.State.Set) {
		if on, err := f.runOne(w, c, l.State.Set.Arc, []record.Journal{l}); err != nil || !on {
			return err
		}
	}
	brief := false
	for {
		x, open := f.where(w, c)
		typed := f.said
		if f.said = ""; typed == "" {
			x.Brief = brief
			if err := say(w, c, x); err != nil || x.Next == nil {
				return err
			}
			var err error
			if typed, err = readLine(w.in); errors.Is(err, io.EOF) {
				return nil
			} else if err != nil {
				return fmt.Errorf("standard input: %w", err)
			}
		}
		on, err := f.runWord(w, c, &x, open, typed)
		brief = strings.TrimSpace(typed) == "?"
		if refusal := (*session.Refusal)(nil); errors.As(err, &refusal) {
			err = say(w, c, lines.Refused(typed, err))
			on, brief = true, true
		}
		if err != nil || !on {
			return err
		}
	}
}

// leaves is the word that leaves a run: the end of the input does too.
const leaves = "quit"

// sayBetween says where a run is once its setting has ended; between says that it has.
func (o *opened) sayBetween(w world, c *common) (between bool, err error) {
	if o.run == nil || o.live.State().Phase != session.Ended {
		return false, nil
	}
	run := *o.run
	run.journal = o.path
	x, _ := run.where(w, c)
	return true, say(w, c, x)
}

// ofSetting reports whether a word behind a run's setting is about that one, or leaves it as it is: the next part on it, what is taken back
// or noted, what is ticked off, and where one is, which is told ahead of every word here.
func ofSetting(typed string) bool {
	word, _, _ := strings.Cut(strings.TrimSpace(typed), " ")
	return slices.Contains([]string{"part", "undo", "note", "tick", whereWord}, word)
}

// runWords are what can be said between two settings of a run.
const runWords = "done, arc N, tick N, where or quit"

// runWord does what is said between two settings. on is false where the run is left.
func (f *dialFlags) runWord(w world, c *common, x *record.Where, open []record.Journal, typed string) (on bool, err error) {
	word, rest, _ := strings.Cut(strings.TrimSpace(typed), " ")
	n, wrong := strconv.Atoi(strings.TrimSpace(rest))
	plate := f.planned.plate()
	switch {
	case word == "quit" && rest == "":
		return false, nil
	case word == whereWord && rest == "":
		return true, nil
	case (word == "?" || word == "help") && rest == "":
		return true, say(w, c, lines.HelpLine{Say: "help", Said: "done sets up what comes now, or ticks it off where it is done by " +
			"slide; arc N sets up another, tick N ticks one off that was done by slide; where says where one is, quit leaves, and " +
			"the same command goes on"})
	case word == "arc" && wrong == nil, word == "" || word == "done" && rest == "":
		if word != "arc" {
			if x.Next == nil {
				return false, nil
			}
			n = x.Next.N
		}
		t := plate.Task(n)
		switch {
		case t == nil:
			return true, &session.Refusal{Because: fmt.Sprintf("the plate has no element %d", n), Hint: "where lists them"}
		case t.Arc == nil && word == "arc":
			return true, &session.Refusal{Because: fmt.Sprintf("element %d is done by slide, and not set", n),
				Hint: fmt.Sprintf("tick %d ticks it off", n)}
		case t.Arc == nil:
			return true, f.tickAndSay(w, c, n)
		case x.Next == nil || n != x.Next.N:
			open = f.openOf(w, t)
		}
		return f.runOne(w, c, f.arcOf(t), open)
	case word == "tick" && wrong == nil:
		return true, f.tickAndSay(w, c, n)
	}
	return true, &session.Refusal{Because: fmt.Sprintf("%q between two settings, need %s", strings.TrimSpace(typed), runWords)}
}

// openOf are the journals in which a setting of a task is open.
func (f *dialFlags) openOf(w world, t *part.Task) (open []record.Journal) {
	wait, _ := f.journals(w)
	for _, l := range wait {
		if l.Open() && f.planned.drawing.Drew(l.State.Set) && t.Is(l.State.Set.Arc) {
			open = append(open, l)
		}
	}
	return open
}

// arcOf is a task's arc with the circles about other centres, which no journal keeps.
func (f *dialFlags) arcOf(t *part.Task) *part.Picked {
	a := *t.Arc
	a.Circles = f.planned.plate().Circles(a.Centre)
	return &a
}

// runOne carries one setting of a run on. on is false where the run does not go on behind it.
func (f *dialFlags) runOne(w world, c *common, arc *part.Picked, open []record.Journal) (on bool, err error) {
	one := *f
	if one.set = arc; len(open) > 0 {
		one.resume, one.journal = true, open[0].Path
		fmt.Fprintf(w.err, "trammel: journal: %s\n", printable(one.journal))
		tellOthers(w, &open[0], open[1:])
	} else if one.journal == "" {
		one.journal = f.runJournal(w)
	}
	if leave, err := one.completeArc(w, c); err != nil || leave {
		return false, err
	}
	o, err := dialOnce(w, c, &one)
	if err != nil || o == nil {
		return false, err
	}
	if f.journal == "" {
		f.journal = o.path // the next setting goes into the same journal
	}
	if f.said = strings.TrimSpace(o.next); f.said == "" {
		f.said = "done"
	}
	end := o.live.State()
	return end.Phase == session.Ended && o.gauge == nil && f.said != leaves, nil // a cable indicator's reader may wait for a line still
}

// runJournal is the newest journal of the plate that can take the next setting; empty for none.
func (f *dialFlags) runJournal(w world) string {
	_, all := f.journals(w)
	var newest *record.Journal
	for i := range all {
		l := &all[i]
		if l.Wrong == "" && l.State.Set != nil && l.State.Accepted() && f.planned.drawing.Drew(l.State.Set) &&
			(newest == nil || l.Last.After(newest.Last)) {
			newest = l
		}
	}
	if newest == nil {
		return ""
	}
	return newest.Path
}

// tickAndSay ticks an element off, and says so.
func (f *dialFlags) tickAndSay(w world, c *common, n int) error {
	if err := f.tick(w, n); err != nil {
		return err
	}
	return say(w, c, lines.Ticked(n))
}

// tick ticks an element off in the plate's newest journal.
func (f *dialFlags) tick(w world, n int) error {
	if !slices.Contains(f.planned.plate().ByHand(), n) {
		return &session.Refusal{Because: fmt.Sprintf("element %d is none that is done by slide, need one of those", n),
			Hint: "where lists them"}
	}
	if err := f.bossFirst(w, n); err != nil {
		return err
	}
	path := f.journal
	if path == "" {
		path = f.runJournal(w)
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) { // of no name too
		return &session.Refusal{Because: "no setting of this plate is on record yet, and its journal keeps what is ticked off",
			Hint: "set " + firstSet(f.planned.plate()) + " first, or tick it off behind that"}
	}
	j, _, err := openJournal(path)
	if err != nil {
		return err
	}
	defer j.Close()
	s, err := session.Fold(j.Lines(), nil)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	_, err = session.NewLive(s, j).Do(session.Tick{N: n}, w.now())
	return err
}

// bossFirst refuses to tick off a milling whose boss is not cut yet: it begins on the floor that the boss's cut leaves.
func (f *dialFlags) bossFirst(w world, n int) error {
	plate := f.planned.plate()
	t := plate.Task(n)
	if t == nil || len(t.Mill) == 0 {
		return nil
	}
	wait, _ := f.journals(w)
	x, _ := record.NewWhere(plate, &f.planned.drawing, wait, geom.Millimetre)
	for _, b := range plate.Milled(t) {
		if !x.IsDone(b.N) {
			return &session.Refusal{Because: fmt.Sprintf("milling %d begins on the floor round element %d, which is not cut yet", n, b.N),
				Hint: fmt.Sprintf("set arc %d first", b.N)}
		}
	}
	return nil
}

// firstSet names what a plate's first setting is for.
func firstSet(plate *part.Plate) string {
	for i := range plate.Tasks {
		if t := &plate.Tasks[i]; t.Arc != nil {
			return fmt.Sprintf("arc %d", t.N)
		}
	}
	return "an arc"
}
