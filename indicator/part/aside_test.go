package part_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// A hole is what can be swept for the arcs about its centre, drawn within 0.05 of it, and for no other: arcs 0.04 and 0.06 aside, in the
// plan and in the plate that is made of it. And the circles that may be swept in its place are those that stand farther off, the
// nearest first.
func TestHolesALittleAside(t *testing.T) {
	plate := pieces(geom.Straight(at(-100, -100), at(100, -100)), geom.Straight(at(100, -100), at(100, 100)),
		geom.Straight(at(100, 100), at(-100, 100)), geom.Straight(at(-100, 100), at(-100, -100)))
	far := geom.ArcOf(at(60, 60), 8, 0, 360*deg)
	o := part.Outline{Loops: [][]part.Piece{plate, pieces(circle(12)), pieces(far)},
		Open: [][]part.Piece{pieces(geom.ArcOf(at(0.04, 0), 40, 10*deg, 50*deg)), pieces(geom.ArcOf(at(0, 0.06), 50, 120*deg, 50*deg))}}
	p := made(t, o, part.Options{Cutters: []float64{6}})
	hole, near, aside, other := 0, 0, 0, 0
	for a := range p.Swings() {
		switch {
		case a.Full() && a.Radius == 12:
			hole = a.N
		case a.Full():
			other = a.N
		case a.Centre.X > 0.03:
			near = a.N
		default:
			aside = a.N
		}
	}
	order := []int{hole, other, near, aside}
	for _, s := range p.Order {
		if !slices.Contains(order, s.N) {
			order = append(order, s.N)
		}
	}
	p, err := p.Reordered(order)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := p.Taken()[:4], []int{0, 0, hole, 0}; !slices.Equal(got, want) {
		t.Errorf("in the plan the holes %v can be swept for %v, want %v", got, order[:4], want)
	}
	all := part.NewPlate(p, "plate")
	for i, want := range [][]int{nil, nil, {hole}, nil} {
		var got []int
		for _, h := range all.Taken(all.Task(order[i])) {
			got = append(got, h.N)
		}
		if !slices.Equal(got, want) {
			t.Errorf("in the plate the holes %v can be swept for element %d, want %v", got, order[i], want)
		}
	}
	for _, c := range []struct {
		centre geom.Point
		want   []int
	}{{at(0, 0), []int{other}}, {at(0.04, 0), []int{other}}, {at(0, 0.06), []int{hole, other}}, {at(60, 50), []int{other, hole}}} {
		var got []int
		for _, circle := range all.Circles(c.centre) {
			got = append(got, circle.N)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("about %v the other circles are %v, want %v", c.centre, got, c.want)
		}
	}
}

// Twenty windows stand on one ring of a plate, 8 wide, and cutter 8 touches both walls of each: no sense of swing is right for either. The
// inner walls stand 2° back, so that those of the first window lie on either side of the bearing 0, where angles begin anew.
func TestWallsAcrossOnARingOfWindows(t *testing.T) {
	o := part.Outline{Loops: [][]part.Piece{pieces(circle(300))}}
	const outer, inner = 204, 196
	for i := range 20 {
		from := geom.Bearing(18*i) * deg
		out, in := geom.ArcOf(at(0, 0), outer, from, 12*deg), geom.ArcOf(at(0, 0), inner, from+10*deg, -12*deg)
		o.Loops = append(o.Loops, pieces(out, geom.Straight(out.End, in.Start), in, geom.Straight(in.End, out.Start)))
	}
	p := made(t, o, part.Options{Cutters: []float64{8}})
	walls := 0
	for _, a := range p.Arcs {
		switch {
		case a.Full() && a.Sense != part.Anticlockwise:
			t.Errorf("the rim is swung %v, want anticlockwise, its metal on the left", a.Sense)
		case a.Full():
		default:
			if walls++; a.Sense != part.NoSense {
				t.Errorf("the wall of %v mm from %v° on is swung %v, want no sense: the cutter touches the other one too", a.Radius,
					a.From.Degrees(), a.Sense)
			}
		}
	}
	if walls != 40 {
		t.Errorf("%d walls, want 40", walls)
	}
}

// A straight cut on beyond its end comes to what stands beside its way, though its axis passes it: a cutter of 8 runs at y = 24 above a
// flank at 20, and 30 further on a block stands up to 22, whose corner it touches where (x − 80)² + 2² = 4²: 3.4641 before it. What
// stands up to 20 only, or as far away as the cutter's radius, it clears.
func TestStraightRunOnBesideACorner(t *testing.T) {
	for _, c := range []struct {
		top  float64
		past float64 // +Inf: it may run on
	}{{22, 30 - math.Sqrt(12)}, {23.5, 30 - math.Sqrt(16-0.25)}, {26, 30 - 4}, {19, math.Inf(1)}} {
		o := part.Outline{Loops: [][]part.Piece{pieces(
			geom.Straight(at(0, 0), at(100, 0)), geom.Straight(at(100, 0), at(100, c.top)), geom.Straight(at(100, c.top), at(80, c.top)),
			geom.Straight(at(80, c.top), at(80, 5)), geom.Straight(at(80, 5), at(50, 5)), geom.Straight(at(50, 5), at(50, 20)),
			geom.Straight(at(50, 20), at(0, 20)), geom.Straight(at(0, 20), at(0, 0)))}}
		p := made(t, o, part.Options{Cutters: []float64{8}})
		i := slices.IndexFunc(p.Lines, func(l part.Line) bool { return l.Start == at(50, 20) })
		end := p.Lines[i].Ends[0] // at (50, 20): its run goes the other way
		switch {
		case math.IsInf(c.past, 1):
			if !end.Free {
				t.Errorf("a block up to %v: the cutter may run on by %v, want as far as one likes", c.top, end.Past)
			}
		case end.Free:
			t.Errorf("a block up to %v: the cutter may run on as far as one likes, want %v", c.top, c.past)
		default: // 2 µm are let pass, of a corner that is touched at a slant
			near(t, "how far it may run on", end.Past, c.past, 0.01)
		}
	}
}

// Of the cutters that a setting serves an arc with the largest is taken, which is stiffest. A hollow of 28 and a boss of 20 need cutters 6
// and 10 for one setting: 23 = 28 − 10/2 = 20 + 6/2, or 25 the other way. The line engraved at 90 is swung at 90 by either, and is cut
// with 10.
func TestLargestCutterOfThoseThatServe(t *testing.T) {
	o := scattered([]float64{28}, []float64{20})
	o.Open = [][]part.Piece{pieces(geom.ArcOf(at(0, 1000), 90, 0, 60*deg))}
	for _, cutters := range [][]float64{{6, 10}, {10, 6}} {
		p := made(t, o, part.Options{Cutters: cutters})
		if len(p.Groups) != 2 {
			t.Fatalf("%v: %d settings, want 2", cutters, len(p.Groups))
		}
		for _, a := range p.Arcs {
			if a.Radius == 90 && a.Cutter != 10 {
				t.Errorf("%v: the line at 90 is cut with %v, want 10", cutters, a.Cutter)
			}
		}
	}
}

// Where depths are said a setting comes as early as its highest arc: bores of 20 down to 3 and to 9 share one, and come before the bore
// of 30 that goes down to 6, as a whole.
func TestASettingStandsOnItsHighestArc(t *testing.T) {
	o := scattered([]float64{20, 20, 30}, nil)
	var layers []part.LayerDepth
	for i, c := range []struct {
		layer string
		depth float64
	}{{"rim", 12}, {"shallow", 3}, {"deep", 9}, {"middle", 6}} {
		o.Loops[i] = on(c.layer, o.Loops[i])
		layers = append(layers, part.LayerDepth{Layer: c.layer, SaidDepth: part.SaidDepth{Depth: c.depth, By: "the test"}})
	}
	p := made(t, o, part.Options{Cutters: []float64{8}, Depths: part.Depths{Layers: layers, Step: part.SaidDepth{Depth: 3, By: "the test"}}})
	var got []float64
	for _, s := range p.Order {
		if a := p.Swung(s.N); a != nil {
			got = append(got, a.Depth)
		}
	}
	if want := []float64{3, 9, 6}; !slices.Equal(got, want) {
		t.Errorf("bores down to %v in this order, want %v", got, want)
	}
}
