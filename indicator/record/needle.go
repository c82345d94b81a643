package record

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

type (
	// NeedleLine is what the needle test of a slide found, beside what is stated. Lengths are in the machine file's unit.
	NeedleLine struct {
		Say   string    `json:"say"`
		Slide string    `json:"slide"`
		Unit  geom.Unit `json:"unit"`
		Found struct {
			Clockwise     *slide.Way `json:"clockwise"` // null where it is not found, as the others
			TravelPerTurn *Value     `json:"travel_per_turn"`
			Backlash      *Value     `json:"backlash"`
			// ByNeedle is the travel of a turn as the needle showed it.
			ByNeedle *Value `json:"by_needle"`
		} `json:"found"`
		Stated struct {
			Clockwise     *slide.Way `json:"clockwise"` // null where it is not stated, as the others
			TravelPerTurn *Number    `json:"travel_per_turn"`
			Backlash      *Number    `json:"backlash"`
		} `json:"stated"`
		ByEye  slide.Way `json:"by_eye"`
		Differ bool      `json:"differ"` // eye and needle do: nothing is proposed
		Spread Number    `json:"spread"` // what the rounds differ by
		Notes  []string  `json:"notes"`
	}
	// ChangedLine says that a key of a file was given another value.
	ChangedLine struct {
		Say  string `json:"say"`
		File string `json:"file"`
		job.Change
	}
)

// NeedleTest tells what a needle test came to.
func NeedleTest(n *job.Needle) NeedleLine {
	l := NeedleLine{Say: "needle test", Slide: n.Stated.Name, Unit: n.Unit, ByEye: n.ByEye, Differ: n.Differ,
		Spread: Number(n.Unit.From(n.Found.Spread)), Notes: []string{}}
	if n.Found.Sense {
		l.Found.Clockwise = &n.Found.Clockwise
	}
	l.Found.TravelPerTurn, l.Found.Backlash = ValueOf(n.Unit, n.Found.Travel), ValueOf(n.Unit, n.Found.Backlash)
	l.Found.ByNeedle = ValueOf(n.Unit, n.Found.ByNeedle)
	if n.Stated.Clockwise != 0 {
		l.Stated.Clockwise = &n.Stated.Clockwise
	}
	if !n.Unstated {
		l.Stated.TravelPerTurn = numberOf(n.Unit.From(n.Stated.TravelPerTurn))
	}
	if !n.Asked {
		l.Stated.Backlash = numberOf(n.Unit.From(n.Stated.Backlash))
	}
	for _, note := range n.Found.Notes {
		l.Notes = append(l.Notes, string(note))
	}
	l.Notes = append(l.Notes, n.Said...)
	switch {
	case n.Differ:
		l.Notes = append(l.Notes, fmt.Sprintf("a turn clockwise, by eye: %s; by the needle: %s; so nothing is proposed: look again "+
			"which side the face lies on, and which way the slide goes", job.TurnWords(l.Slide, n.ByEye), job.TurnWords(l.Slide, n.Found.Clockwise)))
	case n.Found.Sense && n.Stated.Clockwise != 0 && n.Found.Clockwise != n.Stated.Clockwise:
		l.Notes = append(l.Notes, fmt.Sprintf("the machine's file says of a turn clockwise: %s; eye and needle say: %s",
			job.TurnWords(l.Slide, n.Stated.Clockwise), job.TurnWords(l.Slide, n.Found.Clockwise)))
	}
	return l
}

func numberOf(v float64) *Number {
	n := Number(v)
	return &n
}

// Text: the line for a person.
func (l NeedleLine) Text() string {
	u := l.Unit
	stated := func(v *Number) string {
		if v == nil {
			return "not stated"
		}
		return fmt.Sprintf("stated %v %v", exact(*v), u)
	}
	or := func(v *Value) string {
		if v == nil {
			return "not found"
		}
		return v.Text(u)
	}
	way := func(w *slide.Way, or string) string {
		if w == nil {
			return or
		}
		return job.TurnWords(l.Slide, *w)
	}
	travel := or(l.Found.TravelPerTurn)
	if l.Found.TravelPerTurn != nil && l.Found.ByNeedle != nil && *l.Found.TravelPerTurn != *l.Found.ByNeedle {
		travel += ", by the needle " + l.Found.ByNeedle.Text(u)
	}
	lines := []string{
		l.Slide + " slide by the needle:",
		fmt.Sprintf("a turn clockwise, by the needle: %s; by eye: %s; as stated: %s", way(l.Found.Clockwise, "not found"),
			job.TurnWords(l.Slide, l.ByEye), way(l.Stated.Clockwise, "not stated")),
		fmt.Sprintf("one turn: %s; %s", travel, stated(l.Stated.TravelPerTurn)),
		fmt.Sprintf("backlash: %s; %s", or(l.Found.Backlash), stated(l.Stated.Backlash)),
	}
	if l.Found.Clockwise != nil {
		lines = append(lines, fmt.Sprintf("the rounds differ by %s %v", geom.FormatFixed(float64(l.Spread), geom.Places(0, u)), u))
	}
	return strings.Join(append(lines, l.Notes...), "\n  ")
}

// Changed says that a key was given another value.
func Changed(file string, c job.Change) ChangedLine { return ChangedLine{"changed", file, c} }

// Text: the line for a person.
func (l ChangedLine) Text() string {
	file := geom.PrintableLine(l.File)
	if l.Was == "" {
		return fmt.Sprintf("%s: %s = %s is new", file, l.Key, l.Is)
	}
	if l.Is == "" {
		return fmt.Sprintf("%s: %s is taken out; it was %s", file, l.Key, l.Was)
	}
	return fmt.Sprintf("%s: %s is %s now; it was %s", file, l.Key, l.Is, l.Was)
}
