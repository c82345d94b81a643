package session_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// An offset slide whose line passes the head axis by h carries the spindle at asin(h/R) beside the head's
// ring (plain trigonometry), so all that is met by the ring is turned by as much. With h stated the first
// winds, by the collar, cure the error that there truly is; without it they go astray by e·h/R.
func TestStatedMissTurnsTheWinds(t *testing.T) {
	for _, h := range []float64{6, -6} {
		for _, stated := range []bool{true, false} {
			o := byCollar(t)
			if stated {
				o.Machine.Miss = h
			}
			w := near42(0, 0.3, -0.2)
			p := open(t, o, &missing{w, math.Asin(h / 42)}).until(session.ForWind)
			p.until(session.ForReading)
			want := 0.0
			if !stated {
				want = math.Hypot(0.3, 0.2) * math.Abs(h) / 42
			}
			if off := math.Hypot(w.ex, w.ey); math.Abs(off-want) > 1e-3 {
				t.Errorf("h %v, stated %v: the centre is left %.4f off, want %.4f", h, stated, off, want)
			}
		}
	}
}

// missing is a bench whose spindle stands turned from its ring.
type missing struct {
	*ideal
	turn float64
}

func (w *missing) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits == session.ForReading {
		return session.Take{Reading: w.reading(p.Reading.Bearing + geom.Bearing(w.turn))}, true, nil
	}
	return w.ideal.Do(p)
}
