package gauge

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// mostDivisions is the widest band, in divisions of the dial, in which a needle may be said to stand still (common practice, no
// source: one that wanders over ten of them is seen to move).
const mostDivisions = 10

// WithinError: the band in which the needle is said to stand still is so wide on its dial that it may move in it; millimetres.
type WithinError struct {
	Within, Division, Range float64
	Unit                    geom.Unit
}

func (e *WithinError) Error() string {
	seen := fmt.Sprintf("gauge.within is %s, ", lengthWords(e.Within, e.Unit))
	wide := "more than the dial's range"
	if e.Division > 0 {
		wide = fmt.Sprintf("%.3g divisions of the dial", e.Within/e.Division)
	}
	return seen + wide + ": a needle that moves would be said to stand still; need at most " +
		lengthWords(mostWithin(e.Division, e.Range), e.Unit)
}

// Hint says what to do.
func (e *WithinError) Hint() string {
	usual := "usual is " + lengthWords(Usual().Within, e.Unit)
	if e.Division > 0 {
		usual = "one division is usual: " + lengthWords(e.Division, e.Unit)
	}
	return usual + ", as within under [gauge] in the machine file"
}

// mostWithin is the widest band on a dial with a division and a range, 0 where one is not known; +Inf where neither is.
func mostWithin(division, whole float64) float64 {
	most := math.Inf(1)
	if whole > 0 {
		most = whole
	}
	if division > 0 {
		most = min(most, mostDivisions*division)
	}
	return most
}

// CheckWithin compares the band with the job's dial. The error is a *[WithinError], in a unit; usual says that the band is that of
// whoever states none.
func (s *Settings) CheckWithin(u geom.Unit) (usual bool, err error) {
	if s.Within <= mostWithin(s.Division, s.Most)+rounding {
		return false, nil
	}
	return s.Within == Usual().Within, &WithinError{s.Within, s.Division, s.Most, u}
}
