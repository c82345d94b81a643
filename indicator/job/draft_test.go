package job_test

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// plate is the plan of the quadrant plate: 4 is its rim of radius 52 about the pivot, 1 the bore of radius 6.
func plate(t testing.TB, cutters ...float64) *part.Plan {
	t.Helper()
	return testdata.Plate(t, part.Options{Cutters: cutters, Datum: geom.Point{X: -52, Y: 8}})
}

func draft(t testing.TB, text string) *job.Draft {
	t.Helper()
	d, err := job.ReadJob("job.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A job for the rim: all that the file says but for the figures of the arc.
func TestJobForArc(t *testing.T) {
	a, err := part.Pick(plate(t, 6), 4, "plate")
	if err != nil {
		t.Fatal(err)
	}
	want := part.Picked{Part: "plate", N: 4, Radius: 52, Side: "inside", Cutter: 6, Swing: 55, Readout: geom.Point{X: 52, Y: -8},
		Sense: "anticlockwise", LetPass: 0.002}
	want.Centre, want.From, want.To = a.Centre, a.From, a.To
	want.AtFrom, want.AtTo = a.AtFrom, a.AtTo
	if a.AtFrom == nil || a.AtTo == nil || !(a.AtFrom.Short > 0 && a.AtTo.Short > 0) {
		t.Errorf("the rim's tangent ends have no windows: %v, %v", a.AtFrom, a.AtTo)
	}
	if len(a.Circles) > 0 || a.Lone { // the pivot's bore is its own, and no other circle is drawn
		t.Errorf("%+v may be swept instead, lone %v, want none", a.Circles, a.Lone)
	}
	if !reflect.DeepEqual(*a, want) || a.Centre.Norm() > 1e-9 || math.Abs(float64(a.From+a.To)-9*math.Pi/2) > 1e-9 {
		t.Errorf("the rim is %+v, want %+v, about 45° on either side", *a, want)
	}
	// The reach that brings the dial to zero at 55 inside the ring of 30.
	text := edit(t, shownJob, "reach = -12.0", "reach = -25.0")
	d := draft(t, text)
	got, err := d.For(a.Figures())
	if err != nil {
		t.Fatal(err)
	}
	same := mustJob(t, shownJob)
	same.Setup.Reach = -25
	same.Target.SwingRadius = 55
	same.Cut = &setup.Cut{Cutter: 6}
	if !reflect.DeepEqual(got, same) {
		t.Errorf("the job is\n%+v, want\n%+v", got, same)
	}
	// Asked again for another arc, and with stock left on.
	bore, err := part.Pick(plate(t, 6), 1, "plate")
	if err != nil {
		t.Fatal(err)
	}
	text = edit(t, text, "reach = -25.0", "reach = 27.0") + "[cut]\nmetal = \"inside\"\ncutter = 99\nstock = 0.3\n"
	for range 2 {
		got, err = draft(t, text).For(bore.Figures())
		if err != nil || got.Target.SwingRadius != 3 || *got.Cut != (setup.Cut{Hollow: true, Cutter: 6, Stock: 0.3}) {
			t.Errorf("the job for the bore: %+v, %+v, %v", got.Target, got.Cut, err)
		}
	}
}

// In inches the arc's figures stay what they are, to the last bit.
func TestJobForArcInches(t *testing.T) {
	text := edit(t, shownJob, `unit = "mm"`, `unit = "in"`)
	text = edit(t, text, "reach = -12.0", "reach = 27.0")
	astray := 0 // figures that do not come back from inches as they went
	for i := range 60 {
		cutter := 6 + float64(i)/1000
		a, err := part.Pick(plate(t, cutter), 4, "plate")
		if err != nil {
			t.Fatal(err)
		}
		text := edit(t, text, "reach = 27.0", "reach = "+geom.FormatFixed(30-geom.Inch.From(a.Swing), 3))
		got, err := draft(t, text).For(a.Figures())
		if err != nil || got.Target.SwingRadius != a.Swing || got.Cut.Cutter != cutter {
			t.Errorf("cutter %v: %+v, %+v, %v, want a swing radius of %v", cutter, got.Target, got.Cut, err, a.Swing)
		}
		if geom.Inch.MM(geom.Inch.From(a.Swing)) != a.Swing || geom.Inch.MM(geom.Inch.From(cutter)) != cutter {
			astray++
		}
	}
	if astray == 0 {
		t.Error("every figure comes back from inches as it went, so this test sees nothing")
	}
}

// What cannot be set is refused, with what to do.
func TestNoJobForArc(t *testing.T) {
	p := plate(t, 10)
	for n, want := range map[int]string{
		0:  "arc 0: the drawing has no such arc, need one of 1, 3, 4, 5, 7, 8, 9, 10, 11, 12, 13",
		2:  "arc 2: the drawing has no such arc, need one of 1, 3, 4, 5, 7, 8, 9, 10, 11, 12, 13", // a straight
		11: "arc 11: no swing radius, need a cutter that can do it",
	} {
		_, err := part.Pick(p, n, "plate")
		var e *part.ArcError
		if !errors.As(err, &e) || e.Error() != want || e.Hint() == "" {
			t.Errorf("arc %d: %v, want %q and a hint", n, err, want)
		}
	}
	a, err := part.Pick(p, 4, "plate")
	if err != nil {
		t.Fatal(err)
	}
	_, err = draft(t, shownJob).For(a.Figures())
	check(t, "reach", err, "job.toml:6: setup.reach: with -12 mm the dial would have to show 15 mm at the target, need -0.8 to 0.8 mm",
		"at the target the dial reads zero with a reach of -27 mm; + is away from the head axis, - towards it")
	_, err = draft(t, edit(t, shownJob, "tolerance = 0.02            # plus or minus, on the swing radius\n", "")).For(a.Figures())
	check(t, "tolerance", err, "job.toml:9: target.tolerance: missing, must be above 0", "add it to the file")
}

// An arc about whose centre nothing round is drawn names the circles that are: the plate's bore of radius 6, about its pivot.
func TestCirclesOfALoneArc(t *testing.T) {
	p, lone := plate(t, 6), 0
	for i := range p.Arcs {
		a, err := part.Pick(p, p.Arcs[i].N, "plate")
		if err != nil {
			continue
		}
		if away := a.Centre.Norm() > 1; away != a.Lone {
			t.Errorf("arc %d about %v: lone %v", a.N, a.Centre, a.Lone)
		} else if !away {
			continue
		}
		lone++
		if c := a.Figures().Circles; len(c) != 1 || c[0].N != 1 || c[0].Radius != 6 || c[0].Centre.Norm() > 1e-9 {
			t.Errorf("arc %d: %+v, want the pivot's bore", a.N, c)
		}
	}
	if lone == 0 {
		t.Error("no arc of the plate is lone: nothing was looked at")
	}
}
