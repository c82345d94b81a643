package keys

import (
	"slices"

	"example.org/trammel/indicator/session"
)

// question is which keys are needed most while something is asked, and what they are called then if not as usual.
type question struct {
	asked  func(*Situation) bool
	first  []Action
	listed []Action // come first in the list
	behind []Action // come last in the list
	labels []otherName
}

// otherName is what a key is called while something is asked.
type otherName struct {
	action Action
	label  string
}

// label is what the question calls an action; empty for what it is called as usual.
func (q *question) label(a Action) string {
	if i := slices.IndexFunc(q.labels, func(c otherName) bool { return c.action == a }); i >= 0 {
		return q.labels[i].label
	}
	return ""
}

// questions are looked through for the first that is asked; the last always is.
var questions = []question{
	{asked: func(s *Situation) bool { return s.Doubt },
		first:  []Action{Enter, List, "undo", Help, Quit, "correct", "skip", Dial, "keep", "off dial"},
		listed: []Action{"correct", "keep", "skip", "off dial", "undo"},
		labels: []otherName{{"skip", "leave out"}, {"correct", "take the proposed"}}},
	{asked: func(s *Situation) bool { return s.Waits == session.ForDrift },
		first:  append([]Action{"take it out", "keep"}, usual...),
		listed: []Action{"take it out", "keep", "sweep again", "undo"},
		labels: []otherName{{"keep", "leave it in"}}},
	{asked: func(s *Situation) bool { return s.Waits == session.ForMoved },
		first:  append([]Action{"sweep again", "keep"}, usual...),
		listed: []Action{"sweep again", "keep", "undo", Help},
		labels: []otherName{{"keep", "go on"}}},
	{asked: func(s *Situation) bool { return s.Which },
		first:  []Action{Enter, List, "station", "undo", Help, Quit},
		listed: []Action{"station", "stopped", "undo"},
		labels: []otherName{{"station", "the station"}}},
	{asked: func(s *Situation) bool { return s.Sign }, // what the needle did settles it: nothing is put right before
		first:  append([]Action{Enter, List, "signs", "skip"}, usual...),
		listed: []Action{"signs", "skip", "undo", Help},
		behind: []Action{"put right"},
		labels: []otherName{{"skip", "pass over"}}},
	{asked: func(s *Situation) bool { return s.Waits == session.ForCheck },
		first:  append([]Action{Enter, List, "put right", "skip"}, usual...),
		listed: []Action{"put right", "skip", "undo"},
		labels: []otherName{{"skip", "pass over"}}},
	{asked: func(s *Situation) bool { return s.End != "" }, // nothing is due here but to go on or to leave
		first:  append([]Action{Enter, List, "next part"}, usual...),
		listed: []Action{"next part", Help, Quit, Trials, Setup}, behind: []Action{"undo"}},
	{asked: func(s *Situation) bool { return s.Waits == session.ForChore }, first: usual,
		listed: []Action{Help, "skip", "ring shows", "undo", Dial}},
	{asked: func(s *Situation) bool { return s.Waits == session.ForAccept && s.Unsaid }, first: usual,
		listed: []Action{"accept", "how right", "sweep again", "undo"}},
	{asked: func(*Situation) bool { return true }, first: usual,
		listed: []Action{"accept", "off dial", "skip", "enough", "sweep again", "undo", Dial}},
}

var usual = []Action{Enter, List, "undo", Help, Quit}

// behind are the keys that are needed less, in their order.
var behind = []Action{Wind, Dial, "accept", "sweep again", "off dial", Trials, "skip", "enough", Form, Setup, "closing", Rings, Taught,
	"scale", "bezel", "signs", "put right", "height", "hold radius", "correction", "how right", "note"}

// asked is the question that is asked.
func (s *Situation) asked() question {
	return questions[slices.IndexFunc(questions, func(q question) bool { return q.asked(s) })]
}

// order lists the actions, the most needed first: what nobody has put anywhere comes behind the others.
func order(s *Situation) (out []Action) {
	add := func(all ...Action) {
		for _, a := range all {
			if a != "" && !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
	}
	add(s.asked().first...)
	add(behind...)
	for _, r := range session.Commands() {
		add(action(r))
	}
	for _, o := range own {
		add(o.action)
	}
	return out
}
