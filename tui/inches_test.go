package tui_test

import (
	"math"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

func inInches(o *session.Opened) { o.Job.Unit, o.Job.Dial.Graduation = geom.Inch, 0.001*25.4 }

// In a field / is the bar of a fraction behind inches and a numerator, and clears everywhere else; at a reading it always
// clears. 1-5/8 in are 41.275 mm, 1/64 in 0.396875 mm and 1-3/16 in 30.1625 mm.
func TestFractionsByKeypad(t *testing.T) {
	d := loaded(t, real(t, inInches))
	d.Type("h")
	for _, c := range []struct{ typed, shows string }{
		{"1-5/8", "1-5/8"}, {"0-3/16", "0-3/16"}, {"1-5/8/7", "7"}, {"3/7", "7"}, {"1-5/8 0-1/64", "1-5/8 0-1/64"}, {"1 5/7", "7"},
		{"1-99/7", "7"}, {"1.5-3/7", "7"}, {"1-/7", "7"},
	} {
		d.Type(c.typed).Expect(Line("swing radius to hold", "(in; empty: none)"), Line(c.shows))
		for range 20 {
			d.Press(tea.KeyBackspace)
		}
	}
	d.Type("1-5/8").Enter().Type("0-1/64").Enter()
	if h := d.state().Hold; h == nil || h.Radius != 41.275 || h.Limit != 0.396875 {
		t.Errorf("held %+v, want 1-5/8 in and 1/64 in", h)
	}
	d.Readings().Type("1-3/").Type("0.01").Enter().Readings(0.254)
	d.Type("wx 1 3/16").Enter()
	s := d.state()
	if x := s.Stand("x"); !x.Known || math.Abs(x.At-30.1625) > 1e-9 {
		t.Errorf("the x slide stands at %+v, want 1-3/16 in", x)
	}
	// In millimetres it clears, whatever stands there.
	loaded(t, real(t, nil)).Type("h1-5/").Expect(Line("(mm; empty: none)"), Nowhere("1-5/")).Type("42").
		Expect(Line("empty: none"), Line("42"))

	o := stepwise(options{opened: benchOpened(t), seed: 7, colour: termenv.Ascii})
	o.opened.Job.Unit = geom.Inch
	a := screen(t, o)
	for range 200 {
		if a.prompt().Chore.Step == session.Measure {
			break
		}
		a.Confirm()
	}
	a.Type("*2").Enter().Type("3-1/64").Enter()
	if w := measuredLast(t, a); w.Value == nil || math.Abs(*w.Value-25.4*(3+1.0/64)/2) > 1e-9 {
		t.Errorf("measured %+v, want the half of 3-1/64 in", w)
	}
}

// A dial whose whole numbers are thousandths says so at every reading, and shows in inches what was taken.
func TestThousandthsAtTheDial(t *testing.T) {
	thousandths := func() *driver {
		return loaded(t, real(t, func(o *session.Opened) { inInches(o); o.Job.Dial.WholeNumbers = indicator.Thousandths }))
	}
	d := thousandths()
	d.Expect(Line("1 of 6", "read (thousandths, or in with a point)"))
	d.Type("-5").Enter().Readings(-0.127).Expect(Line("station 1", "−0.0050 in"))
	d.Type(".012").Enter().Readings(-0.127, 0.3048).Expect(Line("station 2", "0.0120 in"))
	d.Type("b").Expect(Line("the needle showed, and shows now (thousandths, or in with a point)"))
	var all []session.Record
	for i, line := range d.mem.Lines {
		r, err := session.Decode(i+1, line)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, r)
	}
	replay := &driver{t: t, model: tui.NewReplay(tui.ReplayConfig{Events: all, At: len(all)}, colours(termenv.Ascii, false))}
	replay.Size(80, 24).Type("c").Expect(Line("it read, in truth (thousandths, or in with a point): ")).Type("11").Enter()
	replay.Expect(Line("0.0120 in read as 0.0110"))
	// By hand, -5 + 19.7 sin t at 0° to 240°: the centre lies 0.0197 in off, and the page of its wind says it too.
	d = thousandths()
	for _, reading := range []string{"-5", "12", "12", "-5", "-22"} {
		d.Type(reading).Enter()
	}
	d.Expect(Line("wind", "(thousandths"))
}
