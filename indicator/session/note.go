package session

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.org/trammel/geom"
)

// Noted: a remark for the journal.
type Noted struct {
	Text string `json:"text"`
	// About is the event, from 1, that a later remark is about; 0 where it is about what stood when it was
	// written.
	About int `json:"about,omitempty"`
}

// Note writes a remark into the journal, about an event of it, or with 0 about what stands.
type Note struct {
	Text  string
	About int
}

func (Noted) row() *EventRow  { return noted }
func (Note) row() *CommandRow { return note }

var noted = event[Noted]{kind: "note", undo: "the note",
	fits: func(s *State, e Noted) error {
		if e.About < 0 || e.About > s.Events {
			return fmt.Errorf("a note about event %d, need one from 1 to %d", e.About, s.Events)
		}
		return nil
	},
	apply: func(s *State, _ Noted) { s.Notes++ },
}.row()

var note = command[Note]{word: "note", forms: []Phrase{{"note TEXT", "write a remark into the journal"}},
	keys: []string{"n"}, label: "note", always: true,
	parse: func(rest string, _ geom.Unit) (Note, error) { return Note{Text: rest}, nil },
	field: func(_ *State, text string) (Command, error) {
		if strings.TrimSpace(text) == "" {
			return nil, nil
		}
		return Note{Text: text}, nil
	},
	decide: decideNote,
}.row()

// maxNote bounds a note, so that a journal line stays a line.
const maxNote = 2000

func decideNote(s *State, n Note) (Event, error) {
	text := strings.TrimSpace(n.Text)
	switch {
	case n.About < 0 || n.About > s.Events:
		return nil, refuse("replay shows the events with their numbers", "event %d, need one from 1 to %d", n.About, s.Events)
	case text == "":
		return nil, refuse("", "the note is empty, need some text")
	case len(text) > maxNote:
		return nil, refuse("write it in parts", "the note has %d bytes, need at most %d", len(text), maxNote)
	case !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool { return !geom.Prints(r) }):
		return nil, refuse("", "the note has characters that cannot be printed")
	}
	return Noted{Text: text, About: n.About}, nil
}
