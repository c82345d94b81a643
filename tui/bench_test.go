package tui_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// The screen of the fifth station, with a fit, its picture and the large letters, in colours. The
// terminal library draws it after every message. One run on two shared cores: 0.6 ms.
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

// long is a journal of n events, settings of every kind of step one behind the other.
func long(b *testing.B, n int) []session.Record {
	b.Helper()
	var from, out []session.Record
	for _, name := range []string{"v1-misread.jsonl", "v1-practice-7.jsonl"} { // each ends accepted
		from = append(from, records(b, name)...)
	}
	for i := range n {
		r := from[i%len(from)]
		r.N, r.T = i+1, begin.Add(time.Duration(i)*20*time.Second)
		out = append(out, r)
	}
	return out
}

// again is one setting of n events that never ends: its sweep is begun anew time and again.
func again(b *testing.B, n int) []session.Record {
	b.Helper()
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(b, options{opened: opened(b, nil)}), 4, nothing)
	var from []session.Record
	for i, l := range d.mem.Lines {
		r, err := session.Decode(i+1, l)
		if err != nil {
			b.Fatal(err)
		}
		from = append(from, r)
	}
	first := slices.IndexFunc(from, func(r session.Record) bool { _, ok := r.Event.(session.Took); return ok })
	out := slices.Clone(from)
	for len(out) < n {
		out = append(out, session.Record{Event: session.Restarted{}})
		out = append(out, from[first:]...)
	}
	for i := range out {
		out[i].N, out[i].T = i+1, begin.Add(time.Duration(i)*20*time.Second)
	}
	return out[:n]
}

// One step of a replay with its screen, in long journals: on, back, and to places by chance, as the keys for trials
// and surprises jump. Each place is stepped to three times and the least counts, for the machine has other work; the
// worst place is told beside the median one. One run (-benchtime 1000x, load 2 and more of others), 2000 and 20 000
// events: median 0.5 ms in one long setting, 1.0 ms in many, 2.2 ms at the worst place.
func BenchmarkReplayStep(b *testing.B) {
	for name, events := range map[string][]session.Record{"settings-2000": long(b, 2000), "settings-20000": long(b, 20000),
		"one-2000": again(b, 2000), "one-20000": again(b, 20000)} {
		m := tui.NewReplay(tui.ReplayConfig{Events: events, After: time.After}, colours(termenv.ANSI256, false))
		for _, way := range []string{"on", "back", "anywhere"} {
			b.Run(name+"/"+way, func(b *testing.B) { steps(b, m, len(events), way) })
		}
	}
}

func steps(b *testing.B, m tui.Replay, of int, way string) {
	sized, _ := m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	chance, n := rand.New(rand.NewPCG(3, 5)), 0
	var worst time.Duration
	var all []time.Duration
	for b.Loop() {
		switch way {
		case "on":
			n = n%of + 1
		case "back":
			n = (n+of-2)%of + 1
		default:
			n = 1 + chance.IntN(of)
		}
		least := time.Hour
		for range 3 {
			start := time.Now()
			if sized.(tui.Replay).At(n).View() == "" {
				b.Fatal("nothing is drawn")
			}
			least = min(least, time.Since(start))
		}
		worst, all = max(worst, least), append(all, least)
	}
	slices.Sort(all)
	b.ReportMetric(float64(all[len(all)/2].Microseconds())/1e3, "median-ms")
	b.ReportMetric(float64(worst.Microseconds())/1e3, "worst-ms")
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
