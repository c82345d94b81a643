package advice_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// square is dᵀC⁻¹d, on gonum's solver.
func square(d [3]float64, covs ...[3][3]float64) float64 {
	c, v := mat.NewDense(3, 3, nil), mat.NewVecDense(3, d[:])
	for _, m := range covs {
		for i := range 3 {
			for j := range 3 {
				c.Set(i, j, c.At(i, j)+m[i][j])
			}
		}
	}
	var x mat.VecDense
	_ = x.SolveVec(c, v)
	return mat.Dot(v, &x)
}

// begins finds the least amount at which something is said, from one at which it is.
func begins(t *testing.T, from, to float64, said func(float64) bool) float64 {
	t.Helper()
	if said(from) || !said(to) {
		t.Fatalf("said at %v: %v, at %v: %v; need no and yes", from, said(from), to, said(to))
	}
	for range 50 {
		if mid := (from + to) / 2; said(mid) {
			to = mid
		} else {
			from = mid
		}
	}
	return to
}

// A statement is doubted from where chance makes of the winds what they did once in 100,000 (chi-squared of three unknowns, gonum), with
// an allowance of 60 over the degrees of freedom of the sweep that has fewer, for a spread that few readings tell (common practice, no
// source); and one is named that explains them at 1 %.
func TestWhereDoubtBegins(t *testing.T) {
	cross := advice.Cross{Names: [2]string{"x", "y"}}
	axis, _ := cross.Axis("x")
	aside, askew := cross.Aside("x")
	for _, n := range [][2]int{{5, 5}, {8, 8}, {20, 20}, {5, 20}, {20, 5}} { // the stations of the two sweeps
		then := swept(t, geom.Point{X: 0.2}, n[0])
		parts := func(to geom.Point, by float64) (a advice.Astray, went, wound [3]float64) {
			now := swept(t, to, n[1])
			a = advice.Astray{Then: &then, Now: &now, Winds: []advice.Pushed{advice.Push("x", axis, aside, by, 0.003, askew, false)}, Cross: &cross}
			went = [3]float64{now.Circle.Level - then.Circle.Level, now.Circle.Centre.X - then.Circle.Centre.X,
				now.Circle.Centre.Y - then.Circle.Centre.Y}
			return a, went, a.Winds[0].By
		}
		less := func(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
		chi := distuv.ChiSquared{K: 3}

		// X was to go some way and went as far back.
		at := begins(t, 0.001, 0.2, func(by float64) bool {
			a, _, _ := parts(geom.Point{X: 0.2 + by}, by)
			_, ok := a.Explain()
			return ok
		})
		a, went, wound := parts(geom.Point{X: 0.2 + at}, at)
		dof := min(a.Then.Dof, a.Now.Dof)
		got, want := square(less(went, wound), a.Then.Random(), a.Now.Random(), a.Winds[0].Cov), chi.Quantile(1-1e-5)+60/dof
		if math.Abs(got/want-1) > 2e-3 {
			t.Errorf("%d stations: doubted from %.2f on, want %.2f", n, got, want)
		}

		// And further back, until that is no explanation either.
		named := func(by float64) bool {
			a, _, _ := parts(geom.Point{X: 0.4 + by}, 0.2)
			x, _ := a.Explain()
			return slices.ContainsFunc(x.Suspects, func(s advice.Suspect) bool { return s.Fault == advice.ScrewFault })
		}
		at = begins(t, 0, 0.1, func(by float64) bool { return !named(by) })
		a, went, wound = parts(geom.Point{X: 0.4 + at}, 0.2)
		got = square(less(went, [3]float64{-wound[0], -wound[1], -wound[2]}), a.Then.Random(), a.Now.Random(), a.Winds[0].Cov)
		if want := chi.Quantile(0.99); math.Abs(got/want-1) > 2e-3 {
			t.Errorf("%d stations: explained up to %.2f, want %.2f", n, got, want)
		}
	}
}

// A slide that goes 2 mm and whose direction is known to 0.01 rad may have gone 0.02 aside, and along its line as its travel is known.
func TestPushedAside(t *testing.T) {
	cross := advice.Cross{Names: [2]string{"x", "y"}}
	axis, _ := cross.Axis("x")
	aside, _ := cross.Aside("x")
	p := advice.Push("x", axis, aside, 2, 0.003, 0.01, false)
	if got := p.Cov; math.Abs(got[1][1]-0.003*0.003) > 1e-15 || math.Abs(got[2][2]-0.02*0.02) > 1e-15 || got[1][2] != 0 || got[0][0] != 0 {
		t.Errorf("%v, want 0.003 along X and 0.02 across", got)
	}
}
