package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// StepLine asks for a step of the order at the machine; a number answers those that measure.
	StepLine struct {
		Say  string        `json:"say"`
		Step session.Chore `json:"step"`
		N    int           `json:"n"`
		Of   int           `json:"of"`
		*StepRun
		*StepPass
		*RadiusSet
		// Ways are those in which the arc that it asks for can be measured, as they are said.
		Ways []string `json:"ways,omitempty"`
		// Cautions are what has to be minded in it.
		Cautions []string `json:"cautions,omitempty"`
		text     string
	}
	// StepRun is how the cutter is swung in a step that does so: as Run of a plan, null where it is not known.
	StepRun struct {
		Start     record.Number `json:"start"`
		Sense     string        `json:"sense"`
		Stop      record.Number `json:"stop"`
		RingStart record.Number `json:"ring_start"`
		RingStop  record.Number `json:"ring_stop"`
		// Way is the way from start to stop where Sense is none: either cuts alike.
		Way string `json:"way,omitempty"`
		// Windows are how near to their places the stops have to be; nil where no plan says.
		Windows *StopWindows `json:"windows,omitempty"`
	}
	// StopWindows are angles as Start and Stop, null where there is no limit: the farthest that the swing may begin before its
	// start or end beyond its stop, and the nearest to the middle of the arc; and what the ring shows there.
	StopWindows struct {
		PastStart      record.Number `json:"past_start"`
		ShortStart     record.Number `json:"short_start"`
		PastStop       record.Number `json:"past_stop"`
		ShortStop      record.Number `json:"short_stop"`
		RingPastStart  record.Number `json:"ring_past_start"`
		RingShortStart record.Number `json:"ring_short_start"`
		RingPastStop   record.Number `json:"ring_past_stop"`
		RingShortStop  record.Number `json:"ring_short_stop"`
	}
	// DidLine says what became of one: Value is what was read or measured for it, else null.
	DidLine struct {
		Say     string        `json:"say"`
		Step    session.Chore `json:"step"`
		Skipped bool          `json:"skipped"`
		Value   record.Number `json:"value"`
		// Moved is how far locking the head has moved the needle, null for any other step.
		Moved *record.Value `json:"moved"`
		Gauge *GaugedBy     `json:"gauge,omitempty"`
		// Seen is what the ring showed in the pass by hand, degrees; left out where nobody has read it.
		Seen *session.Seen `json:"seen,omitempty"`
		*StepPass
		*ArcDid
		text string
	}
)

// Text: see [Line].
func (l StepLine) Text() string { return l.text }

// Text: see [Line].
func (l DidLine) Text() string { return l.text }

var worked = told[session.Worked]{status: asText, undo: undoWorked, lines: func(st session.Step, e session.Worked, u geom.Unit) []Line {
	out := []Line{did(st, e, u)}
	if e.Step == session.Measure {
		out = append(out, trialCut(&st.After, u)...)
	}
	return out
}}.row()

// step asks for the chore that is due.
func step(s *session.State, p *session.Prompt, u geom.Unit) Line {
	t := fmt.Sprintf("step %d of %d: %s", p.Chore.N, p.Chore.Of, ChoreWords(s, p.Chore.Step, u)[0])
	ways := saidWays(s)
	if len(ways) > 0 {
		t += "; type it, or " + strings.Join(ways, ", or ") + ", or skip"
	} else if p.Chore.May {
		t += "; then done, or type the radius that it is set to, or skip"
	} else if p.Chore.Seen {
		t += "; " + StopAsked(s, u) + " then done, or type what the ring shows there, or ring START STOP, or skip"
	} else if p.TakesReading() {
		t += "; type it, or skip"
	} else {
		t += "; then done, or skip"
	}
	l := StepLine{Say: "step", Step: p.Chore.Step, N: p.Chore.N, Of: p.Chore.Of, RadiusSet: radiusSet(s, p.Chore.Step, u), Ways: ways,
		Cautions: Cautions(s, p)}
	l.text = t + cautionRows(l.Cautions)
	l.StepPass = stepPass(s, p.Chore.N-1, u)
	if r, ok := cutRun(s); ok && swings(p.Chore.Step) {
		l.StepRun = &StepRun{r.Start, r.Sense, r.Stop, r.RingStart(), r.RingStop(), r.WayWord(), windows(&r)}
	}
	return l
}

// windows are those of a run, nil where the plan says none.
func windows(r *record.Run) *StopWindows {
	start, stop := r.StartLimits(), r.StopLimits()
	if start.Short.Unknown() && stop.Short.Unknown() {
		return nil
	}
	begin, end := r.Ring(start), r.Ring(stop)
	return &StopWindows{start.Past, start.Short, stop.Past, stop.Short, begin.Past, begin.Short, end.Past, end.Short}
}

// did says what became of a chore.
func did(st session.Step, e session.Worked, u geom.Unit) Line {
	l := DidLine{Say: "did", Step: e.Step, Skipped: e.Skipped, Value: record.Number(nan),
		StepPass: stepPass(&st.Before, st.Before.Prompt().Chore.N-1, u)}
	name := choreName(&st.Before, e.Step, u)
	if p, ok := st.Before.PassAt(st.Before.Prompt().Chore.N - 1); ok {
		name += ", depth " + DepthWords(p.Depth, u)
	}
	l.text = name + ": done"
	switch {
	case e.Skipped:
		l.text = name + ": left out"
		l.text += leftOutWords(&st.After, e.Step, u)
	case e.Seen != nil:
		l.Seen = e.Seen
		l.text += SeenWords(e.Seen)
	case e.Value == nil:
	case e.Step == session.RoughIn:
		l.Value = record.Number(u.From(*e.Value))
		l.text += fmt.Sprintf(", swing radius set to %s", long(*e.Value, u))
	case e.Step == session.LockHead:
		l.Value = record.Number(u.From(*e.Value))
		l.text = HeadWords(&st.After, u) + GaugedWords(e.Gauge, u)
		l.Gauge = gaugedBy(e.Gauge, u)
		if v, _, ok := st.After.HeadMoved(); ok {
			l.Moved = record.ValueOf(u, v)
		}
	default:
		t := arcTeller{&st.After, e, u}
		t.did(&l)
	}
	return l
}

// HeadWords says what locking the head has done; empty where it was not read.
func HeadWords(s *session.State, u geom.Unit) string {
	v, at, ok := s.HeadMoved()
	if !ok {
		return ""
	}
	t := fmt.Sprintf("head locked at %s: the needle moved by %s", place(s, at), record.ValueOf(u, v).Text(u))
	if s.HeadDisturbs() {
		t += "; more than half the tolerance: swing with the lock as it was in the sweep"
	}
	return t
}

// unmeasured says of the last wind that nothing was measured before it, and what it leans on; empty where something was.
func unmeasured(s *session.State) string {
	for _, w := range s.Worked {
		if w.Step == session.Measure && !w.Skipped {
			return ""
		}
	}
	if s.ByTrial() {
		return "; nothing was measured: it leans on the swing radius as set by scale"
	}
	return "; nothing was measured: it leans on the accepted setting and the cutter as stated"
}

// stockNotes says what a wind behind the accepted setting is for, and where it stops.
func stockNotes(s *session.State, p *session.Prompt, u geom.Unit) []string {
	var out []string
	switch p.Chore.Step {
	case session.LeaveStock:
		out = append(out, fmt.Sprintf("leaves %s %v on", geom.FormatFixed(u.From(s.Set.Job.Cut.Stock), 3), u))
	case session.LastWind:
		out = append(out, fmt.Sprintf("to the arc of %s %v", geom.FormatFixed(u.From(s.Set.Job.Arc()), 3), u)+unmeasured(s))
	default:
		return nil
	}
	if st := s.Stand(p.Wind.Told.Wind.Slide); st.Known && !p.Wind.Slide.Readout {
		at := st.At + p.Wind.Told.Wind.By()
		turns, div := p.Wind.Slide.TurnsOf(at)
		if !math.IsNaN(div) {
			out = append(out, fmt.Sprintf("its collar shows %d turns %s then", turns, record.Divisions(div)))
		}
	}
	return out
}
