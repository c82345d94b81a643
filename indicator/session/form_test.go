package session_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// The form is that of the present sweep from six readings on, else of the newest trial that had them,
// each reading under its station's number.
func TestForm(t *testing.T) {
	p := bench(t, 7)
	refused := func(says string) {
		t.Helper()
		s := p.state()
		if f, err := s.Form(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("form %+v, %v; want an error with %q", f, err, says)
		}
	}
	refused("0 readings, need at least 6 stations")
	p = open(t, with(t, func(j *setup.Job) { j.Sweep.Stations, j.Sweep.AtLeast = 8, 7 }), near42(-0.3, 0.02, -0.01))
	p.until(session.ForReading)
	p.do(session.Skip{})
	p.answer(5)
	refused("5 readings, need at least 6 stations")
	for p.prompt().Waits == session.ForReading {
		p.answer(1)
	}
	s := p.state()
	f, err := s.Form()
	if err != nil {
		t.Fatal(err)
	}
	if f.Trial != 1 || len(f.Station) != 7 || f.Station[0] != 2 || f.Station[6] != 8 || f.Places != 7 {
		t.Errorf("form %+v, want seven stations of trial 1, the first left out", f)
	}
	// The stand is a true circle, read to 2 µm: nothing departs by more than two roundings.
	if d := f.MinimumZone.Departure; !(d < 0.004) || math.IsNaN(f.MinimumZone.Noise) {
		t.Errorf("departs by %v, noise %v", d, f.MinimumZone.Noise)
	}
	for s := p.state(); s.Trial == 1; s = p.state() {
		p.answer(1)
	}
	p.answer(2)
	s = p.state()
	if g, err := s.Form(); err != nil || g.Trial != 1 || g.MinimumZone != f.MinimumZone {
		t.Errorf("two readings into trial 2: %+v, %v; want the form of trial 1", g, err)
	}
}

// While a reading is in doubt there is no form: the slip would be in it. Kept, it is, and that is told.
func TestFormInDoubt(t *testing.T) {
	s := doubted(t).state()
	if _, err := s.Form(); err == nil || !strings.Contains(err.Error(), "in doubt") {
		t.Errorf("in doubt: %v", err)
	}
	p := doubted(t)
	n := p.state().Doubt.Station
	p.do(session.Keep{})
	s = p.state()
	if f, err := s.Form(); err != nil || len(f.Kept) != 1 || f.Kept[0] != n {
		t.Errorf("kept: %+v, %v; want station %d among them", f.Kept, err, n)
	}
	if _, err := new(session.State).Form(); err == nil {
		t.Error("unopened: no error")
	}
}
