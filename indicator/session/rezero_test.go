package session

import (
	"math"
	"testing"

	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/setup"
)

// A dial that showed 0.1 and shows −0.15 reads 0.25 less everywhere: the value proposed for a doubted reading, and
// where a parked wind begins, turns back and stops. What the question was is not changed under whoever still holds it.
func TestRezeroMovesWhatIsAsked(t *testing.T) {
	would, past := 0.4, 0.55
	doubt, park := &Doubted{Station: 2, WouldBe: &would}, &advice.Park{Now: 0.1, Past: &past, Goal: 0.3}
	s := State{Set: &Opened{Job: setup.Job{}}}
	s.Doubt, s.Told = doubt, &Told{Park: park}
	s.rezero(-0.25)
	if got := *s.Doubt.WouldBe; math.Abs(got-0.15) > 1e-12 || s.Doubt.Station != 2 {
		t.Errorf("station %d would be %v, want station 2 and 0.15", s.Doubt.Station, got)
	}
	k := s.Told.Park
	if math.Abs(k.Now+0.15) > 1e-12 || math.Abs(*k.Past-0.3) > 1e-12 || math.Abs(k.Goal-0.05) > 1e-12 {
		t.Errorf("from %v past %v to %v, want −0.15, 0.3 and 0.05", k.Now, *k.Past, k.Goal)
	}
	if would != 0.4 || past != 0.55 || park.Goal != 0.3 {
		t.Errorf("the question before it changed: %v, %v, %v", would, past, park.Goal)
	}
}
