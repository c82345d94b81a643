package record_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// trueArc is how an arc truly comes out: its circle.
type trueArc struct {
	centre geom.Point
	radius float64
}

// shop is one drawn truth: the errors that all settings have in common, true less stated.
type shop struct {
	reference, reach, cutter float64
	rng                      *rand.Rand
}

// Limits of the drawn shop: those of reference and reach are large beside the readings, so that whoever counts
// them as each setting's own is far off.
const (
	drawnReference, drawnReach, drawnCutter = 0.02, 0.03, 0.02
	drawnScatter                            = 0.003
)

// draw draws a shop with errors of as large a spread as limits stand for.
func draw(seed uint64) *shop {
	rng := rand.New(rand.NewPCG(seed, 77))
	g := func(limit float64) float64 { return rng.NormFloat64() * limit / math.Sqrt(3) }
	return &shop{reference: g(drawnReference), reach: g(drawnReach), cutter: g(drawnCutter), rng: rng}
}

// wall is how far from the origin a ray meets the circle about c from its inside, by halving: no formula of the
// program's.
func wall(c geom.Point, radius float64, b geom.Bearing) float64 {
	lo, hi := 0.0, 2*radius
	for range 60 {
		mid := (lo + hi) / 2
		if b.Unit().Times(mid).Sub(c).Norm() < radius {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// set makes the accepted setting of an arc: the true swing radius and centre error are drawn, and the readings of
// seven stations taken of them. It returns how the arc truly comes out.
func (s *shop) set(a *part.Arc) (*session.State, trueArc) {
	const reference, reach = 30.0, -4.0
	swing := a.Swing + 0.01*s.rng.NormFloat64()
	e := geom.Point{X: 0.008 * s.rng.NormFloat64(), Y: 0.008 * s.rng.NormFloat64()}
	j := setup.Job{Setup: indicator.Setup{Touch: indicator.Bore, ReferenceRadius: reference, Reach: reach, ReachKnown: true,
		ReferenceLimit: drawnReference, ReachLimit: drawnReach},
		Target: setup.Target{SwingRadius: a.Swing, Tolerance: 0.02, CentreTolerance: 0.02},
		Sweep:  setup.Sweep{Stations: 7, To: 2 * math.Pi},
		Dial:   indicator.Dial{Graduation: 1e-6, ReadsTo: 0.2, From: -100, To: 100, Repeatability: drawnScatter},
		Cut:    &setup.Cut{Hollow: a.Side == part.Outside, Cutter: a.Cutter}}
	st := &session.State{Set: &session.Opened{Job: j}, Phase: session.Ended, Trial: 1}
	for i := range 7 {
		// Over 240°, so that radius and centre lean on each other.
		b := geom.FromDegrees(float64(i) * 40)
		read := swing + reach + s.reach - wall(e, reference+s.reference, b) + drawnScatter*s.rng.NormFloat64()
		st.Sweep.Stations = append(st.Sweep.Stations, session.Station{Bearing: b, Reading: read})
		st.Sweep.N++
	}
	st.Sweep.Closed = session.ByVerdict
	half := (a.Cutter + s.cutter) / 2
	if a.Side == part.Outside {
		half = -half
	}
	return st, trueArc{centre: a.Centre.Sub(e), radius: swing - half}
}

// crossed is where the normal line through a place crosses a true arc, + out of the metal, by halving.
func (a trueArc) crossed(at, normal geom.Point) float64 {
	inside := func(t float64) bool { return at.Add(normal.Times(t)).Sub(a.centre).Norm() < a.radius }
	lo, hi := -1.0, 1.0
	was := inside(lo)
	for range 60 {
		if mid := (lo + hi) / 2; inside(mid) == was {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// tally counts how often a truth lies within what was told.
type tally struct{ n, held int }

func (c *tally) add(held bool) {
	c.n++
	if held {
		c.held++
	}
}

// Steps between truly displaced arcs, crossed with the normal by halving, lie within their 95 % as often as they
// should: on one side of the metal, across it, and beside arcs that were measured.
func TestBlendsHoldTheTruth(t *testing.T) {
	drawn := rimPlan(t)
	from := record.Planned{Name: "quadrant-plate", Part: drawn}
	side := map[int]part.Side{}
	for _, a := range drawn.Arcs {
		side[a.N] = a.Side
	}
	for _, c := range []struct {
		name     string
		measured []int   // arcs that are measured when they are cut
		u        float64 // standard uncertainty of that
	}{{"swept alone", nil, 0}, {"one measured", []int{4}, 0.004}, {"measured on both sides", []int{4, 7}, 0.004}} {
		var same, across tally
		doubts := map[bool]float64{}
		for seed := range uint64(1500) {
			s := draw(seed)
			var made []record.Made
			truth := map[int]trueArc{}
			for i := range drawn.Arcs {
				a := &drawn.Arcs[i]
				st, real := s.set(a)
				for _, n := range c.measured {
					if n == a.N {
						r := real.radius + s.rng.NormFloat64()*c.u
						st.Worked = append(st.Worked, session.Worked{Step: session.CheckArc, Value: &r})
					}
				}
				made, truth[a.N] = append(made, record.Made{Made: record.MadeOf(a.N, st)}), real
			}
			x, err := record.NewBlends(from, made, part.Doubts{Cutter: drawnCutter, Measured: c.u}, geom.Millimetre)
			if err != nil {
				t.Fatal(err)
			}
			for i, b := range x.Blends {
				first, arc := truth[b.Between[0]]
				second, also := truth[b.Between[1]]
				if !arc || !also {
					continue
				}
				at, normal := b.At.Point(), drawn.Blends[i].Normal
				off := first.crossed(at, normal) - second.crossed(at, normal) - float64(b.Step.Value)
				held := math.Abs(off) <= float64(b.Step.U95)
				one := side[b.Between[0]] == side[b.Between[1]]
				doubts[one] = math.Max(doubts[one], float64(b.Step.U95))
				if one {
					same.add(held)
				} else {
					across.add(held)
				}
			}
		}
		for what, k := range map[string]tally{"one side": same, "across": across} {
			// 3000 steps, two of one shop in each: ±0.017 is 3 standard deviations of their share. The stated
			// repeatability counts for eight readings only, so more than 95 % may be held.
			if share := float64(k.held) / float64(k.n); share < 0.93 || share > 0.985 {
				t.Errorf("%s, %s: %d of %d steps within their 95 %%", c.name, what, k.held, k.n)
			} else {
				t.Logf("%s, %s: %.3f of %d", c.name, what, share, k.n)
			}
		}
		if c.measured == nil && !(doubts[true] < 0.015 && doubts[false] > 0.06) {
			// 2·1.96·√(0.02² + 0.03²)/√3 = 0.082 of reach and reference across an S, none of it on one side.
			t.Errorf("doubt %.4f on one side and %.4f across, want that of reach and reference across only", doubts[true], doubts[false])
		}
	}
}
