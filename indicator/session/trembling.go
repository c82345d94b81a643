package session

import (
	"math"

	"example.org/trammel/geom/fit"
)

// Trembling is what the means of an indicator with a cable tell of how much its needle trembles while it stands still, pooled over the
// setting's readings: s² = Σ(nᵢ−1)sᵢ² / Σ(nᵢ−1) (pooled variance, JCGM 100:2008 H.3, from memory). Samples come one behind the other
// at one standing: that says nothing of how well a place is found again, of the swing, the lock, the hand. So it is no repeatability.
// It is the least that a reading's doubt can be, and it is not divided by √n: neighbours are alike, and nobody knows how much.
type Trembling struct {
	Readings     int
	Squares, Dof float64 // Σ(nᵢ−1)sᵢ², mm², and Σ(nᵢ−1)
	// Told says that it is more than the repeatability that is stated.
	Told bool
}

// Spread is the pooled standard deviation of one sample, millimetres; 0 where there is none.
func (t Trembling) Spread() float64 {
	if !(t.Dof > 0) {
		return 0
	}
	return math.Sqrt(t.Squares / t.Dof)
}

// When it is more than what is stated: so many readings have to say so, and by chance alone they do so this seldom.
const (
	fewestTrembling = 3
	tremblingAlarm  = 0.0005
)

// exceeds reports whether the needle trembles by more than a standard deviation that is stated: Σ(nᵢ−1)sᵢ²/σ² against the chi-square
// distribution with Σ(nᵢ−1) degrees of freedom. Samples that are alike make it say so less often, for they lie closer together.
//
// Source: chi-square test for a standard deviation, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.8 (from memory). The rate
// holds over all looks of a setting, by TestTremblingSeldomAccuses.
func (t Trembling) exceeds(stated float64) bool {
	return stated > 0 && t.Readings >= fewestTrembling && fit.ChiSquareAbove(t.Squares/(stated*stated), t.Dof) < tremblingAlarm
}

// trembles takes in how a reading's samples spread.
func (s *State) trembles(g Gauged) {
	if g.Samples < 2 || s.Set == nil {
		return
	}
	t, dof := &s.Trembling, float64(g.Samples-1)
	t.Readings++
	t.Dof += dof
	t.Squares += float64(dof * g.Spread * g.Spread)
	t.Told = t.Told || t.exceeds(s.Set.Job.Dial.Repeatability)
	set := *s.Set
	set.Job.Dial.Trembling = t.Spread()
	s.Set = &set
}
