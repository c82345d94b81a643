package slide_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// same fails unless two values agree to a share of their own doubt.
func same(t *testing.T, what string, got, want indicator.Value, share float64) {
	t.Helper()
	if !(math.Abs(got.V-want.V) <= share*want.U && math.Abs(got.U-want.U) <= share*want.U) {
		t.Errorf("%s %v, want %v", what, got, want)
	}
}

// A ring that slipped on its handwheel by more than ten standard deviations is noticed, told with
// its size, and moves nothing that was learnt but the origin; the next radius is right again.
func TestSlippedCollar(t *testing.T) {
	var noticed, sized, next, near, unmoved tally
	rng := rand.New(rand.NewPCG(73, 1))
	for range 3000 {
		s := usual.sit(rng)
		for range 2 + rng.IntN(4) {
			s.radius()
		}
		s.alarms = 0
		before := s.b.Posterior()
		slip := (0.05 + 0.95*rng.Float64()) * float64(1-2*rng.IntN(2))
		s.ring += slip
		goal := s.h.goal(rng)
		c, _ := before.StartFor(goal)
		sd := before.Expect(slide.RadiusSeen{Count: c.V, U: 0.004, Common: s.h.setupU, Setup: s.setup, Origin: s.b.Origin}).U / 1.96
		f := s.see(c.V)
		if math.Abs(slip) < 10*sd {
			continue
		}
		noticed.add(f.Kind == slide.SlippedCollar)
		if f.Kind != slide.SlippedCollar {
			continue
		}
		sized.add(holds(f.Shown, slip))
		after := s.b.Posterior()
		unmoved.add(math.Abs(after.Gain().V-before.Gain().V) < 1e-9 && math.Abs(after.MissSquared().V-before.MissSquared().V) < 1e-9 &&
			math.Abs(after.Gain().U-before.Gain().U) < 1e-9)
		goal = s.h.goal(rng)
		c, ok := after.StartFor(goal)
		if !ok {
			t.Fatalf("no start after the radius that began a new origin: %+v", s.b)
		}
		s.set(c.V)
		next.add(math.Abs(s.swing()-goal) <= c.U*after.Gain().V)
		f = s.tell(c.V)
		near.add(f.Kind == slide.Nothing)
	}
	if noticed.of < 2000 {
		t.Fatalf("only %d slips beyond ten standard deviations", noticed.of)
	}
	noticed.within(t, "slips noticed", 95, 100)
	sized.within(t, "size of the slip held", 93.5, 96.5)
	unmoved.within(t, "gain and miss as before", 100, 100)
	next.within(t, "next radius inside its doubt", 93, 97)
	near.within(t, "no alarm after the alarm", 99.5, 100)
}

// A ring that was set to zero, so far off that by its count the slide stands beyond the axis: the
// finding says how far, and learning goes on.
func TestCollarSetToZero(t *testing.T) {
	rng := rand.New(rand.NewPCG(86, 1))
	for range 100 {
		s := usual.sit(rng)
		for range 3 {
			s.radius()
		}
		by := -150 - 100*rng.Float64()
		s.ring += by
		f := s.see(s.rough(50))
		if f.Kind != slide.SlippedCollar || f.Off.Known() || !(math.Abs(f.Shown.V-by) < 2*f.Shown.U) {
			t.Fatalf("ring moved by %v: %+v, want a slipped collar of that size", by, f)
		}
		if f := s.radius(); f.Kind != slide.Nothing || !s.b.Posterior().Origin().Known() {
			t.Fatalf("the next radius: %+v, origin %+v", f, s.b.Posterior().Origin())
		}
	}
}

// What is odd and has no origin to open is not taken in, and a play that changed begins anew.
func TestOddObservations(t *testing.T) {
	b := slide.Prior(benchSlide)
	b, _ = b.SeenTravel(slide.TravelSeen{Turned: 20, Moved: 20.01, U: 0.002})
	gain := b.Posterior().Gain()
	after, f := b.SeenTravel(slide.TravelSeen{Turned: 20, Moved: 19.85, U: 0.002})
	if f.Kind != slide.OddTravel || math.Abs(f.Off.V+0.16) > f.Off.U {
		t.Errorf("play of 0.15 in a travel: %v %+v, want an odd travel off by about -0.16", f.Kind, f)
	}
	same(t, "gain after an odd travel", after.Posterior().Gain(), gain, 0)

	b, f = b.SeenReversal(slide.ReversalSeen{Turned: 0.150, U: 0.002})
	if f.Kind != slide.Nothing {
		t.Errorf("a first reversal of 0.15: %v", f.Kind)
	}
	b, f = b.SeenReversal(slide.ReversalSeen{Turned: 0.050, U: 0.002})
	if f.Kind != slide.ChangedPlay || len(b.Reversals) != 1 || math.Abs(b.Backlash().V-0.050) > 1e-12 {
		t.Errorf("a nut adjusted to 0.05: %v, backlash %+v from %d reversals, want a changed play of 0.05 from one", f.Kind, b.Backlash(),
			len(b.Reversals))
	}

	for range 4 {
		b, _ = b.SeenLock(slide.LockSeen{Moved: 0.004, U: 0.0005})
	}
	shift := b.LockShift()
	if b, f = b.SeenLock(slide.LockSeen{Moved: 0.080, U: 0.0005}); f.Kind != slide.OddLock || b.LockShift() != shift {
		t.Errorf("a lock that moved 0.08 after four of 0.004: %v, shift %+v, want it left out of %+v", f.Kind, b.LockShift(), shift)
	}

	before := b
	for _, bad := range []slide.RadiusSeen{{R: math.NaN(), U: 0.001}, {R: 42, U: 0}, {R: 42, U: 0.001, Count: math.Inf(1)},
		{R: 0.5, U: 0.001}, {R: 42, U: 0.001, Common: -1}} {
		if b, f = b.SeenRadius(bad); f.Kind != slide.Refused || f.Why == "" || len(b.Radii) != 0 {
			t.Errorf("%+v: %v %q, want it refused with a reason", bad, f.Kind, f.Why)
		}
	}
	if b.Posterior().Gain() != before.Posterior().Gain() {
		t.Error("a refused radius has moved the gain")
	}
}

// A travel is odd where it lies farther from what was turned than one clean one in 2000 does, 3.481 standard deviations of the normal
// law (two-sided, printed tables), and is learnt from within. By hand, of 40 mm in 20 whole turns of 2 mm, where the screw's error has
// come round: a gain within ±0.003 is 0.003/√3 of it, the hand sets 0.002 mm, a tenth of a division of 100, within ±, at both ends, and
// what was measured is known to 0.004.
func TestOddTravelsBand(t *testing.T) {
	s := benchSlide
	s.TravelPerTurn, s.Divisions = 2, 100
	sd := math.Sqrt(0.003*0.003/3*40*40 + 2*0.002*0.002/3 + 0.004*0.004)
	for _, c := range []struct {
		off float64 // standard deviations
		odd bool
	}{{3.45, false}, {-3.45, false}, {3.51, true}, {-3.51, true}} {
		b, f := slide.Prior(s).SeenTravel(slide.TravelSeen{Turned: 40, Moved: 40 + c.off*sd, U: 0.004})
		if odd := f.Kind == slide.OddTravel; odd != c.odd || (len(b.Travels) == 0) != c.odd {
			t.Errorf("40 mm turned, %.4f mm off: %v, %d learnt from; want it odd: %v", c.off*sd, f.Kind, len(b.Travels), c.odd)
		}
		if c.odd && (math.Abs(f.Off.V-c.off*sd) > 1e-9 || math.Abs(f.Off.U-1.95996*sd) > 1e-5*sd) {
			t.Errorf("told off by %v ± %v, want %v ± %v", f.Off.V, f.Off.U, c.off*sd, 1.95996*sd)
		}
	}
}

// A handwheel that was taken off and put back: where the collar stands is unknown, what the slide
// is stays.
func TestReopen(t *testing.T) {
	s := usual.sit(rand.New(rand.NewPCG(74, 1)))
	if _, ok := s.b.Posterior().StartFor(40); ok || s.b.Posterior().Origin().Known() {
		t.Error("a start before any radius was seen")
	}
	for range 5 {
		s.radius()
	}
	s.reversal()
	open := s.b.Reopen()
	if _, ok := open.Posterior().StartFor(40); ok || open.Posterior().Origin().Known() {
		t.Error("a start after the origin was lost")
	}
	same(t, "gain", open.Posterior().Gain(), s.b.Posterior().Gain(), 0)
	same(t, "backlash", open.Backlash(), s.b.Backlash(), 0)
	first := open.Posterior().Gain().U
	s.b = open
	s.ring += 117.3
	for range 4 {
		s.radius()
	}
	if _, ok := s.b.Posterior().StartFor(40); !ok || !(s.b.Posterior().Gain().U < first) {
		t.Errorf("after four more radii: start known %v, gain %+v, was ± %v", ok, s.b.Posterior().Gain(), first)
	}
}
