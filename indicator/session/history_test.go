package session_test

import (
	"fmt"
	"testing"

	"example.org/trammel/indicator/session"
)

// history decodes a journal's lines.
func history(t testing.TB, lines [][]byte) *session.History {
	t.Helper()
	records := make([]session.Record, len(lines))
	for i, line := range lines {
		var err error
		if records[i], err = session.Decode(i+1, line); err != nil {
			t.Fatal(err)
		}
	}
	return session.HistoryOf(records, nil)
}

// Wherever one steps to, in whatever order, there stands what the live session showed there.
func TestHistoryIsLive(t *testing.T) {
	p := everyKind(t)
	p.hands = near42(0.1, 0.1, -0.1)
	p.do(session.Open{Opened: benchOpened(t)})
	for p.until(session.ForReading); len(p.steps) < 3*64; p.do(session.Restart{}) {
		p.answer(3)
	}
	h := history(t, p.mem.Lines)
	if h.Len() != len(p.steps) {
		t.Fatalf("%d events, want %d", h.Len(), len(p.steps))
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
		short := history(t, p.mem.Lines[:cut])
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
