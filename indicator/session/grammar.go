package session

import (
	"errors"
	"strings"
	"unicode"

	"example.org/trammel/geom"
)

// ErrUnknownWord: what was typed is neither a number nor a word that is known here.
var ErrUnknownWord = errors.New("neither a number nor a word that is known here")

// Parse reads one line as it is typed: a word with what belongs to it, or a number, or two coordinates, lengths in
// unit u. An empty line confirms. The error is [ErrUnknownWord], or a *[Refusal] where the word is known.
func Parse(text string, u geom.Unit) (Command, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return Confirm{}, nil
	}
	word, rest := text, ""
	if i := strings.IndexFunc(text, unicode.IsSpace); i >= 0 {
		word, rest = text[:i], text[i+1:]
	}
	for _, r := range commands {
		if r.Word == word {
			return r.parse(rest, u)
		}
	}
	if v, err := geom.ParseNumber(text); err == nil {
		return Take{Reading: u.MM(v)}, nil
	}
	if at, err := ParsePoint(text, u); err == nil {
		return at, nil
	}
	return nil, ErrUnknownWord
}

// Phrase is something that may be typed, figures in capitals, with what it is for.
type Phrase struct{ Text, Help string }

// Phrases lists all that may be typed; own are others beside those, each in front of the word that it is listed before, and
// behind all others where that is empty.
func Phrases(own map[string]Phrase) (out []Phrase) {
	add := func(word string) {
		if f, ok := own[word]; ok {
			out = append(out, f)
		}
	}
	for _, r := range commands {
		if r.Word == "" {
			continue
		}
		add(r.Word)
		out = append(out, r.Forms...)
	}
	add("")
	return out
}

// asked makes what a screen asks for of what would be typed behind the word.
func asked[C Command](parse func(string, geom.Unit) (C, error)) func(*State, string) (Command, error) {
	return func(s *State, text string) (Command, error) {
		c, err := parse(text, s.Set.Job.Unit)
		if err != nil {
			return nil, err
		}
		return c, nil
	}
}
