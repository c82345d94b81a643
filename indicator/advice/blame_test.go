package advice_test

import (
	"slices"
	"testing"

	"example.org/trammel/indicator/advice"
)

// What each wrong statement does to the signs: a wrong touch turns every slide's, a ring that is off by half a turn
// both cross slides' and not the offset slide's, a wrong handwheel its own only, and a dial that counts down the tip's
// too.
func TestBlame(t *testing.T) {
	right := func(name string) advice.SignCheck { return advice.SignCheck{Slide: name, Agrees: true} }
	wrong := func(name string) advice.SignCheck { return advice.SignCheck{Slide: name} }
	tip := right(advice.Tip)
	for _, c := range []struct {
		name   string
		checks []advice.SignCheck
		want   advice.Fault
		slides []string
	}{
		{"nothing checked", nil, advice.NoFault, nil},
		{"all right", []advice.SignCheck{tip, right("x"), right("offset")}, advice.NoFault, nil},
		{"the tip", []advice.SignCheck{wrong(advice.Tip), wrong("x"), wrong("y")}, advice.DialFault, nil},
		{"all", []advice.SignCheck{tip, wrong("x"), wrong("y"), wrong("offset")}, advice.TouchFault, nil},
		{"two of two", []advice.SignCheck{tip, wrong("x"), wrong("y")}, advice.TouchFault, nil},
		{"one of one", []advice.SignCheck{tip, wrong("x")}, advice.EitherFault, []string{"x"}},
		{"one of two", []advice.SignCheck{tip, wrong("x"), right("y")}, advice.ScrewFault, []string{"x"}},
		{"the offset slide", []advice.SignCheck{wrong("offset"), right("x"), right("y")}, advice.ScrewFault,
			[]string{"offset"}},
		{"both cross slides", []advice.SignCheck{wrong("y"), right("offset"), wrong("x")}, advice.BearingsFault,
			[]string{"x", "y"}},
		{"a cross slide and the offset slide", []advice.SignCheck{wrong("offset"), right("y"), wrong("x")}, advice.ScrewFault,
			[]string{"offset", "x"}},
	} {
		if f, slides := advice.Blame(c.checks); f != c.want || !slices.Equal(slides, c.slides) {
			t.Errorf("%s: %q of %v, want %q of %v", c.name, f, slides, c.want, c.slides)
		}
	}
}
