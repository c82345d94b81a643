package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// A held level is as unsure as everything that stands between it and what is held: each of the limits alone, taken as rectangular (JCGM
// 100:2008 4.3.7, from memory), widens the centre of a short sweep by what a numerical change of the held radius moves it.
func TestWhatAHeldRadiusLeansOn(t *testing.T) {
	at := arc(5, 50)
	readings := make([]float64, len(at))
	sweeps := map[string]indicator.Setup{
		"a swing radius": {Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true, HeldRadius: 42},
		"a surface":      {ZeroRadius: 30, HeldRadius: 30},
	}
	limits := map[string]struct {
		set  func(s *indicator.Setup, d *indicator.Dial)
		only string // what is held where it counts, "" anywhere
	}{
		"the held radius":      {func(s *indicator.Setup, _ *indicator.Dial) { s.HeldLimit = 0.03 }, ""},
		"the dial":             {func(_ *indicator.Setup, d *indicator.Dial) { d.ErrorLimit = 0.03 }, ""},
		"the reference":        {func(s *indicator.Setup, _ *indicator.Dial) { s.ReferenceLimit = 0.03 }, "a swing radius"},
		"the reach":            {func(s *indicator.Setup, _ *indicator.Dial) { s.ReachLimit = 0.03 }, "a swing radius"},
		"the dial's zero":      {func(s *indicator.Setup, _ *indicator.Dial) { s.ZeroLimit = 0.03 }, "a surface"},
		"nothing that is held": {func(*indicator.Setup, *indicator.Dial) {}, ""},
	}
	for what, s := range sweeps {
		centre := func(held float64) geom.Point {
			moved := s
			moved.HeldRadius = held
			f := mustFit(t, indicator.Dial{Repeatability: 1e-9}, moved, at, readings)
			return f.Circle.Centre
		}
		lean := centre(s.HeldRadius + 0.001).Sub(centre(s.HeldRadius - 0.001)).Times(1 / 0.002)
		for name, c := range limits {
			if c.only != "" && c.only != what {
				continue
			}
			d, set := indicator.Dial{Repeatability: 1e-9}, s
			c.set(&set, &d)
			f := mustFit(t, d, set, at, readings)
			want := fit.Coverage(math.Inf(1)) * 0.03 / math.Sqrt(3) * math.Abs(lean.X)
			if name == "nothing that is held" {
				want = 0
			}
			near(t, what+", "+name+": doubt of x", f.CentreX().U, want, 1e-4*0.03)
		}
	}
}

// A sum is as unsure as the less sure of its parts: where one's doubt is not known, the sum's is not.
func TestASumOfUnknownDoubt(t *testing.T) {
	known, open := indicator.Measure{V: 1}, indicator.Measure{V: 2, Open: true}
	for _, sum := range []indicator.Measure{known.Plus(open), open.Plus(known), open.Times(2).Plus(known)} {
		if v := sum.Value(); !sum.Open || v.Sure() {
			t.Errorf("%+v of one whose doubt is not known: want it not known", v)
		}
	}
	if v := known.Plus(known).Value(); !v.Sure() || v.V != 2 {
		t.Errorf("%+v of two that are exact, want 2 for certain", v)
	}
}
