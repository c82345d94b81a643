package pane

import (
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// leans is what the verdicts on what stands lean on that nobody has stated.
func (v *View) leans() record.Leans {
	if !v.Fitted {
		return record.NoLeans
	}
	return record.LeansOf(&v.State, &v.Found)
}

// conditional prints a verdict, with words that say what it leans on, if anything.
func (v *View) conditional(x indicator.Verdict, words string) string {
	if x == indicator.Inside && words != x.String() {
		return v.verdict(x) + " if"
	}
	return v.verdict(x)
}

// settledAction says what may be done with what has settled, in ever shorter forms. An "inside" that leans on something is never
// without its "if".
func settledAction(v *View) (words, big []string) {
	verdicts := v.State.Verdicts(&v.Found)
	short, unsaid := v.leans().Short(verdicts, v.unit())
	switch {
	case unsaid != "":
		return []string{
			"cannot decide, " + unsaid + ": a accepts as it is",
			unsaid + ": a accepts as it is",
			"a accepts as it is, r sweeps again",
		}, []string{"undecided"}
	case verdicts.Has(indicator.Undecided):
		return []string{
			"cannot decide, and no wind would help: a accepts as it is, r sweeps again",
			"cannot decide: a accepts as it is, r sweeps again",
			"a accepts as it is, r sweeps again",
		}, []string{"undecided"}
	case short != "":
		return []string{
			v.text(short) + ": a accepts", v.text(short),
			"inside if what is not stated is right: a accepts",
			"inside if: a accepts",
		}, []string{"inside if"}
	}
	return []string{"inside the tolerance, the doubt included: a accepts", "inside, doubt included: a accepts"}, []string{"inside"}
}

// assumedLines say on a settled page what the verdicts lean on, and what to do about it before it is accepted.
func assumedLines(v *View, w int) (out []string) {
	if v.Prompt.Waits != session.ForAccept {
		return nil
	}
	for _, said := range v.leans().Sentences(v.State.Verdicts(&v.Found), v.unit()) {
		for _, l := range wrap(v.text(said), w, 2) {
			out = append(out, v.Theme.Doubt.Render(l))
		}
	}
	return out
}
