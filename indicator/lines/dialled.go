package lines

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

// DialWords is what the dial is read in, typed in unit u.
func DialWords(s *session.State, u geom.Unit) string {
	if s.Set.Job.Dial.WholeNumbers == indicator.Thousandths {
		return "thousandths, or in with a point"
	}
	return u.String()
}

// countsWords warns behind a question of what a number without a point counts; empty where it is the job's unit.
func countsWords(w indicator.WholeNumbers) string {
	if w == indicator.Thousandths {
		return "; a whole number is thousandths of an inch"
	}
	return ""
}
