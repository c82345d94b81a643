package slide_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/indicator/slide"
)

// head is an offset head as it stands on a machine, drawn from above: a slide's line in the plane
// of the head, the head axis somewhere beside it, a screw with play and an error that comes back
// every turn, and a collar whose ring may be moved. It knows distances between points and flanks
// that push, none of the formulas that are tested.
type head struct {
	axis, rail, to [2]float64 // to: unit vector along the rail, from its point rail
	gain           float64
	travelPerTurn  float64
	wave, phase    float64 // amplitude (mm) and phase (rad) of the screw's error
	play           float64
	low            float64 // where the flank stands that pushes the slide up
	at             float64 // where the slide stands on its rail
	ring           float64 // what the ring shows less what the screw has turned, mm
	screw          float64 // how far the screw has turned, mm as a collar counts
	hand           float64 // bound of an error of setting a collar
	rng            *rand.Rand
}

// history is what tests vary about machines and what is seen of them.
type history struct {
	missLimit, gainLimit, waveLimit float64
	setupU                          float64
	from, to                        float64 // radii
	whole                           bool    // radii a whole number of turns apart
	anew                            float64 // how often the indicator is set up anew for a radius
}

var usual = history{missLimit: 0.5, gainLimit: 0.003, waveLimit: 0.005, setupU: 0.003, from: 20, to: 80, anew: 0.5}

// goal draws a radius.
func (h history) goal(rng *rand.Rand) float64 {
	g := h.from + (h.to-h.from)*rng.Float64()
	if h.whole {
		g = 2 * math.Round(g/2)
	}
	return g
}

func (h history) machine(rng *rand.Rand) *head {
	even := func(limit float64) float64 { return limit * (2*rng.Float64() - 1) }
	s, c := math.Sincos(2 * math.Pi * rng.Float64())
	axis := [2]float64{even(100), even(100)}
	miss, back := even(h.missLimit), even(200)
	return &head{
		axis: axis,
		to:   [2]float64{c, s},
		// Across the rail by the miss, and back along it to where the screw's count begins.
		rail:          [2]float64{axis[0] - miss*s - back*c, axis[1] + miss*c - back*s},
		gain:          1 + even(h.gainLimit),
		travelPerTurn: 2,
		wave:          h.waveLimit * rng.Float64(),
		phase:         2 * math.Pi * rng.Float64(),
		play:          0.02 + 0.28*rng.Float64(),
		hand:          0.002, // a tenth of a division of 0.02
		rng:           rng,
	}
}

// turn brings the screw to a place; the slide goes where the flanks push it.
func (h *head) turn(screw float64) {
	h.screw = screw
	h.low = h.gain*screw + h.wave*math.Sin(2*math.Pi*screw/h.travelPerTurn+h.phase)
	h.at = min(max(h.at, h.low), h.low+h.play)
}

// set winds the collar to what it is to show, from below, as well as a hand can.
func (h *head) set(shown float64) {
	to := shown - h.ring + h.hand*(2*h.rng.Float64()-1)
	h.turn(to - 3)
	h.turn(to)
}

// swing is the true swing radius: how far the spindle stands from the axis.
func (h *head) swing() float64 {
	return math.Hypot(h.rail[0]+h.at*h.to[0]-h.axis[0], h.rail[1]+h.at*h.to[1]-h.axis[1])
}

// square is the count at which the spindle would stand square to the axis on a screw without a
// wave, and miss2 the square of how far it is then from the axis.
func (h *head) square() float64 {
	d := (h.axis[0]-h.rail[0])*h.to[0] + (h.axis[1]-h.rail[1])*h.to[1]
	return d/h.gain + h.ring
}

func (h *head) miss2() float64 {
	d := (h.axis[0]-h.rail[0])*h.to[1] - (h.axis[1]-h.rail[1])*h.to[0]
	return d * d
}

// rough is about the count for a radius, as a scale tells it.
func (h *head) rough(radius float64) float64 {
	return h.square() + radius + 2*h.rng.Float64() - 1
}

var benchSlide = slide.Slide{Name: "offset", TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase,
	Figures: slide.Clockwise}

// sitting is a machine at work and what is learnt of it.
type sitting struct {
	*head
	h      history
	b      slide.Lesson
	setup  int
	offset float64 // what this set-up of the indicator reads too much
	alarms int
}

func (h history) sit(rng *rand.Rand) *sitting {
	s := &sitting{head: h.machine(rng), h: h, b: slide.Prior(benchSlide)}
	s.newSetup()
	return s
}

func (s *sitting) newSetup() {
	s.setup++
	s.offset = s.h.setupU * s.rng.NormFloat64()
}

// see sets a count and tells the lesson what a sweep sees there.
func (s *sitting) see(count float64) slide.Finding {
	s.set(count)
	return s.tell(count)
}

func (s *sitting) tell(count float64) slide.Finding {
	u := 0.001 + 0.003*s.rng.Float64()
	var f slide.Finding
	s.b, f = s.b.SeenRadius(slide.RadiusSeen{Count: count, R: s.swing() + s.offset + u*s.rng.NormFloat64(), U: u, Common: s.h.setupU,
		Setup: s.setup})
	if f.Kind != slide.Nothing {
		s.alarms++
	}
	return f
}

// radius sets a radius as a person would: from what is learnt where there is something, else by
// the scale.
func (s *sitting) radius() slide.Finding {
	if s.rng.Float64() < s.h.anew {
		s.newSetup()
	}
	goal := s.h.goal(s.rng)
	if c, ok := s.b.Posterior().StartFor(goal); ok {
		return s.see(c.V)
	}
	return s.see(s.rough(goal))
}

// reversal turns back until the slide moves, in steps of a tenth of a micrometre.
func (s *sitting) reversal() slide.Finding {
	from, stood := s.screw, s.at
	// The wave bends the flank's way by less than a hundredth, so the needle moves between 0.95
	// and 1.05 times the play: bisect there.
	lo, hi := 0.9*s.play, 1.1*s.play+0.02
	for range 40 {
		mid := (lo + hi) / 2
		s.turn(from)
		s.at = stood
		if s.turn(from - mid); s.at < stood {
			hi = mid
		} else {
			lo = mid
		}
	}
	u := 0.002
	read := func() float64 { return s.hand * (2*s.rng.Float64() - 1) }
	var f slide.Finding
	s.b, f = s.b.SeenReversal(slide.ReversalSeen{Turned: hi + read() - read() + u*s.rng.NormFloat64(), U: u})
	if f.Kind != slide.Nothing {
		s.alarms++
	}
	return f
}

// tally counts how often something holds.
type tally struct{ held, of int }

func (c *tally) add(ok bool) {
	c.of++
	if ok {
		c.held++
	}
}

func (c tally) share() float64 { return 100 * float64(c.held) / float64(c.of) }

// within fails unless the share lies in the given band, in percent.
func (c tally) within(t *testing.T, what string, least, most float64) {
	t.Helper()
	t.Logf("%s: %.2f %% of %d", what, c.share(), c.of)
	if s := c.share(); !(s >= least && s <= most) {
		t.Errorf("%s: %.2f %% of %d, want %v to %v %%", what, s, c.of, least, most)
	}
}
