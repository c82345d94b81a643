package tui_test

import (
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
)

// The screen of the fifth station, with a fit, its picture and the large letters, in colours. The
// terminal library draws it after every message.
func BenchmarkView80x24(b *testing.B) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(b, options{opened: opened(b, nil), colour: termenv.ANSI256}), 5, nothing)
	b.ReportAllocs()
	for b.Loop() {
		if d.model.View() == "" {
			b.Fatal("nothing is drawn")
		}
	}
}

// One key that is typed into the entry.
func BenchmarkKey(b *testing.B) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(b, options{opened: opened(b, nil), colour: termenv.ANSI256}), 5, nothing)
	key := char('x')
	b.ReportAllocs()
	for b.Loop() {
		d.model, _ = d.model.Update(key)
	}
	d.Waits(session.ForReading)
}

// Drawing allocates a text for every line and little else; styles are built once. About 600 were
// counted when this was written.
func TestViewAllocates(t *testing.T) {
	const most = 1000
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, options{opened: opened(t, nil), colour: termenv.ANSI256}), 5, nothing)
	if n := testing.AllocsPerRun(20, func() { _ = d.model.View() }); n > most {
		t.Errorf("a screen of 80 × 24 takes %v allocations, want at most %d", n, most)
	}
}
