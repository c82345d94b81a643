package lines_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

var st1970 = time.Unix(0, 0)

// What is said, and in which order, of each command.
func TestOrder(t *testing.T) {
	s := begin(t, bench(t, func(o *session.Opened) { o.Job.Target.Tolerance, o.Job.Dial.Repeatability = 0.002, 0.01 }))
	for _, c := range []struct {
		do   session.Command
		want string
	}{
		{session.Note{Text: "plate"}, "noted load"},
		{session.Confirm{}, "load"},
		{session.Undo{}, "undone load"},
		{session.Confirm{}, "load"},
		{session.Confirm{}, "load"},
		{session.Confirm{}, "ask"},
		{session.Take{Reading: 0.001}, "reading ask"},
		{session.Skip{Off: session.Free}, "skipped ask"},
		{session.Undo{}, "undone ask"},
		{session.Restart{}, "again ask"},
		{session.Take{}, "reading ask"},
		{session.Take{}, "reading ask"},
		{session.Take{}, "reading ask"},
		{session.Enough{}, "fit settled"},
		{session.Undo{}, "undone ask"},
		{session.Take{}, "reading ask"},
		{session.Take{}, "reading ask"},
		// The planned stations are in and nothing is decided: the fit is told before going on.
		{session.Take{}, "reading fit ask"},
		{session.Take{}, "reading fit ask"},
		{session.Skip{}, "skipped ask"},
		{session.Take{}, "reading fit ask"},
		{session.Take{}, "reading fit ask"},
		{session.Take{}, "reading fit ask"},
		{session.Take{}, "reading fit settled"},
		{session.Note{Text: "so be it"}, "noted settled"},
		{session.Undo{}, "undone settled"},
		{session.Restart{}, "again ask"},
		{session.Take{Reading: 0.3}, "reading ask"},
		{session.Take{Reading: 0.3}, "reading ask"},
		{session.Take{Reading: 0.3}, "reading ask"},
		{session.Take{Reading: 0.3}, "reading ask"},
		{session.Take{Reading: 0.3}, "reading ask"},
		{session.Take{Reading: 0.3}, "reading fit wind"},
		{session.Confirm{}, "ask"},
		{session.Undo{}, "undone wind"},
	} {
		s.do(c.do)
		if got := s.kinds(); got != c.want {
			t.Fatalf("%T %+v: said %q, want %q", c.do, c.do, got, c.want)
		}
	}
}

// Further stations: `of` grows with them.
func TestOfGrows(t *testing.T) {
	s := begin(t, bench(t, func(o *session.Opened) { o.Job.Target.Tolerance, o.Job.Dial.Repeatability = 0.002, 0.01 })).loaded()
	for n := 1; n <= 11; n++ {
		s.do(session.Take{})
		ask, ok := s.said[len(s.said)-1].(lines.Ask)
		of := 6
		if n >= of {
			of = 12 // a second round, between the stations of the first
		}
		if !ok || ask.Station != n+1 || ask.Of != of {
			t.Errorf("after %d readings: %+v, want station %d of %d", n, s.said[len(s.said)-1], n+1, of)
		}
	}
}

func TestText(t *testing.T) {
	st := begin(t, bench(t, nil)).loaded().live.State()
	_, refusal := session.Decide(st, session.Accept{})
	ring := begin(t, bench(t, func(o *session.Opened) { o.Machine.Head.Zero = 30 * geom.Degree })).loaded()
	for _, c := range []struct {
		line lines.Line
		want string
	}{
		{lines.Resumed(&st), "resumed: trial 1, 0 readings"},
		{lines.Paused(31), "paused; the journal holds 31 lines"},
		{lines.Refused("abc\x1b", errors.New("is not a number")), `not taken: "abc\x1b": is not a number`},
		{lines.Refused("accept", refusal), `not taken: "accept": nothing has settled yet (take the reading that is asked for)`},
		{ring.said[0], "trial 1, station 1 of 6: swing to 0° (ring 330°)"},
	} {
		if got := c.line.Text(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// Where no circle fits and no station is left, the reason is told, and what to do.
func TestStuck(t *testing.T) {
	s := begin(t, bench(t, func(o *session.Opened) { o.Job.Dial.From, o.Job.Dial.To = 0, 0 })).loaded()
	// Twice round: six stations, and six halfway between them.
	for _, r := range []float64{50, 25, -25, -50, -25, 25, 43, 0, -43, -43, 0, 43} {
		s.do(session.Take{Reading: r})
	}
	got := s.said[len(s.said)-1].Text()
	if s.kinds() != "reading fit stuck" || !strings.HasPrefix(got, "trial 1: no circle fits these readings ") ||
		!strings.HasSuffix(got, "; undo the reading that is wrong, or say again") {
		t.Errorf("%s: %q, want why no circle fits, and what to do", s.kinds(), got)
	}
	s = begin(t, bench(t, nil)).loaded()
	for range 12 {
		s.do(session.Skip{})
	}
	if got := s.said[len(s.said)-1].Text(); got != "trial 1: 0 distinct stations, need at least 3; undo the reading that is wrong, "+
		"or say again" {
		t.Errorf("every station skipped: %q", got)
	}
}

// The expected reading is not told before the station has been read: it would pull the eye.
func TestTextHidesExpected(t *testing.T) {
	asked := 0
	steps, _ := play(t, 7, bench(t, nil))
	for _, l := range say(steps, geom.Millimetre) {
		ask, ok := l.(lines.Ask)
		if !ok || ask.Expected == nil {
			continue
		}
		asked++
		silent := ask
		silent.Expected = nil
		if ask.Text() != silent.Text() {
			t.Errorf("%q tells what is expected", ask.Text())
		}
	}
	if asked == 0 {
		t.Error("no station with an expected reading was asked for")
	}
}

// No text begins or ends with a blank, and none is empty: a screen reader speaks them all.
func TestEveryText(t *testing.T) {
	for _, l := range everything(t) {
		if s := l.Text(); s == "" || strings.TrimSpace(s) != s || strings.Contains(s, "NaN") || strings.Contains(s, "%!") {
			t.Errorf("%T: %q", l, s)
		}
	}
}
