package advice

import (
	"math"

	"example.org/trammel/geom"
)

// FewestAgain is how many stations of a sweep have to be read again to see whether its centre has moved: three, or two where the dial's
// zero is what it was.
func FewestAgain(kept bool) int {
	if kept {
		return 2
	}
	return 3
}

// Again is which of the stations that are left, by their places in all, is best read next, so that those and the ones that were read
// already see the centre's move best: evenly spread for three, a quarter turn apart for two. −1 where none is left.
func Again(all []geom.Bearing, read, left []int, kept bool) int {
	best, next := math.Inf(1), -1
	// chosen has the stations that were read in front, and grows by those that would be.
	var try func(chosen []int, from, first, more int)
	try = func(chosen []int, from, first, more int) {
		if more == 0 {
			if v := spreadAgain(all, chosen, kept); next < 0 || v < best*(1-1e-9) {
				best, next = v, first
			}
			return
		}
		for i := from; i < len(left); i++ {
			begin := first
			if begin < 0 {
				begin = left[i]
			}
			try(append(chosen[:len(chosen):len(chosen)], left[i]), i+1, begin, more-1)
		}
	}
	try(read, 0, -1, min(len(left), max(1, FewestAgain(kept)-len(read))))
	return next
}

// spreadAgain is the trace of the centre's cofactor by differences at some stations, +Inf where they do not fix it.
func spreadAgain(all []geom.Bearing, chosen []int, kept bool) float64 {
	var n, x, y, xx, xy, yy float64
	for _, i := range chosen {
		u := all[i].Unit()
		n, x, y = n+1, x+u.X, y+u.Y
		xx, xy, yy = xx+float64(u.X*u.X), xy+float64(u.X*u.Y), yy+float64(u.Y*u.Y)
	}
	if !kept && n > 0 { // about the mean: the shift is an unknown too
		xx, xy, yy = xx-float64(x*x)/n, xy-float64(x*y)/n, yy-float64(y*y)/n
	}
	det := float64(xx*yy) - float64(xy*xy)
	if !(det > 1e-9) {
		return math.Inf(1)
	}
	return (xx + yy) / det
}
