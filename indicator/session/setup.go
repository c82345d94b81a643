package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// SetUp is the set-up of the setting: what is asked of it here is asked on the values of the bench.
func (s *State) SetUp() *setup.SetUp { return setup.Of(&s.Set.Job) }

// bench is what the set-up is asked about: the values of now.
func (s *State) bench() *setup.Bench {
	look, _ := s.looks().At(s.Sweep.Entries())
	return &setup.Bench{
		Job: s.partJob(), Machine: &s.Set.Machine, Setup: s.setup(), Target: s.Target(), Tail: look.Tail,
		Entries: s.others(0), Bezel: s.Bezel, First: s.Past == nil && s.Part < 2,
		Winds: s.Winds, Believed: s.Believed, Looks: s.coarse(), Looked: s.lookedAt(), Off: s.SetOff, Stands: s.Stands[:],
		Lessons: s.Lessons,
		Stated:  s.stated(), Holds: s.Set.Rules >= statedRules,
	}
}

// others are the sweep's entries but that of a station; 0 leaves out none.
func (s *State) others(station int) setup.Entries {
	return setup.Entries{Sweep: &s.Sweep, Shift: s.Bezel - s.Sweep.Bezel, Without: station}
}

// Judge compares a fitted sweep with the job's target, as guarded as its place among the looks
// at the sweep asks for.
func (s *State) Judge(f *indicator.Estimate) indicator.Verdicts {
	return s.bench().Judge(f)
}

// Verdicts says what is proven of where things stand now, where the sweep was fitted as f.
func (s *State) Verdicts(f *indicator.Estimate) indicator.Verdicts {
	v := s.SetUp().Verdicts(s.bench(), f)
	if s.Carried != nil {
		v.Radius = s.Carried.Verdict
	}
	return v
}

// Assumed are the figures that this leans on and of which nobody has said how right they are; Room is what it leaves for them.
func (s *State) Assumed(f *indicator.Estimate) indicator.Assumed {
	a := s.SetUp().Assumed(s.bench(), f)
	if s.Carried != nil {
		return s.Carried.with(a)
	}
	return a
}

// Room: see [State.Assumed].
func (s *State) Room(f *indicator.Estimate) indicator.Room {
	room := s.SetUp().Room(s.bench(), f)
	if s.Carried != nil {
		room.Radius = s.Carried.Room
	}
	return room
}

// Swing is the swing radius that stands, where the sweep was fitted as f: as it shows it, or as a slide has set it.
func (s *State) Swing(f *indicator.Estimate) (r indicator.Value, ok bool) {
	w, ok := s.Swung(f)
	return w.Value, ok
}

// Swung is that with what makes its doubt.
func (s *State) Swung(f *indicator.Estimate) (setup.Swing, bool) {
	if s.Carried != nil {
		return setup.Swing{Value: s.Carried.Value}, true
	}
	return s.SetUp().Swing(s.bench(), f)
}

// RadiusSlide is the slide that sets the swing radius, and what its coordinate does as that grows; ok is false where the
// machine has none.
func (s *State) RadiusSlide() (sl slide.Slide, way slide.Way, ok bool) {
	b := s.bench()
	b.Job = &s.Set.Job // whatever the open sweep sees of it
	return s.SetUp().RadiusSlide(b)
}

// Located is the circle by the readouts' coordinates, where it is touched; errors are those of [indicator.Setup.Locate].
func (s *State) Located() (indicator.Touched, error) { return s.bench().Located() }

// Standing returns the circle, swept as f, as it is seen from where the spindle stands now, and whether that is known.
// Its centre error is how far there is still to go.
func (s *State) Standing(f *indicator.Estimate) (indicator.Estimate, bool) {
	return s.SetUp().Standing(s.bench(), f)
}

// Away is what is known of where the axis stands once slides have carried it on from what was swept as f.
func (s *State) Away(f *indicator.Estimate) (setup.Away, bool) {
	return s.SetUp().Away(s.bench(), f)
}

// Goal is where the readouts show the centre, nil where none does.
func (s *State) Goal() *geom.Point { return s.SetUp().Goal(s.bench()) }

// Ring is the graduated ring that stations are set by: the table's where it is turned, else the head's.
func (s *State) Ring() setup.Ring {
	if s.SetUp().Under().Table {
		return s.Set.Machine.Table
	}
	return s.Set.Machine.Head
}

// RingAt returns what that ring shows, degrees, where the reference is met at a bearing.
func (s *State) RingAt(b geom.Bearing) float64 {
	if s.SetUp().Under().Table {
		b = s.Set.Job.Setup.Stands(b)
	}
	return s.Ring().Shows(b)
}

// Rides reports whether a slide stands on the table that the set-up turns.
func (s *State) Rides(sl slide.Slide) bool { return s.bench().Rides(sl) }

// ReachedAt returns the table angle to load a slide at, or to wind it by its collar; ok is false where
// any will do.
func (s *State) ReachedAt(sl slide.Slide) (t geom.Bearing, ok bool) { return s.bench().ReachedAt(sl) }

// looks are the looks that are taken at a sweep.
func (s *State) looks() advice.Looks {
	plan := s.Plan()
	return advice.Looks{Fewest: plan.Fewest(), Planned: plan.Stations, Limit: advice.Limit(plan.Stations), Rounds: s.rounds()}
}

// Plan is how the sweep is planned: as the job says, and evenly where that can be.
func (s *State) Plan() setup.Sweep {
	if s.evenly() {
		return s.Set.Job.Sweep.Evenly(s.Past != nil || s.Part > 1)
	}
	return s.Set.Job.Sweep
}

// evenly reports whether sweeps are planned as even rounds.
func (s *State) evenly() bool {
	return s.Set.Rules >= statedRules && s.Set.Job.Sweep.Full() && !s.SetUp().Under().Pair
}

// rounds reports whether the open sweep is made of even rounds: none of its stations was left out, or stood out of turn.
func (s *State) rounds() bool {
	if !s.evenly() || s.Sweep.Paired {
		return false
	}
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		if s.Sweep.Stations[i].Skipped {
			return false
		}
	}
	return true
}

// nextWind tells the next wind that the closed sweep asks for, or that there is none: then the next
// sweep begins, or, where nothing was to be wound at all, the setting has settled. nil where the needle is to be looked at first.
func (s *State) nextWind() Event {
	f, err := s.Fit()
	if err != nil {
		if s.Winds != nil {
			return Reswept{}
		}
		return Settled{Radius: indicator.Undecided, Centre: indicator.Undecided}
	}
	switch n := s.SetUp().Next(s.bench(), &f); {
	case n.Look != nil:
		return nil
	case n.Wind != nil:
		return Told(*n.Wind)
	case n.Sweep:
		return Reswept{}
	default:
		return Settled{Radius: n.Settled.Radius, Centre: n.Settled.Centre}
	}
}

// OffTravel returns by how much the wind that is told would take its slide beyond its travel: at its end,
// and at the farthest where it is wound past. 0 where the slide's scale or its travel is not known.
func (s *State) OffTravel() (end, past float64) {
	if s.Told == nil {
		return 0, 0
	}
	w := s.Told.Wind
	sl, ok := s.Set.Machine.Slide(w.Slide)
	at := s.Stand(w.Slide)
	if !ok || !at.Known {
		return 0, 0
	}
	over := 0.0
	if len(w.Moves) > 1 {
		over = sl.Past()
		if s.Told.Park != nil {
			over = sl.PastParked()
		}
	}
	stop := at.At + w.By()
	return sl.Beyond(stop), sl.Beyond(stop - float64(sl.TakeUp)*over)
}

// circle is what is known of the circle now: what the winds have made of the sweep, and before them the sweep itself. Errors are those
// of [State.Fit].
func (s *State) circle() (*indicator.Estimate, error) {
	if s.Believed != nil {
		return s.Believed, nil
	}
	f, err := s.Fit()
	return &f, err
}

// believe takes a wind into what is known of the circle.
func (s *State) believe(d *setup.Done) {
	if !s.SetUp().Does().Teaches {
		return
	}
	f, err := s.circle()
	if err != nil {
		return
	}
	b := s.bench()
	cross := b.Cross()
	if after, ok := s.SetUp().After(b, *f, d, &cross); ok {
		s.Believed = &after
	}
}

// doubtOf is the standard doubt of where a wind by collar has ended, millimetres.
func (s *State) doubtOf(w slide.Wind) float64 { return s.bench().DoubtOf(w) }
