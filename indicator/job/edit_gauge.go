package job

import (
	"bytes"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/toml"
	"example.org/trammel/indicator/gauge"
)

// gaugeKey is a key of [gauge], and how a file in a unit of lengths writes it; empty where nothing is written.
type gaugeKey struct {
	key   string
	write func(s *gauge.Settings, u geom.Unit) string
}

const ofGauge = "gauge."

var gaugeKeys = []gaugeKey{
	{"source", func(s *gauge.Settings, _ geom.Unit) string { return tomlText(s.Source) }},
	{"baud", func(s *gauge.Settings, _ geom.Unit) string { return strconv.Itoa(s.Serial.Baud) }},
	{"bits", func(s *gauge.Settings, _ geom.Unit) string { return strconv.Itoa(s.Serial.Bits) }},
	{"parity", func(s *gauge.Settings, _ geom.Unit) string { return tomlText(s.Serial.Parity.String()) }},
	{"stop", func(s *gauge.Settings, _ geom.Unit) string { return decimal(s.Serial.Stop) }},
	{"pattern", func(s *gauge.Settings, _ geom.Unit) string { return tomlText(s.Pattern) }},
	{"mode", func(s *gauge.Settings, _ geom.Unit) string { return tomlText(s.Mode.String()) }},
	{"stable", func(s *gauge.Settings, _ geom.Unit) string { return strconv.Itoa(s.Stable) }},
	{"within", func(s *gauge.Settings, u geom.Unit) string { return decimal(*plainNumber(u.From(s.Within))) }},
	{"unit", func(s *gauge.Settings, _ geom.Unit) string {
		if s.Unit == nil {
			return ""
		}
		return tomlText(s.Unit.String())
	}},
	{"pressed", func(s *gauge.Settings, _ geom.Unit) string {
		if s.Pressed == gauge.AsDial {
			return ""
		}
		return tomlText(s.Pressed.String())
	}},
	{"preset", func(s *gauge.Settings, u geom.Unit) string { return decimal(*plainNumber(u.From(s.Preset))) }},
}

// tomlText is a text as a file has it: in single quotes, where \ stands for itself, if that is shorter; empty for an empty one.
func tomlText(s string) string {
	switch {
	case s == "":
		return ""
	case strings.ContainsAny(s, `\"`) && !strings.Contains(s, "'"):
		return "'" + s + "'"
	}
	return quote(s)
}

// GaugeText is the table of a machine's file, in a unit of lengths, that states an indicator: without what is as usual.
func GaugeText(s gauge.Settings, u geom.Unit) string {
	usual, out := gauge.Usual(), "[gauge]\n"
	for _, k := range gaugeKeys {
		if v := k.write(&s, u); v != k.write(&usual, u) {
			out += k.key + " = " + v + "\n"
		}
	}
	return out
}

// GaugeChanges are the keys of a machine's file that have to change, so that it states an indicator with a cable as is wanted; a key
// whose Is is empty is taken out. What is as usual, and not stated, stays so. The error is an *[Error], or [Errors].
func GaugeChanges(name string, file []byte, want gauge.Settings) (out []Change, err error) {
	was, err := ParseGauge(name, file)
	if err != nil {
		return nil, err
	}
	m, err := ParseMachine(name, file)
	if err != nil {
		return nil, err
	}
	at := toml.LinesOf(file, keyPath)
	for _, k := range gaugeKeys {
		c := Change{Key: ofGauge + k.key, Was: k.write(&was, m.Unit), Is: k.write(&want, m.Unit)}
		if c.Was == c.Is {
			continue
		}
		if at[c.Key] == 0 {
			c.Was = ""
		}
		out = append(out, c)
	}
	return out, nil
}

// EditGauge returns a machine file's text that states an indicator with a cable as is wanted, with what was changed; every other byte
// is as it was. A comment behind a value stays there, and what is taken out stays as a comment. The error is an *[Error]: a key that
// does not stand on a line of its own is not touched, nor is a file that would then say anything else.
func EditGauge(name string, file []byte, want gauge.Settings) ([]byte, []Change, error) {
	changes, err := GaugeChanges(name, file, want)
	if err != nil {
		return nil, nil, err
	}
	was, err := ParseMachine(name, file)
	if err != nil {
		return nil, nil, err
	}
	edited := file
	for _, c := range changes {
		if edited, err = editGauge(name, edited, c); err != nil {
			return nil, nil, err
		}
	}
	is, err := ParseMachine(name, edited)
	if err != nil {
		return nil, nil, err
	}
	if left, err := GaugeChanges(name, edited, want); err != nil || len(left) > 0 || !reflect.DeepEqual(was, is) {
		return nil, nil, &Error{File: name, Key: "gauge",
			Why:  "the change would touch more than this table, need its keys alone on their lines",
			Hint: byHand(changes)}
	}
	return edited, changes, nil
}

// editGauge changes one key where it stands, or puts it behind the others of its table, or begins that.
func editGauge(name string, file []byte, c Change) ([]byte, error) {
	end := ""
	if bytes.Contains(file, []byte("\r\n")) {
		end = "\r"
	}
	lines := strings.Split(string(file), "\n")
	at := toml.LinesOf(file, keyPath)
	bad := func(row int) error {
		return &Error{File: name, Line: row, Key: c.Key, Why: "does not stand on a line of its own, need that to change it",
			Hint: byHand([]Change{c})}
	}
	if own := at[c.Key]; own > 0 {
		m := assignment().FindStringSubmatch(lines[own-1])
		if m == nil {
			return nil, bad(own)
		}
		if lines[own-1] = m[1] + c.Is + m[3] + m[4]; c.Is == "" {
			lines[own-1] = "# " + strings.TrimLeft(m[0], " \t")
		}
		return []byte(strings.Join(lines, "\n")), nil
	}
	line := fmt.Sprintf("%s = %s%s", lastPart(c.Key), c.Is, end)
	behind := at["gauge"]
	if behind > 0 && !strings.HasPrefix(strings.TrimSpace(lines[behind-1]), "[") {
		return nil, bad(behind)
	}
	for key, row := range at {
		m := assignment().FindStringSubmatch(lines[row-1])
		if strings.HasPrefix(key, ofGauge) && row > behind && m != nil {
			behind = row
			line = strings.Replace(m[1], lastPart(key), lastPart(c.Key), 1) + c.Is + end
		}
	}
	if behind > 0 {
		lines = append(lines[:behind:behind], append([]string{line}, lines[behind:]...)...)
		return []byte(strings.Join(lines, "\n")), nil
	}
	rest := strings.TrimRight(string(file), "\r\n")
	return []byte(rest + end + "\n" + end + "\n[gauge]" + end + "\n" + line + "\n"), nil
}
