// Package job reads the two files a session starts from: the job (what to set, with which
// indicator, over which reference) and the machine (its slides and rings). Bytes in, values
// out: it opens no file itself.
package job

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
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
	return b.String()
}

// file is one TOML text with the places of its keys, and the first thing found wrong with it.
// The getters below go on after a mistake, so that a reader is a plain list of keys.
type file struct {
	name  string
	lines map[string]int
	err   *Error
}

// decode reads text into raw, strictly: a key that raw does not have is an error.
func decode(name string, text []byte, raw any) (*file, error) {
	f := &file{name: name}
	if len(bytes.TrimSpace(text)) == 0 {
		return nil, &Error{File: name, Why: "the file is empty, need a TOML file", Hint: "the README shows one to start from"}
	}
	d := toml.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err := d.Decode(raw)
	var strict *toml.StrictMissingError
	var bad *toml.DecodeError
	switch {
	case errors.As(err, &strict):
		e := strict.Errors[0]
		row, _ := e.Position()
		return nil, &Error{File: name, Line: row, Key: strings.Join(e.Key(), "."), Why: "unknown key", Hint: "check its spelling, and the table it stands in, against the README"}
	case errors.As(err, &bad):
		row, _ := bad.Position()
		return nil, &Error{File: name, Line: row, Key: strings.Join(bad.Key(), "."), Why: plain(bad) + seen(text, row)}
	case err != nil:
		return nil, &Error{File: name, Why: strings.TrimPrefix(err.Error(), "toml: ")}
	}
	f.lines = keyLines(text)
	return f, nil
}

// plain turns the decoder's message into words without the names of our types.
func plain(e *toml.DecodeError) string {
	why := strings.TrimPrefix(e.Error(), "toml: ")
	kind, rest, ok := strings.Cut(strings.TrimPrefix(why, "cannot decode TOML "), " into struct field ")
	if !ok {
		return why
	}
	need := "a number"
	switch {
	case strings.HasSuffix(rest, "of type string"):
		need = "a text in quotes"
	case strings.HasSuffix(rest, "of type bool"):
		need = "true or false"
	case strings.Contains(rest, "of type struct"), strings.Contains(rest, "of type map"):
		need = "a table"
	}
	return "a TOML " + kind + ", need " + need
}

// seen quotes the line that a message is about.
func seen(text []byte, row int) string {
	all := bytes.Split(text, []byte("\n"))
	if row < 1 || row > len(all) {
		return ""
	}
	return fmt.Sprintf(", seen in %.80q", bytes.TrimSpace(all[row-1]))
}

// keyLines maps the dotted path of every key and table to its line.
func keyLines(text []byte) map[string]int {
	lines := map[string]int{}
	var p unstable.Parser
	p.Reset(text)
	table := ""
	for p.NextExpression() {
		e := p.Expression()
		var path []string
		var line int
		for k := e.Key(); k.Next(); {
			if line == 0 {
				line = p.Shape(k.Node().Raw).Start.Line
			}
			path = append(path, string(k.Node().Data))
		}
		full := strings.Join(path, ".")
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = full
		case unstable.KeyValue:
			if table != "" {
				full = table + "." + full
			}
		default:
			continue
		}
		lines[full] = line
	}
	return lines
}

// fail keeps the first mistake.
func (f *file) fail(key, hint, format string, args ...any) {
	if f.err != nil {
		return
	}
	line := f.lines[key]
	for k := key; line == 0 && strings.Contains(k, "."); {
		k = k[:strings.LastIndex(k, ".")]
		line = f.lines[k]
	}
	f.err = &Error{File: f.name, Line: line, Key: key, Why: fmt.Sprintf(format, args...), Hint: hint}
}

// largest bounds every number in a file: a thousand kilometres in millimetres is no workpiece.
const largest = 1e9

// number checks a given number, or takes the default where none is given.
func (f *file) number(key string, v *float64, def float64, ok func(float64) bool, need string) float64 {
	if v == nil {
		return def
	}
	switch {
	case math.Abs(*v) > largest:
		f.fail(key, "", "%v, must be %s and not beyond %v", *v, need, largest)
		return def
	case math.IsNaN(*v) || !ok(*v):
		f.fail(key, "", "%v, must be %s", *v, need)
		return def
	}
	return *v
}

// need checks a number that has to be given.
func (f *file) need(key string, v *float64, ok func(float64) bool, need string) float64 {
	if v == nil {
		f.fail(key, "add it to the file", "missing, must be %s", need)
		return math.NaN()
	}
	return f.number(key, v, math.NaN(), ok, need)
}

// word reads one of a few words by way of a type's UnmarshalText.
func (f *file) word(key string, v *string, into interface{ UnmarshalText([]byte) error }, need string) {
	if v == nil {
		f.fail(key, "add it to the file", "missing, need %s", need)
		return
	}
	if into.UnmarshalText([]byte(*v)) != nil {
		f.fail(key, "", "%q, need %s", *v, need)
	}
}

// text checks that a text has nothing in it that could drive a terminal.
func (f *file) text(key, v string) string {
	if strings.ContainsFunc(v, func(r rune) bool { return !unicode.IsPrint(r) }) {
		f.fail(key, "", "%q, need printable characters only", v)
		return ""
	}
	return v
}

func positive(x float64) bool    { return x > 0 }
func notNegative(x float64) bool { return x >= 0 }
func anyNumber(float64) bool     { return true }
