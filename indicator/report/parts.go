package report

import (
	"fmt"
	"html/template"
	"strings"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// left is an acceptance that the next part has begun behind, at an event.
type left struct {
	at, accepted int
	stood        session.State
}

// parted begins the next part: what it comes to is open again, but where it is only counted.
func parted(m *maker, x *Entry, e session.Parted, st session.Step) {
	set := m.setting()
	x.Kind, x.Number, x.Text = "part", e.Part, lines.Of(st, set.Unit)[0].Text()
	set.left = append(set.left, left{x.Event, set.Accepted, set.stood})
	if e.Sweep {
		set.Accepted, set.stood = 0, session.State{}
	}
}

// rejoin goes back to the acceptance behind which the parts began that are taken back from event n on.
func (s *Setting) rejoin(n int) {
	for i := len(s.left) - 1; i >= 0 && s.left[i].at >= n; i-- {
		s.Accepted, s.stood, s.left = s.left[i].accepted, s.left[i].stood, s.left[:i]
	}
}

// of reports whether an entry is of the part and trial of a state.
func (e *Entry) of(s *session.State) bool { return e.Part == s.Part && e.Trial == s.Trial }

// Name is what a sweep is called.
func (w *Sweep) Name() string { return named(w.Part, w.Trial) }

func named(part, trial int) string {
	if part > 1 {
		return fmt.Sprintf("part %d, trial %d", part, trial)
	}
	return fmt.Sprintf("trial %d", trial)
}

// Parts are the parts one by one, where there is more than one, and what they show of the fixture.
func (s *Setting) Parts() (out []string) {
	if s.State.Part < 2 {
		return nil
	}
	out = lines.PartRows(&s.State, s.Unit)
	if w := lines.FixtureWords(&s.State, s.Unit); w != "" {
		out = append(out, w)
	}
	return out
}

// PartCourses draw where the centres of the parts lay as they came in, seen from the axis, from part to part: the word stands where the
// fixture was said to head out.
func (s *Setting) PartCourses() (out []template.HTML) {
	if s.State.Part < 2 {
		return nil
	}
	var x, y []point
	for _, d := range s.State.Parts.All() {
		p := point{name: fmt.Sprintf("part %d", d.Part), v: indicator.Value{V: nan, U: nan}}
		if p.word = lines.PartMark(d); d.Unswept {
			x, y = append(x, p), append(y, p)
			continue
		}
		p.v = indicator.Value{V: d.Entered.X, U: d.U[0]}
		x = append(x, p)
		p.v = indicator.Value{V: d.Entered.Y, U: d.U[1]}
		y = append(y, p)
	}
	t := s.State.Set.Job.Target.CentreTolerance
	return []template.HTML{course("part by part: centre x as it came in, \u00b195 %", x, t, s.Unit),
		course("part by part: centre y as it came in, \u00b195 %", y, t, s.Unit)}
}

// partsText is that in a text.
func (s *Setting) partsText(b *strings.Builder) {
	if all := s.Parts(); len(all) > 0 {
		fmt.Fprintf(b, "\n  part by part\n    %s\n", strings.Join(all, "\n    "))
	}
}
