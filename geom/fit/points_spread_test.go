package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
)

// coverPoints counts as cover does, for points on an arc.
func coverPoints(t *testing.T, clean touched, rng *rand.Rand, priorDof int) counts {
	t.Helper()
	var n counts
	wantDof := float64(len(clean.p) - MinPlaces + priorDof)
	n.k, n.kEllipse = Coverage(wantDof), EllipseFactor(Confidence, wantDof)
	for range runs {
		f := clean.blurred(rng, scatter).fit(t)
		sigma, dof, ok := f.Spread(repeats(rng, priorDof))
		if !ok || dof != wantDof {
			t.Fatalf("spread known %v with %v degrees of freedom, want %v", ok, dof, wantDof)
		}
		n.add(Radial{Centre: f.Centre, Cofactor: f.Cofactor}, f.params(), clean.truth, sigma)
	}
	return n
}

func TestPointsCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 31))
	weighted := shortPointArc(90)
	weighted.w = []float64{1, 0.5, 1, 4, 1, 0.25, 1, 2, 1, 1, 0.5, 3}
	three := onCircle([3]float64{30, 12, -7}, evenly(3, 0.3, math.Pi/2))
	for _, c := range []struct {
		name     string
		clean    touched
		priorDof int
	}{
		{"330°", shortPointArc(330), 0},
		{"90°", shortPointArc(90), 0},
		{"30°", shortPointArc(30), 0},
		{"90°, weights", weighted, 0},
		{"30°, prior", shortPointArc(30), 8},
		{"three points on 90°, prior", three, 8},
	} {
		n := coverPoints(t, c.clean, rng, c.priorDof)
		for _, v := range []struct {
			what string
			k    int
		}{{"radius", n.level}, {"x", n.x}, {"y", n.y}, {"centre's ellipse", n.ellipse}} {
			share := float64(v.k) / runs
			t.Logf("%s, %s: held %.2f %%", c.name, v.what, 100*share)
			if apart(share, Confidence) > band {
				t.Errorf("%s: the interval of %s held the truth in %.2f %%, want 95 ±%.2f %%", c.name, v.what, 100*share, 100*band)
			}
		}
	}
}

// On a full circle noise across the radius makes every point look farther out: the mean distance
// is R + σ²/2R, and so is the radius, but for terms of σ²/nR. An algebraic fit has more of it.
func TestRadiusOfFullCircleIsLong(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 32))
	const n, tries, radius, sigma = 100, 3000, 30.0, 1.5
	clean := onCircle([3]float64{radius, 0, 0}, evenly(n, 0, 2*math.Pi))
	sum, plain := 0.0, 0.0
	for range tries {
		s := clean.blurred(rng, sigma)
		sum += s.fit(t).Radius - radius
		_, r := kasa(s.p)
		plain += r - radius
	}
	const want = sigma * sigma / 2 / radius
	bound := 4*sigma/math.Sqrt(n*tries) + 2*sigma*sigma/n/radius
	if got := sum / tries; apart(got, want) > bound {
		t.Errorf("mean radius too large by %.4f mm, want %.4f ±%.4f", got, want, bound)
	}
	if got := plain / tries; got < want+2*bound {
		t.Errorf("the plain algebraic radius is too large by %.4f mm only", got)
	}
}

// curvatureBias is by how much each fit's curvature exceeds the arc's on average, as a part of it,
// and four standard errors of that. The arc's middle looks along from.
func curvatureBias(t *testing.T, clean touched, from geom.Point, rng *rand.Rand, noise float64) (orthogonal, start, plain, bound float64) {
	t.Helper()
	const tries = 4000
	radius, squares := clean.truth[0], 0.0
	// signed is positive where the centre lies on the true side.
	signed := func(k float64, towards geom.Point) float64 {
		return radius * math.Copysign(k, -k*towards.Dot(from)) / tries
	}
	for range tries {
		s := clean.blurred(rng, noise)
		f := s.fit(t)
		k := signed(1/f.Radius, f.arc.to)
		orthogonal += k
		squares += k * k * tries
		c, err := centred(s.p, nil)
		if err != nil {
			t.Fatal(err)
		}
		a, err := c.algebraic()
		if err != nil {
			t.Fatal(err)
		}
		start += signed(a.bend/c.size, a.to)
		centre, r := kasa(s.p)
		plain += signed(1/r, centre.Sub(s.p[0]))
	}
	return orthogonal - 1, start - 1, plain - 1, 4 * math.Sqrt((squares-orthogonal*orthogonal)/tries)
}

// On short arcs the curvature is what the points show, and its mean must be the arc's, also where
// noise takes a good part of the sagitta; so must the start's, while the plain algebraic circle
// shrinks: by a part (noise/sagitta)² or so.
func TestCurvatureOfShortArcs(t *testing.T) {
	rng := rand.New(rand.NewPCG(27, 33))
	for _, degrees := range []float64{90, 30, 10} {
		clean := shortPointArc(degrees)
		sagitta := 30 * (1 - math.Cos(degrees/2*math.Pi/180))
		for _, part := range []float64{0.1, 0.3} {
			middle := 40*geom.Degree + geom.FromDegrees(degrees/2)
			fit, start, plain, bound := curvatureBias(t, clean, middle.Unit(), rng, part*sagitta)
			if math.Abs(fit) > bound || math.Abs(start) > bound || plain < 5*bound {
				t.Errorf("%v°, noise %v of the sagitta: curvature off by %+.4f, the start's by %+.4f, want 0 ±%.4f; the plain fit's by "+
					"%+.4f, want much more",
					degrees, part, fit, start, bound, plain)
			}
		}
	}
}
