package session

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
)

// Oiled is an entry that only this test has: the ways were oiled. It says what an entry takes.
type Oiled struct {
	Drops int `json:"drops"`
}

type Oil struct{ Drops int }

func (Oiled) row() *EventRow { return oiled }
func (Oil) row() *CommandRow { return oil }

var oiled = event[Oiled]{kind: "oiled", undo: "the oil",
	apply: func(s *State, e Oiled) { s.Notes += e.Drops },
}.row()

var oil = command[Oil]{word: "oil", forms: []Phrase{{"oil DROPS", "the ways were oiled"}}, keys: []string{"`"}, label: "oil",
	not: func(n *Now) string { return unless(n.Waits != ForReading, "the sweep would drift") },
	parse: func(rest string, _ geom.Unit) (Oil, error) {
		if rest == "" {
			return Oil{}, errors.New("no drops, need some")
		}
		return Oil{len(strings.Fields(rest))}, nil
	},
	decide: func(s *State, c Oil) (Event, error) { return Oiled(c), nil },
}.row()

// An entry that is on the two lists is typed, decided, journalled, read, applied, taken back and refused like all others.
func TestAddedEntry(t *testing.T) {
	was, wereKinds, wereEvents := commands, kinds, events
	defer func() { commands, kinds, events = was, wereKinds, wereEvents }()
	commands, events = append(commands[:len(commands):len(commands)], oil), append(events[:len(events):len(events)], oiled)
	kinds = byKind(events)

	lines, _ := goldenLines(t)
	s, err := Fold(lines[:1], nil)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Parse("oil drop drop", geom.Millimetre)
	if err != nil || c != (Oil{2}) {
		t.Fatalf("%#v, %v", c, err)
	}
	e, err := Decide(s, c)
	if err != nil {
		t.Fatal(err)
	}
	line, err := Encode(2, time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC), e)
	if want := `{"v":1,"n":2,"t":"2025-03-04T09:00:00.000Z","k":"oiled","d":{"drops":2}}`; err != nil || string(line) != want {
		t.Fatalf("%s, %v; want %s", line, err, want)
	}
	r, err := Decode(2, line)
	if err != nil || r.Event != e {
		t.Fatalf("%#v, %v", r.Event, err)
	}
	after := s.Apply(r.Event)
	if after.Notes != s.Notes+2 || after.LastEntry() != e || UndoWords(after.LastEntry()) != "the oil" || after.TakesBack() != 2 {
		t.Errorf("%d notes, undo would take back %v", after.Notes, after.LastEntry())
	}
	if back := after.Apply(Undone{}); back.Notes != s.Notes || back.LastEntry() != nil {
		t.Errorf("taken back: %d notes, %v", back.Notes, back.LastEntry())
	}
	if _, err := Decide(State{}, c); err == nil {
		t.Error("taken without a setting")
	}
	listed := false
	for _, p := range Phrases(nil) {
		listed = listed || p.Text == "oil DROPS"
	}
	if !listed || oil.Not(&Now{Waits: ForReading}) == "" {
		t.Errorf("in the help: %v; why not now: %q", listed, oil.Not(&Now{Waits: ForReading}))
	}
}
