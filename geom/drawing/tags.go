package drawing

import (
	"bytes"
	"fmt"
	"math"
	"strconv"

	"example.org/trammel/geom"
)

// tag is one pair of lines: a group code and its value, as it stands in the file.
type tag struct {
	code  int
	value []byte
	line  int // of the value, from 1
}

// tags reads the pairs one after the other.
type tags struct {
	rest []byte
	line int // lines read so far
}

// startOfText turns away what is no text of group codes, by name where it can be told.
func startOfText(text []byte) error {
	head := text[:min(len(text), 256)]
	switch {
	case len(text) > MaxBytes:
		return &LimitError{What: "bytes", Most: MaxBytes}
	case bytes.Contains(head[:min(len(head), 20)], []byte("Binary DXF")):
		return &FormatError{Seen: ErrBinary.Error()}
	case bytes.HasPrefix(head, []byte("AC10")) && bytes.IndexByte(head, 0) >= 0:
		return &FormatError{Seen: "a DWG file"}
	case len(bytes.TrimSpace(text)) == 0:
		return &FormatError{Seen: "an empty file"}
	case bytes.IndexByte(head, 0) >= 0:
		return &FormatError{Seen: "bytes that are no text"}
	}
	return nil
}

// cut takes one line off the text: up to a line feed, a carriage return or both.
func (t *tags) cut() (line []byte, ok bool) {
	if len(t.rest) == 0 {
		return nil, false
	}
	t.line++
	end := bytes.IndexByte(t.rest, '\n')
	if end < 0 {
		end = len(t.rest)
	}
	if cr := bytes.IndexByte(t.rest[:end], '\r'); cr >= 0 {
		line = t.rest[:cr]
		if cr++; cr == end {
			cr = min(end+1, len(t.rest))
		}
		t.rest = t.rest[cr:]
		return line, true
	}
	line = t.rest[:end]
	t.rest = t.rest[min(end+1, len(t.rest)):]
	return line, true
}

// next reads a pair; ok is false at the end of the text. Comments (code 999) are passed over.
func (t *tags) next() (out tag, ok bool, err error) {
	for {
		line, more := t.cut()
		if !more || (len(t.rest) == 0 && len(bytes.TrimSpace(line)) == 0) {
			return out, false, nil
		}
		code, err := strconv.Atoi(string(bytes.TrimSpace(line)))
		if err != nil {
			return out, false, &SyntaxError{Line: t.line, Why: fmt.Sprintf("%.40q, need a group code, a whole number", line)}
		}
		value, more := t.cut()
		if !more {
			return out, false, &SyntaxError{Line: t.line, Why: fmt.Sprintf("the file ends after group code %d, need its value", code)}
		}
		if code != 999 {
			return tag{code: code, value: value, line: t.line}, true, nil
		}
	}
}

// is reports whether the value is a word.
func (t tag) is(word string) bool { return string(bytes.TrimSpace(t.value)) == word }

// number reads the value as a decimal number with a point.
func (t tag) number() (float64, error) {
	text := string(bytes.TrimSpace(t.value))
	v, err := geom.ParseNumber(text)
	if err != nil || bytes.IndexByte(t.value, ',') >= 0 {
		return 0, &SyntaxError{Line: t.line, Why: fmt.Sprintf("%.40q of group code %d, need a number", text, t.code)}
	}
	if math.Abs(v) > Largest {
		return 0, &SyntaxError{Line: t.line, Why: fmt.Sprintf("%.6g of group code %d, need a number not beyond %.0e", v, t.code, Largest)}
	}
	return v, nil
}

// whole reads the value as a whole number.
func (t tag) whole() (int, error) {
	text := string(bytes.TrimSpace(t.value))
	v, err := strconv.ParseInt(text, 10, 32)
	if err != nil {
		return 0, &SyntaxError{Line: t.line, Why: fmt.Sprintf("%.40q of group code %d, need a whole number", text, t.code)}
	}
	return int(v), nil
}
