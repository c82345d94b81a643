package pane

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// Setup is the page before the first reading: where the indicator goes, which way its tip faces, and
// what is locked, so that no sign has to be guessed. Where there is not room for all of it, the
// drawings are its first leaf and the steps its second.
func Setup(v *View, w, h int) string {
	rows, whole := setupWhole(v, w, h)
	switch {
	case whole:
	case v.Leaf:
		rows = setupSteps(v, w)
	default:
		if rows = setupLeaf(v, w, h); rows == nil {
			rows = setupSteps(v, w)
		}
	}
	return Box(v.Theme, strings.Join(rows, "\n"), w, h)
}

// SetupLeaves reports whether the page has a second leaf in a window of that size.
func SetupLeaves(v *View, w, h int) bool {
	_, whole := setupWhole(v, w, h)
	return !whole && setupLeaf(v, w, h) != nil
}

// setupWhole is the page in one piece; whole is false where it has not room.
func setupWhole(v *View, w, h int) (rows []string, whole bool) {
	steps := setupSteps(v, w)
	k, ok := record.NewSketch(v.job())
	if !ok {
		return steps, true
	}
	notes := append(v.legend(&k, w), v.target(w, 0)...)
	room := h - len(steps) - len(notes)
	d := v.drawing(k, w, room)
	if len(d) == 0 || room < fullDrawing {
		return nil, false
	}
	return append(append(d, notes...), steps...), true
}

// fullDrawing is how many rows the drawings need for the steps to stand below them.
const fullDrawing = 9

// setupLeaf is the leaf of the drawings; nil where there is no room for any, or nothing to draw.
func setupLeaf(v *View, w, h int) []string {
	k, ok := record.NewSketch(v.job())
	if !ok {
		return nil
	}
	safe := v.strong(lines.SafeWords, w)
	above := v.legend(&k, w)
	more := v.dim("i: the steps", w)
	for form := range 3 {
		target := v.target(w, form)
		for _, notes := range [][]string{append(append(above, target...), more...), append(target, more...), target} {
			if d := v.drawing(k, w, h-len(safe)-len(notes)); len(d) > len(k.Side(0)) {
				return append(append(safe, d...), notes...)
			}
		}
	}
	if d := v.drawing(k, w, h-len(safe)); len(d) > 0 {
		out := append(safe, d...)
		return append(out, v.target(w, 2)...)
	}
	return nil
}

// drawing puts the view from above beside the one from the side; only the latter where both do not
// fit into w × h cells, and nothing where not even that does.
func (v *View) drawing(k record.Sketch, w, h int) []string {
	const least, gap = 7, 2
	small := k.Side(0)
	narrow := 0
	for _, l := range small {
		narrow = max(narrow, ansi.StringWidth(l))
	}
	if h < len(small) || w < narrow {
		return nil
	}
	n := min(h, 25, (w-narrow-gap+1)/2)
	if n < least {
		return v.signs(k.Side(min(w, 76)))
	}
	left, right := k.Above(n), k.Side(min(w-2*n+1-gap, 76))
	down := (len(left) - len(right)) / 2
	out := make([]string, n)
	for i := range out {
		out[i] = pad(left[i], 2*n-1+gap, false)
		if j := i - down; j >= 0 && j < len(right) {
			out[i] += right[j]
		}
		out[i] = strings.TrimRight(out[i], " ")
	}
	return v.signs(out)
}

// signs puts the theme's signs into a drawing of plain characters.
func (v *View) signs(rows []string) []string {
	if v.Theme.Plain {
		return rows
	}
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = v.Num(strings.NewReplacer("-#", "─"+metal, "#", metal, "--", "──", "-o", "─o", "-|", "─|").Replace(r))
	}
	return out
}

// metal is the sign of metal in a drawing.
const metal = "▒"

// setupSteps are the things to do, in the order of the bench.
func setupSteps(v *View, w int) []string {
	var out []string
	for _, s := range lines.SetupSteps(&v.State) {
		style, in := v.Theme.Text, 3
		switch {
		case s == lines.DeferWords:
			style, in = v.Theme.Dim, 0
		case s[0] > '9':
			style, in = v.Theme.Strong, 0
		}
		for _, l := range wrap(v.text(s), w, in) {
			out = append(out, style.Render(l))
		}
	}
	return out
}

// target is what the dial reads at the target, in one of three forms, the longest first.
func (v *View) target(w, form int) (out []string) {
	if forms := lines.TargetWords(&v.State, v.unit()); len(forms) > 0 {
		for _, l := range wrap(v.text(v.Num(forms[min(form, len(forms)-1)])), w, 0) {
			out = append(out, v.Theme.Text.Render(l))
		}
	}
	return out
}

// legend explains the signs of the view from above.
func (v *View) legend(k *record.Sketch, w int) []string {
	s := lines.AboveWords(k)
	if !v.Theme.Plain {
		s = strings.Replace(s, "# metal", metal+" metal", 1)
	}
	return v.dim(s, w)
}

func (v *View) strong(s string, w int) (out []string) {
	for _, l := range wrap(v.text(s), w, 0) {
		out = append(out, v.Theme.Strong.Render(l))
	}
	return out
}

func (v *View) dim(s string, w int) (out []string) {
	for _, l := range wrap(v.text(s), w, 0) {
		out = append(out, v.Theme.Dim.Render(l))
	}
	return out
}
