package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

type (
	// QuestionLine asks for one figure of a machine or a job.
	QuestionLine struct {
		Say      string   `json:"say"`
		Key      string   `json:"key"`
		Words    string   `json:"text"`
		Choices  []string `json:"choices"` // null where nothing is offered
		Unit     *string  `json:"unit"`
		Default  any      `json:"default"` // a number where one is asked for, else a text; null for none
		Optional bool     `json:"optional"`
		// ZeroAt is the reach with which the dial would read zero at the target; left out of all other questions.
		ZeroAt *Number `json:"zero_at,omitempty"`
		// Moves are what the hand does first, in order, facing the handle; left out where it does nothing.
		Moves []slide.Move `json:"moves,omitempty"`
		// Gauges are the rings or plugs at hand, in the order of [job.Hand], and Found is the reach of the setting before; left out
		// of all questions but those for the reference and the reach.
		Gauges []GaugeAtHand `json:"gauges,omitempty"`
		Found  *Number       `json:"reach_found,omitempty"`

		asked job.Question
	}
	// GaugeAtHand is a ring or a plug: its diameter, the reach with which the dial reads zero on it at the target, and what it reads
	// there with the reach as it is; null where that is not on the dial, or no reach is known.
	GaugeAtHand struct {
		Diameter Number  `json:"diameter"`
		ZeroAt   Number  `json:"zero_at"`
		Reads    *Number `json:"reads"`
	}
	// WrittenLine says which file holds what was answered.
	WrittenLine struct {
		Say  string `json:"say"`
		File string `json:"file"`
		Name string `json:"name"`

		what, flag string
	}
)

// Asked is a question as it is said.
func Asked(q *job.Question) QuestionLine {
	l := QuestionLine{Say: "question", Key: q.Key, Words: q.Text, Choices: q.Choices, Optional: q.Optional,
		Moves: q.Moves, asked: *q}
	if q.Unit != "" {
		l.Unit = &q.Unit
	}
	if q.Default != "" {
		l.Default = q.Default
		if v, err := strconv.ParseFloat(q.Default, 64); err == nil && q.Numeral {
			l.Default = Number(v)
		}
	}
	l.ZeroAt = orNull(q.ZeroAt)
	if q.Hand != nil {
		for _, g := range q.Hand.All {
			l.Gauges = append(l.Gauges, GaugeAtHand{Number(g.Diameter), Number(g.ZeroAt), orNull(g.Reads)})
		}
		l.Found = orNull(q.Hand.Reach)
	}
	return l
}

func orNull(v *float64) *Number {
	if v == nil {
		return nil
	}
	n := Number(*v)
	return &n
}

// mostGauges is how many rings or plugs are told to a person.
const mostGauges = 3

// HandWords say which of the references at hand makes the dial read zero, and what is read with the reach as it is.
func HandWords(h *job.Hand, unit string) string {
	var all []string
	for _, g := range h.All[:min(len(h.All), mostGauges)] {
		all = append(all, fmt.Sprintf("%v with a reach of %v", RoundTo(g.Diameter, 4), RoundTo(g.ZeroAt, 4)))
	}
	words := fmt.Sprintf("%ss at hand that read zero at the target (diameters, %s): %s", h.What, unit, strings.Join(all, ", "))
	if more := len(h.All) - mostGauges; more > 0 {
		words += fmt.Sprintf(", and %d more", more)
	}
	best := &h.All[0]
	switch {
	case h.Reach != nil && best.Reads != nil:
		words += fmt.Sprintf("; %s %v with the reach as it is, %v %s, reads %v %s there", h.What, RoundTo(best.Diameter, 4),
			RoundTo(*h.Reach, 4), unit, RoundTo(*best.Reads, 4), unit)
	case h.Reach != nil:
		words += fmt.Sprintf("; none of them is on the dial with the reach as it is, %v %s", RoundTo(*h.Reach, 4), unit)
	}
	return words
}

// CommonWords offer the figures among a question's choices.
func CommonWords(q *job.Question, figures []string) string {
	lead := "commonly "
	if q.Are != "" {
		lead = "at hand: "
	}
	var all []string
	for _, c := range figures {
		all = append(all, q.Means(c))
	}
	return lead + strings.Join(all, ", ")
}

// Text is the question for a person: what is asked, what is offered, and what Enter alone does.
func (l QuestionLine) Text() string {
	q := &l.asked
	var b strings.Builder
	b.WriteString(q.Text)
	switch {
	case q.Unit == "deg":
		b.WriteString(", degrees")
	case q.Unit != "" && !q.Closed:
		b.WriteString(", " + q.Unit)
	}
	if l.ZeroAt != nil {
		fmt.Fprintf(&b, "; the dial would read zero at the target with %v %s", RoundTo(*q.ZeroAt, 4), q.Unit)
	}
	if q.Hand != nil && q.ZeroAt == nil { // where the reach is asked the reference is chosen
		b.WriteString("; " + HandWords(q.Hand, q.Unit))
	}
	common := slices.DeleteFunc(slices.Clone(q.Choices), func(c string) bool { return q.ShortOf(c) != "" })
	if !q.Closed && len(common) > 0 {
		b.WriteString(" (" + CommonWords(q, common) + ")")
	}
	if q.Closed {
		for i, c := range q.Choices {
			fmt.Fprintf(&b, "\n  %d  %s", i+1, geom.PrintableLine(c))
		}
	}
	enter := "to be answered"
	switch {
	case q.Default != "":
		enter = "Enter: " + q.Default
	case q.Optional && !q.Said:
		enter = "Enter: " + job.Unknown
	}
	if q.Optional && (q.Default != "" || q.Said) && !slices.Contains(q.Choices, q.Default) {
		enter += ", or " + job.Unknown
	}
	for _, c := range q.Choices {
		if short := q.ShortOf(c); short != "" {
			enter += "; " + short + ": " + c
		}
	}
	return b.String() + "\n[" + geom.PrintableLine(enter) + "; " + job.Explain + " explains, " + job.Back + "]"
}

// Written says which file holds a machine.
func Written(file, name string) WrittenLine {
	return WrittenLine{"written", file, name, "machine", "--machine"}
}

// WrittenJob says which file holds a job.
func WrittenJob(file, name string) WrittenLine {
	return WrittenLine{"written", file, name, "job", "--job"}
}

// Text: the line for a person.
func (l WrittenLine) Text() string {
	return fmt.Sprintf("%s %q is written to %s; %s takes its name", l.what, l.Name, geom.PrintableLine(l.File), l.flag)
}
