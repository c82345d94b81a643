package pane

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// turned reports whether it is the table that is turned, and not the head that is swung.
func (v *View) turned() bool { return v.State.SetUp().Under().Table }

// place is how the hand finds a bearing: by what the table's ring shows, or by the bearing itself.
func (v *View) place(b geom.Bearing) string {
	if v.byRing() {
		return v.degrees(v.State.RingAt(b))
	}
	return v.degrees(b.Degrees360())
}

// byRing reports whether places are told by the ring's figures.
func (v *View) byRing() bool {
	return v.Bearings == session.ByRing || (v.turned() && v.Bearings == session.AsUsual)
}

// OtherBearings are the figures that the screen does not tell places by now.
func (v *View) OtherBearings() session.Bearings {
	if v.byRing() {
		return session.ByFrame
	}
	return session.ByRing
}

// towards is a direction found from readings, as the hand finds it.
func (v *View) towards(b geom.Bearing) string {
	return v.text(lines.DirectionIn(&v.State, b, v.Bearings, 1))
}

// ring says what the table's ring has to show for what is asked, its vernier included.
func (v *View) ring() string {
	var mark *setup.Mark
	if m, ok := v.State.Ring().Mark(v.Prompt.Position().Ring); ok {
		mark = &m
	}
	return v.text(lines.RingWords(v.Prompt.Position().Ring, mark))
}

// turnFirst says where to turn the table before a handwheel can be reached; empty where it may stand
// anywhere. A parked wind says so itself.
func (v *View) turnFirst() string {
	if !v.turned() || !v.Prompt.Position().Set || v.Prompt.Wind.Told.Park != nil {
		return ""
	}
	return "table to " + v.ring() + ", "
}
