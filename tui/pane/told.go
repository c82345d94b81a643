package pane

import (
	"strings"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// mustTell is what nobody can do without of what is asked, and large letters do not say, in rows of at most w cells: the work zone
// has it, and where it has not the room, the bottom zone.
func mustTell(v *View, w int) []string {
	switch v.Prompt.Waits {
	case session.ForChore:
		return append(wrapped(v.Theme.Now, v.text(lines.ChoreWords(&v.State, v.Prompt.Chore.Step, v.unit())[0]), w), cautionRows(v, w)...)
	case session.ForAccept:
		if verdicts := v.State.Verdicts(&v.Found); verdicts.Has(indicator.Undecided) {
			return append(assumedLines(v, w), limitLines(v, w)...)
		}
		return assumedLines(v, w)
	case session.ForSize:
		return sizeTold(v, w)
	case session.ForCheck:
		return checkTold(v, w)
	case session.ForReading, session.ForLoad, session.ForWind, session.ForDrift, session.ForBack, session.ForAgain, session.ForNothing:
	case session.ForMoved:
		return movedTold(v, w)
	}
	return nil
}

// NeedsWidth reports whether a work zone of w × h cells would lose something that nobody can do without.
func NeedsWidth(v *View, w, h int) bool { return len(mustTell(v, w)) > h }

// checkTold is the check of a sign, whole, and what is in question.
func checkTold(v *View, w int) (out []string) {
	for _, c := range strings.Split(checkWords(v)[0], "; ") {
		out = append(out, wrapped(v.Theme.Now, v.text(v.Num(c)), w)...)
	}
	return append(out, checkList(v, w)...)
}

// cautionRows are what has to be minded in the step that is asked for.
func cautionRows(v *View, w int) (out []string) {
	for _, c := range lines.Cautions(&v.State, &v.Prompt) {
		out = append(out, wrapped(v.Theme.Doubt, v.text("! "+c), w)...)
	}
	return out
}
