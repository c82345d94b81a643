package pane

import (
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
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
func settledAction(v *View) action {
	verdicts := v.State.Verdicts(&v.Found)
	a := action{words: v.settledWords(verdicts), parts: v.settledParts(verdicts), title: "inside", answer: "Enter twice accepts, * lists"}
	if verdicts.Has(indicator.Undecided) {
		a.title, a.answer = "cannot decide", "Enter twice accepts as it is, * lists"
	}
	return a
}

// settledParts are what has been reached, each with its verdict.
func (v *View) settledParts(verdicts indicator.Verdicts) (parts []deed) {
	radius, centre := v.leans().VerdictWords(verdicts, v.unit())
	tell := func(name string, x indicator.Value, is indicator.Verdict, words string) {
		said := ""
		if is != indicator.NoVerdict {
			said = is.Words()
		}
		if is == indicator.Inside && words != is.Words() {
			said += " if"
		}
		forms := v.figureForms(name, x, "")
		parts = append(parts, deed{alone: v.figureForms(name, x, said), two: [][]string{forms, {said}}})
		if said == "" {
			parts[len(parts)-1].two = nil
		}
	}
	if r, ok := v.State.Swing(&v.Found); ok {
		tell("swing", r, verdicts.Radius, radius)
	}
	if off, ok := v.State.Standing(&v.Found); ok {
		tell("centre", off.Offset(), verdicts.Centre, centre)
	}
	if len(parts) == 0 { // nothing is claimed of it
		parts = []deed{{alone: []string{"settled"}}}
	}
	return parts
}

// settledWords are what may be done with it.
func (v *View) settledWords(verdicts indicator.Verdicts) []string {
	short, unsaid := v.leans().Short(verdicts, v.unit())
	if _, why := lines.MeasuredUnsure(&v.State); unsaid == "" {
		unsaid = why
	}
	switch {
	case unsaid != "":
		return []string{
			"cannot decide, " + unsaid + ": Enter twice accepts as it is",
			unsaid + ": Enter twice accepts",
			"Enter twice accepts as it is, * lists",
		}
	case verdicts.Has(indicator.Undecided):
		return []string{
			"cannot decide, and no wind would help: Enter twice accepts as it is, * lists",
			"cannot decide: Enter twice accepts as it is, * lists",
			"Enter twice accepts as it is, * lists",
		}
	case short != "":
		return []string{
			v.text(short) + ": Enter twice accepts", v.text(short),
			"inside if what is not stated is right: Enter twice accepts",
			"inside if: Enter twice accepts",
		}
	}
	return []string{"inside the tolerance, the doubt included: Enter twice accepts", "inside, doubt included: Enter twice accepts"}
}

// assumedLines say on a settled page what the doubt is made of where no sweep sees all of it, what the verdicts lean on, and what
// to do about it before it is accepted.
func assumedLines(v *View, w int) (out []string) {
	if v.Prompt.Waits != session.ForAccept {
		return nil
	}
	for i, part := range lines.AboutWords(&v.State, &v.Found, v.unit()) {
		if i > 0 {
			part = "  " + part
		}
		out = append(out, wrapped(v.Theme.Dim, v.text(part), w)...)
	}
	if why, _ := lines.MeasuredUnsure(&v.State); why != "" {
		out = append(out, wrapped(v.Theme.Doubt, v.text(why), w)...)
	}
	for _, said := range v.leans().Sentences(v.State.Verdicts(&v.Found), v.unit()) {
		out = append(out, wrapped(v.Theme.Doubt, v.text(said), w)...)
	}
	return out
}
