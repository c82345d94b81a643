package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator/setup"
)

// Bias has the swing radius set larger by By than the job asks for, millimetres; nil takes what the arcs so far
// propose, 0 takes a bias off again.
type Bias struct{ By *float64 }

// Biased: the swing radius is set larger by By, millimetres, than the job asks for. Limit bounds what it may then
// still be out by, ±, where arcs have taught that: it stands for the stated limits of reach and reference; 0 leaves
// those as they are.
type Biased struct {
	By    float64 `json:"by"`
	Limit float64 `json:"limit,omitempty"`
}

func (Biased) row() *EventRow { return biased }
func (Bias) row() *CommandRow { return bias }

var biased = event[Biased]{kind: "biased", undo: "the correction of the swing radius",
	fits:  func(_ *State, e Biased) error { return notBelow("limit", e.Limit) },
	apply: func(s *State, e Biased) { s.bias(e) },
	anew:  func(_ *State, e Biased, _ *Change) (Command, string) { return Bias{By: &e.By}, "" },
}.row()

var bias = command[Bias]{word: "bias", forms: []Phrase{{"bias [FIGURE]", "the same as correction"}},
	example: "like -0.018", keys: []string{"j"}, label: "correction", not: (*Now).unbiased,
	parse: ParseBias, field: asked(ParseBias), figures: 1, decide: decideBias,
}.row()

// correction is the word that says what it is: a [Bias].
var correction = command[Bias]{word: "correction",
	forms:   []Phrase{{"correction [FIGURE]", "set the swing radius larger by FIGURE, or as the arcs say"}},
	example: "like -0.018", parse: ParseBias, decide: decideBias,
}.row()

// mostBias bounds a bias: more is a radius typed for one, or another slip (common practice, no source).
const mostBias = 1

// Target is the job's, with the swing radius set beside it by the bias that is taken up.
func (s *State) Target() setup.Target {
	t := s.partJob().Target
	if t.WantsSwing() {
		t.SwingRadius += s.Bias.By
	}
	return t
}

func decideBias(s *State, b Bias) (Event, error) {
	u := s.Set.Job.Unit
	switch {
	case s.Accepted():
		return nil, refuse("correct the next one", "the setting is accepted")
	case !s.Set.Job.Target.WantsSwing():
		return nil, refuse("", "no swing radius is asked for, need one to correct")
	case s.ByTrial():
		return nil, refuse("", "the swing radius comes from a trial cut, which is measured: there is nothing to correct")
	}
	var limit float64
	if b.By == nil {
		const own = "correction FIGURE sets one of your own, like correction -0.018"
		fb, ok := s.Feedback()
		switch {
		case !ok:
			return nil, refuse(own, "no arc was checked before this setting, need one to learn from")
		case fb.Why != "":
			return nil, refuse(own, "%s", fb.Why)
		}
		// As a rectangular part it leads to the same expanded uncertainty again.
		b.By, limit = &fb.By.V, math.Sqrt(3)*fb.By.U/fit.Coverage(math.Inf(1))
	}
	by := *b.By
	switch {
	case !(math.Abs(by) <= mostBias):
		return nil, refuse("it is what the radius is to be set larger by, like -0.018; another radius belongs into the job file",
			"a correction of %.6g %v, need at most %.4g %v either way", u.From(by), u, u.From(mostBias), u)
	case !(s.Set.Job.Target.SwingRadius+by > 0):
		return nil, refuse("", "a correction of %.6g %v leaves no swing radius of %.6g %v", u.From(by), u,
			u.From(s.Set.Job.Target.SwingRadius), u)
	case by == s.Bias.By:
		return nil, refuse("", "the swing radius is corrected by %.6g %v already", u.From(by), u)
	}
	return Biased{By: by, Limit: limit}, nil
}

// ParseBias reads how much larger the swing radius is to be set, in unit u; nothing for what is proposed. The
// error is a *[Refusal].
func ParseBias(text string, u geom.Unit) (Bias, error) {
	const like = "what the radius is to be set larger by, like -0.018; nothing for what the arcs propose"
	fields := geom.LengthFields(text)
	switch len(fields) {
	case 0:
		return Bias{}, nil
	case 1:
		v, err := geom.ParseLength(fields[0], u)
		if err != nil {
			return Bias{}, refuse(like, "%v", err)
		}
		v = u.MM(v)
		return Bias{By: &v}, nil
	}
	return Bias{}, refuse(like, "%d numbers, need one or none", len(fields))
}

// bias takes a bias into the target; what had been told is told anew.
func (s *State) bias(e Biased) {
	s.Bias, s.Told = e, nil
	if s.Phase == SettledDown || (s.Phase == Winding && s.Winds == nil) {
		s.Phase = Sweeping // closed: what follows from it is asked again
	}
}
