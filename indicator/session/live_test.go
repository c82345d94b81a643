package session_test

import (
	"bytes"
	"errors"
	"fmt"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
)

// commandOf returns the command that an event came of; ok is false for what followed by itself.
func commandOf(e session.Event) (c session.Command, ok bool) {
	switch e := e.(type) {
	case session.Opened:
		return session.Open{Opened: e}, true
	case session.Wound:
		if e.Reading != nil {
			return session.Take{Reading: *e.Reading}, true
		}
		return session.Confirm{}, true
	case session.Loaded:
		return session.Confirm{}, true
	case session.Took:
		return session.Take{Reading: e.Reading}, true
	case session.Skipped:
		return session.Skip{Off: e.Off}, true
	case session.Undone:
		return session.Undo{}, true
	case session.Kept:
		return session.Keep{}, true
	case session.Restarted:
		return session.Restart{}, true
	case session.Swept:
		return session.Enough{}, e.Why == session.ByPerson
	case session.Accepted:
		return session.Accept{}, true
	case session.ClosingAsked:
		return session.AskClosing{}, e.Wish
	case session.StoodAt:
		return session.At(e), true
	case session.Raised:
		return session.Raise(e), true
	case session.Sensed:
		return session.Sense{Slide: e.Slide, Went: e.Went}, true
	case session.BezelSet:
		return session.Bezel(e), true
	case session.Evened:
		return session.Even{}, true
	case session.Held:
		return session.Hold(e), true
	case session.Released:
		return session.Release{}, true
	case session.Noted:
		return session.Note(e), true
	}
	return nil, false
}

// records decodes a whole journal.
func records(t testing.TB, lines [][]byte) []session.Record {
	t.Helper()
	out := make([]session.Record, len(lines))
	for i, l := range lines {
		r, err := session.Decode(i+1, l)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = r
	}
	return out
}

// goOn does what the uncut journal says, at the times it says, from where the session stands:
// what is due first, then command by command.
func goOn(t testing.TB, l *session.Live, uncut []session.Record) error {
	t.Helper()
	if n := l.State().Events; n < len(uncut) {
		if _, err := l.Settle(uncut[n].T); err != nil {
			return err
		}
	}
	for n := l.State().Events; n < len(uncut); n = l.State().Events {
		c, ok := commandOf(uncut[n].Event)
		if !ok {
			t.Fatalf("event %d (%T) does not follow by itself", n+1, uncut[n].Event)
		}
		if _, err := l.Do(c, uncut[n].T); err != nil {
			return err
		}
	}
	return nil
}

func wantLines(t testing.TB, what string, got, want [][]byte) {
	t.Helper()
	for i := range min(len(got), len(want)) {
		if !bytes.Equal(got[i], want[i]) {
			t.Fatalf("%s: line %d is\n%s\nwant\n%s", what, i+1, got[i], want[i])
		}
	}
	if len(got) != len(want) {
		t.Fatalf("%s: %d lines, want %d", what, len(got), len(want))
	}
}

var errFull = errors.New("no space left on the plate")

// failing keeps lines in memory and fails once, on append number at (from 1).
type failing struct {
	session.Memory
	at, calls int
}

func (f *failing) Append(line []byte) error {
	if f.calls++; f.calls == f.at {
		return errFull
	}
	return f.Memory.Append(line)
}

// An append that fails has not happened: whichever it is, the steps before it stand and are
// returned, and after the failure the session goes on to the same end.
func TestAppendFails(t *testing.T) {
	p := everyKind(t)
	uncut := records(t, p.mem.Lines)
	for k := 1; k <= len(uncut); k++ {
		out := &failing{at: k}
		l := session.NewLive(session.State{}, out)
		var steps []session.Step
		var err error
		for err == nil {
			n := l.State().Events
			c, ok := commandOf(uncut[n].Event)
			if !ok {
				t.Fatalf("append %d: event %d is no entry", k, n+1)
			}
			var more []session.Step
			more, err = l.Do(c, uncut[n].T)
			steps = append(steps, more...)
		}
		var re *session.RecordError
		if !errors.As(err, &re) || !errors.Is(err, errFull) || err.Error() != "not recorded: no space left on the plate" {
			t.Fatalf("append %d: error %v, want a *RecordError with its cause", k, err)
		}
		if len(out.Lines) != k-1 || len(steps) != k-1 || l.State().Events != k-1 {
			t.Fatalf("append %d fails: %d lines, %d steps, %d events, want %d of each", k, len(out.Lines), len(steps), l.State().Events,
				k-1)
		}
		kept, err := session.Fold(out.Lines, nil)
		if err != nil {
			t.Fatal(err)
		}
		wantSame(t, fmt.Sprintf("append %d fails: state", k), l.State(), kept)
		if err := goOn(t, l, uncut); err != nil {
			t.Fatal(err)
		}
		wantLines(t, fmt.Sprintf("append %d failed once", k), out.Lines, p.mem.Lines)
		wantSame(t, fmt.Sprintf("append %d failed once: state", k), l.State(), p.state())
	}
}

// Settle gives back the steps that were recorded before one failed.
func TestSettleFails(t *testing.T) {
	p := bench(t, 7).until(session.ForWind)
	cut := len(p.mem.Lines) - 2 // the sweep's close and the wind that follows are gone
	s, err := session.Fold(p.mem.Lines[:cut], nil)
	if err != nil {
		t.Fatal(err)
	}
	l := session.NewLive(s, &failing{at: 2})
	steps, err := l.Settle(begin)
	if len(steps) != 1 || !errors.Is(err, errFull) {
		t.Fatalf("%d steps, error %v, want 1 and the cause", len(steps), err)
	}
	if _, ok := steps[0].Event.(session.Swept); !ok {
		t.Errorf("kept %T, want the sweep's close", steps[0].Event)
	}
	wantSame(t, "state", l.State(), steps[0].After)
}

// A journal cut after any event, between an entry and its consequences too, goes on to the same
// lines and the same state.
func TestCutAtEveryEvent(t *testing.T) {
	p := everyKind(t)
	uncut := records(t, p.mem.Lines)
	between := 0
	for cut := range len(uncut) {
		s, err := session.Fold(p.mem.Lines[:cut], nil)
		if err != nil {
			t.Fatal(err)
		}
		if _, due := session.Follow(s); due {
			between++
		}
		var out session.Memory
		l := session.NewLive(s, &out)
		if err := goOn(t, l, uncut); err != nil {
			t.Fatalf("cut after event %d: %v", cut, err)
		}
		wantLines(t, fmt.Sprintf("cut after event %d", cut), out.Lines, p.mem.Lines[cut:])
		wantSame(t, fmt.Sprintf("cut after event %d: state", cut), l.State(), p.state())
	}
	if between < 10 {
		t.Errorf("%d cuts fall between an entry and its consequences, want many", between)
	}
}

// Settle does nothing where nothing is due, and Do leaves nothing due.
func TestNothingIsLeftDue(t *testing.T) {
	p := everyKind(t)
	for _, ph := range phases {
		q := ph.make(t)
		if steps, err := q.live.Settle(begin); len(steps) != 0 || err != nil {
			t.Errorf("%s: %d steps were still due (%v)", ph.name, len(steps), err)
		}
	}
	for i, st := range p.steps[1:] {
		if st.Before.Events != i+1 || st.After.Events != i+2 {
			t.Fatalf("step %d goes from event %d to %d", i+2, st.Before.Events, st.After.Events)
		}
		wantSame(t, fmt.Sprintf("between steps %d and %d", i+1, i+2), st.Before, p.steps[i].After)
	}
}

// A memory keeps its own copy of a line.
func TestMemoryCopies(t *testing.T) {
	var m session.Memory
	line := []byte(`{"v":1}`)
	if err := m.Append(line); err != nil {
		t.Fatal(err)
	}
	line[1] = 'x'
	if string(m.Lines[0]) != `{"v":1}` {
		t.Errorf("line is %s after its buffer was used again", m.Lines[0])
	}
}

// The time of a record is what the command was given, to the millisecond and in UTC.
func TestTimesAreGiven(t *testing.T) {
	p := &player{t: t, mem: &session.Memory{}}
	p.live = session.NewLive(session.State{}, p.mem)
	when := time.Date(2031, 12, 31, 23, 59, 59, 999_999_999, time.FixedZone("workshop", -7*3600))
	if _, err := p.live.Do(session.Open{Opened: benchOpened(t)}, when); err != nil {
		t.Fatal(err)
	}
	if r := records(t, p.mem.Lines)[0]; !r.T.Equal(when.Truncate(time.Millisecond)) {
		t.Errorf("recorded at %v, want %v", r.T, when.Truncate(time.Millisecond))
	}
}
