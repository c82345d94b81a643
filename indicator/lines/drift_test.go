package lines_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// Which answer to a drift gives what is told with the answer. By hand: round a bore swung about its own middle every station reads the
// same, and what grows by 0.01 from one to the next is the drift alone. Taken out, the centre error is 0; left in, a ramp over a whole
// turn passes for a centre error that is not.
func TestDriftSaysWhatEitherAnswerGives(t *testing.T) {
	s := begin(t, bench(t, func(o *session.Opened) {
		o.Job.Sweep.Closing, o.Job.Sweep.AtLeast, o.Job.Dial.Repeatability = true, 6, 0.001
	})).loaded()
	for n := 0; s.live.Asked().Waits == session.ForReading && n < 20; n++ {
		s.do(session.Take{Reading: 0.01 * float64(n)})
		if s.live.Asked().Reading.Again { // as if it were the last one's slip
			s.do(session.Keep{})
		}
	}
	for _, l := range s.said {
		d, is := l.(lines.DriftLine)
		if !is {
			continue
		}
		const none = ", y 0.000 ±"
		asIs, evened, found := strings.Cut(d.Text(), "; drift taken out: ")
		if !found || !strings.Contains(evened, none) || strings.Contains(asIs, none) || !strings.Contains(asIs, "as they are: ") {
			t.Errorf("%q, want 0 with the drift taken out, and more as they are", d.Text())
		}
		if is, evened := float64(d.AsIs.Centre.Y.Value), float64(d.Evened.Centre.Y.Value); math.Abs(evened) > 1e-9 || math.Abs(is) < 0.01 {
			t.Errorf("centre y %v evened and %v as it is, want 0 and more than 0.01", evened, is)
		}
		if got := geom.FormatFixed(float64(d.Change.Value), 3); got != "0.060" {
			t.Errorf("drifted by %s from first to last, want 0.060", got)
		}
		return
	}
	t.Fatalf("said %s, want the drift", s.kinds())
}
