package job_test

import (
	"errors"
	"strings"
	"testing"

	"example.org/trammel/indicator/job"
)

// The two files that the documentation shows, word for word.
const (
	shownJob = `unit = "mm"
[setup]
kind = "carried"            # carried | turned | points
touch = "bore"              # bore | boss
reference_radius = 30.0
reach = -12.0
indicator_bearing = 0       # turned only
tip_diameter = 0.0
[target]
swing_radius = 42.0         # leave out to bring the centre in only
tolerance = 0.02            # plus or minus, on the swing radius
centre_tolerance = 0.02     # on the distance between axis and centre
[sweep]
stations = 6
from = 0                    # a part of a circle is allowed
to = 360
[dial]
graduation = 0.01
revolution = 1.0            # travel of one turn of the needle
range = 1.6                 # total travel (from = …, to = … where the zero is not in the middle)
reads_to = 0.2              # how finely it is read, in divisions
angle_error = 0.0           # standard uncertainty of a station's angle, degrees
lever_angle = 0
repeatability = 0.003
`
	shownMachine = `name = "bench mill with offset head"
unit = "mm"
[slide.offset]
travel_per_turn = 2.0
divisions = 100
clockwise = "increase"      # what a clockwise turn does to the slide's coordinate
take_up = "increase"        # the way that the last movement always goes
backlash = 0.15
readout = false             # a digital readout on this slide: winds also say the coordinate to stop at
`
)

// edit returns text with old, which must stand in it exactly once, replaced.
func edit(t testing.TB, text, old, new string) string {
	t.Helper()
	if n := strings.Count(text, old); n != 1 {
		t.Fatalf("%q stands %d times in the file, need once", old, n)
	}
	return strings.Replace(text, old, new, 1)
}

// check compares a reader's error with the message and the hint it should have.
func check(t testing.TB, what string, err error, want, hint string) {
	t.Helper()
	var e *job.Error
	switch {
	case err == nil:
		t.Errorf("%s: accepted, want %q", what, want)
	case !errors.As(err, &e):
		t.Errorf("%s: %T, want a *job.Error", what, err)
	case e.Error() != want:
		t.Errorf("%s:\n got %s\nwant %s", what, e.Error(), want)
	case e.Hint != hint:
		t.Errorf("%s:\n got hint %q\nwant hint %q", what, e.Hint, hint)
	}
}

// bad is one file that is wrong: what stands in place of old, and what is said of it.
type bad struct{ old, new, want, hint string }
