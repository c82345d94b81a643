package record_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/record"
)

// What changes from one arc to the next is told with its sign: the offset slide goes out for a larger swing radius and in for a smaller
// one, by as much as they differ, the slides as far as their coordinates grow, and what is not known yet is told without a figure.
func TestWhatChangesIsToldWithItsSign(t *testing.T) {
	unknown := record.Number(math.NaN())
	for _, c := range []struct {
		next record.WhereNext
		want string
	}{
		{record.WhereNext{Swing: &record.WhereChange{From: 37, To: 38.5}},
			"swing radius 37.000 to 38.500: offset slide +1.500; the centre stays"},
		{record.WhereNext{Swing: &record.WhereChange{From: 38.5, To: 37}},
			"swing radius 38.500 to 37.000: offset slide -1.500; the centre stays"},
		{record.WhereNext{Swing: &record.WhereChange{From: unknown, To: 37}}, "swing radius 37.000 by the offset slide; the centre stays"},
		{record.WhereNext{Slides: []record.WhereSlide{{Slide: "x", Travel: 12.5}, {Slide: "y", Travel: -3}}},
			"the swing radius stays; centre: x slide +12.500, y slide -3.000"},
		{record.WhereNext{Slides: []record.WhereSlide{{Slide: "x", Travel: unknown}, {Slide: "y", Travel: unknown}}},
			"the swing radius stays; centre by x and y"},
		{record.WhereNext{Cutter: &record.WhereChange{From: 8, To: 6}}, "cutter 6.000 in; the swing radius stays; the centre stays"},
		{record.WhereNext{Hole: &record.WhereHole{N: 3, Radius: 12.01, Measured: true}},
			"the centre stays; where a hole is swept, that of arc 3 is there now, radius 12.010 as measured"},
		{record.WhereNext{Hole: &record.WhereHole{N: 3, Radius: 12}},
			"the centre stays; where a hole is swept, that of arc 3 is there now, radius 12.000 as drawn"},
	} {
		c.next.N, c.next.What, c.next.By = 4, "arc", "setting"
		x := record.Where{Unit: geom.Millimetre, Next: &c.next}
		if got := x.NextWords(); !strings.HasPrefix(got, "now arc 4: ") || !strings.HasSuffix(got, c.want) {
			t.Errorf("%q, want it to end in %q", got, c.want)
		}
	}
}

// The figure of a line that an indicator has sent is in the unit that its lines count in, in the object as in words: by hand 2.54 mm is
// a tenth of an inch.
func TestHeardIsInItsUnit(t *testing.T) {
	for u, want := range map[geom.Unit]record.Number{geom.Millimetre: 2.54, geom.Inch: 0.1} {
		x, err := gauge.NewTrying(gauge.Usual(), u)
		if err != nil {
			t.Fatal(err)
		}
		l := record.Heard(x, &gauge.Heard{Raw: "+2.54 mm", MM: 2.54}, false, 0)
		if l.Value == nil || math.Abs(float64(*l.Value-want)) > 1e-9 || l.Unit != u || !strings.HasSuffix(l.Text(), x.Length(2.54)) {
			t.Errorf("2.54 mm in %v: %+v, %q; want %v", u, l.Value, l.Text(), want)
		}
	}
}
