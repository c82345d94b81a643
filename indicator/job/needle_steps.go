package job

import (
	"fmt"
	"strings"

	"example.org/trammel/indicator/slide"
)

// needleSlideAsks are what is asked of each slide before its rounds. The eye's comes first, and no tip touches the work before the
// first round: a whole turn would drive a dial into its stop.
var needleSlideAsks = []asks{
	{key: "eye", text: eyeText, kind: choices(func(a *answers, key string) []choice {
		return sensesOf(a, "slide."+needleName(key)+".clockwise")
	}), help: "Turn the handle, and look, before the needle says anything. Where eye and needle differ nothing is proposed.\n" +
		"What counts is how the cutter stands to the work afterwards: a table that goes left carries the cutter to the right."},
	{key: "pressing", kind: words("grows", "shrinks"), def: says("grows"),
		text: ofNeedle("%s slide, the tip still clear of the work: press it with a finger, from the side that the work will be on; does " +
			"the reading grow or shrink"),
		help: "Most dials count up as the tip is pressed in; one that stands the other way round counts down. Do it, and look."},
	{key: "side", text: standText, kind: choices(func(_ *answers, key string) []choice {
		s := senseOf("slide." + needleName(key))
		return []choice{{words: s.grows, toml: quote("ahead")}, {words: s.shrinks, toml: quote("behind")}}
	}), help: `The tip has to be pushed or let go by this slide alone: against a face square to it, the plunger square to the face.

      tip   face, on its right          face, on its left   tip
      ( )--|##                                         ##|--( )`},
}

// eyeText has the tip clear and the locks as they stay, and then a turn.
func eyeText(a *answers, in string) string {
	name := needleName(in)
	table := ""
	if slide.Rides(name) {
		table = "; turn the table to its zero and lock it"
	}
	return about("%s slide, by eye: isolate the machine"+table+"\nkeep the indicator clear of the work; open the lock of this slide, "+
		"and lock the others\n")(a, "slide."+name) + "one turn clockwise, facing the handle: " + senseOf("slide."+name).asks
}

// standText tells how the indicator is to stand, first thing first.
func standText(a *answers, in string) string {
	name := needleName(in)
	held, square := "hold the indicator in the spindle or on the head", "square to %s"
	switch {
	case slide.Rides(name):
		held = "stand the indicator off the table, not on it"
	case name == "offset": // which carries the spindle, and nothing else of the head
		held, square = "hold the indicator in the spindle", "square to the offset slide"
	}
	return about("%s slide: "+held+"\nset its tip in front of a flat face of the work that stands "+square+
		", close to it and not touching yet\nwhere does the face lie, seen from the tip?")(a, "slide."+name)
}

var readAsks = []asks{
	{key: "read_1", kind: dialReading, text: upText, moves: (*answers).movesUp, check: onDial,
		help: "The turn clockwise takes the backlash up. Where the holder cannot be moved, and a turn clockwise carries the tip on to\n" +
			"the face, let that turn bring it on. " + readHelp},
	{key: "read_2", kind: dialReading, text: turnedText("on", (*answers).movesOn), moves: (*answers).movesOn, check: onDial,
		help: readHelp},
	{key: "read_3", kind: dialReading, text: turnedText("back", (*answers).movesBack), moves: (*answers).movesBack,
		check: onDial, help: readHelp},
}

const readHelp = "Turn, as told, without turning back on the way, let go, and read the dial with the whole turns of its needle. Where the\n" +
	"needle comes to its end, stop: nothing is won by force. Where a movement went past its mark, go back to the question\n" +
	"before it and make the round anew. This slide stays unlocked, and the others locked."

// upText tells the movements that take the backlash up, first thing first, and then what to read.
func upText(a *answers, in string) string {
	m := a.movesUp(in)
	if roundOf(in) == 1 {
		return steps(a, in, "keep the tip clear of the face",
			"facing the handle, wind "+handTurn(m[0])+" or more, and stop at a mark of the collar; keep that mark in mind",
			"bring the tip on to the face by its holder, not by the handle, to about the middle of its way",
			"hand off: where does the needle stand, with its whole turns")
	}
	var all []string
	for _, one := range m {
		all = append(all, "wind "+handTurn(one))
	}
	all[0] = "facing the handle, watching the needle, " + all[0]
	all[len(all)-1] += ", up to the mark where the first round began"
	return steps(a, in, append(all, "hand off: where does the needle stand")...)
}

// turnedText tells one movement that is counted, and then what to read.
func turnedText(way string, moves func(*answers, string) []slide.Move) func(*answers, string) string {
	return func(a *answers, in string) string {
		watch := ""
		if t := a.needleTest(needleName(in)); t.Unstated {
			watch = "watching that the needle stays on its dial, "
		}
		return steps(a, in, "facing the handle, "+watch+"wind "+way+" "+handTurn(moves(a, in)[0])+" exactly, without turning back",
			"hand off: where does the needle stand")
	}
}

// steps are a round's, numbered, a row each; the last is what is asked.
func steps(a *answers, in string, all ...string) string {
	out := ofNeedle("%s slide")(a, in) + fmt.Sprintf(", round %d", roundOf(in))
	for i, s := range all {
		out += fmt.Sprintf("\n%d. %s", i+1, s)
	}
	return out
}

// handTurn spells a movement of whole divisions, and amount how far it goes.
func handTurn(m slide.Move) string { return m.Turn.String() + " " + amount(m) }

func amount(m slide.Move) string {
	var parts []string
	for _, p := range []struct {
		n    float64
		word string
	}{{float64(m.Turns), "turn"}, {m.Divisions, "division"}} {
		switch {
		case p.n == 1:
			parts = append(parts, "1 "+p.word)
		case p.n > 0:
			parts = append(parts, decimal(p.n)+" "+p.word+"s")
		}
	}
	return strings.Join(parts, " ")
}
