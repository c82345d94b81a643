package slide

import (
	"math"
	"slices"
)

// learner is the least-squares problem behind a lesson. The model of the swing radius at count s is
//
//	x = ±k·(s − s₀) + γ·cos φ + δ·sin φ        φ = 2π·s / travel per turn,  x > 0
//	R = √(x² + q) + common·β                   q = h²
//
// with + where R grows with the count. The parameters, in the order of z:
//
//	β     one for every set-up of the indicator, N(0, 1): its constant error in standard
//	      uncertainties. It is a parameter, not noise, because all radii of the set-up share it.
//	γ, δ  the screw's error that comes back every turn, for every origin (the phase is lost with
//	      it). Radii a whole number of turns apart share it; as noise of each count it would
//	      promise an average that is none.
//	s₀    for every origin that has a radius: no prior at all. An origin without a radius has no
//	      parameter and is unknown.
//	k, q  the slide's own.
//
// All but s₀ are scaled to a prior of N(0, 1), so that a limit of 0 simply takes a parameter out.
// The prior of q has the mean and standard deviation of h² when h is anything up to its limit
// L with the same probability: L²/3 and 2L²/(3√5). Its shape is put right afterwards: [missedFrom].
//
// The hand's error, the sweep's own and, for travels, the screw's are noise, weighed by their
// variances.
//
// Sources: Bayesian linear regression (S. Särkkä, Bayesian Filtering and Smoothing, 2013, chapter
// 3, from memory), linearised anew at each step; the standard uncertainty a/√3 of a rectangular
// limit (JCGM 100:2008, 4.3.7, from memory).
type learner struct {
	a               Assumed
	gainU           float64
	missV, missU    float64 // prior mean and standard deviation of q
	screwU, hand    float64
	radii           []RadiusSeen
	travels         []TravelSeen
	setups, origins []int // what the first columns are of
	n               int
}

func (b Lesson) learner() *learner {
	a := b.Assumed
	l := &learner{a: a, radii: b.Radii, travels: b.Travels}
	l.gainU = a.GainLimit / math.Sqrt(3)
	l2 := a.MissLimit * a.MissLimit
	l.missV, l.missU = missMean*l2, missSD*l2
	// An amplitude A anywhere up to its limit a makes E(A²) = a²/3, and a phase anywhere halves it.
	l.screwU = a.Screw / math.Sqrt(6)
	l.hand = a.Hand / math.Sqrt(3)
	for _, o := range b.Radii {
		if !slices.Contains(l.setups, o.Setup) {
			l.setups = append(l.setups, o.Setup)
		}
		if !slices.Contains(l.origins, o.Origin) {
			l.origins = append(l.origins, o.Origin)
		}
	}
	l.n = len(l.setups) + 3*len(l.origins) + 2
	return l
}

// The columns of k and q, and the first of the three of the origin at place i.
func (l *learner) atGain() int        { return l.n - 2 }
func (l *learner) atMiss() int        { return l.n - 1 }
func (l *learner) atOrigin(i int) int { return len(l.setups) + 3*i }

func (l *learner) gain(z []float64) float64 { return l.a.Gain + float64(l.gainU*z[l.atGain()]) }
func (l *learner) miss(z []float64) float64 { return l.missV + float64(l.missU*z[l.atMiss()]) }

// wave is the screw's error at a count, millimetres, and its slope by the count; sin and cos are those of the angle
// that the screw stands at.
type wave struct{ off, slope, sin, cos float64 }

// wave returns the screw's error at count s, for the origin whose columns begin at the given one.
func (l *learner) wave(z []float64, at int, s float64) wave {
	w := 2 * math.Pi / l.a.TravelPerTurn
	sin, cos := math.Sincos(float64(w * s))
	return wave{
		off:   l.screwU * (float64(z[at]*cos) + float64(z[at+1]*sin)),
		slope: l.screwU * w * (float64(z[at+1]*cos) - float64(z[at]*sin)),
		sin:   sin, cos: cos,
	}
}

// radius returns the swing radius that the model gives at a count of the origin at the given
// column, without a set-up's error, and its derivatives: along row, and by the count.
//
// Where q < 0, which the iteration may pass through and the result never keeps, R is continued by
// its tangent in q. Nearer to the square stand than the limit of the miss, and beyond it, R is
// continued by a straight line and not ok: no radius that is learnt from lies there, but a count
// that a vague radius was told with may, and the fit has to get past it.
func (l *learner) radius(z []float64, at int, s float64, row []float64) (r, slope float64, ok bool) {
	way, k, q := float64(l.a.Grows), l.gain(z), l.miss(z)
	screw := l.wave(z, at, s)
	x := way*float64(k*(s-z[at+2])) + screw.off
	near := max(l.a.MissLimit, least)
	ok = x >= near
	d := max(x, near)
	var byX, byQ float64
	if q >= 0 {
		r = math.Sqrt(float64(d*d) + q)
		byX, byQ = d/r, 0.5/r
	} else {
		r = d + q/d/2
		byX, byQ = 1-q/d/d/2, 0.5/d
	}
	if !ok {
		r, byX = r+x-near, 1
	}
	if row != nil {
		row[at] = byX * l.screwU * screw.cos
		row[at+1] = byX * l.screwU * screw.sin
		row[at+2] = -byX * way * k
		row[l.atGain()] = byX * way * l.gainU * (s - z[at+2])
		row[l.atMiss()] = byQ * l.missU
	}
	return r, byX * (way*k + screw.slope), ok
}

// seen returns what the model says of a radius told: the same with its set-up's error.
func (l *learner) seen(z []float64, o RadiusSeen, row []float64) (r float64, ok bool) {
	r, _, ok = l.radius(z, l.atOrigin(slices.Index(l.origins, o.Origin)), o.Count, row)
	if j := slices.Index(l.setups, o.Setup); j >= 0 {
		r += float64(o.Common * z[j])
		if row != nil {
			row[j] = o.Common
		}
	}
	return r, ok
}

// radiusNoise is the standard deviation of a radius told, by what is its own.
func (l *learner) radiusNoise(o RadiusSeen) float64 { return math.Hypot(o.U, l.hand) }

// travelNoise is the same for a travel: two settings of the collar, and the screw's error at two
// places of unknown phase.
func (l *learner) travelNoise(o TravelSeen) float64 {
	half := math.Sin(math.Pi * o.Turned / l.a.TravelPerTurn)
	return math.Hypot(math.Hypot(o.U, math.Sqrt2*l.hand), 2*l.screwU*half)
}

// start puts every prior at its mean and every origin where its first radius says.
func (l *learner) start() []float64 {
	z := make([]float64, l.n)
	for i, origin := range l.origins {
		o := l.radii[slices.IndexFunc(l.radii, func(o RadiusSeen) bool { return o.Origin == origin })]
		x := math.Sqrt(max(float64(o.R*o.R)-l.missV, o.R*o.R/4))
		z[l.atOrigin(i)+2] = o.Count - float64(l.a.Grows)*x/l.a.Gain
	}
	return z
}

// flat says whether column j has no prior.
func (l *learner) flat(j int) bool {
	j -= len(l.setups)
	return j >= 0 && j < 3*len(l.origins) && j%3 == 2
}

// cost is the sum of squares that the fit makes small.
func (l *learner) cost(z []float64) float64 {
	sum := 0.0
	for j, v := range z {
		if !l.flat(j) {
			sum += float64(v * v)
		}
	}
	for _, o := range l.radii {
		r, _ := l.seen(z, o, nil)
		d := (o.R - r) / l.radiusNoise(o)
		sum += float64(d * d)
	}
	for _, o := range l.travels {
		d := (o.Moved - float64(l.gain(z)*o.Turned)) / l.travelNoise(o)
		sum += float64(d * d)
	}
	return sum
}

// linear factors the problem linearised at z; its solution is the step to take.
func (l *learner) linear(z []float64) *factor {
	f := newFactor(l.n)
	for j, v := range z { // the priors are there first: a unit matrix, and nothing to rotate
		if !l.flat(j) {
			f.r[j*l.n+j], f.b[j] = 1, -v
		}
	}
	row := make([]float64, l.n)
	add := func(rhs, sigma float64) {
		for j := range row {
			row[j] /= sigma
		}
		f.add(row, rhs/sigma)
		clear(row)
	}
	for _, o := range l.radii {
		r, _ := l.seen(z, o, row)
		add(o.R-r, l.radiusNoise(o))
	}
	for _, o := range l.travels {
		row[l.atGain()] = l.gainU * o.Turned
		add(o.Moved-float64(l.gain(z)*o.Turned), l.travelNoise(o))
	}
	return f
}

const (
	// settled is the step, in standard deviations of the answer, below which the fit is done.
	settled = 1e-10
	// near is the step below which the cost no longer tells whether it was a good one: it changes
	// by the step squared. From there on steps are taken as long as they shrink, and where they
	// stop to, which rounding may do early when counts are long and uncertainties short, is
	// close enough.
	near      = 1e-3
	mostSteps = 40
)

// fit minimises the cost by Gauss–Newton, steps halved until the cost does not rise. Not ok when it
// does not settle.
func (l *learner) fit() (z []float64, f *factor, ok bool) {
	z = l.start()
	cost, size := l.cost(z), math.Inf(1)
	for range mostSteps {
		f = l.linear(z)
		before := size
		if size = f.size(); size < settled || size < near && size >= before/2 {
			return z, f, true
		}
		step := f.solve()
		if size < near {
			z = stepped(z, step, 1)
			continue
		}
		moved := false
		for scale := 1.0; scale > 1e-6 && !moved; scale /= 2 {
			next := stepped(z, step, scale)
			if c := l.cost(next); c <= cost {
				z, cost, moved = next, c, true
			}
		}
		if !moved {
			break
		}
	}
	return nil, nil, false
}

func stepped(z, step []float64, scale float64) []float64 {
	next := make([]float64, len(z))
	for j := range next {
		next[j] = z[j] + float64(scale*step[j])
	}
	return next
}
