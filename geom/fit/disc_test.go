package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"gonum.org/v1/gonum/stat/distuv"
)

// TestBeyondNormalCentred has a closed form: a circular normal law about the axis lies beyond
// radius q·σ with probability exp(−q²/2) (Rayleigh distribution).
func TestBeyondNormalCentred(t *testing.T) {
	r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 0.25, 0}, {0, 0, 0.25}}}
	for _, q := range []float64{0.5, 1, 2, 3} {
		got, want := r.Beyond(q*0.5*0.003, 0.003, math.Inf(1)), math.Exp(-q*q/2)
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("beyond %v sigma = %v, want %v", q, got, want)
		}
	}
}

// TestBeyondStudentCentred: for a circular bivariate t, P(|e| > q·s) = (1 + q²/ν)^(−ν/2), since
// q²/2 then follows F with 2 and ν degrees of freedom, whose distribution function is closed.
func TestBeyondStudentCentred(t *testing.T) {
	r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
	for _, dof := range []float64{1, 3, 8, 11} {
		for _, q := range []float64{0.5, 2, 4} {
			got, want := r.Beyond(q, 1, dof), math.Pow(1+q*q/dof, -dof/2)
			if math.Abs(got-want) > 1e-12 {
				t.Errorf("dof %v beyond %v = %v, want %v", dof, q, got, want)
			}
		}
	}
}

// TestBeyondSimulated compares an off-centre, long and tilted ellipse with drawing it.
func TestBeyondSimulated(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 7))
	c := Sym3{{1, 0, 0}, {0, 2, 1.2}, {0, 1.2, 1}}
	r := Radial{Cofactor: c, Centre: geom.Point{X: 0.8, Y: -0.4}}
	const dof, s, radius, draws = 6.0, 0.7, 1.5, 400_000
	far := 0
	l11 := math.Sqrt(c[1][1])
	l21 := c[1][2] / l11
	l22 := math.Sqrt(c[2][2] - l21*l21)
	for range draws {
		chi := 0.0
		for range int(dof) {
			z := rng.NormFloat64()
			chi += z * z
		}
		k := s / math.Sqrt(chi/dof)
		a, b := rng.NormFloat64(), rng.NormFloat64()
		if math.Hypot(r.Centre.X+k*l11*a, r.Centre.Y+k*(l21*a+l22*b)) > radius {
			far++
		}
	}
	want := float64(far) / draws
	sd := math.Sqrt(want * (1 - want) / draws)
	got := r.Beyond(radius, s, dof)
	t.Logf("beyond %v, drawn %v ± %v", got, want, sd)
	if math.Abs(got-want) > 4*sd { // four standard deviations of the drawing
		t.Errorf("beyond = %v, drawn %v ± %v", got, want, sd)
	}
}

// TestBeyondChord: with no spread across e, the centre lies on a line, 3 away from the axis and
// along X, and beyond the disc with the probability that a t or normal variable exceeds half the
// chord, √(T² − 9). A minor axis of nothing is the thinnest ellipse there is. Quantiles at 0.975 and
// 0.995 as printed (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2): their last digit is
// worth less than 2e-5 of probability.
func TestBeyondChord(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct{ dof, half, want float64 }{
		{inf, 1.960, 0.05}, {inf, 2.576, 0.01}, {8, 2.306, 0.05}, {8, 3.355, 0.01}, {11, 2.201, 0.05}, {3, 3.182, 0.05}, {2, 4.303, 0.05},
	} {
		for _, thin := range []float64{0, 1e-3} {
			r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, thin * thin}}, Centre: geom.Point{Y: 3}}
			if got := r.Beyond(math.Hypot(3, c.half), 1, c.dof); math.Abs(got-c.want) > 3e-5 {
				t.Errorf("dof %v, half chord %v, minor axis %v: %.6f, want %v", c.dof, c.half, thin, got, c.want)
			}
		}
	}
}

// TestBeyondAgainstChords goes another way: along the ellipse's long axis the centre follows a t
// with ν degrees of freedom, and across it, given how far along it lies, a t with ν + 1 (P. Ding, The
// American Statistician 70 (2016) 293–295, from memory), so the disc is summed chord by chord, with
// gonum's t distribution. x = R·sin ψ takes the edges' square roots away; 4000 chords.
func TestBeyondAgainstChords(t *testing.T) {
	for _, dof := range []float64{1, 3, 8, 11, 40} {
		for _, thin := range []float64{1, 0.3, 0.1, 0.05} {
			for _, e := range []geom.Point{{}, {X: 0.7, Y: -0.4}, {X: -1.5, Y: 0.6}} {
				const radius, s, chords = 2.0, 0.4, 4000
				b := thin * s
				held := 0.0
				for i := range chords {
					sin, cos := math.Sincos(math.Pi * ((float64(i)+0.5)/chords - 0.5))
					z := (radius*sin - e.X) / s
					wide := distuv.StudentsT{Mu: e.Y, Sigma: b * math.Sqrt((dof+z*z)/(dof+1)), Nu: dof + 1}
					half := radius * cos
					held += distuv.StudentsT{Sigma: 1, Nu: dof}.Prob(z) / s * (wide.CDF(half) - wide.CDF(-half)) * half * math.Pi / chords
				}
				r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, thin * thin}}, Centre: e}
				if got := r.Beyond(radius, s, dof); math.Abs(got-(1-held)) > 1e-7 {
					t.Errorf("dof %v, 1 : %v, centre %v: %.9f, by chords %.9f", dof, thin, e, got, 1-held)
				}
			}
		}
	}
}

// TestBeyondLargeDisc: a disc so large that its edge is a straight line holds all but what a
// half plane holds: the tail of a t variable along e, whatever the ellipse is across. The edge's
// curve brings b²/2T in, less than 1e-5 here.
func TestBeyondLargeDisc(t *testing.T) {
	for _, c := range []struct{ dof, q, want float64 }{{8, 2.306, 0.025}, {8, 3.355, 0.005}, {11, 2.201, 0.025},
		{math.Inf(1), 1.960, 0.025}} {
		r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, 0.04}}, Centre: geom.Point{X: 1e4}}
		if got := r.Beyond(1e4+c.q, 1, c.dof); math.Abs(got-c.want) > 3e-5 {
			t.Errorf("dof %v, edge %v away: %.6f, want %v", c.dof, c.q, got, c.want)
		}
	}
}

// TestBeyondOutside: a fitted centre outside the disc is met by drawing too, and what makes no
// sense is NaN.
func TestBeyondOutside(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 8))
	r := Radial{Cofactor: Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, 0.25}}, Centre: geom.Point{X: 2, Y: 0.5}}
	const radius, draws = 1.5, 200_000
	far := 0
	for range draws {
		if math.Hypot(2+rng.NormFloat64(), 0.5+0.5*rng.NormFloat64()) > radius {
			far++
		}
	}
	want := float64(far) / draws
	if got := r.Beyond(radius, 1, math.Inf(1)); math.Abs(got-want) > 1e-3+4*math.Sqrt(want*(1-want)/draws) {
		t.Errorf("beyond = %v, drawn %v", got, want)
	}
	if got := r.Beyond(radius, 0, 8); got != 1 {
		t.Errorf("no spread, centre outside: %v, want 1", got)
	}
	if got := r.Beyond(3, 0, 8); got != 0 {
		t.Errorf("no spread, centre inside: %v, want 0", got)
	}
	for _, c := range [][3]float64{{1, -1, 8}, {1, 1, 0}, {-1, 1, 8}, {1, math.NaN(), 8}, {1, 1, math.NaN()}} {
		if got := r.Beyond(c[0], c[1], c[2]); !math.IsNaN(got) {
			t.Errorf("radius %v, s %v, dof %v: %v, want NaN", c[0], c[1], c[2], got)
		}
	}
}
