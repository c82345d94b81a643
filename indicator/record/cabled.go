package record

import (
	"fmt"
	"reflect"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
)

// Cabled is what a machine's file says of its cable indicator: what it is read by, and what its figures mean. Preset is in the
// machine's unit. What is not stated is left out, but how it sends.
type Cabled struct {
	Source  string  `json:"source,omitempty"`
	Mode    string  `json:"mode"`
	Unit    string  `json:"unit,omitempty"`
	Pressed string  `json:"pressed,omitempty"`
	Preset  *Number `json:"preset,omitempty"`
}

// CabledOf tells of what is stated, in a unit of lengths; nil where all is as usual.
func CabledOf(s gauge.Settings, u geom.Unit) *Cabled {
	if reflect.DeepEqual(s, gauge.Usual()) {
		return nil
	}
	l := &Cabled{Source: s.Source, Mode: s.Mode.String()}
	if s.Unit != nil {
		l.Unit = s.Unit.String()
	}
	if s.Pressed != gauge.AsDial {
		l.Pressed = s.Pressed.String()
	}
	if s.Preset != 0 {
		l.Preset = numberOf(u.From(s.Preset))
	}
	return l
}

// text says it in a unit of lengths.
func (l *Cabled) text(u geom.Unit) string {
	out := l.Source
	if out == "" {
		out = "dial --gauge says where"
	}
	out += ", mode " + l.Mode
	if l.Unit != "" {
		out += "; its figures are in " + l.Unit
	}
	if l.Pressed != "" {
		out += fmt.Sprintf("; a figure %s as the tip is pressed", l.Pressed)
	}
	if l.Preset != nil {
		out += fmt.Sprintf("; it shows %v %v at the dial's zero", exact(*l.Preset), u)
	}
	return out
}
