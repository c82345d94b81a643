package toml

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// misspelt are the keys that a form has in other letters, capital ones or small: the decoder would take either for the other, and of two
// such keys the later.
func misspelt(text []byte, form any) (all []*Mistake) {
	told := map[string]bool{}
	lines := LinesOf(text, func(path []Part) string {
		m, at := inLetters(reflect.TypeOf(form), path)
		if m == nil || told[at] {
			return ""
		}
		told[at] = true
		all = append(all, m)
		return strconv.Itoa(len(all))
	})
	for i, m := range all {
		m.Line = lines[strconv.Itoa(i+1)]
	}
	return all
}

// inLetters follows a path through a form up to a name in other letters than the form's; nil where there is none. at is the path up to
// there.
func inLetters(t reflect.Type, path []Part) (m *Mistake, at string) {
	var key []string
	for i, p := range path {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if p.Entry() {
			continue
		}
		key = append(key, p.Name)
		switch t.Kind() {
		case reflect.Struct:
		case reflect.Map:
			t = t.Elem()
			continue
		default:
			return nil, ""
		}
		f, is := fieldsOf(t)[folded(p.Name)]
		switch {
		case !is: // the form has none
			return nil, ""
		case f.name != p.Name:
			return &Mistake{Key: key, Unknown: true, Name: f.name}, fmt.Sprint(path[:i+1])
		}
		t = f.of
	}
	return nil, ""
}

// field is what a struct takes for a key, and how its name is written.
type field struct {
	name string
	of   reflect.Type
}

// folded is a key in the letters by which the decoder looks for it.
func folded(key string) string { return strings.ToLower(key) }

// fieldsKept are the fields of the structs that were asked for.
var fieldsKept sync.Map

// fieldsOf are the fields of a struct by their folded keys; of two alike, the decoder takes the outer.
func fieldsOf(t reflect.Type) map[string]field {
	if kept, ok := fieldsKept.Load(t); ok {
		return kept.(map[string]field)
	}
	all, deep := map[string]field{}, map[string]int{}
	for _, f := range reflect.VisibleFields(t) {
		tag, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
		if !f.IsExported() || f.Anonymous && tag == "" || tag == "-" {
			continue
		}
		name := tag
		if name == "" {
			name = strings.ToLower(f.Name)
		}
		if at, is := deep[folded(name)]; !is || len(f.Index) < at {
			all[folded(name)], deep[folded(name)] = field{name, f.Type}, len(f.Index)
		}
	}
	fieldsKept.Store(t, all)
	return all
}
