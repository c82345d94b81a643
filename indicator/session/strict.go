package session

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// mostNumber is beyond every number of a journal: a length in millimetres, an angle, a count.
const mostNumber = 1e12

// exactly refuses what encoding/json reads as something else than it says: a key twice in one object, of which the last would count, a
// key in other letters, small or capital, and a number that nothing has. b is one object that was read into a value of that type.
func exactly(b []byte, into reflect.Type) error {
	s := strict{b: b}
	return s.value(into)
}

// exactJSON is strictJSON and exactly.
func exactJSON(b []byte, into any) error {
	if err := strictJSON(b, into); err != nil {
		return err
	}
	return exactly(b, reflect.TypeOf(into).Elem())
}

// strict goes through valid JSON.
type strict struct {
	b []byte
	i int
}

// opaque is what is read later, by its own type.
var opaque = reflect.TypeFor[json.RawMessage]()

func (s *strict) blank() {
	for s.i < len(s.b) && (s.b[s.i] == ' ' || s.b[s.i] == '\t' || s.b[s.i] == '\n' || s.b[s.i] == '\r') {
		s.i++
	}
}

// value passes over one value, of a type where that is known.
func (s *strict) value(t reflect.Type) error {
	s.blank()
	for t != nil && t != opaque && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t != nil && t != opaque && readsItself(t) {
		t = nil
	}
	switch s.b[s.i] {
	case '{':
		return s.object(t)
	case '[':
		if t != nil && t != opaque && (t.Kind() == reflect.Slice || t.Kind() == reflect.Array) {
			t = t.Elem()
		}
		return s.list(t)
	case '"':
		s.text()
		return nil
	}
	from := s.i
	for s.i < len(s.b) && !bytes.ContainsRune([]byte(",]} \t\r\n"), rune(s.b[s.i])) {
		s.i++
	}
	if t == opaque {
		return nil
	}
	return isNumber(string(s.b[from:s.i]))
}

// isNumber refuses a number that nothing has.
func isNumber(text string) error {
	const short = 12
	if len(text) <= short && !strings.ContainsAny(text, "eE") {
		return nil
	}
	if v, err := strconv.ParseFloat(text, 64); err == nil && math.Abs(v) > mostNumber {
		return fmt.Errorf("number %s, need %.0e at most", text, float64(mostNumber))
	}
	return nil
}

func (s *strict) list(of reflect.Type) error {
	for s.i++; ; {
		s.blank()
		switch s.b[s.i] {
		case ']':
			s.i++
			return nil
		case ',':
			s.i++
		default:
			if err := s.value(of); err != nil {
				return err
			}
		}
	}
}

func (s *strict) object(t reflect.Type) error {
	var names map[string]reflect.Type
	var each reflect.Type // of a map's values
	switch {
	case t == nil || t == opaque:
	case t.Kind() == reflect.Struct:
		names = namesOf(t)
	case t.Kind() == reflect.Map:
		each = t.Elem()
	}
	if t == opaque {
		each = opaque
	}
	seen := make(map[string]bool, len(names))
	for s.i++; ; {
		s.blank()
		switch s.b[s.i] {
		case '}':
			s.i++
			return nil
		case ',':
			s.i++
			continue
		}
		key := s.text()
		of := each
		if names != nil {
			var ok bool
			if of, ok = names[key]; !ok {
				return fmt.Errorf("field %q, need it in the letters of its name", key)
			}
		}
		if seen[key] && t != opaque {
			return fmt.Errorf("field %q twice, need it once", key)
		}
		seen[key] = true
		s.blank()
		s.i++ // the colon
		if err := s.value(of); err != nil {
			return err
		}
	}
}

// text passes over a string, and returns what it says.
func (s *strict) text() string {
	from := s.i
	for s.i++; s.b[s.i] != '"'; s.i++ {
		if s.b[s.i] == '\\' {
			s.i++
		}
	}
	s.i++
	raw := s.b[from:s.i]
	if !bytes.ContainsRune(raw, '\\') {
		return string(raw[1 : len(raw)-1])
	}
	var out string
	if json.Unmarshal(raw, &out) != nil {
		return string(raw)
	}
	return out
}

var (
	byItself = reflect.TypeFor[json.Unmarshaler]()
	byText   = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// readsItself reports whether a type has its own way of being read.
func readsItself(t reflect.Type) bool {
	p := reflect.PointerTo(t)
	return p.Implements(byItself) || p.Implements(byText)
}

// fieldNames are the names of structs' fields that were asked for, with their types.
var fieldNames sync.Map

// namesOf are a struct's fields by the names that JSON has for them.
func namesOf(t reflect.Type) map[string]reflect.Type {
	if names, ok := fieldNames.Load(t); ok {
		return names.(map[string]reflect.Type)
	}
	names := map[string]reflect.Type{}
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-", !f.IsExported(), f.Anonymous && name == "":
		case name == "":
			names[f.Name] = f.Type
		default:
			names[name] = f.Type
		}
	}
	fieldNames.Store(t, names)
	return names
}
