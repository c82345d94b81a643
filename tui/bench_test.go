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
