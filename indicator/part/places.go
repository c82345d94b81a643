package part

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// Places are where a cutter is plunged, one place after the other by both slides, to make an arc that no swing makes:
// what is left between two plunges is a cusp. The table, or the head, stands still all the while; on a table whose
// cross slides stand at zero it stands at zero too, the datum over its axis.
type Places struct {
	Cutter float64
	// At are the coordinates of the cutter's axis as the readouts show them, from the datum, each a whole number of
	// the readout's steps; in order from the arc's start to its stop, of a full circle from its bearing 0 all round.
	At []geom.Point
	// Turns are the places, by index, from which a slide goes on the other way than it came: there its play is taken
	// up anew. Slides says of each of them which, X and Y.
	Turns  []int
	Slides [][2]bool
	// Cusp is how high what is left stands at most, between the places as they are rounded.
	Cusp float64
}

// usualReadout is what a readout counts in where nobody has said, millimetres (common practice, no source).
const usualReadout = 0.005

// mostPlaces bounds the places of one arc: a day of plunging (common practice, no source). leastCounts is how many of
// the readout's steps two neighbours are apart at least: nearer together it is the rounding that makes the surface.
const (
	mostPlaces  = 2000
	leastCounts = 4
)

// A PlacesError is an arc that would need too many places, or places that are too near together for the readout.
// Need is the least height of the cusps that will do, millimetres.
type PlacesError struct {
	N, Count           int
	Height, Need, Step float64 // Step is the readout's where the places are too near together, else 0
}

func (e *PlacesError) Error() string { return e.Text(geom.Millimetre) }

// Text is the error in a unit.
func (e *PlacesError) Text(u geom.Unit) string {
	if e.Step > 0 {
		return fmt.Sprintf("arc %d: cusps of %.2g %v would put the places nearer together than %d steps of the readout, %.2g %v; need %s",
			e.N, u.From(e.Height), u, leastCounts, u.From(e.Step), u, e.Needs(u))
	}
	return fmt.Sprintf("arc %d: cusps of %.2g %v need %d places, %d at most; need %s", e.N, u.From(e.Height), u, e.Count, mostPlaces,
		e.Needs(u))
}

// Needs is the least height, rounded up to two places that count.
func (e *PlacesError) Needs(u geom.Unit) string {
	v := u.From(e.Need)
	scale := math.Pow(10, math.Floor(math.Log10(v))-1)
	return fmt.Sprintf("%.2g %v or more", math.Ceil(v/scale)*scale, u)
}

// places finds the places of every arc that no swing makes, if they are asked for. It fails with a [PlacesError].
func (w *work) places() error {
	if w.StepHeight == 0 {
		return nil
	}
	for i := range w.elements {
		a := w.part.arc(w.elements[i].n)
		if a == nil || a.Swing > 0 || w.inSingle(i) {
			continue
		}
		able := w.unswung(i)
		for k := 0; k < len(able) && a.Places == nil; k++ {
			if err := w.place(i, a, &able[k]); err != nil {
				return err
			}
		}
		if n := len(able); n > 0 && a.Places == nil {
			t := &able[n-1]
			w.tell(Problem{Kind: NoPlaces, N: a.N, At: a.Centre, Size: t.path.Radius, Cutter: t.cutter})
		}
	}
	return nil
}

// unswung are the cutters at hand that would make arc i without a gouge if the slide could set every swing radius, the
// largest first, which is the stiffest (common practice, no source).
func (w *work) unswung(i int) (able []trial) {
	free := *w
	free.SwingMin, free.SwingMax = 0, math.Inf(1)
	for _, d := range w.Cutters {
		if t := free.try(i, d); t.level == clean {
			able = append(able, t)
		}
	}
	slices.SortStableFunc(able, func(a, b trial) int { return cmp.Compare(b.cutter, a.cutter) })
	return able
}

// halfApart is half the angle between two plunges of radius c, axes S from the arc's centre, between which the surface
// at radius r is left h high: κ = +1 for a convex arc (S = r + c), −1 for a concave one (S = r − c).
//
// The two discs' edges meet on the bearing midway, ρ from the centre, in the triangle with the sides S, c and ρ whose
// angle at the centre is β, so c² = S² + ρ² − 2·S·ρ·cos β, and
//
//	β = acos((S² + ρ² − c²)/(2·S·ρ)),   ρ = r + κ·h
//
// Along the outline of the discs that is the place farthest from the surface: each edge leaves it from its own bearing
// on. The discs come apart at S·sin β = c, ρ² = S² − c²; beyond that nothing is left to stand.
func halfApart(s, c, r, kappa, h float64) float64 {
	rho := r + kappa*h
	if s > c {
		if apart := math.Sqrt((s - c) * (s + c)); kappa > 0 {
			rho = min(rho, apart)
		} else {
			rho = max(rho, apart)
		}
	} else if rho < c-s { // one disc reaches all round
		return math.Pi
	}
	return math.Acos(min(1, max(-1, (s*s+rho*rho-c*c)/(2*s*rho))))
}

// leftBetween is the height left for half an angle, the other way round: ρ = S·cos β ∓ √(c² − S²·sin²β).
func leftBetween(s, c, r, kappa, beta float64) float64 {
	sin, cos := math.Sincos(beta)
	return kappa * (s*cos - kappa*math.Sqrt(max(0, c*c-s*s*sin*sin)) - r)
}

// walls are the surfaces that a cutter of radius c leaves whose axis is s from the centre: radius and κ of the one that
// is made; of a path without a side both of its flanks, the inner one where there is any.
func walls(s, c, kappa float64) [][2]float64 {
	switch {
	case kappa != 0:
		return [][2]float64{{s - kappa*c, kappa}}
	case s > c:
		return [][2]float64{{s + c, -1}, {s - c, +1}}
	}
	return [][2]float64{{s + c, -1}}
}

// place finds the places of arc a, element i, by trial t; a.Places stays nil where the readout shows none that will do.
func (w *work) place(i int, a *Arc, t *trial) error {
	e, s, c := &w.elements[i], t.path.Radius, t.cutter/2
	beta := math.Pi / 3 // three places make a full circle at least
	for _, wall := range walls(s, c, e.kappa()) {
		beta = min(beta, halfApart(s, c, wall[0], wall[1], w.StepHeight))
	}
	from, sweep := w.plunged(a, i, t)
	gaps := max(1, int(math.Ceil(sweep/(2*beta)-1e-9)))
	if fine := leastCounts * max(w.ReadoutStep[0], w.ReadoutStep[1]); gaps >= mostPlaces || gaps > 1 && sweep/float64(gaps)*s < fine {
		bad := &PlacesError{N: a.N, Count: gaps + 1, Height: w.StepHeight}
		if gaps < mostPlaces {
			bad.Step = fine / leastCounts
		}
		least := sweep / (mostPlaces - 2) / 2
		if gaps < mostPlaces || 2*least*s < fine {
			least = fine / s // twice as much, for the places are spread evenly
		}
		for _, wall := range walls(s, c, e.kappa()) {
			bad.Need = max(bad.Need, leftBetween(s, c, wall[0], wall[1], least))
		}
		return bad
	}
	count := gaps + 1
	if a.Full() {
		count = gaps
	}
	way := 1.0
	if w.clockwise(a) { // as it would be swung
		from, way = from+sweep, -1
	}
	if a.Full() {
		from = 0
	}
	p := &Places{Cutter: t.cutter}
	for k := range count {
		at, ok := w.rounded(i, a, t, geom.Bearing(from+way*sweep*float64(k)/float64(gaps)))
		if !ok {
			return nil
		}
		if n := len(p.At); n == 0 || p.At[n-1] != at {
			p.At = append(p.At, at)
		}
	}
	p.turnBack()
	p.Cusp = w.cusp(i, a, t, p.At)
	a.Places = p
	w.ends(i, a, t)
	w.leftStanding(i, t)
	return nil
}

// plunged is where the arc that is plunged along begins, counter-clockwise, and how far it goes: to its ends, but not
// into an inner corner.
func (w *work) plunged(a *Arc, i int, t *trial) (from, sweep float64) {
	before := t.before
	if w.elements[i].Turn < 0 {
		before[0], before[1] = before[1], before[0]
	}
	return float64(a.From) + before[0], float64(a.Sweep) - before[0] - before[1]
}

// rounded is the place for a bearing, as the readouts can show it: to the waste side of the swing, never beyond the ends
// of the arc, and no nearer to any other surface than the swing itself would bring the cutter; without a side the nearest.
//
// The coordinate that changes fast there is rounded to the nearest, and the other one then to the waste: along a quadrant
// both so go one way. Where that may not be, at an end, the nearest place about is taken that may.
func (w *work) rounded(i int, a *Arc, t *trial, b geom.Bearing) (at geom.Point, ok bool) {
	u := b.Unit()
	ideal := a.Readout.Along(b, t.path.Radius)
	g := grid{centre: [2]float64{a.Readout.X, a.Readout.Y}, step: w.ReadoutStep, swing: t.path.Radius, kappa: w.elements[i].kappa()}
	slow, fast := u.X, ideal.Y
	if g.slowY = math.Abs(u.X) < math.Abs(u.Y); g.slowY {
		slow, fast = u.Y, ideal.X
		g.centre[0], g.centre[1], g.step[0], g.step[1] = g.centre[1], g.centre[0], g.step[1], g.step[0]
	}
	g.out = math.Copysign(1, slow)
	nearest := math.Round(fast / g.step[1])
	about := 2 + math.Ceil(2*g.step[0]/g.step[1])
	for _, aside := range append([]float64{0}, span(-about, about)...) {
		p, on := g.place(nearest + aside)
		if !on || ok && p.Sub(ideal).Norm() >= at.Sub(ideal).Norm() || !w.mayStand(i, a, t, p, ideal) {
			continue
		}
		if at, ok = p, true; aside == 0 {
			return at, true
		}
	}
	return at, ok
}

// span are the whole numbers from one to another.
func span(from, to float64) (all []float64) {
	for v := from; v <= to; v++ {
		all = append(all, v)
	}
	return all
}

// grid are the places that the readouts show about a swing: its centre and the readouts' steps, of the slow coordinate
// first; out is the way of the slow one away from the centre.
type grid struct {
	centre, step      [2]float64
	swing, kappa, out float64
	slowY             bool
}

// place is the one at so many counts of the fast coordinate whose slow one lies next to the swing on its waste side; without
// a side the nearest. ok is false where there is none.
func (g *grid) place(fast float64) (p geom.Point, ok bool) {
	f := fast * g.step[1]
	square := (g.swing - (f - g.centre[1])) * (g.swing + (f - g.centre[1]))
	if square < 0 && g.kappa < 0 {
		return p, false
	}
	exact := (g.centre[0] + g.out*math.Sqrt(max(0, square))) / g.step[0]
	k := math.Round(exact)
	switch waste := g.out * g.kappa; { // away from the centre of a convex arc
	case waste > 0:
		k = math.Ceil(exact - 1e-9)
	case waste < 0:
		k = math.Floor(exact + 1e-9)
	}
	if g.slowY {
		return geom.Point{X: f, Y: k * g.step[0]}, true
	}
	return geom.Point{X: k * g.step[0], Y: f}, true
}

// mayStand reports whether the cutter may be plunged at a place, told by the readout, in the stead of another: within the
// ends of the arc, and no nearer to what stands as high as the cutter goes than the other is, or than it may be.
func (w *work) mayStand(i int, a *Arc, t *trial, at, ideal geom.Point) bool {
	self := &w.elements[i]
	from, sweep := w.plunged(a, i, t)
	if off := at.Sub(a.Readout); !a.Full() && float64((off.Bearing()-geom.Bearing(from)).Normalized()) > sweep+1e-12 &&
		float64((geom.Bearing(from)-off.Bearing()).Normalized()) > 1e-12 {
		return false
	}
	if self.kappa() == 0 {
		return true
	}
	at, ideal = at.Add(w.Datum), ideal.Add(w.Datum)
	for _, j := range w.within(geom.Straight(at, at), t.cutter/2) {
		e := &w.elements[j]
		if e.hand == 0 || e.centreLine || w.chains[e.chain].top() <= w.chains[self.chain].lower {
			continue
		}
		near, _ := e.Distance(at)
		if near >= t.cutter/2-1e-9 {
			continue
		}
		if meant, _ := e.Distance(ideal); near < meant-1e-9 || j == i {
			return false
		}
	}
	return true
}

// turnBack finds where a slide goes back.
func (p *Places) turnBack() {
	var came [2]float64
	for k := 1; k < len(p.At); k++ {
		d := p.At[k].Sub(p.At[k-1])
		var back [2]bool
		for slide, by := range [2]float64{d.X, d.Y} {
			back[slide] = by*came[slide] < 0
			if by != 0 {
				came[slide] = by
			}
		}
		if back[0] || back[1] {
			p.Turns, p.Slides = append(p.Turns, k-1), append(p.Slides, back)
		}
	}
}

// cusp is how high what is left stands at most between places, of a full circle between the last and the first too.
func (w *work) cusp(i int, a *Arc, t *trial, at []geom.Point) (most float64) {
	s, c := t.path.Radius, t.cutter/2
	if a.Full() {
		at = append(slices.Clone(at), at[0])
	}
	for k := 1; k < len(at); k++ {
		p, q := at[k-1].Sub(a.Readout), at[k].Sub(a.Readout)
		middle, half := p.Add(q).Times(0.5), q.Sub(p).Norm()/2
		if half == 0 {
			continue
		}
		across := geom.Point{X: p.Y - q.Y, Y: q.X - p.X}.Times(math.Sqrt(max(0, c*c-half*half)) / (2 * half))
		one, other := middle.Add(across).Norm(), middle.Sub(across).Norm()
		for _, wall := range walls(s, c, w.elements[i].kappa()) {
			rho := max(one, other)
			if wall[1] > 0 {
				rho = min(one, other)
			}
			most = max(most, wall[1]*(rho-wall[0]))
		}
	}
	return most
}
