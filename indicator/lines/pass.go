package lines

import (
	"fmt"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// StepPass is what a step says that is a pass of a cut whose depth is stated: its number at this radius, of so many that cut, and
// how deep it goes from the top of the stock. A spring pass goes over the last one again, and has its number.
type StepPass struct {
	Pass   int           `json:"pass"`
	Passes int           `json:"passes"`
	Depth  record.Number `json:"depth"`
	Spring bool          `json:"spring"`
	// Entry is where the cutter may go down, as somebody has said.
	Entry setup.WayIn `json:"entry,omitempty"`
}

// stepPass is that of step i (from 0) of the order; nil of all others.
func stepPass(s *session.State, i int, u geom.Unit) *StepPass {
	p, ok := s.PassAt(i)
	if !ok {
		return nil
	}
	return &StepPass{p.N, p.Of, record.Number(u.From(p.Depth)), p.Spring, s.Entry()}
}

// DepthWords spells a depth as a quill is set to it: to hundredths of a millimetre, to thousandths of an inch.
func DepthWords(mm float64, u geom.Unit) string {
	return record.DepthFigure(mm, u) + " " + u.String()
}

// PassName is what a pass is called, fit for large letters.
func PassName(p session.CutPass) string {
	switch {
	case p.Spring:
		return "spring pass"
	case p.Whole:
		return "full-depth pass"
	}
	return fmt.Sprintf("pass %d of %d", p.N, p.Of)
}

// DeepWords say how deep the arc of a setting is cut, and how: "6.0 mm from the top of the stock, 3 passes of 2.0 mm, spring pass; go
// down off the part"; empty where it is not asked for in passes.
func DeepWords(s *session.State, u geom.Unit) string {
	c := s.Deep()
	if c == nil {
		return ""
	}
	all := c.Passes()
	out := fmt.Sprintf("%s from the top of the stock, ", DepthWords(c.Depth, u))
	if len(all) == 1 {
		out += "in one pass"
	} else {
		out += fmt.Sprintf("%d passes of %s", len(all), DepthWords(all[0], u))
	}
	if c.Spring {
		out += ", spring pass"
	}
	if r, ok := c.Entry.Row(); ok {
		out += "; go down " + r.Means
	}
	return out
}

// outs is what is done at the end of a pass.
func outs(r record.Run) string {
	if r.Sense == "none" { // back is as good a way
		return "lift out at the stop, go back lifted"
	}
	return "lift out at the stop, go back lifted (back in the cut climbs)"
}

// offTheMetal are the places where a cutter may go down, where nobody has said which.
const offTheMetal = "off the metal: in the waste, off the part or in a drilled hole"

// EntryWords say where the cutter goes down: where that is said, or the places that there are. Where it would gouge ahead of the
// start, it goes down at the start itself.
func EntryWords(s *session.State) string {
	r, said := s.Entry().Row()
	switch {
	case comesUp(s) && said:
		return "go down " + r.Means
	case comesUp(s):
		return "enter " + offTheMetal
	case said:
		return record.AtTheStart(r.Means)
	}
	return record.AtTheStart(offTheMetal)
}

// jumpWords say that a pass goes deeper at once than its step, for passes before it were left out; and the same for large letters,
// in ever shorter forms. Empty where it does not.
func jumpWords(p session.CutPass, u geom.Unit) (long string, brief []string) {
	if !p.Jumps() {
		return "", nil
	}
	far, step := DepthWords(p.AtOnce, u), DepthWords(p.Step, u)
	if p.AtOnce <= p.Step+1e-9 {
		return "; the pass to this depth was left out: this one cuts " + far + ", and nothing springs over it",
			[]string{"cuts " + far + ", not sprung over"}
	}
	return fmt.Sprintf("; passes were left out: %s at once, more than the step of %s: go down by steps of %s at most, each over the same way",
		far, step, step), []string{far + " at once: go by steps of " + step, "go down by steps of " + step, "by steps of " + step}
}

// JumpBrief is that for large letters; nil where a pass goes no deeper at once than its step.
func JumpBrief(p session.CutPass, u geom.Unit) []string {
	_, brief := jumpWords(p, u)
	return brief
}

// EntryBrief is the same for large letters, in ever shorter forms.
func EntryBrief(s *session.State) []string {
	at := ""
	if !comesUp(s) {
		at = " at the start"
	}
	if r, ok := s.Entry().Row(); ok {
		return []string{"go down" + at + " " + r.Means, "down" + at + " " + r.Means}
	}
	return []string{"go down" + at + " off the metal", "down" + at + " off the metal"}
}

// comesUp reports whether the cutter may come up to the start of the arc from ahead of it at the depth: where another element of the
// outline begins there it may not.
func comesUp(s *session.State) bool {
	r, ok := cutRun(s)
	if !ok || r.Start.Unknown() || s.Set.Arc == nil {
		return true
	}
	return s.Set.Arc.ComesUp(s.SetUp().Under().Table)
}

// passed are the words of a pass.
func passed(t *choreTeller) []string {
	p, ok := t.s.PassAt(t.at)
	if !ok {
		return []string{"a pass of the cut, to its depth"}
	}
	depth := DepthWords(p.Depth, t.u)
	name := PassName(p)
	long := name + ", depth " + depth
	switch {
	case p.Spring:
		long += " again, nothing wound: the same way once more, for what the cutter has sprung away"
	default:
		long += " from the top of the stock"
		if p.Rough {
			long += ", " + t.length(leavesOn(t.s)) + " left on"
		}
	}
	jump, _ := jumpWords(p, t.u)
	long += jump
	if p.Whole && !p.Spring && jump == "" {
		step := DepthWords(p.Step, t.u)
		long += "; what is left on is light and comes off at once, where the flutes are longer than that: where not, or where it " +
			"chatters, go down by " + step + " at a time"
	}
	down, lock := "down where you went in before", ", lock the quill at that depth"
	switch {
	case p.Fresh:
		down = EntryWords(t.s)
	case p.Whole && p.First:
		down += ", full depth"
	}
	round := t.run.Start.Unknown() && !t.run.OpenEnds
	if t.runs && !round && comesUp(t.s) {
		lock += ", come up to the start in the cutting sense"
	}
	long += "; " + down + lock
	run := ""
	if t.runs {
		run = ": " + t.run.Words()
		if p.First {
			run += t.run.Windows()
		}
		if round {
			run = ": start anywhere, " + t.run.Words() + ", one turn and a little"
		}
	}
	brief := name + ", depth " + depth
	if jump != "" {
		brief += " by steps of " + DepthWords(p.Step, t.u)
	}
	if t.runs {
		brief += ": " + t.run.Brief()
	}
	out := outs(t.run)
	return []string{long + run + "; " + out, brief + "; lift out, back lifted", brief, name}
}

// FirstDepth reports whether the quill is to be set to zero on top of the stock, for no pass has been made yet and one comes.
func FirstDepth(s *session.State) bool {
	all, done := s.Chores()
	return slices.Contains(all, session.Pass) && !slices.Contains(all[:min(len(done), len(all))], session.Power)
}

// powered are the words of the step that puts the power on.
func powered(t *choreTeller) []string {
	all, _ := t.s.Chores()
	zeroed := []session.Chore{session.Power, session.TouchTop}
	switch {
	case t.s.Deep() == nil:
		return []string{"back to where the cut starts, cutter clear of the metal; height to the depth, quill locked; nothing left on " +
			"the table, hands at the handle only; then power", "back to the start, depth, table bare, hands at the handle; power"}
	case slices.ContainsFunc(all[:max(t.at, 0)], func(c session.Chore) bool { return slices.Contains(zeroed, c) }):
		return []string{"back to where the cutter goes down, clear above the work; nothing left on the table, hands at the handle only; " +
			"then power", "back to the start, clear of the work, table bare, hands at the handle; power"}
	}
	return []string{"still isolated, touch the cutter to the top of the stock and set the quill's scale or stop to zero there; up, back to " +
		"where the cutter goes down, clear above the work; nothing left on the table, hands at the handle only; then power",
		"zero the quill on top of the stock; back to the start, clear; table bare, hands at the handle; power"}
}
