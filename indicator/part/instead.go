package part

import (
	"fmt"
	"math"
)

// otherCutter tells which cutters would bring the swing radius of arc i into the travel, where the ones at hand do not,
// or what makes the arc without one. The swing radius is r + D/2 of a convex arc and r − D/2 of a concave one, so a
// larger cutter makes it larger round a boss and smaller in a hollow.
func (w *work) otherCutter(i int, tried []trial) {
	e := &w.elements[i]
	beyond := false
	for k := range tried {
		beyond = beyond || len(tried[k].problems) > 0 && tried[k].problems[0].Kind == OutOfTravel
	}
	if !beyond || e.kappa() == 0 {
		return
	}
	p := Problem{Kind: OtherCutter, N: e.n, At: e.Centre, Cutter: 2 * e.Radius}
	take := 0.0 // the one that is nearest to what a shop has
	if e.kappa() > 0 {
		p.Size, p.Need = max(0, 2*(w.SwingMin-e.Radius)), 2*(w.SwingMax-e.Radius)
		take = p.Size
	} else {
		p.Names[0] = hollow
		p.Size, p.Need = max(0, 2*(e.Radius-w.SwingMax)), 2*(e.Radius-w.SwingMin)
		take = p.Need
	}
	if !(p.Need > p.Size) {
		p.Size, p.Need = 0, 0
	} else if t := w.try(i, take); take > 0 && !math.IsInf(take, 1) && t.level == gouges {
		p.Other = t.problems[0].Other
		p.Names[1] = t.problems[0].Names[1]
	}
	w.tell(p)
}

// hollow stands for the name of an arc whose metal is outside.
const hollow = "hollow"

// otherCutterWords say what would do instead. The tools are common practice, no source.
func otherCutterWords(q *problemWords) string {
	out := fmt.Sprintf("arc %d: ", q.N)
	near := q.Size // of a boss the least, of a hollow the largest is what a shop has
	tool := "a form tool of its radius"
	if q.Names[0] == hollow {
		near = q.Need
		tool = fmt.Sprintf("a boring head, or a cutter of diameter %s sunk at its centre", q.length(q.Cutter))
	}
	switch {
	case !(q.Need > 0):
		out += "no cutter brings its swing radius into the travel"
	case math.IsInf(q.Need, 1):
		out += fmt.Sprintf("a cutter of diameter %s or more brings its swing radius into the travel", q.length(q.Size))
	case q.Size == 0:
		out += fmt.Sprintf("a cutter of diameter %s or less brings its swing radius into the travel", q.length(q.Need))
	default:
		out += fmt.Sprintf("a cutter of diameter %s to %s brings its swing radius into the travel", q.length(q.Size), q.length(q.Need))
	}
	if q.Need > 0 && (q.Other != 0 || q.Names[1] != "") {
		out += fmt.Sprintf(", but one of %s gouges %s", q.length(near), q.other())
	}
	return out + "; else " + tool + ", or X/Y places (--step-height)"
}
