package part_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// What the stops are held to is worked out here from the outline as it was drawn: a disc for the cutter, carried round the arc's
// centre as head, table and ring would, and its distance from the other elements. Nothing of the package is used for it.

// spot is a place, millimetres.
type spot struct{ x, y float64 }

func (p spot) from(q spot) float64 { return math.Hypot(p.x-q.x, p.y-q.y) }
func (p spot) turned(by float64) spot {
	s, c := math.Sincos(by)
	return spot{c*p.x - s*p.y, s*p.x + c*p.y}
}

// edge is a straight from a to b, or an arc about c from bearing from through sweep, counter-clockwise, radians.
type edge struct {
	a, b, c             spot
	radius, from, sweep float64
}

func about(c spot, radius, from, sweep float64) edge {
	at := func(t float64) spot { return spot{c.x + radius*math.Cos(t), c.y + radius*math.Sin(t)} }
	return edge{at(from), at(from + sweep), c, radius, from, sweep}
}

// away is how far a place is from the nearest of the edge.
func (e edge) away(p spot) float64 {
	near := min(p.from(e.a), p.from(e.b))
	if e.radius > 0 {
		t := math.Mod(math.Atan2(p.y-e.c.y, p.x-e.c.x)-e.from, 2*math.Pi)
		if t < 0 {
			t += 2 * math.Pi
		}
		if t <= e.sweep {
			return math.Abs(p.from(e.c) - e.radius)
		}
		return near
	}
	run := spot{e.b.x - e.a.x, e.b.y - e.a.y}
	if k := ((p.x-e.a.x)*run.x + (p.y-e.a.y)*run.y) / (run.x*run.x + run.y*run.y); k > 0 && k < 1 {
		return math.Hypot(p.x-e.a.x-k*run.x, p.y-e.a.y-k*run.y)
	}
	return near
}

// shape is a closed outline of tangent elements, as it is drawn one after the other, the metal within.
type shape struct {
	name  string
	edges []edge
	back  []bool // of each, whether it is run through from b to a
}

// rounded is a polygon, counter-clockwise, with every corner rounded off tangentially by its radius: convex arcs at its outer
// corners and concave ones at its inner ones, with straights between.
func rounded(name string, at []spot, radius []float64) shape {
	s := shape{name: name}
	n := len(at)
	var ins, outs []spot
	var arcs []edge
	var turnsBack []bool
	for i := range at {
		p, q, r := at[(i+n-1)%n], at[i], at[(i+1)%n]
		in, out := math.Atan2(q.y-p.y, q.x-p.x), math.Atan2(r.y-q.y, r.x-q.x)
		turn := math.Remainder(out-in, 2*math.Pi)
		t := radius[i] * math.Tan(math.Abs(turn)/2)
		a, b := spot{q.x - t*math.Cos(in), q.y - t*math.Sin(in)}, spot{q.x + t*math.Cos(out), q.y + t*math.Sin(out)}
		side := math.Copysign(math.Pi/2, turn)
		c := spot{a.x + radius[i]*math.Cos(in+side), a.y + radius[i]*math.Sin(in+side)}
		arc := about(c, radius[i], in-side, turn)
		if turn < 0 {
			arc = about(c, radius[i], out-side, -turn)
		}
		ins, outs, arcs, turnsBack = append(ins, a), append(outs, b), append(arcs, arc), append(turnsBack, turn < 0)
	}
	for i := range at {
		s.edges = append(s.edges, arcs[i], edge{a: outs[i], b: ins[(i+1)%n]})
		s.back = append(s.back, turnsBack[i], false)
	}
	return s
}

// waisted is two rims with concave flanks between them: circles of big and small about places so far apart, joined by arcs of flank
// that touch both from without.
func waisted(big, small, apart, flank float64) shape {
	left, right := spot{}, spot{x: apart}
	d1, d2 := big+flank, small+flank
	x := (apart*apart + d1*d1 - d2*d2) / (2 * apart)
	y := math.Sqrt(d1*d1 - x*x)
	a := math.Atan2(y, x)       // of the flank's centre, from the left
	b := math.Atan2(y, x-apart) // and from the right
	return shape{"waisted", []edge{about(left, big, a, 2*math.Pi-2*a), about(spot{x, -y}, flank, math.Pi-b, b-a),
		about(right, small, -b, 2*b), about(spot{x, y}, flank, math.Pi+a, b-a)}, []bool{false, true, false, true}}
}

// oval is one of four arcs that go over into each other, all convex: nose at either end, flank along both sides.
func oval(nose, flank, apart float64) shape {
	h := math.Sqrt((flank-nose)*(flank-nose) - apart*apart)
	a := math.Atan2(h, apart) // from the centre of the lower flank's arc, which lies above, to a nose's
	return shape{"oval", []edge{about(spot{x: apart}, nose, -a, 2*a), about(spot{y: -h}, flank, a, math.Pi-2*a),
		about(spot{x: -apart}, nose, math.Pi-a, 2*a), about(spot{y: h}, flank, math.Pi+a, math.Pi-2*a)}, make([]bool, 4)}
}

// outline is the shape as a drawing of the program has it.
func (s shape) outline() part.Outline {
	var run []part.Piece
	for i, e := range s.edges {
		el := geom.Straight(at(e.a.x, e.a.y), at(e.b.x, e.b.y))
		if e.radius > 0 {
			el = geom.ArcOf(at(e.c.x, e.c.y), e.radius, geom.Bearing(e.from), geom.Bearing(e.sweep))
			if s.back[i] {
				el = el.Reversed()
			}
		}
		run = append(run, part.Piece{Element: el})
	}
	return part.Outline{Loops: [][]part.Piece{run}}
}

// rig is a head, or a table with a cutter that stands at a bearing; a ring that shows its angle; and a drawing that lies turned.
type rig struct {
	turned, falls                   bool // falls: the ring's figures grow clockwise
	zero, mark, line, cutterAt, lie float64
}

func (r rig) String() string {
	return fmt.Sprintf("turned %v falls %v zero %.3f mark %.4f line %.4f cutter %.3f lie %.3f", r.turned, r.falls, r.zero, r.mark, r.line,
		r.cutterAt, r.lie)
}

func (r rig) ring() setup.Ring {
	f := slide.Anticlockwise
	if r.falls {
		f = slide.Clockwise
	}
	return setup.Ring{Zero: geom.FromDegrees(r.zero), Figures: f, Graduation: float64(geom.FromDegrees(r.mark)),
		Vernier: float64(geom.FromDegrees(r.line))}
}

// where is the bearing in the drawing, degrees, at which the cutter stands over the work when the ring shows a figure.
func (r rig) where(figure float64) float64 {
	stands := r.zero + figure
	if r.falls {
		stands = r.zero - figure
	}
	if r.turned { // the drawing has gone round by as much under the cutter
		return r.cutterAt - stands - r.lie
	}
	return stands - r.lie
}

// beyond is by how much the ring's figure changes as the cutter goes on counter-clockwise over the drawing: + or −1.
func (r rig) beyond() float64 {
	if r.turned != r.falls {
		return -1
	}
	return 1
}

// bite is how deep a cutter that is swung about the centre of element i stands in the others, at a bearing of the drawing, degrees.
func (s shape) bite(i int, swing, cutter, deg float64) float64 {
	c, t := s.edges[i].c, deg*math.Pi/180
	axis, deep := spot{c.x + swing*math.Cos(t), c.y + swing*math.Sin(t)}, 0.0
	for k, e := range s.edges {
		if k != i {
			deep = max(deep, cutter/2-e.away(axis))
		}
	}
	return deep
}

// drawnShapes are outlines of every kind of neighbour: a straight and an arc, round a convex and along a concave one.
func drawnShapes(rng *rand.Rand) []shape {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	r := func() float64 { return between(9, 16) }
	tee := []spot{{0, 0}, {120, 0}, {120, 45}, {80, 50}, {84, 110}, {30, 104}, {34, 46}, {0, 42}}
	for i := range tee {
		tee[i] = spot{tee[i].x + between(-3, 3), tee[i].y + between(-3, 3)}.turned(between(0, 0.05) + 1)
	}
	return []shape{
		rounded("rounded", tee, []float64{r(), r(), r(), r(), r(), r(), r(), r()}),
		waisted(between(25, 35), between(15, 25), between(70, 80), between(45, 60)),
		oval(between(12, 18), between(70, 90), between(30, 40)),
	}
}

// The ring's figure that is told leaves no gouge beyond what is let pass, however it is read: a fifth of a mark, or half a mark, off.
// At the edge of the window the gouge is what is let pass at the most, and at twice the window it is more. Head and table, rings of
// both senses, with and without a vernier, the drawing askew; convex and concave arcs with straights and arcs for neighbours.
func TestStopsByTheRing(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 3))
	const tiny = 1e-6 // millimetres, and the window is found to as much
	seen, hard, finite := 0, 0, map[string]int{}
	for round := range 12 {
		for _, sh := range drawnShapes(rng) {
			cutter := []float64{6, 8, 10}[rng.IntN(3)]
			g := rig{turned: round%2 == 1, falls: rng.IntN(2) == 1, zero: float64(rng.IntN(3600)) / 10, cutterAt: float64(rng.IntN(360)),
				mark: []float64{0.25, 0.5, 1, 2}[rng.IntN(4)], lie: []float64{0, 17.3, -101.7}[rng.IntN(3)]}
			if rng.IntN(3) == 0 {
				g.mark, g.line = 1, 1.0/12
			}
			p, err := part.Make(sh.outline(), part.Options{Cutters: []float64{cutter}, Rotary: g.turned,
				CutterBearing: geom.FromDegrees(g.cutterAt)})
			if err != nil {
				t.Fatal(sh.name, err)
			}
			for i, e := range sh.edges {
				if e.radius == 0 {
					continue
				}
				a, err := part.Pick(p, i+1, "shape")
				if err != nil {
					t.Fatalf("%s, arc %d, cutter %v: %v", sh.name, i+1, cutter, err)
				}
				stops, ok := a.Stops(g.turned, geom.FromDegrees(g.lie), g.ring())
				if !ok {
					t.Fatalf("%s, arc %d: no stops", sh.name, i+1)
				}
				begins := e.from // a cutter that turns clockwise goes anticlockwise round a rim, and clockwise along a hollow
				if sh.back[i] {
					begins += e.sweep
				}
				if apart := math.Remainder(float64(stops.Start.At)-begins, 2*math.Pi); math.Abs(apart) > 1e-9 {
					t.Errorf("%s, arc %d: begins %.6f rad off", sh.name, i+1, apart)
				}
				for _, end := range []*part.Stop{&stops.Start, &stops.Stop} {
					drawn, on := e.from*180/math.Pi, -1.0
					if math.Abs(math.Remainder(float64(end.At)-e.from-e.sweep, 2*math.Pi)) < 1e-9 {
						drawn, on = (e.from+e.sweep)*180/math.Pi, 1
					}
					who := fmt.Sprintf("%s, arc %d at %.2f°, cutter %v, %v", sh.name, i+1, drawn, cutter, g)
					shows, out := stops.Shows(end), on*g.beyond() // how the figure changes beyond the end
					told := g.where(shows)
					off := math.Remainder(told-drawn, 360) * on // + beyond
					w := end.Window
					short := w.Short.Degrees()
					if off > 1e-9 && (w.Past != nil && off > w.Past.Degrees()) || -off > short+1e-9 && !end.Hard {
						t.Errorf("%s: ring %v° stands %.4f° beyond the end, window past %v short %.4f", who, shows, off, w.Past, short)
					}
					seen++
					bite := func(figure float64) float64 { return sh.bite(i, a.Swing, cutter, g.where(figure)) }
					if end.Hard {
						hard++
						if deep := bite(shows); deep > 0.002+tiny {
							t.Errorf("%s: a hard stop about ring %v°: gouges %.5f mm there", who, shows, deep)
						}
					} else {
						marked := g.mark / 2
						if g.line > 0 {
							marked = g.line / 2
						}
						for _, by := range []float64{0, marked / 5, -marked / 5, marked, -marked} {
							if deep := bite(shows + by); deep > 0.002+tiny {
								t.Errorf("%s: ring %v°, read off by %.4f°: gouges %.5f mm", who, shows, by, deep)
							}
						}
					}
					if w.Past == nil {
						if off < -1e-9 || end.Hard {
							t.Errorf("%s: it may run on, and ring %v° stands %.4f° before the end, hard %v", who, shows, -off, end.Hard)
						}
						continue
					}
					exact := stops.Figure(end.Axis)
					past := w.Past.Degrees()
					if deep := bite(exact + out*past); deep > 0.002+tiny {
						t.Errorf("%s: at the window's edge, %.4f° beyond, gouges %.6f mm, let pass 0.002", who, past, deep)
					}
					if deep := bite(exact + out*2*past); !(deep > 0.002+tiny) && past < 90 {
						t.Errorf("%s: at twice the window, %.4f° beyond, gouges %.6f mm, want more than 0.002", who, 2*past, deep)
					}
					finite[sh.name]++
				}
			}
		}
	}
	if seen < 150 || hard == 0 || hard == seen || len(finite) != 3 {
		t.Errorf("%d ends, %d hard, windows that end %v: want many, some hard, of every shape", seen, hard, finite)
	}
}

// A ring whose graduation nobody has stated shows nothing that a stop could be set by; a full circle has no stops.
func TestStopsWithoutRing(t *testing.T) {
	p := made(t, link(), part.Options{Cutters: []float64{8}})
	for _, a := range p.Arcs {
		got, err := part.Pick(p, a.N, "link")
		if err != nil {
			t.Fatal(err)
		}
		s, ok := got.Stops(false, 0, setup.Ring{Figures: slide.Anticlockwise})
		if ok == a.Full() {
			t.Errorf("arc %d, full %v: stops %v", a.N, a.Full(), ok)
		}
		if !ok {
			continue
		}
		if shows := s.Shows(&s.Start); !math.IsNaN(shows) || s.Start.Set != s.Start.Axis || s.Start.Hard {
			t.Errorf("arc %d: a ring without marks shows %v, set %v of %v, hard %v", a.N, shows, s.Start.Set, s.Start.Axis, s.Start.Hard)
		}
	}
}

// A sector with two corners: an outer one that the cutter may run on beyond, by the tolerance before it; one before an inner corner,
// which it does not come nearer to than its own radius lets it.
func TestStopsAtCorners(t *testing.T) {
	// A quarter of a disc of 40 cut off along its radii: both its ends are outer corners.
	sector := part.Outline{Loops: [][]part.Piece{pieces(geom.ArcOf(at(0, 0), 40, 0, 90*deg), geom.Straight(at(0, 40), at(0, 0)),
		geom.Straight(at(0, 0), at(40, 0)))}}
	a, err := part.Pick(made(t, sector, part.Options{Cutters: []float64{8}}), 1, "sector")
	if err != nil {
		t.Fatal(err)
	}
	ring := setup.Ring{Figures: slide.Anticlockwise, Graduation: float64(geom.FromDegrees(0.25))}
	s, _ := a.Stops(false, 0, ring)
	for _, e := range []*part.Stop{&s.Start, &s.Stop} {
		near(t, "tolerance at the cutter", float64(e.Window.Short)*44, 0.1, 1e-9)
		if !e.Free() || !e.Corner {
			t.Errorf("an outer corner: %+v, want one that may be run on beyond", e)
		}
	}
	// A hole of the same form: its arc ends in inner corners, 4/36 of a radian off the walls for a cutter of 8.
	plate := part.Outline{Loops: [][]part.Piece{pieces(geom.Straight(at(-60, -60), at(60, -60)), geom.Straight(at(60, -60), at(60, 60)),
		geom.Straight(at(60, 60), at(-60, 60)), geom.Straight(at(-60, 60), at(-60, -60))), sector.Loops[0]}}
	a, err = part.Pick(made(t, plate, part.Options{Cutters: []float64{8}}), 5, "plate")
	if err != nil {
		t.Fatal(err)
	}
	s, _ = a.Stops(false, 0, ring)
	least := math.Asin((4 - 0.002) / 36) // the wall is 4 from the axis, less what is let pass
	for _, e := range []*part.Stop{&s.Start, &s.Stop} {
		apart := min(float64(e.Set), math.Pi/2-float64(e.Set))
		if !e.Inner() || apart < least-1e-9 || apart > least+float64(ring.Graduation)/5+1e-9 {
			t.Errorf("an inner corner: set at %v, %.5f rad off the wall, want from %.5f to a fifth of a mark more", e.Set.Degrees(), apart,
				least)
		}
		if m := s.Seen(e, s.Shows(e)); m.Past || m.Short {
			t.Errorf("the figure that is told is out: %+v", m)
		}
	}
}

// A window of 0.196° is too narrow for a ring with marks of 1°, which is read to 0.2°: the ends want a block. What the ring shows of
// that may be off by the one step that it is read to, so 0.2° beyond may be within, 0.4 and 0.6 are past it: 0.6° is three windows, and
// what is gouged grows with the square of the way, 9 times what is let pass. The arc runs from 30° to 90°, and the ring shows as much.
func TestHardStopIsHeldToWhatTheRingReads(t *testing.T) {
	window := geom.FromDegrees(0.196)
	w := &part.Window{Past: &window, Short: window}
	a := part.Picked{From: geom.FromDegrees(30), To: geom.FromDegrees(90), Radius: 40, Swing: 44, Cutter: 8, Sense: "anticlockwise",
		AtFrom: w, AtTo: w, LetPass: 0.01}
	ring := setup.Ring{Figures: slide.Anticlockwise, Graduation: float64(geom.FromDegrees(1))}
	s, ok := a.Stops(false, 0, ring)
	if !ok || !s.Start.Hard || !s.Stop.Hard {
		t.Fatalf("%+v: want two ends that the ring is too coarse for", s)
	}
	for _, c := range []struct {
		beyond      float64
		past, short bool
	}{{0, false, false}, {0.2, false, false}, {0.4, true, false}, {0.6, true, false}, {-0.2, false, false}, {-0.4, false, true}} {
		for _, e := range []struct {
			stop  *part.Stop
			shows float64
		}{{&s.Start, 30 - c.beyond}, {&s.Stop, 90 + c.beyond}} {
			if m := s.Seen(e.stop, e.shows); m.Past != c.past || m.Short != c.short {
				t.Errorf("ring %v°, %v° beyond: %+v, want past %v, short %v", e.shows, c.beyond, m, c.past, c.short)
			}
		}
	}
}

// Where a hard stop is needed the figure lies before the end, by less than a step of the reading, even where the window has the next
// one: with marks of 5°, read to 1°, and a window of 2.4° an end at 90.7° is told 90°, and one at 30.3° 31°.
func TestHardStopIsToldBeforeTheEnd(t *testing.T) {
	past, short := geom.FromDegrees(2.4), geom.FromDegrees(0.1)
	w := &part.Window{Past: &past, Short: short}
	a := part.Picked{From: geom.FromDegrees(30.3), To: geom.FromDegrees(90.7), Radius: 40, Swing: 44, Cutter: 8, Sense: "anticlockwise",
		AtFrom: w, AtTo: w, LetPass: 0.01}
	s, ok := a.Stops(false, 0, setup.Ring{Figures: slide.Anticlockwise, Graduation: float64(geom.FromDegrees(5))})
	if !ok || !s.Start.Hard || !s.Stop.Hard {
		t.Fatalf("%+v: want two hard stops", s)
	}
	near(t, "start", s.Shows(&s.Start), 31, 1e-9)
	near(t, "stop", s.Shows(&s.Stop), 90, 1e-9)
	for _, e := range []*part.Stop{&s.Start, &s.Stop} {
		if m := s.Seen(e, s.Shows(e)); m.Past || m.Short {
			t.Errorf("what is told is refused: %+v", m)
		}
	}
}

// A ring with a vernier of 0.1° is set beyond the end only where it may be read half a line farther still: an end at 90.07°, which may not
// stop more than 0.06° before it, is told 90.1° where 0.09° may be gone beyond, for 90.1° may be 90.15°; where 0.06° may, a block makes
// the end, and is measured to 90.0° before it. At the other end, 29.93°, it is 29.9° and 30.0°.
func TestRingIsSetBeyondOnlyAsItMayBeRead(t *testing.T) {
	ring := setup.Ring{Figures: slide.Anticlockwise, Graduation: float64(geom.FromDegrees(1)), Vernier: float64(geom.FromDegrees(0.1))}
	for _, c := range []struct {
		past, start, stop float64
		hard              bool
	}{{0.09, 29.9, 90.1, false}, {0.06, 30, 90, true}} {
		past, short := geom.FromDegrees(c.past), geom.FromDegrees(0.06)
		w := &part.Window{Past: &past, Short: short}
		a := part.Picked{From: geom.FromDegrees(29.93), To: geom.FromDegrees(90.07), Radius: 40, Swing: 44, Cutter: 8,
			Sense:  "anticlockwise",
			AtFrom: w, AtTo: w, LetPass: 0.01}
		s, ok := a.Stops(false, 0, ring)
		if !ok || s.Start.Hard != c.hard || s.Stop.Hard != c.hard {
			t.Errorf("%v° beyond: hard %v and %v, want %v", c.past, s.Start.Hard, s.Stop.Hard, c.hard)
		}
		near(t, "start", s.Shows(&s.Start), c.start, 1e-9)
		near(t, "stop", s.Shows(&s.Stop), c.stop, 1e-9)
		for _, by := range []float64{-0.05, 0.05} { // read half a line off
			if beyond := s.Shows(&s.Stop) + by - 90.07; beyond > c.past+1e-9 {
				t.Errorf("ring %v°, read off by %v°: %v° beyond, want %v° at most", s.Shows(&s.Stop), by, beyond, c.past)
			}
		}
	}
}

// A stop is judged by how far it stands from its end, over the ring's zero too: an end at 0.3 degrees that the ring shows as 359.9 is 0.4
// before it, one at 359.8 that shows 0.1 is 0.3 beyond.
func TestSeenOverTheRingsZero(t *testing.T) {
	past, short := geom.FromDegrees(0.2), geom.FromDegrees(0.35)
	w := &part.Window{Past: &past, Short: short}
	a := part.Picked{From: geom.FromDegrees(300), Radius: 40, Swing: 44, Cutter: 8, Sense: "anticlockwise", AtFrom: w, AtTo: w,
		LetPass: 0.01}
	ring := setup.Ring{Figures: slide.Anticlockwise, Graduation: float64(geom.FromDegrees(0.5))}
	for _, c := range []struct {
		end, shows, beyond float64
		past, short        bool
	}{{360.3, 359.9, -0.4, false, true}, {360.3, 0, -0.3, false, false}, {359.8, 0.1, 0.3, true, false},
		{359.8, 359.9, 0.1, false, false}} {
		a.To = geom.FromDegrees(c.end)
		s, ok := a.Stops(false, 0, ring)
		if !ok {
			t.Fatal("no stops")
		}
		s.Stop.Hard = false
		m := s.Seen(&s.Stop, c.shows)
		if m.Past != c.past || m.Short != c.short {
			t.Errorf("an end at %v shown as %v: %+v, want past %v, short %v", c.end, c.shows, m, c.past, c.short)
		}
		near(t, "beyond", m.Beyond.Degrees(), c.beyond, 1e-9)
	}
}

// An arc is the same whether its beginning was worked out a hair before the bearing 0 or behind it.
func TestSameArcOnEitherSideOfZero(t *testing.T) {
	at := func(from float64) *part.Picked {
		return &part.Picked{N: 3, Radius: 40, Swing: 44, From: geom.Bearing(from), To: geom.Bearing(from + 1)}
	}
	for from, want := range map[float64]bool{0: true, 1e-9: true, 2*math.Pi - 1e-9: true, 1e-4: false, 2*math.Pi - 1e-4: false} {
		if got := (&part.Task{N: 1, Arc: at(0)}).Is(at(from)); got != want {
			t.Errorf("an arc from 0 and one from %v are one: %v, want %v", from, got, want)
		}
	}
}
