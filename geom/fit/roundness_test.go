package fit

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/trammel/geom"
)

// roundnessCase is one case of testdata/fit/roundness.json.
type roundnessCase struct {
	ID     string `json:"id"`
	N      int    `json:"n"`
	Status string `json:"status"`
	Values []struct {
		Name  string  `json:"name"`
		Value float64 `json:"value"`
		Tol   float64 `json:"tol"`
	} `json:"values"`
}

// value returns what the case calls name, with its tolerance.
func (c roundnessCase) value(t *testing.T, name string) (value, tol float64) {
	t.Helper()
	for _, v := range c.Values {
		if v.Name == name {
			return v.Value, v.Tol
		}
	}
	t.Fatalf("%s has no value %q", c.ID, name)
	return 0, 0
}

func roundness(t *testing.T, id string) roundnessCase {
	t.Helper()
	text, err := os.ReadFile("../../testdata/fit/roundness.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []roundnessCase `json:"cases"`
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	for _, c := range file.Cases {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("no case %q", id)
	return roundnessCase{}
}

// equalAngle is the handbook's least-squares circle of radii r at equally spaced bearings t:
//
//	R = Σ r / n     a = 2/n Σ r cos t     b = 2/n Σ r sin t
//
// and the peak-to-valley of the deviations r − R − a cos t − b sin t. Source: NIST/SEMATECH
// e-Handbook 2.3.4.4, and the statements in testdata/fit/roundness.json.
func equalAngle(t []geom.Bearing, r []float64) (p [3]float64, peakToValley float64) {
	n := float64(len(r))
	for i := range r {
		p[0] += r[i] / n
		p[1] += 2 / n * r[i] * math.Cos(float64(t[i]))
		p[2] += 2 / n * r[i] * math.Sin(float64(t[i]))
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i := range r {
		d := r[i] - p[0] - p[1]*math.Cos(float64(t[i])) - p[2]*math.Sin(float64(t[i]))
		low, high = min(low, d), max(high, d)
	}
	return p, high - low
}

// peakToValley is the range of the fit's own residuals.
func peakToValley(f Radial, t []geom.Bearing, y []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range y {
		d := y[i] - f.At(t[i])
		low, high = min(low, d), max(high, d)
	}
	return high - low
}

// rounding is what sums of a few dozen lengths of some tens of millimetres lose: 1 fm.
const rounding = 1e-12 // mm

// harmonics are n ordinates of the constructed cases "harmonics": out of the middle, oval and with three lobes.
func harmonics(n int) (at []geom.Bearing, y []float64) {
	at = evenly(n, 0, 2*math.Pi)
	for _, b := range at {
		s := float64(b)
		y = append(y, 25+0.030*math.Cos(s)-0.020*math.Sin(s)+0.005*math.Cos(2*s)+0.003*math.Sin(3*s))
	}
	return at, y
}

func TestHandbookCircle(t *testing.T) {
	c := roundness(t, "harmonics_12")
	at, y := harmonics(c.N)
	var want [3]float64
	for i, name := range []string{"R", "a", "b"} {
		want[i], _ = c.value(t, name)
	}
	byHand, pv := equalAngle(at, y)
	got, err := Model{Sought: MeanReading}.Fit(at, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := farthest(got.params(), want); d > rounding {
		t.Errorf("fit = %v, want %v (%s)", got.params(), want, c.Status)
	}
	if d := farthest(got.params(), byHand); d > rounding {
		t.Errorf("fit = %v, the handbook's formula gives %v", got.params(), byHand)
	}
	if d := peakToValley(got, at, y); apart(d, pv) > rounding || d < 0.01 {
		t.Errorf("peak to valley %v, the handbook's formula gives %v", d, pv)
	}
	// Equally spaced columns are orthogonal: the variances are σ²/n and 2σ²/n.
	for i, v := range []float64{1. / 12, 2. / 12, 2. / 12} {
		if apart(got.Cofactor[i][i], v) > rounding {
			t.Errorf("variance %d = %v, want %v", i, got.Cofactor[i][i], v)
		}
	}
}

// On a true circle that is off centre the linear formula gives the centre exactly, but a radius
// that is short by e²/(4R) and a false peak-to-valley of e²/(2R). The exact model has neither.
func TestEccentricTrueCircle(t *testing.T) {
	c := roundness(t, "eccentric_true_circle_36")
	const radius, e, zero = 25.0, 0.5, 22.5
	at := evenly(c.N, 0, 2*math.Pi)
	exact := exactly(Model{Sought: SurfaceRadius}, [3]float64{radius, e, 0}, at)
	linear, err := Model{Sought: MeanReading}.Fit(at, exact.y, nil)
	if err != nil {
		t.Fatal(err)
	}
	byHand, pvByHand := equalAngle(at, exact.y)
	if d := farthest(linear.params(), byHand); d > rounding {
		t.Errorf("linear fit %v, the handbook's formula gives %v", linear.params(), byHand)
	}
	pv := peakToValley(linear, at, exact.y)
	for _, q := range []struct {
		name string
		got  float64
	}{
		{"a", linear.Centre.X}, {"b", linear.Centre.Y},
		{"R_error_approx", linear.Level - radius}, {"false_pv_approx", pv}, {"false_pv_approx", pvByHand},
	} {
		want, tol := c.value(t, q.name)
		if !(math.Abs(q.got-want) <= tol) || tol == 0 {
			t.Errorf("linear %s = %v, want %v ±%v (%s)", q.name, q.got, want, tol, c.Status)
		}
	}

	got := exact.fit(t)
	if d := farthest(got.params(), exact.truth); d > rounding {
		t.Errorf("exact fit %v, want %v", got.params(), exact.truth)
	}
	if pv := peakToValley(got, at, exact.y); !(pv <= rounding) {
		t.Errorf("exact fit leaves a peak to valley of %v", pv)
	}
	known := exactly(Model{Sought: ZeroDistance, Surface: radius}, [3]float64{zero, e, 0}, at)
	if f := known.fit(t); farthest(f.params(), known.truth) > rounding {
		t.Errorf("known radius: fit %v, want %v", f.params(), known.truth)
	}
}
