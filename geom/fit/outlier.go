package fit

import (
	"math"

	"example.org/trammel/geom"
)

// Rates at which each test would call a clean sweep, its readings' share of it taken out (Bonferroni). Pairs and single readings are
// tried one behind the other, the best of all pairs with them, so that [Radial.Suspects] calls more than one misreadAlarm: with
// [Radial.Shape] up to 0.8 % of six fine readings without a stated repeatability, 0.5 % with one, and over all kinds of sweeps no more
// than the three rates together (TestSuspectsAlarms); of five to seven readings without one: see weakPrior.
const (
	misreadAlarm = 0.003
	swapAlarm    = 0.001
	shapeAlarm   = 0.002
)

// MaxScreen is how many readings are searched for misreads, and for lobes of the surface; of more, none is.
const MaxScreen = 64

// Outliers are the readings that do not fit the others: none, one or two, in input order.
type Outliers struct {
	N     int
	Index [2]int
	// Delta is by how much each reading lies off what the trusted ones give there, in the terms
	// of y; Sigma is the standard deviation of that difference, and Dof its degrees of freedom.
	Delta, Sigma [2]float64
	Dof          float64
	// Swapped says that the two are explained by having been entered in each other's place.
	Swapped bool
}

// screen is a fit seen as a linear problem, each reading scaled by the root of its weight:
// residuals, rows, and cofactor times row. Leaving readings out then costs a few products, so
// that every pair can be tried: two misreads hide each other from any test that takes one away
// at a time.
type screen struct {
	n   int
	g   [MaxScreen]float64 // root of the weight
	y   [MaxScreen]float64
	r   [MaxScreen]float64
	a   [MaxScreen][3]float64
	ca  [MaxScreen][3]float64
	ssr float64
	p   Prior
}

// screen prepares the search; ok is false where there are too many readings.
func (r *Radial) screen(t []geom.Bearing, y, w []float64, p Prior) (s screen, ok bool) {
	if len(y) > MaxScreen {
		return s, false
	}
	s.n, s.p = len(y), p
	for i := range y {
		g := math.Sqrt(weight(w, i))
		s.g[i], s.y[i], s.r[i] = g, y[i], g*(y[i]-r.At(t[i]))
		row := r.Row(t[i])
		for j := range row {
			s.a[i][j] = g * row[j]
		}
		for j := range 3 {
			for k := range 3 {
				s.ca[i][j] += float64(r.Cofactor[j][k] * s.a[i][k])
			}
		}
		s.ssr += float64(s.r[i] * s.r[i])
	}
	s.floor(y)
	return s, true
}

// weakPrior is what is known of the spread where nobody has stated it: a reading is good to about half of the step it is written in,
// but hardly to less than a micrometre and a half, however fine the dial: spindle, swing and hand do not get better with it. That is
// worth two readings; it serves the smallest sweeps only, whose own scatter says almost nothing. (Common practice, no source.) The
// alarms are held up to three times that spread. Beyond it is wrong: of five, six or seven clean readings that scatter by three
// divisions of 0.01 mm one is blamed in 2, 4 and 5 of a hundred sweeps, by five divisions in 10 to 12, and a repeatability is to be
// stated (TestSuspectsBeyondTheWeakPrior). Without the prior the rate would hold there too, but of six readings that repeat to half a
// division with one ten divisions off, 9 in a hundred would be found, not 93: it costs more than it is worth.
const (
	weakSigma = 0.5    // of the step
	weakLeast = 0.0015 // mm
	weakDof   = 2
	weakUpTo  = 7 // readings
)

// weak is the standard deviation of the weak prior, millimetres.
func (p *Prior) weak() float64 {
	if p.Before {
		return weakSigma * p.Step
	}
	return max(weakSigma*p.Step, weakLeast)
}

// floor raises the least spread to what rounding leaves: where readings stand on a common step,
// residuals can come out exactly zero, and a test that believes them cries wolf.
func (s *screen) floor(y []float64) {
	step := commonStep(y)
	if s.p.Step > 0 {
		// Nobody reads coarser than a division: where all readings but one agree, the one that is ten
		// divisions off would otherwise pass for their step, and for rounding.
		step = min(step, s.p.Step)
	}
	s.p.Floor = max(s.p.Floor, step/math.Sqrt(12))
	if s.p.Step == 0 {
		s.p.Step = 5 * step // a needle is read to a fifth of a division
	}
	if s.p.Step > 0 && s.p.Sigma == 0 && s.n <= weakUpTo {
		s.p.Sigma, s.p.Dof = s.p.weak(), weakDof
	}
}

// commonStep returns the largest step of a decimal kind (1, 2 or 5 times a power of ten) that
// every difference of the readings is a multiple of; 0 when there is none above a thousandth of
// their spread.
func commonStep(y []float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range y {
		lo, hi = min(lo, v), max(hi, v)
	}
	span := hi - lo
	if !(span > 0) {
		return 0
	}
	for e := math.Ceil(math.Log10(span)); math.Pow(10, e) > span/1e4; e-- {
		for _, lead := range [3]float64{5, 2, 1} {
			step := lead * math.Pow(10, e-1)
			if onStep(y, lo, step) {
				return step
			}
		}
	}
	return 0
}

func onStep(y []float64, from, step float64) bool {
	for _, v := range y {
		k := (v - from) / step
		if math.Abs(k-math.Round(k)) > 1e-4 {
			return false
		}
	}
	return true
}

// hat is an element of the hat matrix.
func (s *screen) hat(i, j int) float64 {
	return float64(s.a[i][0]*s.ca[j][0]) + float64(s.a[i][1]*s.ca[j][1]) + float64(s.a[i][2]*s.ca[j][2])
}

// leastLeft is the share of a reading that the others must leave open for it to be judged by
// them: below, it alone holds a combination of the unknowns.
const leastLeft = 1e-6

// without1 returns the sum of squares without reading i.
func (s *screen) without1(i int) float64 {
	m := 1 - s.hat(i, i)
	if m < leastLeft {
		return math.Inf(1)
	}
	return max(0, s.ssr-s.r[i]*s.r[i]/m)
}

// pair is the inverse problem of two readings left out: their deleted differences and what
// variance those have.
type pair struct {
	ssr        float64 // without both
	di, dj     float64 // deleted differences, scaled
	vi, vj, cv float64 // their variances and covariance, for a reading's variance of 1
}

// without2 returns what the other readings say of i and j.
func (s *screen) without2(i, j int) (p pair, ok bool) {
	a, b, c := 1-s.hat(i, i), -s.hat(i, j), 1-s.hat(j, j)
	det := float64(a*c) - float64(b*b)
	if a < leastLeft || c < leastLeft || det < leastLeft {
		return p, false
	}
	p.di, p.dj = (c*s.r[i]-b*s.r[j])/det, (a*s.r[j]-b*s.r[i])/det
	p.vi, p.vj, p.cv = c/det, a/det, -b/det
	p.ssr = max(0, s.ssr-(float64(s.r[i]*p.di)+float64(s.r[j]*p.dj)))
	return p, true
}

// variance pools a sum of squares over so many free readings with the prior.
func (s *screen) variance(ssr, free float64) (v, dof float64) {
	dof = free
	if s.p.Sigma > 0 && s.p.Dof > 0 {
		dof += s.p.Dof
		ssr += s.p.Dof * s.p.Sigma * s.p.Sigma
	}
	if dof <= 0 {
		return math.Inf(1), 0
	}
	return max(ssr/dof, s.p.Floor*s.p.Floor), dof
}

// Suspects searches a fitted sweep for one or two misreads, and for two readings that were
// entered in each other's place. The arguments are those of the fit.
//
// A pair is suspected when each of the two, judged by the readings without either, is off by
// more than Student's t allows (externally studentised, Bonferroni over the readings); else the
// one reading whose absence helps most, on the same terms. Every pair is tried, for two misreads
// in a sweep hide each other. What alarms come to on clean sweeps: see misreadAlarm.
//
// Source of the test: R. D. Cook, S. Weisberg, Residuals and Influence in Regression, Chapman &
// Hall 1982, 2.2.2 (from memory).
func (r *Radial) Suspects(t []geom.Bearing, y, w []float64, p Prior) Outliers {
	s, ok := r.screen(t, y, w, p)
	if !ok || s.n <= MinStations {
		return Outliers{}
	}
	if out, found := s.swapped(); found {
		return out
	}
	if out, found := s.two(); found {
		return out
	}
	return s.one()
}

// fewestForPair is of how many readings a pair can be told: of five, any pair's absence leaves a circle through the other three, so
// that one misread would be laid to whichever pair stands first.
const fewestForPair = MinStations + 3

// two looks for the pair whose absence helps most, and asks whether both are needed.
func (s *screen) two() (Outliers, bool) {
	if s.n < fewestForPair && !s.p.Before {
		return Outliers{}, false
	}
	var best pair
	best.ssr = math.Inf(1)
	var at [2]int
	for i := range s.n {
		for j := i + 1; j < s.n; j++ {
			if p, ok := s.without2(i, j); ok && p.ssr < best.ssr {
				best, at = p, [2]int{i, j}
			}
		}
	}
	v, dof := s.variance(best.ssr, float64(s.n-MinStations-2))
	if math.IsInf(best.ssr, 1) || dof <= 0 {
		return Outliers{}, false
	}
	crit := Student(1-misreadAlarm/2/float64(s.n), dof)
	si, sj := math.Sqrt(v*best.vi), math.Sqrt(v*best.vj)
	if !(math.Abs(best.di) > crit*si && math.Abs(best.dj) > crit*sj) {
		return Outliers{}, false
	}
	return s.pairFound(at, best, v, dof), true
}

func (s *screen) pairFound(at [2]int, p pair, v, dof float64) Outliers {
	gi, gj := s.g[at[0]], s.g[at[1]]
	return Outliers{N: 2, Index: at, Dof: dof, Delta: [2]float64{p.di / gi, p.dj / gj},
		Sigma: [2]float64{math.Sqrt(v*p.vi) / gi, math.Sqrt(v*p.vj) / gj}}
}

// one looks for the reading whose absence helps most.
func (s *screen) one() Outliers {
	least, at := math.Inf(1), -1
	for i := range s.n {
		if q := s.without1(i); q < least {
			least, at = q, i
		}
	}
	v, dof := s.variance(least, float64(s.n-MinStations-1))
	if at < 0 || dof <= 0 {
		return Outliers{}
	}
	open := 1 - s.hat(at, at)
	d, sd := s.r[at]/open, math.Sqrt(v/open)
	if !(math.Abs(d) > Student(1-misreadAlarm/2/float64(s.n), dof)*sd) {
		return Outliers{}
	}
	return Outliers{N: 1, Index: [2]int{at}, Dof: dof, Delta: [2]float64{d / s.g[at]}, Sigma: [2]float64{sd / s.g[at]}}
}

// swapped looks for two neighbouring readings that fit in each other's place.
func (s *screen) swapped() (Outliers, bool) {
	if s.n < MinStations+2 {
		return Outliers{}, false
	}
	bestF, found := 0.0, Outliers{}
	for i := range s.n {
		j := (i + 1) % s.n
		p, ok := s.without2(i, j)
		v, dof := s.variance(p.ssr, float64(s.n-MinStations-2))
		if !ok || dof <= 0 {
			continue
		}
		f := (s.ssr - p.ssr) / 2 / v
		if f < fisher2(1-swapAlarm/float64(s.n), dof) || f < bestF {
			continue
		}
		// What is left of the two differences once the readings change places.
		d := s.y[j] - s.y[i]
		ri, rj := p.di+s.g[i]*d, p.dj-s.g[j]*d
		det := float64(p.vi*p.vj) - float64(p.cv*p.cv)
		left := (float64(ri*ri)*p.vj - 2*float64(ri*rj)*p.cv + float64(rj*rj)*p.vi) / det / 2 / v
		if left < fisher2(0.99, dof) {
			at := [2]int{min(i, j), max(i, j)}
			if i > j {
				p.di, p.dj, p.vi, p.vj = p.dj, p.di, p.vj, p.vi
			}
			bestF, found = f, s.pairFound(at, p, v, dof)
			found.Swapped = true
		}
	}
	return found, found.N > 0
}

// fisher2 is the quantile of the F distribution with 2 and dof degrees of freedom, which has a
// closed form.
func fisher2(p, dof float64) float64 {
	if math.IsInf(dof, 1) {
		return -math.Log(1 - p)
	}
	return dof / 2 * math.Expm1(-2/dof*math.Log(1-p))
}
