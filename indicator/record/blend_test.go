package record_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// rimPlan is the rim of the quadrant plate, cut with a cutter of 6: arcs 1, 3, 4, 5, 7 and 8, and straights 2
// and 6. Arcs 3, 4, 5 and 8 have their metal inside, 1 and 7 outside.
func rimPlan(t *testing.T) *part.Plan {
	t.Helper()
	text, err := os.ReadFile("../../testdata/drawing/quadrant-plate.toml")
	if err != nil {
		t.Fatal(err)
	}
	out, err := drawing.ReadTOML(text, drawing.Options{Layers: []string{"rim"}})
	if err != nil {
		t.Fatal(err)
	}
	p, err := part.Make(part.Drawn(&out), part.Options{Cutters: []float64{6}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// truth is what a setting of an arc really is: its swing radius beside its figure, and its centre error.
type truth struct {
	n         int
	beside    float64
	e         geom.Point
	reach     float64 // by its limit of error
	reference float64
	repeats   float64
}

// accepted is an accepted setting of arc n, as its session left it.
type accepted struct {
	n     int
	state session.State
}

// of puts settings into the values that a belief is made of.
func of(all []accepted) (made []part.Made) {
	for i := range all {
		made = append(made, record.MadeOf(all[i].n, &all[i].state))
	}
	return made
}

// written are settings that one journal holds.
func written(all ...accepted) (made []record.Made) {
	for _, m := range of(all) {
		made = append(made, record.Made{Made: m, Journal: "j.jsonl"})
	}
	return made
}

// setting is an accepted setting of an arc, swept in a ring of radius 30 from six stations. Its readings
// come from where the ray from the axis meets the ring.
func setting(t *testing.T, p *part.Plan, is truth, worked ...session.Worked) accepted {
	t.Helper()
	a, err := part.Pick(p, is.n, "plate")
	if err != nil {
		t.Fatal(err)
	}
	reach := 30 - a.Swing
	set := session.Opened{Arc: a, Steps: true, Job: setup.Job{
		Setup: indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 30, Reach: reach, ReachKnown: true, ReachLimit: is.reach,
			ReferenceLimit: is.reference},
		Dial:   indicator.Dial{Graduation: 0.01, ReadsTo: 0.2, Repeatability: is.repeats},
		Target: setup.Target{SwingRadius: a.Swing, Tolerance: 0.02, CentreTolerance: 0.02},
		Cut:    &setup.Cut{Hollow: a.Side == "outside", Cutter: a.Cutter},
	}}
	s := session.State{}.Apply(set)
	for k := range 6 {
		b := geom.FromDegrees(float64(60 * k))
		along, across := is.e.Dot(b.Unit()), is.e.Cross(b.Unit())
		meets := along + math.Sqrt(30*30-across*across)
		s = s.Apply(session.Took{Bearing: b, Reading: a.Swing + is.beside + reach - meets})
	}
	s = s.Apply(session.Swept{Why: session.ByVerdict}).Apply(session.Settled{}).Apply(session.Accepted{})
	for _, w := range worked {
		s = s.Apply(w)
	}
	return accepted{is.n, s}
}

// crossing is where a circle crosses the normal through a blend, + out of the metal: halved from 0.5 mm to
// either side.
func crossing(at, normal, centre geom.Point, radius float64) float64 {
	beyond := func(x float64) bool { return at.Add(normal.Times(x)).Sub(centre).Norm() > radius }
	low, high := -0.5, 0.5
	for range 60 {
		if mid := (low + high) / 2; beyond(mid) == beyond(low) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

var shopDoubts = part.Doubts{Tolerance: 0.02, CentreTolerance: 0.02, Cutter: 0.01, Measured: 0.005}

// Every arc of the rim is set somewhat beside its figure, and what its readings say is believed. The arcs as they
// really come, about their real axes with the real cutter, cross the normals at the blends where the steps say,
// but for (e·v)²/2r of either: e up to 0.05 on a radius of 16, 0.08 µm each.
func TestBelievedStepsAreReal(t *testing.T) {
	p := rimPlan(t)
	rng := rand.New(rand.NewPCG(3, 5))
	for range 20 {
		var made []accepted
		is := map[int]truth{}
		for _, a := range p.Arcs {
			x := func(most float64) float64 { return most * (2*rng.Float64() - 1) }
			is[a.N] = truth{n: a.N, beside: x(0.1), e: geom.Point{X: x(0.035), Y: x(0.035)}, repeats: 0.003}
			made = append(made, setting(t, p, is[a.N]))
		}
		b := part.Believe(p, of(made), shopDoubts)
		steps, _, err := b.Steps()
		if err != nil || len(steps) != 8 {
			t.Fatalf("%d steps, %v, want 8", len(steps), err)
		}
		for k, i := range b.Where {
			bl := p.Blends[i]
			off := [2]float64{}
			for side, n := range bl.Between {
				for _, a := range p.Arcs {
					if a.N != n {
						continue
					}
					radius := a.Swing + is[n].beside - 3 // metal inside: the cutter runs outside it
					if a.Side == part.Outside {
						radius = a.Swing + is[n].beside + 3
					}
					off[side] = crossing(bl.At, bl.Normal, a.Centre.Sub(is[n].e), radius)
				}
			}
			if want := off[0] - off[1]; math.Abs(steps[k].Value-want) > 2e-4 {
				t.Errorf("blend %v: step %.6f, the real arcs make %.6f", bl.Between, steps[k].Value, want)
			}
		}
	}
}

// stepOf is what is foretold of the blend between two elements.
func stepOf(t *testing.T, p *part.Plan, made []accepted, first, second int) part.Foretold {
	t.Helper()
	b := part.Believe(p, of(made), part.Doubts{Tolerance: 0.02, CentreTolerance: 0.02})
	steps, _, err := b.Steps()
	if err != nil {
		t.Fatal(err)
	}
	for k, i := range b.Where {
		if p.Blends[i].Between == [2]int{first, second} {
			return steps[k]
		}
	}
	t.Fatalf("no step from %d to %d", first, second)
	return part.Foretold{}
}

// Of the rim, 3 → 4 is convex to convex and 8 → 1 convex to concave, all with the cutter of 6. By hand: the
// reach's error is common to two settings only where both have one reach, so the reference's is looked at, a
// limit of 0.03/√3 = 0.01732: it cancels on one side of the metal, and across the S it doubles, as does the
// own part by root of two.
func TestBelievedSourcesCancelAndDouble(t *testing.T) {
	p := rimPlan(t)
	const u = 0.03 / 1.7320508075688772
	both := func(first, second int, reference, reach float64) float64 {
		return stepOf(t, p, []accepted{
			setting(t, p, truth{n: first, reference: reference, reach: reach, repeats: 0.003}),
			setting(t, p, truth{n: second, reference: reference, reach: reach, repeats: 0.003}),
		}, first, second).U
	}
	alone34, alone81 := both(3, 4, 0, 0), both(8, 1, 0, 0)
	if got := both(3, 4, 0.03, 0); math.Abs(got-alone34) > 1e-12 {
		t.Errorf("3 to 4: u %.6f with the reference's error, %.6f without: it does not cancel", got, alone34)
	}
	if got, want := both(8, 1, 0.03, 0), math.Hypot(alone81, 2*u); math.Abs(got-want) > 1e-12 {
		t.Errorf("8 to 1: u %.6f with the reference's error, want %.6f: twice it", got, want)
	}
	// Reaches of 30 − 19 = 11 and 30 − 55 = −25 are two settings of the indicator, with an error each.
	if got, want := both(3, 4, 0, 0.03), math.Hypot(alone34, math.Sqrt2*u); math.Abs(got-want) > 1e-12 {
		t.Errorf("3 to 4: u %.6f with two reaches' errors, want %.6f", got, want)
	}
}

// One machine leans one way: between two arcs it cancels, in their radii on one side of the metal and in their centres
// everywhere; across an S it doubles in the radii. By hand: 0.0005 over 10 makes 0.005/√3.
func TestBelievedLean(t *testing.T) {
	p := rimPlan(t)
	step := func(first, second int, limit float64) part.Foretold {
		t.Helper()
		made := []accepted{setting(t, p, truth{n: first, repeats: 0.003}), setting(t, p, truth{n: second, repeats: 0.003})}
		for i := range made {
			u := &made[i].state.Set.Job.Setup
			u.TiltLimit, u.SweepHeight = limit, 10
		}
		return stepOf(t, p, made, first, second)
	}
	if level, leans := step(3, 4, 0), step(3, 4, 0.0005); math.Abs(leans.U-level.U) > 1e-12 {
		t.Errorf("3 to 4: u %.6f leaning, %.6f level: it does not cancel", leans.U, level.U)
	}
	if level, leans := step(8, 1, 0), step(8, 1, 0.0005); math.Abs(leans.U-math.Hypot(level.U, 0.01/math.Sqrt(3))) > 1e-12 {
		t.Errorf("8 to 1: u %.6f leaning, %.6f level: it does not double", leans.U, level.U)
	}
}

// By hand: arc 3 (metal inside, radius 16) is swung 0.006 short of its figure, and arc 4 (the rim) 0.008 beyond:
// the rim stands prouder by 0.014. Checked at 16.010 instead, arc 3 stands 0.010 proud, whatever its sweep and
// its cutter say: the rim is lower by 0.002, and the measuring's doubt of 0.005 takes the place of the sweep's.
func TestWhoStandsProuder(t *testing.T) {
	p := rimPlan(t)
	rim := setting(t, p, truth{n: 4, beside: 0.008, repeats: 0.003})
	for _, c := range []struct {
		worked  []session.Worked
		step    float64
		prouder int
		state   part.Standing
	}{
		{nil, -0.014, 4, part.IsSet},
		{skipTo(session.Cut), -0.014, 4, part.IsCut},
		{append(skipTo(session.Cut), answered(session.CheckArc, 16.010)), 0.002, 3, part.Checked},
		{append(skipTo(session.Cut), answered(session.CheckArc, 16.030)), 0.022, 3, part.Out},
	} {
		corner := setting(t, p, truth{n: 3, beside: -0.006, repeats: 0.003}, c.worked...)
		x, err := record.NewBlends(record.Planned{Name: "plate", Part: p}, written(corner, rim), shopDoubts, geom.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range x.Blends {
			if b.Between != [2]int{3, 4} {
				continue
			}
			if math.Abs(float64(b.Step.Value)-c.step) > 1e-6 || b.Prouder == nil || *b.Prouder != c.prouder {
				t.Errorf("%s: step %v, want %v with %d proud", c.state, *b.Step, c.step, c.prouder)
			}
		}
		if got := x.Arcs[1]; got.N != 3 || got.State != c.state {
			t.Errorf("arc %d is %s, want arc 3 %s", got.N, got.State, c.state)
		}
	}
}

// The chores behind an accepted setting, all left out but the last.
func skipTo(c session.Chore) []session.Worked {
	var all []session.Worked
	for _, w := range []session.Chore{session.Isolate, session.IndicatorOut, session.CutterIn, session.FreeSpindle, session.DrySwing} {
		all = append(all, session.Worked{Step: w, Skipped: true})
	}
	return append(all, session.Worked{Step: c})
}

func answered(c session.Chore, v float64) session.Worked { return session.Worked{Step: c, Value: &v} }

// A swing radius that a slide has set off the table's axis: the axis lies 0.004 to the right of the spindle, which
// goes 19.008 to the right, by a readout of 0.01, told and not read back. So the slide's own doubt is a step by
// √12 and by √3, 0.0064550, beside the sweep's of where the axis is. The centre of the work on the table nobody
// has swept: the tolerance's 0.02/2 stands for it along any line.
func TestSetOffTheAxis(t *testing.T) {
	p := rimPlan(t)
	m := setting(t, p, truth{n: 3, e: geom.Point{X: 0.004}, repeats: 0.003})
	set := *m.state.Set
	set.Steps, set.Job.Setup.ReachKnown = false, false
	set.Job.Target.SetOff = &setup.SetOff{Slide: "x", Way: slide.Increase}
	set.Machine.Slides = []slide.Slide{{Name: "x", Readout: true, Step: 0.01}}
	s := session.State{}.Apply(set)
	for k := range 6 {
		s = s.Apply(session.Took{Bearing: geom.FromDegrees(float64(60 * k)), Reading: -0.004 * math.Cos(float64(k)*math.Pi/3)})
	}
	s = s.Apply(session.Swept{Why: session.ByVerdict}).Apply(session.Told{Step: 1, Of: 1, Wind: slide.Wind{Slide: "x", Travel: 19.008},
		SetOff: true, Open: true}).
		Apply(session.Wound{Slide: "x"}).Apply(session.Settled{}).Apply(session.Accepted{})
	m.state = s
	b := part.Believe(p, of([]accepted{m}), shopDoubts)
	got := b.Settings[b.At[3]]
	f, _ := s.Fit()
	v, ok := s.Swing(&f)
	if !ok || math.Abs(got.Radius-0.004) > 1e-9 || got.Centre != (geom.Point{}) {
		t.Fatalf("%v %v: beside by %v, centre %v, want 0.004 and none", v, ok, got.Radius, got.Centre)
	}
	if u := math.Sqrt(got.Cov[0][0]); math.Abs(1.959964*u-v.U) > 1e-6 || u < 0.0064550 || got.Cov[0][1] != 0 {
		t.Errorf("u of the radius %v, want %v, more than 0.00646 of the slide", u, v.U/1.959964)
	}
	if math.Abs(got.Cov[1][1]-0.0001) > 1e-12 || len(b.Held) != 1 {
		t.Errorf("centre's variance %v, told %q, want 0.0001 and that it is not swept", got.Cov[1][1], b.Held)
	}
}

// How an arc comes to its radius behind the sweep, by hand: swung at 42 with a cutter of 8, metal inside, so 38 is
// meant, and 0.3 is left on. The last wind goes from what was measured to 38.
func TestFinish(t *testing.T) {
	skip := func(c session.Chore) session.Worked { return session.Worked{Step: c, Skipped: true} }
	done := func(c session.Chore) session.Worked { return session.Worked{Step: c} }
	leave, wind, cut := done(session.LeaveStock), done(session.LastWind), done(session.Cut)
	for _, c := range []struct {
		name   string
		worked []session.Worked
		want   part.Finish
	}{
		{"nothing yet", nil, part.Finish{}},
		{"stock left on, the rest to come", []session.Worked{leave}, part.Finish{}},
		{"wound back by the stock, not measured", []session.Worked{leave, skip(session.Measure), wind, cut}, part.Finish{}},
		{"cut with the stock on", []session.Worked{leave, skip(session.Measure), skip(session.LastWind), cut}, part.Finish{Stock: 0.3}},
		{"measured and wound in", []session.Worked{leave, answered(session.Measure, 38.32), wind, cut},
			part.Finish{Measured: true, Radius: 38}},
		{"measured, wind to come", []session.Worked{leave, answered(session.Measure, 38.32)}, part.Finish{Measured: true, Radius: 38}},
		{"measured, not wound in", []session.Worked{leave, answered(session.Measure, 38.32), skip(session.LastWind), cut},
			part.Finish{Measured: true, Radius: 38.32}},
		{"checked", []session.Worked{leave, answered(session.Measure, 38.32), wind, cut, answered(session.CheckArc, 38.01)},
			part.Finish{Measured: true, Radius: 38.01}},
	} {
		s := session.State{Set: &session.Opened{Job: setup.Job{Target: setup.Target{SwingRadius: 42},
			Cut: &setup.Cut{Cutter: 8, Stock: 0.3}}}}
		s.Worked = c.worked
		if got := record.MadeOf(1, &s).Finish; got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// Set 0.018 smaller by what checked arcs have taught: the arc is then believed to come out as meant, give or take
// what they left open, 0.009/√3, and neither reach nor cutter enters once more. By a figure of one's own it is
// believed smaller by as much. Arc 3 has its metal inside, and what it meets, straight 2, is cut with the same
// cutter.
func TestBiased(t *testing.T) {
	p := rimPlan(t)
	for _, c := range []struct{ limit, radius, more float64 }{{0, -0.018, 0}, {0.009, 0, 0.009 * 0.009 / 3}} {
		m := setting(t, p, truth{n: 3, beside: -0.018, reach: 0.03, repeats: 0.003})
		plain := part.Believe(p, of([]accepted{m}), shopDoubts)
		m.state.Bias = session.Biased{By: -0.018, Limit: c.limit}
		b := part.Believe(p, of([]accepted{m}), shopDoubts)
		got, was := b.Settings[b.At[3]], plain.Settings[plain.At[3]]
		if math.Abs(got.Radius-c.radius) > 1e-9 || math.Abs(got.Cov[0][0]-was.Cov[0][0]-c.more) > 1e-12 {
			t.Errorf("limit %v: beside by %v, variance %v more, want %v and %v", c.limit, got.Radius, got.Cov[0][0]-was.Cov[0][0], c.radius,
				c.more)
		}
		want := len(plain.Sources)
		if c.limit > 0 {
			want-- // the reach
		}
		if len(b.Sources) != want {
			t.Errorf("limit %v: %d sources, want %d", c.limit, len(b.Sources), want)
		}
	}
}
