package main

import (
	"fmt"
	"slices"
	"strconv"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/tui"
	"example.org/trammel/tui/pane"
)

// dialPlan lets an arc be chosen on the screen, sets it up and comes back to the plan, until the person
// leaves either.
func dialPlan(w world, c *common, f *dialFlags) error {
	left := map[string]bool{} // the journals in which a setting was left open
	wrong := ""
	for {
		reach, worry := f.progress(w)
		where, _ := f.where(w, c)
		chosen, err := f.choose(w, c, reach, &where, worry, wrong)
		wrong = ""
		switch {
		case err != nil:
			return err
		case chosen.Cutters:
			if err := f.nameCutters(w, c); err != nil {
				wrong = err.Error()
			}
			continue
		case chosen.Ticked > 0:
			if err := f.tick(w, chosen.Ticked); err != nil {
				wrong = err.Error()
			}
			continue
		case chosen.Arc == 0:
			return nil
		}
		n := chosen.Arc
		one := *f
		one.fromPlan, one.run = true, true
		if open := reach[n].open; len(open) > 0 {
			one.resume, one.journal = true, open[0].Path
			fmt.Fprintf(w.err, "trammel: journal: %s\n", printable(one.journal))
			tellOthers(w, &open[0], open[1:])
		} else if one.set, err = part.Pick(f.planned.Part, n, f.planned.Name); err != nil {
			return err
		}
		if !one.resume && left[one.journal] {
			one.journal = "" // another arc is gone on with there
		}
		if leave, err := one.completeArc(w, c); err != nil {
			return err
		} else if leave {
			continue
		}
		o, err := dialOnce(w, c, &one)
		if err != nil || o == nil {
			return err
		}
		if w.screen.ctx.Err() != nil {
			return nil // told to end
		}
		end := o.live.State()
		left[o.path] = !end.Accepted()
		if (one.journal == "" || one.anew) && !one.resume {
			f.journal = o.path // the next setting goes into the same journal
		}
	}
}

// nameCutters asks for the cutters at hand, and plans with them. They are kept in the settings where these name none; left, all stays
// as it is.
func (f *dialFlags) nameCutters(w world, c *common) error {
	q, done, err := askAll(w, c, &askFlags{manner: f.manner}, "the cutters at hand", job.CutterQuestions(f.planned.line.Unit), &keeper{},
		noNews)
	mm, said := q.HandSaid(job.Cutters)
	if err != nil || !done || !said {
		return err
	}
	draft, _, err := f.readJob()
	if err != nil {
		return err
	}
	was := f.cutters
	if f.cutters = nil; len(mm) > 0 {
		for _, d := range mm {
			f.cutters = append(f.cutters, strconv.FormatFloat(draft.Unit.From(d), 'g', -1, 64))
		}
	}
	if err := f.readDrawing(w, c); err != nil {
		f.cutters = was
		return err
	}
	if _, kept := w.settings.text(job.Cutters); !kept {
		keepHand(w, q)
	}
	return nil
}

// choose shows the plan until it is left, for an arc, or an element that is ticked off, or to name cutters.
func (f *dialFlags) choose(w world, c *common, reach map[int]reached, where *record.Where, worry, wrong string) (tui.Choice, error) {
	t := w.screen
	far := standings(reach)
	for _, x := range where.List {
		if where.IsTicked(x.N) {
			far[x.N] = pane.Ticked
		}
	}
	return tui.Choose(t.ctx, tui.PlanConfig{Plan: &f.planned.line, Reach: far, Where: where, Worry: worry, Wrong: wrong,
		Plain: f.plainly(w), In: t.in, Out: t.out, Shell: t.shell, Now: w.now, Cutters: true, Topics: helpTopics(),
		Turn: func(n int) (*record.Plan, string) {
			next, words, err := f.planned.turnSide(w, c, &f.planFlags, n)
			switch {
			case err != nil:
				return nil, err.Error()
			case next == nil:
				return nil, words
			}
			f.planned = next
			return &f.planned.line, words
		},
		Check: func(n int) (why, hinted string) {
			if len(reach[n].open) > 0 {
				return "", ""
			}
			if err := f.fits(n); err != nil {
				return err.Error(), hint(err)
			}
			return "", ""
		}})
}

// fits checks the job file, as it is now, for an arc: what it leaves open is asked.
func (f *dialFlags) fits(n int) error {
	a, err := part.Pick(f.planned.Part, n, f.planned.Name)
	if err != nil {
		return err
	}
	draft, _, err := f.readJob()
	if err != nil {
		return err
	}
	_, err = draft.Questions(job.Facts{Drawing: true, Deep: a.Depth > 0, Arc: a.Figures()})
	return err
}

// standings are the words of the arcs' standing, as the screen knows them. What was accepted stands until a new setting has a reading.
func standings(reach map[int]reached) map[int]pane.Standing {
	out := map[int]pane.Standing{}
	for n, r := range reach {
		switch r.standing {
		case part.ToDo: // left to the screen, which knows whether it can be cut at all
		case part.IsSet:
			out[n] = pane.SetUp
		case part.IsCut:
			out[n] = pane.BeenCut
		case part.Checked:
			out[n] = pane.Checked
		case part.Out:
			out[n] = pane.Missed
		}
		_, accepted := out[n]
		if slices.ContainsFunc(r.open, func(l record.Journal) bool { return !accepted || l.Read() }) {
			out[n] = pane.Begun
		}
	}
	return out
}

// reached is how far an arc is.
type reached struct {
	standing part.Standing
	open     []record.Journal // in which a setting of it is open: the first is gone on with
}

// progress looks through the journals of the data folder, and one that is named, for settings of the
// drawing's arcs, and for the blend to worry about most once one is accepted.
func (f *dialFlags) progress(w world) (reach map[int]reached, worry string) {
	reach = map[int]reached{}
	wait, all := f.journals(w)
	made, _ := record.Newest(f.planned.Part, &f.planned.drawing, all)
	x, err := record.NewBlends(f.planned.Planned, made, record.DoubtsOf(made), f.planned.line.Unit)
	if err == nil && len(made) > 0 { // before that every blend is as good as the tolerance
		worry = x.WorstWords()
	}
	for _, a := range x.Arcs {
		reach[a.N] = reached{standing: a.State}
	}
	for i := range wait {
		set := wait[i].State.Set
		if !wait[i].Open() || !f.planned.drawing.Drew(set) {
			continue
		}
		for _, n := range f.planned.Part.Numbers(set.Arc) {
			reach[n] = reached{reach[n].standing, append(reach[n].open, wait[i])}
		}
	}
	return reach, worry
}

// journals are those of the data folder and the one that is named: in the order in which one of them is gone on with, the named one
// first, and as they were found.
func (f *dialFlags) journals(w world) (wait, all []record.Journal) {
	_, all, err := allSessions(w)
	if err != nil {
		all = nil // then what is to be opened says so
	}
	wait = slices.Clone(all)
	record.InTurn(wait)
	if f.journal != "" { // which goes before those that are found
		named := look(f.journal)
		wait = slices.DeleteFunc(wait, func(l record.Journal) bool { return sameFile(l.Path, named.Path) })
		wait, all = append([]record.Journal{named}, wait...), append(all, named)
	}
	return wait, all
}
