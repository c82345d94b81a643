package session

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// Part begins the next part on the accepted setting.
type Part struct{ How PartHow }

// PartHow says how the next part begins.
type PartHow string

// The ways: as it is due, with a sweep whether due or not, the same with the indicator left on its bracket, and without a sweep.
const (
	PartAsDue     PartHow = ""
	PartSwept     PartHow = "sweep"
	PartBracketed PartHow = "bracket"
	PartUnswept   PartHow = "unswept"
)

// Parted: the next part began. Its trials count from 1. Where Sweep is false it is only counted: its place is trusted.
type Parted struct {
	Part  int  `json:"part"`
	Sweep bool `json:"sweep,omitempty"`
	// Bracket says that the indicator stands on a bracket of its own, by the job or the person's word.
	Bracket bool `json:"bracket,omitempty"`
	// Later says that the program has been left since the part before: nobody knows what was wound meanwhile.
	Later bool `json:"later,omitempty"`
}

func (Parted) row() *EventRow { return parted }
func (Part) row() *CommandRow { return nextPart }

var parted = event[Parted]{kind: "part", undo: "the next part",
	check: func(e Parted) error {
		if e.Part < 2 {
			return fmt.Errorf("part %d, need 2 or above", e.Part)
		}
		return nil
	},
	fits: func(s *State, e Parted) error {
		if s.Phase != Ended || e.Part != s.Part+1 {
			return fmt.Errorf("part %d begins where part %d is not over", e.Part, s.Part)
		}
		return nil
	},
	apply: func(s *State, e Parted) { s.begin(e) },
}.row()

var nextPart = command[Part]{word: "part",
	forms: []Phrase{{"part", "the next part on the accepted setting, swept where that is due"},
		{"part sweep", "the same, swept whether due or not"},
		{"part bracket", "the same, the indicator stands on a bracket and stays in"},
		{"part unswept", "the same, counted without a sweep: its place is trusted"}},
	keys: []string{"&"}, label: "next part", always: true,
	asks:    "the next part: d as it is due, s swept, b swept with the indicator on a bracket, u not swept?",
	choices: partWays, offers: (*State).partWays,
	parse: func(rest string, _ geom.Unit) (Part, error) {
		switch how := PartHow(strings.TrimSpace(rest)); how {
		case PartAsDue, PartSwept, PartBracketed, PartUnswept:
			return Part{how}, nil
		}
		return Part{}, refuse("part, part sweep, part bracket or part unswept", "part %q is not known", strings.TrimSpace(rest))
	},
	not: func(n *Now) string {
		switch {
		case !n.Behind:
			return "accept the setting first"
		case !n.Ended:
			return "the steps up to the checked arc come first"
		}
		return ""
	},
	shown:  func(n *Now) bool { return n.Behind },
	decide: decidePart,
}.row()

// partWays are the ways in which the next part may begin.
var partWays = []Choice{{"d", string(PartAsDue), "next part: as it is due"}, {"s", string(PartSwept), "next part: swept"},
	{"b", string(PartBracketed), "next part: swept, the indicator stays in on a bracket"},
	{"u", string(PartUnswept), "next part: counted without a sweep"}}

// partWays are those that are left: once the indicator is known to stand on a bracket, that is not asked again.
func (s *State) partWays() (out []Choice) {
	for _, c := range partWays {
		if c.Text != string(PartBracketed) || !s.bracket() {
			out = append(out, c)
		}
	}
	return out
}

func decidePart(s *State, p Part) (Event, error) {
	switch {
	case !s.Accepted():
		return nil, refuse("accept the setting first", "the next part comes behind an accepted setting, and this one is not accepted")
	case s.Phase == Cutting:
		c, n, of, _ := s.chore()
		return nil, refuse("do it or skip it, and what comes behind it; then part",
			"step %d of %d of this part is still to come: %s", n, of, c)
	}
	e := Parted{Part: s.Part + 1, Bracket: s.bracket() || p.How == PartBracketed, Sweep: true,
		Later: s.wasLeft()}
	switch p.How {
	case PartUnswept:
		e.Sweep = false
	case PartAsDue:
		e.Sweep = s.SweepDue()
	case PartSwept, PartBracketed:
	}
	return e, nil
}

// ofParts is how far the parts that are set on one setting have come.
type ofParts struct {
	// Part counts them from 1.
	Part int
	// Parts are those that were accepted or counted before the open one, and it too once it was: an immutable list, newest first, that
	// later states share.
	Parts *PartDone
	// Entered is the open part's centre as its first sweep found it, nil before; Unswept says that it is counted without one.
	Entered *geom.Point
	Unswept bool
	// Carried is the swing radius that a later part is cut with, nil for the first and where no sweep shows one.
	Carried *Carried
	// Bracketed says that the indicator stands on a bracket, by the person's word.
	Bracketed bool
	// Axis is where the head axis stands in the fixture's own frame, whose origin is where it stood for the first part.
	Axis geom.Point
}

// carries reports whether the swing radius is carried over: the sweep of a later part sees only where its centre is.
func (s *State) carries() bool { return (s.Part > 1 || s.Reswept) && s.Set.Job.SweepsSwing() }

// bracket reports whether the indicator stands on a bracket.
func (s *State) bracket() bool { return s.Bracketed || s.Set.Job.Batch().Bracket }

// begin puts the part that is over among the others, and begins the next: with a sweep of its own, which nothing of the sweeps
// before bears on, or counted as it lies.
func (s *State) begin(e Parted) {
	s.carry()
	s.Part, s.Unswept, s.Bracketed = e.Part, !e.Sweep, e.Bracket
	s.Trial, s.Past = 1, nil
	s.afresh()
	if s.Unswept {
		s.Parts = s.counted()
		s.Phase = Cutting
		s.onward()
		return
	}
	s.Phase, s.Readying = Preparing, true
	s.onward()
}

// afresh sets aside the sweep that was accepted, and all that hangs on it: what is asked next is another.
func (s *State) afresh() {
	s.Reswept = false
	s.ofSweep = ofSweep{Bezel: s.Bezel, Tilt: s.Tilt}
	s.Sweep.Bezel = s.Bezel
	s.Told, s.Wonder, s.Winds, s.Believed, s.Entered = nil, nil, nil, nil, nil
	s.Worked, s.HeadLocked, s.Accused = nil, nil, nil
	s.Forms = nil // another part's hole has a form of its own
}

// partJob is the job as the sweep of a later part serves it: only the centre is brought in.
func (s *State) partJob() *setup.Job {
	if !s.carries() {
		return &s.Set.Job
	}
	j := s.Set.Job
	j.Target.SwingRadius = 0
	return &j
}
