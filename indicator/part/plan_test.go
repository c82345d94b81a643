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

// tiny is what rounding may make of lengths of a part, millimetres, and of angles, radians.
const tiny = 1e-9

const deg = geom.Degree

func at(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }

func pieces(es ...geom.Element) []part.Piece {
	var out []part.Piece
	for i, e := range es {
		out = append(out, part.Piece{Element: e, Layer: "outline", Source: fmt.Sprint("e", i+1)})
	}
	return out
}

// said are pieces of which it is said where their metal is.
func said(s part.Side, es ...geom.Element) []part.Piece {
	out := pieces(es...)
	for i := range out {
		out[i].Metal = []part.Said{{Side: s, By: "the test"}}
	}
	return out
}

// quadrant is the quadrant plate of a bench-drill belt tensioner: a rim of radius 55 about the pivot at
// the origin from 0 to 90°, bosses of radius 15 at its ends about (40, 0) and (0, 40), a hollow of
// radius 25 about the pivot between them, and an arc slot on radius 40. The bosses touch the rim from
// inside (55 − 15 = 40) and the hollow from outside (25 + 15 = 40): every blend is tangent.
func quadrant() part.Outline {
	return part.Outline{
		Loops: [][]part.Piece{pieces(
			geom.ArcOf(at(0, 0), 55, 0, 90*deg),
			geom.ArcOf(at(0, 40), 15, 90*deg, 180*deg),
			geom.ArcOf(at(0, 0), 25, 90*deg, -90*deg),
			geom.ArcOf(at(40, 0), 15, 180*deg, 180*deg),
		)},
		Open: [][]part.Piece{pieces(geom.ArcOf(at(0, 0), 40, 25*deg, 40*deg))},
	}
}

// link is a straight link: rounds of radius 20 about (±30, 0) and straights between, with a bore of
// radius 12 about the origin.
func link() part.Outline {
	right := geom.ArcOf(at(30, 0), 20, -90*deg, 180*deg)
	left := geom.ArcOf(at(-30, 0), 20, 90*deg, 180*deg)
	return part.Outline{Loops: [][]part.Piece{
		pieces(right, geom.Straight(right.End, left.Start), left, geom.Straight(left.End, right.Start)),
		pieces(geom.ArcOf(at(0, 0), 12, 0, 360*deg)),
	}}
}

func made(t testing.TB, o part.Outline, opt part.Options) *part.Plan {
	t.Helper()
	p, err := part.Make(o, opt)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %v, want %v ± %g", what, got, want, within)
	}
}

// With cutters 6, 8 and 10 the bosses swing at 15 + D/2 = 18, 19, 20, the hollow at 25 − D/2 = 22, 21,
// 20, the rim at 55 + D/2 = 58, 59, 60, and the slot at 40 whatever cuts it. Only cutter 10 lets bosses
// and hollow share a setting, so three settings do the part: 20, 40 and 60.
func TestQuadrantPlate(t *testing.T) {
	p := made(t, quadrant(), part.Options{Cutters: []float64{6, 8, 10}, Datum: at(-5, 2), SwingMin: 10, SwingMax: 70})
	for i, want := range []struct {
		side         part.Side
		swing        float64
		sense        part.Sense
		from, to     float64
		cx, cy, x, y float64
	}{
		{part.Inside, 60, part.Anticlockwise, 0, 90, 0, 0, 5, -2},
		{part.Inside, 20, part.Anticlockwise, 90, 270, 0, 40, 5, 38},
		{part.Outside, 20, part.Clockwise, 0, 90, 0, 0, 5, -2},
		{part.Inside, 20, part.Anticlockwise, 180, 360, 40, 0, 45, -2},
		{part.On, 40, part.NoSense, 25, 65, 0, 0, 5, -2},
	} {
		a := p.Arcs[i]
		if a.N != i+1 || a.Side != want.side || a.Sense != want.sense || a.Cutter != 10 {
			t.Errorf("arc %d: n %d, side %v, sense %v, cutter %v, want %v, %v, 10", i+1, a.N, a.Side, a.Sense, a.Cutter, want.side,
				want.sense)
		}
		near(t, "swing", a.Swing, want.swing, tiny)
		near(t, "from", a.From.Degrees(), want.from, tiny)
		near(t, "to", a.To.Degrees(), want.to, tiny)
		near(t, "centre", a.Centre.Sub(at(want.cx, want.cy)).Norm(), 0, tiny)
		near(t, "readout", a.Readout.Sub(at(want.x, want.y)).Norm(), 0, tiny)
		near(t, "wind", a.Wind.Sub(a.Readout).Norm(), 0, tiny)
	}
	var groups [][]int
	for _, g := range p.Groups {
		groups = append(groups, g.Arcs)
	}
	if want := [][]int{{5}, {2, 3, 4}, {1}}; !reflect.DeepEqual(groups, want) {
		t.Errorf("groups %v, want %v, in the order of cutting", groups, want)
	}
	c := p.Choice
	if !reflect.DeepEqual(c.Cutters, []float64{10}) || c.Settings != 3 || !c.Proven {
		t.Errorf("choice %+v, want cutter 10 alone with 3 settings, proven", c)
	}
	for i, want := range []int{4, 4, 3} {
		if s := c.Singles[i]; s.Settings != want || s.Cannot != nil {
			t.Errorf("cutter %v alone: %+v, want %d settings", s.Cutter, s, want)
		}
	}
	if len(p.Problems) != 1 || p.Problems[0].Kind != part.OuterSlot {
		t.Errorf("problems %v, want only that the rim is drawn like a slot", p.Problems)
	}
	for _, b := range p.Blends {
		if !b.Tangent || b.Gap > tiny || math.Abs(float64(b.Kink)) > tiny {
			t.Errorf("blend %+v, want tangent", b)
		}
	}
	near(t, "normal at the rim's end", p.Blends[0].Normal.Sub(at(0, 1)).Norm(), 0, tiny)
	near(t, "normal at the hollow's end", p.Blends[2].Normal.Sub(at(-1, 0)).Norm(), 0, tiny)
}

// Past the ends of the plate's arcs cutter 10 stands as follows, h = 0.002 being let pass.
//
// Rim (swing 60 about the pivot) beside a boss (20 about 40 off): after t more the cutter's axis is
// √(60² + 40² − 2·60·40·cos t) from the boss's centre, more than 20 all the way round: free. Boss beside the
// rim: √(40² + 20² + 2·40·20·cos t) from the pivot, and below 60 − h it gouges. Boss beside the hollow:
// √(40² + 20² − 2·40·20·cos t), and above 20 + h it gouges. Hollow beside a boss: the same distance from the
// boss's centre, above 20: free.
//
// Stopped s before its end, with the neighbour cut to its own, an arc of radius R is left with a cusp whose top
// is on both cutters' circles, half of s from either: R ± h, S and 5 are the sides of a triangle.
func TestEndsOfTheQuadrantPlate(t *testing.T) {
	const h = 0.002
	p := made(t, quadrant(), part.Options{Cutters: []float64{10}})
	bossRim := math.Acos(((60-h)*(60-h) - 2000) / 1600)
	bossHollow := math.Acos((2000 - (20+h)*(20+h)) / 1600)
	cusp := func(axis, top float64) float64 { return 2 * math.Acos((axis*axis+top*top-25)/(2*axis*top)) }
	for _, want := range []struct {
		arc, end, into int
		past, short    float64
	}{
		{1, 0, 0, math.Inf(1), cusp(60, 55+h)}, {1, 1, 0, math.Inf(1), cusp(60, 55+h)},
		{2, 0, 1, bossRim, cusp(20, 15+h)}, {2, 1, 3, bossHollow, cusp(20, 15+h)},
		{3, 0, 0, math.Inf(1), cusp(20, 25-h)}, {3, 1, 0, math.Inf(1), cusp(20, 25-h)},
		{4, 0, 3, bossHollow, cusp(20, 15+h)}, {4, 1, 1, bossRim, cusp(20, 15+h)},
	} {
		e := p.Arcs[want.arc-1].Ends[want.end]
		if !e.Tangent || e.Free != math.IsInf(want.past, 1) || e.Into != want.into || e.Before != 0 {
			t.Errorf("arc %d end %d: %+v, want tangent, into %d", want.arc, want.end, e, want.into)
		}
		if e.Past != want.past {
			near(t, "past", e.Past, want.past, tiny)
		}
		near(t, "short", e.Short, want.short, tiny)
	}
	for _, e := range p.Arcs[4].Ends {
		if !e.Free || e.Tangent {
			t.Errorf("open end %+v, want free, and no tangent", e)
		}
	}
}

// comingBy is a plate with a slot-like mouth: a hollow of radius 20 about the origin from 200° to 340°, whose
// ends run on in tangents, and above it a ledge at y = up. A cutter of 10, swung at 15, comes by the ledge with
// up − 15 − 5 to spare on its way from one end to the other.
func comingBy(up float64) part.Outline {
	hollow := geom.ArcOf(at(0, 0), 20, 200*deg, 140*deg)
	right, left := hollow.End.Along(hollow.Heading(1), 20), hollow.Start.Along(hollow.Heading(0), -20)
	return part.Outline{Loops: [][]part.Piece{pieces(hollow, geom.Straight(hollow.End, right), geom.Straight(right, at(100, up)),
		geom.Straight(at(100, up), at(-100, up)), geom.Straight(at(-100, up), left), geom.Straight(left, hollow.Start))}}
}

// Where the cutter never gouges but comes by within half a millimetre, it may go on as far as the other end.
func TestPastWithLittleClearance(t *testing.T) {
	for _, c := range []struct{ up, past float64 }{{20.6, math.Inf(1)}, {20.4, float64(220 * deg)}, {19.99, 0}} {
		o := comingBy(c.up)
		for k := range o.Loops[0] { // it is the hole in a plate: its metal is outside
			o.Loops[0][k].Metal = []part.Said{{Side: part.Outside, By: "the test"}}
		}
		p := made(t, o, part.Options{Cutters: []float64{10}})
		e := p.Arcs[0].Ends[1]
		want := c.past
		if c.up < 20 {
			// It gouges the ledge by h where its axis is up − 5 + h high: from the end at 340° on to asin of that.
			want = math.Asin((c.up-5+0.002)/15) + float64(20*deg)
		}
		if e.Past != want && !(math.Abs(e.Past-want) < 1e-9) || e.Free != (c.up > 20) {
			t.Errorf("ledge %v: past %v, free %v, want %v", c.up, e.Past, e.Free, want)
		}
	}
}

// The link's rounds stop at their tangent straights; the bore is a full circle. The upper straight runs
// from x = 30 to −30 with its metal below: a clockwise cutter, metal on the left of its run, goes that
// way, D/2 above it.
func TestLink(t *testing.T) {
	p := made(t, link(), part.Options{Cutters: []float64{8}})
	upper := p.Lines[0]
	if upper.N != 2 || !upper.Sliding || upper.Slide != 0 || upper.Cutter != 8 {
		t.Errorf("upper straight %+v, want element 2, cut along X", upper)
	}
	near(t, "axis", upper.Axis[0].Sub(at(30, 24)).Norm()+upper.Axis[1].Sub(at(-30, 24)).Norm(), 0, tiny)
	left := made(t, link(), part.Options{Cutters: []float64{8}, LeftHand: true})
	near(t, "axis, left hand", left.Lines[0].Axis[0].Sub(at(-30, 24)).Norm(), 0, tiny)
	bore := p.Arcs[2]
	if bore.Side != part.Outside || !bore.Full() || bore.Sense != part.Clockwise || bore.Ends != [2]part.End{} {
		t.Errorf("bore %+v", bore)
	}
	near(t, "bore's swing", bore.Swing, 8, tiny)
	// t past its end a round gouges its straight by S(1 − cos t), of which 0.002 is let pass.
	near(t, "past", p.Arcs[0].Ends[1].Past, math.Acos(1-0.002/24), tiny)
	// A straight may run on past a round: the round falls away. The cusp between two cutters of radius r stands
	// r − √(r² − s²/4) proud of it, 0.002 where s is twice √(2·r·0.002 − 0.002²).
	if e := upper.Ends[0]; !e.Free || !math.IsInf(e.Past, 1) || e.Next != 1 {
		t.Errorf("straight's end %+v, want free", e)
	}
	near(t, "short", upper.Ends[0].Short, 2*math.Sqrt(2*4*0.002-0.002*0.002), tiny)
	// One setting for both rounds, one for the bore, which the rim still holds then; straights last.
	var order []int
	for _, s := range p.Order {
		order = append(order, s.N)
	}
	if want := []int{5, 1, 3, 2, 4}; !slices.Equal(order, want) {
		t.Errorf("order %v, want %v", order, want)
	}
	if !slices.Contains(p.Order[4].Reasons, part.FreesPart) || !reflect.DeepEqual(p.Releases, []part.Release{{N: 4, Place: 4}}) {
		t.Errorf("last %+v, releases %+v, want element 4 to free the part", p.Order[4], p.Releases)
	}
	for place, want := range [][]int{nil, {2, 3, 4}, {2, 4}, {4}, nil} { // the rim of 1 to 4 holds it, the bore does not
		if got := p.Holding(place); !slices.Equal(got, want) {
			t.Errorf("behind place %d elements %v hold the part, want %v", place, got, want)
		}
	}
}

// Turned by t a rotary table cuts the place at bearing β of its frame where b − β = t, so the hollow,
// which the head would be swung along clockwise, has the table turned anticlockwise, and the work moves
// against the readout.
func TestQuadrantPlateOnATable(t *testing.T) {
	p := made(t, quadrant(), part.Options{Cutters: []float64{10}, Datum: at(-5, 2), Rotary: true, CutterBearing: 90 * deg})
	for i, want := range []part.Sense{part.Clockwise, part.Clockwise, part.Anticlockwise, part.Clockwise, part.NoSense} {
		if p.Arcs[i].Sense != want {
			t.Errorf("arc %d: table %v, want %v", i+1, p.Arcs[i].Sense, want)
		}
	}
	a := p.Arcs[3]
	near(t, "table's start", a.TableStart.Degrees(), -90, tiny)
	near(t, "table's stop", a.TableStop.Degrees(), -270, tiny)
	near(t, "work moved", a.Wind.Sub(at(-45, 2)).Norm(), 0, tiny)
}

// Concave radii need more than D/2, and the offset slide must be able to set them: a bore of radius 4 is
// too tight for cutter 8, and with cutter 6 swings at 1, which a slide that begins at 10 cannot set.
func TestTooTightAndOutOfTravel(t *testing.T) {
	o := link()
	o.Loops[1] = pieces(geom.ArcOf(at(0, 0), 4, 0, 360*deg))
	for _, c := range []struct {
		opt  part.Options
		want part.Problem
	}{
		{part.Options{Cutters: []float64{8}}, part.Problem{Kind: part.TooTight, N: 5, Size: 4, Need: 4, Cutter: 8}},
		{part.Options{Cutters: []float64{6}, SwingMin: 10}, part.Problem{Kind: part.OutOfTravel, N: 5, Size: 1, Need: 10, Cutter: 6}},
		{part.Options{Cutters: []float64{6}, SwingMax: 22}, part.Problem{Kind: part.OutOfTravel, N: 1, At: at(30, 0), Size: 23, Need: 22,
			Cutter: 6}},
	} {
		p := made(t, o, c.opt)
		if len(p.Problems) == 0 || p.Problems[0] != c.want {
			t.Errorf("problems %+v, want first %+v", p.Problems, c.want)
			continue
		}
		for _, a := range p.Arcs {
			if a.N == c.want.N && (a.Swing != 0 || a.Group != 0) {
				t.Errorf("arc %d: swing %v, want none", a.N, a.Swing)
			}
		}
		if len(p.Order) != 5 {
			t.Errorf("order of %d, want all 5", len(p.Order))
		}
	}
	text := part.Problem{Kind: part.TooTight, N: 5, Size: 4, Need: 4, Cutter: 8}.Text(geom.Millimetre)
	if text != "arc 5: concave radius 4.000 mm, need above 4.000 mm for cutter 8.000 mm" {
		t.Errorf("text %q", text)
	}
}

// A boss of radius 15 stands in the middle of a round pocket of radius 24: the moat is 9 wide. Cutter
// 10 on either wall passes 1 mm beyond the other, cutter 8 has 1 mm to spare, cutter 9 fills it.
func TestMoatRoundABoss(t *testing.T) {
	o := part.Outline{Loops: [][]part.Piece{
		pieces(geom.ArcOf(at(7, 7), 40, 0, 360*deg)),
		said(part.Outside, geom.ArcOf(at(7, 7), 24, 0, 360*deg)),
		pieces(geom.ArcOf(at(7, 7), 15, 0, 360*deg)),
	}}
	p := made(t, o, part.Options{Cutters: []float64{10}})
	for i, want := range []part.Side{part.Inside, part.Outside, part.Inside} {
		if p.Arcs[i].Side != want {
			t.Errorf("arc %d: metal %v, want %v", i+1, p.Arcs[i].Side, want)
		}
	}
	if len(p.Problems) != 2 || p.Problems[0].Kind != part.Gouge || p.Problems[0].N != 2 || p.Problems[0].Other != 3 ||
		p.Problems[1].Other != 2 {
		t.Fatalf("problems %+v, want two gouges", p.Problems)
	}
	for _, g := range p.Problems {
		near(t, "gouge", g.Size, 1, tiny)
	}
	// With 8 at hand too, the moat's walls are cut with 8.
	p = made(t, o, part.Options{Cutters: []float64{10, 8}})
	if p.Problems != nil || p.Arcs[1].Cutter != 8 || p.Arcs[2].Cutter != 8 {
		t.Errorf("problems %+v, cutters %v and %v, want none, 8 and 8", p.Problems, p.Arcs[1].Cutter, p.Arcs[2].Cutter)
	}
	// Cutter 9 fills the moat: the wall opposite is touched too, and no sense is right for both.
	p = made(t, o, part.Options{Cutters: []float64{9}})
	if p.Arcs[1].Sense != part.NoSense || p.Arcs[2].Sense != part.NoSense || p.Arcs[0].Sense != part.Anticlockwise {
		t.Errorf("senses %v, %v, %v, want none in the moat", p.Arcs[1].Sense, p.Arcs[2].Sense, p.Arcs[0].Sense)
	}
}

// An inner corner cannot be cut sharp: a convex round of radius 20 about the origin, metal inside, runs
// at its right end (20, 0) against a wall straight out along +x whose metal is below. Cutter 10, swung at
// 25, touches the wall when it stands 5 above it: at asin(5/25) = 11.54°, and there it must stop. Come
// to the end it would bite 5.
func TestInnerCorner(t *testing.T) {
	round := geom.ArcOf(at(0, 0), 20, 0, 180*deg)
	box := pieces(round, geom.Straight(at(-20, 0), at(-20, -50)), geom.Straight(at(-20, -50), at(60, -50)),
		geom.Straight(at(60, -50), at(60, 0)), geom.Straight(at(60, 0), at(20, 0)))
	p := made(t, part.Outline{Loops: [][]part.Piece{box}}, part.Options{Cutters: []float64{10}, Limits: part.Limits{Gouge: 1e-9}})
	e := p.Arcs[0].Ends[0]
	near(t, "stops before", e.Before, math.Asin(5.0/25), 1e-7)
	want := part.Problem{Kind: part.Corner, N: 1, Other: 5, Cutter: 10, Size: 5, Need: 1e-9}
	if i := slices.IndexFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.Corner && q.N == 1 }); i < 0 {
		t.Errorf("problems %+v, want %+v", p.Problems, want)
	} else {
		near(t, "corner", p.Problems[i].Size, 5, tiny)
		near(t, "place", p.Problems[i].At.Sub(at(25, 0)).Norm(), 0, tiny)
	}
	// The wall's own end: the axis runs 5 above it and touches the round when √(x² + 5²) = 25.
	near(t, "the wall stops before", p.Lines[3].Ends[1].Before, math.Sqrt(25*25-5*5)-20, 1e-6)
	// At the left end the round meets a straight that runs on down: tangent, any way past it gouges.
	left := p.Arcs[0].Ends[1]
	if left.Before != 0 || left.Free || !left.Tangent {
		t.Errorf("left end %+v, want to stop there", left)
	}
	near(t, "past", left.Past, math.Acos(1-1e-9/25), 1e-9)
}

// Arcs about one centre that meet end to end are one arc, a circle in pieces is a circle, also where
// the loop begins amid it; an arc that goes back the way it came is none of it.
func TestJoinsArcsThatAreOne(t *testing.T) {
	o := link()
	o.Loops[0][0] = part.Piece{Element: geom.ArcOf(at(30, 0), 20, 10*deg, 80*deg), Source: "b"}
	o.Loops[0] = append(o.Loops[0], part.Piece{Element: geom.ArcOf(at(30, 0), 20, -90*deg, 100*deg), Source: "a"})
	o.Loops[1] = pieces(geom.ArcOf(at(0, 0), 12, 20*deg, -100*deg), geom.ArcOf(at(0, 0), 12, -80*deg, -100*deg),
		geom.ArcOf(at(0, 0), 12, -180*deg, -160*deg))
	o.Open = [][]part.Piece{pieces(geom.ArcOf(at(100, 0), 12, 0, 50*deg), geom.ArcOf(at(100, 0), 12, 50*deg, -20*deg))}
	p := made(t, o, part.Options{})
	var got []string
	for _, a := range p.Arcs {
		got = append(got, fmt.Sprintf("%d %.0f+%.0f %s", a.N, a.From.Degrees(), a.Sweep.Degrees(), a.Source))
	}
	if want := "1 270+180 a, b; 3 90+180 e3; 5 0+360 e1, e2, e3; 6 0+50 e1; 7 30+20 e2"; strings.Join(got, "; ") != want {
		t.Errorf("arcs %q, want %q", strings.Join(got, "; "), want)
	}
	if p.Arcs[0].Swing != 0 || p.Arcs[3].Swing != 12 {
		t.Errorf("without a cutter: swings %v and %v, want 0 and, on its arc, 12", p.Arcs[0].Swing, p.Arcs[3].Swing)
	}
}

func TestGapsKinksAndCrossings(t *testing.T) {
	o := link()
	o.Loops[0][1].Start.Y += 0.02
	o.Loops[0][3].Start.Y += 0.001
	o.Loops[1] = pieces(geom.ArcOf(at(0, 9), 12, 0, 360*deg))
	p := made(t, o, part.Options{})
	var got []string
	for _, q := range p.Problems {
		got = append(got, q.Kind.String()+": "+q.Text(geom.Millimetre))
	}
	want := []string{
		"crossing: elements 2 and 5: touch or cross at ", // either of two places
		"gap: elements 1 and 2: gap 0.020 mm at 30.000, 20.010, let pass 0.005 mm",
		"skew: straight 2: out by 0.020 mm along the nearest slide, let pass 0.005 mm",
	}
	if len(got) != 3 || got[1] != want[1] || got[2] != want[2] || !strings.HasPrefix(got[0], want[0]) {
		t.Errorf("problems\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	// A straight that leaves the round at 1° is nearly tangent; one at 30° is a corner that is meant.
	for _, c := range []struct {
		kink  float64
		told  bool
		round bool
	}{{0.05, false, true}, {1, true, false}, {30, false, false}} {
		arc := geom.ArcOf(at(0, 0), 20, 0, 90*deg)
		line := geom.Straight(arc.End, arc.End.Along(geom.FromDegrees(180+c.kink), 30))
		p := made(t, part.Outline{Open: [][]part.Piece{pieces(arc, line)}}, part.Options{OpenSide: part.Inside})
		told := slices.ContainsFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.Kink })
		if told != c.told || p.Blends[0].Tangent != c.round {
			t.Errorf("kink %v°: told %v, tangent %v, want %v, %v", c.kink, told, p.Blends[0].Tangent, c.told, c.round)
		}
		// The run turns left, towards the metal.
		near(t, "kink", p.Blends[0].Kink.Degrees(), c.kink, tiny)
	}
}

// An open chain takes the side asked for, along one hand of its run: of an S whose first arc has its
// metal inside, the second has it outside.
func TestOpenChainsSide(t *testing.T) {
	s := pieces(geom.ArcOf(at(0, 0), 20, 0, 90*deg), geom.ArcOf(at(0, 50), 30, -90*deg, -60*deg))
	for _, c := range []struct{ ask, first, second part.Side }{{part.On, part.On, part.On}, {part.Inside, part.Inside, part.Outside},
		{part.Outside, part.Outside, part.Inside}} {
		p := made(t, part.Outline{Open: [][]part.Piece{s}}, part.Options{OpenSide: c.ask, Cutters: []float64{8}})
		if p.Arcs[0].Side != c.first || p.Arcs[1].Side != c.second {
			t.Errorf("asked %v: %v and %v, want %v and %v", c.ask, p.Arcs[0].Side, p.Arcs[1].Side, c.first, c.second)
		}
	}
}

func TestReordered(t *testing.T) {
	p := made(t, link(), part.Options{Cutters: []float64{8}})
	q, err := p.Reordered([]int{2, 1, 4, 3, 5})
	if err != nil {
		t.Fatal(err)
	}
	// The link is cut all round with element 3; the bore, 5, is still to come.
	if want := []part.Release{{N: 3, Place: 3, Left: []int{5}}}; !reflect.DeepEqual(q.Releases, want) {
		t.Errorf("releases %+v, want %+v", q.Releases, want)
	}
	if q.Order[1].N != 1 || !q.Order[1].Sets || q.Order[3].Sets || !q.Order[4].Sets {
		t.Errorf("order %+v, want the swing set at elements 1 and 5", q.Order)
	}
	if p.Order[0].N != 5 {
		t.Error("the part itself was changed")
	}
	for _, c := range []struct {
		order []int
		want  part.OrderError
	}{{[]int{1, 2, 3, 4}, part.OrderError{N: 5, Known: true}}, {[]int{1, 2, 3, 4, 4, 5}, part.OrderError{N: 4, Times: 2, Known: true}},
		{[]int{1, 2, 3, 4, 6}, part.OrderError{N: 6}}} {
		var got *part.OrderError
		if _, err := p.Reordered(c.order); !errors.As(err, &got) || *got != c.want {
			t.Errorf("order %v: %v, want %v", c.order, err, &c.want)
		}
	}
}

// The quadrant plate's outline has arcs only: the last of them frees the part, so the setting that
// holds it comes after the slot, and its small bosses before the rim.
func TestOrderOfTheQuadrantPlate(t *testing.T) {
	p := made(t, quadrant(), part.Options{Cutters: []float64{10}})
	var got []string
	for _, s := range p.Order {
		got = append(got, fmt.Sprintf("%d%v", s.N, s.Reasons))
	}
	if want := "5[by size] 2[small and convex, while it is stiff] 3[same setting] 4[same setting] 1[by size " +
		"frees the part]"; strings.Join(got, " ") != want {
		t.Errorf("order %v, want %v", got, want)
	}
}

func TestBadNumbers(t *testing.T) {
	var option *part.OptionError
	for _, opt := range []part.Options{{Cutters: []float64{-1}}, {Cutters: []float64{math.NaN()}}, {SwingMin: 5, SwingMax: 4},
		{SwingMin: math.NaN()},
		{Limits: part.Limits{Gap: -1}}, {Datum: at(math.Inf(1), 0)}} {
		if _, err := part.Make(link(), opt); !errors.As(err, &option) {
			t.Errorf("%+v: %v, want an OptionError", opt, err)
		}
	}
	o := link()
	o.Loops[0][2].Radius = math.NaN()
	var piece *part.PieceError
	if _, err := part.Make(o, part.Options{}); !errors.As(err, &piece) || piece.Source != "e3" {
		t.Errorf("%v, want a PieceError about e3", err)
	}
	if _, err := part.Make(part.Outline{}, part.Options{}); err != part.ErrEmpty {
		t.Errorf("%v, want ErrEmpty", err)
	}
}
