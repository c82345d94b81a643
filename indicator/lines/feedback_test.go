package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// arcs are two of the rim's, 0.02 and 0.016 mm big, as the bench makes them.
func arcs(hollow bool) []session.Finished {
	by := session.Means{Machine: "practice mill with offset head", Cutter: 8, Reference: 30, Reach: -12}
	return []session.Finished{{By: by, Hollow: hollow, Off: 0.02, Own: 0.001, Common: 0.029, Measured: 0.004},
		{By: by, Hollow: hollow, Off: 0.016, Own: 0.001, Common: 0.029, Measured: 0.004}}
}

// after opens the bench behind some arcs, and says what came of it.
func after(t testing.TB, all []session.Finished, change func(*setup.Job)) *saying {
	t.Helper()
	return begin(t, bench(t, func(o *session.Opened) {
		o.Arcs, o.Job.Setup.ReachLimit, o.Job.Cut.CutterLimit, o.Job.Cut.MeasuredError = all, 0.05, 0.02, 0.004
		if change != nil {
			change(&o.Job)
		}
	}))
}

// fedBack says what is said of arcs that were checked, in the variants that matter.
func fedBack(t testing.TB) (all []lines.Line) {
	t.Helper()
	s := after(t, arcs(false), func(j *setup.Job) { j.Setup.ReachLimit, j.Stated = 0, nil })
	all = append(all, s.said...)
	s.do(session.Bias{})
	all = append(all, s.said...)
	s.do(session.Undo{})
	all = append(all, s.said...)
	return append(all, after(t, arcs(true), nil).said...) // held back
}

// The line says how many arcs, what they came out by with its doubt, what to set, and how to take it up; what was taken
// for granted; which arcs were left out. The figures: the mean 0.018, drawn to 0 by 1/(1 + u²/2s²) = 1/(1.01), u = √(4² + 1²),
// s = √(29² + (20/√3/2)²) µm; its doubt is 1.96·√(1/(1/s² + 2/u²)) = 5.6 µm.
func TestFeedbackWords(t *testing.T) {
	line := func(all []session.Finished, change func(*setup.Job)) string {
		t.Helper()
		st := after(t, all, change).live.State()
		l := lines.Feedback(&st, st.Set.Job.Unit)
		if l == nil {
			t.Fatal("nothing is said of the arcs")
		}
		return l.Text()
	}
	if got, want := line(arcs(false), nil), "2 arcs so far came out 0.018 ±0.006 mm big: set 42.000 - 0.018 mm (41.982); correction "+
		"takes it up"; got != want {
		t.Errorf("said\n%s\nwant\n%s", got, want)
	}
	odd := append(arcs(false), arcs(false)[0], arcs(false)[0])
	odd[2].Off, odd[3].By.Cutter = 0.1, 6
	for name, c := range map[string]struct {
		got  string
		want []string
	}{
		"held back": {line(arcs(true), nil), []string{"2 arcs with the metal outside came out 0.018 ±0.006 mm big",
			"held back for this arc, whose metal is inside", "double"}},
		"odd, other": {line(odd, nil), []string{"2 arcs so far", "an arc off by 0.082 mm from what was expected is left out, need it " +
			"within 0.013", "1 made by other means left out"}},
		"all other": {line(odd[3:], nil), []string{"nothing is fed back", "another cutter"}},
		"not stated": {line(arcs(false), func(j *setup.Job) {
			j.Setup.ReachLimit, j.Cut.CutterLimit, j.Stated = 0, 0, nil
		}),
			[]string{"not stated, so taken: the reach is good to 0.050 mm either way (setup.reach_error), the cutter to 0.030 mm " +
				"(cut.cutter_error)"}},
		"in inches": {line(arcs(false), func(j *setup.Job) { j.Unit = geom.Inch }),
			[]string{"0.0007 ±0.0002 in big: set 1.6535 - 0.0007 in (1.6528)"}},
		"nothing off": {line([]session.Finished{{By: arcs(false)[0].By, Off: 0.0002, Measured: 0.01}}, nil),
			[]string{"1 arc so far", "nothing to correct"}},
	} {
		for _, want := range c.want {
			if !strings.Contains(c.got, want) {
				t.Errorf("%s: said\n%s\nwant\n%s", name, c.got, want)
			}
		}
	}
	s := after(t, arcs(true), nil)
	by := -0.007
	s.do(session.Bias{By: &by})
	if got, want := s.said[0].Text(), "the swing radius is corrected: 42.000 - 0.007 = 41.993 mm; your own figure: the arcs so far say "+
		"nothing of metal inside the arc"; got != want {
		t.Errorf("said\n%s\nwant\n%s", got, want)
	}
	by = 0
	if s.do(session.Bias{By: &by}); s.said[0].Text() != "the swing radius is not corrected: 42.000 mm" {
		t.Errorf("taken off: %s", s.said[0].Text())
	}
}
