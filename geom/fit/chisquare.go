package fit

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// ChiSquareAbove returns the probability that a chi-square variable with dof degrees of freedom (a real number > 0) exceeds x; NaN
// for other degrees of freedom, and for an x below 0.
//
// Relation used: Q(χ²|ν) = Γ(ν/2, χ²/2)/Γ(ν/2) (Abramowitz and Stegun 26.4.19, from memory). Held to printed tables by
// TestChiSquareTable.
func ChiSquareAbove(x, dof float64) float64 {
	if !(x >= 0) || !(dof > 0) || math.IsInf(dof, 1) {
		return math.NaN()
	}
	return mathext.GammaIncRegComp(dof/2, x/2)
}
