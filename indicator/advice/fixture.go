package advice

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Lain is where the centre of one part was found to lie in the fixture's own frame, millimetres, with the standard uncertainty
// that its readings leave in each of the two directions. N counts the parts from 1, those that were not swept included.
type Lain struct {
	N  int
	At geom.Point
	U  float64
}

// Fixture is what the parts so far show of the place to which the next ones return. Lengths are millimetres.
//
// The line that each coordinate follows from part to part is the one of least squares over the parts' numbers; the spread about it
// is taken to be the same both ways, so n parts know it to 2(n − 2) degrees of freedom, or about their mean to 2(n − 1). That there is
// no trend is tested on both coordinates at once: with S the sum of (nᵢ − n̄)²,
//
//	F = |slope|² S / (2 s²)   with 2 and 2(n − 2) degrees of freedom,
//
// whose chance to be exceeded is (1 + 2F/ν)^(−ν/2), ν = 2(n − 2). It is asked anew behind every part, so each look takes its share
// of one alarm in twenty batches: see walkTail. (Checked against published figures by TestFixtureFollowsRegression, and the rate by
// TestFixtureRarelyCriesWolf.)
//
// Sources: the test of a regression's slope, N. R. Draper, H. Smith, Applied Regression Analysis, chapter 1; that one chart watches a
// place from sample to sample, NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2 (both from memory). The closed form of the
// chance is the integral of the F density for two degrees of freedom.
type Fixture struct {
	Parts int // that were found
	Last  int // the number of the newest of them
	// Mean is where they lay on an average, at the mean number Middle; Slope is how much farther every part lies than the one before.
	Mean   geom.Point
	Middle float64
	Slope  geom.Point
	// SlopeU is the expanded uncertainty of Slope along each coordinate.
	SlopeU float64
	// Spread is the standard deviation along each coordinate: about the line where it walks, else about the mean.
	Spread float64
	Dof    float64
	// Walks says that the trend is more than chance allows; Chance is how often a fixture that stands still shows as much, 1 where too
	// few parts say.
	Walks  bool
	Chance float64

	aboutLine float64
	// The sums about the means, of the numbers with themselves, with the places, and of the places; known is the mean square of what
	// the sweeps themselves leave open.
	sxx, syy, known float64
	sxy             geom.Point
}

// walkTail is the chance at which one look takes a fixture that stands still for one that walks. With eight looks at ten parts, which
// share most of what they see, a batch is alarmed falsely less often than once in twenty times (3.1 to 4.4 % of 4000 each).
const walkTail = 0.006

// leastSpread is a variance that no parts have, square millimetres: exact figures are a test's.
const leastSpread = 1e-12

// fewestTrend is how many parts show a trend at all: two lie on any line.
const fewestTrend = 3

// And is what the parts have shown with one more. Of none nothing is known, of one nothing but its place. The sums go on from part to
// part (the mean moves by its share of what is new), so that a long batch costs no more at its end than at its beginning.
func (f Fixture) And(p Lain) Fixture {
	f.Parts++
	f.Last = max(f.Last, p.N)
	n := float64(f.Parts)
	ahead, off := float64(p.N)-f.Middle, p.At.Sub(f.Mean)
	f.Middle += ahead / n
	f.Mean = f.Mean.Add(off.Times(1 / n))
	f.sxx += ahead * (float64(p.N) - f.Middle)
	f.sxy = f.sxy.Add(off.Times(float64(p.N) - f.Middle))
	f.syy += off.Dot(p.At.Sub(f.Mean))
	f.known += (p.U*p.U - f.known) / n
	f.judge()
	return f
}

// judge draws from the sums whether there is a trend, and how far the parts lie about it or about their mean.
func (f *Fixture) judge() {
	n := float64(f.Parts)
	f.Slope, f.SlopeU, f.aboutLine = geom.Point{}, 0, 0
	f.Spread, f.Dof, f.Walks, f.Chance = 0, 0, false, 1
	if f.Parts < 2 || f.sxx == 0 {
		return
	}
	f.Slope = f.sxy.Times(1 / f.sxx)
	about := max(0, f.syy-f.Slope.Dot(f.Slope)*f.sxx)
	if f.Parts >= fewestTrend {
		nu := 2 * (n - 2)
		s2 := max(about/nu, leastSpread)
		test := f.Slope.Dot(f.Slope) * f.sxx / (2 * s2)
		s2 = max(s2, f.known) // less than the sweeps themselves leave open is chance
		f.aboutLine = math.Sqrt(s2)
		f.SlopeU = fit.Coverage(nu) * math.Sqrt(s2/f.sxx)
		f.Chance = math.Pow(1+2*test/nu, -nu/2)
		if f.Walks = f.Chance < walkTail; f.Walks {
			f.Spread, f.Dof = math.Sqrt(s2), nu
			return
		}
	}
	f.Dof = 2 * (n - 1)
	f.Spread = math.Sqrt(max(f.syy/f.Dof, f.known))
}

// Place is where part n is to be expected, and how far from there its centre may lie in 95 of 100 cases: infinite where too few parts
// are known. In two directions of equal spread s, known to ν degrees of freedom, the distance stays within s √(ν (0.05^(−2/ν) − 1)).
func (f *Fixture) Place(n int) (at geom.Point, u float64) {
	if f.Dof <= 0 {
		return f.Mean, math.Inf(1)
	}
	wide := 1 + 1/float64(f.Parts)
	at = f.Mean
	if f.Walks {
		d := float64(n) - f.Middle
		at, wide = at.Add(f.Slope.Times(d)), wide+d*d/f.sxx
	}
	return at, f.Spread * math.Sqrt(wide*f.Dof*(math.Pow(oneInTwenty, -2/f.Dof)-1))
}

const oneInTwenty = 0.05

// farAhead bounds how many parts ahead are looked at.
const farAhead = 50

// Out says in how many parts from the newest one a fixture that walks lies farther than the tolerance from the axis; ok is false where
// it does not walk, or stays within it for as long as is looked ahead.
func (f *Fixture) Out(axis geom.Point, tolerance float64) (parts int, ok bool) {
	if !f.Walks || !(tolerance > 0) {
		return 0, false
	}
	for i := 1; i <= farAhead; i++ {
		if at, _ := f.Place(f.Last + i); at.Sub(axis).Norm() > tolerance {
			return i, true
		}
	}
	return 0, false
}

// mayTail is the chance below which a trend is worth a word before it is sure, where the very next parts would be out by it.
const (
	mayTail = 0.1
	mayNext = 3
	// maySpread is how far parts may lie about that trend, as a part of the tolerance: where they are strewn wider, what seems a trend
	// of three or four is most often none.
	maySpread = 0.2
)

// MayBeOut says in how many parts the fixture is out of the tolerance, if it walks as it has seemed to so far: chance has not been
// ruled out, but by then it would be too late to say. ok is false where it is known to walk, or where the next few parts would lie
// within. A batch of ten in a fixture that stands still hears it falsely in up to one of nine (TestFixtureRarelyCriesWolf).
func (f *Fixture) MayBeOut(axis geom.Point, tolerance float64) (parts int, ok bool) {
	if f.Parts < fewestTrend || f.Walks || !(f.Chance < mayTail) || !(f.aboutLine < maySpread*tolerance) {
		return 0, false
	}
	for i := 1; i <= mayNext; i++ {
		if at := f.Mean.Add(f.Slope.Times(float64(f.Last+i) - f.Middle)); at.Sub(axis).Norm() > tolerance {
			return i, true
		}
	}
	return 0, false
}

// mostTrusted is how many parts are taken on trust at most, the next sweep included: chips and a stop that was knocked come without a
// warning (common practice, no source).
const mostTrusted = 5

// Every says how many parts on the next sweep is worth its time: as many as are to be expected within the tolerance of the axis, and
// one where too few were swept to say. A limit says how far from its place a part lies at most, ±, 0 where nobody has said.
func (f *Fixture) Every(axis geom.Point, tolerance, limit float64) int {
	n := 1
	for ; n < mostTrusted; n++ {
		if far := f.Trusted(f.Last+n, axis, limit); !(far <= tolerance) {
			break
		}
	}
	return n
}

// Trusted is how far from the axis part n is to be expected at most, in 95 of 100 cases; infinite where nothing says. Two parts within
// a limit of one place lie twice that apart at most.
func (f *Fixture) Trusted(n int, axis geom.Point, limit float64) float64 {
	at, u := f.Place(n)
	if limit > 0 && !f.Walks {
		u = min(u, 2*limit)
	}
	return at.Sub(axis).Norm() + u
}
