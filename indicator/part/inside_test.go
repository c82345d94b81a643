package part_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// What lies inside an outline is cut before that, on one level, while the outline holds it all round (common practice, no source): of
// plates with drawn bores, and an arc slot about the first of them, no setting that serves the rim alone comes before one that serves
// the inside alone, nothing inside is left once the part is loose, and the bore about whose centre the slot lies comes behind that,
// for it may be swept for it.
func TestInsideComesBeforeTheRim(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 2))
	alone := 0
	for range 200 {
		half, round := 60+20*rng.Float64(), 8+12*rng.Float64()
		bore := func(x float64) []part.Piece { return pieces(geom.ArcOf(at(x, 0), 5+3*rng.Float64(), 0, 360*deg)) }
		loops := [][]part.Piece{rectangle(half, 45, round), bore(0), pieces(arcSlot(25, 6.5, 20*deg, 60*deg)...), bore(-half + 18),
			bore(half - 18)}
		p := made(t, part.Outline{Loops: loops}, part.Options{Cutters: []float64{6}})
		place := map[int]int{}
		for i, s := range p.Order {
			place[s.N] = i
		}
		if len(p.Releases) != 1 || len(p.Releases[0].Left) > 0 {
			t.Errorf("releases %+v, want one with nothing left", p.Releases)
		}
		rim := func(n int) bool { return n <= 8 }
		for _, in := range p.Groups {
			for _, out := range p.Groups {
				if slices.ContainsFunc(in.Arcs, rim) || slices.ContainsFunc(out.Arcs, func(n int) bool { return !rim(n) }) {
					continue
				}
				if alone++; place[in.Arcs[0]] > place[out.Arcs[0]] {
					t.Errorf("setting %d of arcs %v inside comes behind setting %d of the rim's %v", in.N, in.Arcs, out.N, out.Arcs)
				}
			}
		}
		if wall := p.Slots[0].Walls[0]; p.Swung(wall).Group != p.Swung(9).Group && place[9] < place[wall] {
			t.Errorf("bore 9 is cut in step %d, before the slot's wall %d in %d, for which it may be swept", place[9], wall, place[wall])
		}
	}
	if alone < 400 {
		t.Errorf("%d pairs of settings, want 400 at least", alone)
	}
}

// rectangle is an outline about the origin with rounded corners, its elements 1 to 8.
func rectangle(w, h, r float64) []part.Piece {
	var all []geom.Element
	var last geom.Point
	for i, c := range []geom.Point{at(w-r, h-r), at(r-w, h-r), at(r-w, r-h), at(w-r, r-h)} {
		a := geom.ArcOf(c, r, geom.Bearing(i)*90*deg, 90*deg)
		if i > 0 {
			all = append(all, geom.Straight(last, a.Start))
		}
		all, last = append(all, a), a.End
	}
	return pieces(append(all, geom.Straight(last, all[0].Start))...)
}

// The plate of two levels by one cutter: the boss down to the plate, then slot and bore, then the rim. The bore is cut before the rim's
// arcs about its centre, so for those the hole that can be swept is its own, and not before.
func TestWhatHoleIsThere(t *testing.T) {
	p := made(t, tensioner(said(part.Inside, circle(14))), part.Options{Cutters: []float64{8}})
	bore := slices.IndexFunc(p.Order, func(s part.Step) bool { a := p.Swung(s.N); return a != nil && a.Full() && a.Side == part.Outside })
	plate := part.NewPlate(p, "plate")
	behind := 0
	for i, s := range p.Order {
		a := p.Swung(s.N)
		want := 0
		if a != nil && a.Swing > 0 && i > bore && math.Hypot(a.Centre.X, a.Centre.Y) < 1e-9 {
			want, behind = p.Order[bore].N, behind+1
		}
		if got := p.Taken()[i]; got != want {
			t.Errorf("ahead of element %d there is the hole of %d, want %d", s.N, got, want)
		}
		kept := plate.Taken(plate.Task(s.N))
		if len(kept) > 1 || len(kept) == 1 && kept[0].N != want || len(kept) == 0 && want > 0 {
			t.Errorf("the plate has %v ahead of element %d, want %d", kept, s.N, want)
		}
	}
	if bore < 0 || behind == 0 {
		t.Errorf("bore in step %d, %d arcs about its centre behind it, want some", bore, behind)
	}
}
