package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/trammel/geom"
	reports "example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
	"example.org/trammel/tui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// FuzzReplay gives a replay events that nobody has decided, in any order: a file may come from anywhere,
// with its checks in order. The payloads stand on lines of their own, without a check. Nothing panics.
func FuzzReplay(f *testing.F) {
	for _, name := range []string{"every-kind", "misread", "parked"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "journal", "v1-"+name+".jsonl"))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text, uint8(9), uint8(30))
		f.Add(text, uint8(12), uint8(12))
	}
	f.Fuzz(func(t *testing.T, text []byte, cut, again uint8) {
		// Lines are cut out and told twice, so that events stand where none was decided.
		lines := bytes.Split(text, []byte("\n"))
		if n := len(lines); n > int(cut) {
			lines = append(append(lines[:cut:cut], lines[min(n, int(cut)+1):]...), lines[min(n-1, int(again)):]...)
		}
		var all []session.Record
		for _, l := range lines {
			if i := bytes.LastIndex(l, []byte(`,"c":`)); i >= 0 {
				l = append(l[:i:i], '}')
			}
			r, ok := renumbered(l, len(all)+1)
			if _, opens := r.Event.(session.Opened); !ok || len(all) == 0 && !opens {
				continue
			}
			all = append(all, r)
			if len(all) == 60 {
				break
			}
		}
		if len(all) == 0 {
			return
		}
		w := world{out: io.Discard, err: io.Discard}
		if err := sayRecords(w, &common{}, all); err != nil {
			t.Fatal(err)
		}
		r := reports.New("fuzz", all, func(u geom.Unit) geom.Unit { return u })
		if err := r.HTML(io.Discard); err != nil {
			t.Fatal(err)
		}
		_ = r.Text()
		if err := r.CSV(io.Discard); err != nil {
			t.Fatal(err)
		}
		h := reports.HistoryOf("", []reports.Journal{{Name: "fuzz", Events: all}}, geom.Millimetre)
		_ = h.Text()
		at := 1 + int(again)%len(all)
		var m tea.Model = tui.NewReplay(tui.ReplayConfig{Events: all, At: at, After: time.After}, theme.New(nil, true))
		for _, msg := range []tea.Msg{tea.WindowSizeMsg{Width: 80, Height: 24}, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("x")},
			tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("t")}, tea.KeyMsg{Type: tea.KeyEnter}} {
			m, _ = m.Update(msg)
			_ = m.View()
		}
	})
}

// renumbered decodes a payload whatever number it has.
func renumbered(l []byte, n int) (session.Record, bool) {
	for i := range 200 {
		r, err := session.Decode(i, l)
		if err == nil {
			r.N = n
			return r, true
		}
		if !bytes.Contains([]byte(err.Error()), []byte("event number")) {
			return r, false
		}
	}
	return session.Record{}, false
}
