package slide

import (
	"math"
	"slices"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// lockDof is what the assumed spread of a lock's shift is worth in degrees of freedom, and lockWorth
// the same for its assumed mean of nothing, in locks seen.
const (
	lockDof   = 4.0
	lockWorth = 0.03 // a shift of up to 20 µm, beside a spread of 2 (common practice, no source)
)

var unknown = indicator.Value{V: math.NaN(), U: math.NaN()}

// coverage is the factor of a two-sided 95 % interval: all uncertainties are stated, none is
// found from scatter.
var coverage = fit.Coverage(math.Inf(1))

// Posterior holds the values that a lesson comes to. Uncertainties are expanded (95 %). What
// cannot be known is NaN.
type Posterior struct {
	by     *learner
	origin int       // where the columns of today's origin begin; −1 without one
	z      []float64 // the learnt parameters, mean
	cov    []float64 // and their covariance, l.n × l.n
	miss   missed
}

// Posterior computes what the lesson comes to: the parameters that make priors and observations most
// likely together, and their covariance. Then the distribution of q gets its true shape, between
// 0 and the limit, and all other parameters follow as far as they hang together with q: given q
// they are normal, with a mean that is linear in q.
func (b Lesson) Posterior() Posterior {
	if b.Check() != nil {
		return Posterior{}
	}
	l := b.learner()
	z, f, ok := l.fit()
	if !ok {
		return Posterior{}
	}
	out := Posterior{by: l, origin: -1, z: z, cov: f.covariance()}
	if i := slices.Index(l.origins, b.Origin); i >= 0 {
		out.origin = l.atOrigin(i)
	}
	at := l.atMiss()
	v := out.cov[at*l.n+at]
	out.miss = missedAfter(z[at], v)
	shift, shrink := (out.miss.mean-z[at])/v, (1-out.miss.variance/v)/v
	col := make([]float64, l.n)
	for i := range col {
		col[i] = out.cov[i*l.n+at]
	}
	for i := range l.n {
		z[i] += float64(shift * col[i])
		for j := range l.n {
			out.cov[i*l.n+j] -= float64(float64(shrink*col[i]) * col[j])
		}
	}
	for _, x := range append(out.cov, z...) {
		if !(math.Abs(x) < math.MaxFloat64) {
			return Posterior{}
		}
	}
	return out
}

// Known reports whether anything could be learnt at all.
func (l Posterior) Known() bool { return l.by != nil }

// from reports whether a radius of the given origin is among what was learnt from.
func (l Posterior) from(origin int) bool { return l.Known() && slices.Contains(l.by.origins, origin) }

func (l Posterior) variance(row []float64) float64 {
	sum := 0.0
	for i, a := range row {
		if a == 0 {
			continue
		}
		for j, b := range row {
			sum += float64(float64(a*b) * l.cov[i*l.by.n+j])
		}
	}
	return max(0, sum)
}

func (l Posterior) sd(at int) float64 { return math.Sqrt(max(0, l.cov[at*l.by.n+at])) }

// Gain returns k, what the slide moves for 1 mm of count: a pure number.
func (l Posterior) Gain() indicator.Value {
	if !l.Known() {
		return unknown
	}
	return indicator.Value{V: l.by.gain(l.z), U: coverage * l.by.gainU * l.sd(l.by.atGain())}
}

// Origin returns s₀, the count at which the slide would stand square to the head axis.
func (l Posterior) Origin() indicator.Value {
	if !l.Known() || l.origin < 0 {
		return unknown
	}
	return indicator.Value{V: l.z[l.origin+2], U: coverage * l.sd(l.origin+2)}
}

// Bounds is a value whose 95 % interval does not lie evenly about it.
type Bounds struct{ V, Low, High float64 }

// Miss returns |h|, by which the slide's line misses the head axis: its mean and 95 % interval.
// Low is 0 unless the trials prove a miss. On which side of the axis the line passes no swing
// radius can show.
func (l Posterior) Miss() Bounds {
	if !l.Known() {
		return Bounds{math.NaN(), math.NaN(), math.NaN()}
	}
	limit := l.by.a.MissLimit
	return Bounds{limit * l.miss.h, limit * l.miss.low, limit * l.miss.high}
}

// predict returns the mean and standard deviation of a radius about to be told.
func (l Posterior) predict(o RadiusSeen) (r, sd float64, ok bool) {
	if !l.from(o.Origin) {
		return 0, 0, false
	}
	row := make([]float64, l.by.n)
	if r, ok = l.by.seen(l.z, o, row); !ok {
		return 0, 0, false
	}
	own := l.by.radiusNoise(o)
	if !slices.Contains(l.by.setups, o.Setup) {
		own = math.Hypot(own, o.Common)
	}
	return r, math.Hypot(math.Sqrt(l.variance(row)), own), true
}

// StartFor returns the count to wind to for a swing radius. U is the doubt, as the collar counts,
// of where the true swing radius will be had, with the hand's setting of this wind in it. Not ok
// before a radius of today's origin has been seen, and for radii so small that R is hardly a
// function of the count (below twice the limit of the miss).
func (l Posterior) StartFor(radius float64) (count indicator.Value, ok bool) {
	if !l.Known() || l.origin < 0 || !(radius >= l.by.a.nearest() && radius < most) {
		return unknown, false
	}
	q := l.by.miss(l.z)
	if !(radius*radius > q) {
		return unknown, false
	}
	x, k := math.Sqrt(float64(radius*radius)-q), l.by.gain(l.z)
	s := l.z[l.origin+2]
	for range 20 { // the screw's error changes by a hundredth of a step of s
		off := l.by.wave(l.z, l.origin, s).off
		s = l.z[l.origin+2] + float64(l.by.a.Grows)*(x-off)/k
	}
	row := make([]float64, l.by.n)
	_, slope, ok := l.by.radius(l.z, l.origin, s, row)
	if !ok || !usable(s) || slope == 0 {
		return unknown, false
	}
	sd := math.Hypot(math.Sqrt(l.variance(row))/math.Abs(slope), l.by.hand)
	return indicator.Value{V: s, U: coverage * sd}, true
}

// Travel returns what the slide moves when its collar is turned by so much the take-up way, one
// setting of the collar at either end.
func (l Posterior) Travel(turned float64) indicator.Value {
	if !l.Known() || !usable(turned) {
		return unknown
	}
	g := l.Gain()
	return indicator.Value{V: g.V * turned, U: math.Hypot(g.U*turned, coverage*l.by.travelNoise(TravelSeen{Turned: turned}))}
}

// CollarFor returns how far to turn the collar for the slide to move so much.
func (l Posterior) CollarFor(travel float64) indicator.Value {
	if !l.Known() || !usable(travel) {
		return unknown
	}
	k := l.Gain().V
	turned := travel / k
	return indicator.Value{V: turned, U: l.Travel(turned).U / k}
}

// play returns the mean and standard deviation of the backlash.
func (b Lesson) play() (mean, sd float64, ok bool) {
	weight, sum := 0.0, 0.0
	if !b.PlayOpen {
		weight = 1 / b.Assumed.BacklashU / b.Assumed.BacklashU
		sum = weight * b.Assumed.Backlash
	}
	for _, o := range b.Reversals {
		u := b.reversalNoise(o)
		weight += 1 / u / u
		sum += o.Turned / u / u
	}
	if !(weight > 0) {
		return 0, 0, false
	}
	return sum / weight, 1 / math.Sqrt(weight), true
}

// reversalNoise is the standard deviation of a reversal: the collar is read before and after, and
// the screw's error is not the same at both places.
func (b Lesson) reversalNoise(o ReversalSeen) float64 {
	return b.learner().travelNoise(TravelSeen{Turned: o.Turned, U: o.U})
}

// Backlash returns the play as the collar counts it. It is learnt from reversals alone: while
// every last movement goes the take-up way, nothing shows it.
func (b Lesson) Backlash() indicator.Value {
	mean, sd, ok := b.play()
	if !ok || b.Check() != nil {
		return unknown
	}
	return indicator.Value{V: mean, U: coverage * sd}
}

// LockShift is what locking does to a slide, + where the count grows.
type LockShift struct {
	// Mean is what it does on the average, Next what the next lock will do.
	Mean, Next indicator.Value
	// Spread is the standard deviation from lock to lock, the reading of it included.
	Spread float64
}

// LockShift returns the learnt shift. Mean and spread are learnt together: normal observations
// with a normal prior on the mean in units of the spread and an inverse gamma prior on the
// variance, which makes the mean and the next shift Student-distributed (conjugate prior, from
// memory).
func (b Lesson) LockShift() LockShift {
	if b.Check() != nil {
		return LockShift{unknown, unknown, math.NaN()}
	}
	l := b.lock()
	t := fit.Coverage(l.dof)
	return LockShift{
		Mean:   indicator.Value{V: l.mean, U: t * l.spread / math.Sqrt(l.worth)},
		Next:   indicator.Value{V: l.mean, U: t * l.spread * math.Sqrt(1+1/l.worth)},
		Spread: l.spread,
	}
}

// locked is what locks of a slide have shown.
type locked struct {
	mean, spread float64 // of the shift, millimetres
	worth, dof   float64 // of the mean in locks, of the spread in degrees of freedom
}

// lock returns what the locks have shown. One is weighed down by its own uncertainty beside the assumed spread.
func (b Lesson) lock() locked {
	s0 := b.Assumed.LockSpread
	l := locked{worth: lockWorth, dof: lockDof + float64(len(b.Locks))}
	for _, o := range b.Locks {
		w := lockWeight(s0, o.U)
		l.worth += w
		l.mean += w * o.Moved
	}
	l.mean /= l.worth
	sum := lockDof*s0*s0 + lockWorth*l.mean*l.mean
	for _, o := range b.Locks {
		d := o.Moved - l.mean
		sum += lockWeight(s0, o.U) * d * d
	}
	l.spread = math.Sqrt(sum / l.dof)
	return l
}

func lockWeight(spread, u float64) float64 {
	c := spread / math.Hypot(spread, u)
	return c * c
}
