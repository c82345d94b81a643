package pane

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/tui/keys"
)

// Help is the page of all keys: those that act now in columns, then those that do not. Why not, a
// key says itself when it is pressed.
func Help(v *View, all []keys.Binding, w, h int) string {
	t := v.Theme
	var now, not []string
	for _, k := range all {
		if k.Why == "" {
			now = append(now, " "+t.Key.Render(pad(names(k), 5, false))+" "+k.Help().Desc)
			continue
		}
		not = append(not, names(k)+" "+k.Help().Desc)
	}
	out := []string{t.Strong.Render("keys")}
	wide := 1
	for _, s := range now {
		wide = max(wide, ansi.StringWidth(s)+1)
	}
	columns := max(1, min(w/wide, 4))
	rows := (len(now) + columns - 1) / columns
	for r := range rows {
		line := ""
		for c := r; c < len(now); c += rows {
			line += pad(now[c], wide, false)
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	if len(not) > 0 {
		out = append(out, wrapped(t.Dim, "not now: "+strings.Join(not, " "+t.Glyphs.Dot+" "), w)...)
	}
	out = append(out, wrap(v.Num("a reading is typed as a number: -0.125 or -0,125; Enter takes it"), w, 2)...)
	out = append(out, wrap("Enter alone, twice: enough stations, fit what is there", w, 2)...)
	return Box(t, strings.Join(out, "\n"), w, h)
}

// names are the keys of one binding. A line feed is what some terminals send for Enter.
func names(k keys.Binding) string {
	var out []string
	for _, n := range k.Keys() {
		switch n {
		case "ctrl+j":
			continue
		case "enter":
			n = "Enter"
		}
		out = append(out, strings.Replace(n, "ctrl+", "^", 1))
	}
	return strings.Join(out, " ")
}
