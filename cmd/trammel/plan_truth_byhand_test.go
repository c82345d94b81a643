package main

import (
	"math"
	"testing"
)

// The clamping slot: centre line 36, width 8, round ends at 20° and 70°.
func trueSlot() *trueContour {
	return &trueContour{closed: true, metal: "outside", edges: []trueEdge{
		trueArc(trueSpot{}, 40, 20, 50), trueArc(trueRound(trueSpot{}, 36, 70), 4, 70, 180),
		trueArc(trueSpot{}, 32, 20, 50), trueArc(trueRound(trueSpot{}, 36, 20), 4, 200, 180),
	}}
}

// A bar along X from −50 to 50 and 8 high, with round ends: metal.
func trueBar() *trueContour {
	return &trueContour{closed: true, metal: "inside", edges: []trueEdge{
		{a: trueSpot{-50, -4}, b: trueSpot{50, -4}}, trueArc(trueSpot{50, 0}, 4, 270, 180),
		{a: trueSpot{50, 4}, b: trueSpot{-50, 4}}, trueArc(trueSpot{-50, 0}, 4, 90, 180),
	}}
}

func byHand(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %.9f, by hand %.9f", what, got, want)
	}
}

// Distances, sides and corners against what is plain to see on the sketch.
func TestTrueGeometryByHand(t *testing.T) {
	slot, bar, c := trueSlot(), trueBar(), trueSpot{}
	far, _ := slot.away(trueRound(c, 36, 45))
	byHand(t, "from the slot's middle to a wall", far, 4, 1e-12)
	far, _ = slot.away(trueRound(c, 36, 20))
	byHand(t, "from the slot's end centre to its end", far, 4, 1e-12)
	far, _ = bar.away(trueSpot{57, 4})
	byHand(t, "from beside the bar's end, √(7² + 4²) − 4", far, math.Sqrt(65)-4, 1e-12)
	for _, x := range []struct {
		k     *trueContour
		p     trueSpot
		metal bool
	}{
		{slot, trueRound(c, 36, 45), false}, {slot, trueRound(c, 31.9, 45), true}, {slot, c, true}, {slot, trueRound(c, 36, 76), false},
		{slot, trueRound(c, 36, 77), true},
		{bar, c, true}, {bar, trueSpot{53.9, 0}, true}, {bar, trueSpot{54.1, 0}, false}, {bar, trueSpot{0, 4.1}, false},
	} {
		if got := x.k.inMetal(x.p); got != x.metal {
			t.Errorf("in metal at %.2f, %.2f: %v, by hand %v", x.p.x, x.p.y, got, x.metal)
		}
	}
	for i, want := range []string{"outside", "outside", "inside", "outside"} {
		if got := slot.sideOf(i); got != want {
			t.Errorf("metal of the slot's arc %d: %s, by hand %s", i, got, want)
		}
	}
	if j, kink, ok := bar.neighbour(1, true); j != 0 || !ok || kink > 1e-9 {
		t.Errorf("the bar's end meets element %d at %v°, %v; by hand the straight, tangent", j, kink, ok)
	}
	square := &trueContour{edges: []trueEdge{{b: trueSpot{10, 0}}, {a: trueSpot{10, 0}, b: trueSpot{10, 10}}}}
	if j, kink, ok := square.neighbour(0, false); j != 1 || !ok || math.Abs(kink-90) > 1e-9 {
		t.Errorf("a square corner: element %d at %v°, %v; by hand 1 at 90°", j, kink, ok)
	}
	if _, _, ok := square.neighbour(0, true); ok {
		t.Error("an open end meets something")
	}
	if got := trueTurn(350, 20); math.Abs(got-30) > 1e-12 {
		t.Errorf("from 350° to 20° anticlockwise: %v°, by hand 30", got)
	}
}

// Windows against figures worked by hand, by the law of cosines in the triangle of the two centres and the axis, or of
// the crest; cutter 6 mm, 0.002 mm let pass unless it says otherwise.
func TestTrueWindowsByHand(t *testing.T) {
	slot, bar, c := trueSlot(), trueBar(), trueSpot{}
	// Past the outer wall (swing 37) the cap, centre at 36, leaves the axis 1 mm of room: 1.002² = 36² + 37² − 2·36·37·cos φ.
	outer, inner := trueSwing{c, 37, 3}, trueSwing{c, 35, 3}
	past, into, _ := slot.firstBeyond(outer, 70, 1, 310, 0.002)
	byHand(t, "past the outer wall", past, 0.0993385, 1e-7)
	if into != 1 {
		t.Errorf("past the outer wall it cuts element %d, by hand the cap at 70°", into)
	}
	past, _, _ = slot.firstBeyond(outer, 20, -1, 310, 0.01)
	byHand(t, "past the outer wall's other end, 0.01 let pass", past, 0.2225711, 1e-7)
	past, _, _ = slot.firstBeyond(inner, 70, 1, 310, 0.002)
	byHand(t, "past the inner wall", past, 0.1021373, 1e-7)
	// Past the cap (swing 1) there is the slot's own width: never.
	end := trueSwing{slot.edges[1].centre, 1, 3}
	if past, _, ok := slot.firstBeyond(end, 250, 1, 180, 0.002); ok {
		t.Errorf("past the cap it gouges after %.4f°, by hand never", past)
	}
	// Past the bar's end, swing 7, the straight: 7(1 − cos φ) = 0.002.
	past, _, _ = bar.firstBeyond(trueSwing{trueSpot{50, 0}, 7, 3}, 270, -1, 180, 0.002)
	byHand(t, "past the bar's end", past, math.Acos(1-0.002/7)/trueDegree, 1e-7)
	// Short of the cap's end: the crest stands at 3.998 from its centre, half way between two discs of 3 whose axes are 1 from it:
	// cos(180° − φ/2) = (1² + 3.998² − 3²)/(2·1·3.998) from the far side, φ = 6.277746°.
	byHand(t, "standing short of the cap", slot.standing(1, false, 6.277746470215, slot.path(1, 3), slot.path(2, 3), 3, 3), 0.002, 1e-9)
	// Short of the bar's end, cutter 6 against a straight cut with 12: the crest at 4.002, axes at 7 and at 10 of the end's
	// centre: φ = acos((7² + 4.002² − 3²)/(2·7·4.002)) + acos((10² + 4.002² − 6²)/(2·10·4.002)).
	two := (math.Acos((49+4.002*4.002-9)/(14*4.002)) + math.Acos((100+4.002*4.002-36)/(20*4.002))) / trueDegree
	byHand(t, "standing short of the bar's end", bar.standing(1, true, two, bar.path(1, 3), bar.path(0, 6), 3, 6), 0.002, 1e-9)
}

// Which way is conventional, with the wall of a boss or of a bore at 16, 0.
//
// Source: common practice, no source.
func TestTrueConventionalByHand(t *testing.T) {
	for _, x := range []struct {
		what       string
		left, want bool
		axis, next trueSpot
	}{
		{"right hand, anticlockwise round a boss", false, true, trueSpot{19, 0}, trueSpot{19, 1}},
		{"right hand, clockwise round a boss", false, false, trueSpot{19, 0}, trueSpot{19, -1}},
		{"left hand, clockwise round a boss", true, true, trueSpot{19, 0}, trueSpot{19, -1}},
		{"right hand, clockwise in a bore", false, true, trueSpot{13, 0}, trueSpot{13, -1}},
		{"left hand, clockwise in a bore", true, false, trueSpot{13, 0}, trueSpot{13, -1}},
	} {
		if got := trueConventional(x.left, x.axis, x.next, trueSpot{16, 0}); got != x.want {
			t.Errorf("%s conventional: %v, by hand %v", x.what, got, x.want)
		}
	}
}

// What depth calls the depth of a cut is the deepest of all the metal that a disc takes away, by a net of
// 0.05 mm over the disc; the net misses by no more than its mesh.
func TestTrueDepthIsTheDeepestOfTheCut(t *testing.T) {
	const mesh = 0.05
	slot, bar := trueSlot(), trueBar()
	for _, x := range []struct {
		what string
		k    *trueContour
		axis trueSpot
	}{
		{"past the slot's outer wall", slot, trueRound(trueSpot{}, 37, 73)},
		{"past the bar's end", bar, trueRound(trueSpot{50, 0}, 7, 240)},
	} {
		deepest := 0.0
		for dx := -3.0; dx <= 3; dx += mesh {
			for dy := -3.0; dy <= 3; dy += mesh {
				p := x.axis.plus(trueSpot{dx, dy})
				if far, _ := x.k.away(p); math.Hypot(dx, dy) <= 3 && far > deepest && x.k.inMetal(p) {
					deepest = far
				}
			}
		}
		if depth, _ := x.k.depth(x.axis, 3); depth < 0.5 || math.Abs(depth-deepest) > 1.5*mesh {
			t.Errorf("%s: depth %.3f mm, the net finds %.3f", x.what, depth, deepest)
		}
	}
}
