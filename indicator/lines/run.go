package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

// Run is how an arc is swung, in the order in which the hand does it: where it is begun, which way and how far,
// where it stops. Start and Stop are degrees: bearings of the arc where the head is swung, the table's own angles
// where that is turned; not known of a full circle.
type Run struct {
	Start, Stop, Sweep Number
	Sense              string // clockwise or anticlockwise from above; none: neither cuts conventionally
	Turned             bool   // the table is turned
	OpenEnds           bool   // nobody has said where the arc begins and stops
	given              string // what the sense rests on, said behind it
	ring               *slide.Ring
}

// ringAt is what the ring shows at an angle, not known without a ring.
func (r Run) ringAt(deg Number) Number { return ringAt(r.ring, deg) }

func ringAt(ring *slide.Ring, deg Number) Number {
	if ring == nil || isNaN(deg) {
		return Number(nan)
	}
	return Number(ring.Shows(geom.FromDegrees(float64(deg))))
}

// RingAt spells what the head's or the table's ring shows at an angle, empty where it is not known.
func (x *Plan) RingAt(deg Number) string {
	if v := ringAt(x.ring, deg); !isNaN(v) {
		return Angle(v)
	}
	return ""
}

// RingStart and RingStop are what the head's or the table's ring shows at the ends, not known without a ring.
func (r Run) RingStart() Number { return r.ringAt(r.Start) }
func (r Run) RingStop() Number  { return r.ringAt(r.Stop) }

// at spells an angle, with what the ring shows there.
func (r Run) at(deg Number) string {
	out := Angle(deg)
	if v := r.ringAt(deg); !isNaN(v) {
		out += fmt.Sprintf(" (ring %s)", Angle(v))
	}
	return out
}

// eitherWay is said where both ways are as good.
const eitherWay = "neither way is conventional on both walls"

// Begin and End spell where it begins and where it stops, with what the ring shows; empty of a full circle.
func (r Run) Begin() string { return r.end(r.Start) }
func (r Run) End() string   { return r.end(r.Stop) }

func (r Run) end(deg Number) string {
	if isNaN(deg) {
		return ""
	}
	return r.at(deg)
}

// Way spells which way and how far: "clockwise from above through 50°".
func (r Run) Way() string {
	switch {
	case r.OpenEnds && r.Sense == "none":
		return "either way: " + eitherWay
	case r.OpenEnds:
		return r.Sense + " from above" + r.given
	case isNaN(r.Start) && r.Sense == "none":
		return "all round, either way: " + eitherWay
	case isNaN(r.Start):
		return "all round, " + r.Sense + " from above"
	case r.Sense != "none":
		return r.Sense + " from above through " + Degrees(float64(r.Sweep))
	case r.Turned: // from the first bearing to the second a table goes the other way than the head
		return "clockwise from above through " + Degrees(float64(r.Sweep)) + ", or back again: " + eitherWay
	}
	return "anticlockwise from above through " + Degrees(float64(r.Sweep)) + ", or back again: " + eitherWay
}

// Words spell the run: "start at 70°, swing clockwise from above through 50°, stop at 20°".
func (r Run) Words() string {
	begin, swing := "start at ", "swing "
	if r.Turned {
		begin, swing = "start with the table at ", "turn it "
	}
	switch {
	case isNaN(r.Start) && r.Turned:
		return "turn the table " + r.Way()
	case isNaN(r.Start):
		return swing + r.Way()
	case r.Sense == "none":
		return begin + r.Begin() + ", stop at " + r.End() + "; " + swing + r.Way()
	}
	return begin + r.Begin() + ", " + swing + r.Way() + ", stop at " + r.End()
}

// Brief is the run in few words, for a small window: "start 70°, clockwise 50° from above, stop 20°".
func (r Run) Brief() string {
	switch {
	case isNaN(r.Start):
		return r.Words()
	case r.Sense == "none":
		return "start " + r.Begin() + ", stop " + r.End() + ", or back again: " + eitherWay
	}
	begin := "start "
	if r.Turned {
		begin = "table at "
	}
	return begin + r.Begin() + ", " + r.Sense + " " + Degrees(float64(r.Sweep)) + " from above, stop " + r.End()
}

// Run is how the arc is swung.
func (a *PlanArc) Run() Run {
	r := Run{Start: a.Start, Stop: a.Stop, Sweep: a.Sweep, Sense: a.Sense, Turned: a.Table != nil, ring: a.ring}
	if r.Turned {
		r.Start, r.Stop = a.TableStart, a.TableStop
	}
	return r
}

// RunOf is how the arc of a setting is swung; ring is the head's or the table's, nil where it is not known. On a
// table whose cutter stands nobody knows where, as in settings of old, only the sense is told.
func RunOf(a *job.Arc, turned bool, ring *slide.Ring) Run {
	r := Run{Start: Number(nan), Stop: Number(nan), Sweep: Number((a.To - a.From).Degrees()), Sense: a.Sense, Turned: turned, ring: ring}
	if start, stop, ok := a.Run(turned); ok {
		r.Start, r.Stop = degreesOf(start), degreesOf(stop)
	} else {
		r.OpenEnds = float64(r.Sweep) < 360-1e-9
	}
	return r
}

func degreesOf(b geom.Bearing) Number { return Number(b.Degrees()) }

// EndWords spell how near to an end of what is swung at a radius, or cut straight (0), the cutter has to stop.
func (x *Plan) EndWords(e *PlanEnd, n int, swing Number) string {
	straight := swing == 0
	// A window is never told wider than it is.
	amount := func(v Number) string {
		if straight {
			return x.floor(v) + " " + x.Unit.String()
		}
		deg := math.Floor(float64(v)*100+1e-9) / 100
		if deg < 0.1 {
			deg = math.Floor(float64(v)*1000+1e-9) / 1000
		}
		return fmt.Sprintf("%s° (%s %v)", geom.FormatFixed(deg, map[bool]int{true: 3, false: 2}[deg < 0.1]), x.floor(v*Number(math.Pi/180)*swing), x.Unit)
	}
	over := ""
	if x.runsOver(e.Next, n) {
		over = fmt.Sprintf("; element %d is cut after it and runs over", e.Next)
	}
	switch {
	case e.Before > 0:
		return fmt.Sprintf("an inner corner: stop %s before it; the cutter comes no further", amount(e.Before))
	case !isNaN(e.EndTolerance) && e.MayOverrun:
		return "may run past"
	case !isNaN(e.EndTolerance):
		return fmt.Sprintf("within %s %v: stop short, measure, move the stop", x.Length(e.EndTolerance), x.Unit)
	case e.MayOverrun:
		return fmt.Sprintf("tangent: may run past; short by %s at most%s", amount(e.Short), over)
	}
	rather := ", rather short"
	return fmt.Sprintf("tangent: past by %s at most, short by %s%s%s", amount(e.Past), amount(e.Short), rather, over) + x.hard(e)
}

// hard says where the ring is too coarse for a window.
func (x *Plan) hard(e *PlanEnd) string {
	window := min(float64(e.Past), float64(e.Short))
	if x.ring == nil || x.ring.Graduation == 0 || !(window < geom.Bearing(x.ring.Graduation).Degrees()/2) {
		return ""
	}
	return "; a hard stop, not the ring, whose marks are " + Degrees(geom.Bearing(x.ring.Graduation).Degrees()) + " apart"
}

// floor prints a length no larger than it is.
func (x *Plan) floor(v Number) string {
	places := geom.Places(0, x.Unit)
	scale := math.Pow(10, float64(places))
	return geom.FormatFixed(math.Floor(float64(v)*scale+1e-9)/scale, places)
}

// runsOver reports whether element next is cut after element n, and may run past the end where the two meet.
func (x *Plan) runsOver(next, n int) bool {
	if next == 0 || x.place(next) < x.place(n) {
		return false
	}
	var ends []PlanEnd
	if a := x.Arc(next); a != nil {
		ends = a.Ends
	} else if l := x.Line(next); l != nil {
		ends = l.Ends
	}
	for i := range ends {
		if ends[i].Next == n && ends[i].MayOverrun {
			return true
		}
	}
	return false
}

// place is where in the order element n is cut, from 0; −1 where it is not.
func (x *Plan) place(n int) int {
	for i, m := range x.Order {
		if m == n {
			return i
		}
	}
	return -1
}
