package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// planOf is the plan that a session's arc was chosen from, ready to be shown; nil with why where it cannot be made again: its drawing is
// not there, or has changed, or it was planned by flags that no journal keeps and that made another arc of it.
func (s *start) planOf(l *record.Journal) (f *dialFlags, why string) {
	set := l.State.Set
	if set == nil || set.Arc == nil || len(set.Files) < 3 {
		return nil, ""
	}
	name := set.Files[2].Name
	if text, err := readPlain(name, drawing.MaxBytes); err != nil || digest(name, text).SHA256 != set.Files[2].SHA256 {
		return nil, "its drawing is not there as it was"
	}
	f = &dialFlags{machine: set.Files[1].Name, manner: s.m, screen: true, arcFlags: newArcFlags()}
	f.drawing, f.draft = name, job.Shared(&set.Job)
	f.asked = fmt.Appendf(nil, "# as in %s\n", l.Name)
	f.plannedAs(s.w, set)
	quiet := s.w
	quiet.out, quiet.err = io.Discard, io.Discard // what the plan has to say was said when it was chosen from, and stands on it
	if err := f.readDrawing(quiet, s.c); err != nil {
		return nil, err.Error()
	}
	if !slices.ContainsFunc(f.planned.Part.Numbers(set.Arc), func(n int) bool {
		a, err := part.Pick(f.planned.Part, n, f.planned.Name)
		return err == nil && sameArc(a, set.Arc)
	}) {
		return nil, "it was planned by flags of its own"
	}
	return f, ""
}

// plannedAs takes from a setting what its plan was made by, as far as it says.
func (f *dialFlags) plannedAs(w world, set *session.Opened) {
	u, a := set.Job.Unit, set.Arc
	figure := func(mm float64) string { return strconv.FormatFloat(u.From(mm), 'f', 9, 64) }
	if datum := a.Centre.Sub(a.Readout); datum.Norm() > atPlace {
		f.datum = figure(datum.X) + "," + figure(datum.Y)
	}
	if t := set.Job.Target.Tolerance; t > 0 {
		f.letPass.v, f.letPass.set = u.From(t/2), true
	}
	if a.CutterBearing != nil {
		f.table.v, f.table.set = a.CutterBearing.Degrees(), true
	}
	if _, known := w.settings.text(job.Cutters); !known && a.Cutter > 0 {
		f.cutters = []string{figure(a.Cutter)}
	}
}

// sameArc reports whether two plans tell the same of an arc at the machine.
func sameArc(x, y *part.Picked) bool {
	return x.N == y.N && x.Side == y.Side && x.Sense == y.Sense && math.Abs(x.Swing-y.Swing) < atPlace &&
		x.Readout.Sub(y.Readout).Norm() < atPlace
}

// toPlan shows the plan of a session's arc behind it, or says where it is found.
func (s *start) toPlan(path string) error {
	l := look(path)
	if s.w.screen.ctx.Err() != nil || l.State.Set == nil || l.State.Set.Arc == nil {
		return nil
	}
	f, why := s.planOf(&l)
	if f == nil {
		fmt.Fprintf(s.w.err, "%s: the other arcs are behind \"%s\" (%s)\n", printable(setWords(l.State.Set)), arcsWords, printable(why))
		return nil
	}
	return dialPlan(s.w, s.c, f)
}

// lastArc is the session that was worked on last where its setting is accepted and its arc's plan is there; nil for none.
func (s *start) lastArc() *record.Journal {
	l := s.lastAccepted()
	if l == nil || l.State.Set.Arc == nil {
		return nil
	}
	if f, _ := s.planOf(l); f == nil {
		return nil
	}
	return l
}

// nextArc shows the plan that the last arc was chosen from.
func (s *start) nextArc() error {
	l := s.lastArc()
	if l == nil {
		return nil
	}
	return s.toPlan(l.Path)
}
