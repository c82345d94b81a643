package tui_test

import (
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
)

// The sixth reading typed on at the first wind, the sweep being closed after five, is asked about, and the page says why it
// was closed. The needle of a ring of 30 whose centre is 0.3 off to the right and 0.2 to the front, swung at 42.05 with the tip
// 12 in, shows at 0°, 60° … 300° what is typed here (the exact distance, by hand). The hand stays on the numeric keypad: * 1
// takes it as the station's, Enter twice as where the slide stopped, which is refused of one so far off.
func TestNumberOfTheNextStationByKeypad(t *testing.T) {
	asked := func() *driver {
		d := screen(t, options{opened: benchOpened(t), colour: termenv.Ascii}).Size(80, 24)
		for d.prompt().Waits == session.ForLoad {
			d.Enter()
		}
		for _, r := range []string{"-.249", ".075", ".374", ".351", ".029"} {
			d.Type(r).Enter()
		}
		d.Waits(session.ForWind).Expect(Line("5 of 6 stations were enough"))
		return d.Type("-.273").Enter().Expect(Line("station 6", "Enter twice"))
	}
	d := asked().Type("*1").Enter().Waits(session.ForWind)
	if s := d.state(); s.Sweep.N != 6 || s.Wonder != nil {
		t.Errorf("*: %d stations, still asked %v; want 6", s.Sweep.N, s.Wonder)
	}
	d = asked().Enter().Expect(Line("Enter once more: the slide stopped there")).Enter()
	if s := d.state(); s.Sweep.N != 5 || s.Winds != nil || s.Wonder == nil {
		t.Error("Enter twice: so far off its goal it is no place to stop, and the question stays")
	}
	d.Type("/")
	if s := d.state(); s.Sweep.N != 5 || s.Wonder != nil || s.Told == nil {
		t.Error("/: want the wind as it was told")
	}
}
