package advice

import (
	"iter"
	"math"
	"sync"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// OffDial is a station whose needle stood beyond the dial: pressed beyond its upper end, or else free below its lower one.
type OffDial struct {
	Bearing geom.Bearing
	Pressed bool
}

// Search is a sweep whose needle has been beyond the dial: where it may be found is asked. What a station beyond the dial says is
// on which side of the circle that is read there the dial ends, an inequality. Readings are the tip's travel, more as it is pressed,
// millimetres.
//
// Round the axis the readings go, to first order in the centre error, as c + p cos t + q sin t, whatever is touched and whichever
// way the tip looks. Before anything is read c, p and q are taken to spread by Rough each (a standard deviation, Gaussian). What was
// read fixes them exactly, all but searchNoise; of what is still open a fixed set of points is drawn, evenly spread by the sequence of
// J. H. Halton, Numer. Math. 2 (1960) 84–90 (from memory), and what was beyond the dial leaves those of them that have it there.
type Search struct {
	From, To float64 // the ends of the dial
	Rough    float64
	Bearings []geom.Bearing
	Readings []float64
	Off      []OffDial
}

// RoughIn is how far from where they should stand radius and centre are after roughing in, a standard deviation, millimetres: a scale, a
// collar and a wiggler leave about that (common practice, no source).
const RoughIn = 1.0

const (
	// searchNoise is how far a reading lies beside the first-order curve, as a standard deviation, and searchSoft how far beyond the
	// end of the dial it may have stood for all that it was called off, millimetres: 0.3° at 2 mm are 10 µm, and the curve's second
	// order, e²/2ρ, is 33 µm at 2 mm in a ring of 30 mm radius twice across.
	searchNoise = 0.02
	searchSoft  = 0.05
	// searchPoints are enough for the choice of a mark; twice as many choose others in a few of a hundred cases, and no better ones.
	searchPoints = 1500
	// sideWorth is what it is worth to know on which side the needle stands, in terms of what a reading tells.
	sideWorth = 0.3
)

// circleAt is what a circle (c, p, q) reads at a bearing.
type circleAt [3]float64

func rowAt(b geom.Bearing) circleAt { u := b.Unit(); return circleAt{1, u.X, u.Y} }

func (r circleAt) of(c [3]float64) float64 {
	return float64(r[0]*c[0]) + float64(r[1]*c[1]) + float64(r[2]*c[2])
}

// spread are points spread as three independent Gaussians of standard deviation 1, evenly and always the same.
var spread = sync.OnceValue(func() (out [searchPoints][3]float64) {
	for i := range out {
		for k, base := range [3]int{2, 3, 5} {
			out[i][k] = math.Sqrt2 * math.Erfinv(2*radical(i+1, base)-1)
		}
	}
	return out
})

// radical is a whole number with its digits to a base mirrored at the point: between 0 and 1.
func radical(n, base int) (r float64) {
	for f := 1.0; n > 0; n /= base {
		f /= float64(base)
		r += float64(f * float64(n%base))
	}
	return r
}

// Next is the mark at which a further reading is worth most, and how likely the needle is on the dial there; 0 where no mark is left
// that is clear of all stations. What a reading is worth is how likely it is, times what it would tell: half the logarithm of how wide
// it may come out, in terms of the noise. Of nearly equal ones what tells the side counts too.
func (h *Search) Next(marks iter.Seq[geom.Bearing]) (at geom.Bearing, likely float64) {
	circles, weights, all := h.left()
	been := append([]geom.Bearing(nil), h.Bearings...)
	for _, x := range h.Off {
		been = append(been, x.Bearing)
	}
	best := 0.0
	for b := range marks {
		if Nearest(b, been) < float64(MarkStep)*0.99 {
			continue
		}
		row := rowAt(b)
		var on, over, sum, squares float64
		for i := range circles {
			switch m := row.of(circles[i]); {
			case m > h.To:
				over += weights[i]
			case m >= h.From:
				on += weights[i]
				sum, squares = sum+float64(weights[i]*m), squares+float64(float64(weights[i]*m)*m)
			}
		}
		if !(on > 0) {
			continue
		}
		p, variance := on/all, max(0, squares/on-float64(sum/on)*(sum/on))
		worth := float64(p*math.Log1p(variance/(searchNoise*searchNoise))/2) + float64(sideWorth*surprise(p, over/all))
		if worth > best {
			best, at, likely = worth, b.Normalized(), p
		}
	}
	return at, likely
}

// surprise is how open it is which of three things will be: the entropy of two chances and of what they leave.
func surprise(p, q float64) (s float64) {
	for _, x := range [3]float64{p, q, 1 - p - q} {
		if x > 1e-12 {
			s -= float64(x * math.Log(x))
		}
	}
	return s
}

// left are the circles that may be, each with its weight, and the sum of these.
func (h *Search) left() (circles *[searchPoints][3]float64, weights *[searchPoints]float64, all float64) {
	mean, root := h.read()
	circles, weights = new([searchPoints][3]float64), new([searchPoints]float64)
	for i, z := range spread() {
		c := mean
		for j := range 3 {
			for k := 0; k <= j; k++ {
				c[j] += float64(root[j][k] * z[k])
			}
		}
		circles[i], weights[i] = c, 1
		for _, x := range h.Off {
			short := h.To - rowAt(x.Bearing).of(c) // of the end beyond which it stood
			if !x.Pressed {
				short = rowAt(x.Bearing).of(c) - h.From
			}
			if short > 0 {
				weights[i] *= math.Exp(-short / searchSoft)
			}
		}
		all += weights[i]
	}
	return circles, weights, all
}

// read is what the readings alone leave: the mean of (c, p, q), and the lower triangle whose square is the covariance. (The linear
// Gaussian update of one observation after the other, as in indicator.Estimate.Seen.)
func (h *Search) read() (mean [3]float64, root [3][3]float64) {
	var cov fit.Sym3
	for i := range cov {
		cov[i][i] = h.Rough * h.Rough
	}
	for i, b := range h.Bearings {
		row := rowAt(b)
		var with [3]float64
		for j := range with {
			with[j] = row.of(cov[j])
		}
		k := row.of(with) + searchNoise*searchNoise
		off := (h.Readings[i] - row.of(mean)) / k
		for j := range with {
			mean[j] += float64(with[j] * off)
			for l := range with {
				cov[j][l] -= float64(with[j]*with[l]) / k
			}
		}
	}
	const least = 1e-12
	for i := range root {
		for j := 0; j <= i; j++ {
			s := cov[i][j]
			for k := range j {
				s -= float64(root[i][k] * root[j][k])
			}
			if i == j {
				root[i][i] = math.Sqrt(max(s, least))
			} else {
				root[i][j] = s / root[j][j]
			}
		}
	}
	return mean, root
}

// leastLikely is how likely the needle has to be on the dial at the best mark for it to be looked for there: below, to rough in by eye
// costs less than what is still to be found. (1000 drawn machines from coarse starts, trials and readings: at 0.1 2.28 and 13.4, at 0.2
// 2.29 and 13.3, at 0.4 2.40 and 12.9.)
const leastLikely = 0.2

// Hopeless reports whether the needle is not worth looking for any more by swinging on.
func (h *Search) Hopeless(marks iter.Seq[geom.Bearing]) bool {
	_, likely := h.Next(marks)
	return likely < leastLikely
}
