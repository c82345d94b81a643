package session_test

import (
	"math"
	"slices"
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

// By hand, of the same wind with one thing changed: the band is a quarter of the tolerance that the slide serves, times how much the
// needle goes by a millimetre of it, and half of what the dial is read to; what a lock moves it by is room where it begins, and so
// is what is known of the circle as it is believed; and no needle is wound back beyond its dial.
func TestWantedByHand(t *testing.T) {
	swept := bench(t, 99).until(session.ForWind).state()
	other, err := swept.Fit() // another circle, known otherwise
	if err != nil {
		t.Fatal(err)
	}
	seen := map[bool]int{}
	for seed := range uint64(4) {
		for p := bench(t, seed); p.prompt().Waits != session.ForAccept; p.answer(1) {
			w, ok := func() (gauge.Wanted, bool) { s := p.state(); return s.Wanted() }()
			if !ok {
				continue
			}
			wants := func(change func(*session.State, *session.Opened)) gauge.Wanted {
				s := p.state()
				o := *s.Set
				o.Machine.Slides = slices.Clone(o.Machine.Slides)
				s.Set = &o
				change(&s, &o)
				w, _ := s.Wanted()
				return w
			}
			is := func(what string, got, want float64) {
				t.Helper()
				if !(math.Abs(got-want) < 1e-9) {
					t.Errorf("seed %d, %s: %v, want %v mm", seed, what, got, want)
				}
			}
			s := p.state()
			k, d, offset := s.Told.Park, s.Set.Job.Dial, s.Told.Wind.Slide == "offset"
			act := math.Abs(k.Act)
			seen[offset]++
			is("twice the graduation", wants(func(_ *session.State, o *session.Opened) { o.Job.Dial.Graduation *= 2 }).Band,
				w.Band+d.Graduation*d.ReadsTo/2)
			tolerances := wants(func(_ *session.State, o *session.Opened) {
				o.Job.Target.Tolerance, o.Job.Target.CentreTolerance = 0.1, 0.06
			})
			is("the slide's tolerance", tolerances.Band, act*map[bool]float64{true: 0.1, false: 0.06}[offset]/4+d.Graduation*d.ReadsTo/2)
			lock := wants(func(_ *session.State, o *session.Opened) {
				for i := range o.Machine.Slides {
					o.Machine.Slides[i].Lock = true
				}
			})
			is("the room beside a lock", lock.Room, w.Room+act*advice.LockLimit)
			is("... and what it may move", lock.Locks, act*advice.MostShift)
			believed := wants(func(s *session.State, _ *session.Opened) { s.Believed = &other })
			is("the room of what is believed", believed.Room, 3*w.Band+other.Expect(k.Bearing).U)
			short := wants(func(_ *session.State, o *session.Opened) { o.Job.Dial.From, o.Job.Dial.To = w.Goal-1e-4, w.Goal+1e-4 })
			is("back, on a short dial", math.Abs(short.Back-w.Goal), 1e-4)
		}
	}
	if seen[true] == 0 || seen[false] == 0 {
		t.Errorf("%d winds of the offset slide and %d of others, want both", seen[true], seen[false])
	}
}
