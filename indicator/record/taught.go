package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

type (
	// TaughtLine is what a machine has taught of one slide; null where it has not.
	TaughtLine struct {
		Say   string `json:"say"`
		Slide string `json:"slide"`
		// Gain is what the slide moves for one millimetre of its collar's count.
		Gain     *Value `json:"gain"`
		Origin   *Value `json:"origin"`
		Miss     *Range `json:"miss"`
		Backlash *Value `json:"backlash"`
		Lock     *Value `json:"lock"`
		// Angle is the bearing along which a cross slide's coordinate grows, degrees, in the table's frame
		// where it stands on one; Square by how much it and the slide before it are apart from 90°.
		Angle  *Value `json:"angle"`
		Square *Value `json:"square"`
		// Trials counts the radii, travels or angles (of the same winds), reversals and locks that it comes from.
		Trials int      `json:"trials"`
		From   []string `json:"from"`
		unit   geom.Unit
	}
	// Range is an interval that holds with 95 %.
	Range struct {
		Low  Number `json:"low"`
		High Number `json:"high"`
	}
)

// Taught says what a machine has taught of its slides, as far as it has.
func Taught(lessons []setup.Taught, u geom.Unit) []TaughtLine {
	var out []TaughtLine
	for _, l := range lessons {
		b := l.Lesson
		t := TaughtLine{Say: "taught", Slide: l.Slide, Trials: len(b.Radii) + max(len(b.Travels), len(b.Angles)) + len(b.Reversals) +
			len(b.Locks), From: l.From, unit: u}
		if t.From == nil {
			t.From = []string{}
		}
		if t.Trials == 0 {
			continue
		}
		learnt := b.Posterior()
		if len(b.Radii)+len(b.Travels) > 0 {
			t.Gain = ValueOf(geom.Millimetre, learnt.Gain()) // a ratio
		}
		if o := learnt.Origin(); o.Known() {
			t.Origin = ValueOf(u, o)
		}
		if m := learnt.Miss(); len(b.Radii) > 1 && !math.IsNaN(m.High) {
			t.Miss = &Range{Number(u.From(m.Low)), Number(u.From(m.High))}
		}
		if len(b.Reversals) > 0 {
			t.Backlash = ValueOf(u, b.Backlash())
		}
		if len(b.Locks) > 0 {
			t.Lock = ValueOf(u, b.LockShift().Mean)
		}
		if len(b.Angles) > 0 {
			t.Angle, t.Square = direction(lessons, l)
		}
		out = append(out, t)
	}
	return out
}

// direction says which way a slide was seen to go, and of a Y how square that is to its X; nil for an X,
// and where nothing is known of it.
func direction(lessons []setup.Taught, l setup.Taught) (at, square *Value) {
	degrees := func(v, u float64) *Value {
		return AngleOf(v, fit.Coverage(math.Inf(1))*u)
	}
	along := slide.Along(l.Slide)
	askew, u := l.Lesson.Askew()
	at = degrees(float64((along.Bearing() + geom.Bearing(askew)).Normalized()), u)
	for _, x := range lessons {
		if along == slide.AlongY && slide.Along(x.Slide) == slide.AlongX && slide.Rides(x.Slide) == slide.Rides(l.Slide) {
			other, v := x.Lesson.Askew()
			square = degrees(math.Remainder(askew-other, 2*math.Pi), math.Hypot(u, v))
		}
	}
	return at, square
}

// AngleOf is an angle with its expanded uncertainty, both radians, in degrees.
func AngleOf(v, u95 float64) *Value {
	return &Value{Number(geom.Bearing(v).Degrees()), Number(geom.Bearing(u95).Degrees())}
}

// Angled prints an angle in degrees with its uncertainty, to the places that this allows.
func Angled(v *Value) string {
	places := 2
	if float64(v.U95) >= 0.95 {
		places = 1
	}
	return fmt.Sprintf("%s° ±%s°", geom.FormatFixed(float64(v.Value), places), geom.FormatFixed(float64(v.U95), places))
}

// ScrewError says how far a slide goes beyond what its collar counts, in a hundred of any unit: what the factor between the
// two, gain, leaves over 1.
func ScrewError(gain indicator.Value) string {
	return fmt.Sprintf("%s ±%s %%", geom.FormatSigned((gain.V-1)*100, 3), geom.FormatFixed(gain.U*100, 3))
}

// Text is for a person.
func (l TaughtLine) Text() string {
	var parts []string
	x := Fit{Unit: l.unit}
	if l.Gain != nil {
		parts = append(parts, "screw error "+ScrewError(indicator.Value{V: float64(l.Gain.Value), U: float64(l.Gain.U95)}))
	}
	if l.Miss != nil {
		places := geom.Places(0, l.unit)
		parts = append(parts, fmt.Sprintf("misses the head axis by %s to %s %v", geom.FormatFixed(float64(l.Miss.Low), places),
			geom.FormatFixed(float64(l.Miss.High), places), l.unit))
	}
	if l.Origin != nil {
		parts = append(parts, "collar at the axis "+l.Origin.Text(x.Unit))
	}
	if l.Backlash != nil {
		parts = append(parts, "backlash "+l.Backlash.Text(x.Unit))
	}
	if l.Lock != nil {
		parts = append(parts, "locking moves it by "+l.Lock.Text(x.Unit))
	}
	if l.Angle != nil {
		parts = append(parts, "goes towards "+Angled(l.Angle))
	}
	if l.Square != nil {
		parts = append(parts, "out of square by "+Angled(l.Square))
	}
	trials := fmt.Sprintf("%d trials", l.Trials)
	if l.Trials == 1 {
		trials = "1 trial"
	}
	return fmt.Sprintf("%s slide, by %s: %s", l.Slide, trials, strings.Join(parts, ", "))
}
