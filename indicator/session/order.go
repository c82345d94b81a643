package session

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Worked: a chore was done, or left out. Value is what was read or measured for it, millimetres: the
// dial behind the head's lock, the radius of an arc; null where nothing was. By is the way in which an arc was
// measured, nil of a bare radius.
type Worked struct {
	Step    Chore       `json:"step"`
	Skipped bool        `json:"skipped,omitempty"`
	Value   *float64    `json:"value,omitempty"`
	By      *MeasuredBy `json:"by,omitempty"`
	// Seen is what the ring showed where the swing began and stopped, nil of all but the pass by hand.
	Seen *Seen `json:"seen,omitempty"`
	// Gauge is where a reading comes from; zero where it was typed.
	Gauge Gauged `json:"gauge,omitzero"`
}

func (Worked) row() *EventRow { return worked }

var worked = event[Worked]{kind: "step", undo: "the step",
	check: func(e Worked) error { return e.check() },
	fits:  func(s *State, e Worked) error { return s.onList(e) },
	apply: func(s *State, e Worked) {
		s.worked(e)
		s.trembles(e.Gauge)
	},
}.row()

// Accepted reports whether the last setting is accepted: the next one may be opened.
func (s *State) Accepted() bool { return s.Phase == Cutting || s.Phase == Ended }

// Chores returns the list that the session is in, how many of it are behind, and what became of each
// of those; none outside of it.
func (s *State) Chores() (all []Chore, done []Worked) {
	if s.Bump != nil {
		return s.Bump.lookChores()
	}
	switch s.Phase {
	case Preparing:
		all = s.before()
	case Cutting:
		all = s.behind()
	case SettledDown:
		if s.headDue() {
			all = []Chore{LockHead}
		}
	case Unopened, Loading, Sweeping, Winding, Ended:
	}
	return all, s.Worked
}

// chore is the one to do now; ok is false where none is.
func (s *State) chore() (c Chore, n, of int, ok bool) {
	all, done := s.Chores()
	if n = len(done); n >= len(all) {
		return "", n, len(all), false
	}
	return all[n], n + 1, len(all), true
}

// headDue reports whether the head's own lock has still to be closed and read.
func (s *State) headDue() bool {
	return s.Set.Machine.HeadLock && s.HeadLocked == nil && s.SetUp().Does().Cuts
}

// choreAsked: a step of the order at the machine, the nth of so many.
type choreAsked struct {
	chore Chore
	n, of int
}

func (q choreAsked) prompt(s *State) Prompt {
	p := ChoreAsked{Step: q.chore, N: q.n, Of: q.of, May: q.chore.row().may != "" && s.ByTrial(), Seen: s.asksStops(q.chore)}
	if q.chore == LockHead {
		p.Bearing, p.Ring = s.headAt(), s.RingAt(s.headAt())
	}
	return Prompt{Waits: ForChore, Chore: p}
}

func (q choreAsked) number(s *State, v float64) (Event, error) {
	u := s.Set.Job.Unit
	switch {
	case q.chore.row().may != "" && s.ByTrial():
		if err := s.checkSet(v); err != nil {
			return nil, err
		}
	case s.asksStops(q.chore):
		shows := rounded(u.From(v), 9) // a ring's figure has no unit to be put out of
		return s.seen(q.chore, Seen{Stop: &shows})
	case !q.chore.measured():
		return unanswered{}.number(s, v)
	case q.chore == LockHead:
		if err := s.Set.Job.Dial.Check(v); err != nil {
			return nil, refuse("read the dial again, or skip", "reading %.6g %v is off the dial", u.From(v), u)
		}
	default:
		if err := s.checkArc(v); err != nil {
			return nil, err
		}
	}
	return Worked{Step: q.chore, Value: &v}, nil
}

func (q choreAsked) done(*State) (Event, error) {
	if q.chore.measured() {
		return nil, refuse("type it, or skip", "%s is answered with a number, need %s", q.chore, q.chore.row().answer)
	}
	return Worked{Step: q.chore}, nil
}

func (q choreAsked) skip(s *State, off Off) (Event, error) {
	if off != NotOff {
		return unanswered{}.skip(s, off)
	}
	return Worked{Step: q.chore, Skipped: true}, nil
}

func (choreAsked) hint(s *State) string {
	if s.Phase == SettledDown {
		return acceptAsked{}.hint(s)
	}
	return "do what is asked for, then confirm, or skip it"
}

// choreWind: a step that is a wind, which has been told.
type choreWind struct{ choreAsked }

func (q choreWind) prompt(s *State) Prompt {
	p := q.choreAsked.prompt(s)
	sl, _ := s.Set.Machine.Slide(s.Told.Wind.Slide)
	p.Waits, p.Wind = ForWind, WindAsked{Slide: sl, Moves: s.Told.Wind.Moves, Told: *s.Told, How: s.Told.how(), Reads: s.readsCollar()}
	return p
}

func (choreWind) number(s *State, v float64) (Event, error) {
	if s.readsCollar() {
		return readAsked{}.number(s, v)
	}
	return unanswered{}.number(s, v)
}

func (choreWind) done(s *State) (Event, error) {
	if s.readsCollar() {
		return readAsked{}.done(s)
	}
	return Wound{Slide: s.Told.Wind.Slide}, nil
}

// mostBeside bounds how far a measured arc can lie beside the one that was set: stock, and a cutter that
// runs out; more is a diameter typed for a radius, or another slip (common practice, no source).
const mostBeside = 5

// worked takes a chore off the list.
func (s *State) worked(w Worked) {
	if s.Bump != nil {
		s.lookWorked(w)
		return
	}
	if w.Step == LockHead {
		s.HeadLocked = &w
		return
	}
	if w.Step == RoughIn && w.Value != nil {
		s.RadiusSet = *w.Value
	}
	s.finish(w)
	s.Worked = append(s.Worked[:len(s.Worked):len(s.Worked)], w)
	s.Told = nil
	if s.roughCut() != nil {
		s.keepFit() // every step behind a measured cut asks how well the radius is known
	}
	s.onward()
}

// onward goes on to the next phase once its chores are done.
func (s *State) onward() {
	switch {
	case s.Phase == Preparing && len(s.Worked) >= len(s.before()):
		s.Worked = nil
		if s.Readying {
			s.Readying, s.Crossed, s.Phase = false, 0, Sweeping
			if s.Winds != nil { // ahead of a look between two of them
				s.Phase = Winding
			}
			return
		}
		s.Phase = Loading
		s.skipLoaded()
	case s.Phase == Cutting && len(s.Worked) >= len(s.behind()):
		s.Phase = Ended
	}
}

// stockWind tells the wind that a chore asks for: off the accepted radius by the stock, or from where
// the arc was measured to its target. The arc's radius changes as the swing radius does, on either side of
// the metal. ok is false where there is nothing to wind.
func (s *State) stockWind() (e Told, ok bool) {
	c, _, _, due := s.chore()
	sl, way, has := s.RadiusSlide()
	if !due || !c.winds() || !has || s.Told != nil {
		return e, false
	}
	if s.ByTrial() {
		return Told{Step: 1, Of: 1, Wind: s.trialWind(s.trialTravel(c))}, true
	}
	by := s.Set.Job.Cut.Left()
	if c == LastWind {
		by = s.lastTravel()
	}
	return Told{Step: 1, Of: 1, Wind: sl.Wind(float64(way) * by)}, true
}

// lastTravel is what the offset slide has to travel to the finished radius.
func (s *State) lastTravel() float64 {
	left := false
	for _, w := range s.Worked {
		if w.Step == LeaveStock {
			left = !w.Skipped
		}
	}
	if w := s.roughCut(); w != nil && !s.BySetting() {
		return s.Set.Job.Arc() - *w.Value
	}
	if left {
		return -s.Set.Job.Cut.Left()
	}
	return 0
}

// CutAway is by how much an arc of a radius has lost metal that its target would have kept, millimetres: 0 or less
// where there is some left to take off. What is gone nothing puts back, so no last wind goes that way.
func (s *State) CutAway(radius float64) float64 {
	if s.Set.Job.Cut.Hollow {
		return radius - s.Set.Job.Arc()
	}
	return s.Set.Job.Arc() - radius
}

// headAt is the bearing at which the head stands when its lock is closed: where the last sweep ended.
func (s *State) headAt() geom.Bearing {
	if s.Sweep.N == 0 {
		return 0
	}
	return s.Sweep.Stations[s.Sweep.N-1].Bearing
}

// HeadMoved is how far locking the head has moved the needle at the place where the last sweep ended,
// with the doubt of that, millimetres of reading; ok is false where it was not read.
func (s *State) HeadMoved() (v indicator.Value, at geom.Bearing, ok bool) {
	if s.HeadLocked == nil || s.HeadLocked.Value == nil || s.Sweep.N == 0 {
		return v, 0, false
	}
	f, err := s.Fit()
	if err != nil {
		return v, 0, false
	}
	at = s.headAt()
	x := f.Expect(at)
	return indicator.Value{V: *s.HeadLocked.Value - x.V, U: x.U}, at, true
}

// HeadDisturbs reports whether locking the head moves the needle by more than half of the tolerance that
// it is nearest to upset.
func (s *State) HeadDisturbs() bool {
	v, _, ok := s.HeadMoved()
	t := s.Set.Job.Target
	half := t.CentreTolerance / 2
	if s.Set.Job.SweepsSwing() {
		half = min(half, t.Tolerance/2)
	}
	return ok && math.Abs(v.V)-v.U > half
}

// onList refuses a step that is not one of the list that the setting is in. Which of it comes now is a rule, and rules change.
func (s *State) onList(w Worked) error {
	all, done := s.Chores()
	if len(done) >= len(all) || !slices.Contains(all, w.Step) {
		return fmt.Errorf("step %q, which is not to be done here, need one that is", w.Step)
	}
	if w.Step == LockHead && w.Value != nil {
		return s.shows(*w.Value)
	}
	return nil
}
