package record

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
)

// Run is how an arc is swung, in the order in which the hand does it: where it is begun, which way and how far,
// where it stops. Start and Stop are degrees: bearings of the arc where the head is swung, the table's own angles
// where that is turned; not known of a full circle.
type Run struct {
	Start, Stop, Sweep Number
	Sense              string // clockwise or anticlockwise from above; none: neither cuts conventionally
	Turned             bool   // the table is turned
	OpenEnds           bool   // nobody has said where the arc begins and stops
	lie                setup.Lie
	given              string // what the sense rests on, said behind it
	ring               *setup.Ring
	// atStart and atStop are the windows of the ends, nil where none is known.
	atStart, atStop *part.Window
	// stops are what the ring is set to at the ends, nil where it shows them as they are.
	stops *part.Stops
}

// At is the run between stops: at its ends the ring shows what those are set to.
func (r Run) At(stops *part.Stops) Run {
	if stops.Ring.Reads() > 0 {
		r.stops = stops
	}
	return r
}

// ringAt is what the ring shows at an angle, not known without a ring.
func (r Run) ringAt(deg Number) Number { return ringAt(r.ring, deg) }

func ringAt(ring *setup.Ring, deg Number) Number {
	if ring == nil || deg.Unknown() {
		return Number(nan)
	}
	return Number(ring.Shows(geom.FromDegrees(float64(deg))))
}

// RingAt spells what the head's or the table's ring shows at an angle, empty where it is not known.
func (x *Plan) RingAt(deg Number) string {
	if v := ringAt(x.ring, deg); !v.Unknown() {
		return Angle(v)
	}
	return ""
}

// RingStart and RingStop are what the head's or the table's ring shows at the ends, not known without a ring.
func (r Run) RingStart() Number {
	if r.stops != nil {
		return Number(r.stops.Shows(&r.stops.Start))
	}
	return r.ringAt(r.Start)
}

func (r Run) RingStop() Number {
	if r.stops != nil {
		return Number(r.stops.Shows(&r.stops.Stop))
	}
	return r.ringAt(r.Stop)
}

// at spells an angle, with what the ring shows there.
func at(deg, ring Number) string {
	out := Angle(deg)
	if !ring.Unknown() {
		out += fmt.Sprintf(" (ring %s)", Angle(ring))
	}
	return out
}

// eitherWay is said where both ways are as good.
const eitherWay = "neither way is conventional on both walls"

// Begin and End spell where it begins and where it stops, with what the ring shows; empty of a full circle.
func (r Run) Begin() string { return end(r.Start, r.RingStart()) }
func (r Run) End() string   { return end(r.Stop, r.RingStop()) }

func end(deg, ring Number) string {
	if deg.Unknown() {
		return ""
	}
	return at(deg, ring)
}

// Way spells which way and how far: "clockwise from above through 50°".
func (r Run) Way() string {
	switch {
	case r.OpenEnds && r.Sense == "none":
		return "either way: " + eitherWay
	case r.OpenEnds:
		return r.Sense + " from above" + r.given
	case r.Start.Unknown() && r.Sense == "none":
		return "all round, either way: " + eitherWay
	case r.Start.Unknown():
		return "all round, " + r.Sense + " from above"
	case r.Sense != "none":
		return r.Sense + " from above through " + Degrees(float64(r.Sweep))
	}
	return r.forth() + " from above through " + Degrees(float64(r.Sweep)) + ", or back again: " + eitherWay
}

// forth is the way from the first bearing to the second: a table goes the other way than the head.
func (r Run) forth() string {
	if r.Turned {
		return "clockwise"
	}
	return "anticlockwise"
}

// Words spell the run: "start at 70°, swing clockwise from above through 50°, stop at 20°".
func (r Run) Words() string {
	begin, swing := "start at ", "swing "
	if r.Turned {
		begin, swing = "start with the table at ", "turn it "
	}
	switch {
	case r.Start.Unknown() && r.Turned:
		return "turn the table " + r.Way()
	case r.Start.Unknown():
		return swing + r.Way()
	case r.Sense == "none":
		return begin + r.Begin() + ", " + swing + r.forth() + " from above through " + Degrees(float64(r.Sweep)) + ", stop at " + r.End() +
			"; or back again: " + eitherWay
	}
	return begin + r.Begin() + ", " + swing + r.Way() + ", stop at " + r.End()
}

// Brief is the run in few words, for a small window: "start 70°, clockwise 50° from above, stop 20°".
func (r Run) Brief() string {
	switch {
	case r.Start.Unknown():
		return r.Words()
	}
	begin, sense, back := "start ", r.Sense, ""
	if r.Turned {
		begin = "table at "
	}
	if sense == "none" {
		sense, back = r.forth(), ", or back again"
	}
	return begin + r.Begin() + ", " + sense + " " + Degrees(float64(r.Sweep)) + " from above, stop " + r.End() + back
}

// Run is how the arc is swung, as far as the cutter may come: not into an inner corner.
func (a *PlanArc) Run() Run {
	r := Run{Start: a.Start, Stop: a.Stop, Sweep: a.Sweep, Sense: a.Sense, Turned: a.Table != nil, ring: a.ring}
	if r.Turned {
		r.Start, r.Stop = a.TableStart, a.TableStop
	}
	if len(a.Ends) == 2 {
		first, last := a.Ends[0].Before, a.Ends[1].Before
		if a.Start == a.To {
			first, last = last, first
		}
		r.leaveOut(first, last)
	}
	return r
}

// leaveOut leaves out the first and the last degrees of a run. What is told, hundredths, then lies inside what is left.
func (r *Run) leaveOut(first, last Number) {
	inwards := func(at, by Number) Number {
		if by > 0 {
			return Number(math.Ceil(float64(at+by)*100-1e-9) / 100)
		}
		return Number(math.Floor(float64(at+by)*100+1e-9) / 100)
	}
	way := Number(1)
	if r.Stop < r.Start {
		way = -1
	}
	if first > 0 {
		r.Start = inwards(r.Start, way*first)
	}
	if last > 0 {
		r.Stop = inwards(r.Stop, -way*last)
	}
	if first > 0 || last > 0 {
		r.Sweep = way * (r.Stop - r.Start)
	}
}

// RunOf is how the arc of a setting is swung with the drawing as it lies; ring is the head's or the table's, nil where it is not
// known. On a table whose cutter stands nobody knows where, as in settings of old, only the sense is told.
func RunOf(a *part.Picked, turned bool, ring *setup.Ring, lie setup.Lie) Run {
	r := Run{Start: Number(nan), Stop: Number(nan), Sweep: Number((a.To - a.From).Degrees()), Sense: a.Sense, Turned: turned, ring: ring,
		lie: lie}
	if start, stop, ok := a.Run(turned); ok {
		r.Start, r.Stop = degreesOf(start), degreesOf(stop)
		first, last := degreesOf(a.BeforeFrom), degreesOf(a.BeforeTo)
		r.atStart, r.atStop = a.AtFrom, a.AtTo
		if a.BeginsAtTo(turned) {
			first, last = last, first
			r.atStart, r.atStop = r.atStop, r.atStart
		}
		r.turnBy(lie.Turned)
		r.leaveOut(first, last)
	} else {
		r.OpenEnds = float64(r.Sweep) < 360-1e-9
	}
	return r
}

// turnBy turns both ends with the drawing; a table has to turn back by as much as the drawing lies turned on it. The head's first
// angle stays one that its ring shows, from 0 to 360.
func (r *Run) turnBy(lies geom.Bearing) {
	by := degreesOf(lies)
	switch {
	case by == 0:
		return
	case r.Turned:
		by = -by
	default:
		by -= Number(360 * math.Floor(float64(min(r.Start, r.Stop)+by)/360))
	}
	r.Start, r.Stop = r.Start+by, r.Stop+by
}

// Lies says with which lie of the drawing the ends hold; empty where none are told.
func (r Run) Lies() string {
	switch {
	case r.Start.Unknown():
		return ""
	case r.lie.Known:
		return "start and stop are told with the drawing's X turned to " + Angle(degreesOf(r.lie.Turned))
	case r.Turned:
		return "start and stop hold with the drawing's X along the machine's while the table stands at 0°"
	}
	return "start and stop hold with the drawing's X along the machine's"
}

// RunOpen is how an arc is swung of which no plan tells: by the side of the metal for a cutter that turns clockwise seen
// from above, the ends left open.
func RunOpen(hollow, turned bool) Run {
	sense := part.Anticlockwise
	if hollow != turned { // a table goes the other way round
		sense = part.Clockwise
	}
	return Run{Start: Number(nan), Stop: Number(nan), Sweep: Number(nan), Sense: sense.String(), Turned: turned, OpenEnds: true,
		given: ", for a cutter that turns clockwise from above"}
}

func degreesOf(b geom.Bearing) Number { return Number(b.Degrees()) }

// EndWords spell how near to an end of what is swung at a radius, or cut straight (0), the cutter has to stop.
func (x *Plan) EndWords(e *PlanEnd, n int, swing Number) string {
	if a := x.Arc(n); a != nil && a.PlanPlaces != nil {
		return x.plungedTo(a, e)
	}
	amount := func(v Number, round func(float64) float64) string {
		length := x.rounded(v, round)
		if swing == 0 {
			return length + " " + x.Unit.String()
		}
		places := 2
		if v < 0.1 {
			places = 3
		}
		scale := math.Pow(10, float64(places))
		return fmt.Sprintf("%s° (%s %v)", geom.FormatFixed(round(float64(v)*scale)/scale, places),
			x.rounded(v*Number(math.Pi/180)*swing, round), x.Unit)
	}
	// A window is never told wider than it is, and what is to be kept away from never nearer.
	atMost := func(v Number) string { return amount(v, func(f float64) float64 { return math.Floor(f + 1e-9) }) }
	atLeast := func(v Number) string { return amount(v, func(f float64) float64 { return math.Ceil(f - 1e-9) }) }
	after := ""
	if x.runsOver(e.Next, n) {
		after = fmt.Sprintf("; %s is cut after it and runs over this end", x.Called(e.Next))
	}
	beyond, way := e.Past, ""
	if e.Clear < beyond || beyond.Unknown() && !e.Clear.Unknown() {
		beyond, way = e.Clear, fmt.Sprintf(", where %s stands in the way", x.Called(e.InWay))
	}
	switch {
	case e.Before > 0:
		return fmt.Sprintf("inner corner: no nearer than %s to the drawn end; the cutter's own radius stays in the corner",
			atLeast(e.Before))
	case !e.EndTolerance.Unknown() && e.MayOverrun && e.Next != 0 && way == "":
		return "corner: may run on beyond the end"
	case !e.EndTolerance.Unknown():
		return fmt.Sprintf("within %s %v: stop short, measure, move the stop", x.Length(e.EndTolerance), x.Unit)
	case e.MayOverrun && way == "":
		return fmt.Sprintf("on the tangent point; may run on beyond it, or stay short of it by %s%s", atMost(e.Short), after)
	}
	return fmt.Sprintf("on the tangent point; beyond it by no more than %s%s, short of it by no more than %s; rather short%s",
		atMost(beyond),
		way, atMost(e.Short), after) + x.hard(e)
}

// Called is what element n is called: "arc 3", "straight 4", "slot 15".
func (x *Plan) Called(n int) string {
	switch {
	case x.Line(n) != nil:
		return fmt.Sprintf("straight %d", n)
	case x.Slot(n) != nil:
		return fmt.Sprintf("slot %d", n)
	}
	return fmt.Sprintf("arc %d", n)
}

// ProblemsOf are what is amiss with element n, in words.
func (x *Plan) ProblemsOf(n int) (out []string) {
	for _, i := range x.amiss[n] {
		if q := &x.Problems[i]; q.N == n || q.Other == n && q.Kind == part.SideUnknown.String() {
			out = append(out, q.Text)
		}
	}
	return out
}

// Gouges reports whether the cutter that is chosen for element n gouges an element that n does not meet.
func (x *Plan) Gouges(n int) bool {
	return slices.ContainsFunc(x.amiss[n], func(i int) bool { return x.Problems[i].N == n && x.Problems[i].Kind == part.Gouge.String() })
}

// BeyondTravel reports whether arc n has no swing radius because the slide does not go so far.
func (x *Plan) BeyondTravel(n int) bool {
	return slices.ContainsFunc(x.amiss[n], func(i int) bool {
		return x.Problems[i].N == n &&
			x.Problems[i].Kind == part.OutOfTravel.String()
	})
}

// GougesWords stand in the place of a run that would gouge.
const GougesWords = "not to be cut with this cutter: take a smaller one"

// Spoils reports whether element n cannot be cut as it stands here without metal being where it should not: a gouge, or
// a side of the metal that nobody knows.
func (x *Plan) Spoils(n int) bool {
	for _, i := range x.amiss[n] {
		q := &x.Problems[i]
		gouge, unknown := q.Kind == part.Gouge.String(), q.Kind == part.SideUnknown.String()
		if q.N == n && (gouge || unknown) || q.Other == n && unknown {
			return true
		}
	}
	return false
}

// hard says where the ring is too coarse for a window.
func (x *Plan) hard(e *PlanEnd) string {
	if x.ring == nil {
		return ""
	}
	finest := x.ring.Graduation
	if x.ring.Vernier > 0 {
		finest = x.ring.Vernier
	}
	if window := min(float64(e.Past), float64(e.Short)); finest == 0 || !(window < geom.Bearing(finest).Degrees()/2) {
		return ""
	}
	return "; a hard stop, not the ring, which shows " + Degrees(geom.Bearing(finest).Degrees()) + " at best"
}

// rounded prints a length rounded one way.
func (x *Plan) rounded(v Number, round func(float64) float64) string {
	places := geom.Places(0, x.Unit)
	scale := math.Pow(10, float64(places))
	return geom.FormatFixed(round(float64(v)*scale)/scale, places)
}

// runsOver reports whether element next is cut after element n, and may run past the end where the two meet.
func (x *Plan) runsOver(next, n int) bool {
	if next == 0 || x.place(next) < x.place(n) {
		return false
	}
	var ends []PlanEnd
	if a := x.Arc(next); a != nil && a.PlanPlaces == nil { // no place lies beyond an end
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
	if i, ok := x.step[n]; ok {
		return i
	}
	return -1
}
