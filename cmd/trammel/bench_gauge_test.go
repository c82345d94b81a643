package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
	"example.org/trammel/tui/theme"
)

// From a key that has been read to the page that shows what it did, without the terminal and the frame clock that BenchmarkKeyBesideAGauge
// has besides: at a station, while a thousand figures a second of a needle that moves come in, and while none does. The messages are
// taken one by one and each page is drawn, as the terminal library does it. Two runs (-benchtime 250x, two cores that others used
// too), 99 of 100 keys: 1.4 and 1.6 ms; 1.8 and 1.3 ms where nothing comes.
func BenchmarkKeyToPageBesideAGauge(b *testing.B) {
	for _, sends := range []bool{false, true} {
		b.Run(fmt.Sprintf("sends=%v", sends), func(b *testing.B) {
			o := testdata.Setting(b, practice.BenchJob, practice.BenchMachine)
			live := session.NewLive(session.State{}, &session.Memory{})
			for _, c := range []session.Command{session.Open{Opened: o}, session.Confirm{}, session.Confirm{}, session.Confirm{}} {
				if _, err := live.Do(c, time.Now()); err != nil {
					b.Fatal(err)
				}
			}
			reader, err := gauge.NewReader(gauge.Usual(), geom.Millimetre)
			if err != nil {
				b.Fatal(err)
			}
			f := &feed{reader: reader, in: make(chan fed), done: make(chan struct{})}
			cable := f.forScreen(world{now: time.Now}, live.State().Set)
			lines := 0
			if sends {
				f.over.Go(func() { lines = sendsFast(f) })
			}
			p := drawn{t: b, done: f.done, in: make(chan message),
				model: tui.NewModel(tui.Config{Live: live, Now: time.Now, Cable: cable},
					theme.New(lipgloss.NewRenderer(io.Discard), false))}
			begun := time.Now()
			all := p.keys(b.N)
			lasted := time.Since(begun)
			close(f.done)
			f.over.Wait()
			slices.Sort(all)
			b.ReportMetric(float64(all[len(all)/2].Microseconds())/1e3, "median-ms")
			b.ReportMetric(float64(all[len(all)*99/100].Microseconds())/1e3, "p99-ms")
			b.ReportMetric(float64(lines)/lasted.Seconds(), "lines/s")
		})
	}
}

// sendsFast sends a thousand figures a second until the feed is ended, and returns how many they were.
func sendsFast(f *feed) (n int) {
	every := time.NewTicker(time.Millisecond)
	defer every.Stop()
	for begun := time.Now(); ; {
		select {
		case <-f.done:
			return n
		case at := <-every.C:
			for ; n < int(at.Sub(begun)/time.Millisecond); n++ { // those that the ticker left out too
				if !f.send(fed{bytes: fmt.Appendf(nil, "%+.3f mm\r\n", 0.001*float64(n%300)), at: at}) {
					return n
				}
			}
		}
	}
}

// message is what a screen is sent; a key has been read at a time.
type message struct {
	tea.Msg
	read time.Time
}

// drawn is a screen that is drawn behind each message.
type drawn struct {
	t     testing.TB
	model tea.Model
	in    chan message
	done  chan struct{}
}

// does has a command carried out beside all else.
func (p *drawn) does(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	go func() {
		if msg := cmd(); msg != nil {
			select {
			case p.in <- message{Msg: msg}:
			case <-p.done:
			}
		}
	}()
}

// keys types digits and clears them, n times at times by chance, and returns how long each took until it was drawn.
func (p *drawn) keys(n int) (all []time.Duration) {
	p.does(p.model.Init())
	go func() {
		p.in <- message{Msg: tea.WindowSizeMsg{Width: 80, Height: 24}}
		chance := rand.New(rand.NewPCG(4, 8))
		for range n {
			for _, key := range "1/" {
				time.Sleep(20*time.Millisecond + time.Duration(chance.IntN(20_000))*time.Microsecond)
				p.in <- message{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{key}}, time.Now()}
			}
		}
	}()
	for before := ""; len(all) < 2*n; {
		m := <-p.in
		if several, ok := m.Msg.(tea.BatchMsg); ok {
			for _, cmd := range several {
				p.does(cmd)
			}
			continue
		}
		var cmd tea.Cmd
		p.model, cmd = p.model.Update(m.Msg)
		page := p.model.View()
		if !m.read.IsZero() {
			if all = append(all, time.Since(m.read)); page == before {
				p.t.Fatalf("key %d does nothing:\n%s", len(all), page)
			}
		}
		before = page
		p.does(cmd)
	}
	return all
}
