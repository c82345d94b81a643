package gauge

import (
	"fmt"
	"slices"
	"strings"
)

// Kind is a way in which an indicator's bytes come.
type Kind string

// A serial line by its device's name, a named pipe, or what a program writes.
const (
	SerialLine Kind = "serial"
	Pipe       Kind = "fifo"
	Program    Kind = "exec"
)

// form is a kind as it is stated.
type form struct {
	kind Kind
	what string
}

var forms = []form{{SerialLine, "DEVICE"}, {Pipe, "PATH"}, {Program, "COMMAND"}}

// SourceForms are the forms of a source, in words.
func SourceForms() string {
	all := make([]string, len(forms))
	for i, f := range forms {
		all[i] = string(f.kind) + ":" + f.what
	}
	return strings.Join(all[:len(all)-1], ", ") + " or " + all[len(all)-1]
}

// ParseSource reads where an indicator is found: a kind, a colon and a name.
func ParseSource(text string) (k Kind, name string, err error) {
	kind, name, _ := strings.Cut(text, ":")
	known := slices.ContainsFunc(forms, func(f form) bool { return string(f.kind) == kind })
	if !known || strings.TrimSpace(name) == "" || strings.ContainsRune(name, 0) {
		return "", "", fmt.Errorf("%q, need %s", text, SourceForms())
	}
	return Kind(kind), name, nil
}
