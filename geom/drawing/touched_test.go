package drawing_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

// A flank, a corner of radius 16 tangent to it, a rim of radius 52 tangent to that (centres by hand: the
// flank lies at y = 0 up to x = 30), and a far side that meets the rim in a corner.
var part = []geom.Element{
	geom.Straight(geom.Point{}, geom.Point{X: 30}),
	geom.ArcOf(geom.Point{X: 30, Y: 16}, 16, -90*geom.Degree, 60*geom.Degree),
	// Seen from the rim's centre, 36 from the corner's centre, the arcs touch at −30°.
	geom.ArcOf(geom.Point{X: 30, Y: 16}.Along(150*geom.Degree, 36), 52, -30*geom.Degree, 75*geom.Degree),
}

// touchedOn are n points spread along each element, with scatter square to it.
func touchedOn(elements []geom.Element, n int, sigma float64, rng *rand.Rand) []drawing.Group {
	var out []drawing.Group
	for _, e := range elements {
		g := drawing.Group{Line: 1}
		for i := range n {
			at := (float64(i) + 0.5) / float64(n)
			off := geom.Bearing(math.Pi/2) + e.Heading(at)
			g.Points = append(g.Points, e.At(at).Along(off, sigma*rng.NormFloat64()))
		}
		out = append(out, g)
	}
	return out
}

func TestTouchedExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	elements := append(part[:3:3], geom.Straight(part[2].End, part[2].End.Add(geom.Point{X: -40, Y: -10})))
	got, err := drawing.FitTouched(touchedOn(elements, 9, 0, rng), drawing.TouchOptions{Repeatability: 0.002})
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range elements {
		f := got.Elements[i]
		if f.Curved() != e.Curved() {
			t.Fatalf("element %d: an arc is %v, want %v", i, f.Curved(), e.Curved())
		}
		if e.Curved() && (f.Centre.Sub(e.Centre).Norm() > 1e-8 || math.Abs(f.Radius-e.Radius) > 1e-8 ||
			math.Abs(float64(f.Turn-e.Turn)) > 1e-8) {
			t.Errorf("element %d: %+v, want %+v", i, f.Element, e)
		}
		if i > 0 && f.Start.Sub(e.Start).Norm() > 1e-7 {
			t.Errorf("element %d begins at %v, want %v", i, f.Start, e.Start)
		}
	}
	for i, want := range []bool{true, true, false} {
		if got.Blends[i].Tangent != want {
			t.Errorf("blend %d: tangent is %v, want %v", i, got.Blends[i].Tangent, want)
		}
	}
	// 36 points, 10 unknowns of two straights and two arcs, two tangents, and the repeatability's 8.
	if got.Dof != 36-10+2+8 {
		t.Errorf("%v degrees of freedom, want 36", got.Dof)
	}
	if kink := math.Abs(float64(got.Blends[2].Kink)); kink < 0.1 {
		t.Errorf("the corner's kink is %v", kink)
	}
}

// Over many touched parts the stated 95 % hold the true radii and centres as often as they say, and the
// tangents make them narrower than fits alone. Tolerance: four standard deviations of a proportion.
func TestTouchedCoverage(t *testing.T) {
	const runs, sigma = 1500, 0.004
	rng := rand.New(rand.NewPCG(7, 8))
	inside, all, held := 0, 0, 0
	for range runs {
		got, err := drawing.FitTouched(touchedOn(part, 8, sigma, rng), drawing.TouchOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range got.Blends {
			if b.Tangent {
				held++
			}
		}
		if !got.Blends[0].Tangent || !got.Blends[1].Tangent {
			continue // a false alarm of the test for tangents, 5 % each
		}
		for i := 1; i < 3; i++ {
			f := got.Elements[i]
			for _, in := range []bool{
				math.Abs(f.Radius-part[i].Radius) <= f.RadiusU,
				math.Abs(f.Centre.X-part[i].Centre.X) <= f.CentreU.X,
				math.Abs(f.Centre.Y-part[i].Centre.Y) <= f.CentreU.Y,
			} {
				if all++; in {
					inside++
				}
			}
		}
	}
	if rate := float64(held) / (2 * runs); math.Abs(rate-0.95) > 4*math.Sqrt(0.95*0.05/(2*runs)) {
		t.Errorf("true tangents are held in %.4f of cases, want 0.95", rate)
	}
	// Six figures of one fit lean on each other: as few as one of them may count.
	if rate := float64(inside) / float64(all); math.Abs(rate-0.95) > 4*math.Sqrt(0.95*0.05/(float64(all)/6)) {
		t.Errorf("the truth lies inside in %.4f of cases, want 0.95", rate)
	}
}

// Points that nobody grouped are cut where the part's elements meet, give or take a point.
func TestTouchedCutUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	var one drawing.Group
	for _, g := range touchedOn(part, 12, 0.002, rng) {
		one.Points = append(one.Points, g.Points...)
	}
	got, err := drawing.FitTouched([]drawing.Group{one}, drawing.TouchOptions{Repeatability: 0.002})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Elements) != 3 {
		t.Fatalf("%d elements, want 3: %+v", len(got.Elements), got.Notes)
	}
	for i, f := range got.Elements {
		if f.Curved() != part[i].Curved() || f.N < 10 || f.N > 14 {
			t.Errorf("element %d of %d points, curved %v, want about 12, %v", i, f.N, f.Curved(), part[i].Curved())
		}
		if f.Curved() && math.Abs(f.Radius-part[i].Radius) > 2*f.RadiusU {
			t.Errorf("radius %v ± %v, want %v", f.Radius, f.RadiusU, part[i].Radius)
		}
	}
	told := 0
	for _, n := range got.Notes {
		if n.Kind == drawing.Grouped {
			told += n.Count
		}
	}
	if told != 36 {
		t.Errorf("the cut of %d points is told, want 36", told)
	}
	if _, err := drawing.FitTouched([]drawing.Group{one}, drawing.TouchOptions{}); !errors.Is(err, drawing.ErrNoRepeatability) {
		t.Errorf("without a repeatability: %v", err)
	}
}

func TestParseTouched(t *testing.T) {
	text := "# flank\nline flank:\n0 0\n10;0,5\n\n1,5\t2\n3, 4\narc:\n1 1\n2 3 # last\n"
	got, err := drawing.ParseTouched([]byte(text), geom.Inch)
	if err != nil {
		t.Fatal(err)
	}
	want := "[{line flank straight [{0 0} {254 12.7}] 2} { element [{38.1 50.8} {76.2 101.6}] 6} {arc arc [{25.4 25.4} {50.8 76.2}] 8}]"
	for i := range got { // rounding of the inch
		for k, p := range got[i].Points {
			got[i].Points[k] = geom.Point{X: math.Round(p.X*1e9) / 1e9, Y: math.Round(p.Y*1e9) / 1e9}
		}
	}
	if fmt.Sprint(got) != want {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	for text, want := range map[string]string{
		"":           "line 1: no points, need lines of x and y",
		"1 2\nx y z": `line 2: "x y z", need x and y, or a name with a colon`,
		"1 nan":      `line 1: "nan" is not a number, need a number like -0.125`,
		"1e300 1":    "line 1: 1e+300, need a number not beyond 1e+09",
		"1 -2e9":     "line 1: -2e+09, need a number not beyond 1e+09",
		"2e9 1":      "line 1: 2e+09, need a number not beyond 1e+09",
	} {
		if _, err := drawing.ParseTouched([]byte(text), geom.Millimetre); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	groups := []drawing.Group{{Name: "flank", Form: drawing.StraightForm, Line: 4, Points: []geom.Point{{X: 1}}}, {}}
	if _, err := drawing.FitTouched(groups, drawing.TouchOptions{}); err == nil ||
		!strings.HasPrefix(err.Error(), "line 4: group 1 flank: ") {
		t.Errorf("one point: %v", err)
	}
}

// Touches of a straight that nobody has named are taken for an arc at the rate that is promised, one in a thousand: few of them, of which
// nobody says how well one repeats, by Student's t of what they leave. Two-sided, at four standard deviations of the count.
func TestStraightsTakenForArcs(t *testing.T) {
	const runs, n, promised = 25000, 5, 0.001
	rng := rand.New(rand.NewPCG(9, 8))
	bent := 0
	for range runs {
		g := touchedOn(part[:1], n, 0.003, rng)
		g[0].Name = "flank"
		got, err := drawing.FitTouched(g, drawing.TouchOptions{})
		if err != nil {
			bent++ // for an arc so flat that it is refused
			continue
		}
		if got.Elements[0].Curved() {
			bent++
		}
	}
	t.Logf("%d of %d", bent, runs)
	if off := math.Abs(float64(bent) - promised*runs); off > 4*math.Sqrt(promised*runs) {
		t.Errorf("%d of %d straights are taken for arcs, want %v", bent, runs, promised*runs)
	}
}

// A straight's heading lies within its ± in 95 of 100 parts; four standard deviations of the count.
func TestTouchedHeading(t *testing.T) {
	const runs = 4000
	rng := rand.New(rand.NewPCG(9, 9))
	held := 0
	for range runs {
		g := touchedOn(part[:1], 6, 0.003, rng)
		g[0].Name, g[0].Form = "flank", drawing.StraightForm
		got, err := drawing.FitTouched(g, drawing.TouchOptions{})
		if err != nil {
			t.Fatal(err)
		}
		f := got.Elements[0]
		if f.Heading(0).Apart(part[0].Heading(0)) <= f.HeadingU {
			held++
		}
	}
	if off := math.Abs(float64(held) - 0.95*runs); off > 4*math.Sqrt(0.95*0.05*runs) {
		t.Errorf("the heading lies within its doubt in %d of %d parts, want 95 %%", held, runs)
	}
}
