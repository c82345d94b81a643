package slide_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// dense is the same posterior by other means: unknowns k, q, then a = k·s₀ for every origin with
// the screw's cosine and sine, then the set-ups' errors in millimetres; all unscaled, every prior a
// row; gonum's QR for the steps and its SVD for the covariance.
type dense struct {
	b        slide.Lesson
	prior    []float64 // mean and standard deviation of q; nil: q stays at fixed
	fixed    float64
	p        []float64
	cov      *mat.Dense
	cost     float64
	logDet   float64
	origins  []int
	setups   []int
	commonAt map[int]float64
}

func place(list *[]int, x int) int {
	for i, y := range *list {
		if x == y {
			return i
		}
	}
	*list = append(*list, x)
	return len(*list) - 1
}

func newDense(b slide.Lesson) *dense {
	l2 := b.Assumed.MissLimit * b.Assumed.MissLimit
	d := &dense{b: b, prior: []float64{l2 / 3, 2 * l2 / math.Sqrt(45)}, commonAt: map[int]float64{}}
	for _, o := range b.Radii {
		place(&d.origins, o.Origin)
		d.commonAt[place(&d.setups, o.Setup)] = o.Common
	}
	return d
}

func (d *dense) size() int { return 2 + 3*len(d.origins) + len(d.setups) }

// system builds the weighted Jacobian and residuals at p.
func (d *dense) system(p []float64) (j *mat.Dense, r *mat.VecDense) {
	a := d.b.Assumed
	var rows [][]float64
	var rhs []float64
	add := func(residual, sigma float64, at map[int]float64) {
		row := make([]float64, d.size())
		for i, v := range at {
			row[i] = v / sigma
		}
		rows, rhs = append(rows, row), append(rhs, residual/sigma)
	}
	add(a.Gain-p[0], a.GainLimit/math.Sqrt(3), map[int]float64{0: 1})
	if d.prior != nil {
		add(d.prior[0]-p[1], d.prior[1], map[int]float64{1: 1})
	} else {
		add(d.fixed-p[1], 1e-9, map[int]float64{1: 1})
	}
	screw := math.Sqrt(a.Screw * a.Screw / 6)
	for i := range d.origins {
		add(-p[3+3*i], screw, map[int]float64{3 + 3*i: 1})
		add(-p[4+3*i], screw, map[int]float64{4 + 3*i: 1})
	}
	first := 2 + 3*len(d.origins)
	for i := range d.setups {
		add(-p[first+i], d.commonAt[i], map[int]float64{first + i: 1})
	}
	hand2 := a.Hand * a.Hand / 3
	for _, o := range d.b.Radii {
		i, s := 2+3*place(&d.origins, o.Origin), first+place(&d.setups, o.Setup)
		sin, cos := math.Sincos(o.Count * 2 * math.Pi / a.TravelPerTurn)
		x := p[0]*o.Count - p[i] + p[i+1]*cos + p[i+2]*sin
		rr := math.Sqrt(x*x + p[1])
		u := x / rr
		add(o.R-rr-p[s], math.Sqrt(o.U*o.U+hand2), map[int]float64{0: u * o.Count, 1: 1 / (2 * rr), i: -u, i + 1: u * cos, i + 2: u * sin,
			s: 1})
	}
	for _, o := range d.b.Travels {
		wave := a.Screw * a.Screw / 6 * 2 * (1 - math.Cos(2*math.Pi*o.Turned/a.TravelPerTurn))
		add(o.Moved-p[0]*o.Turned, math.Sqrt(o.U*o.U+2*hand2+wave), map[int]float64{0: o.Turned})
	}
	j, r = mat.NewDense(len(rows), d.size(), nil), mat.NewVecDense(len(rhs), rhs)
	for i, row := range rows {
		j.SetRow(i, row)
	}
	return j, r
}

func (d *dense) solve(t *testing.T) *dense {
	t.Helper()
	d.p = make([]float64, d.size())
	d.p[0] = d.b.Assumed.Gain
	d.p[1] = d.fixed
	for _, o := range d.b.Radii {
		d.p[2+3*place(&d.origins, o.Origin)] = o.Count - o.R
	}
	for range 12 {
		j, r := d.system(d.p)
		var step mat.VecDense
		var qr mat.QR
		qr.Factorize(j)
		if err := qr.SolveVecTo(&step, false, r); err != nil {
			if _, poor := err.(mat.Condition); !poor {
				t.Fatal(err)
			}
		}
		for i := range d.p {
			d.p[i] += step.AtVec(i)
		}
	}
	j, r := d.system(d.p)
	d.cost = mat.Dot(r, r)
	var svd mat.SVD
	if !svd.Factorize(j, mat.SVDThin) {
		t.Fatal("no singular values")
	}
	var v mat.Dense
	svd.VTo(&v)
	for i, s := range svd.Values(nil) {
		d.logDet -= 2 * math.Log(s)
		for k := range d.size() {
			v.Set(k, i, v.At(k, i)/s)
		}
	}
	d.cov = new(mat.Dense)
	d.cov.Mul(&v, v.T())
	return d
}

// linear returns mean and variance of a linear form of the unknowns about its value at p, with the
// distribution of q replaced by that of h even on 0…L: by Gauss–Legendre over h.
func (d *dense) linear(value float64, form map[int]float64) indicator.Value {
	l := d.b.Assumed.MissLimit
	v := d.cov.At(1, 1)
	weight := func(q float64) float64 {
		g, m := (q-d.p[1])*(q-d.p[1])/v, (q-d.prior[0])/d.prior[1]
		return math.Exp((m*m - g) / 2)
	}
	moment := func(n float64) float64 {
		return quad.Fixed(func(h float64) float64 { return weight(h*h) * math.Pow(h*h-d.p[1], n) }, 0, l, 200, quad.Legendre{}, 0)
	}
	m0 := moment(0)
	m1 := moment(1) / m0
	m2 := moment(2)/m0 - m1*m1
	var variance, cross float64
	for i, a := range form {
		cross += a * d.cov.At(i, 1)
		for j, b := range form {
			variance += a * b * d.cov.At(i, j)
		}
	}
	c := cross / v
	return indicator.Value{V: value + c*m1, U: 1.959963984540054 * math.Sqrt(variance+c*c*(m2-v))}
}

// sampleLesson is a lesson of two origins, several set-ups and some travels.
func sampleLesson(rng *rand.Rand) *sitting {
	s := usual.sit(rng)
	for range 3 {
		s.radius()
	}
	s.b = s.b.Reopen()
	s.ring += 40 * rng.Float64()
	for range 2 + rng.IntN(3) {
		s.radius()
	}
	turned := 1 + 9*rng.Float64()
	s.b, _ = s.b.SeenTravel(slide.TravelSeen{Turned: turned, Moved: s.gain*turned + 0.003*rng.NormFloat64(), U: 0.002})
	return s
}

// The learnt values agree with a dense solution by another library.
func TestLearntAgainstDense(t *testing.T) {
	const tight = 1e-9
	rng := rand.New(rand.NewPCG(75, 1))
	for range 60 {
		s := sampleLesson(rng)
		d := newDense(s.b).solve(t)
		l := s.b.Posterior()
		k := d.linear(d.p[0], map[int]float64{0: 1})
		q := d.linear(d.p[1], map[int]float64{1: 1})
		// s₀ = a/k, linear about the fit: δs₀ = δa/k − a·δk/k².
		i := 2 + 3*place(&d.origins, s.b.Origin)
		origin := d.linear(d.p[i]/d.p[0], map[int]float64{i: 1 / d.p[0], 0: -d.p[i] / d.p[0] / d.p[0]})
		for what, pair := range map[string][2]float64{
			"gain": {l.Gain().V, k.V}, "its doubt": {l.Gain().U, k.U},
			"origin": {l.Origin().V, origin.V}, "the origin's doubt": {l.Origin().U, origin.U},
			"miss squared": {l.MissSquared().V, q.V},
		} {
			if !(math.Abs(pair[0]-pair[1]) <= tight) {
				t.Fatalf("%s %.12f, want %.12f (difference %.1e)", what, pair[0], pair[1], pair[0]-pair[1])
			}
		}
	}
}

// Given q all else is normal, and q itself is taken from one linearisation. Against that stands the
// mixture over h of separate fits, each with its own likelihood: the values agree to a hundredth of
// their doubt, also where the radii are small enough to show h.
func TestLearntAgainstMixture(t *testing.T) {
	rng := rand.New(rand.NewPCG(76, 1))
	for _, smallest := range []float64{20, 6, 2} {
		for range 4 {
			s := usual.sit(rng)
			for range 6 {
				goal := smallest * (1 + 3*rng.Float64())
				s.see(s.rough(goal + 1))
			}
			l := s.b.Posterior()
			var w, k, k2, q, o, o2 float64
			nodes, weights := make([]float64, 48), make([]float64, 48)
			quad.Legendre{}.FixedLocations(nodes, weights, 0, 0.5)
			base := newDense(s.b).solve(t).cost
			for i, h := range nodes {
				d := newDense(s.b)
				d.prior, d.fixed = nil, h*h
				d.solve(t)
				// a = k·s₀ to s₀ changes the volume by k, which hardly moves.
				f := weights[i] * math.Exp((base-d.cost+d.logDet)/2+1e2)
				at := 2 + 3*place(&d.origins, s.b.Origin)
				s0 := d.p[at] / d.p[0]
				c0, ck := 1/d.p[0], -s0/d.p[0]
				v := c0*c0*d.cov.At(at, at) + 2*c0*ck*d.cov.At(at, 0) + ck*ck*d.cov.At(0, 0)
				w += f
				k += f * d.p[0]
				k2 += f * (d.p[0]*d.p[0] + d.cov.At(0, 0))
				q += f * h * h
				o += f * s0
				o2 += f * ((s0-s.square())*(s0-s.square()) + v)
			}
			k, q, o = k/w, q/w, o/w
			same(t, "gain", l.Gain(), indicator.Value{V: k, U: 1.96 * math.Sqrt(k2/w-k*k)}, 0.02)
			same(t, "origin", l.Origin(), indicator.Value{V: o, U: 1.96 * math.Sqrt(o2/w-(o-s.square())*(o-s.square()))}, 0.02)
			if b := l.MissSquared(); !(math.Abs(b.V-q) <= 0.02*(b.High-b.Low)) {
				t.Errorf("radii from %v: miss squared %+v, want %v", smallest, b, q)
			}
		}
	}
}
