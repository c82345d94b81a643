package gauge

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
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

// PickSource is the source that an answer means: the number, from 1, of one of the serial lines that are there, a source in its own
// form, or else the bare name of a serial line's device.
func PickSource(ports []string, text string) (string, error) {
	text = strings.TrimSpace(text)
	if n, err := strconv.Atoi(text); err == nil {
		if n < 1 || n > len(ports) {
			return "", fmt.Errorf("%q, need the number of a serial line that is there, or %s", text, SourceForms())
		}
		text = ports[n-1]
	}
	if _, _, err := ParseSource(text); err == nil {
		return text, nil
	}
	// No serial line is called by figures and strokes alone: what is typed so was meant for a number, or for a key.
	if device := string(SerialLine) + ":" + text; strings.ContainsFunc(text, unicode.IsLetter) && !strings.Contains(text, ":") {
		_, _, err := ParseSource(device)
		return device, err
	}
	return "", fmt.Errorf("%q, need the number of a serial line that is there, or %s", text, SourceForms())
}
