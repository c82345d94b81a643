package toml

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
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
		name, of := fieldOf(t, p.Name)
		switch {
		case of == nil: // the decoder tells of it
			return nil, ""
		case name != p.Name:
			return &Mistake{Key: key, Unknown: true, Name: name}, fmt.Sprint(path[:i+1])
		}
		t = of
	}
	return nil, ""
}

// fieldOf is the field of a struct that the decoder takes for a key, and how its name is written; nil for none.
func fieldOf(t reflect.Type, key string) (name string, of reflect.Type) {
	for _, f := range reflect.VisibleFields(t) {
		tag, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
		if !f.IsExported() || f.Anonymous && tag == "" || tag == "-" {
			continue
		}
		own := tag
		if own == "" {
			own = strings.ToLower(f.Name)
		}
		if own == key {
			return own, f.Type
		}
		if strings.EqualFold(own, key) {
			name, of = own, f.Type
		}
	}
	return name, of
}
