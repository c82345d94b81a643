package job

import (
	"bytes"
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"sync"

	"example.org/trammel/geom/toml"
	"example.org/trammel/indicator/setup"
)

// assignment is a line of a key alone: what stands before the value, the value, and what stands behind it.
var assignment = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(\s*[A-Za-z0-9_.\-"']+\s*=\s*)("[^"]*"|'[^']*'|[^\s#"']+)([ \t]*(?:#.*?)?)(\r?)$`)
})

// ours are the comments behind a value that are about the value alone.
var ours = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\s*#\s*(a guess on the large side|` + byNeedle + `(, ±\S*)?)$`)
})

// EditMachine returns a machine file's text with keys changed, and every other byte as it was. A comment of a person's stays behind
// the new one. The error is an *[Error]: a key that does not stand on a line of its own is not touched, nor is a file that would
// then say anything else than what was asked for.
func EditMachine(name string, text []byte, changes []Change) ([]byte, error) {
	was, err := ParseMachine(name, text)
	if err != nil {
		return nil, err
	}
	edited := text
	for _, c := range changes {
		if edited, err = edit(name, edited, c); err != nil {
			return nil, err
		}
	}
	is, err := ParseMachine(name, edited)
	if err != nil {
		return nil, err
	}
	if key, ok := changedElsewhere(&was, &is, changes); !ok {
		return nil, &Error{File: name, Key: key, Why: "the change would touch more than this key, need it alone on a line",
			Hint: byHand(changes)}
	}
	return edited, nil
}

// byHand says what to write.
func byHand(changes []Change) string {
	all := make([]string, len(changes))
	for i, c := range changes {
		if all[i] = c.Key + " = " + c.Is; c.Is == "" {
			all[i] = "no " + c.Key
		}
	}
	return "write by hand: " + strings.Join(all, ", ")
}

// edit changes one key, or puts it behind the one that it belongs to where the file does not have it.
func edit(name string, text []byte, c Change) ([]byte, error) {
	lines := bytes.Split(text, []byte("\n"))
	at := toml.LinesOf(text, keyPath)
	bad := func(line int) error {
		return &Error{File: name, Line: line, Key: c.Key, Why: "does not stand on a line of its own, need that to change it",
			Hint: byHand([]Change{c})}
	}
	line, neighbour := at[c.Key], strings.TrimSuffix(c.Key, "_error")
	if line == 0 {
		line = at[neighbour]
	}
	if line == 0 {
		return nil, bad(0)
	}
	m := assignment().FindSubmatch(lines[line-1])
	if m == nil {
		return nil, bad(line)
	}
	if at[c.Key] == 0 {
		key := strings.Replace(string(m[1]), lastPart(neighbour), lastPart(c.Key), 1)
		own := bytes.Clone(lines[line-1])
		if line == len(lines) && line > 1 && bytes.HasSuffix(lines[line-2], []byte("\r")) { // a last line without an end
			own = append(own, '\r')
		}
		lines[line-1] = append(append(own, '\n'), key+c.Is+string(m[4])...)
		return bytes.Join(lines, []byte("\n")), nil
	}
	behind := string(m[3])
	if c.Note != "" {
		kept := strings.TrimLeft(behind, " \t#")
		if ours().MatchString(behind) {
			kept = ""
		}
		if behind = " # " + c.Note; kept != "" {
			behind += "; " + kept
		}
	}
	lines[line-1] = fmt.Appendf(nil, "%s%s%s%s", m[1], c.Is, behind, m[4])
	return bytes.Join(lines, []byte("\n")), nil
}

func lastPart(key string) string { return key[strings.LastIndex(key, ".")+1:] }

// changedElsewhere reports whether two machines differ by the keys that were changed alone; else the first of them is named.
func changedElsewhere(was, is *setup.Machine, changes []Change) (key string, ok bool) {
	for i := range is.Slides {
		if i >= len(was.Slides) {
			return changes[0].Key, false
		}
		for _, c := range changes {
			if c.Key != "slide."+is.Slides[i].Name+"."+lastPart(c.Key) {
				continue
			}
			a, b := &was.Slides[i], &is.Slides[i]
			switch lastPart(c.Key) {
			case "clockwise":
				a.Clockwise = b.Clockwise
			case "take_up":
				a.TakeUp = b.TakeUp
			case "travel_per_turn":
				a.TravelPerTurn = b.TravelPerTurn
			case "backlash":
				a.Backlash = b.Backlash
			case "backlash_error":
				a.BacklashLimit = b.BacklashLimit
			}
		}
	}
	return changes[0].Key, reflect.DeepEqual(was, is)
}
