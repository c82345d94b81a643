package pane

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// Setup is the page before the first reading: where the indicator goes, which way its tip faces, and
// what is locked, so that no sign has to be guessed. Where there is not room for all of it, the
// drawings are its first leaf, and the steps stand behind.
func Setup(v *View, w, h int) Leaves {
	steps := setupSteps(v, w)
	k, sketched := record.NewSketch(v.job())
	whole := steps
	if sketched {
		whole = v.setupWhole(&k, steps, w, h)
	}
	if all := deal(whole, h); len(all) == 1 {
		return dealt{all: all, abreast: 1}.bound(v.Theme, nil, w, h)
	}
	var first [][]line
	if sketched {
		first, steps = v.setupDrawn(&k, steps, w, h)
	}
	c := dealt{all: append(first, deal(steps, h-1)...), abreast: 1}
	return c.bound(v.Theme, turns{"i", "steps", "Enter"}.foot(v.Theme, w), w, h)
}

// fullDrawing is how many rows the drawings need for the steps to stand below them.
const fullDrawing = 9

// setupWhole is the page in one piece; nil where it has not room.
func (v *View) setupWhole(k *record.Sketch, steps []block, w, h int) []block {
	notes := slices.Concat(v.legend(k, w), v.target(w, 0))
	room := h - len(notes)
	for _, b := range steps {
		room -= len(b.rows)
	}
	if room < fullDrawing {
		return nil
	}
	d := v.drawing(*k, w, room)
	if len(d) == 0 {
		return nil
	}
	return append([]block{{rows: append(styled(nil, d), notes...)}}, steps...)
}

// setupDrawn is the leaf of the drawings, if there is room for any, with the steps behind it; what the dial reads at the target
// goes before those where it has not room beside the drawings.
func (v *View) setupDrawn(k *record.Sketch, steps []block, w, h int) (first [][]line, behind []block) {
	safe, above := styled(&v.Theme.Strong, wrap(v.text(lines.SafeWords), w, 0)), v.legend(k, w)
	for form := range 3 {
		target := v.target(w, form)
		for _, notes := range [][]line{slices.Concat(above, target), target} {
			if d := v.drawing(*k, w, h-1-len(safe)-len(notes)); len(d) > len(k.Side(0)) {
				return [][]line{slices.Concat(safe, styled(nil, d), notes)}, steps
			}
		}
	}
	for _, foot := range []int{1, 0} {
		if d := v.drawing(*k, w, h-foot-len(safe)); len(d) > 0 {
			all := []block{{rows: append(safe, styled(nil, d)...)}, {rows: v.target(w, 0)}}
			if drawn := deal(all, h-foot); len(drawn) == 1 {
				return drawn, steps
			}
			return deal(all[:1], h), append(all[1:], steps...)
		}
	}
	return nil, steps
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
func setupSteps(v *View, w int) (out []block) {
	t := v.Theme
	for _, s := range lines.SetupSteps(&v.State) {
		style, in := &t.Text, 3
		switch {
		case s == lines.DeferWords:
			style, in = &t.Dim, 0
		case s[0] > '9':
			style, in = &t.Strong, 0
		}
		out = append(out, block{rows: styled(style, wrap(v.text(s), w, in))})
	}
	return out
}

// target is what the dial reads at the target, in one of three forms, the longest first.
func (v *View) target(w, form int) []line {
	forms := lines.TargetWords(&v.State, v.unit())
	if len(forms) == 0 {
		return nil
	}
	return styled(&v.Theme.Text, wrap(v.text(v.Num(forms[min(form, len(forms)-1)])), w, 0))
}

// legend explains the signs of the view from above.
func (v *View) legend(k *record.Sketch, w int) []line {
	s := lines.AboveWords(k)
	if !v.Theme.Plain {
		s = strings.Replace(s, "# metal", metal+" metal", 1)
	}
	return styled(&v.Theme.Dim, wrap(v.text(s), w, 0))
}
