package job

import (
	"fmt"
	"strings"
)

// Error says what is wrong with a file, where, and what is needed.
type Error struct {
	File string
	Line int    // from 1; 0 where no line can be named
	Key  string // dotted path, "" for the whole file
	Why  string // value seen, then value needed
	Hint string // what to do; may be empty
}

func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	b.WriteString(": ")
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	b.WriteString(e.Why)
	return printable(b.String())
}

// Errors is all that is wrong with a file, or with several, in the order in which it is told.
type Errors []*Error

func (e Errors) Error() string {
	words := make([]string, len(e))
	for i := range e {
		words[i] = e[i].Error()
	}
	return strings.Join(words, "; ")
}

// Unwrap returns them one by one.
func (e Errors) Unwrap() []error {
	out := make([]error, len(e))
	for i := range e {
		out[i] = e[i]
	}
	return out
}

// err is nil for none, and one alone is itself.
func (e Errors) err() error {
	switch len(e) {
	case 0:
		return nil
	case 1:
		return e[0]
	}
	return e
}
