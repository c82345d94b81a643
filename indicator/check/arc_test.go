package check_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
)

// ways measures, with each way that has a formula, from its figures; radius is of a world that these
// figures were taken in by picture, see the test that names it.
var ways = []struct {
	name    string
	figures []float64
	measure func(f []check.Figure) (check.Arc, error)
}{
	{"chord", []float64{30, 2.77}, func(f []check.Figure) (check.Arc, error) { return check.Chord(f[0], f[1]) }},
	{"chord, more than half", []float64{30, 40}, func(f []check.Figure) (check.Arc, error) { return check.Chord(f[0], f[1]) }},
	{
		"base",
		[]float64{50, 8.2},
		func(f []check.Figure) (check.Arc, error) { return check.Base(f[0], f[1], check.Figure{}, check.Inside) },
	},
	{"base on balls, boss", []float64{50, 8.2, 6}, func(f []check.Figure) (check.Arc, error) {
		return check.Base(f[0], f[1], f[2],
			check.Inside)
	}},
	{"base on balls, hollow", []float64{50, 8.2, 6}, func(f []check.Figure) (check.Arc, error) {
		return check.Base(f[0], f[1], f[2],
			check.Outside)
	}},
	{"cusp", []float64{4, 0.2}, func(f []check.Figure) (check.Arc, error) { return check.Cusp(f[0], f[1]) }},
	{"diameter", []float64{77.98}, func(f []check.Figure) (check.Arc, error) { return check.Diameter(f[0]) }},
	{"over pins", []float64{60, 8}, func(f []check.Figure) (check.Arc, error) { return check.OverPins(f[0], f[1]) }},
	{"between pins", []float64{44, 8}, func(f []check.Figure) (check.Arc, error) { return check.BetweenPins(f[0], f[1]) }},
	{
		"pins in the hollow",
		[]float64{40, 8, 12},
		func(f []check.Figure) (check.Arc, error) { return check.PinsInHollow(f[0], f[1], f[2]) },
	},
	{
		"pin in the hollow",
		[]float64{40, 8, 1.5},
		func(f []check.Figure) (check.Arc, error) { return check.PinInHollow(f[0], f[1], f[2]) },
	},
}

// Every derivative in a budget is that of the radius by its figure: central differences, whose own error
// is of the second order in the step (1e-4 of the figure: 1e-8 of the slope), for each figure in turn.
func TestSlopes(t *testing.T) {
	const step = 1e-4
	for _, w := range ways {
		for i, v := range w.figures {
			at := func(by float64) check.Arc {
				f := make([]check.Figure, len(w.figures))
				for k, x := range w.figures {
					f[k] = exact(x)
				}
				f[i] = to(v+by, 0.001)
				return must(t)(w.measure(f))
			}
			h := step * v
			a := at(0)
			if len(a.Radius.Terms) != 1 {
				t.Fatalf("%s: budget %v, want the one figure that is in doubt", w.name, a.Radius.Terms)
			}
			slope := (at(h).Radius.V - at(-h).Radius.V) / (2 * h)
			got := a.Radius.Terms[0]
			near(t, w.name+": slope by the "+got.Name, got.Sensitivity, slope, 1e-6*(1+math.Abs(slope)))
			near(t, w.name+": part of the "+got.Name, got.U, math.Abs(slope)*0.001/math.Sqrt(3), 1e-6*got.U+1e-12)
		}
	}
}

// sagitta is h = r − √(r² − c²/4), how far an arc of radius r rises over a chord c, without the difference, which
// loses its digits.
func sagitta(r, c float64) float64 {
	q := c * c / 4
	return q / (r + math.Sqrt(r*r-q))
}

// The design's figure: a chord of 30 on a radius of 42 turns an error of the sagitta into fourteen of
// the radius.
func TestSagittaIsDear(t *testing.T) {
	h := sagitta(42, 30)
	a := must(t)(check.Chord(exact(30), to(h, 0.01)))
	near(t, "radius", a.Radius.V, 42, 1e-12)
	near(t, "slope by the sagitta", a.Radius.Terms[0].Sensitivity, -14, 0.2)
}

// published is testdata/shop/arcs.json.
type published struct {
	ID, Kind             string
	C, H, L, D, R, Small float64
	Sign                 float64
	Values               []struct {
		Name, Expect string
		Value, Tol   float64
	}
}

// shop reads the published values. Small is d, the ball's diameter, which encoding/json would else take
// for D.
func shop(t *testing.T) []published {
	t.Helper()
	text, err := os.ReadFile("../../testdata/shop/arcs.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []map[string]json.RawMessage }
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	var all []published
	for _, raw := range file.Cases {
		var p published
		if d, ok := raw["d"]; ok {
			raw["small"] = d
			delete(raw, "d")
		}
		again, err := json.Marshal(raw)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(again, &p); err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	return all
}

// Published and constructed values, their sources in the file; tol is half a unit of the last printed
// digit, or of a whole number where the file says no better, for which exactness is asked here.
func TestPublishedRadii(t *testing.T) {
	seen := map[string]int{}
	for _, p := range shop(t) {
		for _, v := range p.Values {
			seen[p.Kind]++
			tol := v.Tol
			if tol == 0.5 && p.ID != "sagitta_fusco" { // made to be exact
				tol = 1e-12
			}
			var got float64
			switch side := check.Inside; p.Kind {
			case "radius_from_chord":
				got = must(t)(check.Chord(exact(p.C), exact(p.H))).Radius.V
			case "sagitta":
				if got = sagitta(p.R, p.C); v.Name == "R_back" {
					got = must(t)(check.Chord(exact(p.C), exact(got))).Radius.V
				}
			case "rolls_convex":
				got = must(t)(check.OverPins(exact(p.L), exact(p.D))).Radius.V
				near(t, p.ID+" from between", must(t)(check.BetweenPins(exact(p.L-2*p.D), exact(p.D))).Radius.V, got, 1e-12)
			case "rolls_concave":
				got = must(t)(check.PinsInHollow(exact(p.L), exact(p.D), exact(p.H))).Radius.V
			case "ball_spherometer":
				if p.Sign > 0 {
					side = check.Outside
				}
				got = must(t)(check.Base(exact(p.C), exact(p.H), exact(p.Small), side)).Radius.V
			case "rolls_convex_plus":
				// The misprint: (L + D)²/8D. It gives 16 where the arc is 9, and is not what is computed.
				misprint := (p.L + p.D) * (p.L + p.D) / (8 * p.D)
				got = must(t)(check.OverPins(exact(p.L), exact(p.D))).Radius.V
				if v.Expect != "FAIL" || math.Abs(misprint-v.Value) < 1 || math.Abs(misprint-got) < 1 {
					t.Errorf("%s: the misprinted formula gives %v, ours %v for an arc of %v", p.ID, misprint, got, v.Value)
				}
			default:
				t.Errorf("%s: kind %q is not checked", p.ID, p.Kind)
				continue
			}
			near(t, p.ID+" "+v.Name, got, v.Value, tol)
		}
	}
	for _, kind := range []string{"radius_from_chord", "sagitta", "rolls_convex", "rolls_concave", "rolls_convex_plus",
		"ball_spherometer"} {
		if seen[kind] == 0 {
			t.Errorf("no published value of kind %q", kind)
		}
	}
}

// touch lowers a round of radius small down a line at x, from high, until it is clear of another of
// radius big about (0, y) by nothing: outside of it (gap = distance − both radii), or inside. It knows
// distances only.
func touch(x, small, y, big float64, inside bool) float64 {
	gap := func(at float64) float64 {
		d := math.Hypot(x, at-y)
		if inside {
			return big - small - d
		}
		return d - big - small
	}
	lo, hi := y-big, y // inside: from the bottom up to the middle
	for range 100 {
		mid := (lo + hi) / 2
		if (gap(mid) < 0) == inside {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// Pins in a hollow, laid there by distances alone: a circle of 21.3 with its bottom at height 0, pins of
// 7 brought down until they touch; then the height of their tops. Touching pins too.
func TestPinsInHollowByPicture(t *testing.T) {
	const r, d = 21.3, 7.0
	for _, l := range []float64{14, 20, 33.5, 40} {
		x := (l - d) / 2
		h := touch(x, d/2, r, r, true) + d/2
		near(t, "radius", must(t)(check.PinsInHollow(exact(l), exact(d), exact(h))).Radius.V, r, 1e-9)
	}
}

// Pins beside a boss on a plate: slid inwards until they touch.
func TestPinsOnPlateByPicture(t *testing.T) {
	for _, c := range []struct{ r, d float64 }{{39, 10}, {5, 4}, {200, 25}, {3, 8}, {5, 8}, {5, 9.9}, {5, 10.1}} {
		lo, hi := 0.0, c.r+c.d
		for range 100 {
			mid := (lo + hi) / 2
			if math.Hypot(mid, c.r-c.d/2) < c.r+c.d/2 { // plate at 0, middles at r and d/2
				lo = mid
			} else {
				hi = mid
			}
		}
		a := must(t)(check.OverPins(exact(2*lo+c.d), exact(c.d)))
		near(t, "over pins", a.Radius.V, c.r, 1e-9)
		near(t, "between pins", must(t)(check.BetweenPins(exact(2*lo-c.d), exact(c.d))).Radius.V, c.r, 1e-9)
		// A pin wider than the boss touches above its middle.
		said, bars := says(a.Remarks, "too big")
		if big := c.d > 2*c.r; said != big || bars != big {
			t.Errorf("pins of %v beside %v: remarks %v", c.d, c.r, a.Remarks)
		}
	}
}

// Feet with balls on a boss and in a hollow: the gauge is zeroed on a flat, then the balls are set on the
// arc by distances, and the plunger's tip is where the arc is, between them.
func TestBallFeetByPicture(t *testing.T) {
	const r, d, b = 60.0, 5.0, 44.0
	// Inside a hollow with its bottom at 0 the balls come to rest this high.
	up := touch(b/2, d/2, r, r, true) - d/2
	near(t, "hollow", must(t)(check.Base(exact(b), exact(up), exact(d), check.Outside)).Radius.V, r, 1e-9)
	// On a boss with its top at 0, centre at −r: the balls rest beside it, below its top.
	lo, hi := -r, r
	for range 100 {
		mid := (lo + hi) / 2
		if math.Hypot(b/2, mid+r) < r+d/2 {
			lo = mid
		} else {
			hi = mid
		}
	}
	near(t, "boss", must(t)(check.Base(exact(b), exact(d/2-lo), exact(d), check.Inside)).Radius.V, r, 1e-9)
}

// A pin on the bottom of a hollow of 20 and 5 deep: the rim's chord by Pythagoras, 2·√(20² − 15²); a pin
// of 8 stands 3 above the rim, one of 4 lies 1 below.
func TestPinInHollow(t *testing.T) {
	c := 2 * math.Sqrt(20*20-15*15)
	for _, e := range []struct{ d, e float64 }{{8, 3}, {4, -1}, {5, 0}} {
		near(t, "radius", must(t)(check.PinInHollow(exact(c), exact(e.d), exact(e.e))).Radius.V, 20, 1e-12)
	}
	_, err := check.PinInHollow(
		exact(8),
		exact(10),
		exact(8),
	) // 8 across and 2 deep is of radius 5 (3-4-5): a pin of 5 fills it, and touches all along
	refused[*check.ShapeError](t, err, "does not lie on its bottom")
	_, err = check.PinInHollow(exact(c), exact(50), exact(45))
	refused[*check.ShapeError](t, err, "does not lie on its bottom")
	_, err = check.PinInHollow(exact(c), exact(4), exact(4))
	refused[*indicator.PlaceError](t, err, "depth of the hollow")
}

// Grooves of radius 5 cut 6 apart stand with cusps of 1 (3-4-5).
func TestCusp(t *testing.T) {
	near(t, "radius", must(t)(check.Cusp(exact(6), exact(1))).Radius.V, 5, 1e-15)
}

// A circle touched with a ball: Gander, Golub and Strebel's six points (BIT 34 (1994) 558–578, through
// testdata/fit/circle_fits.json: radius 4.7142), with a tip of 1 that ran round a boss, or in a bore.
func TestPoints(t *testing.T) {
	p := []geom.Point{{X: 1, Y: 7}, {X: 2, Y: 6}, {X: 5, Y: 8}, {X: 7, Y: 7}, {X: 9, Y: 5}, {X: 3, Y: 7}}
	tip := check.Readout{Tip: check.Figure{V: 1}}
	plain := must(t)(check.Points(p, check.Readout{}, check.Inside))
	near(t, "radius", plain.Radius.V, 4.7142, 5e-5)
	near(t, "boss", must(t)(check.Points(p, tip, check.Inside)).Radius.V, 4.2142, 5e-5)
	near(t, "bore", must(t)(check.Points(p, tip, check.Outside)).Radius.V, 5.2142, 5e-5)
	// The doubt is that of the fit's own record.
	l, err := indicator.Locate(indicator.Dial{}, p)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u95", plain.Radius.Value().U, l.Radius().U, 1e-12)
	three := must(t)(check.Points(p[:3], check.Readout{Resolution: 0.01}, check.Inside))
	if said, _ := says(three.Remarks, "touch a fourth"); !said || !three.Radius.Open {
		t.Errorf("three points: %+v, want an open doubt that says why", three)
	}
	_, err = check.Points(p, check.Readout{Tip: check.Figure{V: 20}}, check.Inside)
	refused[*check.ShapeError](t, err, "leaves a radius of")
}
