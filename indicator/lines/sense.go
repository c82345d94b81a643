package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// SenseLine asks for a sign check (Went null), or says what came of one: whether the needle went the way
// that job and machine say, and the statement that would have to be other.
type SenseLine struct {
	Say     string        `json:"say"`
	Trial   int           `json:"trial"`
	Slide   string        `json:"slide"`
	Bearing record.Number `json:"bearing"`
	Went    *session.Went `json:"went"`
	Agrees  *bool         `json:"agrees"`
	Fault   *advice.Fault `json:"fault"`
	// Causes are what is in question now, to be put right by number; left out where nothing is.
	Causes []Stated `json:"causes,omitempty"`
	text   string
}

// Text: see [Line].
func (l SenseLine) Text() string { return l.text }

// SenseAsk says how a sign is checked; an error of a slide that is not wound here is left to the answer.
func SenseAsk(s *session.State, slide string) SenseLine {
	l := SenseLine{Say: "sense", Trial: s.Trial, Slide: slide, Bearing: record.Number(nan), text: SenseWords(s, slide)}
	if p, ok := s.SensePlanFor(slide); ok && slide != session.Tip {
		l.Bearing = record.Degrees360(p.Bearing)
	}
	return l
}

// SenseWords says how a sign is checked, and what to type for what came of it.
func SenseWords(s *session.State, slide string) string {
	how, ok := senseWords(s, slide)
	if ok {
		how += fmt.Sprintf(" sense %s up, or sense %s down", slide, slide)
	}
	return how
}

// senseWords says how a sign is checked, in the hand's order; ok is false for a slide that cannot be.
func senseWords(s *session.State, slide string) (how string, ok bool) {
	if slide == session.Tip {
		return "press the tip in with a finger: does the needle go up or down?", true
	}
	p, ok := s.SensePlanFor(slide)
	if !ok {
		return fmt.Sprintf("the %s slide moves the needle nowhere in this sweep", SlideName(slide)), false
	}
	name, n := SlideName(slide), geom.FormatFixed(p.Divisions, 0)
	at := "the tip at " + place(s, p.Bearing)
	return fmt.Sprintf("%s, hand off: %s, wind %s clockwise until its backlash is taken up, then about %s divisions more, and back again "+
		"the take-up way: did the needle go up or down?", at, record.FacingHandle, name, n), true
}

var sensed = told[session.Sensed]{status: asText, undo: func(_ *session.State, e session.Sensed, _ geom.Unit) string {
	return "the sign check of " + SlideName(e.Slide) + ", " + string(e.Went)
}, lines: func(st session.Step, e session.Sensed, _ geom.Unit) []Line {
	return []Line{signs(&st.Before, &st.After, e)}
}}.row()

// signs says what came of a sign check.
func signs(before, s *session.State, e session.Sensed) Line {
	agrees := s.Agrees(e)
	fault, slides := s.Faulty()
	l := SenseLine{Say: "sense", Trial: s.Trial, Slide: e.Slide, Bearing: record.Degrees360(e.Bearing), Went: &e.Went, Agrees: &agrees,
		Fault: &fault, Causes: stated(s, s.Named)}
	what := fmt.Sprintf("%s clockwise at %s", SlideName(e.Slide), place(s, e.Bearing))
	eye := "; clockwise is told " + record.FacingHandle
	if e.Slide == session.Tip {
		what, eye, l.Bearing = "tip pressed", "", record.Number(nan)
	}
	if still := StillWords(e.Went); still != "" {
		l.Agrees = nil
		l.text = fmt.Sprintf("%s: the needle %s; %s", what, e.Went, still) + eye
		return l
	}
	as := "as job and machine say"
	if !agrees {
		as = "against what job and machine say"
	}
	l.text = fmt.Sprintf("%s: the needle went %s, %s", what, e.Went, as) + eye
	if w := FaultWords(s, fault, slides); w != "" && before.Accused == nil {
		l.text += "; " + w
	}
	if w := leftWords(before, s); w != "" {
		l.text += "; " + w
	}
	return l
}

// FaultWords says which statement would have to be other; empty where the checks agree.
func FaultWords(s *session.State, f advice.Fault, slides []string) string {
	named := make([]string, len(slides))
	for i, n := range slides {
		named[i] = "slide." + n
	}
	touch := fmt.Sprintf("touch = %q", s.Set.Job.Setup.Touch)
	switch f {
	case advice.DialFault:
		return "the dial counts the other way round: turn its sign, or type every reading with the other sign"
	case advice.TouchFault:
		return fmt.Sprintf("every slide goes against it: %s in the job file would have to be other, or the dial counts the other way "+
			"round (sense tip tells)", touch)
	case advice.ScrewFault:
		return fmt.Sprintf("clockwise of %s in the machine file would have to be other (a left-hand screw, or a handle seen from behind)",
			strings.Join(named, " and "))
	case advice.EitherFault:
		return fmt.Sprintf("either %s in the job file or clockwise of %s in the machine file would have to be other: sense another slide "+
			"tells which", touch, strings.Join(named, " and "))
	case advice.BearingsFault:
		return fmt.Sprintf("the ring's zero is half a turn off (the tip stands opposite), or clockwise of both %s would have to be other",
			strings.Join(named, " and "))
	case advice.NoFault:
	case advice.RingFault, advice.ZeroFault, advice.ExchangeFault, advice.UnmovedFault: // no check of a sign tells these
	}
	return ""
}

// ReachWords doubts the sign of the reach where the first wind of the offset slide says so; empty else.
func ReachWords(s *session.State, u geom.Unit) string {
	travel, byScale, doubt := s.ReachDoubt()
	if !doubt {
		return ""
	}
	facing := "towards the axis"
	if s.Set.Job.Setup.Reach > 0 {
		facing = "away from the axis"
	}
	t := fmt.Sprintf("this wind is %s %v, about twice the reach", geom.FormatFixed(math.Abs(u.From(travel)), 1), u)
	if byScale {
		t += ", and the slide's own scale says none is needed"
	}
	return t + ": does the tip face the way it is drawn (" + facing + ")?"
}
