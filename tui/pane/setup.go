package pane

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/indicator"
	"example.org/trammel/tui/theme"
)

// Setup is the page before the first reading: where the indicator goes, which way its tip faces,
// and what is locked, so that no sign has to be guessed. The drawing goes first where there is not
// room for both.
func Setup(v *View, w, h int) string {
	out := setupSteps(v, w)
	if d := setupDrawing(v, w); len(d)+len(out) <= h {
		out = append(d, out...)
	}
	return Box(v.Theme, strings.Join(out, "\n"), w, h)
}

// setupSteps are the things to do, in the order of the bench.
func setupSteps(v *View, w int) []string {
	press := "outwards: a nearer wall reads more"
	if v.job().Setup.Touch == indicator.Boss {
		press = "inwards: a farther wall reads more"
	}
	t := v.Theme
	var out []string
	add := func(style lipgloss.Style, text string, in int) {
		for _, l := range wrap(text, w, in) {
			out = append(out, style.Render(l))
		}
	}
	add(t.Strong, "spindle off and isolated before a hand goes near it; work and head clamped", 0)
	if v.turned() {
		for _, l := range v.turnedSteps(press) {
			add(t.Text, l, 3)
		}
		v.lastSteps(add)
		return out
	}
	add(t.Text, "1  indicator in cutter spindle, tip pressing "+press, 3)
	add(t.Text, "2  lock the cutter spindle to the head, witness mark across both", 3)
	add(t.Text, "3  rock to the turning point ("+turning(v)+"), lock; again opposite", 3)
	add(t.Text, "4  lock quill and knee at cutting height", 3)
	add(t.Text, "5  always swing the same way round; hand off before reading", 3)
	v.lastSteps(add)
	return out
}

// lastSteps says what holds in every setup.
func (v *View) lastSteps(add func(style lipgloss.Style, text string, in int)) {
	if o := v.obstacles(); o != "" {
		add(v.Theme.Strong, "can't reach "+o+": no station there", 0)
	}
	add(v.Theme.Dim, "your machine's manual, local rules and supervision go first", 0)
}

// obstacles names what cannot be reached, as "80° to 130° and 350° to 20°"; empty for nothing.
func (v *View) obstacles() string {
	var all []string
	for _, o := range v.job().Sweep.Obstacles {
		all = append(all, v.degrees(o.From.Degrees360())+" to "+v.degrees(o.To.Degrees360()))
	}
	if n := len(all) - 1; n > 0 {
		return strings.Join(all[:n], ", ") + " and " + all[n]
	}
	return strings.Join(all, "")
}

// turning names the turning point: with the tip away from the head axis in a bore, or towards it
// on a boss, the highest reading; the lowest in the other two cases.
func turning(v *View) string {
	s := v.job().Setup
	away, towards := "highest reading", "lowest reading"
	if s.Touch == indicator.Boss {
		away, towards = towards, away
	}
	switch {
	case !s.ReachKnown:
		return away + " with the tip away from the axis, " + towards + " towards it"
	case s.Reach > 0:
		return away
	}
	return towards
}

// setupDrawing shows one radius from above: the axis, the wall, the tip and the spindle, in
// their true order and about to scale.
func setupDrawing(v *View, w int) []string {
	j := v.job()
	spindle := j.Target.SwingRadius
	if !j.Target.WantsSwing() {
		spindle = j.Setup.ReferenceRadius - j.Setup.Reach
	}
	tip := j.Setup.ReferenceRadius
	reach := j.Setup.Reach
	if !j.Setup.ReachKnown {
		return nil
	}
	const left = 4
	span := max(spindle, tip) * 1.2
	room := min(w, 76) - left - 12
	at := func(mm float64) int { return left + int(mm/span*float64(room)+0.5) }
	g := v.Theme.Glyphs
	wall := line(room + left + 12)
	if j.Setup.Touch == indicator.Bore {
		wall.fill(at(tip)+1, at(tip)+9, metal(v.Theme))
	} else {
		wall.fill(at(0), at(tip)-1, metal(v.Theme))
	}
	arm := line(room + left + 12)
	arm.fill(at(0)+1, min(at(tip), at(spindle))-1, g.Dot)
	arm.fill(min(at(tip), at(spindle)), max(at(tip), at(spindle)), g.Rule)
	arm.put(at(0), g.Axis)
	arm.put(at(tip), "o")
	arm.put(at(spindle), g.Centre)
	names := line(room + left + 12)
	axis := "head axis"
	if v.turned() {
		axis = "table axis"
	}
	names.word(at(0)-4, axis)
	names.word(at(spindle)-3, "spindle")
	if d := at(tip) - at(spindle); d > 9 || d < -9 {
		names.word(at(tip)-1, "tip")
	}
	return []string{
		v.Theme.Dim.Render(first(w, []string{
			fmt.Sprintf("along one radius: swing %s, reach %s %s, wall %s %v",
				v.length(spindle), v.length(reach), reachWord(reach), v.length(tip), j.Unit),
			fmt.Sprintf("swing %s, reach %s, wall %s %v", v.length(spindle), v.length(reach), v.length(tip), j.Unit),
		})),
		wall.String(), arm.String(), wall.String(), names.String(),
	}
}

func reachWord(reach float64) string {
	if reach < 0 {
		return "towards the axis"
	}
	return "away from the axis"
}

func metal(t theme.Theme) string {
	if t.Plain {
		return "#"
	}
	return "▒"
}

// cells is one row of a drawing.
type cells []string

func line(n int) cells {
	c := make(cells, max(0, n))
	for i := range c {
		c[i] = " "
	}
	return c
}

func (c cells) put(i int, s string) {
	if i >= 0 && i < len(c) {
		c[i] = s
	}
}

func (c cells) fill(from, to int, s string) {
	for i := from; i <= to; i++ {
		c.put(i, s)
	}
}

func (c cells) word(at int, s string) {
	for i, r := range s {
		c.put(max(0, at)+i, string(r))
	}
}

func (c cells) String() string { return strings.TrimRight(strings.Join(c, ""), " ") }
