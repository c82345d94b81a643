package pane

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// A wind by the collar that is taken back has been made by the hand: a second one would go into the part. Nothing that turns a handle
// stands in large letters then, until it is confirmed or a sweep has shown where the slide stands.
func TestUndoneWindIsNotToldAgain(t *testing.T) {
	for _, step := range []session.Chore{"", session.LeaveStock, session.LastWind} {
		b := begin(t, func(o *session.Opened) {
			o.Steps, o.Job.Cut = true, &setup.Cut{Cutter: 8, Stock: 0.3}
			byCollar(o)
		})
		for p := b.prompt(); p.Chore.Step != step || p.Waits != session.ForWind; p = b.prompt() {
			switch {
			case p.Waits == session.ForChore && p.TakesReading():
				b.do(session.Skip{})
			case p.Waits == session.ForChore:
				b.do(session.Confirm{})
			default:
				b.answer(1, never)
			}
		}
		b.do(session.Confirm{})
		b.do(session.Undo{})
		v := b.sees(false)
		if next := Next(v, 80, 24); next.Pieces != 1 {
			t.Errorf("%q: told in %d pieces, want one: Enter confirms it", step, next.Pieces)
		}
		got := nextAt(v, 80, 24)
		if !isBig(got, "already wound?", false) || !isBig(got, "Enter, turn nothing", false) {
			t.Errorf("%q: not large that nothing is turned:\n%s", step, got)
		}
		if list := Work(v, 80, 14); !strings.Contains(list, "clockwise") {
			t.Errorf("%q: the list has lost the wind:\n%s", step, list)
		}
		drawn := ""
		for v.Piece = range Next(v, 40, 10).Pieces {
			drawn += nextAt(v, 40, 10) + "\n"
		}
		asked, moves := strings.Index(drawn, "already wound?"), strings.Index(drawn, "not wound yet")
		if asked < 0 || moves < asked || strings.LastIndex(drawn, "clockwise") < moves {
			t.Errorf("%q at 40×10: the question does not stand before the moves:\n%s", step, drawn)
		}
		b.do(session.Confirm{})
		if v = b.sees(false); v.State.TakenBack != nil {
			t.Errorf("%q: confirmed again, and still in doubt", step)
		}
	}
}
