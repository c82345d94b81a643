package plot

import (
	"math"
	"strconv"
)

// roundFactor returns the largest factor of the series 1, 2, 5 × 10ⁿ that is not above limit,
// by which a picture is exaggerated; 0 for a limit that is no positive finite number.
func roundFactor(limit float64) float64 {
	if !(limit > 0) || !finite(limit) {
		return 0
	}
	n := math.Floor(math.Log10(limit))
	best := 0.0
	for _, exp := range [3]float64{n - 1, n, n + 1} { // Log10 may be out by a last bit
		for _, m := range [3]float64{1, 2, 5} {
			if f := m * math.Pow(10, exp); f <= limit*(1+1e-12) && f > best {
				best = f
			}
		}
	}
	return best
}

// formatFactor writes a factor as a person would: 50, 0.5, 200000.
func formatFactor(f float64) string {
	if f >= 1e7 || f < 1e-4 {
		return strconv.FormatFloat(f, 'g', 3, 64)
	}
	return strconv.FormatFloat(f, 'f', -1, 64)
}
