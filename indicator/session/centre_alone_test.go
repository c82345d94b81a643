package session

import (
	"testing"

	"example.org/trammel/indicator/setup"
)

// A setting that brings a centre in alone ends where it is accepted: no radius is set, so nothing is cut. Settings of old go on as
// they did, and so does one that says how it is cut.
func TestCentreAloneIsNotCut(t *testing.T) {
	for _, c := range []struct {
		rules int
		cut   *setup.Cut
		cuts  bool
	}{{centreRules, nil, false}, {statedRules, nil, true}, {0, nil, true}, {centreRules, &setup.Cut{Cutter: 8}, true}} {
		s := State{Set: &Opened{Rules: c.rules, Steps: true, Order: safeOrder}}
		s.Set.Job.Setup.ReferenceRadius, s.Set.Job.Target.CentreTolerance, s.Set.Job.Cut = 30, 0.02, c.cut
		if all := s.behind(); (len(all) > 0) != c.cuts {
			t.Errorf("by rules %d, cut %v: %v behind the accepted setting, want some %v", c.rules, c.cut, all, c.cuts)
		}
	}
}
