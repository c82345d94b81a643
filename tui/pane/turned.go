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

// turnedSteps are the things to do before the first reading where the table is turned.
func (v *View) turnedSteps(press string) []string {
	out := []string{
		"1  indicator in the cutter spindle at " + v.degrees(v.job().Setup.IndicatorBearing.Degrees360()) + " from the table's axis, tip pressing " + press,
		"2  rock to the turning point (" + turning(v) + "), lock the spindle; it stands still from now on",
		"3  lock quill, knee and the machine's other slide at cutting height",
		"4  turn the table clockwise from station to station, seen from above, and come to each that way; hand off before reading",
	}
	for _, s := range v.State.Set.Machine.Slides {
		if t, some := v.State.ReachedAt(s); some {
			out = append(out, "   "+SlideName(s.Name)+" is wound with the table at "+v.text(lines.RingWords(v.State.Set.Machine.Table.Shows(t), nil))+" or near it")
		}
	}
	return out
}
