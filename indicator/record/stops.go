package record

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Stops are where the swing of an arc begins and ends, as the head's or the table's own ring shows it: degrees, and lengths in the
// unit of the object that they stand in.
type Stops struct {
	// Start and Stop are bearings of the surface as in the plan, kept out of inner corners; RingStart and RingStop what the ring is
	// set to: figures that can be read, before the end or within its window; of a hard stop only where about it is, before the end.
	// They are null without a graduation.
	Start     Number `json:"start"`
	Stop      Number `json:"stop"`
	RingStart Number `json:"ring_start"`
	RingStop  Number `json:"ring_stop"`
	// Past is how far the swing may begin before the start or end beyond the stop, as drawn, null where it may run on; Short how far
	// on this side of it, which stands proud and can be cut away. Of an end that is no tangent both are null, and EndTolerance, a
	// length, says how near.
	PastStart         Number `json:"past_start"`
	PastStop          Number `json:"past_stop"`
	ShortStart        Number `json:"short_start"`
	ShortStop         Number `json:"short_stop"`
	EndToleranceStart Number `json:"end_tolerance_start"`
	EndToleranceStop  Number `json:"end_tolerance_stop"`
	// AtCutter are Past and Short as lengths along the cutter's way.
	AtCutter StopLengths `json:"at_cutter"`
	// Free says that the swing may run on beyond, Hard that the ring is too coarse for the window: a hard stop, not the ring.
	FreeStart bool `json:"free_start"`
	FreeStop  bool `json:"free_stop"`
	HardStart bool `json:"hard_start"`
	HardStop  bool `json:"hard_stop"`
	// Reads is the finest step that the ring is read to, null without a graduation.
	Reads Number `json:"reads"`
	// Handle is how the table's own handwheel carries it from the start to the stop, null without one.
	Handle *StopHandle `json:"handle"`

	of   part.Stops
	unit geom.Unit
}

// StopLengths are windows as lengths at the cutter.
type StopLengths struct {
	PastStart  Number `json:"past_start"`
	PastStop   Number `json:"past_stop"`
	ShortStart Number `json:"short_start"`
	ShortStop  Number `json:"short_stop"`
}

// StopHandle is the handle's part: the start is come up to the way that the handle turns on to the stop, from at least Over degrees
// of the table before it.
type StopHandle struct {
	Over Number `json:"over"`
	HandleMove
}

// HandleMove is one movement of a table's own handwheel: Rest, beyond whole turns, counts In divisions of its collar, or in degrees
// of the table.
type HandleMove struct {
	Turn  slide.Turn `json:"turn"`
	Turns int        `json:"turns"`
	Rest  Number     `json:"rest"`
	In    string     `json:"in"`
}

// HandleMoves are movements of a handwheel.
func HandleMoves(h setup.Handwheel, all []setup.Crank) (out []HandleMove) {
	in := "degrees"
	if h.Divisions > 0 {
		in = "divisions"
	}
	for _, c := range all {
		out = append(out, HandleMove{c.Turn, c.Turns, Number(c.Rest), in})
	}
	return out
}

// Text is a movement in words: "clockwise 12 turns 20.0 div", "anticlockwise 2 turns 1.3°".
func (m HandleMove) Text() string {
	if m.In == "divisions" {
		return HandTurn(slide.Move{Turn: m.Turn, Turns: m.Turns, Divisions: float64(m.Rest)})
	}
	rest, turns := Degrees(float64(m.Rest))+" of the table", count(m.Turns, "turn")
	switch {
	case m.Turns == 0:
		turns = rest
	case m.Rest >= 0.005:
		turns += " and " + rest
	}
	return m.Turn.String() + " " + turns
}

// NewStops puts stops into unit u; h is the table's own handwheel, zero where there is none.
func NewStops(s *part.Stops, h setup.Handwheel, u geom.Unit) Stops {
	x := Stops{Reads: Number(nan), of: *s, unit: u}
	if r := s.Ring.Reads(); r > 0 {
		x.Reads = degreesOf(geom.Bearing(r))
	}
	at := func(e *part.Stop, bearing, ring, past, short, tolerance, pastAt, shortAt *Number, free, hard *bool) {
		*bearing, *ring = Degrees360(e.At), Number(s.Shows(e))
		*past, *short, *tolerance, *pastAt, *shortAt = Number(nan), Number(nan), Number(nan), Number(nan), Number(nan)
		*free, *hard = e.Free(), e.Hard
		length := func(b geom.Bearing) Number { return Number(u.From(float64(b) * s.Swing)) }
		switch w := e.Window; {
		case w == nil:
		case e.Corner:
			*tolerance = length(w.Short)
		default:
			if *short, *shortAt = degreesOf(w.Short), length(w.Short); w.Past != nil {
				*past, *pastAt = degreesOf(*w.Past), length(*w.Past)
			}
		}
	}
	c := &x.AtCutter
	at(&s.Start, &x.Start, &x.RingStart, &x.PastStart, &x.ShortStart, &x.EndToleranceStart, &c.PastStart, &c.ShortStart, &x.FreeStart,
		&x.HardStart)
	at(&s.Stop, &x.Stop, &x.RingStop, &x.PastStop, &x.ShortStop, &x.EndToleranceStop, &c.PastStop, &c.ShortStop, &x.FreeStop, &x.HardStop)
	if moves := HandleMoves(h, through(s, h)); s.Turned && len(moves) == 1 {
		x.Handle = &StopHandle{degreesOf(geom.Bearing(h.Over())), moves[0]}
	}
	return x
}

// through carries a table from the start to the stop.
func through(s *part.Stops, h setup.Handwheel) []setup.Crank {
	if !h.Known() {
		return nil
	}
	return h.Through(s.Ring, s.Way())
}

// place spells where a stop is set: by the ring that is read, or where that shows nothing by its angle.
func (x *Stops) place(e *part.Stop) string {
	switch shows := x.of.Shows(e); {
	case !math.IsNaN(shows):
		out := "ring " + x.figure(shows)
		if m, ok := x.of.Ring.Mark(shows); ok && m.Minutes != 0 {
			out += fmt.Sprintf(" (%s %s′)", Degrees(m.Degrees), strconv.FormatFloat(RoundTo(m.Minutes, 1), 'f', -1, 64))
		}
		if e.Hard { // to find the place by, not to set it to
			return strings.Replace(out, "ring ", "ring about ", 1)
		}
		return out
	case x.of.Turned:
		return "table at " + Angle(degreesOf(e.Axis))
	}
	return "bearing " + Angle(degreesOf(e.Axis))
}

// figure spells a figure of the ring as finely as it is read.
func (x *Stops) figure(shows float64) string {
	return strconv.FormatFloat(RoundTo(shows, x.of.Ring.Places()), 'f', -1, 64) + "°"
}

// Set spells both: "start at ring 340.4°, stop at ring about 19.8°, then the block".
func (x *Stops) Set() string {
	set := func(e *part.Stop) string {
		if e.Hard && !x.Reads.Unknown() {
			return x.place(e) + ", then the block"
		}
		return x.place(e)
	}
	return "start at " + set(&x.of.Start) + ", stop at " + set(&x.of.Stop)
}

// Places spell where the two are set, for large letters: "ring 340.4°", "about 340.4°" where the block is.
func (x *Stops) Places() (start, stop string) {
	short := func(e *part.Stop) string { return strings.Replace(x.place(e), "ring about", "about", 1) }
	return short(&x.of.Start), short(&x.of.Stop)
}

// Words are the two and how near each has to be, and what the handwheel does between them.
func (x *Stops) Words() []string {
	out := []string{"start at " + x.place(&x.of.Start) + x.near(&x.of.Start), "stop at " + x.place(&x.of.Stop) + x.near(&x.of.Stop)}
	if h := x.Handle; h != nil {
		out = append(out, fmt.Sprintf("%s: come up to the start %s, from at least %s of the table before it; then %s to the stop", FacingHandle,
			h.Turn, Degrees(math.Ceil(float64(h.Over)*100-1e-9)/100), h.Text()))
	}
	if x.Reads.Unknown() {
		out = append(out, "no graduation of the "+x.whose()+"'s ring is stated, so no figure of it is told")
	}
	return out
}

func (x *Stops) whose() string {
	if x.of.Turned {
		return "table"
	}
	return "head"
}

// near spells how near a stop has to be; empty where nobody has said.
func (x *Stops) near(e *part.Stop) string {
	w := e.Window
	if w == nil {
		return ""
	}
	hard := ""
	if e.Hard {
		hard = "; a hard stop, not the ring, which shows " + Degrees(geom.Bearing(x.of.Ring.Marked()).Degrees()) + " at best"
	}
	switch tolerance := geom.FormatFixed(x.unit.From(float64(w.Short)*x.of.Swing), geom.Places(0, x.unit)); {
	case e.Inner():
		return ": before an inner corner, no farther; the cutter's own radius stays in it" + hard
	case e.Corner && e.Free():
		return ": a corner, may run on beyond"
	case e.Corner:
		return fmt.Sprintf(": within %s %v at the cutter: stop short, measure, move the stop", tolerance, x.unit) + hard
	case e.Free():
		return ": may run on beyond, or stay short by " + x.amount(w.Short) + hard
	}
	return fmt.Sprintf(": no more than %s beyond, no more than %s short; rather short", x.amount(*w.Past), x.amount(w.Short)) + hard
}

// amount spells an angle with the length at the cutter, never wider than it is: "0.5° (0.36 mm at the cutter)".
func (x *Stops) amount(b geom.Bearing) string {
	down := func(v float64, places int) string {
		p := math.Pow10(places)
		return geom.FormatFixed(math.Floor(v*p+1e-9)/p, places)
	}
	places := 2
	if b.Degrees() < 0.1 {
		places = 3
	}
	return fmt.Sprintf("%s° (%s %v at the cutter)", down(b.Degrees(), places),
		down(x.unit.From(float64(b)*x.of.Swing), geom.Places(0, x.unit)), x.unit)
}

// Hard says where a hard stop is needed: "; a hard stop at the start, …"; empty where the ring is fine enough.
func (x *Stops) Hard() string {
	where := ""
	switch {
	case x.HardStart && x.HardStop:
		where = "both"
	case x.HardStart:
		where = "the start"
	case x.HardStop:
		where = "the stop"
	default:
		return ""
	}
	return "; a hard stop at " + where + ", the ring is too coarse there"
}
