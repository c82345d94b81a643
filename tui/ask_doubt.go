package tui

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
)

// slip is what is known of an entry that may be another figure than was meant.
type slip struct {
	cleared string // by the key that is the bar of a fraction too
	asked   string // the entry that Enter is asked for once more
}

// bar types the bar of a fraction where / is that, by the rule of barGoes; false where / is the key that it is elsewhere.
func (m *AskModel) bar() bool {
	q := &m.view.Question
	if !q.Fraction || m.view.Over || m.leaving {
		return false
	}
	text, several := strings.TrimLeft(m.view.Entry, "dD "), q.Two || !q.Closed && !q.Numeral
	if several { // a list has + between its figures
		text = text[strings.LastIndex(text, "+")+1:]
	}
	if text == "" || !barGoes(text, several) {
		return false
	}
	m.types([]rune("/"))
	return true
}

// clear empties the entry, and remembers what stood there.
func (m *AskModel) clear() {
	m.slip.cleared, m.view.Entry = strings.TrimSpace(m.view.Entry), ""
}

// doubt asks for Enter once more where an entry is likely to be another figure than was meant, and says why; empty for no doubt. The
// entry stays, and may be typed anew as well.
func (m *AskModel) doubt(entry string) string {
	q := &m.view.Question
	entry = strings.TrimSpace(entry)
	if entry == m.slip.asked || q.Closed || m.view.Over {
		return ""
	}
	why := halfFraction(q, m.slip.cleared, entry)
	if why == "" {
		why = uncommon(q, entry)
	}
	if slips := m.q.Doubt(entry); why == "" && slips != "" {
		why = slips + "? Enter again takes it"
	}
	if why != "" {
		m.slip.asked = entry
		m.hand.turned()
	}
	return why
}

// inWords is a figure with the unit of what is asked.
func inWords(q *job.Question, figure string) string { return strings.TrimSpace(figure + " " + q.Unit) }

// halfFraction says that a figure may be what is left of a fraction whose numerator / has cleared.
func halfFraction(q *job.Question, cleared, entry string) string {
	if _, err := geom.ParseUnit(q.Unit); err != nil || cleared == "" || !geom.Whole(entry) {
		return ""
	}
	fields := strings.Fields(cleared)
	part := fields[len(fields)-1] + "/" + entry
	if _, err := geom.ParseLength(part, geom.Inch); err != nil {
		return ""
	}
	why := fmt.Sprintf("/ cleared %s, and %s is what is left; Enter again takes it", cleared, inWords(q, entry))
	if q.Fraction {
		why += "; a fraction is typed 0-" + part
	}
	return why
}

// farOff is how many times a figure may be beyond those that are common, either way, before it is asked for once more.
const farOff = 10

// ordinals number a list's rows.
var ordinals = []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}

// uncommon says that a figure is none of those commonly found: one that would be the number of one of them may be meant for that.
func uncommon(q *job.Question, entry string) string {
	v, err := geom.ParseNumber(entry)
	var common []float64
	for _, c := range q.Choices {
		if f, err := strconv.ParseFloat(c, 64); err == nil {
			common = append(common, f)
		}
	}
	if err != nil || !(v > 0) || len(common) == 0 || slices.Contains(common, v) {
		return ""
	}
	why := fmt.Sprintf("%s is no common %s; Enter again takes it", inWords(q, entry), q.Short())
	switch n := int(math.Min(v, 1e6)); {
	case geom.Whole(entry) && n <= min(len(common), len(ordinals)):
		return fmt.Sprintf("%s; the %s named is %s", why, ordinals[n-1], inWords(q, q.Choices[n-1]))
	case v > farOff*slices.Max(common) || v < slices.Min(common)/farOff:
		return why
	}
	return ""
}
