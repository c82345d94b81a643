package practice

import (
	"testing"
	"time"

	"example.org/trammel/indicator/session"
)

// Every set-up is asked for by a word of its own, draws machines of its own, and its bench is set by its own files and
// then truly stands within what its job asks for.
func TestEverySetup(t *testing.T) {
	drawn := map[Options]Setup{}
	for s := range setupsInAll {
		if got, err := ParseSetup(s.String()); err != nil || got != s {
			t.Errorf("%q is read as %v, %v", s, got, err)
		}
		if other, twice := drawn[s.Draws(Options{})]; twice {
			t.Errorf("%v draws the machines of %v", s, other)
		}
		drawn[s.Draws(Options{})] = s
		job, machine := s.Files()
		for seed := range uint64(40) {
			set, err := openDrawn(&Drawn{Job: job, Machine: machine})
			if err != nil {
				t.Fatalf("%v: %v", s, err)
			}
			m := New(s.Bench(seed), seed)
			live := session.NewLive(session.State{}, &session.Memory{})
			if _, err := live.Do(session.Open{Opened: set}, time.Time{}); err != nil {
				t.Fatal(err)
			}
			if err := m.Play(live, func() time.Time { return time.Time{} }, func(session.Step) {}); err != nil {
				t.Fatalf("%v %d: %v", s, seed, err)
			}
			want := Want{Swing: set.Job.Target.SwingRadius, Tolerance: set.Job.Target.Tolerance,
				CentreTolerance: set.Job.Target.CentreTolerance, SetOff: set.Job.Target.SetOff != nil}
			if end := live.State(); !end.Accepted() || !want.met(m.Truth()) {
				t.Errorf("%v %d: accepted %v, truly %+v, want %+v", s, seed, end.Accepted(), m.Truth(), want)
			}
		}
	}
	if _, err := ParseSetup("swivelled"); err == nil || err.Error() != `"swivelled", need carried, turned, points, taps, set-off, about or about-table` {
		t.Errorf("another word: %v", err)
	}
}
