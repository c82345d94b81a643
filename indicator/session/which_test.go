package session_test

import (
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// early is a session whose sweep of six closed after five, for the centre is 0.36 off, and that waits at its first parked
// wind; and what the needle of the machine shows at the sixth station.
func early(t *testing.T) (p *player, sixth float64) {
	t.Helper()
	o := with(t, func(j *setup.Job) { j.Sweep.Stations = 6 })
	w := near42(0.05, 0.3, -0.2)
	p = open(t, o, w).until(session.ForWind)
	s := p.state()
	if q := p.prompt(); s.Sweep.N != 5 || !s.Early() || q.Wind.How != session.UnderNeedle {
		t.Fatalf("%d stations, early %v, wind %v: want five, early, under the needle", s.Sweep.N, s.Early(), q.Wind.How)
	}
	return p, w.reading(s.Set.Job.Sweep.Bearing(5))
}

// What the needle shows at the sixth station is asked about at the first wind, and not taken for where the slide stopped.
// As the station's it goes into the sweep, which is then of six as if it had not been closed; undo takes
// the number back.
func TestNumberOfTheNextStation(t *testing.T) {
	p, sixth := early(t)
	p.do(session.Take{Reading: sixth})
	q := p.prompt().Wind.Which
	if q == nil || q.Station != 6 || q.Reading != sixth || p.state().Winds != nil {
		t.Fatalf("asked %+v, want station 6 or the wind", q)
	}
	p.refused(session.Confirm{})
	p.do(session.NextStation{})
	s := p.state()
	if s.Sweep.N != 6 || s.Sweep.Stations[5].Reading != sixth || s.Sweep.Stations[5].Surprise || s.Early() || len(s.Odd) != 0 {
		t.Errorf("%d stations, early %v; want six, the last %v", s.Sweep.N, s.Early(), sixth)
	}
	if f, err := s.Fit(); err != nil || f.Circle.N != 6 {
		t.Errorf("fit of the six: %v", err)
	}
	p.do(session.Undo{})
	if s := p.state(); p.prompt().Wind.Which != nil || s.Sweep.N != 5 || s.Told == nil {
		t.Error("undo does not take the number back")
	}
	if got, err := session.Fold(p.mem.Lines, nil); err != nil || digest(got) != digest(p.state()) {
		t.Errorf("the journal folds to another state (%v)", err)
	}
}

// Plain confirmation, and a number by the goal or a little beside it, are a wind that is done, without a question; so is
// one in a setting of old.
func TestParkedNumbersAreNotAsked(t *testing.T) {
	for name, answer := range map[string]func(*player) session.Command{
		"confirmed":   func(*player) session.Command { return session.Confirm{} },
		"at its goal": func(p *player) session.Command { return session.Take{Reading: p.prompt().Wind.Told.Park.Goal} },
		"two divisions beside": func(p *player) session.Command {
			return session.Take{Reading: p.prompt().Wind.Told.Park.Goal + 0.02}
		},
	} {
		p, _ := early(t)
		p.do(answer(p))
		if s := p.state(); s.Winds == nil || s.Wonder != nil {
			t.Errorf("%s: wind not done, or asked about: %+v", name, s.Wonder)
		}
	}
	p, sixth := early(t)
	s := p.state()
	old := *s.Set
	old.Rules = 0
	s.Set = &old
	if e, err := session.Decide(s, session.Take{Reading: sixth}); err == nil {
		if _, asked := e.(session.Wondered); asked {
			t.Error("a setting of old asks")
		}
	}
}

// The same number typed again, or the word, says that the slide stopped there, and is judged as such.
func TestNumberIsWhereItStopped(t *testing.T) {
	p, sixth := early(t)
	p.do(session.Take{Reading: sixth})
	if e, err := session.Decide(p.state(), session.Take{Reading: sixth}); err == nil {
		if _, again := e.(session.Wondered); again {
			t.Error("asked once more about the same number")
		}
	}
	p.refused(session.Stopped{})
	p.do(session.Take{Reading: p.prompt().Wind.Told.Park.Goal})
	if s := p.state(); s.Winds == nil {
		t.Error("another number does not end the wind")
	}
}
