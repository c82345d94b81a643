package indicator_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// A reference of our own: a bore whose wall runs at ρ + a·cos(kφ + φ0) about its centre, met by following the ray from the axis
// outwards until it is through. No formula of the program's is in it.
type lobedBore struct {
	radius, a, phase float64
	k                int
	centre           geom.Point
}

func (l *lobedBore) met(at geom.Bearing) float64 {
	s, c := math.Sincos(float64(at))
	near, far := 0.0, 2*l.radius
	for range 80 {
		d := (near + far) / 2
		x, y := d*c-l.centre.X, d*s-l.centre.Y
		if math.Hypot(x, y) < l.radius+l.a*math.Cos(float64(l.k)*math.Atan2(y, x)+l.phase) {
			near = d
		} else {
			far = d
		}
	}
	return near
}

// read is what a dial shows at stations: the axis's arm of 42 and a reach of −12 put its zero 30 away.
func (l *lobedBore) read(at []geom.Bearing) (m []float64) {
	for _, b := range at {
		m = append(m, 30-l.met(b))
	}
	return m
}

func evenRound(n int) (out []geom.Bearing) {
	for i := range n {
		out = append(out, geom.FromDegrees(17+360*float64(i)/float64(n)))
	}
	return out
}

// worstPhase is by how much lobes of 1 put out the radius and the centre in the phase that is worst for either.
func worstPhase(t *testing.T, k int, at []geom.Bearing) (radius, centre float64) {
	t.Helper()
	const a = 1e-4
	for i := range 360 {
		l := lobedBore{radius: 30, a: a, k: k, phase: float64(geom.FromDegrees(float64(i)))}
		f := mustFit(t, indicator.Dial{}, ring, at, l.read(at))
		radius = max(radius, math.Abs(f.Swing().V-42)/a)
		centre = max(centre, f.Circle.Centre.Norm()/a)
	}
	return radius, centre
}

// The gains are what the fit of a numerically followed ray shows in the worst of 360 phases.
func TestFormGainIsWhatTheFitShows(t *testing.T) {
	six := evenRound(6)
	for name, at := range map[string][]geom.Bearing{
		"4": evenRound(4), "5": evenRound(5), "6": six, "7": evenRound(7), "8": evenRound(8), "5 of 6": six[:5], "4 of 6": six[:4],
		"half a round": degrees(0, 45, 90, 135, 180), "bunched": degrees(0, 10, 100, 170, 230, 300),
	} {
		f := mustFit(t, indicator.Dial{}, ring, at, (&lobedBore{radius: 30}).read(at))
		for k := 2; k <= 7; k++ {
			radius, centre := f.FormGain(k)
			r, c := worstPhase(t, k, at)
			// 360 phases come within 0.5° of the worst, which costs 4e-5 of it; 1e-4 on 30 is bent by 1e-4 of itself.
			if math.Abs(radius-r) > 1e-3 || math.Abs(centre-c) > 1e-3 {
				t.Errorf("%s stations, %d lobes: gains %.4f and %.4f, seen %.4f and %.4f", name, k, radius, centre, r, c)
			}
		}
	}
}

// What the contract of the trade's sampling says: of five of six even stations an oval goes into the centre with 0.67, of four of six
// with 1.73; of four even ones three lobes go there whole, and of five, six, seven and eight nothing of ovals and three lobes does.
func TestFormGainOfTheUsualRounds(t *testing.T) {
	six := evenRound(6)
	for _, c := range []struct {
		name      string
		at        []geom.Bearing
		k         int
		want, off float64
	}{
		{"five of six", six[:5], 2, 0.67, 0.005}, {"four of six", six[:4], 2, 1.73, 0.005},
		{"four", evenRound(4), 3, 1, 1e-9}, {"three", evenRound(3), 2, 1, 1e-9},
		{"five", evenRound(5), 2, 0, 1e-9}, {"five", evenRound(5), 3, 0, 1e-9}, {"five", evenRound(5), 4, 1, 1e-9},
		{"six", six, 2, 0, 1e-9}, {"six", six, 3, 0, 1e-9}, {"six", six, 5, 1, 1e-9}, {"six", six, 7, 1, 1e-9},
		{"seven", evenRound(7), 3, 0, 1e-9}, {"eight", evenRound(8), 3, 0, 1e-9}, {"eight", evenRound(8), 6, 0, 1e-9},
	} {
		f := mustFit(t, indicator.Dial{}, ring, c.at, (&lobedBore{radius: 30}).read(c.at))
		if _, got := f.FormGain(c.k); math.Abs(got-c.want) > c.off {
			t.Errorf("%s stations, %d lobes: centre gain %.4f, want %.2f", c.name, c.k, got, c.want)
		}
	}
}

// With a stated limit no verdict on lobes within it is a false "inside", in any phase; without one, four stations pass three
// lobes of 0.010 that put the centre out by just that.
func TestFormLimitKeepsVerdictsTrue(t *testing.T) {
	d := indicator.Dial{Repeatability: 0.001}
	const tolerance = 0.0095
	six := evenRound(6)
	for _, c := range []struct {
		name string
		at   []geom.Bearing
		k    int
		// passes says that without a limit some phase is called inside although it is not.
		passes bool
	}{
		{"four", evenRound(4), 3, true}, {"five of six", six[:5], 2, false}, {"four of six", six[:4], 2, true},
		{"five", evenRound(5), 3, false}, {"five", evenRound(5), 2, false}, {"six", six, 2, false}, {"seven", evenRound(7), 3, false},
		{"eight", evenRound(8), 3, false}, {"five", evenRound(5), 4, true},
	} {
		fooled := false
		for i := range 72 {
			phase := float64(geom.FromDegrees(5 * float64(i)))
			for _, limit := range []float64{0, 0.010} {
				s := ring
				s.FormLimit = limit
				// The centre is put where the lobes hide it.
				bare := lobedBore{radius: 30, a: 0.010, k: c.k, phase: phase}
				hidden := mustFit(t, d, s, c.at, bare.read(c.at)).Circle.Centre
				bare.centre = hidden.Times(-1)
				f := mustFit(t, d, s, c.at, bare.read(c.at))
				if f.JudgeCentre(tolerance, indicator.FixedTail) != indicator.Inside || bare.centre.Norm() <= tolerance {
					continue
				}
				if limit > 0 {
					t.Fatalf("%s stations, %d lobes at %v°: centre %.4f out, and inside %v", c.name, c.k, 5*i, bare.centre.Norm(),
						tolerance)
				}
				fooled = true
			}
		}
		if fooled != c.passes {
			t.Errorf("%s stations, %d lobes: passes without a limit: %v, want %v", c.name, c.k, fooled, c.passes)
		}
	}
}

// The budget names the form beside what it makes of the radius, and only where a limit is stated.
func TestFormInTheBudget(t *testing.T) {
	d, at := indicator.Dial{Repeatability: 0.003}, evenRound(5)
	m := (&lobedBore{radius: 30}).read(at)
	f := mustFit(t, d, ring, at, m)
	if p := f.Budget().Of(indicator.PartForm); p.U != 0 {
		t.Errorf("unstated, the form makes %v", p.U)
	}
	s := ring
	s.FormLimit = 0.012
	f = mustFit(t, d, s, at, m)
	// Five lobes of 0.012 are a radius of five stations that is 0.012 out; over √3.
	near(t, "form", f.Budget().Of(indicator.PartForm).U, 0.012/math.Sqrt(3), 1e-9)
}

// accused counts the rounds in which a reading is named, and those in which a slip of the reader's is.
func accused(t *testing.T, d indicator.Dial, s indicator.Setup, at []geom.Bearing, m []float64) (named, blamed bool) {
	f := mustFit(t, d, s, at, m)
	for _, x := range f.Suspects(at, m) {
		named = true
		blamed = blamed || x.Because != indicator.FormCause || !math.IsNaN(x.WouldBe)
	}
	return named, blamed
}

// Lobes within the limit are nobody's slip, in any phase, with any usual number of stations; without the rule they are called one, of
// a sign among others.
func TestLobesAreNobodysSlip(t *testing.T) {
	d := indicator.Dial{Graduation: 0.01, Revolution: 1, From: -0.8, To: 0.8, ReadsTo: 0.2, Repeatability: 0.001}
	for _, at := range [][]geom.Bearing{evenRound(5), evenRound(6), evenRound(6)[:5], evenRound(7), evenRound(8)} {
		before := 0
		for _, k := range []int{2, 3} {
			for i := range 72 {
				l := lobedBore{radius: 30, a: 0.010, k: k, phase: float64(geom.FromDegrees(5 * float64(i))),
					centre: geom.Point{X: 0.006, Y: -0.003}}
				m := l.read(at)
				s := ring
				if _, blamed := accused(t, d, s, at, m); blamed {
					before++
				}
				s.Form.Allowed = s.Allows()
				if _, blamed := accused(t, d, s, at, m); blamed {
					t.Errorf("%d stations, %d lobes at %v°: a reader is blamed", len(at), k, 5*i)
				}
			}
		}
		if before == 0 {
			t.Errorf("%d stations: nobody was blamed without the rule: it is not tried", len(at))
		}
	}
}

// A slip by ten divisions or a revolution of a usual dial is larger than any lobes that are let pass: it is named as before. (Of five
// readings no test can tell which is wrong.)
func TestSlipsAreStillNamed(t *testing.T) {
	d := indicator.Dial{Graduation: 0.01, Revolution: 1, From: -2, To: 2, ReadsTo: 0.2, Repeatability: 0.003}
	for n := 6; n <= 8; n++ {
		at := evenRound(n)
		for i := range at {
			for _, slip := range []struct {
				by   float64
				want indicator.Cause
			}{{0.1, indicator.TenDivisions}, {-0.1, indicator.TenDivisions}, {1, indicator.Revolution}} {
				m := (&lobedBore{radius: 30, a: 0.002, k: 2, centre: geom.Point{X: 0.2, Y: 0.1}}).read(at)
				m[i] += slip.by
				s := ring
				s.Form.Allowed = s.Allows()
				f := mustFit(t, d, s, at, m)
				x := f.Suspects(at, m)
				if len(x) != 1 || x[0].Index != i || x[0].Because != slip.want {
					t.Errorf("%d stations, %v at %d: %+v, want %s", n, slip.by, i+1, x, slip.want)
				}
			}
		}
	}
}

// What a stated form may do to either coordinate of the centre, and along either line halfway between, is what the fit of a
// numerically followed ray shows of it, in the worst phase of the lobes that put the centre out most: so much over √3 (JCGM 100:2008,
// 4.3.7, from memory), 1.96 times. The stations stand so that the two differ, and that neither is nothing.
func TestFormInBothCoordinates(t *testing.T) {
	const limit, a = 0.012, 1e-4
	d := indicator.Dial{Repeatability: 1e-7}
	for name, at := range map[string][]geom.Bearing{
		"bunched": degrees(0, 10, 100, 170, 230, 300), "half a round": degrees(0, 45, 90, 135, 180),
	} {
		slant := geom.FromDegrees(45).Unit()
		most, worst, aslant := 0.0, geom.Point{}, [2]float64{}
		for k := 2; k <= 7; k++ {
			out, off, along := 0.0, geom.Point{}, [2]float64{}
			for i := range 360 {
				l := lobedBore{radius: 30, a: a, k: k, phase: float64(geom.FromDegrees(float64(i)))}
				c := mustFit(t, indicator.Dial{}, ring, at, l.read(at)).Circle.Centre
				out, off.X, off.Y = max(out, c.Norm()), max(off.X, math.Abs(c.X)), max(off.Y, math.Abs(c.Y))
				along[0], along[1] = max(along[0], math.Abs(c.Dot(slant))), max(along[1], math.Abs(c.Cross(slant)))
			}
			if out > most {
				most, worst, aslant = out, off, along
			}
		}
		s := ring
		s.FormLimit = limit
		f := mustFit(t, d, s, at, (&lobedBore{radius: 30}).read(at))
		const k = 1.959963985
		near(t, name+": U of x", f.CentreX().U, k*limit*worst.X/a/math.Sqrt(3), 2e-3*f.CentreX().U)
		near(t, name+": U of y", f.CentreY().U, k*limit*worst.Y/a/math.Sqrt(3), 2e-3*f.CentreY().U)
		for i, u := range []geom.Point{slant, {X: -slant.Y, Y: slant.X}} {
			near(t, name+": U aslant", f.Part(u).U, k*limit*aslant[i]/a/math.Sqrt(3), 2e-3*f.Part(u).U)
		}
	}
}

// The amplitude that a round leaves to an oval, or to three lobes, is not less than what is there in 95 of 100 rounds: drawn readings of
// a surface of our own. Four standard deviations of a count are let be.
func TestLobesAreBounded(t *testing.T) {
	const rounds, a, sigma = 2000, 0.003, 0.002
	rng := rand.New(rand.NewPCG(26, 11))
	at := evenRound(8)
	for i, k := range []int{2, 3} {
		held := 0
		l := lobedBore{radius: 30, a: a, k: k, phase: 0.7}
		clean := l.read(at)
		for range rounds {
			m := make([]float64, len(clean))
			for j := range m {
				m[j] = clean[j] + sigma*rng.NormFloat64()
			}
			f := mustFit(t, indicator.Dial{Repeatability: drawn(rng, sigma)}, ring, at, m)
			if lobes := f.Lobes(at, m); lobes.Bound[i] >= a {
				held++
			}
		}
		if least := 0.95*rounds - 4*math.Sqrt(0.95*0.05*rounds); float64(held) < least {
			t.Errorf("%d lobes of %v lie below what is left to them in %d of %d rounds, want %.0f", k, a, held, rounds, least)
		}
	}
}

// The amplitude that is left to an oval and to three lobes is that of what the readings show, and beside it what their scatter would
// make, known to as many degrees of freedom as circle and lobes leave. By hand, of a ring without any that reads 0 at n even stations: a
// stated 0.003 is worth eight, the stations leave n − 3, each kind of lobes that they see takes two; the two amplitudes of a kind have
// a standard deviation of s√(2/n) each, and 95 % of both lie within √(2F), F(0.95; 2, ν) of the printed tables: 4.26 and 4.46 for 9
// and 8.
func TestLobesOfAFlatRound(t *testing.T) {
	for _, c := range []struct {
		n     int
		dof   float64
		f     float64
		kinds int
	}{{6, 9, 4.26, 1}, {7, 8, 4.46, 2}, {8, 9, 4.26, 2}} {
		at := evenRound(c.n)
		f := mustFit(t, indicator.Dial{Repeatability: 0.003}, ring, at, make([]float64, c.n))
		l := f.Lobes(at, make([]float64, c.n))
		want := math.Sqrt(2*c.f) * 0.003 * math.Sqrt(8/c.dof) * math.Sqrt(2/float64(c.n))
		for k, bound := range l.Bound {
			if k >= c.kinds {
				near(t, "bound of what is not seen", bound, 0, 0)
				continue
			}
			near(t, "bound", bound, want, 0.002*want)
		}
	}
}
