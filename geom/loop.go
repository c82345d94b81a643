package geom

import "math"

// Loop is a closed chain of which much is asked: each answer is that of the [Chain], in about log n steps in the place of n.
type Loop struct {
	Chain
	boxes Boxes // of the elements as they follow each other: a box of a higher level holds a run of them
	gaps  [][]float64
}

// few is up to how many elements are asked one by one.
const few = 2 * fan

// NewLoop takes a closed chain.
func NewLoop(c Chain) *Loop {
	l := &Loop{Chain: c}
	row, gaps := make([]Box, len(c)), make([]float64, len(c))
	l.boxes.items = make([]int, len(c))
	for i, e := range c {
		row[i], l.boxes.items[i] = e.Box(), i
		if i > 0 {
			gaps[i] = e.Start.Sub(c[i-1].End).Norm()
		}
	}
	l.boxes.levels = stacked(row)
	l.gaps = [][]float64{gaps}
	for range l.boxes.levels[1:] {
		up := make([]float64, (len(gaps)+fan-1)/fan)
		for i, g := range gaps {
			up[i/fan] += g
		}
		l.gaps, gaps = append(l.gaps, up), up
	}
	return l
}

// Box is the window that holds the loop, and whatever lies in its gaps.
func (l *Loop) Box() Box {
	top := len(l.boxes.levels) - 1
	b, gaps := l.boxes.levels[top][0], 0.0
	for i, o := range l.boxes.levels[top] {
		b, gaps = b.And(o), gaps+l.gaps[top][i]
	}
	return b.Grown(gaps + l.Chain[len(l.Chain)-1].End.Sub(l.Chain[0].Start).Norm())
}

// Holds reports whether a place lies inside, as [Chain.Holds] does.
//
// Seen from a place outside of a box that holds a run of elements, the run turns the line to it by less than half a turn, so by the
// angle between its ends. Ends that miss each other by g turn it by g over their distance at most, which that angle counts and the
// sum over the elements does not: a box is taken whole from a hundred times its gaps away, so that all levels together are off by
// far less than a radian. Where the sum is not clear of half a turn by one, which is where the place lies on the loop, the elements
// themselves are asked.
func (l *Loop) Holds(p Point) bool {
	if len(l.Chain) <= few {
		return l.Chain.Holds(p)
	}
	turned := 0.0
	var add func(level, from, to int)
	add = func(level, from, to int) {
		row := l.boxes.levels[level]
		for k := from; k < min(to, len(row)); k++ {
			first, last := k, k
			for range level {
				first, last = first*fan, last*fan+fan-1
			}
			last = min(last, len(l.Chain)-1)
			switch away := row[k].Distance(p); {
			case away > 100*l.gaps[level][k] && away > 0:
				a, b := l.Chain[first].Start.Sub(p), l.Chain[last].End.Sub(p)
				turned += math.Atan2(a.Cross(b), a.Dot(b))
			case level == 0:
				turned += l.Chain[k].angleFrom(p)
			default:
				add(level-1, k*fan, (k+1)*fan)
			}
		}
	}
	add(len(l.boxes.levels)-1, 0, fan)
	if math.Abs(math.Abs(turned)-math.Pi) < 1 {
		return l.Chain.Holds(p)
	}
	return math.Abs(turned) > math.Pi
}

// Distance is how far a place lies from the nearest element.
func (l *Loop) Distance(p Point) float64 {
	far, _ := l.boxes.Least(func(b Box) float64 { return b.Distance(p) }, func(i int) float64 {
		d, _ := l.Chain[i].Distance(p)
		return d
	})
	return far
}
