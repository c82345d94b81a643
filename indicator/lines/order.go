package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

type (
	// StepLine asks for a step of the order at the machine; a number answers those that measure.
	StepLine struct {
		Say  string        `json:"say"`
		Step session.Chore `json:"step"`
		N    int           `json:"n"`
		Of   int           `json:"of"`
		text string
	}
	// DidLine says what became of one: Value is what was read or measured for it, else null.
	DidLine struct {
		Say     string        `json:"say"`
		Step    session.Chore `json:"step"`
		Skipped bool          `json:"skipped"`
		Value   Number        `json:"value"`
		// Moved is how far locking the head has moved the needle, null for any other step.
		Moved *Value `json:"moved"`
		text  string
	}
)

// Text: see [Line].
func (l StepLine) Text() string { return l.text }

// Text: see [Line].
func (l DidLine) Text() string { return l.text }

var worked = told[session.Worked]{status: asText, lines: func(st session.Step, e session.Worked, u geom.Unit) []Line {
	return []Line{did(st, e, u)}
}}.row()

// step asks for the chore that is due.
func step(s *session.State, p *session.Prompt, u geom.Unit) Line {
	t := fmt.Sprintf("step %d of %d: %s", p.Station, p.Of, ChoreWords(s, p.Chore, u)[0])
	if p.TakesReading() {
		t += "; type it, or skip"
	} else {
		t += "; then done, or skip"
	}
	return StepLine{"step", p.Chore, p.Station, p.Of, t}
}

// did says what became of a chore.
func did(st session.Step, e session.Worked, u geom.Unit) Line {
	l := DidLine{Say: "did", Step: e.Step, Skipped: e.Skipped, Value: Number(nan)}
	l.text = string(e.Step) + ": done"
	switch {
	case e.Skipped:
		l.text = string(e.Step) + ": left out"
	case e.Value == nil:
	case e.Step == session.LockHead:
		l.Value = Number(u.From(*e.Value))
		l.text = HeadWords(&st.After, u)
		if v, _, ok := st.After.HeadMoved(); ok {
			l.Moved = in(u, v)
		}
	default:
		l.Value = Number(u.From(*e.Value))
		l.text = fmt.Sprintf("%s: radius %s %v", e.Step, geom.FormatFixed(float64(l.Value), 3), u)
		if j := &st.After.Set.Job; j.Cut != nil && e.Step == session.CheckArc {
			l.text += fmt.Sprintf(", %s %v beside its target", geom.FormatSigned(u.From(*e.Value-j.Arc()), 3), u)
		}
	}
	return l
}

// HeadWords says what locking the head has done; empty where it was not read.
func HeadWords(s *session.State, u geom.Unit) string {
	v, at, ok := s.HeadMoved()
	if !ok {
		return ""
	}
	t := fmt.Sprintf("head locked at %s: the needle moved by %s", place(s, at), Fit{Unit: u}.measured(*in(u, v)))
	if s.HeadDisturbs() {
		t += "; more than half the tolerance: swing with the lock as it was in the sweep"
	}
	return t
}

// ChoreWords says in words what a step asks for, in ever shorter forms, the last of which is fit for
// large letters.
func ChoreWords(s *session.State, c session.Chore, u geom.Unit) []string {
	j := &s.Set.Job
	length := func(mm float64) string {
		return fmt.Sprintf("%s %v", geom.FormatFixed(u.From(mm), 3), u)
	}
	head := "head"
	if j.Setup.Kind == indicator.Turned {
		head = "table"
	}
	short := string(c)
	switch c {
	case session.RoughIn:
		radius := ""
		if j.Target.WantsSwing() {
			radius = "swing radius to within 1 mm by scale or collar, "
		}
		return []string{"rough in: " + radius + "centre by pin or edge finder; the stylus clear of everything before the first swing", "rough in radius and centre, stylus clear", short}
	case session.LockSpindle:
		if j.Setup.Kind == indicator.Turned {
			return []string{"lock the cutter spindle against turning, witness mark across it", "lock the spindle, witness mark", short}
		}
		return []string{"lock the cutter spindle to the head, witness mark across both", "lock spindle to head, witness mark", short}
	case session.Rock:
		return []string{"rock the spindle to the turning point, lock; once more at the opposite station", "rock to the turning point, lock; again opposite", short}
	case session.LockHeight:
		return []string{"lock quill and knee at cutting height", "lock quill and knee", short}
	case session.LockHead:
		return []string{fmt.Sprintf("close the %s's lock where it stands, last of all, and read the dial again (%v)", head, u), fmt.Sprintf("close the %s's lock, read again (%v)", head, u), "lock " + head}
	case session.Isolate:
		return []string{"spindle off and isolated before a hand goes near it", "spindle off, isolated", short}
	case session.IndicatorOut:
		return []string{"take the indicator out", "indicator out"}
	case session.CutterIn:
		if j.Cut != nil {
			return []string{fmt.Sprintf("cutter of %s into the spindle", length(j.Cut.Cutter)), short}
		}
		return []string{"cutter into the spindle", short}
	case session.FreeSpindle:
		return []string{"free the cutter spindle from its lock again", "free the spindle", short}
	case session.DrySwing:
		return []string{"work and head clamped; one dry swing through the whole arc, cutter clear of the work", "one dry swing, cutter clear", short}
	case session.LeaveStock:
		return []string{fmt.Sprintf("leave %s, cutter clear", length(j.Cut.Stock)), short}
	case session.RoughCut:
		return []string{fmt.Sprintf("cut the arc, %s left on; conventional sense", length(j.Cut.Stock)), "cut, stock left on", short}
	case session.Measure:
		return []string{fmt.Sprintf("spindle stopped; measure the arc's radius (about %s)", length(j.Arc()+j.Cut.Left())), "measure the arc's radius", short}
	case session.LastWind:
		return []string{fmt.Sprintf("to %s, cutter clear", length(j.Arc())), short}
	case session.Cut:
		return []string{"cut the arc to size; conventional sense", "cut the arc", short}
	case session.CheckArc:
		if j.Cut != nil {
			return []string{fmt.Sprintf("spindle stopped; check the arc's radius (target %s)", length(j.Arc())), "check the arc's radius", short}
		}
		return []string{"spindle stopped; check the arc's radius", short}
	}
	return []string{short}
}

// stockNotes says what a wind behind the accepted setting is for, and where it stops.
func stockNotes(s *session.State, p *session.Prompt, u geom.Unit) []string {
	var out []string
	switch p.Chore {
	case session.LeaveStock:
		out = append(out, fmt.Sprintf("leaves %s %v on; spindle stopped, cutter clear", geom.FormatFixed(u.From(s.Set.Job.Cut.Stock), 3), u))
	case session.LastWind:
		out = append(out, fmt.Sprintf("to the arc of %s %v; spindle stopped, cutter clear", geom.FormatFixed(u.From(s.Set.Job.Arc()), 3), u))
	default:
		return nil
	}
	if st := s.Stand(p.Told.Wind.Slide); st.Known && !p.Slide.Readout {
		at := st.At + p.Told.Wind.By()
		turns, div := p.Slide.TurnsOf(at)
		if !math.IsNaN(div) {
			out = append(out, fmt.Sprintf("its collar stands at %d turns %s then", turns, Divisions(div)))
		}
	}
	return out
}
