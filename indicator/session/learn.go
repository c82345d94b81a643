package session

import (
	"math"
	"slices"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Stand returns where a slide stands by its own scale.
func (s *State) Stand(name string) setup.Stand {
	if i := s.slot(name); i >= 0 {
		return s.Stands[i]
	}
	return setup.Stand{}
}

// slot is the place of a slide in State.Stands, −1 where the machine has none.
func (s *State) slot(name string) int {
	if s.Set == nil {
		return -1
	}
	return s.Set.Machine.Slot(name, len(s.Stands))
}

// goes moves a slide's scale along with a wind. A collar that was wound under the needle has not
// been looked at, and nobody knows its figure until it is told again; a readout shows it.
func (s *State) goes(d *setup.Done) {
	i := s.slot(d.Wind.Slide)
	if i >= 0 {
		s.collarGoes(i, d)
	}
	if i < 0 || !s.Stands[i].Known {
		return
	}
	if d.At != nil {
		s.Stands[i].At = *d.At
		return
	}
	if d.Park != nil && !s.Set.Machine.Slides[i].Readout {
		s.Stands[i] = setup.Stand{}
		return
	}
	if s.Set.Machine.Slides[i].Readout {
		s.Stands[i].At += d.Wind.Travel
		return
	}
	s.Stands[i].At += d.Wind.By()
}

// Lesson returns what has been learnt of a slide: of earlier settings, and of this one.
func (s *State) Lesson(name string) (slide.Lesson, bool) {
	var none setup.Machine
	m := &none
	if s.Set != nil {
		m = &s.Set.Machine
	}
	return m.Lesson(name, s.Lessons)
}

func (s *State) machineSlide(name string) (slide.Slide, bool) {
	if s.Set == nil {
		return slide.Slide{}, false
	}
	return s.Set.Machine.Slide(name)
}

// teach keeps what a slide has taught; older states keep their own list.
func (s *State) teach(name string, b slide.Lesson, f slide.Finding) {
	s.Lessons = slices.Clone(s.Lessons)
	if f.Kind != slide.Nothing {
		s.Odd = append(slices.Clone(s.Odd), Odd{Trial: s.Trial, Slide: name, Finding: f})
	}
	for i := range s.Lessons {
		if s.Lessons[i].Slide == name {
			s.Lessons[i].Lesson = b
			return
		}
	}
	s.Lessons = append(s.Lessons, setup.Taught{Slide: name, Lesson: b})
}

// Odd is a trial that did not go as the machine had taught.
type Odd struct {
	Trial   int
	Slide   string
	Finding slide.Finding
}

// learnWinds learns from the collar winds between the last sweep and this one, which is closed: what
// each collar has turned, and what the slide has moved. What was wound under the needle moved as the
// needle said, whatever the collar did.
func (s *State) learnWinds() {
	if s.Past == nil || s.Past.Void || s.Hold != nil || !s.SetUp().Does().Teaches {
		return
	}
	now, err := s.Fit()
	if err != nil || now.Dof <= 0 {
		return
	}
	then, err := s.fitPast()
	if err != nil || then.Dof <= 0 || then.Circle.Hold || now.Circle.Hold {
		return
	}
	if s.otherWay(&then, &now) {
		return
	}
	s.learnAngles(&then, &now)
	for _, name := range s.Set.Job.Needs() {
		d, ok := s.Past.Winds.Only(name)
		if !ok || d.Park != nil || (name == "offset" && s.Stand(name).Known) {
			continue // with the collar's count, an accepted radius will teach more than the wind, and share its sweep
		}
		moved, u := s.moved(&then, &now, name)
		b, ok := s.Lesson(name)
		if !ok || !(u > 0) {
			continue
		}
		var found slide.Finding
		if sl, _ := s.machineSlide(name); sl.Lock && s.Past.Before == nil && s.Part < 2 {
			// Open when the first sweep was taken and shut after its winds: what the slide went beyond its
			// collar is what the lock has moved it by. Later it is shut both times, and cancels.
			went := b.Posterior().Travel(d.Wind.By())
			b, found = b.SeenLock(slide.LockSeen{Moved: moved - went.V, U: math.Hypot(u, advice.Standard(went, math.Inf(1)))})
		} else {
			b, found = b.SeenTravel(slide.TravelSeen{Turned: d.Wind.By(), Moved: moved, U: u})
		}
		s.teach(name, b, found)
	}
}

// leastSure is how many standard uncertainties a slide has moved by at the least where it is said to have gone the other way.
const leastSure = 5

// otherWay notes the cross slides that went against what was told, and by how much; such winds are no lesson of their angles.
func (s *State) otherWay(then, now *indicator.Estimate) (some bool) {
	if s.Set.Rules < statedRules {
		return false
	}
	for _, name := range s.bench().Cross().Names {
		told := 0.0
		for d := s.Past.Winds; d != nil; d = d.Before {
			if d.Wind.Slide == name {
				told += d.Wind.Travel
			}
		}
		moved, u := s.moved(then, now, name)
		if b, ok := s.Lesson(name); ok && told != 0 && moved*told < 0 && math.Abs(moved) > max(leastSure*u, math.Abs(told)/2,
			advice.ParkDoubt) {
			some = true
			s.teach(name, b, slide.Finding{Kind: slide.OtherWay, Off: indicator.Value{V: math.Abs(moved), U: 2 * u}})
		}
	}
	return some
}

// fitPast is Fit for the last trial's sweep, of which there must be one.
func (s *State) fitPast() (indicator.Estimate, error) {
	before := *s
	before.Sweep, before.Doubt = s.Past.Sweep, nil
	return before.Fit()
}

// moved returns how far a slide went from one sweep to another, + where its coordinate grows, and the
// standard uncertainty of it. What is the same in both, the reach and the reference, cancels.
func (s *State) moved(then, now *indicator.Estimate, name string) (by, u float64) {
	c := s.bench().Cross()
	if i := c.Of(name); i >= 0 {
		a, b := then.Part(c.Row(i)), now.Part(c.Row(i))
		return a.V - b.V, math.Hypot(advice.Standard(a, then.Dof), advice.Standard(b, now.Dof))
	}
	a, b := then.Budget(), now.Budget()
	if len(a) == 0 || len(b) == 0 {
		return 0, 0
	}
	return now.Circle.Level - then.Circle.Level, math.Hypot(a.Of(indicator.PartReadings).U, b.Of(indicator.PartReadings).U)
}

// learnRadius learns from an accepted swing radius where the collar's count is known.
func (s *State) learnRadius() {
	at := s.Stand("offset")
	if !s.SetUp().Does().Teaches || s.carries() {
		return
	}
	f, err := s.Fit()
	if err != nil || !at.Known || f.Circle.Hold {
		return
	}
	parts := f.Budget()
	if len(parts) == 0 {
		return
	}
	_, common := parts.Rest()
	if b, ok := s.Lesson("offset"); ok {
		setup := 1
		for _, r := range b.Radii {
			setup = max(setup, r.Setup+1)
		}
		b, found := b.SeenRadius(slide.RadiusSeen{Count: at.At, R: f.Swing().V, U: parts.Of(indicator.PartReadings).U, Common: common,
			Setup: setup})
		s.teach("offset", b, found)
	}
}

// learnLock learns what locking a slide has moved it by, under the needle.
func (s *State) learnLock(d *setup.Done) {
	sl, ok := s.machineSlide(d.Wind.Slide)
	if !ok || !sl.Lock || d.Park == nil || d.Reading == nil || d.Park.Act == 0 {
		return
	}
	f, err := s.Fit()
	if err != nil || f.Dof <= 0 {
		return
	}
	if b, ok := s.Lesson(d.Wind.Slide); ok {
		// The needle was read twice, where it stopped and where it stands.
		b, found := b.SeenLock(slide.LockSeen{Moved: (*d.Reading - d.Park.Goal) / d.Park.Act,
			U: math.Sqrt2 * f.Sigma / math.Abs(d.Park.Act)})
		s.teach(d.Wind.Slide, b, found)
	}
}

// Start returns the collar's count to start from for the job's swing radius, by what the machine has
// taught; ok is false where it has not taught that.
func (s *State) Start() (count indicator.Value, ok bool) {
	if s.Set == nil || !s.Set.Job.SweepsSwing() && !s.ByTrial() {
		return count, false
	}
	b, ok := s.Lesson("offset")
	if !ok || len(b.Radii) == 0 {
		return count, false
	}
	to := s.Target().SwingRadius
	if s.ByTrial() {
		to = s.TrialRadius()
	}
	return b.Posterior().StartFor(to)
}
