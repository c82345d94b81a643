package practice

import (
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// In every set-up the next part, which lies a twentieth beside the first, is truly brought in: by slides under the head or the table, by
// taps, by readouts, and where the axis is carried off it. The sweep says where it lay; the machine's truth is its own.
func TestNextPartInEverySetUp(t *testing.T) {
	for i, c := range []Setup{Carried, Turned, Taps, SetOff, Points, About, AboutTable} {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			job, machine := c.Files()
			o := testdata.Setting(t, job, machine)
			o.Job.Setup.Taps = setup.Taps(&o.Job, &o.Machine)
			m, l := New(c.Bench(3), 3), session.NewLive(session.State{}, &session.Memory{})
			do := func(x session.Command) {
				t.Helper()
				if _, err := l.Do(x, time.Time{}); err != nil {
					t.Fatal(err)
				}
				for range 200 {
					s := l.State()
					next, ok, err := m.Do(s.Prompt())
					if !ok && err == nil {
						return
					}
					if err == nil {
						_, err = l.Do(next, time.Time{})
					}
					if err != nil {
						t.Fatal(err)
					}
				}
				t.Fatal("no end")
			}
			off := func() float64 {
				at, want := m.Truth(), 0.0
				if o.Job.Target.WantsSwing() && !o.Job.SweepsSwing() { // it has been carried off
					want = o.Job.Target.SwingRadius
				}
				return math.Abs(math.Hypot(at.CentreX, at.CentreY) - want)
			}
			do(session.Open{Opened: o})
			m.world.Start.CentreX += 0.04
			m.world.Start.CentreY -= 0.03
			do(session.Part{How: session.PartSwept})
			s := l.State()
			if s.Part != 2 || !s.Accepted() || len(s.Parts.All()) != 2 {
				t.Fatalf("part %d of %d, phase %d; want the second accepted", s.Part, len(s.Parts.All()), s.Phase)
			}
			d := s.Parts
			if e := math.Hypot(d.Entered.X, d.Entered.Y); math.Abs(e-0.05) > 0.02 {
				t.Errorf("it came in %.4f off by the sweep, and lay 0.05 beside the first, which was within 0.02", e)
			}
			if out := off(); out > o.Job.Target.CentreTolerance {
				t.Errorf("accepted with the centre truly %.4f off, want at most %v", out, o.Job.Target.CentreTolerance)
			}
		})
	}
}
