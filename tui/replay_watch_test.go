package tui_test

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/tui"
)

// watching opens the replay of a journal's first events beside its writer; every look takes the next of
// what is to be seen.
func watching(t *testing.T, n int, looks ...tui.Seen) *driver {
	t.Helper()
	w, next := &waits{}, 0
	d := &driver{t: t}
	d.model = tui.NewReplay(tui.ReplayConfig{Events: records(t, "v1-misread.jsonl")[:n], At: n, After: w.after,
		Writer: "process 4711 since 09:12",
		Watch:  func() tui.Seen { next++; return looks[next-1] }}, colours(termenv.Ascii, false))
	d.Size(80, 24).Hold().lay(d.model.Init())
	return d
}

// At the last event the screen goes along with the writer; elsewhere it stays, and the line of time grows.
func TestReplayWatches(t *testing.T) {
	all := records(t, "v1-misread.jsonl")
	seen := func(from, to int) tui.Seen {
		return tui.Seen{Events: all[from:to], Writer: "process 4711 since 09:12", Writes: true}
	}
	d := watching(t, 7, seen(7, 7), seen(7, 9), seen(9, 12), tui.Seen{Events: all[12:58]})
	const looks = "written by process 4711 since 09:12; looking on, nothing is taken down here"
	d.Expect(Line("event 7 of 7"), Line(looks))
	d.one()
	d.Expect(Line("event 7 of 7"), Line(looks))
	d.one()
	d.Expect(Line("event 9 of 9"), Line(looks))
	for _, name := range []string{"0", "-", "/", "+", "a", "u", "k"} {
		d.Type(name).Expect(Line("not taken down: process 4711 since 09:12 writes this journal"), Nowhere(looks))
	}
	d.Burst("0.123\r").Expect(Line("not taken down: process 4711"))
	d.Press(tea.KeyEnter).Expect(Line("event 9 of 9"), Line("not taken down: process 4711"))
	d.Type("*").Type(d.number("one event back")).Enter().Expect(Line("event 8 of 9"), Line(looks))
	d.one()
	d.Expect(Line("event 8 of 12"), Line(looks))
	d.one()
	d.Expect(Line("event 8 of 58"), Line("its writer has ended; q leaves, dial --resume goes on with it"))
	d.Type("7").Expect(Line("this only looks on"))
	whole, _ := replayed(t, "v1-misread.jsonl", 30, false)
	d.Press(tea.KeyHome)
	for range 29 {
		d.Press(tea.KeyRight)
	}
	got, want := strings.Split(d.Screen(), "\n")[:16], strings.Split(whole.Screen(), "\n")[:16]
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("row %d of event 30 after looking on\n%s\nwant what a replay shows\n%s", i+1, got[i], want[i])
		}
	}
}

// What the writer's disk has failed on is taken back; what cannot be read ends the looking.
func TestReplayWatchesTakenBack(t *testing.T) {
	all := records(t, "v1-misread.jsonl")
	d := watching(t, 9, tui.Seen{Events: all[:8], Anew: true, Writes: true}, tui.Seen{Events: all[8:10], Writes: true,
		Err: errors.New("j.jsonl:11: damaged")})
	d.one()
	d.Expect(Line("event 8 of 8"), Line("written by another program; looking on"))
	d.one()
	d.Expect(Line("event 10 of 10"), Line("j.jsonl:11: damaged; what stands before it is here"))
	if len(d.held) != 0 {
		t.Errorf("%d looks are still to come, want none", len(d.held))
	}
}

// A correction that is being typed is not disturbed.
func TestReplayWatchesTyping(t *testing.T) {
	all := records(t, "v1-misread.jsonl")
	d := watching(t, 7, tui.Seen{Events: all[7:9], Writes: true}, tui.Seen{})
	d.Type("c-0.5")
	d.one()
	d.Expect(Line("event 7 of 9"), Line("it read, in truth (mm): -0.5"))
	d.Type("88").Enter().Expect(Line("as it would have gone"))
}
