package pane

import (
	"example.org/trammel/indicator/session"
)

// Needled reports whether what the cable indicator shows belongs on the page: a reading is asked for.
func (v *View) Needled() bool {
	return v.Cabled && !v.Page && v.Prompt.Waits == session.ForReading && v.Prompt.Needle()
}

// Sent prints a reading that the cable indicator has sent, with its unit.
func (v *View) Sent(mm float64) string { return v.reading(mm) + " " + v.unit().String() }

// needleMark says by sign and word what the needle does.
func (v *View) needleMark() string {
	t, m := v.Theme, &v.Moment
	switch {
	case m.Lost != "":
		return t.Bad.Render(t.Glyphs.Cross + " lost")
	case !m.Has:
		return t.Dim.Render(t.Glyphs.Ellipsis + " nothing yet")
	case m.Silent:
		return t.Doubt.Render(t.Glyphs.Query + " silent")
	case m.Steady:
		return t.Good.Render(t.Glyphs.Tick + " still")
	}
	return t.Dim.Render(t.Glyphs.Ellipsis + " moves")
}

// needleFigure is what the needle shows; empty where nothing has come.
func (v *View) needleFigure() string {
	if !v.Moment.Has {
		return ""
	}
	return v.reading(v.Moment.Shown())
}

// needleLine is the needle in one line.
func (v *View) needleLine(w int) string {
	text := v.Theme.Strong.Render("needle ")
	if f := v.needleFigure(); f != "" {
		text += v.Theme.Big.Render(f+" "+v.unit().String()) + "  "
	}
	return Clip(v.Theme, text+v.needleMark(), w)
}
