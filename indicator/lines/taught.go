package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

type (
	// AtLine repeats where a slide's scale stands.
	AtLine struct {
		Say   string `json:"say"`
		Trial int    `json:"trial"`
		Slide string `json:"slide"`
		At    Number `json:"at"`
		unit  geom.Unit
	}
	// StartLine says where to set the offset slide's collar for the wanted radius, by what the machine
	// has taught: the count, and the same as turns and divisions.
	StartLine struct {
		Say       string `json:"say"`
		Slide     string `json:"slide"`
		Collar    Value  `json:"collar"`
		Turns     int    `json:"turns"`
		Divisions Number `json:"divisions"`
		unit      geom.Unit
	}
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
	// OddLine says that a trial went otherwise than the machine had taught.
	OddLine struct {
		Say     string `json:"say"`
		Trial   int    `json:"trial"`
		Slide   string `json:"slide"`
		Because string `json:"because"`
		Off     *Value `json:"off"`
		text    string
	}
)

// Taught says what a machine has taught of its slides, as far as it has.
func Taught(lessons []session.Lesson, u geom.Unit) []Line {
	var out []Line
	for _, l := range lessons {
		b := l.Belief
		t := TaughtLine{Say: "taught", Slide: l.Slide, Trials: len(b.Radii) + max(len(b.Travels), len(b.Angles)) + len(b.Reversals) + len(b.Locks), From: l.From, unit: u}
		if t.From == nil {
			t.From = []string{}
		}
		if t.Trials == 0 {
			continue
		}
		learnt := b.Learnt()
		if len(b.Radii)+len(b.Travels) > 0 {
			t.Gain = in(geom.Millimetre, learnt.Gain()) // a ratio
		}
		if o := learnt.Origin(); o.Known() {
			t.Origin = in(u, o)
		}
		if m := learnt.Miss(); len(b.Radii) > 1 && !math.IsNaN(m.High) {
			t.Miss = &Range{Number(u.From(m.Low)), Number(u.From(m.High))}
		}
		if len(b.Reversals) > 0 {
			t.Backlash = in(u, b.Backlash())
		}
		if len(b.Locks) > 0 {
			t.Lock = in(u, b.LockShift().Mean)
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
func direction(lessons []session.Lesson, l session.Lesson) (at, square *Value) {
	degrees := func(v, u float64) *Value {
		return &Value{Number(geom.Bearing(v).Degrees()), Number(geom.Bearing(fit.Coverage(math.Inf(1)) * u).Degrees())}
	}
	along := slide.Along(l.Slide)
	askew, u := l.Belief.Askew()
	at = degrees(float64((along.Bearing() + geom.Bearing(askew)).Normalized()), u)
	for _, x := range lessons {
		if along == slide.AlongY && slide.Along(x.Slide) == slide.AlongX && slide.Rides(x.Slide) == slide.Rides(l.Slide) {
			other, v := x.Belief.Askew()
			square = degrees(math.Remainder(askew-other, 2*math.Pi), math.Hypot(u, v))
		}
	}
	return at, square
}

// Start says where to begin a new radius; nil where the machine has not taught that.
func Start(s *session.State, u geom.Unit) Line {
	count, ok := s.Start()
	sl, has := s.Set.Machine.Slide("offset")
	if !ok || !has {
		return nil
	}
	turns, div := sl.TurnsOf(count.V)
	return StartLine{"start", "offset", *in(u, count), turns, Number(div), u}
}

// odd says what was odd about the trials that a step brought in.
func odd(st session.Step, u geom.Unit) (out []Line) {
	for _, o := range st.After.Odd[min(len(st.Before.Odd), len(st.After.Odd)):] {
		l := OddLine{Say: "odd", Trial: o.Trial, Slide: o.Slide, Because: o.Finding.Kind.String(), Off: in(u, o.Finding.Off)}
		if o.Finding.Kind == slide.OddAngle { // degrees, whatever the unit
			l.Off = in(geom.Millimetre, indicator.Value{V: geom.Bearing(o.Finding.Off.V).Degrees(), U: geom.Bearing(o.Finding.Off.U).Degrees()})
		}
		l.text = OddText(o, u)
		out = append(out, l)
	}
	return out
}

// OddText says in words what was odd about a trial.
func OddText(o session.Odd, u geom.Unit) string {
	return fmt.Sprintf("%s slide: %s", o.Slide, oddWords(o.Finding, u))
}

func oddWords(f slide.Finding, u geom.Unit) string {
	by := func(v indicator.Value) string { return Measured(u, v) }
	switch f.Kind {
	case slide.SlippedCollar:
		t := "the collar has slipped"
		if f.Shown.Known() {
			t += ": it shows " + by(f.Shown) + " too much"
		}
		if f.NewSetup {
			t += ", or the reach or the reference is not what it was"
		}
		return t + "; its origin is learnt anew, pitch and miss are kept"
	case slide.OddTravel:
		return "it moved " + by(f.Off) + " more than its collar says: was the play shut? Nothing is learnt from that wind"
	case slide.OddLock:
		return "locking moved it unlike other times, by " + by(f.Off) + "; not taken in"
	case slide.OddAngle:
		return fmt.Sprintf("it went %s to the side of where it was known to go; not taken in", angled(&Value{Number(geom.Bearing(f.Off.V).Degrees()), Number(geom.Bearing(f.Off.U).Degrees())}))
	case slide.ChangedPlay:
		return "the play is not what it was: it is learnt anew"
	case slide.Refused:
		return f.Why
	case slide.Nothing:
	}
	return f.Kind.String()
}

// angled prints an angle in degrees with its uncertainty, to the places that this allows.
func angled(v *Value) string {
	places := 2
	if float64(v.U95) >= 0.95 {
		places = 1
	}
	return fmt.Sprintf("%s° ±%s°", geom.FormatFixed(float64(v.Value), places), geom.FormatFixed(float64(v.U95), places))
}

var stoodAt = told[session.StoodAt]{status: asText, lines: func(st session.Step, e session.StoodAt, u geom.Unit) []Line {
	return []Line{AtLine{"at", st.After.Trial, e.Slide, Number(u.From(e.At)), u}}
}}.row()

// Text: see [Line].
func (l AtLine) Text() string {
	return fmt.Sprintf("%s slide: stands at %s %v", l.Slide, geom.FormatFixed(float64(l.At), 4), l.unit)
}

// Text: see [Line].
func (l StartLine) Text() string {
	return fmt.Sprintf("start with the %s slide's collar at %s (%d turns %.1f div), brought up the take-up way", l.Slide, Fit{Unit: l.unit}.measured(l.Collar), l.Turns, float64(l.Divisions))
}

// Text: see [Line].
func (l OddLine) Text() string { return l.text }

// Text: see [Line].
func (l TaughtLine) Text() string {
	var parts []string
	x := Fit{Unit: l.unit}
	if l.Gain != nil {
		parts = append(parts, fmt.Sprintf("moves %.4f ±%.4f of its collar", float64(l.Gain.Value), float64(l.Gain.U95)))
	}
	if l.Miss != nil {
		places := geom.Places(0, l.unit)
		parts = append(parts, fmt.Sprintf("misses the head axis by %s to %s %v", geom.FormatFixed(float64(l.Miss.Low), places), geom.FormatFixed(float64(l.Miss.High), places), l.unit))
	}
	if l.Origin != nil {
		parts = append(parts, "collar at the axis "+x.measured(*l.Origin))
	}
	if l.Backlash != nil {
		parts = append(parts, "play "+x.measured(*l.Backlash))
	}
	if l.Lock != nil {
		parts = append(parts, "locking moves it by "+x.measured(*l.Lock))
	}
	if l.Angle != nil {
		parts = append(parts, "goes towards "+angled(l.Angle))
	}
	if l.Square != nil {
		parts = append(parts, "out of square by "+angled(l.Square))
	}
	trials := fmt.Sprintf("%d trials", l.Trials)
	if l.Trials == 1 {
		trials = "1 trial"
	}
	return fmt.Sprintf("%s slide, by %s: %s", l.Slide, trials, strings.Join(parts, ", "))
}
