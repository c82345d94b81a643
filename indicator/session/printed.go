package session

import (
	"bytes"
	"reflect"
	"unicode/utf8"

	"example.org/trammel/geom"
)

// printed is an event that was read from a line, with nothing in its texts that does not print, and each of them one line
// ([geom.PrintableLine]): a name that another program has written could else say a line of its own wherever it is told. Our own never
// write such a text, and the journal stays as it is. The names of files stay too, for they are opened by them.
func printed(e Event, line []byte) Event {
	if !odd(line) {
		return e
	}
	v := reflect.New(reflect.TypeOf(e)).Elem()
	v.Set(reflect.ValueOf(e))
	printTexts(v)
	return v.Interface().(Event)
}

// odd reports whether a text of a line may hold what does not print: it is written as it is, or as an escape.
func odd(line []byte) bool {
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case c >= utf8.RuneSelf:
			return bytes.ContainsFunc(line, func(r rune) bool { return !geom.Prints(r) || r == utf8.RuneError }) ||
				bytes.ContainsRune(line, '\\')
		case c == '\\':
			if i++; i < len(line) && line[i] != '"' && line[i] != '\\' && line[i] != '/' {
				return true
			}
		}
	}
	return false
}

var ofFiles = reflect.TypeFor[File]()

func printTexts(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		if v.CanSet() {
			v.SetString(geom.PrintableLine(v.String()))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			printTexts(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			printTexts(v.Index(i))
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			to := reflect.New(v.Type().Elem()).Elem()
			to.Set(v.MapIndex(key))
			printTexts(to)
			v.SetMapIndex(key, to)
		}
	case reflect.Struct:
		if v.Type() == ofFiles {
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				printTexts(v.Field(i))
			}
		}
	}
}
