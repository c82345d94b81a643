package part_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// A quadrant plate whose outline has arcs only, with a square window in it: the window's straights come
// before the arc that frees the part, though straights are otherwise last.
func TestWindowBeforeThePartIsFree(t *testing.T) {
	o := part.Outline{Loops: [][]part.Piece{
		pieces(geom.ArcOf(at(0, 0), 40, 0, 360*deg)),
		pieces(geom.Straight(at(-9, -9), at(9, -9)), geom.Straight(at(9, -9), at(9, 9)), geom.Straight(at(9, 9), at(-9, 9)),
			geom.Straight(at(-9, 9), at(-9, -9))),
	}}
	p := made(t, o, part.Options{Cutters: []float64{6}})
	if last := p.Order[4]; last.N != 1 || !slices.Contains(last.Reasons, part.FreesPart) || len(p.Releases) != 1 ||
		p.Releases[0].Left != nil {
		t.Errorf("last %+v, releases %+v, want the rim to free the part with nothing left", last, p.Releases)
	}
	if a, err := part.Pick(p, 1, "plate"); err != nil || !a.Frees {
		t.Errorf("picked %+v, %v, want an arc that frees the part", a, err)
	}
	// A square outline, drawn first, still comes after the window's straights.
	o.Loops[0] = pieces(geom.Straight(at(-40, -40), at(40, -40)), geom.Straight(at(40, -40), at(40, 40)),
		geom.Straight(at(40, 40), at(-40, 40)), geom.Straight(at(-40, 40), at(-40, -40)))
	if q := made(t, o, part.Options{Cutters: []float64{6}}); q.Releases[0].Left != nil {
		t.Errorf("releases %+v, want nothing left", q.Releases)
	}
	// So does an outline that counts as a small boss beside a larger part.
	o.Loops[0] = pieces(geom.ArcOf(at(0, 0), 20, 0, 360*deg))
	o.Loops = append(o.Loops, pieces(geom.ArcOf(at(200, 0), 60, 0, 360*deg)))
	if q := made(t, o, part.Options{Cutters: []float64{6}}); q.Releases[0].Left != nil {
		t.Errorf("releases %+v, want nothing left", q.Releases)
	}
	// A cutter cannot come into a corner of the window: its axis stops D/2 short of the next wall.
	for _, l := range p.Lines {
		near(t, "stops before", l.Ends[0].Before+l.Ends[1].Before, 2*(3-0.002), 1e-6)
	}
}

// Two parts on one sheet come loose one after the other, each with its own outline.
func TestTwoParts(t *testing.T) {
	o := part.Outline{Loops: [][]part.Piece{pieces(geom.ArcOf(at(0, 0), 20, 0, 360*deg)), pieces(geom.ArcOf(at(90, 0), 20, 0, 360*deg)),
		pieces(geom.ArcOf(at(90, 0), 9, 0, 360*deg))}}
	p := made(t, o, part.Options{Cutters: []float64{6}})
	if len(p.Releases) != 2 || p.Releases[0].N != 1 || p.Releases[1].N != 2 || p.Releases[0].Left != nil || p.Releases[1].Left != nil {
		t.Errorf("releases %+v, want elements 1 and 2, nothing left on either", p.Releases)
	}
}

// A gap that is let pass is not told a second time as a bite into the neighbour beyond it: the wall stands
// 0.004 nearer than tangent.
func TestGapLetPassIsNoBite(t *testing.T) {
	o := link()
	o.Loops[0][1].Start.Y += 0.004
	o.Loops[0][1].End.Y += 0.004
	if p := made(t, o, part.Options{Cutters: []float64{8}}); len(p.Problems) != 1 || p.Problems[0].Kind != part.Slug {
		t.Errorf("problems %+v, want none but the bore's slug", p.Problems)
	}
	o.Loops[0][1].Start.Y += 0.002
	o.Loops[0][1].End.Y += 0.002
	p := made(t, o, part.Options{Cutters: []float64{8}})
	if len(p.Problems) == 0 || p.Problems[0].Kind != part.Gap {
		t.Errorf("problems %+v, want a gap", p.Problems)
	}
}

// A corner has the same kink whichever way the outline is drawn: + for an outer one.
func TestKinkOfCorners(t *testing.T) {
	box := geom.Chain{geom.Straight(at(0, 0), at(50, 0)), geom.Straight(at(50, 0), at(50, 30)), geom.Straight(at(50, 30), at(30, 20)),
		geom.Straight(at(30, 20), at(0, 0))}
	for _, c := range []geom.Chain{box, box.Reversed()} {
		p := made(t, part.Outline{Loops: [][]part.Piece{pieces(c...)}}, part.Options{})
		for _, b := range p.Blends {
			want := map[geom.Point]float64{at(50, 0): 90, at(50, 30): 90 + 26.565051177, at(30, 20): 180 + 33.690067525 - 206.565051177,
				at(0, 0): 180 - 33.690067525}[b.At]
			near(t, "kink", b.Kink.Degrees(), want, 1e-8)
		}
	}
}

// A setting that no blend asks anything of is left at its figure; a whole situation without blends too.
func TestAdviceWithNothingToGoBy(t *testing.T) {
	s := part.Situation{Settings: []part.Setting{{Open: true, Tolerance: 0.02, CentreTolerance: 0.02}}}
	a, err := s.Advise(true)
	if err != nil || len(a.Aims) != 1 || a.Aims[0] != (part.Aim{}) {
		t.Errorf("advice %+v, %v, want to aim at the figure", a, err)
	}
}

// Straights at 30° are for no slide of a mill, and on a rotary table are laid along X by turning it −30°,
// or 150°, which does the same.
func TestSkewStraights(t *testing.T) {
	start := at(0, 0)
	o := part.Outline{Open: [][]part.Piece{pieces(geom.Straight(start, start.Along(30*deg, 40)))}}
	p := made(t, o, part.Options{Cutters: []float64{8}})
	if p.Lines[0].Sliding || len(p.Problems) != 1 || p.Problems[0].Kind != part.Skew {
		t.Errorf("line %+v, problems %+v, want skew", p.Lines[0], p.Problems)
	}
	near(t, "out by", p.Problems[0].Size, 20, tiny) // 40·sin 30°, along X
	p = made(t, o, part.Options{Cutters: []float64{8}, Rotary: true})
	if !p.Lines[0].Sliding || p.Problems != nil {
		t.Errorf("line %+v, problems %+v, want it cut", p.Lines[0], p.Problems)
	}
	near(t, "table", p.Lines[0].Table.Degrees(), 150, tiny)
}

// Left-overs of rounding are no kinks: the plan of coordinates rounded to a thousandth has no problem.
func TestRoundedCoordinates(t *testing.T) {
	round := func(p geom.Point) geom.Point { return at(math.Round(p.X*1e3)/1e3, math.Round(p.Y*1e3)/1e3) }
	o := moved(quadrant(), turned(17*deg, at(3, 5)))
	o = moved(o, func(e geom.Element) geom.Element {
		return geom.Bulged(round(e.Start), round(e.End), math.Round(1e6*math.Tan(float64(e.Turn)/4))/1e6)
	})
	p := made(t, o, part.Options{Cutters: []float64{10}})
	for _, b := range p.Blends {
		if !b.Tangent {
			t.Errorf("blend %+v, want tangent", b)
		}
	}
	for _, q := range p.Problems {
		if q.Kind != part.OuterSlot { // which it is drawn like
			t.Errorf("problem %s", q.Text(geom.Millimetre))
		}
	}
	if len(p.Groups) != 3 {
		t.Errorf("%d groups, want 3", len(p.Groups))
	}
}

// A gap is let pass up to the limit, and no further: a straight that begins 2 beyond the end of an arc of 20 and passes it 1.4 off is
// bitten by a cutter of 1.5 that runs round the arc, however wide the gap.
func TestGapBeyondTheLimitIsABite(t *testing.T) {
	arc := geom.ArcOf(at(0, 0), 20, 0, 180*deg)
	from := at(-22, 0)
	along := geom.Bearing(math.Asin(21.4 / 22)) // of the tangent from there to the circle of 21.4
	line := geom.Straight(from, from.Along(along, 30))
	p := made(t, part.Outline{Open: [][]part.Piece{pieces(arc, line)}}, part.Options{Cutters: []float64{1.5}, OpenSide: part.Inside})
	told := slices.IndexFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.Corner && q.N == 1 && q.Other == 2 })
	if told < 0 {
		t.Fatalf("problems %+v, want a bite of 1 into 2", p.Problems)
	}
	near(t, "bite", p.Problems[told].Size, 0.1, tiny)
}

// A gap of just the limit is none: figures that are exact in binary.
func TestGapAtTheLimit(t *testing.T) {
	opt := part.Options{Cutters: []float64{4}, OpenSide: part.Inside, Limits: part.Limits{Gap: 0.25}}
	arc := geom.ArcOf(at(0, 0), 20, 0, 90*deg)
	arc.End = at(0, 20)
	for gap, none := range map[float64]bool{0.25: true, 0.2500001: false} {
		p := made(t, part.Outline{Open: [][]part.Piece{pieces(arc, geom.Straight(at(-gap, 20), at(-30, 20)))}}, opt)
		told := slices.ContainsFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.Gap })
		if told == none || p.Blends[0].Tangent != none {
			t.Errorf("a gap of %v: told %v, tangent %v; want %v and %v", gap, told, p.Blends[0].Tangent, !none, none)
		}
		// Two arcs of one circle are one up to there.
		first, second := geom.ArcOf(at(0, 0), 5, 0, 53*deg), geom.ArcOf(at(0, 0), 5, 60*deg, 60*deg)
		first.End, second.Start = at(3, 4), at(3, 4+gap)
		p = made(t, part.Outline{Open: [][]part.Piece{pieces(first, second)}}, opt)
		if one := len(p.Arcs) == 1; one != none {
			t.Errorf("a gap of %v between two arcs of one circle: %d arcs, want one: %v", gap, len(p.Arcs), none)
		}
	}
}
