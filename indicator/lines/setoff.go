package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// SetOffBudget is what makes the doubt of a swing radius that a slide has set: where the table's axis lies along the
// slide, as the sweep shows it, and how far the slide has gone.
type SetOffBudget struct {
	Axis   record.Number `json:"axis_u95"`
	Travel record.Number `json:"travel_u95"`
}

// zeroFirst is the note of a wind whose readout nobody has told where it stands.
const zeroFirst = "set its readout to 0 here first"

// setOff puts into a wind's line that it carries the spindle off the axis, or back over it.
func (l *WindLine) setOff(p *session.Prompt) {
	switch {
	case !p.Wind.Told.SetOff:
		return
	case p.Wind.Told.Back:
		l.SetOff = "back"
		l.Notes = append(l.Notes, "back over the axis: the sweep is taken there")
	default:
		l.SetOff = "out"
	}
	if p.Wind.Zero {
		l.Notes = append(l.Notes, zeroFirst)
	}
}

// heading counts the wind and names its slide, or says that it sets the swing radius.
func (l WindLine) heading() string {
	switch l.SetOff {
	case "out":
		return fmt.Sprintf("set the swing radius off the axis, %s slide", l.Slide)
	case "back":
		return l.Slide + " slide"
	}
	return fmt.Sprintf("wind %d of %d, %s slide", l.Step, l.Of, l.Slide)
}

// begins is the heading with what comes before any handle is turned.
func (l WindLine) begins() string {
	if l.First == "" {
		return l.heading() + ": "
	}
	return l.heading() + ": " + l.First + " first; "
}

// FirstWords are what the hand sees to before it makes the wind that is told: a slide that goes farther than the dial sees would
// drive the indicator's tip into the wall, or the work off its place. Empty where nothing is in the way.
func FirstWords(s *session.State) string {
	if s.Told == nil || s.Phase != session.Winding || s.SetUp().Under().Pair {
		return ""
	}
	d, t := s.Set.Job.Dial, s.Told
	far := t.Park == nil && d.To > d.From && math.Abs(t.Wind.Travel) > d.To-d.From
	if t.SetOff || far {
		return "tip clear of the work"
	}
	return ""
}

// setOff puts the two parts of the doubt into the line of a swing radius that a slide has set.
func (l *SettledLine) setOff(r setup.Swing, u geom.Unit) {
	if r.Off {
		l.SetOff = &SetOffBudget{record.Number(u.From(r.Axis)), record.Number(u.From(r.Travel))}
	}
}

// words say what the doubt is made of, and what would lessen it where it decides nothing.
func (b *SetOffBudget) words(v indicator.Verdict, u geom.Unit) string {
	show := func(n record.Number) string { return geom.FormatFixed(float64(n), geom.Places(float64(n), u)) }
	t := fmt.Sprintf(" (axis ±%s, slide ±%s %v)", show(b.Axis), show(b.Travel), u)
	if v == indicator.Undecided && b.Travel > b.Axis {
		t += "; " + record.Largest("how far the slide has gone", "a readout on it would decide, or the first arc measured")
	}
	return t
}
