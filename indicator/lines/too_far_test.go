package lines_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// A needle that leaves the dial on the side that a wind sends it to was wound too far, and no sign is in question; on the other side one
// is, and it is checked where the tip touches. By hand, with the bore's middle at (-1.2, -0.9) and the spindle 1.2 too far out: towards
// 0° and 135° the needle is beyond a dial of ±0.8, towards 225° it stands at -0.28 and is sent up.
func TestOffTheDialDuringAWind(t *testing.T) {
	for _, falls := range []bool{false, true} {
		g := ringed{43.2, -1.2, -0.9}
		o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
		o.Job.Dial.Falls = falls
		sign := 1.0
		if falls {
			sign = -1
		}
		live := session.NewLive(session.State{}, &session.Memory{})
		do := func(c session.Command) error {
			_, err := live.Do(c, time.Time{})
			return err
		}
		must := func(c session.Command) {
			if err := do(c); err != nil {
				t.Fatal(err)
			}
		}
		must(session.Open{Opened: o})
		for {
			s := live.State()
			p := s.Prompt()
			if p.Waits == session.ForWind {
				break
			}
			if p.Waits != session.ForReading {
				must(session.Confirm{})
				continue
			}
			switch c := read(g.needle(p.Reading.Bearing.Degrees360())).(type) {
			case session.Take:
				must(session.Take{Reading: sign * c.Reading})
			default:
				must(c)
			}
		}
		s := live.State()
		k := s.Told.Park
		if k == nil || k.Past == nil || sign*(*k.Past-k.Now) < 0.5 {
			t.Fatalf("falls %v: told %+v, want a wind under the needle that presses the tip first", falls, s.Told)
		}
		err := do(session.Skip{Off: session.Pressed})
		var r *session.Refusal
		if !errors.As(err, &r) || !strings.HasPrefix(r.Because, "too far: ") ||
			!strings.Contains(r.Hint, "wind back clockwise until it is on") {
			t.Errorf("falls %v: pressed where the wind presses: %v, want it wound back clockwise, as it comes up", falls, err)
		}
		if s = live.State(); s.Accused != nil || s.Told == nil {
			t.Errorf("falls %v: a sign is in question for a wind too far", falls)
		}
		must(session.Skip{Off: session.Free})
		s = live.State()
		q := s.Prompt()
		at := q.Check.Plan.Bearing.Degrees360()
		if q.Waits != session.ForCheck || q.Check.Plan.Clear || math.Abs(g.needle(at)) > 0.8 {
			t.Errorf("falls %v: %+v, want a sign checked where the needle is on the dial; at %v° it is at %.3f", falls, q, at, g.needle(at))
		}
		if words := lines.CheckWords(&s, &q.Check)[0]; !strings.Contains(words, ", the needle on the dial, ") {
			t.Errorf("falls %v: %q, want the needle on the dial for the check", falls, words)
		}
	}
}
