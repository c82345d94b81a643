package job

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.org/trammel/geom"
	"example.org/trammel/geom/toml"
)

// printable writes out, as Go would quote it, whatever could drive a terminal: a file's name and
// a decoder's message may hold anything.
func printable(s string) string {
	if !strings.ContainsFunc(s, notPrint) && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		if _, n := utf8.DecodeRuneInString(s[i:]); r == utf8.RuneError && n == 1 {
			fmt.Fprintf(&b, `\x%02x`, s[i])
			continue
		}
		if notPrint(r) {
			b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

func notPrint(r rune) bool { return !geom.Prints(r) }

// file is one TOML text with the places of its keys, and what was found wrong with it.
// The getters below go on after a mistake, so that a reader is a plain list of keys.
type file struct {
	name  string
	lines toml.Lines
	on    map[int][]string // the keys of each line
	wrong Errors
	bad   map[string]bool // keys that a mistake is told of: what leans on one of them is not judged
	cuts  bool            // it says itself how the arc is cut, whatever an arc brings
}

// byteOrderMark is what some editors put before the first character of a file; TOML allows it.
const byteOrderMark = "\ufeff"

// decode reads text into raw, strictly: a key that raw does not have is a mistake. Where the file is nil it could not be read to
// its end; else what is right of it is in raw, and the error, if any, is in the file's mistakes too.
func decode(name string, text []byte, raw any) (*file, error) {
	text = bytes.TrimPrefix(text, []byte(byteOrderMark))
	if len(bytes.TrimSpace(text)) == 0 {
		return nil, &Error{File: name, Why: "the file is empty, need a TOML file",
			Hint: "trammel help job-file, or machine-file, shows one to start from"}
	}
	all, left, through := toml.Decode(text, raw)
	f := &file{name: name, lines: toml.LinesOf(left, keyPath), on: map[int][]string{}, bad: map[string]bool{}}
	for key, line := range f.lines {
		f.on[line] = append(f.on[line], key)
	}
	for _, m := range all {
		f.mistake(text, m)
	}
	if !through {
		return nil, f.wrong.err()
	}
	return f, f.wrong.err()
}

// UnknownKey is what is told of a key that no such file has.
const UnknownKey = "unknown key"

// mistake tells of a mistake in the text.
func (f *file) mistake(text []byte, m *toml.Mistake) {
	e := &Error{File: f.name, Line: m.Line, Why: m.Why}
	switch {
	case m.Name != "":
		e.Key, e.Why = f.full(m.Key, m.Line), fmt.Sprintf("%s %q, need %s", UnknownKey, m.Key[len(m.Key)-1], m.Name)
		e.Hint = "capital and small letters are told apart; keep one of two"
	case m.Unknown:
		e.Key, e.Why = f.full(m.Key, m.Line), UnknownKey
		e.Hint = "check its spelling, and the table it stands in: trammel help job-file, or machine-file"
	case m.Line > 0:
		e.Key = f.full(m.Key, m.Line)
		if at := f.lines[e.Key]; m.Line == 1 && at > 1 { // the decoder has no place for what is deep in an array
			m.MoveTo(text, at)
		}
		why := plain(m.Why)
		e.Line, e.Why, e.Hint = m.Line, fmt.Sprintf("%s, seen in %.80q", why, m.Seen), cure(why)
		for _, key := range f.on[m.Line] {
			f.bad[key] = true
		}
	}
	f.bad[e.Key] = true
	f.wrong = append(f.wrong, e)
}

// plain turns the decoder's message into words without the names of our types.
func plain(why string) string {
	for _, form := range [][3]string{{"cannot decode TOML ", " into ", "a TOML "}, {"cannot store ", " in a ", ""}} {
		rest, ok := strings.CutPrefix(why, form[0])
		if kind, into, cut := strings.Cut(rest, form[1]); ok && cut {
			return form[2] + kind + ", need " + wanted(into)
		}
	}
	if _, number, ok := strings.Cut(why, "strconv.ParseFloat: parsing "); ok {
		text, cause, _ := strings.Cut(number, ": ")
		if cause == strconv.ErrRange.Error() {
			return fmt.Sprintf("%s, need a number not beyond %v", text, float64(largest))
		}
		return text + ", need a decimal number"
	}
	return why
}

// wanted says in words what a value of the type at the end of a decoder's message is.
func wanted(into string) string {
	switch into[strings.LastIndex(into, " ")+1:] {
	case "float64":
		return "a number"
	case "string":
		return "a text in quotes"
	case "bool":
		return needBool
	case "[][]float64", "[]float64":
		return needPairs
	}
	return needTable
}

const (
	needBool  = "true or false"
	needTable = "one table"
	needPairs = "pairs of numbers"
)

// cure is the hint that goes with a decoder's message in plain words.
func cure(why string) string {
	switch {
	case strings.HasSuffix(why, needBool):
		return ""
	case strings.HasSuffix(why, needPairs):
		return pairForm
	case strings.HasSuffix(why, needTable):
		return "a table's name stands in square brackets, its keys below it"
	case strings.Contains(why, "already"):
		return "keep one of the two"
	}
	return "a number has a decimal point and no unit, a text stands in quotes"
}

// keyPath is the dotted path of a key or a table; one in an array has none.
func keyPath(path []toml.Part) string {
	names := make([]string, len(path))
	for i, p := range path {
		if names[i] = p.Name; p.Entry() {
			return ""
		}
	}
	return dotted(names)
}

// dotted joins the parts of a key as TOML writes them: what is no bare key stands in quotes.
func dotted(path []string) string {
	const bare = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-"
	parts := make([]string, len(path))
	for i, k := range path {
		if parts[i] = k; k == "" || strings.Trim(k, bare) != "" {
			parts[i] = strconv.Quote(k)
		}
	}
	return strings.Join(parts, ".")
}

// full returns the dotted path of a key that the decoder names; where it leaves out the table
// that the key stands in, the line tells it.
func (f *file) full(path []string, row int) string {
	key := dotted(path)
	if key == "" || f.lines[key] == row {
		return key
	}
	found := ""
	for _, k := range f.on[row] {
		if strings.HasSuffix(k, "."+key) {
			if found != "" {
				return key
			}
			found = k
		}
	}
	if found == "" {
		return key
	}
	return found
}

// fail notes a mistake, the first of each key.
func (f *file) fail(key, hint, format string, args ...any) {
	if f.bad[key] {
		return
	}
	f.bad[key] = true
	f.wrong = append(f.wrong, &Error{File: f.name, Line: f.lines.Near(key, "."), Key: key, Why: fmt.Sprintf(format, args...), Hint: hint})
}

// fine reports whether nothing is wrong with any of some keys.
func (f *file) fine(keys ...string) bool {
	return !slices.ContainsFunc(keys, func(k string) bool { return f.bad[k] })
}

// within reports whether something is wrong with a key that begins so.
func (f *file) within(prefix string) bool {
	for key := range f.bad {
		if strings.HasPrefix(key, prefix) {
			return true
		}
	}
	return false
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
	if strings.ContainsFunc(v, notPrint) {
		f.fail(key, "", "%q, need printable characters only", v)
		return ""
	}
	return v
}

func positive(x float64) bool    { return x > 0 }
func notNegative(x float64) bool { return x >= 0 }
func anyNumber(float64) bool     { return true }
