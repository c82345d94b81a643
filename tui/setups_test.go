package tui_test

import (
	"math"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

func space() tea.KeyMsg { return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}} }

// Two numbers with a space, or a semicolon, between them; each with a decimal comma; typed, or sent by a cable in one
// message. One number alone is not taken, and neither is a space where one reading is asked for.
func TestPointsByKeys(t *testing.T) {
	d := screen(t, options{opened: testdata.Setting(t, practice.PointsJob, practice.PointsMachine), colour: termenv.Ascii})
	at := func() []geom.Point {
		var out []geom.Point
		s := d.state()
		for _, st := range s.Sweep.Stations[:s.Sweep.N] {
			out = append(out, st.At)
		}
		return out
	}
	d.Type("39,345").Send(space())
	d.Type("-3,21").Enter()
	d.Type("12.34;24").Enter()
	d.Burst("-15.005 -3.21\r")
	want := []geom.Point{{X: 39.345, Y: -3.21}, {X: 12.34, Y: 24}, {X: -15.005, Y: -3.21}}
	for i, w := range want {
		if got := at(); len(got) != len(want) || math.Hypot(got[i].X-w.X, got[i].Y-w.Y) > 1e-9 {
			t.Fatalf("points %v, want %v", got, want)
		}
	}
	d.Type("12.34").Enter().Expect(Line("12.34 is x; now y")).Enter()
	if s := d.Screen(); len(at()) != 3 || !strings.Contains(s, "1 numbers, need x and y") {
		t.Errorf("one number was taken for a point:\n%s", s)
	}
	d.Send(space()).Enter()
	d.Esc()
	if len(at()) != 3 || d.prompt().Waits != session.ForReading {
		t.Errorf("a space alone did something: %v", at())
	}
}

// The simulated hands are set by keys alone: d touches, or reads the dial, Enter winds or taps, a and Enter accept. What is
// accepted truly stands within.
func TestSetupsByKeys(t *testing.T) {
	for name, c := range map[string]struct {
		draw         func(uint64) practice.World
		job, machine []byte
	}{
		"points":  {practice.BenchPoints, practice.PointsJob, practice.PointsMachine},
		"taps":    {practice.BenchTaps, practice.TableJob, practice.TapsMachine},
		"set-off": {practice.BenchSetOff, practice.SetOffJob, practice.SetOffMachine},
	} {
		for seed := uint64(1); seed <= 4; seed++ {
			m := practice.New(c.draw(seed), seed)
			d := screen(t, options{opened: testdata.Setting(t, c.job, c.machine), seed: seed, bench: m, colour: termenv.Ascii})
			for n := 0; n < 200 && !ended(d); n++ {
				d.Fits(80, 24)
				switch d.prompt().Waits {
				case session.ForReading:
					d.Type("d")
				case session.ForAccept:
					d.Type("a").Enter()
				default:
					d.Enter()
				}
			}
			got, want := m.Truth(), 0.0
			if name == "set-off" {
				want = 42
			}
			if !ended(d) || math.Abs(math.Hypot(got.CentreX, got.CentreY)-want) > 0.02 {
				t.Errorf("%s %d: ended %v, the centre truly lies %.4f off", name, seed, ended(d), math.Hypot(got.CentreX, got.CentreY))
			}
		}
	}
}

func ended(d *driver) bool { s := d.state(); return s.Phase == session.Ended }
