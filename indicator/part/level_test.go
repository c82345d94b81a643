package part_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
)

// The model of these tests is a grid of columns of metal: a cut takes from each column that the cutter's disc passes over what
// stands above the depth of the pass. How deep each column should be left is reckoned from the figures of the drawing, and the
// disc's way from the figures that the hand is told. Neither asks the program what is metal.

// swept is a way of a cutter's axis, with the cutter's radius.
type swept struct {
	centre   geom.Point // of an arc
	swing    float64    // 0: straight
	from, by float64    // radians, anticlockwise
	a, b     geom.Point // of a straight
	radius   float64
}

// over reports whether the cutter passes over a place.
func (s swept) over(x, y float64) bool {
	if s.swing == 0 {
		dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
		t := min(1, max(0, ((x-s.a.X)*dx+(y-s.a.Y)*dy)/(dx*dx+dy*dy)))
		return math.Hypot(x-s.a.X-t*dx, y-s.a.Y-t*dy) <= s.radius
	}
	dx, dy := x-s.centre.X, y-s.centre.Y
	turn := math.Mod(math.Atan2(dy, dx)-s.from+4*math.Pi, 2*math.Pi)
	if turn <= s.by {
		return math.Abs(math.Hypot(dx, dy)-s.swing) <= s.radius
	}
	end := func(at float64) bool {
		return math.Hypot(dx-s.swing*math.Cos(at), dy-s.swing*math.Sin(at)) <= s.radius
	}
	return end(s.from) || end(s.from+s.by)
}

// way is how the cutter runs for element n, by what the plan tells the hand.
func way(p *part.Plan, n int) swept {
	if a := p.Swung(n); a != nil {
		from, by := float64(a.Start), float64(a.Sweep)
		if a.Full() {
			from, by = 0, 2*math.Pi
		} else if a.Sense == part.Clockwise {
			from = float64(a.Stop)
		}
		return swept{centre: a.Centre, swing: a.Swing, from: from, by: by, radius: a.Cutter / 2}
	}
	i := slices.IndexFunc(p.Lines, func(l part.Line) bool { return l.N == n })
	return swept{a: p.Lines[i].Axis[0], b: p.Lines[i].Axis[1], radius: p.Lines[i].Cutter / 2}
}

func deep(mm, by float64) part.Depths {
	return part.Depths{Step: part.SaidDepth{Depth: mm, By: fmt.Sprintf("--step %v", mm)},
		All: part.SaidDepth{Depth: by, By: fmt.Sprintf("--depth %v", by)}}
}

// The plate of two levels, cut by its plan pass by pass, has the boss, the plate and the hollows that the drawing gives it: nothing
// wanted is taken, and next to each wall all is taken that is waste, down to the wall's own floor and no deeper.
func TestPlateOfTwoLevels(t *testing.T) {
	text, err := os.ReadFile("../../testdata/drawing/tensioner-two-levels.toml")
	if err != nil {
		t.Fatal(err)
	}
	out, err := drawing.ReadTOML(text, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := part.Make(part.Drawn(&out), part.Options{Cutters: []float64{10, 6},
		Depths: part.Depths{Step: part.SaidDepth{Depth: out.Step, By: "the drawing"}, Spring: out.Spring}})
	if err != nil {
		t.Fatal(err)
	}
	const pitch, half = 0.37, 70.0
	n := int(math.Floor(2 * half / pitch))
	cut := make([]float64, n*n)
	at := func(i int) (x, y float64) { return -half + float64(i%n)*pitch, -half + float64(i/n)*pitch }
	for _, step := range p.Order {
		if !step.Spring || len(step.Passes) == 0 {
			t.Fatalf("element %d: %d passes, spring pass %v; want some and one", step.N, len(step.Passes), step.Spring)
		}
		w, last := way(p, step.N), 0.0
		for _, depth := range step.Passes {
			if depth-last > out.Step+1e-9 || depth <= last {
				t.Errorf("element %d: a pass from %v to %v mm, want no more than %v deeper", step.N, last, depth, out.Step)
			}
			last = depth
		}
		for i := range cut {
			if x, y := at(i); last > cut[i] && w.over(x, y) {
				cut[i] = last
			}
		}
	}
	wrong := 0
	for i, got := range cut {
		x, y := at(i)
		low, high := wanted(x, y)
		if got < low || got > high {
			if wrong++; wrong < 5 {
				t.Errorf("at %.2f, %.2f the cut is %v mm deep, want %v to %v mm", x, y, got, low, high)
			}
		}
	}
	if wrong > 0 {
		t.Errorf("%d of %d places wrong", wrong, len(cut))
	}
}

// wanted is how deep the plate of two levels is to be cut at a place: at least and at most, by the figures in its drawing.
// A wall is let be either, as near to it as a stop may be off and the grid can tell.
func wanted(x, y float64) (low, high float64) {
	const boss, bore, plate, through, near = 14.0, 6.0, 4.0, 10.0, 0.02
	r := math.Hypot(x, y)
	rim := plateRim(x, y)
	slot := slotOff(x, y)
	for _, off := range []float64{rim, slot, r - boss, r - bore} {
		if math.Abs(off) < near {
			return 0, through
		}
	}
	switch {
	case rim > 0 && rim < 5.9: // nearer than the smaller cutter is wide
		return through, through
	case rim > 0:
		return 0, through
	case slot < 0, r < bore:
		return through, through
	case r < boss:
		return 0, 0
	case r < boss+10-near:
		return plate, plate
	}
	return 0, plate
}

// slotOff is how far a place lies outside of the slot, below 0 in it.
func slotOff(x, y float64) float64 {
	a := math.Atan2(y, x) * 180 / math.Pi
	if a >= 20 && a <= 70 {
		return math.Abs(math.Hypot(x, y)-36) - 4
	}
	least := math.Inf(1)
	for _, end := range []float64{20, 70} {
		c, s := math.Cos(end*math.Pi/180), math.Sin(end*math.Pi/180)
		least = min(least, math.Hypot(x-36*c, y-36*s)-4)
	}
	return least
}

// plateRim is how far a place lies outside of the rim, below 0 in it; beyond the rim it is the least distance. The rim is what
// lies in the circle of 52 and, where x and y say so, above the flanks or in the heel's circle, its two corners rounded by 16:
// a corner's centre lies 16 off its flank, 36 from the pivot.
func plateRim(x, y float64) float64 {
	if y > x { // it is the same seen in a mirror along 45°
		x, y = y, x
	}
	const heel, outer, corner = 20.0, 52.0, 16.0
	cx := math.Sqrt((outer-corner)*(outer-corner) - (heel-corner)*(heel-corner))
	cy := -(heel - corner)
	r := math.Hypot(x, y)
	switch a := math.Atan2(y, x); {
	case x < 0: // the heel, below the mirror
		return r - heel
	case x <= cx && y < 0:
		return -heel - y
	case a >= math.Atan2(cy, cx):
		return r - outer
	}
	return math.Hypot(x-cx, y-cy) - corner
}

// plain is a part of circles in the random layouts: a rim cut to depth, with bosses on its plate and holes in it.
type plain struct {
	x, y, r, depth float64
	bosses, holes  [][4]float64 // x, y, radius, depth
}

// left is how deep below the top of the stock the part lies at a place, +Inf beside it.
func (p *plain) left(x, y float64) float64 {
	if math.Hypot(x-p.x, y-p.y) > p.r {
		return math.Inf(1)
	}
	plate := 0.0
	for _, b := range p.bosses {
		if math.Hypot(x-b[0], y-b[1]) <= b[2] {
			return 0
		}
		plate = b[3]
	}
	for _, h := range p.holes {
		if math.Hypot(x-h[0], y-h[1]) <= h[2] {
			return h[3]
		}
	}
	return plate
}

// drawnPlain are parts as a drawing has them, each loop's depth and side said.
func drawnPlain(parts []plain) (out part.Outline) {
	loop := func(x, y, r, depth float64, side part.Side) {
		pieces := said(side, geom.ArcOf(at(x, y), r, 0, 2*math.Pi))
		pieces[0].Depth = []part.SaidDepth{{Depth: depth, By: fmt.Sprintf("the test says %v", depth)}}
		out.Loops = append(out.Loops, pieces)
	}
	for _, p := range parts {
		loop(p.x, p.y, p.r, p.depth, part.Inside)
		for _, b := range p.bosses {
			loop(b[0], b[1], b[2], b[3], part.Inside)
		}
		for _, h := range p.holes {
			loop(h[0], h[1], h[2], h[3], part.Outside)
		}
	}
	return out
}

// On random layouts of two parts with bosses and holes at drawn depths, an arc is told to gouge where the columns say so, and
// nowhere else: a cut that stays above another outline's metal is harmless. What lies nearer to the bound than the grid can
// tell is counted, and is little.
func TestGougesByLevel(t *testing.T) {
	rnd := rand.New(rand.NewPCG(20, 1))
	seen := map[string]int{}
	for range 60 {
		parts := drawLayout(rnd)
		const cutter = 6.0
		p, err := part.Make(drawnPlain(parts), part.Options{Cutters: []float64{cutter},
			Depths: part.Depths{Step: part.SaidDepth{Depth: 3, By: "step"}}})
		if err != nil {
			t.Fatalf("%+v: %v", parts, err)
		}
		for i := range p.Arcs {
			a := &p.Arcs[i]
			if a.Swing == 0 {
				continue
			}
			told := slices.ContainsFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.Gouge && q.N == a.N })
			surely, maybe := gougesColumns(parts, a, way(p, a.N))
			switch {
			case surely && !told:
				t.Errorf("%+v: arc %d to %v mm gouges, and it is not told", parts, a.N, a.Depth)
			case !maybe && told:
				t.Errorf("%+v: arc %d to %v mm is told to gouge, and it does not: %v", parts, a.N, a.Depth, p.Problems)
			}
			flat := part.Options{Cutters: []float64{cutter}}
			if q, err := part.Make(withoutDepths(parts), flat); err == nil && !told &&
				slices.ContainsFunc(q.Problems, func(q part.Problem) bool {
					return q.Kind == part.Gouge && q.N == a.N
				}) {
				seen["harmless by its depth"]++
			}
			seen[map[bool]string{true: "told", false: "clear"}[told]]++
			if surely != maybe {
				seen["too near to tell"]++
			}
		}
	}
	if seen["told"] < 20 || seen["clear"] < 80 || seen["harmless by its depth"] < 5 || seen["too near to tell"] > 12 {
		t.Errorf("%v: the layouts do not show both", seen)
	}
}

func withoutDepths(parts []plain) part.Outline {
	out := drawnPlain(parts)
	for _, l := range out.Loops {
		l[0].Depth = nil
	}
	return out
}

// gougesColumns reports whether a cut takes metal that is wanted: surely, with a cutter a little smaller, and maybe, with one a
// little larger, which its own wall is let be from.
func gougesColumns(parts []plain, a *part.Arc, w swept) (surely, maybe bool) {
	const pitch, less, more = 0.4, 0.05, 0.6
	small, large := w, w
	small.radius -= less
	large.radius += more
	reach := w.swing + large.radius
	for x := w.centre.X - reach; x <= w.centre.X+reach; x += pitch {
		for y := w.centre.Y - reach; y <= w.centre.Y+reach; y += pitch {
			if !large.over(x, y) {
				continue
			}
			left := math.Inf(1)
			for k := range parts {
				left = min(left, parts[k].left(x, y))
			}
			if left >= a.Depth {
				continue
			}
			own := math.Abs(math.Hypot(x-a.Centre.X, y-a.Centre.Y)-a.Radius) < 2*more
			surely, maybe = surely || small.over(x, y), maybe || !own
		}
	}
	return surely, maybe || surely
}

// drawLayout draws two parts beside each other, each of them with a plate below its bosses or without, and holes.
func drawLayout(rnd *rand.Rand) []plain {
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	parts := []plain{{r: between(12, 18)}, {r: between(12, 18)}}
	parts[1].x = parts[0].r + parts[1].r + between(1, 9)
	for i := range parts {
		p := &parts[i]
		plate := []float64{0, 2, 4}[rnd.IntN(3)]
		p.depth = plate + []float64{1, 3, 6}[rnd.IntN(3)]
		for try := 0; try < 12 && len(p.bosses)+len(p.holes) < 3; try++ {
			r, turn, out := between(3.5, 5), between(0, 2*math.Pi), between(0, p.r-6)
			c := [4]float64{p.x + out*math.Cos(turn), p.y + out*math.Sin(turn), r, plate}
			if free := func(d [4]float64) bool { return math.Hypot(c[0]-d[0], c[1]-d[1]) > c[2]+d[2]+0.5 }; out+r > p.r-0.5 ||
				slices.ContainsFunc(append(slices.Clone(p.bosses), p.holes...), func(d [4]float64) bool { return !free(d) }) {
				continue
			}
			if plate > 0 && len(p.bosses) < 2 {
				p.bosses = append(p.bosses, c)
			} else if c[3] = plate + []float64{1, 4}[rnd.IntN(2)]; true {
				p.holes = append(p.holes, c)
			}
		}
		if len(p.bosses) == 0 && plate > 0 { // nothing stands on it
			p.depth -= plate
			for k := range p.holes {
				p.holes[k][3] -= plate
			}
		}
	}
	return parts
}

// What is said of depths and contradicts itself is refused with both who say it and what is needed.
func TestDepthsRefused(t *testing.T) {
	loop := func(r, depth float64, side part.Side, layer string) []part.Piece {
		out := said(side, geom.ArcOf(at(0, 0), r, 0, 2*math.Pi))
		if out[0].Layer = layer; depth > 0 {
			out[0].Depth = []part.SaidDepth{{Depth: depth, By: fmt.Sprintf("the drawing says %v", depth)}}
		}
		return out
	}
	step := func(mm float64) part.SaidDepth { return part.SaidDepth{Depth: mm, By: fmt.Sprintf("--step %v", mm)} }
	of := func(layer string, mm float64) part.LayerDepth {
		return part.LayerDepth{Layer: layer, SaidDepth: part.SaidDepth{Depth: mm, By: fmt.Sprintf("--depth %s=%v", layer, mm)}}
	}
	all := part.SaidDepth{Depth: 5, By: "--depth 5"}
	for _, c := range []struct {
		name   string
		loops  [][]part.Piece
		depths part.Depths
		want   string // of the refusal; empty: none
	}{
		{"no step", [][]part.Piece{loop(20, 10, part.Inside, "rim")}, part.Depths{},
			"the drawing says 10, and no step is said, need how deep one pass may go"},
		{"a step without a depth", [][]part.Piece{loop(20, 0, part.Inside, "rim")}, part.Depths{Step: step(2)},
			"--step 2, and no depth is said, need the depth of a cut"},
		{"a spring pass without a depth", [][]part.Piece{loop(20, 0, part.Inside, "rim")}, part.Depths{Spring: true},
			"a spring pass is asked for, and no depth is said, need the depth of a cut"},
		{"a step beyond the depth", [][]part.Piece{loop(20, 10, part.Inside, "rim")}, part.Depths{Step: step(10.5)},
			"--step 10.5, but the drawing says 10, need a step of at most the depth"},
		{"a slip of the point", [][]part.Piece{loop(20, 10, part.Inside, "rim")}, part.Depths{Step: step(0.02)},
			"--step 0.02, and the drawing says 10, need at most 100 passes"},
		{"a flag against the drawing", [][]part.Piece{loop(20, 10, part.Inside, "rim")},
			part.Depths{Step: step(2), Layers: []part.LayerDepth{of("RIM", 9)}},
			`layer "rim": the drawing says 10, but --depth RIM=9, need one depth for what is one outline`},
		{"one for all against the drawing", [][]part.Piece{loop(20, 10, part.Inside, "rim")}, part.Depths{Step: step(2), All: all},
			`layer "rim": the drawing says 10, but --depth 5, need one depth for what is one outline`},
		{"one for all beside a layer's", [][]part.Piece{loop(20, 0, part.Inside, "rim"), loop(9, 0, part.Outside, "bore")},
			part.Depths{Step: step(2), All: all, Layers: []part.LayerDepth{of("bore", 3)}}, ""},
		{"a boss through its plate", [][]part.Piece{loop(20, 6, part.Inside, "rim"), loop(9, 6, part.Inside, "boss")},
			part.Depths{Step: step(2)},
			"element 2 (boss) stands on element 1 (rim): the drawing says 6, but the drawing says 6, need what stands on the other cut less deep"},
		{"a hole above its plate", [][]part.Piece{loop(30, 9, part.Inside, "rim"), loop(9, 4, part.Inside, "boss"),
			{holeAt(20, 3)}}, part.Depths{Step: step(2)},
			"element 3 (hole) is a hole in the floor of element 2 (boss): the drawing says 4, but the drawing says 4, need the hole deeper " +
				"than the floor"},
		{"a blind bore in a boss", [][]part.Piece{loop(30, 9, part.Inside, "rim"), loop(9, 4, part.Inside, "boss"),
			loop(4, 3, part.Outside, "bore")}, part.Depths{Step: step(2)}, ""},
		{"a step larger than one of the depths", [][]part.Piece{loop(30, 9, part.Inside, "rim"), loop(9, 4, part.Inside, "boss")},
			part.Depths{Step: step(5)}, ""},
	} {
		p, err := part.Make(part.Outline{Loops: c.loops}, part.Options{Cutters: []float64{4}, Depths: c.depths})
		if c.want == "" {
			if err != nil {
				t.Errorf("%s: %v, want a plan", c.name, err)
			}
			continue
		}
		var refused *part.DepthError
		if !errors.As(err, &refused) || err.Error() != c.want || refused.Hint() == "" {
			t.Errorf("%s: %v (plan %v), want %s", c.name, err, p != nil, c.want)
		}
	}
}

// A contradiction that hangs on a side says who said the side; nothing is put in brackets of an element on no layer.
func TestDepthsHangOnASide(t *testing.T) {
	loop := func(r float64, by string) part.Piece {
		p := part.Piece{Element: geom.ArcOf(at(0, 0), r, 0, 2*math.Pi), Source: "circle",
			Depth: []part.SaidDepth{{Depth: 6, By: "--depth 6"}}}
		if by != "" {
			p.Metal = []part.Said{{Side: part.Inside, By: by}}
		}
		return p
	}
	_, err := part.Make(part.Outline{Loops: [][]part.Piece{{loop(20, "")}, {loop(9, "the plan's screen said inside")}}},
		part.Options{Cutters: []float64{4}, Depths: part.Depths{Step: part.SaidDepth{Depth: 2, By: "--step 2"}}})
	var refused *part.DepthError
	if !errors.As(err, &refused) || err.Error() !=
		"element 2 stands on element 1: --depth 6, but --depth 6, need what stands on the other cut less deep" ||
		refused.Hint() != "depths are from the top of the stock to the floor of each cut; that the metal of element 2 is inside, "+
			"the plan's screen said inside: change that there if it is wrong" {
		t.Errorf("%v", err)
		if refused != nil {
			t.Error(refused.Hint())
		}
	}
}

// holeAt is a hole away from the middle, cut as deep as a boss is there.
func holeAt(x, r float64) part.Piece {
	return part.Piece{Element: geom.ArcOf(at(x, 0), r, 0, 2*math.Pi), Layer: "hole", Source: "hole",
		Metal: []part.Said{{Side: part.Outside, By: "the test"}}, Depth: []part.SaidDepth{{Depth: 4, By: "the drawing says 4"}}}
}

// Two bosses whose floors lie at two depths in one plate are told, and an island that stands on another floor than its pocket.
func TestFloorsDiffer(t *testing.T) {
	circle := func(x, r, depth float64, side part.Side) []part.Piece {
		out := said(side, geom.ArcOf(at(x, 0), r, 0, 2*math.Pi))
		out[0].Depth = []part.SaidDepth{{Depth: depth, By: fmt.Sprint(depth)}}
		return out
	}
	for _, c := range []struct {
		loops [][]part.Piece
		want  int
	}{
		{[][]part.Piece{circle(0, 40, 10, part.Inside), circle(-20, 8, 4, part.Inside), circle(20, 8, 4, part.Inside)}, 0},
		{[][]part.Piece{circle(0, 40, 10, part.Inside), circle(-20, 8, 4, part.Inside), circle(20, 8, 5, part.Inside)}, 1},
		{[][]part.Piece{circle(0, 40, 10, part.Inside), circle(0, 20, 5, part.Outside), circle(0, 8, 5, part.Inside)}, 0},
		{[][]part.Piece{circle(0, 40, 10, part.Inside), circle(0, 20, 5, part.Outside), circle(0, 8, 6, part.Inside)}, 1},
	} {
		p, err := part.Make(part.Outline{Loops: c.loops}, part.Options{Cutters: []float64{6}, Depths: part.Depths{
			Step: part.SaidDepth{Depth: 3, By: "step"}}})
		if err != nil {
			t.Fatal(err)
		}
		got := 0
		for _, q := range p.Problems {
			if q.Kind == part.Floors {
				got++
				if text := q.Text(geom.Millimetre); !strings.Contains(text, "4.000 mm") && !strings.Contains(text, "5.000 mm") {
					t.Errorf("%q, want both depths", text)
				}
			}
		}
		if got != c.want {
			t.Errorf("%d problems of floors, want %d: %v", got, c.want, p.Problems)
		}
	}
}

// An island cut less deep than its pocket stands on another floor too: told with both depths, and not as a gouge. A cutter of 8 is
// swung at 30 − 4 in the pocket and at 10 + 4 round the island, 8 clear of each other.
func TestIslandLessDeepThanItsPocket(t *testing.T) {
	var loops [][]part.Piece
	for _, l := range []struct {
		r, depth float64
		side     part.Side
	}{{40, 10, part.Inside}, {30, 6, part.Outside}, {10, 3, part.Inside}} {
		loop := said(l.side, geom.ArcOf(at(0, 0), l.r, 0, 2*math.Pi))
		loop[0].Depth = []part.SaidDepth{{Depth: l.depth, By: fmt.Sprint(l.depth)}}
		loops = append(loops, loop)
	}
	p := made(t, part.Outline{Loops: loops}, part.Options{Cutters: []float64{8}, Depths: part.Depths{
		Step: part.SaidDepth{Depth: 3, By: "step"}}})
	if len(p.Problems) != 1 || p.Problems[0].Kind != part.Floors || p.Problems[0].N != 3 || p.Problems[0].Other != 2 ||
		math.Abs(p.Problems[0].Size-3) > tiny || math.Abs(p.Problems[0].Need-6) > tiny {
		t.Errorf("problems %+v, want the floors of 3 and 2 alone, 3 and 6 deep", p.Problems)
	}
	for i, want := range []float64{44, 26, 14} {
		near(t, "swing", p.Arcs[i].Swing, want, tiny)
	}
}

// Where the cutter may go down goes by the side of the metal, and by what is closed in.
func TestWaysIn(t *testing.T) {
	p, err := part.Make(part.Outline{
		Loops: [][]part.Piece{said(part.Inside, geom.ArcOf(at(0, 0), 40, 0, 2*math.Pi)),
			said(part.Outside, geom.ArcOf(at(0, 0), 20, 0, 2*math.Pi))},
		Open: [][]part.Piece{pieces(geom.ArcOf(at(0, 0), 30, 10*deg, 40*deg)), pieces(geom.ArcOf(at(60, 0), 30, 180*deg, -60*deg)),
			pieces(geom.ArcOf(at(60, 0), 33, 90*deg, 60*deg))},
	}, part.Options{Cutters: []float64{6}, Depths: deep(2, 6)})
	if err != nil {
		t.Fatal(err)
	}
	// The rim from outside; the bore and a groove that begins in the metal by a hole; the last two are cut anticlockwise, the first
	// of them from its drawn end outside of the rim, the other from its drawn start there.
	for i, want := range []setup.WayIn{setup.WayInWaste, setup.WayInHole, setup.WayInHole, setup.WayInOff, setup.WayInOff} {
		if a := p.Arcs[i]; a.WayIn != want || a.Depth != 6 {
			t.Errorf("arc %d: goes down %q to %v mm, want %q to 6 mm", a.N, a.WayIn, a.Depth, want)
		}
	}
}
