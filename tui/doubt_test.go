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
	return doubted("0.2")(t, options{opened: benchOpened(t), colour: termenv.Ascii}).Expect(
		Line("▸", " 5 ", "+0.200", "?"),
		Line("does not fit", "ten divisions?", "0.100"),
		Line("type it again", "* 1 takes +0.100", "Enter twice keeps +0.200", "/ undoes"),
		Line("Enter twice: keep", "* list", "c take the proposed", "/ undo"))
}

// The list says which figure would be taken.
func TestListSaysTheProposedFigure(t *testing.T) {
	doubting(t).Type("*").Expect(Line("1  take 0.100 mm in its place"))
}

// lastEvent is the newest line of the journal that a person's key has caused.
func lastEvent(t *testing.T, d *driver) session.Event {
	t.Helper()
	var last session.Event
	for i, line := range d.mem.Lines {
		r, err := session.Decode(i+1, line)
		if err != nil {
			t.Fatal(err)
		}
		switch r.Event.(type) {
		case session.Took, session.Kept, session.Undone, session.Skipped:
			last = r.Event
		}
	}
	return last
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

// The hand stays on the numeric keypad: a number and Enter, the list's first line, Enter twice, and / settle a doubt and
// take it back, as an application keypad sends them too. The journal says which was done.
func TestDoubtFromTheKeypad(t *testing.T) {
	const enter, star, slash = "\x1bOM", "\x1bOj", "\x1bOo" // VT100 and xterm, application keypad
	for name, keys := range map[string]struct{ enter, star, slash string }{
		"digits and signs": {"\r", "*", "/"}, "application keypad": {enter, star, slash},
	} {
		d := doubting(t)
		d.t = named{t, name}
		d.Bytes(keys.star, "1", keys.enter).Readings(0.1, 0.1, 0.1, 0.1, 0.1, 0.1).Expect(Line("as proposed"))
		if e, ok := lastEvent(t, d).(session.Took); !ok || !e.Corrected || e.Again != 5 {
			t.Errorf("%s: * 1 is on record as %+v, want station 5 corrected", name, e)
		}
		d.Bytes(keys.slash).Readings(0.1, 0.1, 0.1, 0.1, 0.2, 0.1).Expect(Line("does not fit"))

		d.Bytes("0.1", keys.enter).Readings(0.1, 0.1, 0.1, 0.1, 0.1, 0.1).Expect(Nowhere("as proposed"))
		if e, ok := lastEvent(t, d).(session.Took); !ok || e.Corrected || e.Again != 5 {
			t.Errorf("%s: 0.1 Enter is on record as %+v, want station 5 read again", name, e)
		}
		d.Bytes(keys.slash)

		d.Bytes(keys.enter).Readings(0.1, 0.1, 0.1, 0.1, 0.2, 0.1).Expect(Line("Enter once more: keep +0.200"))
		if d.state().Doubt == nil {
			t.Fatalf("%s: Enter alone, once, settles the doubt", name)
		}
		d.Bytes(keys.enter)
		if e, ok := lastEvent(t, d).(session.Kept); !ok || e.Station != 5 {
			t.Errorf("%s: Enter twice is on record as %+v, want station 5 kept", name, lastEvent(t, d))
		}
		d.Bytes(keys.slash)
		if d.state().Doubt == nil {
			t.Errorf("%s: / does not take the word back", name)
		}
	}
}

// Another key between the two is no second Enter, and a line that comes in with an end of its own
// never keeps a reading.
func TestDoubtIsNotKeptByChance(t *testing.T) {
	d := doubting(t).Enter().Type("/")
	if d.state().Doubt == nil {
		t.Fatal("/ after Enter does more than drop the question")
	}
	if d.Type("/").state().Doubt != nil {
		t.Fatal("/ does not undo")
	}
	doubting(t).Enter().Esc().Enter().Expect(Line("Enter once more"))
	d = doubting(t).Burst("\r\n").Burst("\r\n")
	if s := d.state(); s.Doubt == nil {
		t.Errorf("empty lines of a cable settle the doubt: %+v", s.Sweep.Stations[4])
	}
	// Typed and thought better of: the list takes what is proposed, not what was begun.
	doubting(t).Type("0.7").Expect(Line("Enter takes it in place of +0.200"), Line("Enter take ")).Type("*1").Enter().
		Readings(0.1, 0.1, 0.1, 0.1, 0.1, 0.1)
}

// Where no slip explains the reading, c says that there is nothing to take.
func TestDoubtWithoutACause(t *testing.T) {
	d := doubting(t).Type("0.243").Enter() // asked for once only: it stands, and the sweep goes on
	if s := d.state(); s.Doubt != nil || s.Sweep.Stations[4].Reading != 0.243 {
		t.Errorf("read again as 0.243: doubt %v, station %+v", s.Doubt, s.Sweep.Stations[4])
	}
	d = doubted("0.243")(t, options{opened: benchOpened(t), colour: termenv.Ascii})
	d.Expect(Line("does not fit", "more than chance allows")).Type("c").
		Expect(Line("no value is proposed")).Readings(0.1, 0.1, 0.1, 0.1, 0.243, 0.1)
	d.Type("*").Expect(Line("1", "the reading in doubt stands"))
}
