package indicator_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// draw is a chance world: readings scatter normally, what is stated as a limit lies anywhere inside it.
type draw struct{ *rand.Rand }

func (d draw) within(limit float64) float64 { return limit * (2*d.Float64() - 1) }

// scatter adds noise and one error of the dial to readings.
func (d draw) scatter(m []float64, sigma, dial float64) []float64 {
	out, off := make([]float64, len(m)), d.within(dial)
	for i := range m {
		out[i] = m[i] + off + sigma*d.NormFloat64()
	}
	return out
}

// holdsTruth counts how often the 95 % interval of a method holds the truth, and wants 95 % less four of a
// share's own standard deviations, 0.28 % of 6000 runs, and no more than 96.5 %. The scenes have several parts of about one size: a
// single rectangular part, alone, is held always, for its ± 1.96/√3 limits are more than there is, and beside others a little more
// often than it says.
func holdsTruth(t *testing.T, name string, run func(d draw) (v indicator.Value, truth float64)) {
	t.Helper()
	const runs = 6000
	d, held := draw{rand.New(rand.NewPCG(95, 15))}, 0
	for range runs {
		v, truth := run(d)
		if math.Abs(v.V-truth) <= v.U {
			held++
		}
	}
	share := 100 * float64(held) / runs
	t.Logf("%s: %.2f %%", name, share)
	if least := 95 - 400*math.Sqrt(0.95*0.05/runs); share < least || share > 96.5 {
		t.Errorf("%s: the interval held the truth in %.2f %%, want %.1f to 96.5 %%", name, share, least)
	}
}

// The scenes' figures, millimetres.
const (
	chanceSigma = 0.002 // of a reading
	chanceLimit = 0.002 // of a round, of the dial
)

func TestReachCoverage(t *testing.T) {
	b := stations(8, 0.1, 360)
	for i, c := range fourWays {
		k := toolFor(c.touch, c.reach, 1)
		clean := k.spun(b, geom.Point{X: 0.08, Y: -0.05}, 12.2, c.round == indicator.Ring)
		for _, stated := range []bool{false, true} {
			holdsTruth(t, "spin, "+[]string{"bore out", "bore in", "boss out", "boss in"}[i], func(d draw) (indicator.Value, float64) {
				s := indicator.Spin{Touch: c.touch, Way: c.way, Round: c.round, Radius: 12.2 + d.within(chanceLimit),
					RadiusLimit: chanceLimit, TipDiameter: 2}
				s.Dial.ErrorLimit = chanceLimit / 2
				if stated {
					s.Dial.Repeatability = drawn(d.Rand, chanceSigma)
				}
				reach, _, err := s.Reach(b, d.scatter(clean, chanceSigma, chanceLimit/2))
				if err != nil {
					t.Fatal(err)
				}
				return reach.Value(), c.reach
			})
		}
	}
}

func TestPairCoverage(t *testing.T) {
	b := stations(6, 0.1, 360)
	const swing, reach = 42.0, 11.7
	k := toolFor(indicator.Bore, reach, 1)
	ring := k.swung(b, swing, 0, geom.Point{X: 0.1, Y: 0.2}, 53.8, true)
	plug := k.swung(b, swing, 180*geom.Degree, geom.Point{X: -0.2, Y: 0.1}, 30.2, false)
	for _, want := range []string{"swing", "reach"} {
		holdsTruth(t, "pair, "+want, func(d draw) (indicator.Value, float64) {
			dial := indicator.Dial{ErrorLimit: chanceLimit}
			f := mustFit(t, dial, indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 53.8 + d.within(chanceLimit),
				ReferenceLimit: chanceLimit, TipDiameter: 2}, b, d.scatter(ring, chanceSigma, chanceLimit))
			n := mustFit(t, dial, indicator.Setup{Touch: indicator.Boss, ReferenceRadius: 30.2 + d.within(chanceLimit),
				ReferenceLimit: chanceLimit, TipDiameter: 2}, b, d.scatter(plug, chanceSigma, chanceLimit))
			r, s := indicator.PairReach(f.Zero("ring"), n.Zero("plug"))
			if want == "swing" {
				return s.Value(), swing
			}
			return r.Value(), reach
		})
	}
}

func TestPinAndCutCoverage(t *testing.T) {
	const swing, step = 42.0137, 0.005
	round := func(x float64) float64 { return math.Round(x/step) * step }
	holdsTruth(t, "pin", func(d draw) (indicator.Value, float64) {
		sigma := drawn(d.Rand, 0.002)
		place, bend := 10*d.Float64(), 0.003*math.Cos(2*math.Pi*d.Float64())
		at := func(x float64) float64 { return round(place + x + 0.002*d.NormFloat64()) }
		p := indicator.Pin{Dial: indicator.Dial{Repeatability: sigma}, Difference: at(swing+bend) - at(-swing-bend) + d.within(0.005),
			DifferenceLimit: 0.005, Resolution: step, Runout: 0.006}
		m, err := p.Swing()
		if err != nil {
			t.Fatal(err)
		}
		return m.Value(), swing
	})
	b := stations(6, 0.1, 360)
	clean := toolFor(indicator.Boss, -12, 0).swung(b, swing, 0, geom.Point{X: 0.1}, 30, false)
	holdsTruth(t, "cut", func(d draw) (indicator.Value, float64) {
		k := indicator.Cut{Arc: swing - 3 + d.within(0.003), ArcLimit: 0.003, Cutter: 6 + d.within(0.004), CutterLimit: 0.004,
			MetalInside: true}
		m, err := k.Swing()
		if err != nil {
			t.Fatal(err)
		}
		f := mustFit(t, indicator.Dial{}, indicator.Setup{Touch: indicator.Boss, ReferenceRadius: 30 + d.within(chanceLimit),
			ReferenceLimit: chanceLimit}, b, d.scatter(clean, chanceSigma, 0))
		return indicator.ReachAt(f.Zero("reference"), m).Value(), -12
	})
}

func TestOriginCoverage(t *testing.T) {
	b := stations(8, 0.1, 360)
	limit := float64(1 * geom.Degree)
	for _, want := range []string{"along", "miss"} {
		holdsTruth(t, "origin, "+want, func(d draw) (indicator.Value, float64) {
			n := near0{0.15, 0.12, 40 * geom.Degree, geom.Point{X: 0.03, Y: 0.02}, 20, tool{19, 1, true}, true}
			m, w := n.sweeps(b)
			s := indicator.Setup{ReferenceRadius: 20, TipDiameter: 2}
			spin, swing := mustFit(t, indicator.Dial{}, s, b, d.scatter(m, chanceSigma, 0)), mustFit(t, indicator.Dial{}, s, b,
				d.scatter(w, chanceSigma, 0))
			o := indicator.FindOrigin(&spin, &swing, n.slide+geom.Bearing(d.within(limit)), limit)
			if want == "along" {
				return o.Along.Value(), n.along
			}
			return o.Miss.Value(), n.miss
		})
	}
}
