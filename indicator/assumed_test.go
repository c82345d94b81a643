package indicator_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// On which figures a sweep leans follows from what its circle is worked out from: R = z − t with z found from ρ, so both go whole
// into R and into nothing else; where R + t is held, an error of any of the three tips the centre instead. All readings are zero.
func TestLeansOnWhatIsNotStated(t *testing.T) {
	round := func(n int, over float64) (at []geom.Bearing) {
		for i := range n {
			at = append(at, geom.FromDegrees(over/float64(n)*float64(i)))
		}
		return at
	}
	plain := indicator.Setup{ReferenceRadius: 30, Reach: -12, ReachKnown: true}
	held := plain
	held.HeldRadius = 42
	exact := plain
	exact.ReachLimit, exact.ReferenceLimit = 0.01, 0.002
	formDial := []string{"reference_form", "dial"}
	for name, c := range map[string]struct {
		setup          indicator.Setup
		stated         indicator.Stated
		over           float64
		radius, centre []string
	}{
		"nothing stated": {plain, nil, 360, []string{"reach", "reference_radius", "reference_form", "dial"}, formDial},
		"limits above 0 of a journal that names none": {exact, nil, 360, formDial, formDial},
		"0 stated": {plain, indicator.Stated{"reach", "dial"}, 360, []string{"reference_radius", "reference_form"},
			[]string{"reference_form"}},
		"no reach":      {indicator.Setup{ReferenceRadius: 30}, nil, 360, nil, formDial},
		"nothing known": {indicator.Setup{}, nil, 360, nil, formDial},
		"zero radius":   {indicator.Setup{ZeroRadius: 30}, nil, 360, []string{"reference_form", "dial", "zero_radius"}, formDial},
		"held on a quarter": {held, nil, 90, []string{"held_radius"},
			[]string{"reach", "reference_radius", "reference_form", "dial", "held_radius"}},
	} {
		f, err := indicator.Fit(indicator.Dial{Repeatability: 0.003}, c.setup, round(6, c.over), make([]float64, 6))
		if err != nil {
			t.Fatal(err)
		}
		all := f.Assumed(c.stated)
		radius, _ := all.Radius()
		centre, _ := all.Centre()
		if !slices.Equal(radius.Names(), c.radius) || !slices.Equal(centre.Names(), c.centre) {
			t.Errorf("%s: the radius leans on %v, the centre on %v; want %v, %v", name, radius.Names(), centre.Names(), c.radius, c.centre)
		}
	}
}

// An error of the dial stands in each reading whole, as the lever makes it; where the radius is held it stands in the level that
// is held as well, as an error of the radius does, and tips the centre by that. A lever at 60° makes half of it.
func TestDialsErrorInAHeldSweep(t *testing.T) {
	at := []geom.Bearing{0, 0.4, 0.8, 1.2, 1.6}
	centre := func(held float64) indicator.Estimate {
		s := indicator.Setup{ReferenceRadius: 30, Reach: -12, ReachKnown: true, HeldRadius: held}
		return mustFit(t, indicator.Dial{Repeatability: 0.003, LeverAngle: math.Pi / 3}, s, at, make([]float64, len(at)))
	}
	one, two, held := centre(41.999), centre(42.001), centre(42)
	tips := two.Circle.Centre.Sub(one.Circle.Centre).Norm() / 0.002 // of a millimetre of the radius
	for _, c := range []struct {
		f              indicator.Estimate
		radius, centre float64
	}{
		{held, 0, 0.5 * (1 + tips)},
		{mustFit(t, indicator.Dial{Repeatability: 0.003, LeverAngle: math.Pi / 3}, indicator.Setup{ReferenceRadius: 30, Reach: -12,
			ReachKnown: true}, at, make([]float64, len(at))), 0.5, 0.5},
	} {
		all := c.f.Assumed(indicator.Stated{"reach", "reference_radius", "reference_form", "held_radius"})
		if len(all) != 1 || all[0].Name != indicator.OfDial {
			t.Fatalf("leans on %v, want the dial alone", all.Names())
		}
		near(t, "radius for a millimetre of the dial", all[0].Radius, c.radius, 1e-9)
		near(t, "centre for a millimetre of the dial", all[0].Centre, c.centre, 1e-4*(1+tips))
	}
}

// A held radius that is wrong by δ moves the centre of a swept quarter by what the lean says: the same readings fitted with the
// radius held δ larger are the witness.
func TestHeldRadiusMovesTheCentreByItsLean(t *testing.T) {
	at := []geom.Bearing{0, 0.4, 0.8, 1.2, 1.6}
	fit := func(held float64) indicator.Estimate {
		s := indicator.Setup{ReferenceRadius: 30, Reach: -12, ReachKnown: true, HeldRadius: held}
		f, err := indicator.Fit(indicator.Dial{Repeatability: 0.003}, s, at, make([]float64, len(at)))
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	const delta = 0.01
	f, g := fit(42), fit(42+delta)
	all := f.Assumed(indicator.Stated{"reach", "reference_radius", "reference_form", "dial"})
	_, most := all.Centre()
	if moved := g.Circle.Centre.Sub(f.Circle.Centre).Norm(); math.Abs(moved-most*delta) > 1e-2*moved || moved < delta {
		t.Errorf("held %v larger it goes %v, the lean says %v", delta, moved, most*delta)
	}
}

func TestHoldsBackForRoom(t *testing.T) {
	for _, c := range []struct {
		v    indicator.Verdict
		room float64
		want indicator.Verdict
		held bool
	}{
		{indicator.Inside, 0.005, indicator.Inside, false},
		{indicator.Inside, 0.00499, indicator.Undecided, true},
		{indicator.Inside, math.NaN(), indicator.Inside, false},
		{indicator.Outside, -0.1, indicator.Outside, false},
		{indicator.Undecided, -0.001, indicator.Undecided, false},
		{indicator.NoVerdict, 0.001, indicator.NoVerdict, false},
	} {
		got := indicator.HoldBack(c.v, c.room)
		if got != c.want || indicator.HeldBack(got, c.room) != c.held {
			t.Errorf("%v with a room of %v is %v, held back %v; want %v, %v", c.v, c.room, got, indicator.HeldBack(got, c.room), c.want,
				c.held)
		}
	}
}
