package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

// A swing radius may be set by a machine slide: the spindle is stood over the table's axis, which a sweep in
// the table's bore shows, and carried off it by the radius. No sweep can look at it from there. What the
// sweep knew of the axis and what is known of how far the slide has gone make one swing radius with one
// budget, and that is the verdict.

// SetOff is how far the spindle stands off the place where the sweep was taken.
type SetOff struct {
	Winds  int     // since the sweep
	Travel float64 // millimetres of the slide's coordinate
	Doubt  float64 // standard uncertainty of Travel, millimetres
}

// mostSetOffs bounds how often the slide is sent to one radius.
const mostSetOffs = 2

// lockLimit bounds what clamping a slide moves it by, ±, where nobody has looked (common practice, no source).
const lockLimit = 0.02

// setOffSlide is the slide that sets the swing radius off the axis; ok is false where the job has none.
func (s *State) setOffSlide() (sl slide.Slide, way slide.Way, ok bool) {
	o := s.Set.Job.Target.SetOff
	if o == nil {
		return sl, 0, false
	}
	sl, ok = s.Set.Machine.Slide(o.Slide)
	return sl, o.Way, ok
}

// setOff takes in a wind off the axis, or back to it. A readout says where the slide stands, whatever way it has
// come; by the collar every wind adds its own doubt.
func (s *State) setOff(e Wound) {
	sl, _, _ := s.setOffSlide()
	w, from := s.Told.Wind, s.Stand(sl.Name).At
	o := SetOff{Winds: s.SetOff.Winds + 1, Travel: s.SetOff.Travel + w.Travel}
	if e.At != nil {
		o.Travel = s.SetOff.Travel + *e.At - from
	}
	if step := sl.ReadoutStep(); sl.Readout {
		o.Doubt = math.Hypot(shownDoubt(step, true), shownDoubt(step, e.At != nil))
	} else {
		o.Doubt = math.Hypot(s.SetOff.Doubt, s.doubtAlone(w))
	}
	if sl.Lock && e.At == nil {
		o.Doubt = math.Hypot(o.Doubt, indicator.FromLimit(lockLimit))
	}
	if i := s.slot(sl.Name); sl.Readout && !s.Stands[i].Known {
		s.Stands[i].Known = true // it has been set to 0 where the wind began
	}
	s.goes(&Done{Wind: w, At: e.At})
	if s.Told.Back {
		o, s.Phase = SetOff{}, Sweeping
	}
	s.SetOff, s.Told = o, nil
}

// doubtAlone is doubtOf for a wind that no sweep looks at: a fiftieth of it, which only keeps the next sweep from being
// believed too little, would hide what is known of screws in general.
func (s *State) doubtAlone(w slide.Wind) float64 {
	if b, ok := s.Lesson(w.Slide); ok {
		if t := b.Learnt().Travel(w.Travel); t.Known() {
			return t.U / fit.Coverage(math.Inf(1))
		}
	}
	return s.doubtOf(w)
}

// Swung is the swing radius that the slide has set off the axis, with the doubt of both; ok is false where none
// has been set so.
func (s *State) Swung() (r indicator.Value, ok bool) {
	r, _, _, ok = s.swung()
	return r, ok
}

// Swing is the swing radius that stands: as the slide has set it off the axis, or as the sweep shows it.
func (s *State) Swing(f *indicator.Found) (r indicator.Value, ok bool) {
	if s.Set.Job.Target.SetOff != nil {
		return s.Swung()
	}
	r = f.Swing()
	return r, r.Known()
}

// SwungParts are the expanded uncertainties that make that of [State.Swung]: of where the axis is along the slide,
// and of how far the slide has gone.
func (s *State) SwungParts() (axis, travel float64, ok bool) {
	_, axis, travel, ok = s.swung()
	return axis, travel, ok
}

func (s *State) swung() (r indicator.Value, axis, travel float64, ok bool) {
	sl, way, has := s.setOffSlide()
	if !has || s.SetOff.Winds == 0 {
		return r, 0, 0, false
	}
	f, err := s.Fit()
	if err != nil {
		return r, 0, 0, false
	}
	cross := s.cross()
	i := cross.of(sl.Name)
	along := cross.unit(i)
	// Seen from the spindle the axis has gone the other way.
	to := f.Circle.Centre.Sub(along.Times(s.SetOff.Travel))
	out := along.Times(float64(way))
	axis, travel = f.Part(out).U, fit.Coverage(math.Inf(1))*s.SetOff.Doubt
	return indicator.Value{V: to.Norm(), U: math.Hypot(axis, travel)}, axis, travel, true
}

// nextSetOff tells how far the slide has still to carry the spindle; more is false where nothing is worth winding.
func (s *State) nextSetOff(f *indicator.Found) (e Told, more bool) {
	sl, way, ok := s.setOffSlide()
	if !ok || s.SetOff.Winds >= mostSetOffs {
		return e, false
	}
	t := s.Target()
	cross := s.cross()
	along := cross.unit(cross.of(sl.Name))
	// The axis lies e off the spindle: the slide has to go by as much, and by the radius beyond it; what is
	// across counts by its square.
	part, aside := f.Circle.Centre.Dot(along), f.Circle.Centre.Dot(geom.Point{X: -along.Y, Y: along.X})
	goal := part + float64(way)*math.Sqrt(max(0, t.SwingRadius*t.SwingRadius-aside*aside))
	by := goal - s.SetOff.Travel
	if s.SetOff.Winds > 0 && math.Abs(by) <= max(t.Tolerance/2, sl.Finest()) {
		return e, false
	}
	return Told{Step: s.SetOff.Winds + 1, Of: s.SetOff.Winds + 1, Wind: s.byCollar(sl, by), SetOff: true, Open: true}, true
}

// setBack tells the way back over the axis, for a sweep that begins anew.
func (s *State) setBack() Told {
	sl, _, _ := s.setOffSlide()
	return Told{Step: 1, Of: 1, Wind: s.byCollar(sl, -s.SetOff.Travel), SetOff: true, Back: true, Open: true}
}

// setOffVerdict is what is proven of the swing radius that a slide has set.
func (s *State) setOffVerdict(v job.Verdicts) job.Verdicts {
	t := s.Target()
	if t.SetOff == nil {
		return v
	}
	v.Radius = indicator.Undecided
	if r, ok := s.Swung(); ok {
		v.Radius = indicator.Judge(indicator.Value{V: r.V - t.SwingRadius, U: r.U}, t.Tolerance, 1)
	}
	return v
}
