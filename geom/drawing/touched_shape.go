package drawing

import (
	"errors"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// shape is a straight or an arc under way in a fit. A straight is all p with n·(p − mean) = v[1], n
// standing at the bearing v[0] to the left of its run; an arc is (x, y, radius).
type shape struct {
	form   Form
	points []geom.Point
	mean   geom.Point
	v      [3]float64
	turn   float64 // of an arc: +1 counter-clockwise along its points, −1 clockwise
}

func (s *shape) unknowns() int {
	if s.form == StraightForm {
		return 2
	}
	return 3
}

func (s *shape) centre() geom.Point { return geom.Point{X: s.v[0], Y: s.v[1]} }
func (s *shape) normal() geom.Point { return geom.Bearing(s.v[0]).Unit() }

// residual is how far a point lies off, and its derivatives by the unknowns.
func (s *shape) residual(p geom.Point) (r float64, by [3]float64) {
	if s.form == StraightForm {
		n, d := s.normal(), p.Sub(s.mean)
		return n.Dot(d) - s.v[1], [3]float64{n.Cross(d), -1}
	}
	away := p.Sub(s.centre())
	far := away.Norm()
	if far == 0 {
		return -s.v[2], [3]float64{0, 0, -1}
	}
	return far - s.v[2], [3]float64{-away.X / far, -away.Y / far, -1}
}

func (s *shape) squares() (sum float64) {
	for _, p := range s.points {
		r, _ := s.residual(p)
		sum += float64(r * r)
	}
	return sum
}

// extent is how long the points stretch, mm.
func (s *shape) extent() (most float64) {
	for _, p := range s.points {
		most = max(most, p.Sub(s.points[0]).Norm())
	}
	return most
}

var errFewPoints = errors.New("a straight needs two places, an arc three")

// straightThrough fits a straight alone: along the longer axis of the points' spread.
func straightThrough(p []geom.Point) (shape, error) {
	s := shape{form: StraightForm, points: p}
	for _, q := range p {
		s.mean = s.mean.Add(q.Times(1 / float64(len(p))))
	}
	var xx, xy, yy float64
	for _, q := range p {
		d := q.Sub(s.mean)
		xx, xy, yy = xx+float64(d.X*d.X), xy+float64(d.X*d.Y), yy+float64(d.Y*d.Y)
	}
	if len(p) < 2 || xx+yy == 0 {
		return s, errFewPoints
	}
	along := geom.Bearing(math.Atan2(2*xy, xx-yy) / 2)
	if p[len(p)-1].Sub(p[0]).Dot(along.Unit()) < 0 {
		along += math.Pi
	}
	s.v[0] = float64(along) + math.Pi/2
	return s, nil
}

// arcThrough fits an arc alone.
func arcThrough(p []geom.Point) (shape, error) {
	f, err := fit.Orthogonal(p, nil)
	if err != nil {
		return shape{}, err
	}
	s := shape{form: ArcForm, points: p, v: [3]float64{f.Centre.X, f.Centre.Y, f.Radius}}
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += p[i-1].Sub(f.Centre).Cross(p[i].Sub(f.Centre))
	}
	s.turn = math.Copysign(1, sum)
	return s, nil
}

// bendAlarm is how many straights are taken for arcs.
const bendAlarm = 0.001

// shapeOf fits a group alone. Where it is open what it is, it is a straight unless a bend explains
// more than scatter would.
func shapeOf(g Group, sigma float64) (shape, error) {
	if g.Form == ArcForm {
		return arcThrough(g.Points)
	}
	line, err := straightThrough(g.Points)
	if g.Form == StraightForm || err != nil || len(g.Points) == 2 {
		return line, err
	}
	arc, err := arcThrough(g.Points)
	if err != nil {
		return line, nil // no circle is better than the straight
	}
	free := float64(len(g.Points) - 3)
	if sigma == 0 && free == 0 {
		return arc, nil
	}
	variance, dof := arc.squares()/free, free
	if sigma > 0 {
		dof = free + priorDof
		variance = (float64(priorDof*sigma*sigma) + arc.squares()) / dof
	}
	k := fit.Student(1-bendAlarm/2, dof)
	if line.squares()-arc.squares() <= k*k*variance {
		return line, nil
	}
	return arc, nil
}

// cutUp cuts a run of points into elements, so that the sum of χ² and of what each element costs is
// least. Costs are ln n for each unknown and for the place of the cut.
func cutUp(g Group, sigma float64, told *tally) []Group {
	p := g.Points
	n := len(p)
	price := math.Log(float64(max(n, 3)))
	cost, from, form := make([]float64, n+1), make([]int, n+1), make([]Form, n+1)
	for end := 1; end <= n; end++ {
		cost[end] = math.Inf(1)
	}
	for begin := range n {
		if math.IsInf(cost[begin], 1) {
			continue
		}
		for end := begin + 2; end <= n; end++ {
			best, kind := elementCost(p[begin:end], sigma, price)
			if total := cost[begin] + best; total < cost[end] {
				cost[end], from[end], form[end] = total, begin, kind
			}
			if end-begin > 4 && best > 50+4*price+3*float64(end-begin) { // it only gets worse
				break
			}
		}
	}
	var out []Group
	for end := n; end > 0; end = from[end] {
		if math.IsInf(cost[end], 1) {
			return []Group{g}
		}
		out = append([]Group{{Form: form[end], Points: p[from[end]:end], Line: g.Line}}, out...)
	}
	at := 1
	for _, part := range out {
		told.tell(Note{Kind: Grouped, Entity: part.Form.String(), Line: at, Count: len(part.Points)})
		at += len(part.Points)
	}
	return out
}

// elementCost is the least that one element for these points costs. Two points make a straight, four an
// arc: fewer fit whatever they are.
func elementCost(p []geom.Point, sigma, price float64) (best float64, form Form) {
	best = math.Inf(1)
	if line, err := straightThrough(p); err == nil {
		best, form = line.squares()/float64(sigma*sigma)+3*price, StraightForm
	}
	if len(p) < 4 || best < 3*price+2 { // a bend would not pay
		return best, form
	}
	if arc, err := arcThrough(p); err == nil {
		if c := arc.squares()/float64(sigma*sigma) + 4*price; c < best {
			best, form = c, ArcForm
		}
	}
	return best, form
}
