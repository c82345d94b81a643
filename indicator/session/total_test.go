package session_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// oddSettings are settings that no file gives, but a journal written by other hands might hold.
func oddSettings(t testing.TB) (out []session.Event) {
	for _, n := range []int{-1, 0, 1, 2, 65, 1000, math.MaxInt} {
		for _, to := range []geom.Bearing{0, 1, 2 * math.Pi, -1} {
			out = append(out, with(t, func(j *setup.Job) { j.Sweep = setup.Sweep{Stations: n, To: to} }))
		}
	}
	for _, obstacle := range []setup.Obstacle{{To: 7}, {From: 1e308, To: 1.7e308}, {From: 2, To: 1}} {
		out = append(out, with(t, func(j *setup.Job) { j.Sweep.Obstacles = []setup.Obstacle{obstacle, between(80, 130)} }))
	}
	o := benchOpened(t)
	o.Machine.Slides = nil
	out = append(out, o, session.Opened{})
	o = benchOpened(t)
	o.Machine.Slides = []slide.Slide{{Name: "x"}, {Name: "y", Divisions: -1}, {Name: "offset", TravelPerTurn: 1e300, Divisions: 1e-300}}
	return append(out, o)
}

// Apply is total, and so is what looks at its states: events in an order that no session has, of
// settings that no file gives, lead to no crash, and every state asks for something or nothing.
func TestApplyAnything(t *testing.T) {
	odd := oddSettings(t)
	all := append(samples(t), odd...)
	all = append(all, events(t, everyKind(t).mem.Lines)...)
	commands := asking(t)[1:]
	chance := rand.New(rand.NewPCG(3, 4))
	far := 0
	for n := range 400 {
		s := session.State{}.Apply(odd[n%len(odd)])
		for range 80 {
			e := all[chance.IntN(len(all))]
			if _, opens := e.(session.Opened); opens && chance.IntN(20) > 0 {
				continue
			}
			before := s.Events
			s = s.Apply(e)
			if s.Events != before+1 {
				t.Fatalf("%T: %d events after %d", e, s.Events, before)
			}
			if p := s.Prompt(); p.Waits > session.ForSize {
				t.Fatalf("waits for %d", p.Waits)
			}
			session.Follow(s)
			for _, c := range commands {
				if _, err := session.Decide(s, c); err != nil && err.Error() == "" {
					t.Fatalf("%T: refused without a reason", c)
				}
			}
		}
		far = max(far, s.Trial)
	}
	if far < 2 {
		t.Errorf("no sequence came further than trial %d", far)
	}
}

// A sweep that cannot be fitted, or is longer than a state holds, is not opened.
func TestOpenNeedsStations(t *testing.T) {
	for _, n := range []int{-1, 0, 2, 65, math.MaxInt} {
		o := with(t, func(j *setup.Job) { j.Sweep.Stations = n })
		if _, err := session.Decide(session.State{}, session.Open{Opened: o}); err == nil ||
			!strings.Contains(err.Error(), "stations, need 3 to 64") {
			t.Errorf("%d stations: error %v, want what is needed", n, err)
		}
	}
	for _, n := range []int{3, 64} {
		o := with(t, func(j *setup.Job) { j.Sweep.Stations = n })
		if _, err := session.Decide(session.State{}, session.Open{Opened: o}); err != nil {
			t.Errorf("%d stations: %v", n, err)
		}
	}
}
