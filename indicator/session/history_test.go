package session_test

import (
	"bytes"
	"fmt"
	"testing"

	"example.org/trammel/indicator/session"
)

// Wherever one steps to, in whatever order, there stands what the live session showed there.
func TestHistoryIsLive(t *testing.T) {
	p := everyKind(t)
	p.hands = near42(0.1, 0.1, -0.1)
	p.do(session.Open{Opened: benchOpened(t)})
	for p.until(session.ForReading); len(p.steps) < 3*64; p.do(session.Again{}) {
		p.answer(3)
	}
	h, err := session.NewHistory(p.mem.Lines)
	if err != nil || h.Len() != len(p.steps) {
		t.Fatalf("%d events, %v, want %d", h.Len(), err, len(p.steps))
	}
	for i := range p.steps {
		n := (i*89)%len(p.steps) + 1 // to and fro: 89 shares no factor with what it is taken by below
		r, st, ok := h.Step(n)
		if !ok || r.N != n {
			t.Fatalf("event %d is not there: %+v", n, r)
		}
		wantSame(t, fmt.Sprintf("step %d", n), st, p.steps[n-1])
		wantSame(t, fmt.Sprintf("state after event %d", n), h.State(n), p.steps[n-1].After)
	}
	for _, cut := range []int{0, 1, 63, 64, 65, 130, len(p.steps)} {
		short, _ := session.NewHistory(p.mem.Lines[:cut])
		var more []session.Record
		for n := cut + 1; n <= h.Len(); n++ {
			r, _ := h.Record(n)
			more = append(more, r)
		}
		told := cut
		longer := short.And(more, func(st session.Step) {
			told++
			wantSame(t, fmt.Sprintf("step %d told behind %d", told, cut), st, p.steps[told-1])
		})
		for _, n := range []int{1, 63, 64, 65, 128, 129, h.Len()} {
			wantSame(t, fmt.Sprintf("state %d of a history grown behind %d", n, cut), longer.State(n), h.State(n))
		}
		if told != h.Len() || short.Len() != cut {
			t.Errorf("grown behind %d: %d steps told, the shorter has %d", cut, told, short.Len())
		}
	}
	wantSame(t, "state before all", h.State(-3), session.State{})
	wantSame(t, "state beyond the end", h.State(h.Len()+5), p.state())
	for _, n := range []int{-1, 0, h.Len() + 1} {
		if _, _, ok := h.Step(n); ok {
			t.Errorf("event %d of %d is there", n, h.Len())
		}
	}
}

// A line that cannot be used ends the history in front of it.
func TestHistoryStops(t *testing.T) {
	p := bench(t, 7).until(session.ForNothing)
	lines := append([][]byte(nil), p.mem.Lines...)
	lines[8] = bytes.Replace(lines[8], []byte(`"k":"reading"`), []byte(`"k":"sounded"`), 1)
	h, err := session.NewHistory(lines)
	if le := lineError(t, err); le.Number != 9 || le.Program != "trammel test" {
		t.Errorf("stopped at line %d of %q, want 9 of trammel test", le.Number, le.Program)
	}
	if h.Len() != 8 {
		t.Errorf("%d events, want 8", h.Len())
	}
	wantSame(t, "state before the bad line", h.State(9), p.steps[7].After)
}
