package advice

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Fault is the statement of job or machine that would have to be other.
type Fault string

// The faults.
const (
	NoFault       Fault = "none"
	DialFault     Fault = "dial"      // the dial counts down when it is pressed
	TouchFault    Fault = "touch"     // bore for boss
	ScrewFault    Fault = "clockwise" // what clockwise does to the slides that are named
	EitherFault   Fault = "touch or clockwise"
	BearingsFault Fault = "bearings" // the ring is read from the other side, half a turn off
	RingFault     Fault = "sense"    // which way the ring's figures grow
	ZeroFault     Fault = "zero"     // where the ring shows 0
	ExchangeFault Fault = "exchange" // one slide is taken for the other
	UnmovedFault  Fault = "unmoved"  // the slide stood still, whatever its handwheel did
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

// Pushed is what a wind should have done: its effect on (level, e_x, e_y), and the doubt of it.
type Pushed struct {
	Slide string
	By    [3]float64
	Cov   [3][3]float64
	Read  bool // under the needle, which told where it went
	// Watched: under the needle, which nobody has read behind it: the hand may have stopped where the needle went against its goal.
	Watched bool
}

// Push is the wind of a slide that does axis to the circle: by so much, give or take u; what it does aside is known to askew,
// radians (see [Cross.Aside]). read says that the needle has told where it went.
func Push(name string, axis, aside indicator.Axis, travel, u, askew float64, read bool) Pushed {
	return Pushed{Slide: name, By: times(axis, travel), Cov: sum(outer(axis, u), outer(aside, askew*travel)), Read: read}
}

// Astray are the winds between two sweeps, in the order in which they were wound, and what is stated of them.
type Astray struct {
	Then, Now *indicator.Estimate
	Winds     []Pushed
	// Clamped is what the slides whose clamps were closed do to the circle.
	Clamped []indicator.Axis
	Cross   *Cross
	// Mirror is the bearing about which a ring mirrors the centre whose figures grow the other way.
	Mirror geom.Bearing
}

// Explain compares the winds with what the later sweep says of them; ok is false where they went as
// stated, and where nothing explains them.
func (a *Astray) Explain() (x Suspicion, ok bool) {
	cov := sum(a.Then.Random(), a.Now.Random())
	for _, c := range a.Clamped {
		cov = sum(cov, outer(c, LockLimit))
	}
	x.Went = difference(circle(a.Now), circle(a.Then))
	for _, p := range a.Winds {
		x.Should, cov = plus(x.Should, p.By), sum(cov, p.Cov)
	}
	asStated := chiSquared(difference(x.Went, x.Should), cov)
	if !(asStated > doubtedAt+doubtedFew/min(a.Then.Dof, a.Now.Dof)) {
		return x, false
	}
	for _, h := range a.explanations(x.Went, cov) {
		// What was not wound by is no doubt.
		if q := chiSquared(difference(x.Went, h.would), less(cov, h.sure)); q < explainedAt && q < asStated/2 {
			x.Suspects = append(x.Suspects, h.Suspect)
		}
	}
	return x, len(x.Suspects) > 0
}

func circle(f *indicator.Estimate) [3]float64 {
	return [3]float64{f.Circle.Level, f.Circle.Centre.X, f.Circle.Centre.Y}
}

// bySlide puts together what each slide did.
func bySlide(winds []Pushed) (out []Pushed) {
	for _, p := range winds {
		if k := slices.IndexFunc(out, func(q Pushed) bool { return q.Slide == p.Slide }); k >= 0 {
			out[k].By, out[k].Cov, out[k].Read = plus(out[k].By, p.By), sum(out[k].Cov, p.Cov), out[k].Read || p.Read
			out[k].Watched = out[k].Watched || p.Watched
		} else {
			out = append(out, p)
		}
	}
	return out
}

// explanation is what the winds would have done if a statement were other, and what of their doubt there would not be then.
type explanation struct {
	Suspect
	would [3]float64
	sure  [3][3]float64
}

// explanations lists the statements that could be wrong, the likeliest first (common practice, no source). A slide that
// was stopped by the needle went where the needle said, and answers for nothing but where the needle stood.
func (a *Astray) explanations(went [3]float64, cov [3][3]float64) (out []explanation) {
	total, doubtful := [3]float64{}, [3]float64{}
	all := bySlide(a.Winds)
	var names, cross []string
	var crossed [3]float64
	for _, p := range all {
		if total = plus(total, p.By); p.Read {
			continue
		}
		doubtful = plus(doubtful, p.By)
		if names = append(names, p.Slide); p.Slide != "offset" {
			cross, crossed = append(cross, p.Slide), plus(crossed, p.By)
		}
	}
	add := func(f Fault, slides []string, turn geom.Bearing, less [3]float64, more [3]float64) {
		out = append(out, explanation{Suspect: Suspect{f, slides, turn}, would: plus(difference(total, less), more)})
	}
	back := 1.0 // of the way told, of the slide that may have been stopped
	for _, p := range all {
		if !p.Read {
			back = wentBack(&p, difference(went, difference(total, p.By)), cov)
			add(ScrewFault, []string{p.Slide}, 0, p.By, times(p.By, -back))
		}
	}
	if len(names) != 1 {
		back = 1
	}
	if len(names) > 0 {
		add(TouchFault, nil, 0, doubtful, times(doubtful, -back))
	}
	if len(cross) > 1 {
		add(ScrewFault, cross, 0, crossed, times(crossed, -1))
	}
	if turn, would, ok := ringTurned(a.Winds, went, cov); ok {
		out = append(out, explanation{Suspect: Suspect{ZeroFault, nil, turn}, would: would})
	}
	if len(cross) > 0 {
		a.mirrored(add, crossed)
		a.exchanges(add, all, crossed)
	}
	for _, p := range all {
		if !p.Read {
			add(UnmovedFault, []string{p.Slide}, 0, p.By, [3]float64{})
			out[len(out)-1].sure = p.Cov
		}
	}
	return out
}

// leastBack is the least part of the way told that a slide has gone back, where the needle has stopped it.
const leastBack = 0.2

// wentBack is how much of its way a slide has gone back, where that is its doing alone: all of it by the collar, and as far as
// fits best under the needle, where the hand stops as it sees it go against its goal.
func wentBack(p *Pushed, went [3]float64, cov [3][3]float64) (part float64) {
	part = 1
	if !p.Watched || chiSquared(went, less(cov, p.Cov)) < explainedAt { // it stood still, by all that can be seen
		return part
	}
	least := math.Inf(1)
	for k := 1.0; k >= leastBack; k -= 0.05 {
		if q := chiSquared(difference(went, times(p.By, -k)), cov); q < least {
			least, part = q, k
		}
	}
	return part
}

type adder func(f Fault, slides []string, turn geom.Bearing, less, more [3]float64)

// mirrored is a ring whose figures grow the other way, which mirrors what the centre does about the bearing of its zero.
func (a *Astray) mirrored(add adder, crossed [3]float64) {
	u := (2 * a.Mirror).Unit()
	add(RingFault, nil, 0, crossed, [3]float64{0, u.X*crossed[1] + u.Y*crossed[2], u.Y*crossed[1] - u.X*crossed[2]})
}

// ringTurned finds the turn of the ring's zero that best explains what the winds did, in whole degrees; ok is false
// where none does better than none.
func ringTurned(all []Pushed, went [3]float64, cov [3][3]float64) (turn geom.Bearing, would [3]float64, ok bool) {
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
func underTurned(all []Pushed, turn geom.Bearing) (v [3]float64, can bool) {
	u := turn.Unit()
	told := [3]float64{}
	for _, p := range all {
		told = plus(told, p.By)
		line := [3]float64{p.By[0], u.X*p.By[1] - u.Y*p.By[2], u.Y*p.By[1] + u.X*p.By[2]}
		k := 1.0
		if along := dot(p.By, p.By); p.Read && along > 0 {
			if !(u.X > 0.2) {
				return v, false
			}
			k = (dot(told, p.By) - dot(v, p.By)) / dot(line, p.By)
		}
		v = plus(v, times(line, k))
	}
	return v, true
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// exchanges are those of one cross slide wound in the other's place; whichever way its handwheel turns.
func (a *Astray) exchanges(add adder, all []Pushed, crossed [3]float64) {
	c := a.Cross
	for _, signs := range [][2]float64{{1, 1}, {-1, -1}, {1, -1}, {-1, 1}} {
		more := [3]float64{}
		for _, p := range all {
			i := c.Of(p.Slide)
			if i < 0 || p.Read {
				continue
			}
			own, _ := c.Axis(p.Slide)
			other, _ := c.Axis(c.Names[1-i])
			travel := own[1]*p.By[1] + own[2]*p.By[2]
			more = plus(more, times(other, signs[i]*travel))
		}
		add(ExchangeFault, c.Names[:], 0, crossed, more)
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

func less(a, b [3][3]float64) [3][3]float64 {
	for i := range a {
		a[i] = difference(a[i], b[i])
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
