package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Park is a wind under the eye: the head stands at Bearing, or the table so that the indicator touches
// there, and the slide is wound until the needle shows Goal. Readings are millimetres.
type Park struct {
	Bearing geom.Bearing `json:"bearing"`
	// Now is what the needle should show before the wind.
	Now float64 `json:"now"`
	// Past is where to turn back, where the slide must be wound past its goal; null where not.
	Past *float64 `json:"past"`
	// Goal is where to stop, before the slide is locked.
	Goal float64 `json:"goal"`
	// Act is what the needle does for a millimetre of the slide: + where it rises as the slide's
	// coordinate grows.
	Act float64 `json:"act"`
	// Shift is how far locking is known to move the slide, millimetres of its coordinate, which Goal
	// allows for; 0 where nothing is known of it.
	Shift float64 `json:"shift,omitempty"`
}

// parkStep spaces the bearings that the head is parked at: marks that a person finds on a ring.
const parkStep = 15 * geom.Degree

// leastAct is the least that a slide must move the needle by, per millimetre, for it to be wound by
// the needle: below, the needle's own doubt outweighs a collar's.
const leastAct = 0.5

// park finds where to park the head for a wind of a slide, and what the needle will show: at the
// bearing where the slide acts most directly, of those where start, goal and turning point stay on
// the dial. Of equals it is the one where least is open of what the needle should show, for what is open of
// the other slides' places there goes into this one's (coarse starts: 2.65 trials, 2.83 without it); and
// then the one where the needle stays nearest to zero, where a dial's and a lever's scale errors are
// least. It returns the wind, and nil for the place where there is none.
func (s *State) park(b *indicator.Found, sl slide.Slide, by indicator.Value) (slide.Wind, *Park) {
	cross := s.cross()
	a, ok := cross.axis(sl.Name)
	travel, shift := by.V, s.shift(sl)
	w := sl.WindParked(travel - shift)
	if !ok || sl.ByCollar || b.Dof <= 0 {
		return s.byCollar(sl, travel), nil
	}
	if by.U > math.Abs(travel) { // which way it is, the needle will tell: come from behind in any case
		w = sl.WindFromBehind(travel - shift)
	}
	stopped, turned := b.Moved(a, w.Travel, 0), *b
	turns := len(w.Moves) > 1
	if turns {
		turned = b.Moved(a, w.Travel-float64(sl.TakeUp)*(sl.PastParked()-sl.Backlash), 0)
	}
	const step = 1e-3
	nudged := b.Moved(a, step, 0)
	var best *Park
	var open, far float64 // the doubt and the farthest of the needle there
	for at := range s.Set.Job.Sweep.Marks(parkStep) {
		now, goal, past := b.Expect(at), stopped.Expect(at).V, turned.Expect(at).V
		act := (nudged.Expect(at).V - now.V) / step
		if math.Abs(act) < leastAct || !s.reached(sl, at) || !s.onDial(now.V, now.U) || !s.onDial(goal, now.U) || !s.onDial(past, now.U) {
			continue
		}
		most := max(math.Abs(now.V), math.Abs(goal), math.Abs(past))
		if best != nil && !preferred(math.Abs(act)/math.Abs(best.Act), open/now.U, most < far) {
			continue
		}
		open, far = now.U, most
		if best = (&Park{Bearing: at.Normalized(), Now: now.V, Goal: goal, Act: act, Shift: shift}); turns {
			best.Past = &past
		}
	}
	if best == nil {
		return s.byCollar(sl, travel), nil
	}
	return w, best
}

// preferred compares a place to park at with the best so far: by how directly the slide acts, then by how
// little is open of what the needle should show (both as ratios, better above 1), then by how near to
// zero it stays.
func preferred(act, sure float64, nearer bool) bool {
	const alike = 1.02 // or else rounding would choose
	switch {
	case act > alike || act < 1/alike:
		return act > 1
	case sure > alike || sure < 1/alike:
		return sure > 1
	}
	return nearer
}

// onDial reports whether a needle stays on the dial, give or take u.
func (s *State) onDial(v, u float64) bool {
	d := s.Set.Job.Dial
	return d.Check(v-u) == nil && d.Check(v+u) == nil
}

// believed is what is known of the circle now: the closed sweep, and the winds since.
func (s *State) believed() (indicator.Found, error) {
	if s.Believed != nil {
		return *s.Believed, nil
	}
	return s.Fit()
}

// Doubt of a wind before the machine has taught us better: a fiftieth of the travel for pitch and
// lost motion, and the two tenths of a division that a hand leaves by the collar (common practice,
// no source). Under the needle, which tells where the slide has come to, it may have gone anywhere
// within parkDoubt of where it was sent.
const (
	windDoubt = 1.0 / 50
	handDoubt = 2    // in Slide.Finest
	parkDoubt = 0.05 // mm
)

// doubtOf is the standard doubt of where a wind by collar has ended, millimetres.
func (s *State) doubtOf(w slide.Wind) float64 {
	hand := 0.0
	if sl, ok := s.Set.Machine.Slide(w.Slide); ok {
		hand = handDoubt * sl.Finest()
	}
	if b, ok := s.Lesson(w.Slide); ok && len(b.Travels)+len(b.Radii) > 0 {
		if t := b.Learnt().Travel(w.Travel); t.Known() {
			return t.U / fit.Coverage(math.Inf(1))
		}
	}
	return math.Hypot(w.Travel*windDoubt, hand)
}

// believe takes a wind into what is known of the circle.
func (s *State) believe(d *Done) {
	if s.touches() {
		return // where the spindle stands says it all
	}
	f, err := s.believed()
	if err != nil {
		return
	}
	cross := s.cross()
	if f, ok := s.after(f, d, &cross); ok {
		s.Believed = &f
	}
}

// after returns what is known of the circle after a wind, with the cross slides where c has them. ok is
// false for a slide that this setup does not wind.
func (s *State) after(f indicator.Found, d *Done, c *cross) (indicator.Found, bool) {
	if d.Tap != nil {
		return afterTap(f, d, s.Bezel-d.Bezel), true
	}
	a, ok := c.axis(d.Wind.Slide)
	if !ok {
		return f, false
	}
	doubt := s.doubtOf(d.Wind)
	aside, askew := c.aside(d.Wind.Slide)
	askew *= math.Abs(d.Wind.Travel)
	if d.Park == nil {
		f = f.Moved(a, d.Wind.Travel, doubt)
	} else {
		f = f.Moved(a, d.Wind.Travel+d.Park.Shift, math.Hypot(doubt, parkDoubt))
	}
	if askew > 0 {
		f = f.Moved(aside, 0, askew)
	}
	if d.Park != nil {
		stop, extra := d.Park.Goal+d.Park.Shift*d.Park.Act, math.Abs(d.Park.Act)*handDoubt*s.finest(d.Wind.Slide)
		if d.Reading != nil {
			stop, extra = *d.Reading, 0
		}
		f = f.Seen(d.Park.Bearing, stop+(s.Bezel-d.Bezel), extra)
	}
	return f, true
}

func (s *State) finest(name string) float64 {
	sl, _ := s.Set.Machine.Slide(name)
	if sl.Divisions == 0 {
		return 0
	}
	return sl.Finest()
}

// mostShift bounds how far beside its goal a slide can stand once it is locked: more is a slide that
// has not been wound to its goal, or a reading that was mistyped (common practice, no source).
const mostShift = 0.06

// shift is how far locking moves a slide, as far as its machine has shown.
func (s *State) shift(sl slide.Slide) float64 {
	if b, ok := s.Lesson(sl.Name); ok && sl.Lock && len(b.Locks) > 0 {
		if v := b.LockShift().Mean; v.Known() {
			return v.V
		}
	}
	return 0
}
