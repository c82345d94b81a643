package lines_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// Whose centre is roughed in is said where it is no matter of course, in the step and among what is done before the first reading: of a
// reference that stands elsewhere, with the way by hand, (30, -40) a quarter turn round; of an arc's about which nothing is drawn; of
// neither where a hole is drawn, the work is set off a table's axis, or the job stands alone.
func TestWhatIsSweptIsNamed(t *testing.T) {
	const away = "swept at x 10.000, y 20.000 mm of the drawing, whose X lies 90° anticlockwise from the way of X; " +
		"from there to the arc's centre X +40.000, Y +30.000 mm"
	lone := func(o *session.Opened) {
		o.Job.About, o.Arc.Lone, o.Arc.Centre = nil, true, geom.Point{X: 21.983, Y: -39.265}
	}
	for _, c := range []struct {
		name        string
		edit        func(o *session.Opened)
		swept, step string
	}{
		{"elsewhere", func(*session.Opened) {}, away,
			"; the centre is that of the reference, x 10.000, y 20.000 mm of the drawing, and not the arc's"},
		{"nothing drawn", lone,
			"nothing round is drawn about the centre of arc 9, x 21.983, y -39.265 mm of the drawing: what is swept or touched has to stand there, " +
				"or setup.reference_at to say where it does",
			"; the centre is the arc's, x 21.983, y -39.265 mm of the drawing, where nothing round is drawn"},
		{"a hole", func(o *session.Opened) { lone(o); o.Arc.Lone = false }, "", ""},
		{"off a table's axis", func(o *session.Opened) { lone(o); o.Job.Target.SetOff = &setup.SetOff{Slide: "x"} }, "", ""},
		{"stated to be there", func(o *session.Opened) {
			o.Job.About.Reference, o.Arc.Lone = o.Job.About.Centre, true
		}, "", ""},
		{"alone", func(o *session.Opened) { lone(o); o.Arc = nil }, "", ""},
	} {
		s := lying(false, 90, 0)
		c.edit(s.Set)
		if got := lines.SweptWords(s.Set, geom.Millimetre); got != c.swept {
			t.Errorf("%s: %q, want %q", c.name, got, c.swept)
		}
		all := strings.Join(lines.SetupSteps(s), "\n")
		if c.swept != "" && !strings.Contains(all, "\n"+c.swept+"\n") {
			t.Errorf("%s: the steps before the first reading are\n%s", c.name, all)
		}
		rough := lines.ChoreWords(s, session.RoughIn, geom.Millimetre)[0]
		if has := strings.Contains(rough, "; the centre is "); has != (c.step != "") || !strings.HasSuffix(rough, c.step) {
			t.Errorf("%s: rough in is %q, want %q behind it", c.name, rough, c.step)
		}
	}
	if got := lines.SweptWords(lying(false, -1.5, 0).Set, geom.Millimetre); !strings.Contains(got, "lies 1.5° clockwise from") {
		t.Errorf("%q, want it clockwise", got)
	}
}
