package part_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
)

// mark is where a real arc crosses the normal at a meeting place at the origin, + out of the metal. The
// arc is meant to pass through the origin, its metal inside for kappa +1; it is swung at the radius
// meant for cutter d plus dr, with a cutter that is d + dd, about a centre that is out by −e.
func mark(normal geom.Point, radius, kappa, d, dr, dd float64, e geom.Point) float64 {
	swing := radius + kappa*d/2 + dr
	centre := normal.Times(-kappa * radius).Sub(e)
	real := swing - kappa*(d+dd)/2
	// |t·n − centre| = real, of the two places that nearer the origin.
	along := normal.Dot(centre)
	across := centre.Sub(normal.Times(along)).Norm()
	half := math.Sqrt(real*real - across*across)
	if math.Abs(along-half) < math.Abs(along+half) {
		return along - half
	}
	return along + half
}

// The step foretold is that of real circles, crossed with the normal, but for (e·v)²/2r of either.
func TestStepsAreReal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := func(what string, reach float64) float64 { return rapid.Float64Range(-reach, reach).Draw(t, what) }
		normal := geom.Bearing(x("normal", 4)).Unit()
		var s part.Situation
		var j part.Joint
		j.Normal = normal
		real, bound := 0.0, tiny
		for k := range 2 {
			d, dd, dr := 8.0, x("cutter", 0.05), x("radius", 0.1)
			e := at(x("ex", 0.1), x("ey", 0.1))
			s.Settings = append(s.Settings, part.Setting{Radius: dr, Centre: e})
			s.Cutters = append(s.Cutters, dd)
			cut := part.Cut{Setting: k, Cutter: k, Kappa: rapid.SampledFrom([]float64{-1, 0, 1}).Draw(t, "kappa")}
			var off float64
			if cut.Kappa == 0 {
				cut.Setting, cut.Own = -1, x("own", 0.1)
				off = cut.Own - dd/2 // the straight's axis out by own, the cutter by half its error
			} else {
				radius := rapid.Float64Range(6, 60).Draw(t, "radius")
				off = mark(normal, radius, cut.Kappa, d, dr, dd, e)
				bound += e.Dot(e) / (2 * (radius - 0.3))
			}
			j.Cuts[k] = cut
			real += float64(1-2*k) * off
		}
		s.Joints = []part.Joint{j}
		steps, worst, err := s.Steps()
		if err != nil || worst != 0 {
			t.Fatal(worst, err)
		}
		if math.Abs(steps[0].Value-real) > bound {
			t.Fatalf("step %v foretold, real %v, may differ by %v", steps[0].Value, real, bound)
		}
	})
}

// What settings have in common cancels on one side of the metal and doubles across an S; the cutter
// takes half its error off either side, so it cancels wherever one cutter cuts both.
func TestCommonSources(t *testing.T) {
	convex := func(setting, cutter int) part.Cut { return part.Cut{Setting: setting, Cutter: cutter, Kappa: 1} }
	concave := func(setting, cutter int) part.Cut {
		return part.Cut{Setting: setting, Cutter: cutter, Kappa: -1}
	}
	s := part.Situation{
		Settings: make([]part.Setting, 2), Cutters: make([]float64, 2),
		Sources: []part.Source{
			{Name: "reach", U: 0.01, Settings: []float64{1, 1}},
			{Name: "cutter 8", U: 0.006, Cutters: []float64{1}},
			{Name: "cutter 10", U: 0.008, Cutters: []float64{0, 1}},
		},
	}
	s.Settings[0].Radius, s.Cutters[0], s.Cutters[1] = 0.03, 0.002, 0.004
	for _, c := range []struct {
		name       string
		cuts       [2]part.Cut
		value, u95 float64
	}{
		{"one side, one cutter", [2]part.Cut{convex(0, 0), convex(1, 0)}, 0.03, 0},
		{"one side, two cutters", [2]part.Cut{convex(0, 0), convex(1, 1)}, 0.03 - 0.001 + 0.002, 0.005},
		{"across an S, one cutter", [2]part.Cut{convex(0, 0), concave(1, 0)}, 0.03, 0.02},
		{"across an S, one setting", [2]part.Cut{convex(0, 0), concave(0, 0)}, 0.06, 0.02},
		{"across an S the other way", [2]part.Cut{concave(0, 0), convex(1, 0)}, -0.03, 0.02},
		{"to a straight of 0.01 ± 0.003", [2]part.Cut{concave(0, 1), {Setting: -1, Cutter: -1, Own: 0.01, OwnU: 0.003}},
			-0.03 - 0.002 - 0.01, math.Sqrt(0.01*0.01 + 0.004*0.004 + 0.003*0.003)},
	} {
		s.Joints = []part.Joint{{Cuts: c.cuts, Normal: at(0, 1)}}
		steps, _, err := s.Steps()
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name+": step", steps[0].Value, c.value, tiny)
		near(t, c.name+": uncertainty", steps[0].U, c.u95, tiny)
	}
}

// What an axis that leans does to two centres alike cancels between their arcs, on either side of the metal; to a straight it
// is there in full, as far as it goes along the normal. By hand: 0.01 along (1,0), the normal at 60° to it.
func TestCommonCentres(t *testing.T) {
	normal := at(0.5, math.Sqrt(0.75))
	s := part.Situation{Settings: make([]part.Setting, 2),
		Sources: []part.Source{{Name: "lean", U: 0.01, Centres: []geom.Point{at(1, 0), at(1, 0)}}}}
	arc := func(setting int, kappa float64) part.Cut { return part.Cut{Setting: setting, Cutter: -1, Kappa: kappa} }
	straight := part.Cut{Setting: -1, Cutter: -1}
	for name, c := range map[string]struct {
		cuts [2]part.Cut
		u    float64
	}{
		"one side": {[2]part.Cut{arc(0, 1), arc(1, 1)}, 0}, "across an S": {[2]part.Cut{arc(0, 1), arc(1, -1)}, 0},
		"to a straight": {[2]part.Cut{arc(1, 1), straight}, 0.005},
	} {
		s.Joints = []part.Joint{{Cuts: c.cuts, Normal: normal}}
		steps, _, err := s.Steps()
		if err != nil {
			t.Fatal(err)
		}
		near(t, name, steps[0].U, c.u, tiny)
	}
}

// correlated draws δR, e_x, e_y with covariance L·Lᵀ.
func correlated(rng *rand.Rand, l [3][3]float64) (dr float64, e geom.Point) {
	z := [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
	var x [3]float64
	for i := range 3 {
		for k := range i + 1 {
			x[i] += l[i][k] * z[k]
		}
	}
	return x[0], at(x[1], x[2])
}

// jointsOf are the tangent blends of a part that one cutter cuts in whole, with the settings of their elements, and
// where they stand among its blends.
func jointsOf(p *part.Plan) (joints []part.Joint, where []int) {
	cut := func(n int) part.Cut {
		for _, a := range p.Arcs {
			if a.N == n {
				return part.Cut{Setting: a.Group - 1, Kappa: map[part.Side]float64{part.On: 0, part.Inside: 1, part.Outside: -1}[a.Side]}
			}
		}
		return part.Cut{Setting: -1, Cutter: -1} // a straight's error is its own, cutter and all
	}
	for i, b := range p.Blends {
		if b.Tangent && b.Normal != (geom.Point{}) {
			joints = append(joints, part.Joint{Cuts: [2]part.Cut{cut(b.Between[0]), cut(b.Between[1])}, Normal: b.Normal})
			where = append(where, i)
		}
	}
	return joints, where
}

// 2000 quadrant plates are cut with cutter 6, whose bosses, hollow and rim need a setting each. Each
// setting is known to its fit's covariance; reach, reference and the cutter are common. The true step,
// measured on the real circles, lies inside ±1.96 u of that foretold for 95 of 100, at every blend and at
// the one that is told to be the worst. (2000 parts scatter by 0.5 of 100; 2 is four times that.)
func TestTrueStepsLieInsideTheBand(t *testing.T) {
	const parts = 2000
	rng := rand.New(rand.NewPCG(7, 11))
	p := made(t, quadrant(), part.Options{Cutters: []float64{6}})
	joints, where := jointsOf(p)
	if len(joints) != 4 || len(p.Groups) != 4 {
		t.Fatalf("%d joints in %d groups, want 4 in 4", len(joints), len(p.Groups))
	}
	l := [3][3]float64{{0.004, 0, 0}, {0.001, 0.005, 0}, {-0.002, 0.001, 0.004}}
	var cov [3][3]float64
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				cov[i][j] += l[i][k] * l[j][k]
			}
		}
	}
	all := []float64{1, 1, 1, 1}
	s := part.Situation{Cutters: []float64{0.01}, Joints: joints, Sources: []part.Source{
		{Name: "reach", U: 0.006, Settings: all}, {Name: "reference", U: 0.002, Settings: all},
		{Name: "cutter", U: 0.012, Cutters: []float64{1}}}}
	inside, worstInside := make([]int, 4), 0
	for range parts {
		shared, dd := 0.006*rng.NormFloat64()+0.002*rng.NormFloat64(), s.Cutters[0]+0.012*rng.NormFloat64()
		var dr []float64
		var e []geom.Point
		s.Settings = nil
		for range p.Groups {
			b := part.Setting{Radius: 0.02 * rng.NormFloat64(), Centre: at(0.02*rng.NormFloat64(), 0.02*rng.NormFloat64()), Cov: cov}
			ownR, ownE := correlated(rng, l)
			dr, e = append(dr, b.Radius+ownR+shared), append(e, b.Centre.Add(ownE))
			s.Settings = append(s.Settings, b)
		}
		steps, worst, err := s.Steps()
		if err != nil {
			t.Fatal(err)
		}
		for i := range joints {
			real := 0.0
			for k, n := range p.Blends[where[i]].Between {
				a, c := p.Arcs[n-1], joints[i].Cuts[k]
				real += float64(1-2*k) * mark(joints[i].Normal, a.Radius, c.Kappa, 6, dr[c.Setting], dd, e[c.Setting])
			}
			if math.Abs(real-steps[i].Value) <= 1.96*steps[i].U {
				inside[i]++
				if i == worst {
					worstInside++
				}
			}
		}
	}
	for i, n := range append(inside, worstInside) {
		if share := 100 * float64(n) / parts; math.Abs(share-95) > 2 {
			t.Errorf("blend %d: %.1f of 100 inside, want 95 ± 2", i, share)
		}
	}
}

func TestBadSituations(t *testing.T) {
	good := part.Joint{Cuts: [2]part.Cut{{Setting: 0, Kappa: 1, Cutter: -1}, {Setting: -1, Cutter: -1}}, Normal: at(1, 0)}
	beyond := good
	beyond.Cuts[0].Setting = 1
	var want *part.SituationError
	for i, s := range []part.Situation{
		{Settings: make([]part.Setting, 1), Joints: []part.Joint{beyond}},
		{Settings: []part.Setting{{Radius: math.NaN()}}, Joints: []part.Joint{good}},
		{Settings: []part.Setting{{Tolerance: -1}}, Joints: []part.Joint{good}},
		{Settings: make([]part.Setting, 1), Sources: []part.Source{{U: 1, Settings: []float64{1, 1}}}},
		{Settings: make([]part.Setting, 1), Sources: []part.Source{{U: 1, Centres: make([]geom.Point, 2)}}},
		{Settings: make([]part.Setting, 1), Sources: []part.Source{{U: 1, Centres: []geom.Point{at(0, math.NaN())}}}},
		{Settings: make([]part.Setting, 1), Cutters: []float64{math.Inf(1)}},
	} {
		if _, _, err := s.Steps(); !errors.As(err, &want) {
			t.Errorf("situation %d: %v, want a SituationError", i, err)
		}
		if _, err := s.Advise(true); !errors.As(err, &want) {
			t.Errorf("situation %d: advice %v, want a SituationError", i, err)
		}
	}
}

// meeting is a joint between two settings' arcs.
func meeting(i, j int, ki, kj float64, normal geom.Point, weight float64) part.Joint {
	return part.Joint{Cuts: [2]part.Cut{{Setting: i, Kappa: ki, Cutter: -1}, {Setting: j, Kappa: kj, Cutter: -1}}, Normal: normal,
		Weight: weight}
}

// Hand-checked aims: follow the neighbour on one side of the metal; go against it across an S; no
// farther than the tolerance; between two neighbours by their weights, (0.02 + 3·(−0.01))/4; and a
// centre's error of 0.02 along the normal made up by radius and centre alike, the smallest such aim.
func TestAdviceByHand(t *testing.T) {
	open := part.Setting{Open: true, Tolerance: 0.05, CentreTolerance: 0.05}
	tight := part.Setting{Open: true, Tolerance: 0.01}
	out := func(dr, ex float64) part.Setting { return part.Setting{Radius: dr, Centre: at(ex, 0)} }
	x := at(1, 0)
	for _, c := range []struct {
		name     string
		s        part.Situation
		centre   bool
		aim      part.Aim
		sumAfter float64
	}{
		{"follow", part.Situation{Settings: []part.Setting{out(0.02, 0), open}, Joints: []part.Joint{meeting(0, 1, 1, 1, x, 0)}}, false,
			part.Aim{Setting: 1, Radius: 0.02}, 0},
		{"S", part.Situation{Settings: []part.Setting{out(0.02, 0), open}, Joints: []part.Joint{meeting(0, 1, 1, -1, x, 0)}}, false,
			part.Aim{Setting: 1, Radius: -0.02}, 0},
		{"tight", part.Situation{Settings: []part.Setting{out(0.02, 0), tight}, Joints: []part.Joint{meeting(0, 1, 1, 1, x, 0)}}, false,
			part.Aim{Setting: 1, Radius: 0.01, AtEdge: true}, 1e-4},
		{"weights", part.Situation{Settings: []part.Setting{out(0.02, 0), out(-0.01, 0), open},
			Joints: []part.Joint{meeting(0, 2, 1, 1, x, 1), meeting(2, 1, 1, 1, x, 3)}}, false,
			part.Aim{Setting: 2, Radius: -0.0025}, 0.0225*0.0225 + 3*0.0075*0.0075},
		{"centre", part.Situation{Settings: []part.Setting{out(0, 0.02), open}, Joints: []part.Joint{meeting(0, 1, 1, 1, x, 0)}}, true,
			part.Aim{Setting: 1, Radius: -0.01, Centre: at(0.01, 0)}, 0},
	} {
		a, err := c.s.Advise(c.centre)
		if err != nil || len(a.Aims) != 1 {
			t.Fatalf("%s: %+v, %v", c.name, a, err)
		}
		got := a.Aims[0]
		if got.Setting != c.aim.Setting || got.AtEdge != c.aim.AtEdge {
			t.Errorf("%s: aim %+v, want %+v", c.name, got, c.aim)
		}
		near(t, c.name+": radius", got.Radius, c.aim.Radius, 1e-9)
		near(t, c.name+": centre", got.Centre.Sub(c.aim.Centre).Norm(), 0, 1e-9)
		near(t, c.name+": sum", a.SumAfter, c.sumAfter, 1e-12)
	}
}

// No aim inside the tolerances, drawn or next to the advice, does better.
func TestAdviceIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := func(what string, reach float64) float64 { return rapid.Float64Range(-reach, reach).Draw(t, what) }
		n := rapid.IntRange(2, 6).Draw(t, "settings")
		var s part.Situation
		for range n {
			b := part.Setting{Radius: x("radius", 0.05), Centre: at(x("ex", 0.05), x("ey", 0.05))}
			if rapid.Bool().Draw(t, "open") {
				b = part.Setting{Open: true, Tolerance: 0.001 + x("tolerance", 0.03)*x("tolerance", 0.03)*20, CentreTolerance: 0.01}
				b.Tolerance = math.Abs(b.Tolerance)
			}
			s.Settings = append(s.Settings, b)
		}
		signs := rapid.SampledFrom([]float64{-1, 1})
		for range rapid.IntRange(1, 8).Draw(t, "joints") {
			i, j := rapid.IntRange(0, n-1).Draw(t, "i"), rapid.IntRange(0, n-1).Draw(t, "j")
			s.Joints = append(s.Joints, meeting(i, j, signs.Draw(t, "ki"), signs.Draw(t, "kj"), geom.Bearing(x("normal", 4)).Unit(),
				rapid.Float64Range(0.1, 4).Draw(t, "weight")))
		}
		centre := rapid.Bool().Draw(t, "centre")
		a, err := s.Advise(centre)
		if err != nil {
			t.Fatal(err)
		}
		sum := func(aims []part.Aim) float64 {
			with := s
			with.Settings = append([]part.Setting(nil), s.Settings...)
			for _, aim := range aims {
				with.Settings[aim.Setting].Radius, with.Settings[aim.Setting].Centre = aim.Radius, aim.Centre
			}
			steps, _, _ := with.Steps()
			total := 0.0
			for i, f := range steps {
				total += s.Joints[i].Weight * f.Value * f.Value
			}
			return total
		}
		if best := sum(a.Aims); math.Abs(best-a.SumAfter) > 1e-12 || a.SumAfter > a.SumBefore+1e-12 {
			t.Fatalf("sum %v, told %v, before %v", best, a.SumAfter, a.SumBefore)
		}
		rng := rand.New(rand.NewPCG(1, 2))
		for k := range 300 {
			shrink := math.Pow(10, -float64(k%6)) // from all over the box to close by
			var other []part.Aim
			for _, aim := range a.Aims {
				b := s.Settings[aim.Setting]
				step := func(at, bound float64) float64 {
					return max(-bound, min(bound, at+shrink*bound*2*(2*rng.Float64()-1)))
				}
				if math.Abs(aim.Radius) > b.Tolerance || math.Abs(aim.Centre.Norm()) > b.CentreTolerance+1e-15 {
					t.Fatalf("aim %+v beyond its tolerance, %v and %v", aim, b.Tolerance, b.CentreTolerance)
				}
				aim.Radius = step(aim.Radius, b.Tolerance)
				if centre {
					aim.Centre = at(step(aim.Centre.X, b.CentreTolerance/math.Sqrt2), step(aim.Centre.Y, b.CentreTolerance/math.Sqrt2))
				}
				other = append(other, aim)
			}
			// The trace that makes equal aims small costs no more than its share.
			if better := sum(other); better < a.SumAfter-1e-8*a.SumBefore-1e-11 {
				t.Fatalf("aims %+v have sum %v, advice %+v has %v", other, better, a.Aims, a.SumAfter)
			}
		}
	})
}

// An axis that leans, 0.02/100 at the most over a height of 50, puts every setting's centre aside alike and every swing radius by as
// much: 0.01/√3 each. Where two arcs meet the centres' part cancels and the radii's counts as their sides differ; where an arc meets a
// straight both are there, along the normal and in the radius.
func TestLeanIsOneForAllSettings(t *testing.T) {
	p := made(t, link(), part.Options{Cutters: []float64{8}})
	believed := func(tilt float64) part.Believed {
		var all []part.Made
		for a := range p.Swings() {
			var at []geom.Bearing
			for i := range 8 {
				at = append(at, geom.Bearing(float64(i))*45*deg)
			}
			s := indicator.Setup{ReferenceRadius: 30, Reach: -12, ReachKnown: true, TiltLimit: tilt, SweepHeight: 50}
			f, err := indicator.Fit(indicator.Dial{Repeatability: 0.002}, s, at, make([]float64, len(at)))
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, part.Made{N: a.N, Job: setup.Job{Setup: s, Target: setup.Target{SwingRadius: a.Swing, Tolerance: 0.02}},
				Found: &f,
				Swing: indicator.Value{V: a.Swing, U: f.Swing().U}})
		}
		return part.Believe(p, all, part.Doubts{Tolerance: 0.02, CentreTolerance: 0.02, Measured: 0.005})
	}
	plain, leaning := believed(0), believed(0.0002)
	one, _, err := plain.Steps()
	if err != nil {
		t.Fatal(err)
	}
	other, _, err := leaning.Steps()
	if err != nil {
		t.Fatal(err)
	}
	const lean = 0.0002 * 50 / 1.7320508
	kinds := map[bool]int{}
	for i, j := range leaning.Joints {
		radii, centres := 0.0, 0.0
		for k, c := range j.Cuts {
			if c.Setting >= 0 {
				radii, centres = radii+float64(1-2*k)*c.Kappa, centres+float64(1-2*k)
			}
		}
		kinds[centres == 0]++
		near(t, "what the lean adds to the square of a step", other[i].U*other[i].U-one[i].U*one[i].U,
			lean*lean*(radii*radii+centres*centres), 1e-9)
	}
	if kinds[false] == 0 {
		t.Errorf("%v, want arcs that meet straights", kinds)
	}
}
