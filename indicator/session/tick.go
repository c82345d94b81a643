package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
)

// Ticked: an element of the plate that no setting makes is done: a straight, or an arc that was made otherwise.
type Ticked struct {
	N int `json:"n"`
}

// Tick says that an element which no setting makes is done.
type Tick struct{ N int }

func (Ticked) row() *EventRow { return ticked }
func (Tick) row() *CommandRow { return tick }

var ticked = event[Ticked]{kind: "ticked", undo: "the tick",
	fits: func(s *State, e Ticked) error {
		switch {
		case !slices.Contains(s.Set.Plate.ByHand(), e.N):
			return fmt.Errorf("element %d, need one of the plate that no setting makes", e.N)
		case slices.Contains(s.Ticks, e.N):
			return fmt.Errorf("element %d, which is ticked already", e.N)
		}
		return nil
	},
	apply: func(s *State, e Ticked) { s.Ticks = append(slices.Clone(s.Ticks), e.N) },
}.row()

var tick = command[Tick]{word: "tick", forms: []Phrase{{"tick N", "element N of the plate, which no setting makes, is done"}},
	always: true,
	parse: func(rest string, _ geom.Unit) (Tick, error) {
		n, err := strconv.Atoi(rest)
		if err != nil {
			return Tick{}, fmt.Errorf("tick %q, need the element's number", rest)
		}
		return Tick{n}, nil
	},
	decide: decideTick,
}.row()

func decideTick(s *State, t Tick) (Event, error) {
	byHand := s.Set.Plate.ByHand()
	switch {
	case s.Set.Plate == nil:
		return nil, refuse("", "no plate is worked off here, so there is nothing to tick")
	case len(byHand) == 0:
		return nil, refuse("", "every element of the plate is set, and none is to be ticked")
	case !slices.Contains(byHand, t.N):
		return nil, refuse("what is set is done once its arc is checked", "element %d, need one that no setting makes: %s", t.N,
			numbersOf(byHand))
	case slices.Contains(s.Ticks, t.N):
		return nil, refuse("", "element %d is ticked already", t.N)
	}
	return Ticked(t), nil
}

// numbersOf spells numbers: "3, 5, 7".
func numbersOf(numbers []int) string {
	words := make([]string, len(numbers))
	for i, n := range numbers {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}
