package setup_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// eclipsed are the rows that can never be had: a row before them takes even their own example.
func eclipsed(rows []*setup.SetUp) (out []*setup.SetUp) {
	was := setup.All
	defer func() { setup.All = was }()
	setup.All = rows
	for _, u := range rows {
		if setup.Of(&u.Example) != u {
			out = append(out, u)
		}
	}
	return out
}

// Each row has its own example; one that stands behind a more general one is found out, whichever of the two is new.
func TestEveryRowHasItsExample(t *testing.T) {
	for _, u := range eclipsed(setup.All) {
		t.Errorf("row %s: another row before it takes its example: put the special one first", u.Name)
	}
	sixth := &setup.SetUp{Words: setup.Words{Name: "sixth"}, Example: setup.Job{Target: setup.Target{Tolerance: 0.0199}},
		Is: func(j *setup.Job) bool { return j.Target.Tolerance == 0.0199 }}
	if got := eclipsed(slices.Concat([]*setup.SetUp{sixth}, setup.All)); len(got) != 0 {
		t.Errorf("a special row in front takes the example of %s", got[0].Name)
	}
	if got := eclipsed(slices.Concat(setup.All, []*setup.SetUp{sixth})); len(got) != 1 || got[0] != sixth {
		t.Errorf("a special row behind the general ones: %d rows are found out, want that one", len(got))
	}
	all := &setup.SetUp{Words: setup.Words{Name: "all"}, Is: func(*setup.Job) bool { return true }}
	if got := eclipsed(slices.Concat([]*setup.SetUp{all}, setup.All)); !slices.Equal(got, setup.All) {
		t.Errorf("behind a row that takes every job %d rows are found out, want all %d", len(got), len(setup.All))
	}
}

// Whatever a file can say of a set-up is one of the table.
func TestEveryJobHasASetUp(t *testing.T) {
	for _, kind := range []indicator.Kind{indicator.Carried, indicator.Turned, indicator.Points} {
		for _, taps := range []bool{false, true} {
			for _, off := range []*setup.SetOff{nil, {Slide: "x", Way: slide.Increase}} {
				j := setup.Job{Setup: indicator.Setup{Kind: kind, Taps: taps}, Target: setup.Target{SetOff: off, SwingRadius: 42}}
				if !slices.ContainsFunc(setup.All, func(u *setup.SetUp) bool { return u.Is(&j) }) {
					t.Errorf("%v, taps %v, set off %v: no set-up", kind, taps, off != nil)
				}
				if got := setup.Of(&j).Name; got != kind.String() {
					t.Errorf("%v, taps %v, set off %v: set-up %s", kind, taps, off != nil, got)
				}
			}
		}
	}
}

// What each set-up winds, in its order: by the words of the machine's file, the cross slides before the offset slide.
func TestNeeds(t *testing.T) {
	swings := setup.Target{SwingRadius: 42}
	for _, c := range []struct {
		name string
		job  setup.Job
		want []string
	}{
		{"carried", setup.Job{Target: swings}, []string{"x", "y", "offset"}},
		{"carried, centre only", setup.Job{}, []string{"x", "y"}},
		{"turned", setup.Job{Setup: indicator.Setup{Kind: indicator.Turned}, Target: swings}, []string{"table_x", "table_y", "offset"}},
		{"taps", setup.Job{Setup: indicator.Setup{Kind: indicator.Turned, Taps: true}, Target: swings}, []string{"offset"}},
		{"taps, centre only", setup.Job{Setup: indicator.Setup{Kind: indicator.Turned, Taps: true}}, nil},
		{"set off", setup.Job{Target: setup.Target{SwingRadius: 42, SetOff: &setup.SetOff{Slide: "y"}}}, []string{"x", "y"}},
		{"points", setup.Job{Setup: indicator.Setup{Kind: indicator.Points}}, []string{"x", "y"}},
	} {
		got := c.job.Needs()
		if len(got) != len(c.want) {
			t.Errorf("%s winds %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s winds %v, want %v", c.name, got, c.want)
			}
		}
	}
}

// A spindle that stands 0.3 and 0.4 off the axis is carried off by X until it stands 42 from it: by Pythagoras its coordinate
// goes by 0.3 + √(42² − 0.4²). What stands then is 42, with the doubt of sweep and slide.
func TestCarriedOffByPythagoras(t *testing.T) {
	j := setup.Job{Target: setup.Target{SwingRadius: 42, Tolerance: 0.02, CentreTolerance: 1}}
	j.Target.SetOff = &setup.SetOff{Slide: "x", Way: slide.Increase}
	m := setup.Machine{Slides: []slide.Slide{
		{Name: "x", TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase, Figures: slide.Clockwise,
			Readout: true},
		{Name: "y", TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase, Figures: slide.Clockwise},
	}}
	f := indicator.Estimate{Sigma: 0.002, Dof: 10}
	f.Circle.Centre.X, f.Circle.Centre.Y = 0.3, 0.4
	f.Circle.Cofactor[1][1], f.Circle.Cofactor[2][2] = 1.0/3, 1.0/3
	b := setup.Bench{Job: &j, Machine: &m, Target: j.Target, Stands: []setup.Stand{{Known: true, At: 10}, {}}, Tail: indicator.FixedTail}
	u := setup.Of(&j)
	n := u.Next(&b, &f)
	want := 0.3 + math.Sqrt(42*42-0.4*0.4)
	if n.Wind == nil || !n.Wind.SetOff || math.Abs(n.Wind.Wind.Travel-want) > 1e-9 || !u.GoesTo(&b, n.Wind) {
		t.Fatalf("%+v, want x sent off by %v", n, want)
	}
	at := 10 + want
	off, apart := u.Wound(&b, n.Wind, &at)
	b.Off = off
	r, ok := u.Swing(&b, &f)
	if !apart || !ok || math.Abs(r.V-42) > 1e-9 || !(r.U > 0) || math.Abs(r.U-math.Hypot(r.Axis, r.Travel)) > 1e-12 {
		t.Errorf("swing %+v (%v), want 42", r, ok)
	}
	if v := u.Verdicts(&b, &f); v.Radius != indicator.Inside {
		t.Errorf("radius %v, want inside", v.Radius)
	}
	home, some := u.Back(&b)
	if !some || !home.Back || math.Abs(home.Wind.Travel+want) > 1e-9 {
		t.Errorf("back by %+v (%v), want %v", home.Wind, some, -want)
	}
	if off, apart := u.Wound(&b, &home, nil); !apart || off != (setup.Offs{}) {
		t.Errorf("home, and still off by %+v", off)
	}
}
