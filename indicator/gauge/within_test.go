package gauge

import (
	"errors"
	"testing"

	"example.org/trammel/geom"
)

// A band wider than ten divisions, or than the dial's range, is none in which a needle stands still; where neither is known, any is
// one.
func TestCheckWithin(t *testing.T) {
	for _, c := range []struct {
		within, division, most float64
		u                      geom.Unit
		want                   string
		usual                  bool
	}{
		{0.1, 0.01, 0.8, geom.Millimetre, "", false},
		{0.1, 0, 0, geom.Millimetre, "", false},
		{0.8, 0, 0.8, geom.Millimetre, "", false},
		{0.11, 0.01, 0.8, geom.Millimetre, "gauge.within is 0.11 mm, 11 divisions of the dial: a needle that moves would be said to stand " +
			"still; need at most 0.1 mm; one division is usual: 0.01 mm, as within under [gauge] in the machine file", false},
		{1, 0, 0.8, geom.Millimetre, "gauge.within is 1 mm, more than the dial's range: a needle that moves would be said to stand still; " +
			"need at most 0.8 mm; usual is 0.01 mm, as within under [gauge] in the machine file", false},
		{0.01, 0.0005, 0.2, geom.Millimetre, "gauge.within is 0.01 mm, 20 divisions of the dial: a needle that moves would be said to stand " +
			"still; need at most 0.005 mm; one division is usual: 0.0005 mm, as within under [gauge] in the machine file", true},
		{0.254, 0.0127, 1, geom.Inch, "gauge.within is 0.01 in, 20 divisions of the dial: a needle that moves would be said to stand " +
			"still; need at most 0.005 in; one division is usual: 0.0005 in, as within under [gauge] in the machine file", false},
	} {
		s := Settings{Within: c.within, Division: c.division, Most: c.most}
		usual, err := s.CheckWithin(c.u)
		got := ""
		if e := (*WithinError)(nil); errors.As(err, &e) {
			got = e.Error() + "; " + e.Hint()
		}
		if got != c.want || usual != c.usual {
			t.Errorf("%v of divisions of %v and a range of %v: %q, usual %v; want %q, %v", c.within, c.division, c.most, got, usual, c.want, c.usual)
		}
	}
}
