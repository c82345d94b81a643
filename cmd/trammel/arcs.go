package main

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
	"example.org/trammel/tui/pane"
)

// dialPlan lets an arc be chosen on the screen, sets it up and comes back to the plan, until the person
// leaves either.
func dialPlan(w world, c *common, f *dialFlags) error {
	for {
		reach, worry := f.progress(w)
		n, err := f.choose(w, c, reach, worry)
		if err != nil || n == 0 {
			return err
		}
		one := *f
		if open := reach[n].open; open != "" {
			one.resume, one.journal = true, open
			fmt.Fprintf(w.err, "trammel: journal: %s\n", printable(open))
		} else if one.set, err = job.ArcOf(f.planned.Part, n, f.planned.Name); err != nil {
			return err
		}
		o, err := dialOnce(w, c, &one)
		if err != nil || o == nil {
			return err
		}
		if end := o.live.State(); !end.Accepted() {
			return nil
		}
		if f.journal == "" && !one.resume {
			f.journal = o.path // the next setting goes into the same journal
		}
	}
}

// choose shows the plan until an arc is chosen; 0 for none.
func (f *dialFlags) choose(w world, c *common, reach map[int]reached, worry string) (int, error) {
	ctx, stop := untilHangup()
	defer stop()
	return tui.Choose(ctx, tui.PlanConfig{Plan: &f.planned.line, Reach: standings(reach), Worry: worry, Plain: f.plain, In: w.in, Out: w.out,
		Turn: func(n int) (*lines.Plan, string) {
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
			if reach[n].open != "" {
				return "", ""
			}
			if err := f.fits(n); err != nil {
				return err.Error(), hint(err)
			}
			return "", ""
		}})
}

// fits checks the job file, as it is now, for an arc.
func (f *dialFlags) fits(n int) error {
	a, err := job.ArcOf(f.planned.Part, n, f.planned.Name)
	if err != nil {
		return err
	}
	draft, _, err := readJob(f.job)
	if err != nil {
		return err
	}
	_, err = draft.For(a.Figures())
	return err
}

// standings are the words of the arcs' standing, as the screen knows them.
func standings(reach map[int]reached) map[int]pane.Standing {
	out := map[int]pane.Standing{}
	for n, r := range reach {
		switch r.standing {
		case lines.ToDo: // left to the screen, which knows whether it can be cut at all
		case lines.IsSet:
			out[n] = pane.SetUp
		case lines.IsCut:
			out[n] = pane.BeenCut
		case lines.Checked:
			out[n] = pane.Checked
		case lines.Out:
			out[n] = pane.Missed
		}
		if r.open != "" {
			out[n] = pane.Begun
		}
	}
	return out
}

// sameMM is how far the figures of one arc may lie apart, millimetres, and radians.
const sameMM = 1e-6

// sameArc reports whether two settings are for one arc, whatever its number: that follows from the flags that
// the plan was asked for with.
func sameArc(a, b *job.Arc) bool {
	far := func(x, y float64) bool { return math.Abs(x-y) > sameMM }
	return a.Centre.Sub(b.Centre).Norm() <= sameMM && !far(a.Radius, b.Radius) && !far(a.Swing, b.Swing) &&
		!far(float64((a.From-b.From+1).Normalized()), 1) && !far(float64(a.To-a.From), float64(b.To-b.From))
}

// reached is how far an arc is.
type reached struct {
	standing lines.Standing
	open     string // the journal in which a setting of it is open
}

// progress looks through the journals of the data folder, and one that is named, for settings of the
// drawing's arcs, and for the blend to worry about most once one is accepted.
func (f *dialFlags) progress(w world) (reach map[int]reached, worry string) {
	reach = map[int]reached{}
	_, all, err := allSessions(w)
	if err != nil {
		all = nil // then what is to be opened says so
	}
	if f.journal != "" {
		all = append(all, look(f.journal))
	}
	made, _ := f.planned.made(all)
	x, err := lines.NewBlends(f.planned.Planned, settings(made), believed(made), f.planned.line.Unit)
	if err == nil && len(made) > 0 { // before that every blend is as good as the tolerance
		worry = x.WorstWords()
	}
	for _, a := range x.Arcs {
		reach[a.N] = reached{standing: a.State}
	}
	for i := range all {
		set := all[i].state.Set
		if !all[i].open() || !f.planned.drew(set) {
			continue
		}
		for _, n := range f.planned.arcsFor(set) {
			reach[n] = reached{reach[n].standing, all[i].path}
		}
	}
	return reach, worry
}

// arcsFor lists the arcs of the plan that a setting for an arc is for, by their numbers.
func (p *planned) arcsFor(set *session.Opened) (numbers []int) {
	for swung := range p.Part.Swings() {
		n := swung.N
		if a, err := job.ArcOf(p.Part, n, ""); err == nil && sameArc(a, set.Arc) {
			numbers = append(numbers, n)
		}
	}
	return numbers
}

// drew reports whether a setting is for an arc of the plan's drawing: its opening names the file as it is now, or
// holds the same outline. So a drawing that was saved again, or under another name, keeps its settings, and a
// choice of layers, which makes another outline, loses none.
func (p *planned) drew(set *session.Opened) bool {
	if set.Arc == nil {
		return false
	}
	return slices.ContainsFunc(set.Files, func(f session.File) bool { return f.SHA256 == p.sum }) || sameOutline(set.Outline, p.runs)
}

// sameOutline reports whether two outlines are the same run by run; of none no one can say so.
func sameOutline(a, b []geom.Chain) bool {
	near := func(p, q geom.Point) bool { return p.Sub(q).Norm() <= sameMM }
	same := func(e, o geom.Element) bool {
		return near(e.Start, o.Start) && near(e.End, o.End) && near(e.At(0.5), o.At(0.5))
	}
	return len(a) > 0 && slices.EqualFunc(a, b, func(c, d geom.Chain) bool { return slices.EqualFunc(c, d, same) })
}
