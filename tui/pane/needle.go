package pane

import (
	"errors"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/plot"
)

// Needled reports whether what the cable indicator shows belongs on the page: a reading is asked for, or a wind goes by it that does
// not show it yet.
func (v *View) Needled() bool {
	return v.Cabled && !v.Page && v.Prompt.Waits != session.ForChore && v.Prompt.Needle() && !v.Watching()
}

// Takes reports whether Enter alone takes what the needle of the cable indicator stands still at; there is nothing to take of one
// that sends by its own button.
func (v *View) Takes() bool {
	p := &v.Prompt
	return v.Cabled && !v.buttoned() && p.Needle() &&
		(p.Waits == session.ForReading || p.Waits == session.ForWind && p.Wind.How == session.ByTap)
}

func (v *View) buttoned() bool { return errors.Is(v.Moment.Why, gauge.ErrButton) }

// Sent prints a reading that the cable indicator has sent, with its unit.
func (v *View) Sent(mm float64) string { return v.reading(mm) + " " + v.unit().String() }

// needleMark says by sign and word what the needle does.
func (v *View) needleMark() string {
	t, m := v.Theme, &v.Moment
	switch {
	case m.Lost != "":
		return t.Bad.Render(t.Glyphs.Cross + " lost")
	case v.buttoned():
		return t.Dim.Render("by its own button")
	case m.Beyond:
		return t.Bad.Render(t.Glyphs.Cross + " off the dial")
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
	text += v.needleMark()
	if v.Watch != nil && v.live() { // the figure to reach
		text += v.Theme.Strong.Render(", goal " + v.reading(v.Watch.Goal))
	}
	return Clip(v.Theme, text, w)
}

// needle draws the dial of the cable indicator with its needle, and below it the figure, as large as there is room for; where there is
// none, the figure alone.
func needle(v *View, w, h int) string {
	mark := middle(v.needleMark(), w)
	if !v.Moment.Has {
		return Box(v.Theme, strings.Repeat("\n", max(0, h/2-1))+mark, w, h)
	}
	rows := []string{middle(v.Theme.Big.Render(v.needleFigure()+" "+v.unit().String())+"  "+v.needleMark(), w)}
	if drawn, tall := plot.Big([][]string{{v.needleFigure()}}, w, max(4, h/3), v.Theme.Plain); tall > 0 && h >= 8 {
		rows = nil
		for _, l := range strings.Split(drawn, "\n") {
			rows = append(rows, middle(v.Theme.Big.Render(l), w))
		}
		rows = append(rows, middle(v.unit().String()+"  "+v.needleMark(), w))
	}
	dial := ""
	if d := v.job().Dial; d.Revolution > 0 {
		dial = plot.Dial(v.Moment.Shown(), d.Graduation, d.Revolution, v.unit(), w, h-len(rows), v.Theme)
	}
	return Box(v.Theme, dial, w, h-len(rows)) + "\n" + Box(v.Theme, strings.Join(rows, "\n"), w, len(rows))
}

// middle puts a line into the middle of w cells.
func middle(s string, w int) string { return strings.Repeat(" ", max(0, w-ansi.StringWidth(s))/2) + s }
