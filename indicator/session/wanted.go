package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/gauge"
)

// nearDivisions is from how many divisions of its collar before its goal a slide is said to be close: where the hand slows down
// (common practice, no source).
const nearDivisions = 2

// Wanted is what the wind that is told wants of the needle; ok is false of one that is not watched through it.
//
// A slide has arrived within what it is not wound again for: a quarter of the tolerance that it serves, or what a hand can set, see
// [advice.Task.Short]. Once it was wound too far it goes back past a turning point as far off as one that is told.
func (s *State) Wanted() (w gauge.Wanted, ok bool) {
	if s.Phase != Winding || s.Prompt().Waits != ForWind || s.how() != UnderNeedle || s.Wonder != nil {
		return w, false
	}
	sl, ok := s.Set.Machine.Slide(s.Told.Wind.Slide)
	p, d, target := s.Told.Park, s.Set.Job.Dial, s.Set.Job.Target
	act := math.Abs(p.Act)
	if !ok || !(act > 0) {
		return w, false
	}
	tolerance := target.CentreTolerance
	if sl.Name == "offset" {
		tolerance = target.Tolerance
	}
	w = gauge.Wanted{Start: p.Now, Past: p.Past, Goal: p.Goal, Rises: p.Act*float64(sl.TakeUp) > 0,
		Parked: s.parked(),
		From:   d.From, To: d.To, Revolution: d.Revolution}
	w.Band = act*min(max(tolerance/4, sl.Finest()), advice.MostShift/2) + d.Graduation*d.ReadsTo/2
	w.Near = max(3*w.Band, act*nearDivisions*sl.Division())
	w.Room = 3*w.Band + s.begins()
	if sl.Lock { // which is open by then
		w.Room += act * advice.LockLimit
		w.Locks = act * advice.MostShift
	}
	w.Back = w.Goal - math.Copysign(act*(sl.PastParked()-sl.Backlash), p.Act*float64(sl.TakeUp))
	if d.From != 0 || d.To != 0 {
		w.Back = min(max(w.Back, d.From), d.To)
	}
	return w, true
}

// parked reports whether the head stands where the wind that is told begins by what was entered last: there it was read, or wound.
func (s *State) parked() bool {
	const same = geom.Bearing(0.5 * geom.Degree)
	at := func(b geom.Bearing) bool {
		return math.Abs(float64((b - s.Told.Park.Bearing).Normalized())) < float64(same)
	}
	for l := s.log; l != nil; l = l.before {
		switch e := l.event.(type) {
		case Took:
			return at(e.Bearing)
		case Looked:
			return at(e.Bearing)
		case Wound:
			return s.Winds != nil && s.Winds.Park != nil && at(s.Winds.Park.Bearing)
		case Swept, Told, Noted:
		default:
			return false
		}
	}
	return false
}

// begins is how far off what was told the needle may stand as the wind begins, ±: by what is known of the circle.
func (s *State) begins() float64 {
	f, err := s.circle()
	if err != nil {
		return 0
	}
	if u := f.Expect(s.Told.Park.Bearing).U; u > 0 {
		return u
	}
	return 0
}
