package session

import (
	"slices"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Backed: the needle was off the dial everywhere, and the winds before it were wound back as told, or the slides brought
// nearer by scale where nothing was wound. Causes are the statements that would explain where the winds had led.
type Backed struct {
	Winds  []slide.Wind `json:"winds,omitempty"`
	Causes []Cause      `json:"causes,omitempty"`
}

func (Backed) row() *EventRow { return backed }

var backed = event[Backed]{kind: "back", undo: "the way back",
	check: func(e Backed) error {
		if len(e.Causes) == 0 {
			return nil
		}
		return checkCauses(e.Causes)
	},
	fits: func(s *State, e Backed) error {
		for i := range e.Winds {
			if err := s.isWound(&e.Winds[i]); err != nil {
				return err
			}
		}
		return s.ofSlides(e.Causes)
	},
	apply: func(s *State, e Backed) { s.backed(e) },
}.row()

// nowhere reports whether the needle was off the dial at every station that was planned, or at so many of all there can be
// that the sweep shows no circle; or, where it is looked for, whether it is likely to be found anywhere.
func (s *State) nowhere() bool {
	if s.Set.Rules < statedRules || !s.SetUp().Does().Plain || s.Raising != nil || s.Sweep.N == 0 {
		return false
	}
	off := 0
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		if s.Sweep.Stations[i].Off != NotOff {
			off++
		}
	}
	if h, ok := s.search(); ok && s.Sweep.Readings() < fit.MinStations {
		return s.full() || h.Hopeless(s.Set.Job.Sweep.Marks(advice.MarkStep))
	}
	all := off == s.Sweep.N && s.Sweep.Entries() >= s.Plan().Stations
	return all || off > 0 && s.full() && s.Sweep.Readings() < fit.MinStations
}

// backAsked: the needle is off the dial everywhere.
type backAsked struct{ unanswered }

func (backAsked) prompt(s *State) Prompt {
	p := BackAsked{Winds: s.wayBack(), Clear: slices.ContainsFunc(s.Sweep.Stations[:s.Sweep.N],
		func(st Station) bool { return st.Off == Pressed })}
	for _, w := range p.Winds {
		sl, _ := s.Set.Machine.Slide(w.Slide)
		p.Slides = append(p.Slides, sl)
	}
	return Prompt{Waits: ForBack, Back: p}
}

func (backAsked) done(s *State) (Event, error) {
	return Backed{Winds: s.wayBack(), Causes: s.blamed()}, nil
}

func (backAsked) hint(s *State) string {
	if len(s.wayBack()) == 0 {
		return "bring the slides nearer by scale, then confirm"
	}
	return "wind back as told, then confirm"
}

// wayBack are the last winds undone by the collar, newest first.
func (s *State) wayBack() (out []slide.Wind) {
	if s.Past == nil || s.Past.Void {
		return nil
	}
	for d := s.Past.Winds; d != nil; d = d.Before {
		sl, ok := s.Set.Machine.Slide(d.Wind.Slide)
		if !ok || d.Tap != nil {
			continue
		}
		out = append(out, sl.WindBy(-d.Wind.Travel, -d.Wind.By()))
	}
	return out
}

// blamed are the statements that may have led the winds astray: of what the needle stopped, none.
func (s *State) blamed() (out []Cause) {
	if s.Past == nil || s.Past.Void {
		return nil
	}
	for d := s.Past.Winds; d != nil; d = d.Before {
		c := s.cause(advice.Suspect{Fault: advice.ScrewFault, Slides: []string{d.Wind.Slide}})
		if d.Reading == nil && !slices.ContainsFunc(out, func(x Cause) bool { return x.Key == c.Key }) {
			out = append(out, c)
		}
	}
	if len(out) > 0 {
		slices.Reverse(out)
		out = append(out, s.cause(advice.Suspect{Fault: advice.TouchFault}))
	}
	return out
}

// backed takes the winds back: they teach nothing, and a sign is checked before anything is wound again.
func (s *State) backed(e Backed) {
	for _, w := range e.Winds {
		s.goes(&setup.Done{Wind: w})
	}
	if len(e.Winds) == 0 { // by eye
		s.collarLost(s.Set.Job.Needs()...)
	}
	s.sweepAnew()
	if len(e.Winds) == 0 && s.SetUp().Does().Loads && s.Phase == Sweeping { // moved as far as nobody has counted: the play may lie open
		set := *s.Set
		set.Loaded, s.Set = nil, &set
		s.Loads, s.Phase = 0, Loading
		s.skipLoaded()
	}
	if len(e.Causes) > 0 {
		s.suspect(e.Causes)
	}
}
