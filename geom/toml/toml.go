// Package toml reads a TOML text strictly and knows on which line each of its keys stands, so that whoever finds a
// value wrong can say where it is. What is said, and in which words, is the reader's.
package toml

import (
	"bytes"
	"errors"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// A Mistake is where a text is no TOML, or not of the form that it is read into.
type Mistake struct {
	Line    int      // from 1; 0 where no line can be named
	Key     []string // without the table that it stands in, where the decoder leaves that out
	Unknown bool     // the form has no such key
	Why     string   // in the decoder's words
	Seen    []byte   // the line, without the space around it
}

// Decode reads a text into a form, strictly: a key that the form does not have is a mistake. It returns the first
// mistake, nil where there is none.
func Decode(text []byte, form any) *Mistake {
	d := toml.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err := d.Decode(form)
	var strict *toml.StrictMissingError
	var bad *toml.DecodeError
	switch {
	case errors.As(err, &strict):
		row, _ := strict.Errors[0].Position()
		return &Mistake{Line: row, Key: strict.Errors[0].Key(), Unknown: true, Seen: seen(text, row)}
	case errors.As(err, &bad):
		row, _ := bad.Position()
		return &Mistake{Line: row, Key: bad.Key(), Why: why(err), Seen: seen(text, row)}
	case err != nil:
		return &Mistake{Why: why(err)}
	}
	return nil
}

// MoveTo puts a mistake on another line of its text.
func (m *Mistake) MoveTo(text []byte, line int) { m.Line, m.Seen = line, seen(text, line) }

func why(err error) string { return strings.TrimPrefix(err.Error(), "toml: ") }

func seen(text []byte, row int) []byte {
	all := bytes.Split(text, []byte("\n"))
	if row < 1 || row > len(all) {
		return nil
	}
	return bytes.TrimSpace(all[row-1])
}
