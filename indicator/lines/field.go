package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// fields are what a screen asks where an entry takes more than its key, by the entry's word.
var fields = map[string]func(*session.State, geom.Unit) string{
	"note":  func(*session.State, geom.Unit) string { return "note: " },
	"hold":  inUnit("swing radius to hold, its error (%v; empty: none): "),
	"bias":  askBias,
	"at":    inUnit("slide and its scale (%v), like offset 42.35: "),
	"bezel": inUnit("the needle showed, and shows now (%v): "),
	"sense": askSign,
	"restate": func(s *session.State, _ geom.Unit) string {
		return "which is put right (empty: the only one): " + numbered(stated(s, s.Named), ", ") + " "
	},
	"height": inUnit("second sweep, how far above this one (%v): "),
}

// Field is what a screen asks for a row that takes a text; lengths are typed in unit u.
func Field(r *session.CommandRow, s *session.State, u geom.Unit) string {
	if ask, ok := fields[r.Word]; ok {
		return ask(s, u)
	}
	return r.Word + ": "
}

func inUnit(ask string) func(*session.State, geom.Unit) string {
	return func(_ *session.State, u geom.Unit) string { return fmt.Sprintf(ask, u) }
}

// askBias asks by how much the swing radius is to be set larger, with what the arcs so far propose.
func askBias(s *session.State, u geom.Unit) string {
	if fb, ok := s.Feedback(); ok && fb.Why == "" {
		by := geom.FormatSigned(u.From(fb.By.V), geom.Places(0, u))
		return fmt.Sprintf("set the swing radius larger by (%v; empty: %s, as the arcs say): ", u, by)
	}
	return fmt.Sprintf("set the swing radius larger by (%v; no arc proposes any): ", u)
}

// askSign asks for the answer to the sign check that comes next; the status row would be too short for how
// it is done.
func askSign(s *session.State, _ geom.Unit) string {
	forms := SenseWords(s, s.NextSense())
	return forms[len(forms)-1] + " "
}
