// Package toml reads a TOML text strictly and knows on which line each of its keys stands, so that whoever finds a
// value wrong can say where it is. What is said, and in which words, is the reader's.
package toml

import (
	"bytes"
	"errors"
	"reflect"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// A Mistake is where a text is no TOML, or not of the form that it is read into.
type Mistake struct {
	Line    int      // from 1; 0 where no line can be named
	Key     []string // without the table that it stands in, where the decoder leaves that out
	Unknown bool     // the form has no such key
	Name    string   // the form's own, of an unknown key that is written in other letters, capital or small
	Why     string   // in the decoder's words
	Seen    []byte   // the line, without the space around it
}

// mostTries bounds how often a text is read again without a line that could not be.
const mostTries = 50

// Decode reads a text into a form, strictly: a key that the form does not have is a mistake, and one in other letters, capital or
// small. It returns all mistakes in the order of their lines. Where a value can be left out without taking anything else with it, what
// stands behind it is read as well, and
// through says that the text was read to its end; left is the text with each such value replaced, so that [LinesOf] finds every
// key on its line.
//
// A map has any key, unless only some are named: then another is a mistake, and what stands under it is not read.
func Decode(text []byte, form any, only ...string) (all []*Mistake, left []byte, through bool) {
	read, left, rows := text, text, rowsOf(text)
	for {
		reflect.ValueOf(form).Elem().SetZero() // of what was read until the mistake before
		now := decode(read, form, only)
		all = append(all, now...)
		if through = len(now) == 0 || now[0].Unknown; through || len(all) >= mostTries {
			break
		}
		less, named, ok := without(read, left, now[0])
		if !ok {
			break
		}
		read, left = less, named
	}
	all = append(all, misspelt(left, form)...)
	for _, m := range all {
		m.Seen = rows.seen(m.Line)
	}
	slices.SortStableFunc(all, func(a, b *Mistake) int { return a.Line - b.Line })
	return all, left, through
}

// decode returns the keys that the form does not have, or else the first mistake.
func decode(text []byte, form any, only []string) (all []*Mistake) {
	unknown, needed := surveyed(text, reflect.TypeOf(form), only)
	err := toml.Unmarshal(needed, form)
	var bad *toml.DecodeError
	switch {
	case errors.As(err, &bad):
		row, _ := bad.Position()
		return []*Mistake{{Line: row, Key: bad.Key(), Why: why(err)}}
	case err != nil:
		return []*Mistake{{Why: why(err)}}
	}
	return unknown
}

// without takes the line of a mistake out of what is read, where it is a key with a plain value or one that ends on it, and puts
// a number in the value's place in what is left.
func without(read, left []byte, m *Mistake) (less, named []byte, ok bool) {
	key, value, ok := bytes.Cut(rowsOf(read).seen(m.Line), []byte("="))
	key = bytes.TrimSpace(key)
	if n := len(m.Key); n > 0 && !bytes.HasSuffix(key, []byte(m.Key[n-1])) {
		return nil, nil, false // the decoder has no place for what is deep in an array
	}
	if !ok || len(key) == 0 || bytes.ContainsAny(key, "[{#\"'") || bytes.Contains(value, []byte("{")) {
		return nil, nil, false
	}
	if !bytes.ContainsAny(value, "\"'") {
		value, _, _ = bytes.Cut(value, []byte("#"))
	}
	var alone map[string]any
	opens := bytes.Contains(value, []byte("[")) || bytes.Contains(value, []byte(`"""`)) || bytes.Contains(value, []byte(`'''`))
	if opens && toml.Unmarshal(slices.Concat([]byte("x ="), value), &alone) != nil {
		return nil, nil, false // it may go on below
	}
	return replaced(read, m.Line, nil), replaced(left, m.Line, slices.Concat(key, []byte(" = 0"))), true
}

// replaced is a text with another line in the place of one.
func replaced(text []byte, row int, line []byte) []byte {
	all := bytes.Split(text, []byte("\n"))
	all[row-1] = line
	return bytes.Join(all, []byte("\n"))
}

// MoveTo puts a mistake on another line of its text.
func (m *Mistake) MoveTo(text []byte, line int) { m.Line, m.Seen = line, rowsOf(text).seen(line) }

func why(err error) string { return strings.TrimPrefix(err.Error(), "toml: ") }

// rows are the lines of a text.
type rows [][]byte

func rowsOf(text []byte) rows { return bytes.Split(text, []byte("\n")) }

// seen is a line, from 1, without the space around it; nil where there is none.
func (r rows) seen(row int) []byte {
	if row < 1 || row > len(r) {
		return nil
	}
	return bytes.TrimSpace(r[row-1])
}
