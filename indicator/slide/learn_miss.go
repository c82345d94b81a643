package slide

import (
	"math"
	"slices"
	"sync"
)

// missed is the distribution of q = h² and |h| after the trials, in units of the limit L: of q/L²
// in standard deviations of the prior (ζ), and of |h|/L.
type missed struct {
	mean, variance float64 // of ζ
	h, low, high   float64 // mean and 95 % interval of |h|/L
}

// The prior of q/L² that the fit works with: mean and standard deviation of (h/L)² where any
// h from −L to L has the same probability.
var (
	missMean = 1.0 / 3
	missSD   = 2 / (3 * math.Sqrt(5))
)

const (
	missCells = 400 // even, for Simpson's rule: 1e-6 of a standard deviation and better
	missDepth = 40  // what lies below e⁻⁴⁰ of the peak is left out
)

// missedAfter is missedFrom; where nothing is known yet, as of every slide that sets no radius, the answer
// is always the same and is kept.
func missedAfter(mean, variance float64) missed {
	if mean == 0 && variance == 1 {
		return missedBefore()
	}
	return missedFrom(mean, variance)
}

var missedBefore = sync.OnceValue(func() missed { return missedFrom(0, 1) })

// missedFrom turns what the fit says of ζ with its working prior N(0, 1), a normal distribution of
// the given mean and variance ≤ 1, into what follows from the true prior. Leaving the working
// prior out again leaves the likelihood,
//
//	exp(b·ζ − I·ζ²/2)        b = mean/variance,  I = 1/variance − 1
//
// and with h evenly spread over 0…L the density of h is just that, at ζ(h²). From radii of 20 to 80
// mm it is nearly flat (an h of 0.5 makes 6 µm at R 20, and gain and origin take most of that): a
// normal distribution of q, even one cut off at 0, would be far from it. The rest is one quadrature.
//
// The interval goes from 0 up as long as 0 is not excluded on its own at 95 % (its density is more
// than e^(−1.96²/2) of the peak's); else it leaves 2.5 % on either side.
func missedFrom(mean, variance float64) missed {
	b, info := mean/variance, max(0, (1-variance)/variance)
	lowest, highest := -missMean/missSD, (1-missMean)/missSD
	peak := highest
	if float64(info*highest) > b {
		peak = max(lowest, b/info)
	}
	slope := b - float64(info*peak)
	reach := func(slope float64) float64 { // where the exponent has fallen by missDepth
		return 2 * missDepth / (slope + math.Sqrt(float64(slope*slope)+2*missDepth*info))
	}
	root := func(zeta float64) float64 { return math.Sqrt(max(0, missMean+float64(missSD*zeta))) }
	from := root(max(lowest, peak-reach(max(0, slope))))
	to := root(min(highest, peak+reach(max(0, -slope))))
	top := root(peak)

	step := (to - from) / missCells
	var sum, sumH, sumZ, sumZZ float64
	density := make([]float64, missCells+1)
	for i := range density {
		h := from + float64(step*float64(i))
		d := float64((h-top)*(h+top)) / missSD // ζ less the peak's
		w := math.Exp(min(0, float64(slope*d)-float64(info*d*d)/2))
		density[i] = w
		w *= simpson(i)
		sum += w
		sumH += float64(w * h)
		sumZ += float64(w * d)
		sumZZ += float64(float64(w*d) * d)
	}
	mid := sumZ / sum
	out := missed{mean: peak + mid, variance: max(0, sumZZ/sum-float64(mid*mid)), h: sumH / sum}
	place := placer(density, from, step)
	if from == 0 && density[0] > math.Exp(-coverage*coverage/2) {
		out.high = place(0.95)
	} else {
		out.low, out.high = place(0.025), place(0.975)
	}
	return out
}

// simpson is the weight of node i of Simpson's rule, up to a factor.
func simpson(i int) float64 {
	switch {
	case i == 0 || i == missCells:
		return 1
	case i%2 == 1:
		return 4
	}
	return 2
}

// placer returns the quantiles of a density that is given at equal steps.
func placer(density []float64, from, step float64) func(p float64) float64 {
	below := make([]float64, len(density)) // trapezia
	for i := 1; i < len(density); i++ {
		below[i] = below[i-1] + (density[i-1]+density[i])/2
	}
	return func(p float64) float64 {
		want := p * below[len(below)-1]
		i, _ := slices.BinarySearch(below, want)
		if i = min(max(i, 1), len(below)-1); below[i] == below[i-1] {
			return from + step*float64(i)
		}
		return from + step*(float64(i-1)+(want-below[i-1])/(below[i]-below[i-1]))
	}
}
