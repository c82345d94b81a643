package pane

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/slide"
)

// turned reports whether it is the table that is turned, and not the head that is swung.
func (v *View) turned() bool { return v.job().Setup.Kind == indicator.Turned }

// place is how the hand finds a bearing: by what the table's ring shows, or by the bearing itself.
func (v *View) place(b geom.Bearing) string {
	if v.turned() {
		return v.degrees(v.State.RingAt(b))
	}
	return v.degrees(b.Degrees360())
}

// ring says what the table's ring has to show for what is asked, its vernier included.
func (v *View) ring() string {
	var mark *slide.Mark
	if m, ok := v.State.Ring().Mark(v.Prompt.Ring); ok {
		mark = &m
	}
	return v.text(lines.RingWords(v.Prompt.Ring, mark))
}

// turnFirst says where to turn the table before a handwheel can be reached; empty where it may stand
// anywhere. A parked wind says so itself.
func (v *View) turnFirst() string {
	if !v.turned() || !v.Prompt.Set || v.Prompt.Told.Park != nil {
		return ""
	}
	return "table to " + v.ring() + ", "
}
