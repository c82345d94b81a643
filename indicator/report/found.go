package report

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/setup"
)

// found says which figures of the job were found before the setting was opened, and from which readings.
func (s *Setting) found() (rows []Row) {
	set, u := s.State.Set, s.Unit
	length := func(mm float64) string { return geom.FormatFixed(u.From(mm), geom.Places(0, u)) }
	for i := range set.Found {
		f := &set.Found[i]
		name, value := "reach found here", fmt.Sprintf("%s %v", geom.FormatSigned(u.From(f.Value), geom.Places(0, u)), u)
		if f.Key == setup.FoundRepeatability {
			name, value = "repeatability found here", fmt.Sprintf("%s %v", geom.FormatFixed(u.From(f.Value), geom.Places(0, u)+1), u)
		}
		if f.Limit > 0 {
			value += fmt.Sprintf(", right within %s %v", geom.FormatFixed(u.From(f.Limit), geom.Places(0, u)+1), u)
		}
		for _, r := range f.Rounds {
			of := r.Of
			if r.Radius > 0 {
				of += fmt.Sprintf(" of diameter %s %v", length(2*r.Radius), u)
			}
			read := make([]string, len(r.Readings))
			for i, v := range r.Readings {
				read[i] = record.Reading(set.Job.Dial, u, v)
			}
			value += fmt.Sprintf("; %s reads %s %v", of, strings.Join(read, ", "), u)
		}
		rows = append(rows, Row{name, value})
	}
	return rows
}
