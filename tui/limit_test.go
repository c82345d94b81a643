package tui_test

import (
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// number is what to type for a line of the list that is shown.
func (d *driver) number(words string) string {
	d.t.Helper()
	for _, l := range d.model.(interface{ Items() []tui.Item }).Items() {
		if l.Words == words {
			return l.Number
		}
	}
	d.t.Fatalf("no line %q in\n%s", words, d.Screen())
	return ""
}

// From a page that says "inside as long as the reach is right" the list leads to saying how right it is, behind accept alone: a
// number, the limit, Enter, all from a keypad. The page says so from there on, and undo takes it back.
func TestLimitIsStatedFromThePage(t *testing.T) {
	settled := func(tolerance float64) *driver {
		return (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, func(o *session.Opened) {
			o.Job.Stated, o.Job.Target.Tolerance = nil, tolerance
		})), 40, session.ForAccept)
	}
	d := settled(0.02).Expect(Line("inside as long as", "reach")).Type("*")
	d.Expect(Line("1  accept the setting as it stands"), Line("2  how right the reach is"),
		Line("3  how right the reference radius is"))
	d.Type("2").Enter().Expect(Line("the reach may be off by, plus or minus (mm)")).Type("0.004").Enter()
	d.Waits(session.ForAccept).Expect(Line("stated: the reach is right within 0.004 mm (nobody had said)"))
	d.Type("*").Expect(Line("2  how right the reference radius is")).Type(d.number("how right the reach is (now 0.004 mm)")).Enter()
	d.Type("0.25/.05").Enter().Expect(Line("stated: the reach is right within 0.050 mm (it was 0.004 mm)"), Line("undecided"))
	d.Type("/").Type("/")
	s := d.state()
	if s.Set.Job.Stated.Has(indicator.OfReach) || s.Set.Job.Setup.ReachLimit != 0 {
		t.Errorf("taken back: stated %v, limit %v", s.Set.Job.Stated, s.Set.Job.Setup.ReachLimit)
	}
	d.Expect(Line("taken back: what was stated of the reach, 0.004 mm"), Line("inside as long as"))

	// Undecided for want of room alone: said, it is decided.
	d = settled(0.006).Expect(Line("undecided")).Type("*2").Enter().Type("0").Enter().Type("*2").Enter().Type("0").Enter()
	d.Type("*").Type(d.number("how right the dial is")).Enter().Type("0").Enter().Type("*2").Enter().Type("0").Enter()
	s = d.state()
	if f, err := s.Fit(); err != nil || s.Verdicts(&f).Radius != indicator.Inside || len(s.Assumed(&f)) > 0 {
		t.Errorf("all stated: %v, leaning on %v", s.Verdicts(&f), s.Assumed(&f).Names())
	}
	// By the letter, at a station, and a figure that is none is refused.
	d = loaded(t, real(t, nil)).Type("!").Expect(Line("which figure?"), Line("1  how right the reach is"))
	d.Type("1").Enter().Type("3").Enter().Expect(Line("a limit of 3 mm, need 0 to 2 mm"))
	d.Type("!1").Enter().Type("x").Enter().Expect(Line("not a number")).Waits(session.ForReading)
}

// What is typed into the field is seen at any size, and so is all of what it asks.
func TestFieldIsSeen(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 5, nothing)
	d.Type("!1").Enter().Type("0.0015")
	for _, size := range [][2]int{{40, 10}, {44, 14}, {60, 18}, {80, 24}, {200, 50}} {
		d.Size(size[0], size[1])
		if got := read(d); !strings.Contains(got, "0.0015") || !strings.Contains(got, "the reach may be off by, plus or minus (mm)") {
			t.Errorf("%v: the question or what is typed is cut:\n%s", size, d.Screen())
		}
	}
}
