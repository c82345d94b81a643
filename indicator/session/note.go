package session

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

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
	case !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }):
		return nil, refuse("", "the note has characters that cannot be printed")
	}
	return Noted{Text: text, About: n.About}, nil
}
