package session_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/indicator/session"
)

// Eight stations on three lobes of 0.010, six on an oval: what the needle is told to show while the head is parked is what the ray
// meets there, the lobes included; by the rules of old it is out by what they do there.
func TestParkedGoalAllowsForTheForm(t *testing.T) {
	for _, c := range []struct{ n, k int }{{8, 3}, {8, 2}, {6, 2}} {
		worst := [2]float64{}
		for i := range 24 {
			l := lobedBore{a: 0.010, k: c.k, phase: 2 * math.Pi * float64(i) / 24, x: 0.11, y: -0.07}
			for rules := range worst {
				o := ruled(t, c.n, rules)
				o.Job.Sweep.AtLeast = c.n
				s, _, _ := sweepOf(t, o, l, rand.New(rand.NewPCG(5, uint64(i))))
				if rules == 0 && s.Sweep.N != c.n { // it went on to see whether a reading was wrong
					continue
				}
				e, due := session.Follow(s)
				told, ok := e.(session.Told)
				if !due || !ok || told.Park == nil {
					t.Fatalf("%+v: %T is due, want a wind under the needle", c, e)
				}
				worst[rules] = max(worst[rules], math.Abs(told.Park.Now-l.reading(told.Park.Bearing)))
			}
		}
		// Readings of ±0.001 leave 0.001·√(3/n + 2/n) of it, thrice.
		if worst[1] > 3*0.001*math.Sqrt(5/float64(c.n)) {
			t.Errorf("%+v: the needle is told %.4f beside what it shows", c, worst[1])
		}
		if worst[0] < 0.005 {
			t.Errorf("%+v: by the rules of old only %.4f beside: nothing is tried", c, worst[0])
		}
	}
}

// What a sweep has shown of a reference goes with the journal to the next setting on it, and to no other; a bound is never below
// what the reference has. Six stations show its oval only, five nothing.
func TestFormIsShownForLaterSettings(t *testing.T) {
	for _, c := range []struct {
		n          int
		two, three bool
	}{{5, false, false}, {6, true, false}, {7, true, true}, {8, true, true}} {
		o := ruled(t, c.n, 1)
		o.Job.Sweep.AtLeast = c.n
		l := lobedBore{a: 0.006, k: 2, phase: 1}
		s, _, _ := sweepOf(t, o, l, rand.New(rand.NewPCG(6, uint64(c.n))))
		f, ok := s.Formed()
		if ok != c.two || f.Two > 0 != c.two || f.Three > 0 != c.three {
			t.Errorf("%d stations: %+v, %v", c.n, f, ok)
		}
		if c.two && (f.Two < 0.006 || f.Two > 0.010) {
			t.Errorf("%d stations: an oval of 0.006 is bounded by %.4f", c.n, f.Two)
		}
	}
	o := ruled(t, 8, 1)
	o.Job.Sweep.AtLeast = 8
	p := open(t, o, near42(0.01, 0.1, 0)).until(session.ForNothing)
	st := p.state()
	shown, ok := st.Formed()
	if !ok {
		t.Fatal("nothing was shown")
	}
	other := o
	other.Job.Setup.ReferenceRadius += 0.5
	other.Job.Setup.Reach += 0.5
	p.do(session.Open{Opened: other})
	st = p.state()
	if f, ok := st.Formed(); ok {
		t.Errorf("another reference is known: %+v", f)
	}
	p = open(t, o, near42(0.01, 0.1, 0)).until(session.ForNothing)
	p.do(session.Open{Opened: o})
	st = p.state()
	if f, ok := st.Formed(); !ok || f != shown {
		t.Errorf("the next setting knows %+v, want %+v", f, shown)
	}
}
