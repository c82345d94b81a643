package session_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// takenAt returns the numbers of the events that are readings.
func takenAt(all []session.Event) (n []int) {
	for i, e := range all {
		if _, ok := e.(session.Took); ok {
			n = append(n, i+1)
		}
	}
	return n
}

// Put back what it was, every reading of the golden journals leads to the circle, the close and the
// first wind that its sweep had.
func TestWhatIfNothingChanges(t *testing.T) {
	tried := 0
	for _, p := range []*player{bench(t, 7).until(session.ForNothing), everyKind(t), misreads(t), parked(t), bySteps(t), decidedLater(t)} {
		all := events(t, p.mem.Lines)
		for _, n := range takenAt(all) {
			w, err := session.Try(all, []session.Change{{Event: n, Reading: all[n-1].(session.Took).Reading}})
			if err != nil {
				t.Fatalf("event %d: %v", n, err)
			}
			if w.Why != "" || w.As.Sweep.N != w.Now.Sweep.N || w.As.Sweep.Closed != w.Now.Sweep.Closed {
				t.Errorf("event %d: %d stations, closed by %q, was %d, %q: %s", n, w.Now.Sweep.N, w.Now.Sweep.Closed, w.As.Sweep.N,
					w.As.Sweep.Closed, w.Why)
			}
			was, err1 := w.As.Fit()
			now, err2 := w.Now.Fit()
			if (err1 == nil) != (err2 == nil) || err1 == nil && (was.Circle.Centre != now.Circle.Centre ||
				was.Circle.Level != now.Circle.Level) {
				t.Errorf("event %d: %v (%v), was %v (%v)", n, now.Circle, err2, was.Circle, err1)
			}
			if len(w.Told) > 0 && (len(w.WouldTell) == 0 || w.Told[0].Wind.Travel != w.WouldTell[0].Wind.Travel) {
				t.Errorf("event %d: would tell %+v, told %+v", n, w.WouldTell, w.Told[0])
			}
			tried++
		}
	}
	if tried < 40 {
		t.Errorf("%d readings tried, want them all", tried)
	}
}

// decidedLater plays a sweep that is closed, and a radius held, let go and biased behind the close: what follows from
// the sweep is told anew each time.
func decidedLater(t testing.TB) *player {
	t.Helper()
	by := 0.05
	p := open(t, benchOpened(t), near42(0.2, 0.1, -0.05)).until(session.ForWind)
	p.do(session.Hold{Radius: 42.21, Limit: 0.001}, session.Bias{By: &by})
	return p.until(session.ForNothing)
}

// A bias that was set inside a sweep is set in what would have been too, and so is what it decides.
func TestWhatIfGoesByTheBias(t *testing.T) {
	by := 0.1
	p := open(t, with(t, func(j *setup.Job) { j.Sweep.AtLeast = 6 }), near42(0.1, 0, 0)).until(session.ForReading).answer(2)
	p.do(session.Bias{By: &by})
	p.until(session.ForAccept)
	all := events(t, p.mem.Lines)
	n := takenAt(all)[0]
	w, err := session.Try(all, []session.Change{{Event: n, Reading: all[n-1].(session.Took).Reading}})
	if err != nil {
		t.Fatal(err)
	}
	if w.Now.Bias.By != by || w.Used != w.Entries || len(w.WouldTell) != 0 || w.Now.Sweep.Closed != session.ByVerdict {
		t.Errorf("bias %v, %d of %d entries used, closed by %q, %d winds; want %v, all, by its verdict and none",
			w.Now.Bias.By, w.Used, w.Entries, w.Now.Sweep.Closed, len(w.WouldTell), by)
	}
}

// A reading misread by a whole revolution is put right: the ideal bench's own figures come out, and the
// winds that cure them. Left out, the other readings say the same.
func TestWhatIfCorrected(t *testing.T) {
	w := near42(0.1, 0.03, -0.04)
	p := open(t, benchOpened(t), w)
	p.until(session.ForReading).answer(3)
	p.slip(func(r float64) float64 { return r + 0.1 })
	p.answer(2)
	for range 4 {
		if p.prompt().Waits != session.ForReading {
			break
		}
		if p.prompt().Reading.Again {
			p.do(session.Keep{})
			continue
		}
		p.answer(1)
	}
	all := events(t, p.mem.Lines)
	n := takenAt(all)[3]
	right := all[n-1].(session.Took).Reading - 0.1
	for name, c := range map[string]session.Change{"put right": {Event: n, Reading: right}, "left out": {Event: n, Out: true}} {
		got, err := session.Try(all, []session.Change{c})
		if err != nil {
			t.Fatal(err)
		}
		f, err := got.Now.Fit()
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(f.Swing().V-42.1) > 1e-6 || math.Abs(f.CentreX().V-0.03) > 1e-6 || math.Abs(f.CentreY().V+0.04) > 1e-6 {
			t.Errorf("%s: swing %v, centre %v, want 42.1, (0.03, −0.04)", name, f.Swing().V, f.Circle.Centre)
		}
		was, err := got.As.Fit()
		if err != nil || math.Abs(was.Swing().V-42.1) < 0.005 {
			t.Errorf("%s: as it was %v (%v), want it spoilt", name, was.Swing().V, err)
		}
		want := map[string]float64{"x": 0.03, "y": -0.04, "offset": -0.1}
		for _, told := range got.WouldTell {
			if math.Abs(told.Wind.Travel-want[told.Wind.Slide]) > 1e-6 {
				t.Errorf("%s: would wind %s by %v, want %v", name, told.Wind.Slide, told.Wind.Travel, want[told.Wind.Slide])
			}
		}
		if len(got.WouldTell) != 3 {
			t.Errorf("%s: %d winds, want 3", name, len(got.WouldTell))
		}
	}
}

// A good reading spoilt keeps a sweep open that was closed after five: nothing answers its question.
func TestWhatIfSpoilt(t *testing.T) {
	p := bench(t, 7).until(session.ForWind)
	all := events(t, p.mem.Lines)
	n := takenAt(all)
	if len(n) != 5 {
		t.Fatalf("%d readings, want a sweep closed after 5", len(n))
	}
	got, err := session.Try(all, []session.Change{{Event: n[2], Reading: all[n[2]-1].(session.Took).Reading + 0.1}})
	if err != nil {
		t.Fatal(err)
	}
	if want := "the sweep would still be open, and ask for station 6"; got.Why != want || got.Used != 5 || got.Entries != 5 {
		t.Errorf("%q after %d of %d entries, want %q", got.Why, got.Used, got.Entries, want)
	}
}

func TestWhatIfRefused(t *testing.T) {
	all := events(t, bench(t, 7).until(session.ForNothing).mem.Lines)
	n := takenAt(all)
	for want, c := range map[string][]session.Change{
		"no reading is changed": nil,
		"event 1 is no reading": {{Event: 1, Out: true}},
		"event 999, need 1 to":  {{Event: 999, Out: true}},
		"belong to two sweeps":  {{Event: n[0], Out: true}, {Event: n[len(n)-1], Out: true}},
	} {
		if _, err := session.Try(all, c); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %s", c, err, want)
		}
	}
}
