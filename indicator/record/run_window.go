package record

import (
	"fmt"
	"math"

	"example.org/trammel/indicator/part"
)

// forward is +1 where the run goes the way that its angles grow, −1 else.
func (r Run) forward() Number {
	if r.Stop < r.Start {
		return -1
	}
	return 1
}

// WayWord is the way from Start to Stop where the sense is none, for either cuts alike; empty else, and of a full circle.
func (r Run) WayWord() string {
	if r.Sense != part.NoSense.String() || r.Start.Unknown() {
		return ""
	}
	return r.forth()
}

// Limits are the angles within which a stop may stand, degrees as Start and Stop: the nearest to the other end of the arc,
// and the farthest beyond; not known where the plan says none, and beyond where the cutter may run on.
type Limits struct{ Short, Past Number }

// StartLimits and StopLimits are those of where the run begins and where it stops.
func (r Run) StartLimits() Limits { return limits(r.atStart, r.Start, -r.forward()) }
func (r Run) StopLimits() Limits  { return limits(r.atStop, r.Stop, r.forward()) }

// limits rounds towards the drawn end: a window is never told wider than it is.
func limits(w *part.Window, at, out Number) Limits {
	l := Limits{Number(nan), Number(nan)}
	if w == nil || at.Unknown() {
		return l
	}
	inside := func(by Number) Number { return Number(math.Floor(float64(by)*100+1e-9) / 100) }
	l.Short = at - out*inside(degreesOf(w.Short))
	if w.Past != nil {
		l.Past = at + out*inside(degreesOf(*w.Past))
	}
	return l
}

// Ring is what the ring shows there, not known without a ring.
func (r Run) Ring(l Limits) Limits { return Limits{r.ringAt(l.Short), r.ringAt(l.Past)} }

// mayRunOn is said of an end that nothing of its outline is near: what has not been cut yet may stand there, and hold the part.
const mayRunOn = "beyond it gouges nothing of the outline, but may run into what holds the part"

// Windows spell how near to their places the stops have to be, with what the ring shows where that is something else: "; stop
// between 19.7° (ring 340.3°) and 20.5° (ring 339.5°), rather short"; empty where the plan says none.
func (r Run) Windows() string {
	spell := func(name string, l Limits) string {
		switch {
		case l.Short.Unknown():
			return ""
		case l.Past.Unknown():
			return fmt.Sprintf("; %s no shorter than %s, %s", name, r.apart(l.Short), mayRunOn)
		}
		return fmt.Sprintf("; %s between %s and %s, rather short", name, r.apart(l.Past), r.apart(l.Short))
	}
	return spell("start", r.StartLimits()) + spell("stop", r.StopLimits())
}

// apart spells an angle, and what the ring shows there where that is something else.
func (r Run) apart(deg Number) string {
	if out := Angle(deg); Angle(r.ringAt(deg)) == out {
		return out
	}
	return at(deg, r.ringAt(deg))
}
