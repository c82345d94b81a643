package session_test

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"example.org/trammel/indicator/session"
)

// events decodes the lines of a journal.
func events(t testing.TB, lines [][]byte) []session.Event {
	t.Helper()
	var out []session.Event
	for i, l := range lines {
		r, err := session.Decode(i+1, l)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, r.Event)
	}
	return out
}

// fold applies events by hand.
func fold(s session.State, all []session.Event) session.State {
	for _, e := range all {
		s = s.Apply(e)
	}
	return s
}

// everyKind must have every kind, or the laws below are not held for all.
func TestEveryKindIsPlayed(t *testing.T) {
	seen := map[string]int{}
	for _, e := range events(t, everyKind(t).mem.Lines) {
		seen[fmt.Sprintf("%T", e)]++
	}
	for _, k := range []string{"Opened", "Loaded", "Took", "Skipped", "Undone", "Restarted", "Swept", "Told", "Wound", "Settled",
		"Accepted", "Noted", "Reswept", "ClosingAsked", "Held", "Released", "StoodAt", "BezelSet", "Sensed", "Raised", "Tilted"} {
		if seen["session."+k] == 0 {
			t.Errorf("event %s is not played", k)
		}
	}
	if len(seen) != 21 {
		t.Errorf("%d kinds are played, want 21: %v", len(seen), seen)
	}
}

// fold(a ++ b) == fold(b, fold(a)) for every split.
func TestFoldSplits(t *testing.T) {
	p := everyKind(t)
	all := events(t, p.mem.Lines)
	whole := digest(fold(session.State{}, all))
	for cut := range len(all) + 1 {
		first, err := session.Fold(p.mem.Lines[:cut], nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := digest(fold(first, all[cut:])); got != whole {
			t.Fatalf("folded in two at event %d: another state than folded whole", cut)
		}
	}
}

// Apply leaves the state it starts from, and the event, as they were, and gives the same again.
func TestApplyIsPure(t *testing.T) {
	var s session.State
	for i, e := range events(t, everyKind(t).mem.Lines) {
		state, event := digest(s), digest(&e)
		next := s.Apply(e)
		if digest(s) != state || digest(&e) != event {
			t.Fatalf("event %d (%T): Apply changed its input", i+1, e)
		}
		if again := s.Apply(e); digest(again) != digest(next) {
			t.Fatalf("event %d (%T): applied again it gives another state", i+1, e)
		}
		if next.Events != s.Events+1 {
			t.Fatalf("event %d (%T): %d events after it, want %d", i+1, e, next.Events, s.Events+1)
		}
		s = next
	}
}

// Two futures of one state do not see each other.
func TestApplyBranches(t *testing.T) {
	p := bench(t, 7).until(session.ForWind)
	s := p.state()
	want := digest(s)
	for _, branch := range [][]session.Event{
		{session.Undone{}, session.Took{Bearing: 1, Reading: 0.7}},
		{session.Wound{Slide: "x"}, session.Restarted{}, session.Took{Bearing: 2, Reading: 0.5}},
		{session.Restarted{}, session.Noted{Text: "other"}},
	} {
		fold(s, branch)
		if digest(s) != want {
			t.Fatalf("after %+v the state they began from has changed", branch)
		}
	}
}

// The live run, the fold of its lines and every step in between are the same.
func TestReplayIsLive(t *testing.T) {
	for _, p := range []*player{everyKind(t), misreads(t)} {
		replayIsLive(t, p)
	}
}

func replayIsLive(t *testing.T, p *player) {
	t.Helper()
	var steps []session.Step
	s, err := session.Fold(p.mem.Lines, func(st session.Step) { steps = append(steps, st) })
	if err != nil {
		t.Fatal(err)
	}
	wantSame(t, "state after the replay", s, p.state())
	if len(steps) != len(p.steps) || len(steps) != len(p.mem.Lines) {
		t.Fatalf("%d steps replayed, %d live, %d lines", len(steps), len(p.steps), len(p.mem.Lines))
	}
	for i, live := range p.steps {
		wantSame(t, fmt.Sprintf("step %d (%T)", i+1, live.Event), steps[i], live)
	}
}

// A replay stops at the line it cannot use, with the state before it.
func TestFoldStops(t *testing.T) {
	lines := slices.Clone(bench(t, 7).until(session.ForNothing).mem.Lines)
	before, err := session.Fold(lines[:8], nil)
	if err != nil {
		t.Fatal(err)
	}
	lines[8] = bytes.Replace(lines[8], []byte(`"k":"reading"`), []byte(`"k":"sounded"`), 1)
	seen := 0
	s, err := session.Fold(lines, func(session.Step) { seen++ })
	if le := lineError(t, err); le.Number != 9 || le.Program != "trammel test" {
		t.Errorf("stopped at line %d of %q, want 9 of trammel test", le.Number, le.Program)
	}
	if seen != 8 {
		t.Errorf("%d steps were shown, want 8", seen)
	}
	wantSame(t, "state before the bad line", s, before)
}

// A journal that does not begin with a setting leads nowhere, and to no crash.
func TestApplyWithoutSetting(t *testing.T) {
	for _, e := range events(t, everyKind(t).mem.Lines) {
		if _, ok := e.(session.Opened); ok {
			continue
		}
		for _, then := range []session.Event{session.Wound{}, session.Took{}, session.Restarted{}, session.Undone{}} {
			s := fold(session.State{}, []session.Event{e, then})
			if f, due := session.Follow(s); due || s.Phase != session.Unopened || s.Events != 2 {
				t.Errorf("%T, %T without a setting: phase %d, %d events, then %v", e, then, s.Phase, s.Events, f)
			}
			if p := s.Prompt(); p.Waits != session.ForNothing {
				t.Errorf("%T, %T without a setting: waits for %d, want nothing", e, then, p.Waits)
			}
		}
	}
}
