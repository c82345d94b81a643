package lines_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// A slide that goes farther than the dial sees is wound with the tip clear, which is said before any movement: off the axis by the
// swing radius (42 on a dial of a few millimetres, in a bore of 60), and back over it; a wind under the needle needs the tip where it is.
func TestTipIsClearedBeforeALongWind(t *testing.T) {
	job, machine := practice.SetOff.Files()
	o := testdata.Setting(t, job, machine)
	m, live := practice.New(practice.SetOff.Bench(7), 7), session.NewLive(session.State{}, &session.Memory{})
	said := map[string]string{}
	parked, undone := 0, ""
	do := func(c session.Command) {
		steps, err := live.Do(c, time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range steps {
			for _, l := range lines.Of(st, geom.Millimetre) {
				if u, is := l.(lines.UndoneLine); is {
					undone = u.Text()
				}
				w, is := l.(lines.WindLine)
				switch {
				case !is:
				case w.SetOff != "":
					said[w.SetOff] = w.Text()
					if first := lines.FirstWords(&st.After); w.First != "tip clear of the work" || first != w.First {
						t.Errorf("%s: first %q, and %q of the state, want the tip clear", w.Text(), w.First, first)
					}
				default:
					if parked++; w.First != "" || strings.Contains(w.Text(), "tip clear") {
						t.Errorf("a wind under the needle without its tip: %q", w.Text())
					}
				}
			}
		}
	}
	do(session.Open{Opened: o})
	for again := true; ; {
		s := live.State()
		answer, ok, err := m.Do(s.Prompt())
		if err != nil {
			t.Fatal(err)
		}
		if !ok || len(said) == 2 {
			break
		}
		if again && s.Phase == session.SettledDown {
			again, answer = false, session.Restart{}
		}
		do(answer)
		if way := live.State(); s.Told != nil && s.Told.SetOff && way.LastEntry() != nil { // X has been carried off by its readout from 0
			do(session.Undo{})
			back := live.State()
			for _, said := range []string{undone, lines.ResumedWords(&back)} {
				if !strings.Contains(said, "do not wind again") {
					t.Errorf("a wind from a readout set to 0 is told again with %q", said)
				}
			}
			do(session.Confirm{})
		}
	}
	for _, way := range []string{"out", "back"} {
		first, slide := strings.Index(said[way], "tip clear of the work first; "), strings.Index(said[way], "go from")
		if first < 0 || slide < first {
			t.Errorf("%s: %q, want the tip clear before the slide goes", way, said[way])
		}
	}
	if parked == 0 {
		t.Error("no wind under the needle was told, so nothing was checked of one")
	}
}

// A collar that keeps its figures ends where its screw has turned to, whatever the slide travels by it: by hand 0.2 of travel on a
// screw that moves 4 for 5 turned is 0.25, and of divisions of 0.02 that is 12.5 on from 10, where 0.2 would be 10.
func TestCollarEndsWhereTheScrewIsTurnedTo(t *testing.T) {
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	s := session.State{}.Apply(o)
	for s.Prompt().Waits == session.ForLoad {
		s = s.Apply(session.Loaded{Slide: s.Prompt().Load.Slide.Name})
	}
	sl, _ := o.Machine.Slide("x")
	w := sl.WindBy(0.2, 0.25)
	s = s.Apply(session.Told{Step: 1, Of: 1, Wind: w}).Apply(session.Read{Slide: "x", Figure: 10})
	l, ok := lines.Prompt(&s, geom.Millimetre).(lines.WindLine)
	want := 10 + 0.25/(sl.Division())*float64(sl.Clockwise)*float64(sl.Figures)
	if !ok || l.Collar.From != 10 || math.Abs(float64(l.Collar.To)-want) > 1e-9 || sl.Division() != 0.02 {
		t.Errorf("collar from %v to %v with divisions of %v, want 10 to %v", l.Collar.From, l.Collar.To, sl.Division(), want)
	}
}

// What locking moves a slide by is told in the unit that is shown: by hand 0.0508 mm is 0.002 in.
func TestLockIsToldInTheUnit(t *testing.T) {
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	s := session.State{}.Apply(o)
	for s.Prompt().Waits == session.ForLoad {
		s = s.Apply(session.Loaded{Slide: s.Prompt().Load.Slide.Name})
	}
	sl, _ := o.Machine.Slide("x")
	s = s.Apply(session.Told{Step: 1, Of: 1, Wind: sl.Wind(0.2), Park: &advice.Park{Goal: 0.2, Act: 1, Shift: 0.0508}})
	for u, want := range map[geom.Unit]string{geom.Inch: "locking moves the slide by +0.002 in: the goal allows for it",
		geom.Millimetre: "locking moves the slide by +0.051 mm: the goal allows for it"} {
		if l, ok := lines.Prompt(&s, u).(lines.WindLine); !ok || !slices.Contains(l.Notes, want) {
			t.Errorf("%v: notes %q, want %q", u, l.Notes, want)
		}
	}
}

// The tip comes clear whichever way a slide goes farther than the dial sees: 5 either way is more than one from -2 to 2 does. A wind
// under the needle needs the tip where it is.
func TestTipIsClearedWhicheverWayTheSlideGoes(t *testing.T) {
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	o.Job.Dial.From, o.Job.Dial.To = -2, 2
	for _, travel := range []float64{5, -5} {
		sl, _ := o.Machine.Slide("x")
		s := session.State{Set: &o, Phase: session.Winding}
		s.Told = &session.Told{Step: 1, Of: 1, Wind: sl.Wind(travel)}
		if first := lines.FirstWords(&s); first != "tip clear of the work" {
			t.Errorf("wound by %v: first %q, want the tip clear", travel, first)
		}
		s.Told.Park = &advice.Park{}
		if first := lines.FirstWords(&s); first != "" {
			t.Errorf("wound by %v under the needle: first %q, want nothing", travel, first)
		}
	}
}

// A readout on the slide is advised where it would decide: where the doubt of how far the slide has gone is the larger part of what is
// left undecided, and not where that of the axis is, nor where nothing is undecided.
func TestReadoutIsAdvisedWhereItDecides(t *testing.T) {
	for _, c := range []struct {
		axis, travel float64
		is           indicator.Verdict
		advised      bool
	}{
		{0.01, 0.03, indicator.Undecided, true}, {0.03, 0.01, indicator.Undecided, false}, {0.01, 0.03, indicator.Inside, false},
	} {
		l := lines.SettledLine{Swing: &record.Value{Value: 42, U95: 0.04}, Verdict: record.Verdict{Radius: c.is},
			SetOff: &lines.SetOffBudget{Axis: record.Number(c.axis), Travel: record.Number(c.travel)}}
		if got := l.Text(); strings.Contains(got, "readout") != c.advised || !strings.Contains(got, "axis ±") {
			t.Errorf("%+v: %q, want a readout advised: %v", c, got, c.advised)
		}
	}
}
