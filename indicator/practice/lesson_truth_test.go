package practice

import (
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/session"
)

// What a lesson ends with holds: a learner who looks at the truth behind it finds it within what was printed, whether the misread was
// made or not. One in twenty would lie outside by chance, so the machines are chosen. The arcs of the plate are set to the bench's own
// target, each on a machine of its own: the lesson's plus the arc's number, of which the drawing has four.
func TestLessonsEndInTheirDoubt(t *testing.T) {
	for _, l := range Course() {
		seeds, slips := []uint64{l.Seed()}, []int{0}
		if l.Plate() {
			seeds = []uint64{l.Seed() + 1, l.Seed() + 2, l.Seed() + 3, l.Seed() + 4}
		}
		if n := l.row().misreads; n > 0 {
			slips = []int{0, n}
		}
		for _, seed := range seeds {
			for _, slip := range slips {
				if why := endsInDoubt(t, l, seed, slip); why != "" {
					t.Errorf("lesson %v, machine %d, misread %d: %s", l, seed, slip, why)
				}
			}
		}
	}
}

// endsInDoubt plays a lesson's machine and says what is outside of its doubt, as it is printed.
func endsInDoubt(t *testing.T, l Lesson, seed uint64, slip int) string {
	t.Helper()
	bench := Bench(seed)
	o := session.Opened{}
	var err error
	if o.Job, err = job.ParseJob("job", l.Trap().Lay(seed, &bench, BenchJob)); err != nil {
		t.Fatal(err)
	}
	if o.Machine, err = job.ParseMachine("machine", BenchMachine); err != nil {
		t.Fatal(err)
	}
	m, live := New(bench, seed), session.NewLive(session.State{}, &session.Memory{})
	m.misreads = slip
	if _, err = live.Do(session.Open{Opened: o}, time.Time{}); err != nil {
		t.Fatal(err)
	}
	if err = m.Play(live, func() time.Time { return time.Time{} }, func(session.Step) {}); err != nil {
		t.Fatal(err)
	}
	s, truth := live.State(), m.Truth()
	f, err := s.Fit()
	if err != nil || !s.Accepted() {
		t.Fatalf("lesson %v, machine %d: accepted %t, %v", l, seed, s.Accepted(), err)
	}
	r, x, y := f.Swing(), f.CentreX(), f.CentreY()
	for _, c := range []struct {
		what        string
		v, u, truly float64
	}{{"radius", r.V, r.U, truth.Swing}, {"x", x.V, x.U, truth.CentreX}, {"y", y.V, y.U, truth.CentreY}} {
		printed, u := math.Round(c.v*1000)/1000, math.Round(c.u*1000)/1000
		if math.Abs(printed-c.truly) > u {
			return fmt.Sprintf("%s %.3f ±%.3f mm, truly %.4f", c.what, printed, u, c.truly)
		}
	}
	return ""
}
