package pane

import (
	"fmt"
	"strings"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/theme"
)

// GaugeView is everything that the page which sets a cable indicator up may show.
type GaugeView struct {
	Theme theme.Theme
	// Source is where the indicator is found; Came are how many lines came from it, Read how many of the newer ones are readings.
	Source     string
	Came, Read int
	// Heard are the last lines, the newest behind, and Tail is what came behind the last line's end.
	Heard []GaugeHeard
	Tail  string
	// Now is the newest reading with its unit, empty where there is none; Steady that it stands still.
	Now    string
	Steady bool
	// Gone says why the line is not there; empty where it is.
	Gone string
	// Advice says what to do next.
	Advice string
	// Set says how each thing that can be set is set.
	Set []GaugeSet
	// Once is what Enter does, which is asked for once more, with what to read before; empty for nothing.
	Once   string
	ToRead []string
	// Status is the last thing said, Alarm that it is a complaint.
	Status string
	Alarm  bool
}

// GaugeHeard is a line that came, and what it means; Bad that it means nothing.
type GaugeHeard struct {
	Raw, Means string
	Bad        bool
}

// GaugeSet is one thing that can be set, and how it is.
type GaugeSet struct{ Words, Is string }

// gaugeSide is how wide the column of what is set is beside what comes, and gaugeSideFrom how wide a window is that has it.
const (
	gaugeSide     = 56
	gaugeSideFrom = 116
)

// Gauge is the page, in a window of w × h cells.
func Gauge(v *GaugeView, all []keys.Binding, w, h int) string {
	t := v.Theme
	last := Box(t, Keys(&View{Theme: t}, all, w), w, 1)
	if h <= 1 {
		return last
	}
	z := &zone{theme: t, action: v.action(), w: w, h: h, body: len(v.Heard) + len(v.Set) + 1, keeps: v.Alarm}
	bottom := z.lay(func(most int) []string { return v.said(w, most) })
	if Small(w, h) {
		return v.small(bottom, last, w, h)
	}
	room := h - Framed - bottom.Height()
	body := ""
	switch {
	case v.Once != "":
		body = Box(t, strings.Join(v.read(w, room), "\n"), w, room)
	case w >= gaugeSideFrom:
		left := w - gaugeSide
		body = Beside(Box(t, strings.Join(v.heard(left-1, room), "\n"), left, room),
			Box(t, strings.Join(v.set(gaugeSide), "\n"), gaugeSide, room))
	default:
		set := v.set(w)
		if room < len(set)+4 {
			set = nil
		}
		rows := v.heard(w, room-len(set)-min(1, len(set)))
		for len(rows) < room-len(set) {
			rows = append(rows, "")
		}
		body = Box(t, strings.Join(append(rows, set...), "\n"), w, room)
	}
	return Frame(t, w, v.aim(w), body, bottom.Draw(t, w, bottom.Height()), last)
}

// GaugeList is the page of numbered lines over it.
func GaugeList(v *GaugeView, all []keys.Binding, asks string, words []string, typed string, w, h int) Leaves {
	a := AskView{Theme: v.Theme, Title: v.title(), Status: v.Status, Alarm: v.Alarm}
	return a.over(all, w, h, func(h int) Leaves { return List(v.Theme, asks, words, typed, w, h) })
}

// small is the page of a window without zones: the newest lines above the figure.
func (v *GaugeView) small(bottom Bottom, last string, w, h int) string {
	t := v.Theme
	tall := min(bottom.Height(), h-1)
	rows := v.heard(w, h-1-tall)
	if v.Once != "" {
		rows = v.read(w, h-1-tall)
	}
	out := Box(t, strings.Join(rows, "\n"), w, h-1-tall)
	if h-1-tall <= 0 {
		return bottom.Draw(t, w, tall) + "\n" + last
	}
	return out + "\n" + bottom.Draw(t, w, tall) + "\n" + last
}

func (v *GaugeView) title() string { return v.say("cable indicator: " + v.Source) }

// aim is the top line.
func (v *GaugeView) aim(w int) string {
	t := v.Theme
	left, right := v.title(), fmt.Sprintf("%d lines, %d read", v.Came, v.Read)
	if gap := w - len([]rune(left)) - len(right); gap >= 2 {
		return t.Strong.Render(left) + strings.Repeat(" ", gap) + t.Dim.Render(right)
	}
	return t.Strong.Render(Clip(t, left, w))
}

// action is the figure in large letters, below what to do next.
func (v *GaugeView) action() action {
	switch now := v.Num(v.Now); {
	case v.Once != "":
		return big([]string{"Enter: " + v.say(v.Once) + "; any other key goes back"}, "Enter: yes", "yes?")
	case v.Gone != "":
		return big([]string{v.say(v.Gone)}, "no line")
	case now == "" && v.Came == 0:
		return big([]string{v.say(v.Advice)}, "nothing yet")
	case now == "":
		return big([]string{v.say(v.Advice)}, "no reading")
	case v.Steady:
		return big([]string{"it stands still; " + v.say(v.Advice), v.say(v.Advice)}, now)
	default:
		return big([]string{v.say(v.Advice)}, now)
	}
}

// heard are the last lines that came, in so many rows.
func (v *GaugeView) heard(w, room int) (rows []string) {
	t := v.Theme
	means := 14
	for _, h := range v.Heard {
		means = max(means, len([]rune(h.Means)))
	}
	means = min(means, w/2)
	raw := w - means - 2
	for i, h := range v.Heard {
		mark, style := " ", t.Text
		if h.Bad {
			style = t.Dim
		}
		if i == len(v.Heard)-1 {
			mark, style = t.Glyphs.RightMark, t.Now
		}
		row := mark + pad(Clip(t, v.say(h.Raw), raw-1), raw-1, false) + "  " + Clip(t, v.Num(h.Means), means)
		rows = append(rows, style.Render(Clip(t, row, w)))
	}
	if v.Tail != "" {
		rows = append(rows, t.Dim.Render(Clip(t, " "+v.say(v.Tail)+" (no line end yet)", w)))
	}
	if len(rows) == 0 {
		rows = []string{t.Dim.Render(Clip(t, "what comes stands here, and what it means", w))}
	}
	return rows[max(0, len(rows)-max(0, room)):]
}

// set is how everything is set.
func (v *GaugeView) set(w int) []string {
	var c Chapter
	for _, s := range v.Set {
		c.Rows = append(c.Rows, Row{Name: v.say(s.Words), Text: v.say(s.Is)})
	}
	return drawnRows(c.blocks(&v.Theme, w))
}

// read is what is read before something is done: the last of it where it has not the room.
func (v *GaugeView) read(w, room int) (rows []string) {
	for _, s := range v.ToRead {
		rows = append(rows, wrap(v.say(s), w, 2)...)
	}
	return rows[:max(0, min(len(rows), room))]
}

// said is the last thing said, in at most so many rows.
func (v *GaugeView) said(w, most int) []string {
	a := AskView{Theme: v.Theme, Status: v.Status, Alarm: v.Alarm}
	return a.said(w, most)
}

func (v *GaugeView) say(s string) string {
	screen := View{Theme: v.Theme}
	return screen.text(s)
}

// Num is a figure with its unit, in the screen's minus.
func (v *GaugeView) Num(s string) string {
	screen := View{Theme: v.Theme}
	return screen.Num(v.say(s))
}
