package tui_test

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/tui"
)

// stubborn is a sweep of 12 stations in trial n, round a clamp, for all the way round no more than 8 are asked for: whatever is
// wound, the work moves off again before the next sweep.
func stubborn(t testing.TB, n int) (*driver, *stand) {
	t.Helper()
	o := options{opened: opened(t, nil), colour: termenv.ANSI256}
	o.opened.Job.Sweep.Stations, o.opened.Job.Sweep.AtLeast = 12, 12
	o.opened.Job.Sweep.Obstacles = []setup.Obstacle{{From: 5.9, To: 6.1}}
	w := &stand{41.7, -0.11, 0.15}
	d := loaded(t, o)
	stations := 0
	for d.state().Trial < n {
		w.work(d, 1, nothing)
		s := d.state()
		stations = max(stations, s.Sweep.N)
		if s.Sweep.N == 0 && s.Phase == session.Sweeping {
			w.swing, w.ex, w.ey = 42, 0.2, 0.05*float64(s.Trial%3)
		}
	}
	if stations != 12 {
		t.Fatalf("sweeps of %d stations, want 12", stations)
	}
	return d.Waits(session.ForReading), w
}

// From a key's message to the screen that shows what it did, the step with all that it decides included, the disk left
// out: every key of trial 50 with 12 stations, and of the trials behind it. Each key is pressed in three sessions that are
// alike, and the least counts, for the machine has other work; of each by itself 99 of 100 are told too. One run (-benchtime 300x, two
// cores, little else), median and 99 of 100: 0.3 and 0.7 ms at 80 × 24, 0.85 and 2.1 ms at 200 × 50.
func BenchmarkKeyToView(b *testing.B) {
	for _, size := range [][2]int{{80, 24}, {200, 50}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			var alike [3]*driver
			var w *stand
			for i := range alike {
				alike[i], w = stubborn(b, 50)
				alike[i].Size(size[0], size[1])
			}
			var all, each []time.Duration
			press := func(key tea.KeyMsg) {
				least := time.Hour
				for _, d := range alike {
					begun := time.Now()
					if d.Send(key); d.model.View() == "" {
						b.Fatal("nothing is drawn")
					}
					took := time.Since(begun)
					least, each = min(least, took), append(each, took)
				}
				all = append(all, least)
			}
			for b.Loop() {
				switch p := alike[0].prompt(); p.Waits {
				case session.ForReading:
					for _, r := range fmt.Sprintf("%.3f", w.reading(p.Reading.Bearing, alike[0].state().Sweep.N)) {
						press(char(r))
					}
				case session.ForWind:
					w.swing, w.ex, w.ey = 42, 0.2, 0.05
				default:
					b.Fatalf("the session waits for %d, want a reading or a wind", p.Waits)
				}
				press(tea.KeyMsg{Type: tea.KeyEnter})
			}
			slices.Sort(all)
			b.ReportMetric(float64(all[len(all)/2].Microseconds())/1e3, "median-ms")
			b.ReportMetric(float64(all[len(all)*99/100].Microseconds())/1e3, "p99-ms")
			slices.Sort(each)
			b.ReportMetric(float64(each[len(each)*99/100].Microseconds())/1e3, "p99-of-each-ms")
		})
	}
}

// counted is a screen that counts what reaches it, and how often it is drawn.
type counted struct {
	tea.Model
	updates, views *int
}

func (c counted) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && k.Type == tea.KeyCtrlCloseBracket {
		return c, tea.Quit
	}
	*c.updates++
	next, cmd := c.Model.Update(msg)
	return counted{next, c.updates, c.views}, cmd
}

func (c counted) View() string {
	*c.views++
	return c.Model.View()
}

// Whatever arrives, the screen is drawn once for every message that reaches it, and for what concerns none not at all.
func TestDrawnOnceAMessage(t *testing.T) {
	const ends = 3 // before the first message, at the key that ends it, and the library draws once behind that
	cases := []struct {
		name    string
		pieces  []string
		updates int // that keys and steps come to
	}{
		{"nothing", nil, 0},
		{"a mouse that moves, a window that comes and goes", []string{strings.Repeat("\x1b[<35;10;10M", 500),
			strings.Repeat("\x1b[I\x1b[O", 200), strings.Repeat("\x1b[M #!", 200)}, 0},
		{"a reading", []string{"0.12\r"}, 3},       // the burst, Enter, the step
		{"CR LF", []string{"0.12\r\n0.13\r\n"}, 6}, // as many a reading
		{"a held key", []string{"\x1b[A\x1b[A\x1b[A"}, 3},
		{"a paste of 100 kB", []string{"\x1b[200~" + strings.Repeat("1\r", 50_000) + "\x1b[201~"}, 1},
	}
	for _, c := range cases {
		d := loaded(t, real(t, nil))
		updates, views := 0, 0
		in := &chunks{append(slices.Clone(c.pieces), silence, last)}
		var p *tea.Program
		from, filter := tui.Filtered(in, func(msg tea.Msg) { p.Send(msg) })
		p = tea.NewProgram(counted{d.model, &updates, &views}, tea.WithInput(from), tea.WithFilter(filter), tea.WithOutput(io.Discard),
			tea.WithoutSignalHandler())
		if _, err := p.Run(); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		// A step may be on its way still when the last key ends the screen.
		if updates > c.updates || views > updates+ends {
			t.Errorf("%s: %d messages, drawn %d times; want at most %d messages, drawn once each and %d times more", c.name, updates, views,
				c.updates, ends)
		}
	}
}
