package session_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// What a wind wants of the needle: it comes up to its goal from its turning point, or from one that lies as far off, the way that the
// last movement is told to go, and to where it will not be wound again. Nothing else is watched.
func TestWanted(t *testing.T) {
	straight, turning := 0, 0
	for seed := range uint64(12) {
		p := bench(t, seed)
		for range 40 {
			s, q := p.state(), p.prompt()
			w, ok := s.Wanted()
			if watched := q.Waits == session.ForWind && q.Wind.How == session.UnderNeedle; ok != watched {
				t.Fatalf("seed %d: watched %v of a question that waits for %v", seed, ok, q.Waits)
			}
			if ok {
				k, sl := s.Told.Park, q.Wind.Slide
				last := q.Wind.Moves[len(q.Wind.Moves)-1]
				grows := (last.Turn == slide.Clockwise) == (sl.Clockwise == slide.Increase)
				if w.Rises != (grows == (k.Act > 0)) {
					t.Errorf("seed %d: it rises %v, told %+v and %+v", seed, w.Rises, last, k)
				}
				tolerance := s.Set.Job.Target.CentreTolerance
				if sl.Name == "offset" {
					tolerance = s.Set.Job.Target.Tolerance
				}
				if in := w.Band / math.Abs(k.Act); !(in > 0) || in > max(tolerance/4, sl.Finest())+s.Set.Job.Dial.Graduation ||
					w.Near < 2*w.Band {
					t.Errorf("seed %d: a band of %v and near at %v mm, tolerance %v mm", seed, w.Band, w.Near, tolerance)
				}
				a := gauge.NewApproach(w)
				before := (w.Goal - a.Back) * map[bool]float64{true: 1, false: -1}[w.Rises] / math.Abs(k.Act)
				if off := sl.PastParked() - sl.Backlash; math.Abs(before-off) > 0.02 { // Expect is not quite straight
					t.Errorf("seed %d: it comes up by %v mm, want %v", seed, before, off)
				}
				if k.Past != nil {
					turning++
				} else {
					straight++
				}
				if w.Start != k.Now || w.Goal != k.Goal || !(w.Room > w.Band) || w.Locks > advice.MostShift*math.Abs(k.Act) {
					t.Errorf("seed %d: %+v of %+v", seed, w, k)
				}
			}
			if q.Waits == session.ForAccept {
				break
			}
			p.answer(1)
		}
	}
	if straight == 0 || turning == 0 {
		t.Errorf("%d winds come up at once and %d turn, want both", straight, turning)
	}
}
