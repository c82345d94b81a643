package session_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// allSaid is all that the lines say of steps, in words and as JSON.
func allSaid(t testing.TB, steps []session.Step) []byte {
	t.Helper()
	var out []byte
	for _, st := range steps {
		for _, l := range lines.Of(st, geom.Millimetre) {
			text, err := json.Marshal(l)
			if err != nil {
				t.Fatal(err)
			}
			out = append(append(append(append(out, text...), ' '), l.Text()...), '\n')
		}
	}
	return out
}

// wishes carries out wishes by chance, honest answers among them, and returns the session's lines and
// steps. Every state that a reader holds is summed up before the next wish and after it.
func wishes(t *rapid.T, sets []session.Opened) (*session.Memory, []session.Step) {
	mem := &session.Memory{}
	l := session.NewLive(session.State{}, mem)
	w := near42(0.1, 0.1, -0.1)
	var steps []session.Step
	// Chance prefers what stands first: the honest answer, which comes as far as the end of a setting.
	ops := []byte{15, 15, 15, 15, 15, 15, 5, 1, 9, 11, 6, 3, 2, 7, 8, 12, 10, 4}
	count := rapid.IntRange(20, 90).Draw(t, "count")
	for n := range count {
		op, arg := byte(10), byte(0) // begins with a setting
		if n > 0 {
			op = rapid.SampledFrom(ops).Draw(t, "op")
		}
		if op != 15 {
			arg = rapid.Byte().Draw(t, "arg")
		}
		held := l.State()
		before := digest(held)
		var refusal *session.Refusal
		did, err := l.Do(fuzzCommand(op, arg, held.Prompt(), sets, w), begin)
		if err != nil && !errors.As(err, &refusal) {
			t.Fatal(err)
		}
		if digest(held) != before {
			t.Fatalf("wish %d changed the state that a reader holds", n+1)
		}
		steps = append(steps, did...)
	}
	return mem, steps
}

// TestLaws holds the laws of the fold for wishes by chance: a replay is the live session, byte for
// byte of what is said; folded in two it is the same wherever it is split; what is written is read as
// it was; and no state changes under a reader.
func TestLaws(t *testing.T) {
	sets := fuzzSettings(t)
	events, trials := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		mem, live := wishes(rt, sets)
		events += len(live)
		var replayed []session.Step
		s, err := session.Fold(mem.Lines, func(st session.Step) { replayed = append(replayed, st) })
		if err != nil {
			rt.Fatal(err)
		}
		trials = max(trials, s.Trial)
		if a, b := allSaid(t, live), allSaid(t, replayed); !bytes.Equal(a, b) {
			rt.Fatalf("the replay says\n%s\nthe live session said\n%s", b, a)
		}
		whole := digest(s)
		if n := len(live); n > 0 && digest(live[n-1].After) != whole {
			rt.Fatal("the replay ends in another state than the live session")
		}
		cut := rapid.IntRange(0, len(mem.Lines)).Draw(rt, "cut")
		first, err := session.Fold(mem.Lines[:cut], nil)
		if err != nil {
			rt.Fatal(err)
		}
		for i, line := range mem.Lines[cut:] {
			r, err := session.Decode(cut+i+1, line)
			if err != nil {
				rt.Fatal(err)
			}
			first = first.Apply(r.Event)
		}
		if digest(first) != whole {
			rt.Fatalf("folded in two at event %d: another state", cut)
		}
		for i, line := range mem.Lines {
			r, err := session.Decode(i+1, line)
			if err != nil {
				rt.Fatal(err)
			}
			again, err := session.Encode(i+1, r.T, r.Event)
			if err != nil || !bytes.Equal(again, line) || reflect.TypeOf(r.Event) != reflect.TypeOf(live[i].Event) {
				rt.Fatalf("%s is written again as %s (%v)", line, again, err)
			}
		}
	})
	if events < 1000 || trials < 2 {
		t.Errorf("%d events and at most %d trials came of all the wishes, want enough to say something", events, trials)
	}
}
