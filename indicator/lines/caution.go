package lines

import (
	"strings"

	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// Cautions are what has to be minded at the step that is asked for; none where no step is.
func Cautions(s *session.State, p *session.Prompt) []string {
	if p.Waits != session.ForChore {
		return nil
	}
	return record.Cautions(record.CareOf(s), p.Chore.Step)
}

// cautionRows are the same behind the line that asks for the step, each in a row of its own.
func cautionRows(all []string) string {
	if len(all) == 0 {
		return ""
	}
	return "\n! " + strings.Join(all, "\n! ")
}
