package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// A repeatability found from n readings of one place has n - 1 degrees of freedom (JCGM 100:2008, 4.2.2 and table E.1 with G.3.3, from
// memory), which the residuals' n - 3 are added to; one that nobody says that of counts 8.
func TestRepeatsAreDegreesOfFreedom(t *testing.T) {
	bearings := []geom.Bearing{0, 1, 2, 3, 4, 5}
	readings := []float64{0.101, 0.1, 0.099, 0.1, 0.101, 0.1}
	s := indicator.Setup{ReferenceRadius: 30, Reach: -12, ReachKnown: true}
	for repeats, prior := range map[int]float64{0: 8, 2: 1, 5: 4, 10: 9} {
		d := indicator.Dial{Graduation: 0.01, ReadsTo: 0.2, Repeatability: 0.003, Repeats: repeats}
		f, err := indicator.Fit(d, s, bearings, readings)
		if err != nil {
			t.Fatal(err)
		}
		if want := prior + 6 - 3; math.Abs(f.Dof-want) > 1e-9 {
			t.Errorf("found from %d readings: %v degrees of freedom, want %v", repeats, f.Dof, want)
		}
	}
}
