package lines

import (
	"fmt"
	"math"
	"strings"

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

// setOff puts into a wind's line that it carries the axis off the place of the sweep, or back over it.
func (l *WindLine) setOff(s *session.State, p *session.Prompt) {
	l.heads = fmt.Sprintf("wind %d of %d, %s slide", l.Step, l.Of, l.Slide)
	switch told := &p.Wind.Told; {
	case !told.SetOff:
		return
	case told.Back:
		l.SetOff, l.heads = "back", l.Slide+" slide"
		l.Notes = append(l.Notes, "back over the "+s.SetUp().Off.Over+": the sweep is taken there")
	default:
		l.SetOff, l.heads = "out", OffWords(s, told)+", "+l.Slide+" slide"
		if why := CourseWords(s, l.unit); why != "" && told.Step == 1 {
			l.Notes = append(l.Notes, why)
		}
	}
	if p.Wind.Zero {
		l.Notes = append(l.Notes, zeroFirst)
	}
}

// OffWords are what a wind does that carries the axis off the place of the sweep, or back over it: counted where there are
// several.
func OffWords(s *session.State, told *session.Told) string {
	words := s.SetUp().Off
	switch {
	case told.Back:
		return "back over the " + words.Over + ", to sweep again"
	case words.Counted:
		return fmt.Sprintf("%s, wind %d of %d", words.Out, told.Step, told.Of)
	}
	return words.Out
}

// begins is the heading with what comes before any handle is turned.
func (l WindLine) begins() string {
	heads := l.heads + ": "
	if l.TakenBack != "" {
		heads += l.TakenBack + "; not wound yet: "
	}
	switch {
	case l.First == "":
		return heads
	case l.Last != "": // the slide was locked for the cut
		return heads + l.First + "; "
	}
	return heads + l.First + " first; "
}

// then is what answers a wind, behind what the hand does last.
func (l WindLine) then(answer string) string {
	if l.Last == "" {
		return answer
	}
	return l.Last + "; " + answer
}

// First are what the hand sees to, one after the other, before it makes the wind that is told: a slide that goes farther than the
// dial sees, backed off or where it ends, would drive the indicator's tip into the wall, or the work off its place: the tip is brought
// clear, or the head swung to where the needle stays on the dial. With the cutter in, backing off would drive it into the finished
// wall, and the slide stands locked for the cut. None where nothing is in the way.
func First(s *session.State) []string {
	switch {
	case s.Told == nil || s.SetUp().Under().Pair:
		return nil
	case s.Phase == session.Cutting:
		return []string{"spindle stopped, cutter lifted clear", "unlock"}
	case s.Phase != session.Winding:
		return nil
	}
	switch how, at := tip(s); how {
	case session.TipClear:
		return []string{tipClear}
	case session.TipSwings:
		return []string{"swing to " + place(s, at)}
	case session.TipStays:
	}
	return nil
}

const tipClear = "tip clear of the work"

// tip is where it is to be while the slide is wound that is told: a wind under the needle says so itself.
func tip(s *session.State) (session.TipAt, geom.Bearing) {
	switch d, t := s.Set.Job.Dial, s.Told; {
	case t.SetOff:
		return session.TipClear, 0
	case t.Park != nil:
		return session.TipStays, t.Park.Bearing
	case d.To > d.From && math.Abs(t.Wind.Travel) > d.To-d.From:
		return session.TipClear, 0
	}
	return s.CollarTip()
}

// TipWords say where the head is to stand while a slide is wound by its collar, or where the tip comes in again; empty where the wind
// says so itself.
func TipWords(s *session.State) string {
	if s.Told == nil || s.Phase != session.Winding || s.Told.SetOff || s.Told.Park != nil || s.SetUp().Under().Pair {
		return ""
	}
	switch how, at := tip(s); how {
	case session.TipClear:
		return "the tip comes in again where the needle is read next"
	case session.TipStays: // not "stays": a wind before may have had it swung
		if s.Told.Table != nil { // which is told with the wind
			return ""
		}
		return "with the " + s.SetUp().Swung + " at " + place(s, at)
	case session.TipSwings:
	}
	return ""
}

// FirstWords are those in one text.
func FirstWords(s *session.State) string { return strings.Join(First(s), "; ") }

// LastWords are what the hand does behind the wind that is told, before it cuts; empty where it reads the dial next.
func LastWords(s *session.State) string {
	if s.Told != nil && s.Phase == session.Cutting {
		return "lock"
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
