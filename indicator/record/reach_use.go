package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Rock is what rocking the locked-off spindle does, and what a turning point has shown.
type Rock struct {
	Unit    geom.Unit         `json:"unit"`
	Method  string            `json:"method"`
	Touch   indicator.Touch   `json:"touch"`
	Turning indicator.Extreme `json:"turning"`
	// OffLine is what a tip off the line does to the swing radius that is found; null where no angle is given.
	OffLine *OffLine `json:"off_line"`
	Seen    *Turned  `json:"seen"`
	Notes   []string `json:"notes"`
}

// OffLine is the one-sided error of a tip off the radial line.
type OffLine struct {
	Degrees Number `json:"degrees"`
	Swing   Number `json:"swing"` // error of the swing radius that a sweep finds
}

// Turned is the turning point that three readings show.
type Turned struct {
	At      Number            `json:"at"`
	Reading Number            `json:"reading"`
	Extreme indicator.Extreme `json:"extreme"`
	Way     indicator.Way     `json:"way"`
	Agrees  bool              `json:"agrees"`
	Beyond  bool              `json:"beyond"`
}

// NewRock says what rocking does in a setup at a swing radius (millimetres), with the tip off the line by
// an angle (radians, 0 for none), and what was seen (nil for nothing).
func NewRock(s indicator.Setup, swing, angle float64, seen *indicator.Rocked, u geom.Unit) Rock {
	x := Rock{Unit: u, Method: "rock", Touch: s.Touch, Turning: s.Turning(), Notes: []string{}}
	if angle != 0 {
		x.OffLine = &OffLine{Number(geom.Bearing(angle).Degrees()), Number(u.From(s.OffLine(swing, angle)))}
	}
	if seen != nil {
		x.Seen = &Turned{Number(seen.At.Degrees()), Number(u.From(seen.Reading)), seen.Extreme, seen.Says(s.Touch),
			seen.Extreme == x.Turning, seen.Beyond}
		if !x.Seen.Agrees && x.Turning != indicator.NoExtreme {
			x.Notes = append(x.Notes, fmt.Sprintf("the needle turned at its %v, so the tip stands %v: the sign of the reach is wrong, or "+
				"bore and boss are mixed up",
				seen.Extreme, wayWords(Number(waySign(x.Seen.Way)))))
		}
		if seen.Beyond {
			x.Notes = append(x.Notes, "the turning point lies beyond the three places: rock on that way, and read again")
		}
	}
	x.Notes = append(x.Notes, noteSafe)
	return x
}

func waySign(w indicator.Way) float64 {
	if w == indicator.TipIn {
		return -1
	}
	return 1
}

// Text spells the record for a person.
func (x Rock) Text() string {
	var b strings.Builder
	const rock = "head still, turn the spindle to and fro by hand a few degrees either side of the radial line;\nthe needle "
	switch x.Turning {
	case indicator.NoExtreme:
		b.WriteString("the tip stands under the spindle's axis: rocking moves no needle, and needs no care")
	case indicator.Highest:
		b.WriteString(rock + "rises, stands and falls back: stop at the highest reading, and lock the spindle to the head there")
	case indicator.Lowest:
		b.WriteString(rock + "falls, stands and rises again: stop at the lowest reading, and lock the spindle to the head there")
	}
	if x.OffLine != nil {
		fmt.Fprintf(&b, "\noff the line by %s, either way: the swing radius comes out wrong by %s %v, and no mean takes it out",
			Degrees(float64(x.OffLine.Degrees)), geom.FormatSigned(float64(x.OffLine.Swing), geom.Places(0, x.Unit)), x.Unit)
	}
	if x.Seen != nil {
		fmt.Fprintf(&b, "\nthree readings: %v %s %v at %s", x.Seen.Extreme, plain(x.Seen.Reading, x.Unit), x.Unit,
			Degrees(float64(x.Seen.At)))
	}
	return b.String() + noteLines(x.Notes)
}

func noteLines(notes []string) string {
	var b strings.Builder
	for _, n := range notes {
		fmt.Fprintf(&b, "\nnote: %s", n)
	}
	return b.String()
}

// Check is a reach held against a swing radius known from elsewhere.
type Check struct {
	Unit    geom.Unit `json:"unit"`
	Method  string    `json:"method"`
	Given   Judged    `json:"given"`
	Turned  Judged    `json:"turned"`
	Scale   Limited   `json:"scale"`
	Verdict string    `json:"verdict"`
	Notes   []string  `json:"notes"`
}

// Limited is a length with the limit of its error, plus or minus.
type Limited struct {
	Value Number `json:"value"`
	Limit Number `json:"limit"`
}

// Judged is what one sign of the reach makes of the sweep.
type Judged struct {
	Reach       Number `json:"reach"`
	Swing       Number `json:"swing"`
	Wind        Number `json:"wind"`
	Contradicts bool   `json:"contradicts"`
}

// NewCheck judges a reach and its opposite (see [indicator.PlausibleReach]); millimetres in.
func NewCheck(zero indicator.Value, reach float64, scale indicator.Value, target float64, u geom.Unit) Check {
	given, turned := indicator.PlausibleReach(zero, reach, scale, target)
	put := func(j indicator.Judged) Judged {
		return Judged{Number(u.From(j.Reach)), Number(u.From(j.Swing)), Number(u.From(j.Wind)), j.Contradicts}
	}
	x := Check{Unit: u, Method: "check", Given: put(given), Turned: put(turned), Scale: Limited{Number(u.From(scale.V)),
		Number(u.From(scale.U))}, Notes: []string{}}
	switch {
	case given.Contradicts && turned.Contradicts:
		x.Verdict = "neither"
		x.Notes = append(x.Notes, "neither sign agrees with the scale: see to the reference's radius, to bore or boss, and to the scale")
	case given.Contradicts:
		x.Verdict = "sign"
		x.Notes = append(x.Notes, "the sign of the reach looks wrong: + is away from the head axis, - towards it")
	case turned.Contradicts:
		x.Verdict = "agrees"
	default:
		x.Verdict = "undecided"
		x.Notes = append(x.Notes, "the scale cannot tell the two signs apart: rock the spindle, and see at which extreme the needle turns")
	}
	return x
}

// Text spells the record for a person.
func (x Check) Text() string {
	var b strings.Builder
	p := geom.Places(0, x.Unit)
	for i, j := range []Judged{x.Given, x.Turned} {
		if i > 0 {
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "reach %s %v: swing radius %s %v", geom.FormatSigned(float64(j.Reach), p), x.Unit,
			geom.FormatFixed(float64(j.Swing), p), x.Unit)
		if !j.Wind.Unknown() {
			fmt.Fprintf(&b, ", first wind of the offset slide %s %v", geom.FormatSigned(float64(j.Wind), p), x.Unit)
		}
		word := "agrees with"
		if j.Contradicts {
			word = "contradicts"
		}
		fmt.Fprintf(&b, "; %s the scale", word)
	}
	fmt.Fprintf(&b, "\nscale %s", Value{x.Scale.Value, x.Scale.Limit}.Text(x.Unit))
	return b.String() + noteLines(x.Notes)
}

// Null is what makes the dial read zero at the target.
type Null struct {
	Unit      geom.Unit       `json:"unit"`
	Method    string          `json:"method"`
	Touch     indicator.Touch `json:"touch"`
	Swing     Number          `json:"swing"`
	Reach     Number          `json:"reach"`     // null where none is given
	Reference Number          `json:"reference"` // the radius on which the dial reads zero, null without a reach
	Gauges    []Gauge         `json:"gauges"`
	Best      *int            `json:"best"` // counts the gauges from 1
	Notes     []string        `json:"notes"`
}

// Gauge is one reference at hand: the reading on it at the target, and the reach that would make that
// zero.
type Gauge struct {
	Radius  Number        `json:"radius"`
	Reading Number        `json:"reading"`
	InRange *bool         `json:"in_range"`
	Reach   Number        `json:"null_reach"`
	Way     indicator.Way `json:"null_way"`
}

// NewNull lists the references at hand. reach is NaN where the tip is still to be set; millimetres in.
func NewNull(d indicator.Dial, touch indicator.Touch, swing, reach float64, radii []float64, u geom.Unit) Null {
	x := Null{Unit: u, Method: "null", Touch: touch, Swing: Number(u.From(swing)), Reach: Number(u.From(reach)),
		Reference: Number(u.From(indicator.NullReference(swing, reach))), Gauges: []Gauge{}, Notes: []string{}}
	all, best := d.Gauges(touch, swing, reach, radii)
	set := !math.IsNaN(reach)
	for _, g := range all {
		line := Gauge{Number(u.From(g.Radius)), Number(u.From(g.Reading)), nil, Number(u.From(g.Reach)), indicator.WayOf(g.Reach)}
		if in := !g.Off; set {
			line.InRange = &in
		}
		x.Gauges = append(x.Gauges, line)
	}
	if set && best >= 0 {
		n := best + 1
		x.Best = &n
	}
	return x
}

// Text spells the record for a person.
func (x Null) Text() string {
	var b strings.Builder
	p := geom.Places(0, x.Unit)
	fmt.Fprintf(&b, "swing radius %s %v, %v", geom.FormatFixed(float64(x.Swing), p), x.Unit, x.Touch)
	if !x.Reach.Unknown() {
		fmt.Fprintf(&b, ", reach %s %v: the dial reads zero on a reference of radius %s %v (diameter %s)",
			geom.FormatSigned(float64(x.Reach), p), x.Unit,
			geom.FormatFixed(float64(x.Reference), p), x.Unit, geom.FormatFixed(2*float64(x.Reference), p))
	}
	for i, g := range x.Gauges {
		fmt.Fprintf(&b, "\nradius %s %v:", geom.FormatFixed(float64(g.Radius), p), x.Unit)
		if !x.Reach.Unknown() {
			fmt.Fprintf(&b, " would read %s", geom.FormatSigned(float64(g.Reading), p))
			if g.InRange != nil && !*g.InRange {
				b.WriteString(", off the dial")
			}
			if x.Best != nil && *x.Best == i+1 {
				b.WriteString(", the nearest to zero")
			}
			b.WriteString(";")
		}
		fmt.Fprintf(&b, " for zero set the reach to %s, tip %s", geom.FormatSigned(float64(g.Reach), p), wayWords(g.Reach))
	}
	return b.String() + noteLines(x.Notes)
}

// Origin is where the offset slide's line runs beside the head axis.
type Origin struct {
	Unit   geom.Unit `json:"unit"`
	Method string    `json:"method"`
	Along  Value     `json:"along"`
	Miss   Value     `json:"miss"`
	Swing  Number    `json:"swing"`
	// SlideOrigin is the slide's coordinate at which the spindle is nearest to the head axis; null
	// where it was not told where the slide stands.
	SlideOrigin *Value `json:"slide_origin"`
	// Turns is asin(h/R), degrees, at the swing radius asked for; null where none was.
	Turns  Number   `json:"turns"`
	Sweeps []Swept  `json:"sweeps"`
	Budget []Term   `json:"budget"` // the miss's
	Limits *string  `json:"limits"`
	Notes  []string `json:"notes"`
}

// NewOrigin puts an origin into unit u. slideAt is the slide's coordinate, NaN where it is not known.
func NewOrigin(o indicator.Origin, slideAt float64, u geom.Unit) Origin {
	x := Origin{Unit: u, Method: "origin", Along: *ValueOf(u, o.Along.Value()), Miss: *ValueOf(u, o.Miss.Value()),
		Swing: Number(u.From(o.Swing())), Turns: Number(nan), Sweeps: []Swept{}, Notes: []string{}}
	x.Budget, x.Limits = budgetOf(o.Miss, u)
	if !math.IsNaN(slideAt) {
		x.SlideOrigin = ValueOf(u, indicator.Value{V: slideAt - o.Along.V, U: o.Along.Value().U})
	}
	if o.Miss.Open {
		x.Notes = append(x.Notes, noteOpen)
	}
	return x
}

// Sweep adds what one of the two sweeps looked like.
func (x Origin) Sweep(of string, f *indicator.Estimate, bearings []geom.Bearing, readings []float64) Origin {
	s, notes := newSwept(of, f, bearings, readings, x.Unit)
	x.Sweeps, x.Notes = append(x.Sweeps, s), append(x.Notes, notes...)
	return x
}

// At adds by how much the miss turns an arc's bearing at a swing radius (millimetres).
func (x Origin) At(miss, swing float64) (Origin, error) {
	b, err := indicator.SpindleBearing(0, 0, miss, swing)
	if err != nil {
		return x, err
	}
	if x.Turns = Number(b.Degrees360()); x.Turns > 180 {
		x.Turns -= 360
	}
	way := "anticlockwise"
	if x.Turns < 0 {
		way = "clockwise"
	}
	x.Notes = append(x.Notes, fmt.Sprintf("at a swing radius of %s %v from above the spindle stands %s %s of where the head's collar says",
		plain(Number(x.Unit.From(swing)), x.Unit), x.Unit, Degrees(math.Abs(float64(x.Turns))), way))
	return x, nil
}

// Say adds notes; the safety words come last.
func (x Origin) Say(notes ...string) Origin {
	x.Notes = append(append(x.Notes, notes...), noteSafe)
	return x
}

// Text spells the record for a person.
func (x Origin) Text() string {
	var b strings.Builder
	side := "on which side is not proven"
	switch {
	case x.Miss.Value > x.Miss.U95:
		side = "on the left"
	case -x.Miss.Value > x.Miss.U95:
		side = "on the right"
	}
	fmt.Fprintf(&b, "along the slide %s beyond the place nearest to the head axis", x.Along.Text(x.Unit))
	fmt.Fprintf(&b, "\nthe slide's line passes the head axis by %s, %s, seen from above looking outwards (+ left)", x.Miss.Text(x.Unit),
		side)
	if x.SlideOrigin != nil {
		fmt.Fprintf(&b, "\nnearest to the head axis with the slide at %s", x.SlideOrigin.Text(x.Unit))
	}
	fmt.Fprintf(&b, "\nswing radius where the slide stands %s %v", plain(x.Swing, x.Unit), x.Unit)
	if math.Abs(float64(x.Miss.Value)) > float64(x.Miss.U95) {
		fmt.Fprintf(&b, "\nfor the machine file, under [slide.offset]:\n  miss = %s", plain(x.Miss.Value, x.Unit))
	}
	writeSwept(&b, x.Sweeps, x.Unit)
	writeBudget(&b, x.Budget, x.Unit)
	if x.Limits != nil {
		fmt.Fprintf(&b, "\n%s", *x.Limits)
	}
	return b.String() + noteLines(x.Notes)
}
