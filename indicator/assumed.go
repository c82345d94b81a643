package indicator

import (
	"math"
	"slices"

	"example.org/trammel/geom/fit"
)

// Figure is one that an answer goes by and that nothing measured for that answer shows: an error of it is in the answer whole.
type Figure struct {
	// Name is what records call it, and Key what states the limit of its error: in files, and as a flag.
	Name, Key string
	// Words is what it is called, and Cure what makes it known.
	Words, Cure string
	// Arc says that the first arc measured shows its error.
	Arc bool
}

// The names of figures whose limits files and flags state.
const (
	OfReach     = "reach"
	OfReference = "reference_radius"
	OfForm      = "reference_form"
	OfDial      = "dial"
	OfHeld      = "held_radius"
	OfZero      = "zero_radius"
	OfCutter    = "cutter"
	OfAngle     = "angle"
	OfSlides    = "slides"
	OfSquare    = "square"
)

// Stated are the names of the figures whose limit of error somebody has stated, 0 included. Settings of old name none: there a
// limit above 0 is what shows that one was stated.
type Stated []string

// Has reports whether the limit of a figure's error was stated.
func (s Stated) Has(name string) bool { return slices.Contains(s, name) }

// Lean is a figure that an answer takes as exact because nobody has stated a limit, and what a millimetre of its error makes of
// the radius and of the centre, millimetres at most; 0 of what does not lean on it.
type Lean struct {
	Figure
	Radius, Centre float64
}

// Assumed are the figures that an answer takes as exact, in the order in which they are told.
type Assumed []Lean

// Names are what records call them; never nil.
func (a Assumed) Names() []string {
	out := make([]string, len(a))
	for i := range a {
		out[i] = a[i].Name
	}
	return out
}

// Radius are those that the radius leans on, and the most that a millimetre of them all makes of it.
func (a Assumed) Radius() (on Assumed, most float64) {
	return a.on(func(l *Lean) float64 { return l.Radius })
}

// Centre is the same of the centre.
func (a Assumed) Centre() (on Assumed, most float64) {
	return a.on(func(l *Lean) float64 { return l.Centre })
}

func (a Assumed) on(acts func(*Lean) float64) (on Assumed, most float64) {
	for i := range a {
		if by := acts(&a[i]); by > 0 {
			on, most = append(on, a[i]), max(most, by)
		}
	}
	return on, most
}

// leaning is a figure that sweeps lean on: where the limit of its error stands, whether a set-up goes by it at all, and what it
// acts on.
type leaning struct {
	Figure
	limit func(s *Setup, d *Dial) *float64
	has   func(s *Setup) bool
	acts  func(f *Estimate) (radius, centre float64)
}

// leanings are all of them, in the order in which they are told: what is found out at the bench stands first. An error
// of reach or reference is a constant in the radius and nothing in the centre, unless a held radius ties both together.
var leanings = []leaning{
	{Figure{OfReach, "reach_error", "reach", "spin the reach", true},
		func(s *Setup, _ *Dial) *float64 { return &s.ReachLimit }, (*Setup).byReference, (*Estimate).actsByReference},
	{Figure{OfReference, "reference_radius_error", "reference radius", "measure the reference", true},
		func(s *Setup, _ *Dial) *float64 { return &s.ReferenceLimit }, (*Setup).byReference, (*Estimate).actsByReference},
	{Figure{OfForm, "reference_form_error", "reference's form", "find out how round it is", false},
		func(s *Setup, _ *Dial) *float64 { return &s.FormLimit }, (*Setup).byDial, (*Estimate).actsByForm},
	{Figure{OfDial, "dial.error", "dial", "have the dial checked", true},
		func(_ *Setup, d *Dial) *float64 { return &d.ErrorLimit }, (*Setup).byDial, (*Estimate).actsByDial},
	{Figure{OfHeld, "held_radius_error", "radius that is held", "measure the radius that is held", true},
		func(s *Setup, _ *Dial) *float64 { return &s.HeldLimit }, func(s *Setup) bool { return s.model().Hold },
		func(f *Estimate) (radius, centre float64) {
			if !f.Circle.Hold {
				return 0, 0
			}
			return 1, f.lean.Norm()
		}},
	{Figure{OfZero, "zero_radius_error", "zero radius", "measure the zero radius", false},
		func(s *Setup, _ *Dial) *float64 { return &s.ZeroLimit }, func(s *Setup) bool { return s.model().Sought == fit.SurfaceRadius },
		func(f *Estimate) (radius, centre float64) {
			switch {
			case f.Circle.Sought != fit.SurfaceRadius:
				return 0, 0
			case f.Circle.Hold:
				return 0, f.lean.Norm()
			}
			return 1, 0
		}},
}

// byReference reports whether the swing radius comes from reference and reach.
func (s *Setup) byReference() bool {
	return !s.Kind.Pair() && s.model().Sought == fit.ZeroDistance && s.ReachKnown
}

// byDial reports whether a dial shows what is read.
func (s *Setup) byDial() bool { return !s.Kind.Pair() }

// Limited are the figures that sweeps of such a set-up go by, in the order in which they are told: the limits of their errors can
// be stated.
func (s *Setup) Limited() (out []Figure) {
	for i := range leanings {
		if leanings[i].has(s) {
			out = append(out, leanings[i].Figure)
		}
	}
	return out
}

// LimitOf is where the limit of a figure's error stands, by the figure's name, millimetres; nil where no figure is called so.
func LimitOf(name string, s *Setup, d *Dial) *float64 {
	i := slices.IndexFunc(leanings, func(l leaning) bool { return l.Name == name })
	if i < 0 {
		return nil
	}
	return leanings[i].limit(s, d)
}

// FigureOf is the figure that is called so, or whose limit is stated by that key.
func FigureOf(name string) (Figure, bool) {
	i := slices.IndexFunc(leanings, func(l leaning) bool { return l.Name == name || l.Key == name })
	if i < 0 {
		return Figure{}, false
	}
	return leanings[i].Figure, true
}

func (f *Estimate) actsByReference() (radius, centre float64) {
	switch {
	case f.Circle.Sought != fit.ZeroDistance || !f.Setup.ReachKnown:
		return 0, 0
	case f.Circle.Hold:
		return 0, f.lean.Norm()
	}
	return 1, 0
}

// leastGain is the least of a lobe that counts: of 0.1 mm it makes 1 µm, and even stations leave a rounding of 0.
const leastGain = 0.01

// actsByForm: lobes of the kind and in the phase that the stations taken see worst.
func (f *Estimate) actsByForm() (radius, centre float64) {
	if f.Setup.Kind.Pair() {
		return 0, 0 // where points may be touched anywhere a form limit is refused
	}
	for k := fewestLobes; k <= mostLobes; k++ {
		r, c := f.FormGain(k)
		radius, centre = max(radius, r), max(centre, c)
	}
	if radius < leastGain {
		radius = 0
	}
	if centre < leastGain {
		centre = 0
	}
	if !f.claims() || f.Circle.Hold {
		radius = 0
	}
	return radius, centre
}

// actsByDial: as the budget has it, an error of the dial goes whole into what is read at a station.
func (f *Estimate) actsByDial() (radius, centre float64) {
	g := f.Dial.scale()
	switch {
	case f.Setup.Kind.Pair():
		return 0, 0 // coordinates, which no dial shows
	case f.Circle.Hold:
		return 0, g * (1 + f.lean.Norm())
	case !f.claims():
		return 0, g
	}
	return g, g
}

// Assumed are the figures that the sweep's circle leans on and of which nobody has said how right they are.
func (f *Estimate) Assumed(s Stated) (out Assumed) {
	for i := range leanings {
		l := &leanings[i]
		if *l.limit(&f.Setup, &f.Dial) > 0 || s.Has(l.Name) {
			continue
		}
		if r, c := l.acts(f); r > 0 || c > 0 {
			out = append(out, Lean{l.Figure, r, c})
		}
	}
	return out
}

// DialAlone is what two opposite readings lean on: they say the centre's part along their line, and of the reference nothing.
func DialAlone(d Dial, s Stated) Assumed {
	f := Estimate{Dial: d}
	f.Circle.Sought = fit.MeanReading
	return f.Assumed(s)
}

// Room is how far a verdict's answer is from its tolerance, its uncertainty included: tolerance − |off| − U, millimetres. So much
// may what was assumed put it out before it falls. NaN where nothing is assumed or asked.
type Room struct{ Radius, Centre float64 }

// NoRoom is that of an answer that leans on nothing.
var NoRoom = Room{math.NaN(), math.NaN()}

// LeastRoom is the least room for "inside": what nobody has measured is no better known than that (common practice, no source).
const LeastRoom = 0.005

// HoldBack makes of "inside" an "undecided" where less room than that is left for what was assumed.
func HoldBack(v Verdict, room float64) Verdict {
	if v == Inside && room < LeastRoom {
		return Undecided
	}
	return v
}

// HeldBack reports whether a verdict is undecided for want of room alone.
func HeldBack(v Verdict, room float64) bool { return v == Undecided && room >= 0 && room < LeastRoom }

// HoldBack holds both verdicts back where they have to be.
func (r Room) HoldBack(v Verdicts) Verdicts {
	return Verdicts{Radius: HoldBack(v.Radius, r.Radius), Centre: HoldBack(v.Centre, r.Centre)}
}

// OffAtMost is |e| with the uncertainty in the direction in which the centre is known least: along e alone it would be unsafe on
// part of a circle.
func (f *Estimate) OffAtMost() Value { return Value{f.Circle.Centre.Norm(), f.expanded(f.worst())} }
