package session

import (
	"math"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// What is measured before the last wind is wound by, and what is cut too deep nothing puts back: a figure that is farther from
// what setting and cutter leave open is asked for once more, and one that is known worse than these is not wound by.

// mostStray is how far a rough cut may be off what was set before its measurement is doubted, where that is known better, millimetres:
// a cutter that runs out or springs, half of a slip of 0.5 mm on a thimble's diameter left aside (common practice, no source).
const mostStray = 0.1

// leastAgreed is within which two measurements of one cut agree, where they are known better, millimetres (common practice, no
// source).
const leastAgreed = 0.03

// measures are the measurements of the rough cut so far.
func measures(all []Worked) (out []Worked) {
	for _, w := range all {
		if w.Step == Measure {
			out = append(out, w)
		}
	}
	return out
}

// roughCut is the measurement of the rough cut that counts: the newest; nil where none was taken.
func (s *State) roughCut() *Worked {
	for i := len(s.Worked) - 1; i >= 0; i-- {
		if w := &s.Worked[i]; w.Step == Measure && w.Value != nil {
			return w
		}
	}
	return nil
}

// remeasures is how many times more than once the rough cut is to be measured.
func (s *State) remeasures() int {
	all := measures(s.Worked)
	switch {
	case s.Set.Rules < statedRules || len(all) == 0:
		return 0
	case s.doubtsCut(all):
		return len(all)
	}
	return len(all) - 1
}

// DoubtsCut reports whether the newest measurement of the rough cut is to be taken once more.
func (s *State) DoubtsCut() bool {
	all := measures(s.Worked)
	if s.ByTrial() {
		last := s.lastCut()
		return last.strays(s)
	}
	return s.Set.Rules >= statedRules && len(all) > 0 && s.doubtsCut(all)
}

// doubtsCut reports whether the last of some measurements is farther off than setting and cutter leave open, and no other agrees.
func (s *State) doubtsCut(all []Worked) bool {
	if all[len(all)-1].Value == nil || s.Set.Job.Cut == nil {
		return false
	}
	meant := s.Meant(Measure)
	return strayed(&all[len(all)-1], meant) && s.strays(all, meant, s.setU())
}

// strayed reports whether a measurement is farther off what was meant than is let pass whatever is open.
func strayed(w *Worked, meant float64) bool { return !(math.Abs(*w.Value-meant) <= mostStray) }

// strays reports whether the last of some measurements of one cut is farther off what was meant than is open, millimetres, and no
// other agrees with it.
func (s *State) strays(all []Worked, meant, open float64) bool {
	last := &all[len(all)-1]
	u := s.cutU(last)
	if math.Abs(*last.Value-meant) <= max(mostStray, open+u) {
		return false
	}
	for i := range all[:len(all)-1] {
		if w := &all[i]; w.Value != nil && math.Abs(*w.Value-*last.Value) <= max(leastAgreed, u+s.cutU(w)) {
			return false
		}
	}
	return true
}

// cutU is the expanded uncertainty of an arc's measurement, millimetres.
func (s *State) cutU(w *Worked) float64 {
	u, _ := measuredOr(s.measuredDoubt(w))
	return u * fit.Coverage(math.Inf(1))
}

// setU is the expanded uncertainty, millimetres, of the arc that the setting cuts: of the swing radius, what nobody has stated of
// reach and cutter at its usual limit.
func (s *State) setU() float64 {
	u := 0.0
	if v, ok := s.swept(); ok && v.Sure() {
		u = v.U
	}
	cutter, _ := cutterLimit(&s.Set.Job)
	reach, usual := reachLimit(&s.Set.Job)
	if !usual {
		reach = 0 // it is in the swing radius's own
	}
	k := fit.Coverage(math.Inf(1))
	return math.Hypot(u, math.Hypot(k*indicator.FromLimit(cutter/2), k*indicator.FromLimit(reach)))
}

// muchWorse is how many times worse than by the setting a cut has to be measured for it not to be wound by.
const muchWorse = 3

// BySetting reports whether the last wind goes by what was set and left on, for the rough cut is measured much worse than that is
// known.
func (s *State) BySetting() bool {
	w := s.roughCut()
	return s.Set.Rules >= statedRules && !s.ByTrial() && w != nil && s.cutU(w) > muchWorse*s.setU()
}
