package part_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

func circle(radius float64) geom.Element { return geom.ArcOf(at(0, 0), radius, 0, 360*deg) }

// on puts pieces on a layer.
func on(layer string, ps []part.Piece) []part.Piece {
	for i := range ps {
		ps[i].Layer = layer
	}
	return ps
}

// aside marks pieces as not cut.
func aside(ps []part.Piece) []part.Piece {
	for i := range ps {
		ps[i].Aside = true
	}
	return ps
}

// arcSlot is a slot of a width about the origin, drawn as two walls and two ends.
func arcSlot(radius, width float64, from, to geom.Bearing) []geom.Element {
	half, sweep := width/2, to-from
	return []geom.Element{
		geom.ArcOf(at(0, 0), radius+half, from, sweep), geom.ArcOf(at(0, 0).Along(to, radius), half, to, 180*deg),
		geom.ArcOf(at(0, 0), radius-half, to, -sweep), geom.ArcOf(at(0, 0).Along(from, radius), half, from+180*deg, 180*deg),
	}
}

// tensioner is a round plate of 60 with a slot on 36, a boss of 16 and its bore of 6; what is said of the boss is
// given.
func tensioner(boss []part.Piece) part.Outline {
	return part.Outline{Loops: [][]part.Piece{
		on("rim", pieces(circle(60))), on("slot", pieces(arcSlot(36, 8, 20*deg, 70*deg)...)), on("boss", boss),
		on("bore", pieces(circle(6))),
	}}
}

// Stated, a boss on a plate keeps its metal and its bore is open; by lines alone it is taken for a hole with an
// island in it, and that is told with the flag that settles it.
func TestBossOrHole(t *testing.T) {
	type side struct {
		layer string
		side  part.Side
		from  part.Origin
		swing float64
	}
	sides := func(p *part.Plan) (out []side) {
		for _, a := range p.Arcs {
			if a.Layer != "slot" {
				out = append(out, side{a.Layer, a.Side, a.SideFrom, a.Swing})
			}
		}
		return out
	}
	opt := part.Options{Cutters: []float64{6}}
	p := made(t, tensioner(said(part.Inside, circle(16))), opt)
	if want := []side{{"rim", part.Inside, part.Nesting, 63}, {"boss", part.Inside, part.Stated, 19}, {"bore", part.Outside, part.Nesting,
		3}}; !reflect.DeepEqual(sides(p), want) {
		t.Errorf("sides %v, want %v", sides(p), want)
	}
	for _, q := range p.Problems {
		t.Errorf("problem %s, want none", q.Text(geom.Millimetre))
	}
	p = made(t, tensioner(pieces(circle(16))), opt)
	if want := []side{{"rim", part.Inside, part.Nesting, 63}, {"boss", part.Outside, part.Nesting, 13}, {"bore", part.Inside, part.Nesting,
		9}}; !reflect.DeepEqual(sides(p), want) {
		t.Errorf("sides %v, want %v", sides(p), want)
	}
	i := slices.IndexFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.SideUnknown })
	if i < 0 || p.Problems[i].N != 7 || p.Problems[i].Other != 6 {
		t.Fatalf("problems %+v, want 7 in 6 told", p.Problems)
	}
	if text := p.Problems[i].Text(geom.Millimetre); !strings.Contains(text, "element 7 (bore) lies in element 6 (boss)") ||
		!strings.Contains(text, "--metal boss=inside") {
		t.Errorf("told %q", text)
	}
}

// Only what is cut gets a number and is told; what is not counts for sides all the same, and a problem about it
// names it by layer and source.
func TestAsideCountsForSides(t *testing.T) {
	o := tensioner(aside(said(part.Inside, circle(16))))
	aside(o.Loops[0])
	aside(o.Loops[1])
	p := made(t, o, part.Options{Cutters: []float64{6}})
	if len(p.Arcs) != 1 || p.Arcs[0].N != 1 || p.Arcs[0].Swing != 3 || p.Problems != nil || len(p.Releases) != 0 || len(p.Order) != 1 {
		t.Errorf("%+v, want the bore alone, swung at 3, and nothing told", p)
	}
	for i := range o.Loops[2] {
		o.Loops[2][i].Metal = nil
	}
	p = made(t, o, part.Options{Cutters: []float64{6}})
	if len(p.Problems) != 1 || p.Problems[0].N != 1 || p.Problems[0].Other != 0 || !strings.Contains(p.Problems[0].Text(geom.Millimetre),
		"lies in an element that is not cut (boss: e1)") {
		t.Errorf("problems %+v", p.Problems)
	}
	for _, ps := range o.Loops {
		aside(ps)
	}
	if _, err := part.Make(o, part.Options{}); err != part.ErrEmpty {
		t.Errorf("%v, want ErrEmpty", err)
	}
}

// A pair inside the rim is told where neither is stated, and where what is settled by its parent holds an unstated
// one: stated i, o, by nesting n, of rim, middle and inner loop; and a fourth in that.
func TestWhichSidesAreUnknown(t *testing.T) {
	for _, c := range []struct {
		said string // of circles of 60, 40, 30 and 20: i, o or - each
		told string // pairs of numbers
	}{
		{"-", ""}, {"--", ""}, {"---", "3 in 2"}, {"-i-", ""}, {"-o-", ""}, {"i--", "3 in 2"}, {"--o", "3 in 2"}, {"i-o", ""},
		{"----", "3 in 2, 4 in 3"}, {"-i--", "4 in 3"}, {"-i-o", ""}, {"-ii-", ""}, {"--i-", "3 in 2"},
	} {
		var o part.Outline
		for i, s := range c.said {
			ps := pieces(circle([]float64{60, 40, 30, 20}[i]))
			switch s {
			case 'i':
				ps = said(part.Inside, ps[0].Element)
			case 'o':
				ps = said(part.Outside, ps[0].Element)
			}
			o.Loops = append(o.Loops, ps)
		}
		var told []string
		for _, q := range made(t, o, part.Options{}).Problems {
			if q.Kind == part.SideUnknown {
				told = append(told, fmt.Sprintf("%d in %d", q.N, q.Other))
			}
		}
		if got := strings.Join(told, ", "); got != c.told {
			t.Errorf("%s: told %q, want %q", c.said, got, c.told)
		}
	}
}

// Making a boss the cutter goes down to the plate, not through it: it passes over the plate's edge and its slots,
// and gouges neither; but a second boss beside it stands in its way.
func TestCutterPassesOverThePlate(t *testing.T) {
	o := part.Outline{Loops: [][]part.Piece{pieces(circle(20)), said(part.Inside, circle(16))}}
	if p := made(t, o, part.Options{Cutters: []float64{10}}); p.Problems != nil {
		t.Errorf("problems %+v, want none: the rim lies lower", p.Problems)
	}
	o = part.Outline{Loops: [][]part.Piece{pieces(circle(60)), said(part.Inside, circle(16)),
		said(part.Inside, geom.ArcOf(at(34, 0), 14, 0, 360*deg))}}
	p := made(t, o, part.Options{Cutters: []float64{10}})
	if len(p.Problems) != 2 || p.Problems[0].Kind != part.Gouge {
		t.Fatalf("problems %+v, want the two bosses to gouge each other", p.Problems)
	}
	near(t, "gouge", p.Problems[0].Size, 10-(34-16-14), tiny)
}

// A slot of 8 on 36: cutter 8 makes it in one pass, cutter 6 on the centre line first and then the walls at 37
// and 35; cutter 10 cannot.
func TestSlots(t *testing.T) {
	p := made(t, tensioner(said(part.Inside, circle(16))), part.Options{Cutters: []float64{8}})
	s := p.Slots[0]
	if len(p.Slots) != 1 || !s.Single || s.N != 8 || s.Swing != 36 || s.Cutter != 8 || s.Sense != part.NoSense ||
		!slices.Equal(s.Walls, []int{2, 3, 4, 5}) || s.SideFrom != part.AsSlot {
		t.Errorf("slot %+v, want one pass at 36", s)
	}
	near(t, "width", s.Width, 8, tiny)
	near(t, "from", s.From.Degrees(), 20, tiny)
	near(t, "to", s.To.Degrees(), 70, tiny)
	for _, a := range p.Arcs {
		if a.Slot == 8 && (a.Swing != 0 || a.Group != 0) {
			t.Errorf("arc %d: swing %v, want none beside the one pass", a.N, a.Swing)
		}
	}
	place := func(p *part.Plan, n int) int {
		return slices.IndexFunc(p.Order, func(s part.Step) bool { return s.N == n })
	}
	if place(p, 8) < 0 || place(p, 2) >= 0 || len(p.Order) != 4 || p.Problems != nil {
		t.Errorf("order %v, problems %v, want the slot by its own number, nothing amiss", p.Order, p.Problems)
	}
	p = made(t, tensioner(said(part.Inside, circle(16))), part.Options{Cutters: []float64{6}})
	s = p.Slots[0]
	if s.Single || s.Swing != 36 || s.Cutter != 6 || p.Arcs[1].Swing != 37 || p.Arcs[3].Swing != 35 || p.Arcs[2].Swing != 1 {
		t.Errorf("slot %+v, arcs %+v, want 36, then 37, 1 and 35", s, p.Arcs)
	}
	for _, n := range s.Walls {
		if place(p, 8) > place(p, n) {
			t.Errorf("order %v, want the centre line before wall %d", p.Order, n)
		}
	}
	for _, e := range s.Ends {
		if e != (part.End{}) {
			t.Errorf("end %+v, want what the stops make of it", e)
		}
	}
	p = made(t, tensioner(said(part.Inside, circle(16))), part.Options{Cutters: []float64{10}})
	if !slices.ContainsFunc(p.Problems, func(q part.Problem) bool {
		return q.Kind == part.TooWide && q.N == 8 && q.Size == 10 && math.Abs(q.Need-8) < tiny
	}) {
		t.Errorf("problems %+v, want cutter 10 too wide", p.Problems)
	}
}

// What is said of one closed element must agree, and a slot is open.
func TestMetalContradicts(t *testing.T) {
	o := tensioner(said(part.Inside, circle(16)))
	o.Loops[2][0].Metal = append(o.Loops[2][0].Metal, part.Said{Side: part.Outside, By: "somebody else"})
	var e *part.MetalError
	if _, err := part.Make(o, part.Options{}); !errors.As(err, &e) || e.Layer != "boss" || e.Said[1].By != "somebody else" {
		t.Errorf("%v, want both who say it", err)
	}
	o = tensioner(pieces(circle(16)))
	for i := range o.Loops[1] {
		o.Loops[1][i].Slot, o.Loops[1][i].Metal = true, []part.Said{{Side: part.Inside, By: "somebody"}}
	}
	if _, err := part.Make(o, part.Options{}); !errors.As(err, &e) || !strings.Contains(err.Error(), "it is a slot") {
		t.Errorf("%v, want it refused", err)
	}
	// Drawn like a slot, but stated to stand: it is none.
	for i := range o.Loops[1] {
		o.Loops[1][i].Slot = false
	}
	if p := made(t, o, part.Options{Cutters: []float64{6}}); len(p.Slots) != 0 || p.Arcs[1].Side != part.Inside ||
		p.Arcs[1].SideFrom != part.Stated {
		t.Errorf("%+v, want a standing arc", p.Arcs[1])
	}
	// An outermost loop may be a hole, and that is told.
	p := made(t, part.Outline{Loops: [][]part.Piece{said(part.Outside, circle(20))}}, part.Options{Cutters: []float64{6}})
	if p.Arcs[0].Swing != 17 || len(p.Releases) != 0 || p.Problems[0].Kind != part.OuterHole {
		t.Errorf("%+v, want a hole, told, that frees nothing", p)
	}
}

// What the passes leave: a disc of 14 loose in a hole of 20 that is swung at 17 with a cutter of 6, nothing in one of 6
// or round an island; ribs of (20 − 3·6)/2 = 1 between the first pass of a slot 20 wide and its walls, none in one of 17.
func TestWhatIsLeftStanding(t *testing.T) {
	told := func(o part.Outline, k part.Kind) (sizes []float64) {
		for _, q := range made(t, o, part.Options{Cutters: []float64{6}}).Problems {
			if q.Kind == k {
				sizes = append(sizes, q.Size)
			}
		}
		return sizes
	}
	rim := pieces(circle(60))
	for _, c := range []struct {
		o    part.Outline
		kind part.Kind
		want []float64
	}{
		{part.Outline{Loops: [][]part.Piece{rim, pieces(circle(20))}}, part.Slug, []float64{14}},
		{part.Outline{Loops: [][]part.Piece{rim, pieces(circle(6))}}, part.Slug, nil},
		{part.Outline{Loops: [][]part.Piece{rim, said(part.Outside, circle(20)), pieces(circle(8))}}, part.Slug, nil},
		{part.Outline{Loops: [][]part.Piece{rim, pieces(arcSlot(36, 20, 20*deg, 70*deg)...)}}, part.Ribs, []float64{1}},
		{part.Outline{Loops: [][]part.Piece{rim, pieces(arcSlot(36, 17, 20*deg, 70*deg)...)}}, part.Ribs, nil},
	} {
		got := told(c.o, c.kind)
		if len(got) != len(c.want) || len(got) > 0 && math.Abs(got[0]-c.want[0]) > tiny {
			t.Errorf("%v: %v, want %v", c.kind, got, c.want)
		}
	}
}

// Plunged by the slides the disc in a hole is left as well: of a circle of 8 by a cutter of 6, which is swung at 5, one of 5 − 3. In a
// plate 10 thick a pocket 6 deep keeps it as an island, nothing comes loose; one cut through as deep as the rim lets it go.
func TestTheMiddleIsLeftByPlacesAndOnAFloor(t *testing.T) {
	for _, depth := range []float64{0, 6, 10} {
		for _, plunged := range []bool{false, true} {
			rim, hole := said(part.Inside, circle(60)), said(part.Outside, circle(8))
			options := part.Options{Cutters: []float64{6}}
			if depth > 0 {
				rim[0].Depth, hole[0].Depth = []part.SaidDepth{{Depth: 10, By: "rim"}}, []part.SaidDepth{{Depth: depth, By: "hole"}}
				options.Depths.Step = part.SaidDepth{Depth: 2, By: "step"}
			}
			if plunged {
				options.SwingMin, options.SwingMax, options.StepHeight = 30, 70, 0.3
			}
			want := part.Slug
			if depth == 6 {
				want = part.Island
			}
			p := made(t, part.Outline{Loops: [][]part.Piece{rim, hole}}, options)
			if (p.Arcs[1].Places != nil) != plunged {
				t.Fatalf("plunged %v, want %v", p.Arcs[1].Places != nil, plunged)
			}
			told := 0
			for _, q := range p.Problems {
				if q.Kind == part.Slug || q.Kind == part.Island {
					if told++; q.Kind != want || q.N != 2 || math.Abs(q.Size-2) > tiny {
						t.Errorf("depth %v, plunged %v: %+v, want %v of 2", depth, plunged, q, want)
					}
				}
			}
			if told != 1 {
				t.Errorf("depth %v, plunged %v: told %d times, want once", depth, plunged, told)
			}
		}
	}
}

// A boss on the plate is cut no deeper than its step; a hole may go through.
// The cutter that goes in is told where it changes, and inside a setting no oftener than it must.
func TestStepsAndCutterChanges(t *testing.T) {
	p := made(t, tensioner(said(part.Inside, circle(16))), part.Options{Cutters: []float64{6, 8}})
	for _, a := range p.Arcs {
		if want := a.Layer == "boss"; a.ToStep != want {
			t.Errorf("arc %d (%s): to its step %v, want %v", a.N, a.Layer, a.ToStep, want)
		}
	}
	cutter := 0.0
	for _, s := range p.Order {
		a := p.Swung(s.N)
		if (a.Cutter != cutter) != (s.Changes > 0) || s.Changes > 0 && s.Changes != a.Cutter {
			t.Errorf("element %d with cutter %v behind %v: changes to %v", s.N, a.Cutter, cutter, s.Changes)
		}
		cutter = a.Cutter
	}
	// One pass with 8 makes the slot, but 6 alone could make it too.
	for _, s := range p.Choice.Singles {
		if s.Cannot != nil {
			t.Errorf("cutter %v alone cannot do %v", s.Cutter, s.Cannot)
		}
	}
}

// Into an inner corner a straight is cut as far as the cutter comes: its axis stops as far from the next wall as the
// cutter's radius, less what is let pass.
func TestStraightStopsInACorner(t *testing.T) {
	box := pieces(geom.Straight(at(0, 0), at(40, 0)), geom.Straight(at(40, 0), at(40, 30)), geom.Straight(at(40, 30), at(0, 30)),
		geom.Straight(at(0, 30), at(0, 0)))
	p := made(t, part.Outline{Loops: [][]part.Piece{pieces(circle(90)), box}}, part.Options{Cutters: []float64{10}})
	l := p.Lines[0]
	for _, q := range l.Axis {
		near(t, "height", q.Y, 5, tiny)
		near(t, "from the wall", min(q.X, 40-q.X), 5-0.002, 1e-6)
	}
}

// A loop whose end bows into it is no slot, and no cutter is sent along its middle.
func TestNoseIsNoSlot(t *testing.T) {
	ends := arcSlot(36, 8, 20*deg, 70*deg)
	ends[3] = geom.ArcOf(ends[3].Centre, 4, 200*deg, -180*deg)
	p := made(t, part.Outline{Loops: [][]part.Piece{pieces(circle(80)), pieces(ends...)}}, part.Options{Cutters: []float64{8}})
	if len(p.Slots) != 0 {
		t.Errorf("slots %+v, want none", p.Slots)
	}
}

// Between two corners a cutter that finds no room cuts nothing there, however large it is: the D of a circle of 30 cut
// off at x = 18 is 12 deep, and a cutter of 16 on its arc, its axis 22 from the middle, gouges the straight by 4 at the
// crown. A step of 5 by 5 before a wall leaves a cutter of 8 5 − 3.998 = 1.002 of it, and one of 12 nothing.
func TestNoRoomBetweenCorners(t *testing.T) {
	rim := pieces(circle(80))
	a := geom.Bearing(math.Acos(18.0 / 30))
	arc := geom.ArcOf(at(0, 0), 30, -a, 2*a)
	p := made(t, part.Outline{Loops: [][]part.Piece{rim, said(part.Outside, arc, geom.Straight(arc.End, arc.Start))}},
		part.Options{Cutters: []float64{16, 6}})
	if p.Arcs[1].Cutter != 6 {
		t.Errorf("cutter %v in the D, want 6", p.Arcs[1].Cutter)
	}
	var box []geom.Element
	corners := []geom.Point{at(0, 0), at(100, 0), at(100, 35), at(45, 35), at(45, 40), at(40, 40), at(40, 80), at(0, 80)}
	for i, c := range corners {
		box = append(box, geom.Straight(c, corners[(i+1)%len(corners)]))
	}
	o := part.Outline{Loops: [][]part.Piece{pieces(box...)}}
	p = made(t, o, part.Options{Cutters: []float64{8}})
	near(t, "stops before the wall", p.Lines[3].Ends[0].Before, 4-0.002, 1e-9)
	near(t, "runs to the outer corner", p.Lines[3].Ends[1].Before, 0, tiny)
	p = made(t, o, part.Options{Cutters: []float64{12}})
	if l := p.Lines[3]; l.Cutter != 0 || !slices.ContainsFunc(p.Problems, func(q part.Problem) bool {
		return q.N == l.N &&
			q.Kind == part.Corner
	}) {
		t.Errorf("straight %+v with a cutter of 12, want none, and told", l)
	}
}

// What stands in the way beyond an end may be another outline: an island of 3 about (11, 0) in a pocket of 15 that a
// cutter of 4 swings round at 13. It is gouged by h where the axis is 3 + 2 − h from the island's centre: from the end at
// 90° on by acos((13² + 11² − (5 − h)²)/(2·13·11)) less than the 90° to it.
func TestIslandBeyondTheEnd(t *testing.T) {
	const h = 0.002
	arc := geom.ArcOf(at(0, 0), 15, 90*deg, 180*deg)
	right := []geom.Point{at(40, -15), at(40, 15)}
	pocket := said(part.Outside, arc, geom.Straight(arc.End, right[0]), geom.Straight(right[0], right[1]),
		geom.Straight(right[1], arc.Start))
	p := made(t, part.Outline{Loops: [][]part.Piece{pieces(circle(80)), pocket, pieces(geom.ArcOf(at(11, 0), 3, 0, 360*deg))}},
		part.Options{Cutters: []float64{4}})
	e := p.Arcs[1].Ends[0]
	want := math.Pi/2 - math.Acos((13*13+11*11-(5-h)*(5-h))/(2*13*11))
	if !math.IsInf(e.Past, 1) || e.InWay != p.Arcs[2].N {
		t.Errorf("end %+v, want free of its own outline and the island in the way", e)
	}
	near(t, "clear", e.Clear, want, 1e-9)
}

// A slot that one pass could make, but not within the slide's travel, is left to the passes that can.
func TestSinglePassWithinTravel(t *testing.T) {
	o := part.Outline{Loops: [][]part.Piece{pieces(circle(80)), pieces(arcSlot(36, 8, 20*deg, 70*deg)...)}}
	p := made(t, o, part.Options{Cutters: []float64{8, 6}, SwingMin: 36.5, SwingMax: 100})
	if p.Slots[0].Single || p.Arcs[1].Swing != 37 {
		t.Errorf("slot %+v, outer wall %v, want it cut at 37", p.Slots[0], p.Arcs[1].Swing)
	}
	if s := made(t, o, part.Options{Cutters: []float64{8.005}}).Slots[0]; !s.Single {
		t.Error("0.005 more than the slot is wide is not as wide")
	}
}

// BenchmarkPlanOfManyCorners plans rims of n rounded corners; twice as many should take about four times as long, for
// every end is asked of every element.
func BenchmarkPlanOfManyCorners(b *testing.B) {
	for _, n := range []int{60, 120, 240} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			step := 360 * deg / geom.Bearing(n)
			var rim []geom.Element
			for k := range n {
				from := geom.Bearing(k) * step
				rim = append(rim, geom.ArcOf(at(0, 0).Along(from+step/2, 300), 2, from, step))
			}
			for k := range n {
				rim = append(rim[:2*k+1], append([]geom.Element{geom.Straight(rim[2*k].End, rim[(2*k+1)%len(rim)].Start)},
					rim[2*k+1:]...)...)
			}
			o := part.Outline{Loops: [][]part.Piece{pieces(rim...)}}
			for b.Loop() {
				if _, err := part.Make(o, part.Options{Cutters: []float64{6}}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A circle in the lens of two that cross each other lies in both, and neither of these in the other: that they cross is told, and
// that nobody knows which side of the inner one is metal.
func TestInTheLensOfTwoThatCross(t *testing.T) {
	lens := geom.ArcOf(at(6.5, 0), 1, 0, 360*deg)
	p, err := part.Make(part.Outline{Loops: [][]part.Piece{
		on("a", pieces(circle(10))), on("b", pieces(geom.ArcOf(at(13, 0), 9.5, 0, 360*deg))), on("lens", pieces(lens)),
	}}, part.Options{})
	if err != nil {
		t.Fatal(err)
	}
	type problem struct {
		kind     part.Kind
		n, other int
	}
	var told []problem
	for _, q := range p.Problems {
		told = append(told, problem{q.Kind, q.N, q.Other})
	}
	slices.SortFunc(told, func(a, b problem) int { return int(a.kind) - int(b.kind) })
	if want := []problem{{part.Crossing, 1, 2}, {part.SideUnknown, 3, 2}}; !slices.Equal(told, want) {
		t.Errorf("told %v, want %v", told, want)
	}
}
