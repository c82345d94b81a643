package testdata

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Foul is a text that drives a terminal: controls of ASCII and of the C1 set (ECMA-48, 5.2 and 5.3), marks that turn the writing
// (Unicode Standard Annex 9), line ends of other kinds, what no text may hold, and a line of its own, which nobody has said.
const Foul = "x\x1b[2J\x1b]0;t\a\u009b1m\x00\r\u202e\u2066\u2028\u2029\u0085\ufeff\u200b\t\U000e0001\n" + forged + "y"

const forged = "trammel: forged "

// Drives is the first character of a text that could drive a terminal, or a line that a name has made, with what stands around it;
// empty for none.
func Drives(text string) string {
	if !utf8.ValidString(text) {
		return "bytes that are no text"
	}
	for i, r := range text {
		if !geom.Prints(r) && r != '\n' {
			return fmt.Sprintf("%q", text[max(0, i-60):min(len(text), i+20)])
		}
	}
	if i := strings.Index("\n"+text, "\n"+forged); i >= 0 {
		return fmt.Sprintf("a line of its own behind %q", text[max(0, i-60):i])
	}
	return ""
}

// Spoil puts a text in the place of every other that a value holds in fields that are told: names, notes, reasons, what programs sent.
// It returns how many.
func Spoil(v any, text string) int { return spoil(reflect.ValueOf(v), text) }

func spoil(v reflect.Value, text string) (n int) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return spoil(v.Elem(), text)
		}
	case reflect.String:
		if v.CanSet() && v.Len() > 0 {
			v.SetString(text)
			return 1
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n += spoil(v.Index(i), text)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				n += spoil(v.Field(i), text)
			}
		}
	}
	return n
}

// textsOf calls each for every text in a value of JSON, with where it stands, and how to put another in its place.
func textsOf(at string, v any, put func(any), each func(at string, put func(any), was string)) {
	switch v := v.(type) {
	case string:
		each(at, put, v)
	case []any:
		for i := range v {
			textsOf(at+"[]", v[i], func(x any) { v[i] = x }, each)
		}
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			textsOf(at+"."+k, v[k], func(x any) { v[k] = x }, each)
		}
	}
}

// slideName is where a machine's slides are named: the lines behind go by it, so that it is spoilt alone.
const slideName = "opened.machine.slides[].name"

// FoulJournals are journals of old in which every text that may be another is this one, and how many places those are.
func FoulJournals(t testing.TB, text string) (out [][][]byte, places int) {
	t.Helper()
	files, err := kept.ReadDir("journal")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, file := range files {
		name := file.Name()
		if !strings.HasSuffix(name, ".jsonl") {
			continue
		}
		var r session.Reading
		var all [][]byte
		news := len(seen)
		for i, line := range payloads(t, name) {
			if i == 0 && !seen[slideName] {
				out = append(out, [][]byte{foulLine(t, r, line, text, func(at string) bool { return at == slideName }, seen)})
				news = len(seen)
			}
			line = foulLine(t, r, line, text, func(at string) bool { return at != slideName }, seen)
			if _, err := r.Next(line); err != nil {
				t.Fatal(name, err)
			}
			all = append(all, line)
		}
		if len(seen) > news {
			out = append(out, all)
		}
	}
	return out, len(seen)
}

// foulLine is a journal's next line with every text spoilt that may be, and was not seen to be before.
func foulLine(t testing.TB, r session.Reading, line []byte, text string, may func(at string) bool, seen map[string]bool) []byte {
	t.Helper()
	var e map[string]any
	if err := json.Unmarshal(line, &e); err != nil {
		t.Fatal(err)
	}
	kind := fmt.Sprint(e["k"])
	textsOf(kind, e["d"], nil, func(at string, put func(any), was string) {
		if !may(at) || seen[at] && kind != "opened" {
			return
		}
		put(text)
		bad, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		tried := r
		if _, err := tried.Next(bad); err != nil {
			put(was)
			return
		}
		seen[at], line = true, bad
	})
	return line
}
