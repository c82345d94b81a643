package geom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// scattered are boxes by chance, some of them large, some alike, and some about one middle.
func scattered(chance *rand.Rand, n int) []Box {
	all := make([]Box, n)
	for i := range all {
		p := Point{math.Round(chance.Float64() * 20), chance.Float64() * 20}
		if chance.IntN(4) == 0 {
			p = Point{10, 10}
		}
		w, h := chance.Float64(), chance.Float64()
		if chance.IntN(8) == 0 {
			w, h = 10*w, 10*h
		}
		all[i] = Box{p.Sub(Point{w, h}), p.Add(Point{w, h})}
		if i > 0 && chance.IntN(8) == 0 {
			all[i] = all[chance.IntN(i)]
		}
	}
	return all
}

// TestBoxes holds what is found to a look at every box.
func TestBoxes(t *testing.T) {
	chance := rand.New(rand.NewPCG(22, 6))
	for n := range 200 {
		all := scattered(chance, n)
		boxes := NewBoxes(all)
		for range 10 {
			window := scattered(chance, 1)[0]
			var want []int
			for i, b := range all {
				if b.Meets(window) {
					want = append(want, i)
				}
			}
			if got := boxes.Meeting(window); !slices.Equal(got, want) {
				t.Fatalf("of %d boxes %v meet %v, want %v", n, got, window, want)
			}
			p := Point{math.Round(chance.Float64() * 20), math.Round(chance.Float64() * 20)}
			least, at := math.Inf(1), -1
			for i, b := range all {
				if d := b.Distance(p); d < least {
					least, at = d, i
				}
			}
			far, i := boxes.Least(func(b Box) float64 { return b.Distance(p) }, func(i int) float64 { return all[i].Distance(p) })
			if far != least || i != at {
				t.Fatalf("of %d boxes %d is nearest to %v, %v off, want %d, %v", n, i, p, far, at, least)
			}
		}
	}
}

// waves is a ring of n arcs, bowed out and in by turns, with a gap of so much between them.
func waves(n int, gap float64) Chain {
	var c Chain
	at := func(i int) Point { return Point{}.Along(Bearing(2*math.Pi*float64(i)/float64(n)), 50+float64(i%3)) }
	for i := range n {
		a, b := at(i), at((i+1)%n)
		e := Bulged(a, b, [...]float64{0.4, 0, -0.7, 1.5}[i%4])
		e.End = e.End.Add(Point{gap, 0})
		c = append(c, e)
	}
	return c
}

// TestLoop holds what a loop tells to what its chain does, at places beside it, on it, on chords and at corners.
func TestLoop(t *testing.T) {
	chance := rand.New(rand.NewPCG(22, 7))
	for _, gap := range []float64{0, 1e-6, 0.01, 1} {
		for _, n := range []int{3, 17, 40, 300} {
			c := waves(n, gap)
			if n%2 == 1 {
				c = c.Reversed()
			}
			l, box := NewLoop(c), Box{}
			places := []Point{{}, {200, 0}}
			for i, e := range c {
				lo, hi := e.Bounds()
				if box = box.And(Box{lo, hi}); i < 40 {
					places = append(places, e.Start, e.End, e.At(0.3), e.Start.Add(e.End).Times(0.5), e.Centre)
				}
			}
			for range 300 {
				places = append(places, Point{}.Along(Bearing(7*chance.Float64()), 46+8*chance.Float64()), Point{60 * chance.Float64(), 52})
			}
			for _, p := range places {
				if got, want := l.Holds(p), c.Holds(p); got != want {
					t.Errorf("%d elements, gap %v: holds %v is %v, want %v", n, gap, p, got, want)
				}
				nearest := math.Inf(1)
				for _, e := range c {
					d, _ := e.Distance(p)
					nearest = min(nearest, d)
				}
				if got := l.Distance(p); got != nearest {
					t.Errorf("%d elements: %v lies %v off, want %v", n, p, got, nearest)
				}
			}
			if b := l.Box(); b.And(box) != b {
				t.Errorf("%d elements lie in %v, want at least %v", n, b, box)
			}
		}
	}
}

// TestBoxesGrow holds how many boxes are looked at to the logarithm of how many there are.
func TestBoxesGrow(t *testing.T) {
	looks := func(n int) (each float64) {
		side := int(math.Ceil(math.Sqrt(float64(n))))
		all := make([]Box, n)
		for i := range all {
			p := Point{float64(3 * (i % side)), float64(3 * (i / side))}
			all[i] = Box{p, p.Add(Point{2, 2})}
		}
		boxes, looked := NewBoxes(all), 0
		for _, b := range all {
			if got := boxes.Where(func(o Box) bool { looked++; return o.Meets(b) }); len(got) != 1 {
				t.Fatal(got)
			}
		}
		return float64(looked) / float64(n)
	}
	if few, many := looks(500), looks(32_000); many > few*math.Log(32_000)/math.Log(500)*1.5 {
		t.Errorf("a question of 500 boxes takes %.0f looks, of 32 000 %.0f: want it to grow as the logarithm", few, many)
	} else {
		t.Logf("%.1f and %.1f looks", few, many)
	}
}

// TestElementBox holds that no place of an element lies outside of its box, whatever way the element is asked, its ends off its
// circle too.
func TestElementBox(t *testing.T) {
	chance := rand.New(rand.NewPCG(22, 8))
	for range 2000 {
		e := ArcOf(Point{100 * chance.Float64(), 1e5 * chance.Float64()}, 30*chance.Float64()+0.1, Bearing(7*chance.Float64()),
			Bearing(12*chance.Float64()-6))
		switch chance.IntN(3) {
		case 0:
			e = Straight(e.Start, e.End)
		case 1:
			e.Start, e.End = e.Start.Add(Point{0.3 * chance.Float64(), 0}), e.End.Add(Point{0, 0.3 * chance.Float64()})
		}
		b := e.Box()
		for k := range 21 {
			if p := e.At(float64(k) / 20); b.Distance(p) > 0 {
				t.Fatalf("%+v has the place %v, outside of %v", e, p, b)
			}
		}
		p := Point{100 * chance.Float64(), 1e5 * chance.Float64()}
		if d, _ := e.Distance(p); d < b.Distance(p) {
			t.Fatalf("%+v lies %v off %v, its box %v", e, d, p, b.Distance(p))
		}
	}
}
