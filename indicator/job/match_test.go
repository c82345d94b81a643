package job_test

import (
	"math"
	"reflect"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// slides describes a machine with the slides named.
func slides(t *testing.T, names ...string) setup.Machine {
	t.Helper()
	var m setup.Machine
	for _, name := range names {
		m.Slides = append(m.Slides, slide.Slide{Name: name, TravelPerTurn: 2, Divisions: 100})
	}
	return m
}

// A job is wound with the slides it needs, cross slides first.
func TestMatch(t *testing.T) {
	j := mustJob(t, shownJob)
	if got, want := j.Needs(), []string{"x", "y", "offset"}; !reflect.DeepEqual(got, want) {
		t.Errorf("the documented job winds %v, want %v", got, want)
	}
	shown := mustMachine(t, shownMachine)
	check(t, "documented machine", job.Match(&j, &shown, "mill.toml"), "mill.toml: slide.x: missing, needed to wind this job",
		"describe it under [slide.x]")
	for _, c := range []struct {
		have []string
		miss string
	}{
		{[]string{"x", "offset"}, "y"},
		{[]string{"x", "y"}, "offset"},
		{[]string{"table_x", "table_y", "offset"}, "x"},
	} {
		m := slides(t, c.have...)
		check(t, "without "+c.miss, job.Match(&j, &m, "mill.toml"), "mill.toml: slide."+c.miss+": missing, needed to wind this job",
			"describe it under [slide."+c.miss+"]")
	}
	m := slides(t, "offset", "y", "x", "table_x")
	if err := job.Match(&j, &m, "mill.toml"); err != nil {
		t.Errorf("a machine with more than is needed: %v", err)
	}

	// Bringing the centre in only leaves the offset slide alone.
	j.Target = setup.Target{CentreTolerance: 0.02}
	m = slides(t, "x", "y")
	if err := job.Match(&j, &m, "mill.toml"); err != nil {
		t.Errorf("centre only, without an offset slide: %v", err)
	}
	// On a turned table it is the table's own slides that are wound.
	j.Setup.Kind, j.Target.SwingRadius = indicator.Turned, 42
	if got, want := j.Needs(), []string{"table_x", "table_y", "offset"}; !reflect.DeepEqual(got, want) {
		t.Errorf("on a turned table the job winds %v, want %v", got, want)
	}
}

// Stations stand evenly; a whole round has no second station at its end, an arc has one at each.
func TestStations(t *testing.T) {
	for _, c := range []struct {
		name     string
		sweep    setup.Sweep
		full     bool
		at, next []float64 // degrees: the stations, and the places between them
	}{
		{"whole round", setup.Sweep{Stations: 4, From: 0, To: 2 * math.Pi}, true, []float64{0, 90, 180, 270},
			[]float64{45, 135, 225, 315, 45}},
		{"whole round from 30°", setup.Sweep{Stations: 6, From: 30 * geom.Degree, To: 390 * geom.Degree}, true,
			[]float64{30, 90, 150, 210, 270, 330}, []float64{60, 120, 180, 240, 300, 360, 60}},
		{"quarter", setup.Sweep{Stations: 4, From: 0, To: 90 * geom.Degree}, false, []float64{0, 30, 60, 90}, []float64{15, 45, 75, 15}},
		{"across zero", setup.Sweep{Stations: 3, From: -60 * geom.Degree, To: 60 * geom.Degree}, false, []float64{-60, 0, 60},
			[]float64{-30, 30, -30}},
		{"just short of a round", setup.Sweep{Stations: 3, From: 0, To: 359 * geom.Degree}, false, []float64{0, 179.5, 359},
			[]float64{89.75, 269.25, 89.75}},
	} {
		if c.sweep.Full() != c.full {
			t.Errorf("%s: Full() = %v, want %v", c.name, c.sweep.Full(), c.full)
		}
		for i, want := range c.at {
			if got := c.sweep.Bearing(i).Degrees(); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: station %d stands at %v°, want %v°", c.name, i, got, want)
			}
		}
		for i, want := range c.next {
			if got := c.sweep.Between(i).Degrees(); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s: further station %d stands at %v°, want %v°", c.name, i, got, want)
			}
		}
	}
}

// A target is judged on the swing radius, or on the surface's own where that is what is measured,
// and on the centre where a tolerance is asked for. With an uncertainty of next to nothing every
// verdict is clear: the ring is 0.03 out of centre, the swing radius 42.01.
func TestTargetJudge(t *testing.T) {
	sure := func(s indicator.Setup, level float64) *indicator.Estimate {
		sought := fit.ZeroDistance
		if s.ZeroRadius > 0 {
			sought = fit.SurfaceRadius
		}
		return &indicator.Estimate{Setup: s, Sigma: 1e-9, Dof: 8, Circle: fit.Radial{Model: fit.Model{Sought: sought}, Level: level,
			Centre: geom.Point{X: 0.03}, Cofactor: fit.Sym3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}}
	}
	swing := sure(indicator.Setup{Reach: -12, ReachKnown: true}, 30.01)
	surface := sure(indicator.Setup{ZeroRadius: 40}, 42.01)
	for _, c := range []struct {
		name   string
		target setup.Target
		found  *indicator.Estimate
		want   indicator.Verdicts
	}{
		{"both inside", setup.Target{SwingRadius: 42, Tolerance: 0.02, CentreTolerance: 0.04}, swing,
			indicator.Verdicts{Radius: indicator.Inside, Centre: indicator.Inside}},
		{"radius too large", setup.Target{SwingRadius: 42, Tolerance: 0.009, CentreTolerance: 0.04}, swing,
			indicator.Verdicts{Radius: indicator.Outside, Centre: indicator.Inside}},
		{"radius too small", setup.Target{SwingRadius: 42.02, Tolerance: 0.009, CentreTolerance: 0.04}, swing,
			indicator.Verdicts{Radius: indicator.Outside, Centre: indicator.Inside}},
		{"centre out", setup.Target{SwingRadius: 42, Tolerance: 0.02, CentreTolerance: 0.029}, swing,
			indicator.Verdicts{Radius: indicator.Inside, Centre: indicator.Outside}},
		{"centre only", setup.Target{CentreTolerance: 0.04}, swing, indicator.Verdicts{Radius: indicator.NoVerdict,
			Centre: indicator.Inside}},
		{"surface's own radius", setup.Target{SwingRadius: 42, Tolerance: 0.02, CentreTolerance: 0.04}, surface,
			indicator.Verdicts{Radius: indicator.Inside, Centre: indicator.Inside}},
		{"no centre asked for", setup.Target{SwingRadius: 42, Tolerance: 0.02}, surface, indicator.Verdicts{Radius: indicator.Inside,
			Centre: indicator.NoVerdict}},
		{"reach not known", setup.Target{SwingRadius: 42, Tolerance: 0.02}, sure(indicator.Setup{}, 30.01), indicator.Verdicts{}},
	} {
		got := c.target.Judge(c.found, indicator.FixedTail)
		if got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		for _, v := range []indicator.Verdict{indicator.NoVerdict, indicator.Inside, indicator.Outside, indicator.Undecided} {
			if got.Has(v) != (c.want.Radius == v || c.want.Centre == v) {
				t.Errorf("%s: Has(%v) = %v", c.name, v, got.Has(v))
			}
		}
	}
}
