package pane

import (
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// action is what is to be done now: in words, in ever shorter forms, and part by part as large letters say it, in the order of
// the hand.
type action struct {
	words []string
	parts []deed
	moves string // what is moved, which the words name; empty where nothing is
	// asks stands in the place of the parts in a window whose list has them: what the hand has to ask itself before it does any of them.
	asks []deed
	// where is where the head or the table is to stand for it, for a window without a list; empty where the movements say so.
	where string
	// aside is what is looked at before the first movement, for a window without a list.
	aside string
	// title and answer are what it is called, and what answers it, where all of it is written in several pieces.
	title, answer string
}

// deed is one thing that the hand does.
type deed struct {
	alone []string   // in one line that is complete in itself, in ever shorter forms
	under []string   // in one line below a part that names what is moved
	two   [][]string // in two lines, complete in themselves; nil where it is not to be broken
	// unnamed is in two lines where not even its name fits into one with the way: the words above tell it.
	unnamed [][]string
}

// big is an action of one part.
func big(words []string, forms ...string) action {
	return action{words: words, parts: []deed{{alone: forms}}}
}

// now is the action of what a view shows: of the page that lies over the work, if one does.
func now(v *View) action {
	switch {
	case v.Lost:
		return big([]string{"nothing more is taken: mend the disk, then y records it again; q quits", "mend the disk, y again; q quits"},
			"not recorded")
	case v.Asked != "":
		return big([]string{strings.TrimSuffix(strings.TrimSpace(v.text(v.Asked)), ":")}, v.Num(v.text(v.Typed))+"_")
	case v.Listing:
		return big([]string{"type a number, then Enter; * or / closes the list", "number, Enter; * closes"},
			"number "+v.Listed+"_", v.Listed+"_")
	case v.Page && v.OnEnter != "":
		return big([]string{"Enter: " + v.OnEnter}, "Enter: "+v.OnEnter)
	case v.Page:
		return big([]string{"Enter goes on"}, "Enter: go on")
	}
	a := asked(v)
	if v.Entry != "" {
		typed := v.Num(v.text(v.Entry)) + "_"
		a.parts, a.asks = []deed{{alone: []string{v.entered() + ": " + typed, typed}}}, nil
	}
	return a
}

// asked is the action that answers what is asked.
func asked(v *View) action {
	p := v.Prompt
	switch p.Waits {
	case session.ForReading:
		if p.Reading.Touch {
			return pointAction(v)
		}
		return readingAction(v)
	case session.ForLoad:
		return loadAction(v)
	case session.ForChore:
		return choreAction(v)
	case session.ForDrift:
		by := v.reading(p.Drift.Change)
		return big([]string{
			fmt.Sprintf("the readings drifted by %s %v: e takes it out, k leaves it in, r sweeps again; * lists", by, v.unit()),
			fmt.Sprintf("drifted by %s %v: e take out, k leave, r again; * lists", by, v.unit()),
			"e take out, k leave, r again; * lists",
		}, "drifted "+by, "drifted")
	case session.ForWind:
		return windAction(v)
	case session.ForAccept:
		return settledAction(v)
	case session.ForSize:
		return sizeAction(v)
	case session.ForCheck:
		return checkAction(v)
	case session.ForBack:
		return backAction(v)
	case session.ForAgain:
		return big([]string{
			"these readings give no circle: undo the wrong one with /, or r to sweep again",
			"no circle: / undo, or r to sweep again",
		}, "sweep again", "again")
	case session.ForMoved:
		return movedAction(v)
	case session.ForNothing:
	}
	return acceptedAction(v)
}

// entered is what a number that is being typed belongs to.
func (v *View) entered() string {
	p := v.Prompt
	switch p.Waits {
	case session.ForReading:
		if p.Reading.Touch {
			return "x y"
		}
		return v.stationFigure()
	case session.ForWind:
		if p.Wind.How == session.ByTap {
			return "tap"
		}
		return SlideName(p.Wind.Slide.Name)
	case session.ForChore:
		all := lines.ChoreWords(&v.State, p.Chore.Step, v.unit())
		return v.text(all[len(all)-1])
	case session.ForSize, session.ForCheck, session.ForBack, session.ForAgain, session.ForLoad, session.ForDrift,
		session.ForAccept, session.ForNothing, session.ForMoved:
	}
	return "answer"
}

// acceptedAction is what is left to be done once the setting is accepted and no step is asked.
func acceptedAction(v *View) action {
	if v.State.Phase == session.Ended && len(v.State.Worked) > 0 {
		return big([]string{"the job is done; / takes the last step back", "the job is done"}, "done")
	}
	dry := lines.DryWords(&v.State)
	return big([]string{
		"accepted; indicator out, cutter in, spindle free, one " + dry + " through the arc",
		"indicator out, cutter in, spindle free, one " + dry,
		"indicator out, cutter in, one " + dry,
	}, "accepted")
}

// handMoves are the movements of the load or wind in hand, as the hand counts them on its collar.
func handMoves(v *View) (parts []deed) {
	sl, moves := v.Prompt.Handwheel()
	for _, m := range moves {
		parts = append(parts, moveDeed(SlideName(sl.Name), sl.Shown(m)))
	}
	return parts
}

// moveDeed is one movement of a slide, as its collar counts.
func moveDeed(name string, m slide.Move) deed {
	return turning(name, m, record.Amount(m)) // its unit stays: without it the figure would be read off the collar
}

// turning is one movement of a slide, as far as is said.
func turning(name string, m slide.Move, far string) deed {
	turn := m.Turn.String()
	return deed{
		alone: []string{name + " " + turn + " " + far},
		under: []string{turn + " " + far},
		two:   [][]string{{name + " " + turn}, {far}}, unnamed: [][]string{{turn}, {far}},
	}
}

// layouts are the ways in which parts can be written below one another.
func layouts(group []deed) [][][]string {
	var whole, broken [][]string
	for i, p := range group {
		forms := p.alone
		if i > 0 {
			forms = append(slices.Clip(forms), p.under...)
		}
		whole = append(whole, forms)
		if p.two == nil {
			broken = append(broken, forms)
		} else {
			broken = append(broken, p.two...)
		}
	}
	if len(broken) == len(whole) {
		return [][][]string{whole}
	}
	return [][][]string{whole, broken}
}

// split shares parts out among k pieces, in their order and as evenly as may be.
func split(parts []deed, k int) (out [][]deed) {
	for i := range k {
		out = append(out, parts[i*len(parts)/k:(i+1)*len(parts)/k])
	}
	return out
}
