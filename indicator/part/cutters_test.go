package part_test

import (
	"math"
	"math/bits"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// scattered is a plate with bores of the given radii, and beside it discs of the given radii, all too
// far apart to be in each other's way.
func scattered(bores, discs []float64) part.Outline {
	x := func(i int) float64 { return 200 * float64(i) }
	right := x(len(bores))
	o := part.Outline{Loops: [][]part.Piece{pieces(geom.Straight(at(-150, -150), at(right, -150)),
		geom.Straight(at(right, -150), at(right, 150)),
		geom.Straight(at(right, 150), at(-150, 150)), geom.Straight(at(-150, 150), at(-150, -150)))}}
	for i, r := range bores {
		o.Loops = append(o.Loops, pieces(geom.ArcOf(at(x(i), 0), r, 0, 360*deg)))
	}
	for i, r := range discs {
		o.Loops = append(o.Loops, pieces(geom.ArcOf(at(x(i), 500), r, 0, 360*deg)))
	}
	return o
}

// fewest tries every cutter on every arc: the fewest swing radii, and then the fewest cutters, that do
// all arcs that can be done.
func fewest(bores, discs, cutters []float64) (settings, used int) {
	var can [][][2]float64 // by arc: swing radius, cutter's index
	for i, r := range append(append([]float64(nil), bores...), discs...) {
		var ways [][2]float64
		for k, d := range cutters {
			if i >= len(bores) {
				ways = append(ways, [2]float64{r + d/2, float64(k)})
			} else if r > d/2 {
				ways = append(ways, [2]float64{r - d/2, float64(k)})
			}
		}
		if ways != nil {
			can = append(can, ways)
		}
	}
	settings, used = math.MaxInt, math.MaxInt
	var try func(arc int, swings map[float64]int, set uint)
	try = func(arc int, swings map[float64]int, set uint) {
		if arc == len(can) {
			if n, c := len(swings), bits.OnesCount(set); n < settings || n == settings && c < used {
				settings, used = n, c
			}
			return
		}
		for _, way := range can[arc] {
			swings[way[0]]++
			try(arc+1, swings, set|1<<int(way[1]))
			if swings[way[0]]--; swings[way[0]] == 0 {
				delete(swings, way[0])
			}
		}
	}
	try(0, map[float64]int{}, 0)
	return settings, used
}

// The choice of cutters needs as few settings, and of those as few cutters, as any assignment does.
func TestFewestSettings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Whole and even figures, so that swing radii often agree.
		bores := rapid.SliceOfN(rapid.Map(rapid.IntRange(3, 30), func(i int) float64 { return float64(i) }), 0, 4).Draw(t, "bores")
		discs := rapid.SliceOfN(rapid.Map(rapid.IntRange(10, 30), func(i int) float64 { return float64(i) }), 1, 4).Draw(t, "discs")
		cutters := rapid.SliceOfNDistinct(rapid.SampledFrom([]float64{6, 8, 10, 12, 16}), 1, 3, rapid.ID).Draw(t, "cutters")
		p, err := part.Make(scattered(bores, discs), part.Options{Cutters: cutters})
		if err != nil {
			t.Fatal(err)
		}
		settings, used := fewest(bores, discs, cutters)
		if c := p.Choice; c.Settings != settings || len(c.Cutters) != used || !c.Proven || len(p.Groups) != settings {
			t.Fatalf("choice %+v in %d groups, want %d settings with %d cutters", c, len(p.Groups), settings, used)
		}
		for _, a := range p.Arcs {
			if want := a.Radius + a.Cutter/2; a.Side == part.Inside && a.Swing != want {
				t.Fatalf("disc %d: swing %v, want %v", a.N, a.Swing, want)
			}
		}
	})
}

// A bore of 20 with cutter 8 and a disc of 12 with cutter 8 both swing at 16; with 6 or 10 they need two.
// One cutter with as few settings as two is the better choice, and of equals the larger.
func TestChoiceAndItsReasons(t *testing.T) {
	p := made(t, scattered([]float64{20}, []float64{12}), part.Options{Cutters: []float64{6, 8, 10}})
	if c := p.Choice; c.Settings != 1 || len(c.Cutters) != 1 || c.Cutters[0] != 8 {
		t.Errorf("choice %+v, want cutter 8 with one setting", c)
	}
	for i, want := range []int{2, 1, 2} {
		if got := p.Choice.Singles[i].Settings; got != want {
			t.Errorf("single %d: %d settings, want %d", i, got, want)
		}
	}
	p = made(t, scattered(nil, []float64{12, 30}), part.Options{Cutters: []float64{6, 10, 8}})
	if c := p.Choice; c.Settings != 2 || len(c.Cutters) != 1 || c.Cutters[0] != 10 {
		t.Errorf("choice %+v, want cutter 10", c)
	}
	// Cutter 10 cannot enter a bore of 5.
	p = made(t, scattered([]float64{5}, []float64{12}), part.Options{Cutters: []float64{6, 10}})
	if s := p.Choice.Singles[1]; len(s.Cannot) != 1 || s.Cannot[0] != 5 {
		t.Errorf("cutter 10 alone: %+v, want that it cannot do element 5", s)
	}
}

// More cutters than are tried in every set, and more arcs than a small plate has: the choice stands, and
// is not called proven.
func TestChoiceOfMany(t *testing.T) {
	var discs, cutters []float64
	for i := range 24 {
		discs = append(discs, 20+float64(i*i%17)/2)
	}
	for d := 3.0; d < 12; d++ {
		cutters = append(cutters, d)
	}
	p := made(t, scattered(nil, discs), part.Options{Cutters: cutters})
	if c := p.Choice; c.Proven || c.Settings == 0 || c.Settings > 9 {
		t.Errorf("choice %+v, want not proven, of at most 9 settings", c)
	}
	if last := p.Problems[len(p.Problems)-1]; last.Kind != part.Unproven && p.Problems[0].Kind != part.Unproven {
		t.Errorf("problems %+v, want to be told", p.Problems)
	}
}

func BenchmarkMake(b *testing.B) {
	o := quadrant()
	for b.Loop() {
		if _, err := part.Make(o, part.Options{Cutters: []float64{6, 8, 10}}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMakeMany(b *testing.B) {
	var discs, bores []float64
	for i := range 30 {
		discs = append(discs, 20+float64(i*i%17)/2)
		bores = append(bores, 20+float64(i*i%19)/2)
	}
	o := scattered(bores, discs)
	for b.Loop() {
		if _, err := part.Make(o, part.Options{Cutters: []float64{4, 5, 6, 8, 10}}); err != nil {
			b.Fatal(err)
		}
	}
}
