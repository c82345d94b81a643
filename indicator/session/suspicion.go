package session

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// A statement of job or machine that is wrong makes winds go wrong in its own way: a slide whose sense is stated wrong
// doubles its error, a wrong touch doubles all of them, a ring that is read wrongly turns or mirrors what the centre
// does. The next sweep sees the movement, and which statement would explain it. What is the same at every station,
// the reach and the reference's radius, moves nothing and is never seen here.

// Suspicion is what the winds of the last trial should have done to (level, e_x, e_y), what the sweep behind them
// found that they did, millimetres, and the statements that would explain the difference, the likeliest first.
type Suspicion struct {
	Should, Went [3]float64
	Suspects     []Suspect
}

// Suspect is a statement that may be wrong. Turn is by how much the ring's zero would be off, of a ZeroFault.
type Suspect struct {
	Fault  Fault
	Slides []string
	Turn   geom.Bearing
}

// How improbable the winds have to look as stated for the statements to be doubted, and how well another must explain
// them: quantiles of chi-squared with three degrees of freedom, the former at 1e-5 with an allowance for a spread that
// few readings tell, the latter at 1 %.
const (
	doubtedAt   = 25.9
	doubtedFew  = 60
	explainedAt = 11.34
)

// leastTurned is the least by which a ring's zero is said to be off: less is learnt, and needs no word.
const leastTurned = 10 * geom.Degree

// screwDoubt is the doubt that a screw's periodic error leaves of a wind, millimetres (common practice, no source).
const screwDoubt = 0.005

// needleDoubt is the doubt of where a slide was stopped by the needle, millimetres (common practice, no source).
const needleDoubt = 0.005

// pushed is what a wind should have done: its effect on (level, e_x, e_y), and the doubt of it.
type pushed struct {
	name string
	by   [3]float64
	cov  [3][3]float64
	read bool // under the needle, which told where it went
}

// Suspicion compares the last trial's winds with what the closed sweep says of them; ok is false where they went as
// stated, and where nothing explains them.
func (s *State) Suspicion() (x Suspicion, ok bool) {
	if s.Past == nil || s.Sweep.Closed == "" || s.Hold != nil || s.touches() || s.Set.Job.Setup.Taps || s.Raising != nil {
		return x, false
	}
	now, err := s.Fit()
	if err != nil || !(now.Dof >= 1) {
		return x, false
	}
	then, err := s.fitPast()
	if err != nil || !(then.Dof >= 1) || then.Circle.Hold || now.Circle.Hold {
		return x, false
	}
	pushes := s.pushes()
	cov := sum(sum(then.Random(), now.Random()), s.clamps())
	x.Went = difference(circle(&now), circle(&then))
	for _, p := range pushes {
		x.Should, cov = plus(x.Should, p.by), sum(cov, p.cov)
	}
	asStated := chiSquared(difference(x.Went, x.Should), cov)
	if !(asStated > doubtedAt+doubtedFew/min(then.Dof, now.Dof)) {
		return x, false
	}
	for _, h := range s.explanations(pushes, x.Went, cov) {
		if q := chiSquared(difference(x.Went, h.would), cov); q < explainedAt && q < asStated/2 {
			x.Suspects = append(x.Suspects, h.Suspect)
		}
	}
	return x, len(x.Suspects) > 0
}

func circle(f *indicator.Found) [3]float64 {
	return [3]float64{f.Circle.Level, f.Circle.Centre.X, f.Circle.Centre.Y}
}

// pushes lists what the last trial's winds should have done, in their order.
func (s *State) pushes() (out []pushed) {
	c := s.cross()
	for d := s.Past.Winds; d != nil; d = d.Before {
		a, ok := c.axis(d.Wind.Slide)
		if !ok {
			continue
		}
		travel := d.Wind.Travel
		u := math.Hypot(s.doubtOf(d.Wind), screwDoubt*math.Sqrt2)
		if d.Park != nil {
			travel += d.Park.Shift
			u = math.Hypot(u, parkDoubt)
			if k := d.Park; d.Reading != nil && k.Act != 0 {
				travel += (*d.Reading-k.Goal)/k.Act - k.Shift
				u = needleDoubt
			}
		}
		aside, askew := c.aside(d.Wind.Slide)
		out = append(out, pushed{d.Wind.Slide, times(a, travel), sum(outer(a, u), outer(aside, askew*travel)), d.Reading != nil})
	}
	slices.Reverse(out) // in the order in which they were wound
	return out
}

// clamps is the covariance of what closing the slides' clamps does, those that were not wound included.
func (s *State) clamps() (cov [3][3]float64) {
	c := s.cross()
	for _, name := range s.Set.Job.Needs() {
		a, ok := c.axis(name)
		if sl, has := s.Set.Machine.Slide(name); ok && has && sl.Lock {
			cov = sum(cov, outer(a, lockLimit))
		}
	}
	return cov
}

// bySlide puts together what each slide did.
func bySlide(winds []pushed) (out []pushed) {
	for _, p := range winds {
		if k := slices.IndexFunc(out, func(q pushed) bool { return q.name == p.name }); k >= 0 {
			out[k].by, out[k].read = plus(out[k].by, p.by), out[k].read || p.read
		} else {
			out = append(out, p)
		}
	}
	return out
}

// explanation is what the winds would have done if a statement were other.
type explanation struct {
	Suspect
	would [3]float64
}

// explanations lists the statements that could be wrong, the likeliest first (common practice, no source). A slide that
// was stopped by the needle went where the needle said, and answers for nothing but where the needle stood.
func (s *State) explanations(winds []pushed, went [3]float64, cov [3][3]float64) (out []explanation) {
	total, doubtful := [3]float64{}, [3]float64{}
	all := bySlide(winds)
	var names, cross []string
	var crossed [3]float64
	for _, p := range all {
		if total = plus(total, p.by); p.read {
			continue
		}
		doubtful = plus(doubtful, p.by)
		if names = append(names, p.name); p.name != "offset" {
			cross, crossed = append(cross, p.name), plus(crossed, p.by)
		}
	}
	add := func(f Fault, slides []string, turn geom.Bearing, less [3]float64, more [3]float64) {
		out = append(out, explanation{Suspect{f, slides, turn}, plus(difference(total, less), more)})
	}
	for _, p := range all {
		if !p.read {
			add(ScrewFault, []string{p.name}, 0, p.by, times(p.by, -1))
		}
	}
	if len(names) > 0 {
		add(TouchFault, nil, 0, doubtful, times(doubtful, -1))
	}
	if len(cross) > 1 {
		add(ScrewFault, cross, 0, crossed, times(crossed, -1))
	}
	if turn, would, ok := ringTurned(winds, went, cov); ok {
		out = append(out, explanation{Suspect{ZeroFault, nil, turn}, would})
	}
	if len(cross) > 0 {
		s.mirrored(add, crossed)
		s.exchanges(add, all, crossed)
	}
	for _, p := range all {
		if !p.read {
			add(UnmovedFault, []string{p.name}, 0, p.by, [3]float64{})
		}
	}
	return out
}

type adder func(f Fault, slides []string, turn geom.Bearing, less, more [3]float64)

// mirrored is a ring whose figures grow the other way, which mirrors what the centre does about the bearing of its zero.
func (s *State) mirrored(add adder, crossed [3]float64) {
	about := s.Ring().Zero
	if s.Set.Job.Setup.Kind == indicator.Turned {
		about = s.Set.Job.Setup.IndicatorBearing - about
	}
	u := (2 * about).Unit()
	add(RingFault, nil, 0, crossed, [3]float64{0, u.X*crossed[1] + u.Y*crossed[2], u.Y*crossed[1] - u.X*crossed[2]})
}

// ringTurned finds the turn of the ring's zero that best explains what the winds did, in whole degrees; ok is false
// where none does better than none.
func ringTurned(all []pushed, went [3]float64, cov [3][3]float64) (turn geom.Bearing, would [3]float64, ok bool) {
	least := math.Inf(1)
	for deg := int(leastTurned / geom.Degree); deg <= 360-int(leastTurned/geom.Degree); deg++ {
		by := geom.Bearing(deg) * geom.Degree
		if v, can := underTurned(all, by); can {
			if q := chiSquared(difference(went, v), cov); q < least {
				least, turn, would, ok = q, by, v, true
			}
		}
	}
	return geom.Bearing(math.Remainder(float64(turn), 2*math.Pi)), would, ok
}

// underTurned is what the winds did where the ring's zero is turned: by the collar a cross slide went as far as told,
// along a line that is turned. Under the needle it went until its part along the line it was watched on was as told, what
// the slides before it did there included; can is false where that line is too far turned for the needle to get there.
func underTurned(all []pushed, turn geom.Bearing) (v [3]float64, can bool) {
	u := turn.Unit()
	told := [3]float64{}
	for _, p := range all {
		told = plus(told, p.by)
		line := [3]float64{p.by[0], u.X*p.by[1] - u.Y*p.by[2], u.Y*p.by[1] + u.X*p.by[2]}
		k := 1.0
		if along := dot(p.by, p.by); p.read && along > 0 {
			if !(u.X > 0.2) {
				return v, false
			}
			k = (dot(told, p.by) - dot(v, p.by)) / dot(line, p.by)
		}
		v = plus(v, times(line, k))
	}
	return v, true
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// exchanges are those of one cross slide wound in the other's place; whichever way its handwheel turns.
func (s *State) exchanges(add adder, all []pushed, crossed [3]float64) {
	c := s.cross()
	for _, signs := range [][2]float64{{1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
		more := [3]float64{}
		for _, p := range all {
			i := c.of(p.name)
			if i < 0 || p.read {
				continue
			}
			own, _ := c.axis(p.name)
			other, _ := c.axis(c.names[1-i])
			travel := own[1]*p.by[1] + own[2]*p.by[2]
			more = plus(more, times(other, signs[i]*travel))
		}
		add(ExchangeFault, c.names[:], 0, crossed, more)
	}
}

func plus(a, b [3]float64) [3]float64 { return [3]float64{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func difference(a, b [3]float64) [3]float64 { return plus(a, times(b, -1)) }

func times(a [3]float64, k float64) [3]float64 { return [3]float64{k * a[0], k * a[1], k * a[2]} }

func sum(a, b [3][3]float64) [3][3]float64 {
	for i := range a {
		a[i] = plus(a[i], b[i])
	}
	return a
}

// outer is the covariance of what a slide may do to the unknowns where its travel has a standard uncertainty u.
func outer(a indicator.Axis, u float64) (c [3][3]float64) {
	for i := range c {
		c[i] = times(a, float64(a[i]*u)*u)
	}
	return c
}

// chiSquared is the square of a deviation in terms of its covariance; NaN where that is none.
func chiSquared(d [3]float64, c [3][3]float64) float64 {
	q := 0.0
	for i := range 3 { // Gauss, whose pivots are positive for a covariance
		if !(c[i][i] > 0) {
			return math.NaN()
		}
		q += d[i] * d[i] / c[i][i]
		for j := i + 1; j < 3; j++ {
			f := c[j][i] / c[i][i]
			d[j] -= f * d[i]
			for k := i; k < 3; k++ {
				c[j][k] -= f * c[i][k]
			}
		}
	}
	return q
}
