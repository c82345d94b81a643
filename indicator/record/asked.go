package record

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

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

		asked job.Question
	}
	// WrittenLine says which file holds what was answered.
	WrittenLine struct {
		Say  string `json:"say"`
		File string `json:"file"`
		Name string `json:"name"`
	}
)

// Asked is a question as it is said.
func Asked(q *job.Question) QuestionLine {
	l := QuestionLine{Say: "question", Key: q.Key, Words: q.Text, Choices: q.Choices, Optional: q.Optional, Moves: q.Moves,
		asked: *q}
	if q.Unit != "" {
		l.Unit = &q.Unit
	}
	if q.Default != "" {
		l.Default = q.Default
		if v, err := strconv.ParseFloat(q.Default, 64); err == nil && q.Numeral {
			l.Default = Number(v)
		}
	}
	if q.ZeroAt != nil {
		z := Number(*q.ZeroAt)
		l.ZeroAt = &z
	}
	return l
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
	common := slices.DeleteFunc(slices.Clone(q.Choices), func(c string) bool { return c == job.FindIt })
	if !q.Closed && len(common) > 0 {
		b.WriteString(" (commonly " + strings.Join(common, ", ") + ")")
	}
	if q.Closed {
		for i, c := range q.Choices {
			fmt.Fprintf(&b, "\n  %d  %s", i+1, c)
		}
	}
	enter := "to be answered"
	switch {
	case q.Default != "":
		enter = "Enter: " + q.Default
	case q.Optional:
		enter = "Enter: " + job.Unknown
	}
	if q.Optional && q.Default != "" && !slices.Contains(q.Choices, q.Default) {
		enter += ", or " + job.Unknown
	}
	if !q.Closed && len(common) < len(q.Choices) {
		enter += "; needle: " + job.FindIt
	}
	return b.String() + "\n[" + enter + "; " + job.Explain + " explains, " + job.Back + "]"
}

// Written says which file holds a machine.
func Written(file, name string) WrittenLine { return WrittenLine{"written", file, name} }

// Text: the line for a person.
func (l WrittenLine) Text() string {
	return fmt.Sprintf("machine %q is written to %s; --machine takes its name", l.Name, l.File)
}
