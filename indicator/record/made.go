package record

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
)

// Made is an accepted setting of an arc, with the journal that holds it and when it was accepted.
type Made struct {
	part.Made
	Journal string
	At      time.Time
}

// MadeOf is an accepted setting of arc n as its session left it, in the values that a belief is made of.
func MadeOf(n int, s *session.State) part.Made {
	m := part.Made{N: n, Job: s.Set.Job, Swing: indicator.Value{V: math.NaN(), U: math.NaN()}, Bias: s.Bias.By, BiasLimit: s.Bias.Limit,
		Finish: finishOf(s)}
	if f, known := foundBy(s); known {
		m.Found, m.Assumed = &f, s.Assumed(&f)
		if v, ok := s.Swing(&f); ok {
			m.Swing = v
		}
	}
	for i, w := range s.Worked {
		switch {
		case w.Skipped:
		case s.Sizes(i):
			m.Cut, m.Checked = true, nil
		case w.Step == session.CheckArc && w.Value != nil:
			m.Checked = w.Value
		}
	}
	return m
}

// foundBy is what a setting's last sweep found, as it is seen from where the spindle stands.
func foundBy(s *session.State) (indicator.Estimate, bool) {
	f, err := s.Fit()
	if err != nil {
		return f, false
	}
	return s.Standing(&f)
}

// finishOf says how the arc of an accepted setting was finished. Of a radius that was measured while stock was on,
// the last wind makes the one that is meant: that is then as sure as the measuring.
func finishOf(s *session.State) (f part.Finish) {
	cut, left, wound, skipped := false, false, false, false
	for i, w := range s.Worked {
		switch {
		case w.Step == session.LastWind:
			wound, skipped = !w.Skipped, w.Skipped
			left = left && w.Skipped
		case w.Skipped:
		case w.Step == session.LeaveStock:
			left = true
		case w.Step == session.Measure && w.Value != nil:
			f.Measured, f.Radius = true, *w.Value
		case s.Sizes(i):
			cut = true
		case w.Step == session.CheckArc && w.Value != nil:
			return part.Finish{Measured: true, Radius: *w.Value}
		}
	}
	switch {
	case f.Measured && (wound || !cut && !skipped): // where no last wind was told the cut came to nothing more
		f.Radius = s.Set.Job.Arc()
	case !f.Measured && cut && left:
		f.Stock = s.Set.Job.Cut.Left()
	}
	return f
}

// values are the settings without their journals.
func values(made []Made) []part.Made {
	out := make([]part.Made, len(made))
	for i := range made {
		out[i] = made[i].Made
	}
	return out
}

// Drawn is what a setting's opening is known by as one of a drawing's: the digest of the file as it is now, and
// the outline that was made of it.
type Drawn struct {
	SHA256 string
	Runs   []geom.Chain
}

// Drew reports whether a setting is for an arc of the drawing: its opening names the file as it is now, or holds the
// same outline. So a drawing that was saved again, or under another name, keeps its settings, and a choice of
// layers, which makes another outline, loses none.
func (d *Drawn) Drew(set *session.Opened) bool {
	if set.Arc == nil {
		return false
	}
	return slices.ContainsFunc(set.Files, func(f session.File) bool { return f.SHA256 == d.SHA256 }) ||
		part.SameOutline(set.Outline, d.Runs)
}

// Newest finds in journals the newest accepted setting of each arc of a drawing's plan, in the order of the arcs, and
// tells which of the journals are damaged: of those what stands before the damage counts.
func Newest(p *part.Plan, d *Drawn, all []Journal) (made []Made, notes []string) {
	for i := range all {
		l, used := &all[i], false
		for k := range l.Accepted {
			s := &l.Accepted[k]
			if !d.Drew(s.State.Set) {
				continue
			}
			used = true
			for _, n := range p.Numbers(s.State.Set.Arc) {
				one := Made{MadeOf(n, &s.State), geom.PrintableLine(l.Name), s.At}
				at := slices.IndexFunc(made, func(m Made) bool { return m.N == n })
				switch {
				case at < 0:
					made = append(made, one)
				case made[at].At.Before(s.At) || (made[at].At.Equal(s.At) && made[at].Journal == one.Journal):
					made[at] = one
				}
			}
		}
		if used && l.Wrong != "" {
			notes = append(notes, geom.PrintableLine(fmt.Sprintf("%s: %s; what stands before it counts", l.Name, l.Wrong)))
		}
	}
	slices.SortFunc(made, func(a, b Made) int { return cmp.Compare(a.N, b.N) })
	return made, notes
}

// DoubtsOf are the doubts where nobody says otherwise: each as of the newest setting that has it.
func DoubtsOf(made []Made) part.Doubts {
	byTime := slices.SortedStableFunc(slices.Values(made), func(a, b Made) int { return a.At.Compare(b.At) })
	return part.DoubtsOf(values(byTime))
}
