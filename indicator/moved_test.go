package indicator_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// bench is a ring or a plug that is touched from an axis at the origin, by vectors of its own: its surface is met by walking along the
// bearing until the distance from its centre is its radius there, lobes included.
type bumped struct {
	boss, kept bool
	at         geom.Point // of the reference's centre
	lobe       [4]float64 // amplitudes of 2 and 3 lobes, and their phases
	zero       float64    // the dial's
	sigma      float64
	rng        *rand.Rand
}

const bumpedRadius, bumpedZero = 30.0, 30.05 // of the reference, and where the tip stands with the dial at zero

func (b *bumped) read(t geom.Bearing) float64 {
	d := 0.0
	for range 6 { // the surface along the ray, by fixed steps towards it
		p := geom.Point{}.Along(t, bumpedRadius+d).Sub(b.at)
		a := float64(p.Bearing())
		r := bumpedRadius + b.lobe[0]*math.Cos(2*a-b.lobe[2]) + b.lobe[1]*math.Cos(3*a-b.lobe[3])
		d += r - p.Norm()
	}
	d += bumpedRadius - bumpedZero
	if !b.boss {
		d = -d
	}
	return d + b.zero + b.sigma*b.rng.NormFloat64()
}

// play sweeps n stations, moves the reference by so much, and reads as many of them again.
func (b *bumped) play(t *testing.T, n, again int, by geom.Point) (f indicator.Estimate, m indicator.Moved) {
	t.Helper()
	dial := indicator.Dial{Graduation: 0.01, Repeatability: b.sigma, ReadsTo: 0.02}
	setup := indicator.Setup{ReferenceRadius: bumpedRadius, Reach: -12, ReachKnown: true}
	if b.boss {
		setup.Touch = indicator.Boss
	}
	var at []geom.Bearing
	var first []float64
	for i := range n {
		at = append(at, geom.Bearing(2*math.Pi*float64(i)/float64(n)))
		first = append(first, b.read(at[i]))
	}
	f, err := indicator.Fit(dial, setup, at, first)
	if err != nil {
		t.Fatal(err)
	}
	b.at = b.at.Add(by)
	if !b.kept {
		b.zero += 0.4 * (b.rng.Float64() - 0.5)
	}
	var all []indicator.Reread
	for i := range again {
		k := i * n / again
		if again == 2 {
			k = i * (n + 2) / 4 // about a quarter turn
		}
		all = append(all, indicator.Reread{Bearing: at[k], Then: first[k], Now: b.read(at[k])})
	}
	m, ok := f.Bumped(all, b.kept)
	if !ok {
		t.Fatalf("%d of %d stations read again tell nothing", again, n)
	}
	return f, m
}

// drawBumped draws a reference a little out of round, a little off the axis.
func drawBumped(rng *rand.Rand, kept, boss bool, form float64) bumped {
	b := bumped{boss: boss, kept: kept, sigma: 0.003, rng: rng}
	b.at = geom.Point{X: 0.008 * rng.NormFloat64(), Y: 0.008 * rng.NormFloat64()}
	b.lobe = [4]float64{form * rng.Float64(), form * rng.Float64(), 7 * rng.Float64(), 7 * rng.Float64()}
	return b
}

// Without scatter the move and the shift are found to a hair, whatever the reference's form, by three readings with the dial set anew
// and by two with its zero as it was; the circle stands where it was put. Own vectors.
func TestBumpedExactly(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 7))
	for i := range 200 {
		kept, boss := i%2 == 0, i%4 < 2
		b := drawBumped(rng, kept, boss, 0.01)
		b.sigma = 1e-7
		again := 3
		if kept {
			again = 2
		}
		by := geom.Point{X: 0.5 * (rng.Float64() - 0.5), Y: 0.5 * (rng.Float64() - 0.5)}
		was := b.zero
		f, m := b.play(t, 6, again, by)
		// What the form has of a slope turns with the place where the tip meets it: 0.01 · 3/30 of the move.
		if off := m.By.Sub(by).Norm(); off > 2e-3*by.Norm()+1e-6 {
			t.Errorf("moved by %v, found %v, off by %.3g mm", by, m.By, off)
		}
		if at := f.Circle.Centre.Add(by).Sub(m.Now.Circle.Centre).Norm(); at > 2e-3*by.Norm()+1e-6 {
			t.Errorf("the centre stands %.3g mm beside where it was put", at)
		}
		if shift := b.zero - was; !kept && math.Abs(m.Shift.V-shift) > 2e-3*by.Norm()+1e-6 || kept && m.Shift.Known() {
			t.Errorf("kept %v: shifted by %.6f, found %.6f mm", kept, shift, m.Shift.V)
		}
	}
}

// What is told holds as often as it says: in 95 of 100 cases the move is within its ±, where one is shown, and below the bound, where
// none is; what has not moved is said to have in 1 of 100; a move of the tolerance's size is found; and the centre's verdict is false
// no oftener than its rates. Many more draws with TRAMMEL_TRAPS. Own vectors, scatter 0.003 mm.
func TestBumpedHolds(t *testing.T) {
	draws := 300
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		draws = 5000
	}
	const tolerance = 0.02
	for _, c := range []struct {
		kept     bool
		n, again int
		form     float64 // of a ring that is out of round the sweep's scatter is taken to be larger than it is
		sees     float64 // the least share of moves by the tolerance that are shown, of those by more it is 0.95
	}{{false, 5, 3, 0.001, 0.8}, {false, 6, 3, 0.001, 0.9}, {false, 6, 3, 0.01, 0.3}, {false, 5, 5, 0.001, 0.95},
		{false, 8, 4, 0.001, 0.95},
		{true, 6, 2, 0.001, 0.65}, {true, 5, 3, 0.001, 0.8}, {true, 5, 5, 0.001, 0.95}} {
		for _, far := range []float64{0, 0.004, 0.008, 0.02, 0.05} {
			rng := rand.New(rand.NewPCG(uint64(c.n), uint64(1000*far)))
			held, shown, insideWrong, outsideWrong := 0, 0, 0, 0
			for i := range draws {
				b := drawBumped(rng, c.kept, i%2 == 0, c.form)
				by := geom.Point{}.Along(geom.Bearing(2*math.Pi*rng.Float64()), far)
				_, m := b.play(t, c.n, c.again, by)
				off := math.Abs(m.By.Norm() - far)
				if m.Shown {
					shown++
				}
				if m.Shown && off <= m.U || !m.Shown && far <= m.Most() {
					held++
				}
				truly := b.at.Norm()
				switch m.Now.JudgeCentre(tolerance, indicator.FixedTail) {
				case indicator.Inside:
					if truly > tolerance {
						insideWrong++
					}
				case indicator.Outside:
					if truly <= tolerance {
						outsideWrong++
					}
				case indicator.NoVerdict, indicator.Undecided:
				}
			}
			share := func(k int) float64 { return float64(k) / float64(draws) }
			doubt := func(p float64) float64 { return 4 * math.Sqrt(p*(1-p)/float64(draws)) }
			t.Logf("%+v, moved %.3f mm: held %.4f, shown %.4f, false inside %.4f, outside %.4f", c, far, share(held), share(shown),
				share(insideWrong), share(outsideWrong))
			if share(held) < 0.95-doubt(0.95) {
				t.Errorf("%+v, moved %.3f mm: told right in %.4f, want 0.95", c, far, share(held))
			}
			if far == 0 && share(shown) > indicator.MovedAlarm+doubt(indicator.MovedAlarm) {
				t.Errorf("%+v: a move said of %.4f that have not moved, want %v", c, share(shown), indicator.MovedAlarm)
			}
			if want := map[bool]float64{true: c.sees, false: 0.95}[far == tolerance]; far >= tolerance && share(shown) < want-doubt(want) {
				t.Errorf("%+v, moved %.3f mm: said of %.4f, want %.2f", c, far, share(shown), want)
			}
			if share(insideWrong) > 0.025+doubt(0.025) || share(outsideWrong) > 0.025+doubt(0.025) {
				t.Errorf("%+v, moved %.3f mm: false inside %.4f, false outside %.4f, want at most 0.025", c, far, share(insideWrong),
					share(outsideWrong))
			}
		}
	}
}

// The covariance that the moved circle is left with is the one that drawn readings show: the square of its centre's error in terms of it
// has the mean 2, of two directions, where the scatter is as it is stated. Four standard deviations of a mean of so many are let be.
func TestBumpedCovariance(t *testing.T) {
	const draws = 1500
	for _, c := range []struct {
		kept     bool
		n, again int
	}{{false, 5, 3}, {false, 8, 4}, {true, 6, 2}, {true, 6, 3}} {
		rng := rand.New(rand.NewPCG(25, uint64(c.n+c.again)))
		sum := 0.0
		for i := range draws {
			b := drawBumped(rng, c.kept, i%2 == 0, 0)
			_, m := b.play(t, c.n, c.again, geom.Point{X: 0.02 * rng.NormFloat64(), Y: 0.02 * rng.NormFloat64()})
			e, q := m.Now.Circle.Centre.Sub(b.at), m.Now.Circle.Cofactor
			det := q[1][1]*q[2][2] - q[1][2]*q[2][1]
			sum += (q[2][2]*e.X*e.X - 2*q[1][2]*e.X*e.Y + q[1][1]*e.Y*e.Y) / det / (b.sigma * b.sigma)
		}
		if mean := sum / draws; math.Abs(mean-2) > 4*2/math.Sqrt(draws) {
			t.Errorf("%+v: the centre's error is %.3f in terms of its covariance, want 2", c, mean)
		}
	}
}

// What four stations read once more, three of them more than a kept zero needs, tell of the scatter counts as half of its square, for a
// difference of two readings has twice the variance of one. By hand: a concentric ring, all first readings 0, all later ones 0.004. The
// centre has not moved, for that would be seen with both signs; the differences leave 4 · 0.004². Of the sweep eight degrees of freedom
// of a stated 0.003 and one of four readings that leave nothing make s² = 8 · 0.003²/9, and the two that the four differences have
// beyond x and y make (9 s² + 2 · 0.004²)/11. Half of a square about a circle of four stations is ½, so U = t · √(2 s² · ½), with
// Student's t(0.975, 11) = 2.201 of the printed tables.
func TestBumpedPoolsTheScatter(t *testing.T) {
	at := degrees(0, 90, 180, 270)
	setup := indicator.Setup{ReferenceRadius: 30, Reach: -12, ReachKnown: true}
	f := mustFit(t, indicator.Dial{Repeatability: 0.003}, setup, at, make([]float64, 4))
	var again []indicator.Reread
	for _, b := range at {
		again = append(again, indicator.Reread{Bearing: b, Now: 0.004})
	}
	m, ok := f.Bumped(again, true)
	if !ok || m.Shown {
		t.Fatalf("told %v, a move shown: %v", ok, m.Shown)
	}
	near(t, "move", m.By.Norm(), 0, 1e-12)
	variance := (9*(8*0.003*0.003/9) + 2*0.004*0.004) / 11
	near(t, "U", m.U, 2.201*math.Sqrt(variance), 1e-6)
	near(t, "degrees of freedom", m.Now.Dof, 11, 0)
	near(t, "scatter", m.Now.Sigma, math.Sqrt(variance), 1e-12)
}
