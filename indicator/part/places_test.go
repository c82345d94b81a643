package part_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// plunged is an arc that no slide swings, and what it is to be plunged by.
type plunged struct {
	outline part.Outline
	options part.Options
	kappa   float64 // +1: its metal is inside
}

// drawn draws arcs that stand alone, with any ends, full circles, and rounds between two straights that they are tangent to:
// those of a link that is a part, and of one that is a hole.
func drawn(rng *rand.Rand) plunged {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	centre := at(between(-80, 80), between(-80, 80))
	cutter := between(3, 16)
	d := plunged{kappa: []float64{1, -1}[rng.IntN(2)]}
	r := between(1, 60)
	if d.kappa < 0 {
		r += cutter/2 + 0.5
	}
	d.options = part.Options{Cutters: []float64{cutter}, Datum: at(between(-50, 50), between(-50, 50)), LeftHand: rng.IntN(2) == 0,
		SwingMin: 1e6, StepHeight: between(0.01, min(0.5, 0.2*cutter))}
	for k := range d.options.ReadoutStep {
		d.options.ReadoutStep[k] = []float64{0.001, 0.002, 0.005, 0.01, 0.0002 * 25.4}[rng.IntN(5)]
	}
	side := part.Inside
	if d.kappa < 0 {
		side = part.Outside
	}
	from, sweep := geom.FromDegrees(between(0, 360)), geom.FromDegrees(between(10, 350))
	switch rng.IntN(4) {
	case 0:
		d.outline = part.Outline{Loops: [][]part.Piece{said(side, geom.ArcOf(centre, r, from, 360*deg))}}
	case 1:
		right, left := geom.ArcOf(at(30, 0), r, -90*deg, 180*deg), geom.ArcOf(at(-30, 0), r, 90*deg, 180*deg)
		d.outline = moved(part.Outline{Loops: [][]part.Piece{
			said(side, right, geom.Straight(right.End, left.Start), left, geom.Straight(left.End, right.Start))}}, turned(from, centre))
	default:
		if rng.IntN(2) == 0 {
			sweep = -sweep
		}
		d.options.OpenSide = side
		d.outline = part.Outline{Open: [][]part.Piece{pieces(geom.ArcOf(centre, r, from, sweep))}}
	}
	return d
}

// left is how high the metal stands at a bearing of an arc about the origin when discs of radius c have been sunk at places:
// along the ray from the centre to where the nearest disc's edge crosses it.
func left(bearing, radius, kappa, c float64, places ...geom.Point) float64 {
	stands := math.Inf(1)
	for _, p := range places {
		u := geom.Bearing(bearing).Unit()
		along, square := p.Dot(u), c*c-p.Cross(u)*p.Cross(u)
		if square >= 0 { // the ray passes through the disc: in by the near side, out by the far one
			stands = min(stands, kappa*(along-kappa*math.Sqrt(square)-radius))
		}
	}
	return stands
}

// Of 500 arcs drawn at random: every place is one that the readouts show; no disc bites the arc or what it is tangent to;
// looked at along the arc, what is left is nowhere higher than is said, somewhere as high, and never higher than was asked
// for by more than the rounding makes; with a fine readout it is no higher than was asked for. Places run from start to stop,
// inside the arc's ends, and a slide goes back no oftener than the arc does.
func TestPlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(500, 2000))
	arcs := 0
	for arcs < 500 {
		d := drawn(rng)
		p, err := part.Make(d.outline, d.options)
		if few := (*part.PlacesError)(nil); errors.As(err, &few) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		fine := d.options
		fine.ReadoutStep = [2]float64{1e-7, 1e-7}
		smooth := made(t, d.outline, fine)
		for i := range p.Arcs {
			a := &p.Arcs[i]
			if a.Places == nil {
				t.Fatalf("arc %+v has no places: %+v", a, p.Problems)
			}
			arcs++
			d.holds(t, a)
			if cusp := smooth.Arcs[i].Places.Cusp; cusp > d.options.StepHeight+1e-6 {
				t.Errorf("with a fine readout %v stands, want at most %v", cusp, d.options.StepHeight)
			}
		}
	}
}

func (d *plunged) holds(t *testing.T, a *part.Arc) {
	t.Helper()
	s, c, h := a.Places, a.Places.Cutter/2, d.options.StepHeight
	swing, coarse := a.Radius+d.kappa*c, max(d.options.ReadoutStep[0], d.options.ReadoutStep[1])
	var places []geom.Point // about the arc's centre
	for _, p := range s.At {
		for k, v := range []float64{p.X, p.Y} {
			if counts := v / d.options.ReadoutStep[k]; math.Abs(counts-math.Round(counts)) > 1e-6 {
				t.Errorf("place %v is none of a readout by %v", p, d.options.ReadoutStep)
			}
		}
		places = append(places, p.Add(d.options.Datum).Sub(a.Centre))
	}
	for k, p := range places {
		most := coarse
		if !a.Full() && (k == 0 || k == len(places)-1) { // which may not lie beyond the end either
			most *= 2
		}
		if waste := d.kappa * (p.Norm() - swing); waste < -tiny || waste > most+tiny {
			t.Errorf("place %d, %v, lies %v to the waste of the swing, want 0 to %v", k, p, waste, most)
		}
		for _, loop := range d.outline.Loops {
			for _, e := range loop {
				for k := range 65 {
					if q := e.At(float64(k) / 64).Sub(a.Centre); q.Sub(p).Norm() < c-tiny {
						t.Errorf("place %v bites the outline by %v", p, c-q.Sub(p).Norm())
					}
				}
			}
		}
	}
	highest := 0.0
	for k := range places {
		next := k + 1
		if next == len(places) {
			if !a.Full() {
				break
			}
			next = 0
		}
		between := math.Remainder(float64(places[next].Bearing()-places[k].Bearing()), 2*math.Pi)
		for part := 0.0; part <= 1; part += 1.0 / 64 {
			stands := left(float64(places[k].Bearing())+part*between, a.Radius, d.kappa, c, places[k], places[next])
			if highest = max(highest, stands); stands < -tiny {
				t.Errorf("%v is gouged", -stands)
			}
		}
	}
	if highest > s.Cusp+tiny || highest < s.Cusp-0.05*h-tiny {
		t.Errorf("looked at along the arc %v stands, said %v", highest, s.Cusp)
	}
	// A place is off its bearing by half a step of the readout at most, at an end by one, and to the waste by one.
	if s.Cusp > h+2*coarse {
		t.Errorf("%v stands, asked for %v with a readout by %v", s.Cusp, h, d.options.ReadoutStep)
	}
	d.runs(t, a, places, 2*coarse/swing)
}

// runs holds the places to the arc's run: they begin and stop at its ends to within so much, radians, and go on one way.
func (d *plunged) runs(t *testing.T, a *part.Arc, places []geom.Point, within float64) {
	t.Helper()
	way := d.kappa // round a boss anticlockwise
	if d.options.LeftHand {
		way = -way
	}
	if sense := map[float64]part.Sense{1: part.Anticlockwise, -1: part.Clockwise}[way]; a.Sense != sense {
		t.Errorf("sense %v, want %v", a.Sense, sense)
	}
	if !a.Full() {
		start, stop := a.From, a.To
		if way < 0 {
			start, stop = stop, start
		}
		for k, end := range []geom.Bearing{start, stop} {
			p := places[k*(len(places)-1)]
			short := math.Remainder(float64(p.Bearing()-end), 2*math.Pi) * way * float64(1-2*k)
			if short < -tiny || short > within {
				t.Errorf("a place is %v short of bearing %v, want 0 to %v", short, end, within)
			}
		}
	}
	var turns []int
	var came geom.Point
	back := [2]int{}
	for k := 1; k < len(places); k++ {
		by := a.Places.At[k].Sub(a.Places.At[k-1])
		x, y := by.X*came.X < 0, by.Y*came.Y < 0
		if x {
			back[0]++
		}
		if y {
			back[1]++
		}
		if x || y {
			turns = append(turns, k-1)
		}
		if by.X != 0 {
			came.X = by.X
		}
		if by.Y != 0 {
			came.Y = by.Y
		}
		if along := math.Remainder(float64(places[k].Bearing()-places[k-1].Bearing()), 2*math.Pi) * way; along <= 0 {
			t.Errorf("place %d goes back along the arc by %v", k, -along)
		}
	}
	if !slices.Equal(turns, a.Places.Turns) {
		t.Errorf("a slide turns back at %v, said %v", turns, a.Places.Turns)
	}
	// X turns back where the arc crosses bearings 0 and 180°, Y at 90 and 270°.
	for slide, first := range []float64{0, 90} {
		most := 0
		for b := first - 360; b < 1080; b += 180 {
			if x := float64(geom.FromDegrees(b)); x > float64(a.From)+1e-12 && x < float64(a.To)-1e-12 {
				most++
			}
		}
		if a.Full() { // which begins at 0
			most = slide + 1
		}
		if back[slide] > most {
			t.Errorf("slide %d turns back %d times along an arc from %v to %v, want %d at most", slide, back[slide], a.From, a.To, most)
		}
	}
}

// A slot's centre line has no side: its places are the nearest that the readout shows, and of the two flanks the higher cusp
// counts. A bore of radius 12 with a cutter of 10, cusps of 0.5: β = acos((7² + 11.5² − 5²)/(2·7·11.5)) is 13.87°, so 13
// places go round; by hand.
func TestPlacesByHand(t *testing.T) {
	bore := part.Outline{Loops: [][]part.Piece{said(part.Outside, geom.ArcOf(at(0, 0), 12, 0, 360*deg))}}
	p := made(t, bore, part.Options{Cutters: []float64{10}, SwingMax: 5, StepHeight: 0.5})
	s := p.Arcs[0].Places
	if len(s.At) != 13 || s.At[0] != at(7, 0) || !slices.Equal(s.Slides, [][2]bool{{false, true}, {true, false}, {false, true}}) {
		t.Errorf("places %+v, want 13 from 7, 0; Y turns back, X, and Y again", s)
	}
	open := part.Outline{Open: [][]part.Piece{pieces(geom.ArcOf(at(3, 4), 20, 10*deg, 70*deg))}}
	p = made(t, open, part.Options{Cutters: []float64{10}, SwingMax: 5, StepHeight: 0.1})
	for _, q := range p.Arcs[0].Places.At {
		if off := math.Abs(q.Sub(at(3, 4)).Norm() - 20); off > 0.0025*math.Sqrt2 {
			t.Errorf("place %v is %v off the line, want within half a step of the readout each way", q, off)
		}
	}
	// With arcs that are swung, and without the wish, there are none.
	for _, o := range []part.Options{{Cutters: []float64{10}, StepHeight: 0.5}, {Cutters: []float64{10}, SwingMax: 5}} {
		if s := made(t, bore, o).Arcs[0].Places; s != nil {
			t.Errorf("%+v: places %+v, want none", o, s)
		}
	}
}

// Where the cutter has 0.006 to spare between two walls, rounding to the waste of the one must not bite the other: with a
// readout by 0.01 the places are sought that lie between, 35 less 0.006 to 35 from the centre of the outer wall of 40. Where
// the cutter has nothing to spare there are none, and this is said.
func TestPlacesBetweenWalls(t *testing.T) {
	for _, spare := range []float64{0.006, 0} {
		o := part.Outline{Loops: [][]part.Piece{
			said(part.Outside, geom.ArcOf(at(0, 0), 40, 0, 360*deg)), said(part.Inside, geom.ArcOf(at(0, 0), 30-spare, 0, 360*deg))}}
		p := made(t, o, part.Options{Cutters: []float64{10}, SwingMax: 5, StepHeight: 0.3, ReadoutStep: [2]float64{0.01, 0.01}})
		told := slices.ContainsFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.NoPlaces })
		for i := range p.Arcs {
			s := p.Arcs[i].Places
			if (s == nil) != (spare == 0) || told != (spare == 0) {
				t.Fatalf("with %v to spare: places %v, told %v", spare, s != nil, told)
			}
			if spare == 0 { // a smaller cutter has room enough, and the larger one goes before it
				smaller := made(t, o, part.Options{Cutters: []float64{8, 10}, SwingMax: 5, StepHeight: 0.3})
				if s := smaller.Arcs[i].Places; s == nil || s.Cutter != 8 {
					t.Errorf("with cutters 8 and 10 at hand: places %+v, want those of 8", s)
				}
			}
			for k := 0; s != nil && k < len(s.At); k++ {
				if from := s.At[k].Norm(); from > 35+tiny || from < 35-spare-tiny {
					t.Errorf("arc %d: place %v lies %v from the centre, want 34.994 to 35", i+1, s.At[k], from)
				}
			}
		}
	}
}

// Too many places, or places too near together, are refused with the height that will do, and it does. A height that no
// cutter at hand leaves is refused.
func TestPlacesRefused(t *testing.T) {
	ring := func(r float64) part.Outline {
		return part.Outline{Loops: [][]part.Piece{said(part.Outside, geom.ArcOf(at(0, 0), r, 0, 360*deg))}}
	}
	for _, c := range []struct {
		radius, height, step float64
		seen                 string
	}{{100, 1e-5, 0.001, "places, 2000 at most"}, {6, 1e-5, 0.005, "nearer together than 4 steps"}} {
		o := part.Options{Cutters: []float64{10}, SwingMin: 1e6, StepHeight: c.height, ReadoutStep: [2]float64{c.step, c.step}}
		_, err := part.Make(ring(c.radius), o)
		bad := (*part.PlacesError)(nil)
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), c.seen) || !strings.Contains(err.Error(), "need ") {
			t.Fatalf("radius %v: %v, want %q and what is needed", c.radius, err, c.seen)
		}
		o.StepHeight = bad.Need
		if _, err := part.Make(ring(c.radius), o); err != nil {
			t.Errorf("radius %v: with the height that is asked for, %v", c.radius, err)
		}
		o.StepHeight = bad.Need / 5
		if _, err := part.Make(ring(c.radius), o); err == nil {
			t.Errorf("radius %v: a fifth of the height that is asked for does too", c.radius)
		}
	}
	for _, h := range []float64{-1, 5, math.NaN()} {
		wrong := (*part.OptionError)(nil)
		if _, err := part.Make(ring(20), part.Options{Cutters: []float64{10}, StepHeight: h}); !errors.As(err, &wrong) {
			t.Errorf("height %v: %v, want it refused", h, err)
		}
	}
}

// Which cutter would do it: round a boss of radius 5 a swing of 12 to 60 takes diameters from 14 to 110, in a hollow of
// radius 30 up to 36; in one of radius 8 none will do. Each is tried.
func TestOtherCutter(t *testing.T) {
	for _, c := range []struct {
		radius   float64
		side     part.Side
		from, to float64
	}{{5, part.Inside, 14, 110}, {30, part.Outside, 0, 36}, {8, part.Outside, 0, 0}, {80, part.Inside, 0, 0}} {
		o := part.Outline{Loops: [][]part.Piece{said(c.side, geom.ArcOf(at(0, 0), c.radius, 0, 360*deg))}}
		opt := part.Options{SwingMin: 12, SwingMax: 60, Cutters: []float64{8}}
		if c.radius == 30 {
			opt.Cutters = []float64{40}
		}
		p := made(t, o, opt)
		at := slices.IndexFunc(p.Problems, func(q part.Problem) bool { return q.Kind == part.OtherCutter })
		if at < 0 {
			t.Fatalf("radius %v: nothing said of another cutter: %+v", c.radius, p.Problems)
		}
		q := p.Problems[at]
		near(t, "from", q.Size, c.from, tiny)
		near(t, "to", q.Need, c.to, tiny)
		for _, d := range []float64{c.from + 0.01, c.to - 0.01} {
			opt.Cutters = []float64{max(d, 1)}
			if swung := made(t, o, opt).Arcs[0].Swing > 0; swung != (c.to > 0) {
				t.Errorf("radius %v: with cutter %v swung %v", c.radius, d, swung)
			}
		}
	}
}
