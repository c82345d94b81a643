package indicator_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Two readings of a wall that is met by walking along the line: half the difference is the centre's part along it,
// whatever lies across, and the swing radius is short by ρ − √(ρ² − a²) of that.
func TestHalfAlong(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		rho, reach := rapid.Float64Range(2, 60).Draw(r, "reference"), rapid.Float64Range(-12, 6).Draw(r, "reach")
		along, across := rapid.Float64Range(-0.5, 0.5).Draw(r, "along"), rapid.Float64Range(-0.5, 0.5).Draw(r, "across")
		deg, boss := rapid.Float64Range(-400, 400).Draw(r, "bearing"), rapid.Bool().Draw(r, "boss")
		swing := rho - reach + rapid.Float64Range(-0.3, 0.3).Draw(r, "off")
		s := indicator.Setup{ReferenceRadius: rho, Reach: reach, ReachKnown: true}
		half := math.Sqrt(rho*rho - across*across)
		m := [2]float64{swing + reach - half - along, swing + reach - half + along} // bore: pressed as the wall is nearer
		if boss {
			s.Touch, m = indicator.Boss, [2]float64{-m[0], -m[1]}
		}
		at := geom.FromDegrees(deg)
		p, ok := indicator.Half(indicator.Dial{Repeatability: 0.003}, s, [2]geom.Bearing{at, at + math.Pi}, m)
		if !ok || math.Abs(p.Along.V-along) > 1e-9 || p.Bearing.Apart(at) > 1e-9 {
			r.Fatalf("along %v is %v (%v), want %v along %v", p.Bearing.Degrees360(), p.Along, ok, along, deg)
		}
		if got := p.Swing.V - p.Short(across); math.Abs(got-swing) > 1e-9 {
			r.Fatalf("swing %.9f, less what lies across %.9f, want %.9f", p.Swing.V, got, swing)
		}
		// Half a difference of two readings: σ/√2; repeatability is worth eight degrees of freedom.
		if want := fit.Coverage(8) * 0.003 / math.Sqrt2; math.Abs(p.Along.U-want) > 1e-12 || math.Abs(p.Swing.U-want) > 1e-12 {
			r.Fatalf("U %v and %v, want %v", p.Along.U, p.Swing.U, want)
		}
	})
}

// Stations that stand otherwise are no pair, and without a stated repeatability nothing is known of the doubt.
func TestHalfNot(t *testing.T) {
	m := [2]float64{0.1, -0.1}
	for _, deg := range []float64{0, 90, 120, 174, 186} {
		if _, ok := indicator.Half(indicator.Dial{}, indicator.Setup{}, [2]geom.Bearing{0, geom.FromDegrees(deg)}, m); ok {
			t.Errorf("stations %v° apart are taken for a pair", deg)
		}
	}
	p, ok := indicator.Half(indicator.Dial{}, indicator.Setup{}, [2]geom.Bearing{0, geom.FromDegrees(176)}, m)
	if !ok || p.Along.Sure() || p.Swing.Known() {
		t.Errorf("%+v, %v; want a part along with no doubt known, and no swing", p, ok)
	}
	if _, ok := indicator.Half(indicator.Dial{}, indicator.Setup{}, [2]geom.Bearing{0, math.Pi}, [2]float64{math.NaN(), 0}); ok {
		t.Error("a reading that is no number is taken")
	}
}
