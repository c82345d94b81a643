package lines

import (
	"slices"
	"strings"

	"example.org/trammel/indicator/session"
)

// Speech is how a person answers: by the keys of a numeric keypad, or by words that are typed.
type Speech struct {
	Keys bool
	// Shown says that Enter alone takes what a simulated dial shows, as in practice.
	Shown bool
	// Needle says the same of a cable indicator, of which Enter takes a reading in doubt again.
	Needle bool
}

// deed is something that a person may say, in both forms. What is not in the table is a command by its word: typed as its
// grammar has it, and on the keypad a line of the list that * opens.
type deed struct {
	name, typed, pressed string
	// row is the word or label of the command that it is, where name is neither.
	row string
	// shown is the key form where Enter alone takes what a dial shows; empty for pressed.
	shown string
	// needle is the key form where Enter alone takes what a cable indicator shows; empty for shown.
	needle string
}

var deeds = []deed{
	{name: "enter", pressed: ", and press Enter"},
	{name: "read", typed: "type what the dial shows", pressed: "type what the dial shows",
		needle: "wait until the needle stands still and press Enter, which takes what it shows, or type that"},
	{name: "wound", typed: "type what the dial shows; " + quoted("done") + " alone says that it was done, but not how well",
		pressed: "type what the dial shows, and press Enter; Enter alone says that it was done, but not how well",
		needle: "wait until the needle stands still and press Enter, which takes what it shows; " +
			"Enter before the wind says that the head is parked"},
	{name: "xy", typed: "type x y", pressed: "type x, Enter, y, Enter"},
	{name: "done", typed: quoted("done"), pressed: "Enter"},
	{name: "undo", typed: quoted("undo"), pressed: "/"},
	{name: "enough", typed: quoted("enough"), pressed: "Enter twice", shown: listLine("close the sweep with what is there")},
	{name: "keep", typed: quoted("keep"), pressed: "Enter twice", needle: listLine("the reading in doubt stands, or the drift stays in")},
	{name: "leave in", row: "keep", typed: quoted("keep"), pressed: listLine("the reading in doubt stands, or the drift stays in")},
	{name: "accept", typed: quoted("accept"), pressed: "Enter twice"},
	{name: "stopped", typed: quoted("stopped"), pressed: "Enter twice"},
	{name: "correct", typed: "type the figure that is proposed"}, // on the list it stands with its figure
	{name: "restate", typed: quoted("restate") + " with the number of the cause", pressed: "*, then the line that puts it right"},
	{name: "ways", typed: "like " + quoted("chord C sagitta H") + " or " + quoted("diameter D"),
		pressed: "* lists what can be measured, then one figure after the other, Enter behind each"},
	{name: "quit", typed: quoted("quit"), pressed: "*, then the line that quits"},
}

// listLine is a line of the list, as a sentence names it.
func listLine(words string) string { return "*, then " + quoted(words) }

func quoted(words string) string { return `"` + words + `"` }

// say is a deed in a sentence; ok is false where it cannot be done now, so that the sentence says nothing.
func (sp Speech) say(name string, s *session.State, now *session.Now) (words string, ok bool) {
	row := name
	i := slices.IndexFunc(deeds, func(d deed) bool { return d.name == name })
	if i >= 0 && deeds[i].row != "" {
		row = deeds[i].row
	}
	r := commandRow(row)
	if r != nil && (!r.Shown(now) || r.Not(now) != "") {
		return "", false
	}
	switch {
	case i >= 0 && !sp.Keys:
		return deeds[i].typed, true
	case r != nil && sp.Keys && Listed(r, s, s.Set.Job.Unit) != "" && deeds[i].pressed == "":
		return listLine(Listed(r, s, s.Set.Job.Unit)), true
	case i >= 0 && sp.Needle && deeds[i].needle != "":
		return deeds[i].needle, true
	case i >= 0 && (sp.Shown || sp.Needle) && deeds[i].shown != "":
		return deeds[i].shown, true
	case i >= 0:
		return deeds[i].pressed, true
	case r == nil:
		return "", false
	}
	return sp.command(r, s), true
}

// command is what has no form of its own.
func (sp Speech) command(r *session.CommandRow, s *session.State) string {
	var all []string
	switch {
	case !sp.Keys && len(r.Choices) > 0:
		for _, f := range r.Forms {
			all = append(all, quoted(f.Text))
		}
	case !sp.Keys:
		return quoted(r.Forms[0].Text)
	case len(r.Offers(s)) > 0:
		for _, c := range r.Offers(s) {
			all = append(all, quoted(c.Words))
		}
		return "*, then " + strings.Join(all, " or ")
	default:
		return listLine(r.Forms[0].Help)
	}
	return strings.Join(all, " or ")
}

// commandRow is a command by its word, or by what its key is called where it has none; nil where there is none.
func commandRow(name string) *session.CommandRow {
	all := session.Commands()
	if i := slices.IndexFunc(all, func(r *session.CommandRow) bool { return r.Word == name || r.Word == "" && r.Label == name }); i >= 0 {
		return all[i]
	}
	return nil
}
