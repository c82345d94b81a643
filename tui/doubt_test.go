package tui_test

import (
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
)

// doubting is a screen on which station 5 was read ten divisions too high: the ring stands
// concentric, so every station reads 0.100, and 0.200 stands there.
func doubting(t *testing.T) *driver {
	t.Helper()
	d := screen(t, options{opened: benchOpened(t), colour: termenv.Ascii}).Size(80, 24)
	for range 20 {
		if d.prompt().Waits == session.ForReading {
			break
		}
		d.Enter()
	}
	for _, m := range []string{"0.1", "0.1", "0.1", "0.1", "0.2", "0.1"} {
		d.Type(m).Enter()
	}
	return d.Waits(session.ForReading).Expect(
		Line("▸", " 5 ", "+0.200", "?"),
		Line("does not fit", "ten divisions?", "0.100"),
		Line("c correct it", "k keep it", "s leave it out"))
}

// A reading in doubt is read again, corrected, kept or left out, each with one key or a number, and
// each can be taken back.
func TestDoubt(t *testing.T) {
	d := doubting(t).Type("c").Waits(session.ForWind).Readings(0.1, 0.1, 0.1, 0.1, 0.1, 0.1)
	d.Type("/").Readings(0.1, 0.1, 0.1, 0.1, 0.2, 0.1).Expect(Line("does not fit"))

	d.Type("0.102").Enter().Waits(session.ForWind).Readings(0.1, 0.1, 0.1, 0.1, 0.102, 0.1)
	d.Type("/").Readings(0.1, 0.1, 0.1, 0.1, 0.2, 0.1)

	d.Type("s")
	if s := d.state(); s.Sweep.Readings() != 5 || !s.Sweep.Stations[4].Skipped {
		t.Errorf("s: %d readings, station 5 left out %v; want 5, true", s.Sweep.Readings(), s.Sweep.Stations[4].Skipped)
	}
	d.Type("/").Type("k")
	if s := d.state(); !s.Sweep.Stations[4].Kept || s.Sweep.Stations[4].Reading != 0.2 || s.Doubt != nil {
		t.Errorf("k: station %+v, doubt %v; want it kept at 0.2, no doubt", s.Sweep.Stations[4], s.Doubt)
	}
}

// Where no slip explains the reading, c says that there is nothing to take.
func TestDoubtWithoutACause(t *testing.T) {
	d := doubting(t).Type("0.243").Enter() // asked for once only: it stands, and the sweep goes on
	if s := d.state(); s.Doubt != nil || s.Sweep.Stations[4].Reading != 0.243 {
		t.Errorf("read again as 0.243: doubt %v, station %+v", s.Doubt, s.Sweep.Stations[4])
	}
	d = screen(t, options{opened: benchOpened(t), colour: termenv.Ascii}).Size(80, 24)
	for range 20 {
		if d.prompt().Waits == session.ForReading {
			break
		}
		d.Enter()
	}
	for _, m := range []string{"0.1", "0.1", "0.1", "0.1", "0.243", "0.1"} {
		d.Type(m).Enter()
	}
	d.Expect(Line("does not fit", "more than chance allows")).Type("c").
		Expect(Line("no value is proposed")).Readings(0.1, 0.1, 0.1, 0.1, 0.243, 0.1)
}
