package advice

import (
	"iter"
	"math"

	"example.org/trammel/geom"
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

// LeastAct is the least that a slide must move the needle by, per millimetre, for it to be wound by
// the needle: below, the needle's own doubt outweighs a collar's.
const LeastAct = 0.5

// Nudge is the small travel that shows what a slide does to the needle, millimetres.
const Nudge = 1e-3

// Parking is a wind that is to go under the needle: what is known of the circle, the slide with what it does to it, how far
// it is to go and how far locking is known to move it, and where the head or the table may be parked for it.
type Parking struct {
	Dial   indicator.Dial
	Circle *indicator.Estimate
	Slide  slide.Slide
	Axis   indicator.Axis
	By     indicator.Value
	Shift  float64
	Marks  iter.Seq[geom.Bearing]
	// Form is what the reference's form adds to a reading at a bearing; nil for nothing.
	Form func(geom.Bearing) float64
	// Reached reports whether the handwheel can be reached where the reference is met at a bearing.
	Reached func(geom.Bearing) bool
}

// Place finds where to park the head for a wind of a slide, and what the needle will show: at the
// bearing where the slide acts most directly, of those where start, goal and turning point stay on
// the dial. Of equals it is the one where least is open of what the needle should show, for what is open of
// the other slides' places there goes into this one's (coarse starts: 2.65 trials, 2.83 without it); and
// then the one where the needle stays nearest to zero, where a dial's and a lever's scale errors are
// least. It returns the wind, and nil for the place where there is none.
func (p *Parking) Place() (slide.Wind, *Park) {
	b, sl, travel := p.Circle, p.Slide, p.By.V
	w := sl.WindParked(travel - p.Shift)
	if p.By.U > math.Abs(travel) { // which way it is, the needle will tell: come from behind in any case
		w = sl.WindFromBehind(travel - p.Shift)
	}
	stopped, turned := b.Moved(p.Axis, w.Travel, 0), *b
	turns := len(w.Moves) > 1
	if turns {
		turned = b.Moved(p.Axis, w.Travel-float64(sl.TakeUp)*(sl.PastParked()-sl.Backlash), 0)
	}
	nudged := b.Moved(p.Axis, Nudge, 0)
	var best *Park
	var open, far float64 // the doubt and the farthest of the needle there
	for at := range p.Marks {
		now, goal, past := b.Expect(at), stopped.Expect(at).V, turned.Expect(at).V
		act := (nudged.Expect(at).V - now.V) / Nudge
		if p.Form != nil {
			form := p.Form(at)
			now.V, goal, past = now.V+form, goal+form, past+form
		}
		shown := OnDial(p.Dial, now.V, now.U) && OnDial(p.Dial, goal, now.U) && OnDial(p.Dial, past, now.U)
		if math.Abs(act) < LeastAct || !shown || !p.Reached(at) {
			continue
		}
		most := max(math.Abs(now.V), math.Abs(goal), math.Abs(past))
		if best != nil && !preferred(math.Abs(act)/math.Abs(best.Act), open/now.U, most < far) {
			continue
		}
		open, far = now.U, most
		if best = (&Park{Bearing: at.Normalized(), Now: now.V, Goal: goal, Act: act, Shift: p.Shift}); turns {
			best.Past = &past
		}
	}
	return w, best
}

// OnDial reports whether a needle stays on the dial, give or take u.
func OnDial(d indicator.Dial, v, u float64) bool { return d.Check(v-u) == nil && d.Check(v+u) == nil }

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

// StoodStill reports whether a parked reading lies where the needle stood, or so near that hardly a fifth of the way
// can have been wound by the slide that moves it.
func (p *Park) StoodStill(reading float64) bool {
	return math.Abs(reading-p.Now) < math.Abs(p.Goal-p.Now)/5
}

// WentBack reports whether a parked reading lies on the other side of where the needle stood than its
// goal, and so far that the wind must have gone the other way.
func (p *Park) WentBack(reading float64) bool {
	to, went := p.Goal-p.Now, reading-p.Now
	if p.Past != nil && (*p.Past-p.Now)*to < 0 {
		return false // it is wound past on that side
	}
	return to*went < 0 && math.Abs(went) > math.Abs(to)/2
}
