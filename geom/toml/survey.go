package toml

import (
	"bytes"
	"reflect"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// survey is one walk through a text beside the form that it is read into. It finds the keys that the form does not have, and what
// the decoder can go without: its own strict way counts the lines of each such key from the first, and it looks for a key that stands
// twice among all that it has met, so that many of them take a time that grows with their square.
type survey struct {
	finder
	form   reflect.Type
	only   []string     // of a form without keys of its own, those that it has; nil: any
	header []string     // the table that the walk is in
	of     reflect.Type // what it is read into; nil: nothing that has keys
	lost   bool         // the form has no such table: what stands in it is passed over
	under  int          // its header's place among the idle; -1: it is none of them
	names
	all  []*Mistake
	idle []idle
}

// idle is a header, or a key with its value, that the decoder passes over.
type idle struct {
	from, to int // bytes
	under    int // the header that it stands below, where that is idle too; else -1
	kept     bool
}

// surveyed returns the keys that a form does not have, in their order, each with its line, as the strict decoder names them: without
// the key whose value they stand in. needed is the text with blanks for them, so that every byte keeps its place, except for what
// the decoder needs to see that a key stands twice.
func surveyed(text []byte, form reflect.Type, only []string) (all []*Mistake, needed []byte) {
	for form.Kind() == reflect.Pointer {
		form = form.Elem()
	}
	s := survey{finder: finder{text: text, row: 1}, form: form, only: only, of: form, under: -1}
	s.root = &named{by: -1}
	s.in = s.root
	s.Reset(text)
	for s.NextExpression() && s.meet(s.Expression()) {
	}
	return s.all, s.needed()
}

// needed is the text with blanks for what is idle.
func (s *survey) needed() []byte {
	if len(s.idle) == 0 {
		return s.text
	}
	text := bytes.Clone(s.text)
	for _, i := range s.idle {
		for at := i.from; at < i.to && !i.kept; at++ {
			if text[at] != '\n' {
				text[at] = ' '
			}
		}
	}
	return text
}

// keep leaves what is idle in the text, and the header that it stands below.
func (s *survey) keep(i int) {
	for ; i >= 0; i = s.idle[i].under {
		s.idle[i].kept = true
	}
}

// meet takes a header, or a key with its value. It is false where the decoder will refuse it.
func (s *survey) meet(e *unstable.Node) bool {
	path, from := place(e)
	by, known, clash := -1, 0, (*named)(nil)
	switch e.Kind {
	case unstable.Table, unstable.ArrayTable:
		s.header, s.under = path, -1
		if s.of, known, s.lost = s.through(s.form, path, true); s.lost {
			by = s.pass(s.lineAround(from))
			s.under = by
			s.tell(e, path)
		}
		clash = s.table(path, e.Kind == unstable.ArrayTable, by)
	case unstable.KeyValue:
		t, n, strange := s.through(s.of, path, len(s.header) == 0)
		if known = n; strange {
			s.tell(e, slices.Concat(s.header, path))
		}
		switch {
		case !strange && !s.lost:
			s.value(t, e.Value())
		case s.only == nil || plain(e.Value()):
			by = s.pass(int(e.Raw.Offset), int(e.Raw.Offset+e.Raw.Length))
		default:
			s.keep(s.under)
		}
		clash = s.key(path, e.Value(), by)
	default: // a comment
	}
	if s.fresh < known { // what it stands in is there by it alone
		s.keep(by)
	}
	if clash != nil {
		s.keep(by)
		s.keep(clash.by)
	}
	return clash == nil
}

// place is a key and where it begins, byte.
func place(e *unstable.Node) (path []string, from int) {
	for k := e.Key(); k.Next(); {
		if path = append(path, string(k.Node().Data)); len(path) == 1 {
			from = int(k.Node().Raw.Offset)
		}
	}
	return path, from
}

// lineAround is the line of a byte.
func (s *survey) lineAround(at int) (from, to int) {
	from = bytes.LastIndexByte(s.text[:at], '\n') + 1
	if to = bytes.IndexByte(s.text[at:], '\n'); to < 0 {
		return from, len(s.text)
	}
	return from, at + to
}

// pass notes bytes that the decoder passes over.
func (s *survey) pass(from, to int) (by int) {
	s.idle = append(s.idle, idle{from: from, to: to, under: s.under})
	return len(s.idle) - 1
}

// plain reports whether a decoder into any value takes a value, whatever its figures: it reads those that the form does not have too.
func plain(v *unstable.Node) bool {
	switch v.Kind {
	case unstable.String, unstable.Bool:
		return true
	case unstable.Integer:
		return len(v.Data) < 10 && strings.Trim(string(v.Data), "0123456789") == ""
	default:
		return false
	}
}

// tell notes a key that the form does not have.
func (s *survey) tell(e *unstable.Node, key []string) {
	_, from := place(e)
	s.all = append(s.all, &Mistake{Line: s.line(from), Key: key, Unknown: true})
}

// through follows a key into a form, from the form itself where it is first. strange says that it has no such key, but so many of its
// parts; the type is nil where there is nothing more to be said of it.
func (s *survey) through(t reflect.Type, path []string, first bool) (of reflect.Type, known int, strange bool) {
	for i, name := range path {
		if t = bare(t); t == nil {
			return nil, 0, false
		}
		switch t.Kind() {
		case reflect.Struct:
			f, is := fieldsOf(t)[folded(name)]
			if !is {
				return nil, i, true
			}
			t = f.of
		case reflect.Map:
			if first && i == 0 && s.only != nil && !slices.Contains(s.only, name) {
				return nil, i, true
			}
			t = t.Elem()
		default: // any value, or one that the decoder refuses
			return nil, 0, false
		}
	}
	return t, 0, false
}

// bare is what a pointer leads to, or the one of several.
func bare(t reflect.Type) reflect.Type {
	for t != nil && (t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Array) {
		t = t.Elem()
	}
	return t
}

// value looks for such keys within a value, which is read into a type.
func (s *survey) value(t reflect.Type, v *unstable.Node) {
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case t == nil:
	case v.Kind == unstable.InlineTable && (t.Kind() == reflect.Struct || t.Kind() == reflect.Map):
		for c := v.Children(); c.Next(); {
			path, _ := place(c.Node())
			if of, _, strange := s.through(t, path, false); strange {
				s.tell(c.Node(), slices.Concat(s.header, path))
			} else {
				s.value(of, c.Node().Value())
			}
		}
	case v.Kind == unstable.Array && (t.Kind() == reflect.Slice || t.Kind() == reflect.Array):
		for c := v.Children(); c.Next(); {
			s.value(t.Elem(), c.Node())
		}
	default: // a value without keys, or any value
	}
}
