package session

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// mostNumber is beyond every number of a journal: a length in millimetres, an angle, a count.
const mostNumber = 1e12

// allLevels are more than an event has of objects in objects.
const allLevels = 1000

// exactly refuses what encoding/json reads as something else than it says: a key twice in one object, of which the last would count, a
// key in other letters, small or capital, a number that nothing has, and a null, or nothing at all, where a value is always written: both
// would be read as 0. b is one object that was read into a value of that type. So many levels of it are known to be whole.
func exactly(b []byte, into reflect.Type, levels int) error {
	s := strict{b: b, levels: levels}
	return s.value(into)
}

// exactJSON is strictJSON and exactly.
func exactJSON(b []byte, into any) error {
	if err := strictJSON(b, into); err != nil {
		return err
	}
	return exactly(b, reflect.TypeOf(into).Elem(), 0)
}

// strict goes through valid JSON.
type strict struct {
	b      []byte
	i      int
	levels int // of objects that have to be whole, from here on down
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
	may := t == nil || t == opaque || t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map
	for t != nil && t != opaque && t.Kind() == reflect.Pointer {
		t = t.Elem()
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
	text := string(s.b[from:s.i])
	switch {
	case t == opaque:
		return nil
	case text == "null" && !may:
		return errors.New("null, need a value")
	}
	return isNumber(text)
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
	var names map[string]field
	var each reflect.Type // of a map's values
	switch {
	case t == nil || t == opaque:
		each = t
	case t.Kind() == reflect.Struct:
		names = namesOf(t)
	case t.Kind() == reflect.Map:
		each = t.Elem()
	}
	s.levels--
	defer func() { s.levels++ }()
	seen := make(map[string]bool, len(names))
	for s.i++; ; {
		s.blank()
		switch s.b[s.i] {
		case '}':
			s.i++
			return s.whole(names, seen)
		case ',':
			s.i++
			continue
		}
		key := s.text()
		of := each
		if names != nil {
			f, ok := names[key]
			if !ok {
				return fmt.Errorf("field %q, need it in the letters of its name", key)
			}
			of = f.of
		}
		if seen[key] && t != opaque {
			return fmt.Errorf("field %q twice, need it once", key)
		}
		seen[key] = true
		s.blank()
		s.i++ // the colon
		if err := s.value(of); err != nil {
			return fmt.Errorf("field %q: %w", key, err)
		}
	}
}

// whole refuses an object that lacks what is always written.
func (s *strict) whole(names map[string]field, seen map[string]bool) error {
	if s.levels < 0 {
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		if names[name].always && !seen[name] {
			return fmt.Errorf("no field %q, need it", name)
		}
	}
	return nil
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

// field is one of a struct's: its type, and whether it is written whatever it is.
type field struct {
	of     reflect.Type
	always bool
}

// fieldNames are the names of structs' fields that were asked for, with their types.
var fieldNames sync.Map

// namesOf are a struct's fields by the names that JSON has for them.
func namesOf(t reflect.Type) map[string]field {
	if names, ok := fieldNames.Load(t); ok {
		return names.(map[string]field)
	}
	names := map[string]field{}
	for _, f := range reflect.VisibleFields(t) {
		name, how, _ := strings.Cut(f.Tag.Get("json"), ",")
		of := field{f.Type, !strings.Contains(how, "omit")}
		switch {
		case name == "-", !f.IsExported(), f.Anonymous && name == "":
		case name == "":
			names[f.Name] = of
		default:
			names[name] = of
		}
	}
	fieldNames.Store(t, names)
	return names
}
