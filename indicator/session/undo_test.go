package session_test

import (
	"fmt"
	"reflect"
	"testing"

	"example.org/trammel/indicator/session"
)

// timeless is a state but for how many events led to it, and for the wind that an undo says the hand may have made.
func timeless(s session.State) session.State {
	s.Events, s.TakenBack = 0, nil
	return s
}

// shown is what others see of a state: all but the events that undo goes back along.
func shown(s session.State) session.State {
	var out session.State
	from, to := reflect.ValueOf(s), reflect.ValueOf(&out).Elem()
	for i := range from.NumField() {
		if to.Field(i).CanSet() {
			to.Field(i).Set(from.Field(i))
		}
	}
	return timeless(out)
}

// Undo folds from a state that was kept: whichever of many entries it goes back to, and whether
// one was kept there or far away, it finds the state that stood there before.
func TestUndoAcrossKeptStates(t *testing.T) {
	p := bench(t, 7).until(session.ForReading)
	var stood []session.State
	for n := range 150 {
		stood = append(stood, p.state())
		switch {
		case n%7 == 6:
			p.do(session.Restart{})
		case n%5 == 4:
			p.do(session.Note{Text: fmt.Sprint("remark ", n)})
		default:
			p.answer(1)
		}
	}
	for n := len(stood) - 1; n >= 0; n-- {
		p.do(session.Undo{})
		wantSame(t, fmt.Sprintf("entry %d taken back", n+1), timeless(p.state()), timeless(stood[n]))
	}
}

// Whatever the entry and whenever it was made: undo brings back the state before it.
func TestUndoEveryEntry(t *testing.T) {
	undone := map[string]bool{}
	for _, ph := range phases[1:] {
		for _, c := range asking(t) {
			if _, err := session.Decide(ph.make(t).state(), c); err != nil {
				continue
			}
			switch c.(type) {
			case session.Undo, session.Open: // the next setting's opening is no entry
				continue
			}
			p := ph.make(t)
			before := p.state()
			p.do(c)
			after := p.state()
			entry := session.Kind(after.LastEntry())
			undone[entry] = true
			steps := len(p.steps)
			p.do(session.Undo{})
			if got := len(p.steps) - steps; got != 1 {
				t.Errorf("%s, %T: undo took %d steps, want 1", ph.name, c, got)
			}
			wantSame(t, fmt.Sprintf("%s, %T taken back", ph.name, c), timeless(p.state()), timeless(before))
			if p.state().Events != after.Events+1 {
				t.Errorf("%s, %T: %d events, want %d: an undo is an event too", ph.name, c, p.state().Events, after.Events+1)
			}
		}
	}
	for _, entry := range []string{"loaded", "reading", "skipped", "again", "swept", "wound", "kept", "note", "suspected",
		"accepted"} {
		if !undone[entry] {
			t.Errorf("entry %q was not taken back", entry)
		}
	}
	if len(undone) != 10 {
		t.Errorf("%d kinds of entry, want 10: %v", len(undone), undone)
	}
}

// A wind that was confirmed by mistake is told again, the last of a trial as well as the first.
func TestUndoWind(t *testing.T) {
	p := open(t, benchOpened(t), near42(0.2, 0.15, -0.1)).until(session.ForWind)
	for step := 1; step <= 3; step++ {
		told := p.prompt().Wind.Told
		if told.Step != step || told.Of != 3 {
			t.Fatalf("wind %d of %d, want %d of 3", told.Step, told.Of, step)
		}
		p.do(session.Confirm{}, session.Undo{})
		if got := p.prompt(); got.Waits != session.ForWind || digest(got.Wind.Told) != digest(told) || p.state().Trial != 1 {
			t.Fatalf("after undo: %+v in trial %d, want %+v in trial 1", got.Wind.Told, p.state().Trial, told)
		}
		p.answer(1)
	}
	if p.state().Trial != 2 {
		t.Errorf("trial %d, want 2", p.state().Trial)
	}
}

// The reading that closed a sweep is taken back together with the wind that followed from it.
func TestUndoClosingReading(t *testing.T) {
	p := bench(t, 7).until(session.ForReading).answer(4)
	asked := p.prompt()
	p.answer(1)
	if p.prompt().Waits != session.ForWind {
		t.Fatal("five readings of a bench that is clearly out do not end in a wind")
	}
	p.do(session.Undo{})
	if got := p.prompt(); got.Waits != session.ForReading || got.Reading.Bearing != asked.Reading.Bearing || got.Reading.Station != 5 {
		t.Errorf("asks %+v, want station 5 again", got)
	}
	p.do(session.Take{Reading: 0.05}) // another number leads to other winds
	if s := p.state(); s.Sweep.Stations[4].Reading != 0.05 || s.Sweep.N != 5 {
		t.Errorf("station 5 is %+v", s.Sweep.Stations[4])
	}
}

// Undo after undo leads back to the beginning, entry by entry, from everywhere.
func TestUndoToTheBeginning(t *testing.T) {
	start := bench(t, 7).state()
	for _, ph := range phases[1:] {
		p := ph.make(t)
		if s := p.state(); s.Set.Machine.Slides[0].ByCollar {
			continue // begun elsewhere
		}
		entries := 0
		for _, st := range p.steps[1:] {
			switch st.Event.(type) {
			case session.Told, session.Settled, session.Swept, session.Doubted, session.Reswept:
			default:
				entries++
			}
		}
		for range entries {
			before := p.state()
			if before.LastEntry() == nil {
				t.Fatalf("%s: nothing to take back, %d entries were made", ph.name, entries)
			}
			p.do(session.Undo{})
		}
		if s := p.state(); s.LastEntry() != nil {
			t.Errorf("%s: %T is left after %d times undo", ph.name, s.LastEntry(), entries)
		}
		p.refused(session.Undo{})
		wantSame(t, ph.name+": taken back to the beginning", timeless(p.state()), timeless(start))
	}
}

// From there the job can be done again.
func TestUndoAllThenGoOn(t *testing.T) {
	p := bench(t, 7).until(session.ForAccept)
	for s := p.state(); s.LastEntry() != nil; s = p.state() {
		p.do(session.Undo{})
	}
	p.until(session.ForNothing)
	if s, err := session.Fold(p.mem.Lines, nil); err != nil {
		t.Error(err)
	} else {
		wantSame(t, "replay", s, p.state())
	}
}

// again in a sweep, and before the first wind, is the same trial; in the middle of the winds, when
// the slides stand elsewhere than the sweep says, a new one begins; after the settling the same.
func TestAgain(t *testing.T) {
	for _, c := range []struct {
		name   string
		make   func() *player
		trials int // finished afterwards
	}{
		{"in a sweep", func() *player { return bench(t, 7).until(session.ForReading).answer(3) }, 0},
		{"before the first wind", func() *player { return bench(t, 7).until(session.ForWind) }, 0},
		{"after the first wind", func() *player { return bench(t, 7).until(session.ForWind).answer(1) }, 1},
		{"before the last wind", func() *player { return bench(t, 7).until(session.ForWind).answer(2) }, 1},
		{"settled", func() *player { return bench(t, 7).until(session.ForAccept) }, 1},
	} {
		p := c.make()
		before := p.state()
		p.do(session.Restart{})
		s := p.state()
		finished := 0
		for past := s.Past; past != nil; past = past.Before {
			finished++
			if past.Number != s.Trial-finished || past.Winds == nil || past.Sweep.N == 0 {
				t.Errorf("%s: trial %d in the list has %d entries, winds %v", c.name, past.Number, past.Sweep.N, past.Winds)
			}
		}
		if finished != c.trials || s.Trial != c.trials+1 {
			t.Errorf("%s: trial %d, %d finished, want %d finished", c.name, s.Trial, finished, c.trials)
		}
		if s.Sweep.N != 0 || s.Sweep.Closed != "" || s.Told != nil || s.Winds != nil || s.Phase != session.Sweeping {
			t.Errorf("%s: %d entries, closed %q, told %v, phase %d, want an empty open sweep", c.name, s.Sweep.N, s.Sweep.Closed, s.Told,
				s.Phase)
		}
		// What was wound between the sweep and this one cannot be predicted any more.
		if wound := before.Winds != nil; wound && s.Predicted != nil {
			t.Errorf("%s: readings are predicted from a sweep that holds no more", c.name)
		}
		p.until(session.ForNothing)
	}
}
