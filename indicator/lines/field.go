package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// fields are what a screen asks where an entry takes more than its key, by the entry's word.
var fields = map[string]func(s *session.State, u geom.Unit, word string) string{
	"note":  func(*session.State, geom.Unit, string) string { return "note: " },
	"hold":  inUnit("swing radius to hold, its error (%v; empty: none): "),
	"bias":  askBias,
	"at":    askScale,
	"limit": askLimit,
	"bezel": askBezel,
	"sense": askSign,
	"ring": func(*session.State, geom.Unit, string) string {
		return "the ring showed at the start and at the stop (degrees): "
	},
	"height": inUnit("second sweep, how far above this one (%v): "),
}

// Field is what a screen asks for a row that takes a text, behind a word that was picked, empty for none; lengths are typed in unit u.
func Field(r *session.CommandRow, s *session.State, u geom.Unit, word string) string {
	if ask, ok := fields[r.Word]; ok {
		return ask(s, u, word)
	}
	return r.Word + ": "
}

func inUnit(ask string) func(*session.State, geom.Unit, string) string {
	return func(_ *session.State, u geom.Unit, _ string) string { return fmt.Sprintf(ask, u) }
}

// askScale asks where a slide's scale stands.
func askScale(_ *session.State, u geom.Unit, slide string) string {
	if slide == "" {
		return fmt.Sprintf("slide and its scale (%v), like offset 42.35: ", u)
	}
	return fmt.Sprintf("the scale of the %s slide shows (%v): ", SlideName(slide), u)
}

// askBezel asks what the needle showed and shows.
func askBezel(s *session.State, u geom.Unit, _ string) string {
	return fmt.Sprintf("the needle showed, and shows now (%s): ", DialWords(s, u))
}

// askBias asks by how much the swing radius is to be set larger, with what the arcs so far propose.
func askBias(s *session.State, u geom.Unit, _ string) string {
	if fb, ok := s.Feedback(); ok && fb.Why == "" {
		by := geom.FormatSigned(u.From(fb.By.V), geom.Places(0, u))
		return fmt.Sprintf("set the swing radius larger by (%v; empty: %s, as the arcs say): ", u, by)
	}
	return fmt.Sprintf("set the swing radius larger by (%v; no arc proposes any): ", u)
}

// askSign says how a sign is checked, in the hand's order, and asks what came of it.
func askSign(s *session.State, _ geom.Unit, slide string) string {
	how, _ := senseWords(s, slide)
	return how
}
