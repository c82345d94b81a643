package drawing

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// report makes elements of the shapes.
func (j *joint) report(out *Touched, told *tally) {
	out.Sigma, out.Dof = j.sigma, j.dof
	starts, ends := j.outermost()
	for _, t := range j.blends {
		ends[t.a], starts[t.b] = j.corner(&t, ends[t.a], starts[t.b])
	}
	path := piece{}
	at := 1
	for i := range j.shapes {
		f := j.fitted(i, starts[i], ends[i])
		out.Elements = append(out.Elements, f)
		path.Chain = append(path.Chain, f.Element)
		path.From = append(path.From, Source{Line: j.groups[i].Line, Entity: j.shapes[i].form.String(), Layer: j.opt.Layer, Handle: f.Name})
		j.misfits(i, at, told)
		at += len(j.shapes[i].points)
	}
	for _, t := range j.blends {
		out.Blends = append(out.Blends, TouchedBlend{Miss: t.miss, MissU: t.missU, Tangent: t.held,
			Meeting: geom.Meet(out.Elements[t.a].Element, out.Elements[t.b].Element)})
	}
	if j.opt.Closed && path.Chain.Closed(math.Inf(1)) && len(path.Chain) > 2 {
		out.Loops = append(out.Loops, path.Path)
		return
	}
	out.Open = append(out.Open, path.Path)
}

// outermost are the places on each shape nearest to its first and its last point.
func (j *joint) outermost() (starts, ends []geom.Point) {
	for i := range j.shapes {
		s := &j.shapes[i]
		starts, ends = append(starts, s.nearest(s.points[0])), append(ends, s.nearest(s.points[len(s.points)-1]))
	}
	return starts, ends
}

// nearest is the place on a whole straight or circle nearest to p.
func (s *shape) nearest(p geom.Point) geom.Point {
	r, by := s.residual(p)
	if s.form == StraightForm {
		return p.Sub(s.normal().Times(r))
	}
	return p.Add(geom.Point{X: by[0], Y: by[1]}.Times(r))
}

// corner is where shape a ends and b begins: their tangent place, or where they cross, or, if they do
// not, where each was last touched.
func (j *joint) corner(t *tangency, end, start geom.Point) (geom.Point, geom.Point) {
	a, b := &j.shapes[t.a], &j.shapes[t.b]
	if t.held {
		p := touch(a, b)
		return p, p
	}
	between, best := j.between(t), max(a.extent(), b.extent())
	for _, p := range meetings(a.whole(), b.whole()) {
		if far := p.Sub(between).Norm(); far < best {
			best, end, start = far, p, p
		}
	}
	return end, start
}

func (s *shape) whole() whole {
	if s.form == StraightForm {
		n := s.normal()
		return whole{at: s.mean.Add(n.Times(s.v[1])), along: geom.Point{X: n.Y, Y: -n.X}}
	}
	return whole{at: s.centre(), radius: s.v[2], none: !(s.v[2] > 0)}
}

// fitted is shape i as an element, with its uncertainties.
func (j *joint) fitted(i int, start, end geom.Point) Fitted {
	s, nan := &j.shapes[i], math.NaN()
	f := Fitted{Element: geom.Straight(start, end), Name: j.groups[i].Name, N: len(s.points), RadiusU: nan,
		CentreU: geom.Point{X: nan, Y: nan}, HeadingU: nan}
	for _, p := range s.points {
		r, _ := s.residual(p)
		f.Off = max(f.Off, math.Abs(r))
	}
	k := nan
	if j.dof > 0 {
		k = fit.Coverage(j.dof)
	}
	if s.form == StraightForm {
		f.HeadingU = k * math.Sqrt(j.covariance(i, 0, 0))
		return f
	}
	f.Centre, f.Radius = s.centre(), math.Abs(s.v[2])
	from, to := start.Sub(f.Centre).Bearing(), end.Sub(f.Centre).Bearing()
	if f.Turn = (to - from).Normalized(); s.turn < 0 {
		f.Turn -= 2 * math.Pi
	}
	order := [3]int{2, 0, 1} // radius first
	for a := range 3 {
		for b := range 3 {
			f.Covariance[a][b] = j.covariance(i, order[a], order[b])
		}
	}
	f.RadiusU = k * math.Sqrt(f.Covariance[0][0])
	f.CentreU = geom.Point{X: k * math.Sqrt(f.Covariance[1][1]), Y: k * math.Sqrt(f.Covariance[2][2])}
	return f
}

// misfitAlarm is how many clean fits of all points raise an alarm.
const misfitAlarm = 0.01

// misfits tells of points that lie farther off than the repeatability explains, shared out over all
// points (Bonferroni). The first of the shape's points has the number at.
func (j *joint) misfits(i, at int, told *tally) {
	if j.opt.Repeatability <= 0 {
		return
	}
	total := 0
	for k := range j.shapes {
		total += len(j.shapes[k].points)
	}
	limit := j.opt.Repeatability * fit.Student(1-misfitAlarm/2/float64(total), priorDof)
	for k, p := range j.shapes[i].points {
		if r, _ := j.shapes[i].residual(p); math.Abs(r) > limit {
			told.tell(Note{Kind: Misfit, Entity: j.shapes[i].form.String(), Line: at + k, At: p, Size: math.Abs(r)})
		}
	}
}
