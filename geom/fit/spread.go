package fit

import (
	"math"
	"sync"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/mathext"
)

// Confidence is the level of every interval the program states: 95 %, two-sided.
const Confidence = 0.95

// Prior is what is known of a reading's spread before the sweep.
type Prior struct {
	// Sigma is the standard deviation of one reading, millimetres; 0 when it is not known.
	Sigma float64
	// Dof is how many degrees of freedom that knowledge is worth; 0 makes Sigma worthless, +Inf
	// makes it certain.
	Dof float64
	// Floor is the least that the spread can be without a Sigma (the rounding of a reading),
	// millimetres.
	Floor float64
	// Step is what one division of the dial is worth in travel, 0 where it is not known; it serves
	// the search for misreads when Sigma is not known.
	Step float64
	// Before searches for misreads as was done in settings of old: five readings for pairs too, and with half a division for the spread
	// that nobody has stated however fine the dial is.
	Before bool
}

// Spread returns the standard deviation s of one reading of weight 1, in millimetres, and its
// degrees of freedom ν:
//
//	with a prior     s² = (ν₀σ₀² + Σ wᵢrᵢ²) / (ν₀ + n − 3)     ν = ν₀ + n − 3
//	without          s² = max(Σ wᵢrᵢ² / (n − 3), floor²)       ν = n − 3
//
// Without a prior three readings leave nothing to judge the spread by: ok is then false.
//
// Source: pooled variance, JCGM 100:2008 (GUM) 4.2.4 and H.3 (from memory).
//
// A held level is no unknown, and ν is one more.
func (r *Radial) Spread(p Prior) (s, dof float64, ok bool) { return p.spread(r.N+r.known(), r.SSR) }

// known counts the unknowns that are none.
func (r *Radial) known() int {
	if r.Hold {
		return 1
	}
	return 0
}

// spread pools the sum of squares that n readings leave of three unknowns with the prior.
func (p Prior) spread(n int, ssr float64) (s, dof float64, ok bool) {
	free := float64(n - MinStations)
	if p.Sigma > 0 && p.Dof > 0 {
		if math.IsInf(p.Dof, 1) {
			return p.Sigma, p.Dof, true
		}
		dof = p.Dof + free
		return math.Sqrt((float64(p.Dof*p.Sigma*p.Sigma) + ssr) / dof), dof, true
	}
	if free <= 0 {
		return math.NaN(), 0, false
	}
	return max(math.Sqrt(ssr/free), p.Floor), free, true
}

// manyDof is where Student changes its method: the next term of the expansion, about 2/ν⁴ at
// p = 0.975, is below the last digit there, and 1 − x still has eleven digits.
const manyDof = 1e4

// Student returns the quantile of Student's t distribution: the value that a t variable with dof
// degrees of freedom (a real number > 0, or +Inf for the normal law) stays below with
// probability p in (0, 1). Out of that range it returns NaN.
//
// Relation used: with x = ν/(ν + t²), 2·(1 − p) = I_x(ν/2, 1/2) (Abramowitz and Stegun 26.7.1,
// from memory). Above manyDof x lies so near 1 that its digits run out, and the first terms of
// the expansion about the normal quantile z are better than any difference from 1:
//
//	t = z + (z³ + z)/4ν + (5z⁵ + 16z³ + 3z)/96ν² + (3z⁷ + 19z⁵ + 17z³ − 15z)/384ν³
//
// (Abramowitz and Stegun 26.7.5, from memory).
// Held to printed tables by TestStudentTable, and across manyDof by TestStudentManyDof.
func Student(p, dof float64) float64 {
	switch {
	case !(p > 0 && p < 1) || !(dof > 0):
		return math.NaN()
	case p < 0.5:
		return -Student(1-p, dof)
	case p == 0.5:
		return 0
	case math.IsInf(dof, 1):
		return mathext.NormalQuantile(p)
	case dof > manyDof:
		z := mathext.NormalQuantile(p)
		q := z * z
		return z + z*((q+1)/4+(((5*q+16)*q+3)/96+(((3*q+19)*q+17)*q-15)/(384*dof))/dof)/dof
	}
	if dof > wholeDof || dof != math.Trunc(dof) {
		return student(p, dof)
	}
	return quantiles.of(p, dof)
}

// student is [Student] by the incomplete beta function.
func student(p, dof float64) float64 {
	x := mathext.InvRegIncBeta(dof/2, 0.5, 2*(1-p))
	return math.Sqrt(dof * (1 - x) / x)
}

// quantiles keeps the quantiles of whole degrees of freedom, each a pure function of its place: every
// reading asks for the same few, and inverting the beta function costs more than fitting a circle.
var quantiles = kept{t: map[[2]float64]float64{}}

// kept is a table that grows to mostKept places and no further.
type kept struct {
	mu sync.RWMutex
	t  map[[2]float64]float64
}

const mostKept = 4096

func (k *kept) of(p, dof float64) float64 {
	at := [2]float64{p, dof}
	k.mu.RLock()
	v, ok := k.t[at]
	k.mu.RUnlock()
	if ok {
		return v
	}
	v = student(p, dof)
	k.mu.Lock()
	if len(k.t) < mostKept {
		k.t[at] = v
	}
	k.mu.Unlock()
	return v
}

// Coverage returns the factor k of a two-sided 95 % interval ±k·u with dof degrees of freedom.
func Coverage(dof float64) float64 {
	if dof >= 1 && dof <= wholeDof && dof == math.Trunc(dof) {
		return coverages()[int(dof)]
	}
	return Student(1-(1-Confidence)/2, dof)
}

// wholeDof is up to how many whole degrees of freedom the factors are kept: sweeps have few, and
// every number on the screen asks for one.
const wholeDof = 64

// coverages are the factors for 1 to wholeDof degrees of freedom, computed when one is first asked
// for.
var coverages = sync.OnceValue(func() *[wholeDof + 1]float64 {
	var k [wholeDof + 1]float64
	for dof := 1; dof <= wholeDof; dof++ {
		k[dof] = Student(1-(1-Confidence)/2, float64(dof))
	}
	return &k
})

// EllipseFactor returns the factor k by which the standard ellipse of two estimates grows to hold
// both with probability p: k² = 2·F_p;2,ν, and with two numerator degrees of freedom the F quantile
// has the closed form k² = ν·((1−p)^(−2/ν) − 1); −2·ln(1−p) for known spread. It returns NaN
// unless dof > 0.
func EllipseFactor(p, dof float64) float64 {
	if !(dof > 0) {
		return math.NaN()
	}
	return math.Sqrt(2 * fisher2(p, dof))
}

// Ellipse is the standard ellipse of the centre: semi-axes in millimetres for a reading's
// standard deviation of 1 mm, the longer first, and the bearing of the longer one.
type Ellipse struct {
	Major, Minor float64
	Along        geom.Bearing
}

// Ellipse returns the principal axes of the centre's part of c.
func (c *Sym3) Ellipse() Ellipse {
	a, b, d := c[1][1], c[1][2], c[2][2]
	mean, half := (a+d)/2, math.Hypot((a-d)/2, b)
	return Ellipse{
		Major: math.Sqrt(mean + half),
		Minor: math.Sqrt(max(0, mean-half)),
		Along: geom.Bearing(math.Atan2(2*b, a-d) / 2).Normalized(),
	}
}

// Quadratic returns rowᵀ·C·row: the variance of the combination of (level, e_x, e_y) that row
// names, for a reading's variance of 1.
func (c *Sym3) Quadratic(row [3]float64) float64 {
	s := 0.0
	for i := range 3 {
		for j := range 3 {
			s += float64(float64(row[i]*c[i][j]) * row[j])
		}
	}
	return s
}

// After returns the cofactor that one more reading of weight 1 with the given row would leave
// (Sherman–Morrison): what a further station would do, before it is taken.
func (c *Sym3) After(row [3]float64) Sym3 {
	var ca [3]float64
	for i := range 3 {
		for j := range 3 {
			ca[i] += float64(c[i][j] * row[j])
		}
	}
	k := 1 + c.Quadratic(row)
	out := *c
	for i := range 3 {
		for j := range 3 {
			out[i][j] -= float64(ca[i]*ca[j]) / k
		}
	}
	return out
}
