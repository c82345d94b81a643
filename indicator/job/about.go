package job

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// rawAbout are the keys of an arc that has nothing to sweep about its own centre.
type rawAbout struct {
	ReferenceAt  []float64 `toml:"reference_at"`
	Angle        *float64  `toml:"angle"`
	AngleError   *float64  `toml:"angle_error"`
	SlidePer100  *float64  `toml:"slide_error_per_100"`
	SquarePer100 *float64  `toml:"square_per_100"`
}

// mostPer100 bounds what slides may be stated to be out over 100 of their way.
const mostPer100 = 10

// Concentric is how far apart two centres may be drawn that are meant to be one, millimetres: what stands about one is swept for
// the other.
const Concentric = 0.05

// about reads where the reference stands, and how the drawing lies to the slides.
func (f *file) about(raw *rawJob, j *setup.Job) {
	r := &raw.Setup.rawAbout
	if r.ReferenceAt == nil {
		f.aboutNothing(raw)
		return
	}
	a := &setup.About{Reference: f.place("setup.reference_at", r.ReferenceAt, j)}
	a.Angle = geom.FromDegrees(f.number("setup.angle", r.Angle, 0, func(x float64) bool { return math.Abs(x) <= 180 },
		"from -180 to 180 degrees"))
	a.AngleLimit = float64(geom.FromDegrees(f.number("setup.angle_error", r.AngleError, 0,
		func(x float64) bool { return x >= 0 && x <= 45 }, "from 0 to 45 degrees")))
	per100 := func(key string, v *float64) float64 {
		return f.number(key, v, 0, func(x float64) bool { return x >= 0 && x <= mostPer100 },
			fmt.Sprintf("from 0 to %d of a length over 100 of it", mostPer100))
	}
	a.SlidePer100 = per100("setup.slide_error_per_100", r.SlidePer100)
	a.SquarePer100 = per100("setup.square_per_100", r.SquarePer100)
	if f.goesNowhere(raw, j) {
		return
	}
	j.About = a
	switch {
	case raw.Target.CentreAt == nil && f.fine("target.centre_at"):
		f.fail("setup.reference_at", "name the arc with --drawing and --arc, or give target.centre_at = [x, y], of the drawing too",
			"given, and the arc's centre is not, need both")
		return
	case raw.Target.CentreAt != nil:
		a.Centre = f.place("target.centre_at", raw.Target.CentreAt, j)
	}
	for _, s := range []struct {
		name  string
		given bool
	}{{indicator.OfAngle, r.AngleError != nil}, {indicator.OfSlides, r.SlidePer100 != nil},
		{indicator.OfSquare, r.SquarePer100 != nil}} {
		if s.given {
			j.Stated = append(j.Stated, s.name)
		}
	}
	if a.Centre.Sub(a.Reference).Norm() <= Concentric {
		a.Reference = a.Centre // it is swept there as ever, and the drawing lies as it is stated
	}
}

// aboutNothing refuses the keys that mean nothing without a place of the reference.
func (f *file) aboutNothing(raw *rawJob) {
	r := &raw.Setup.rawAbout
	for _, k := range []struct {
		key   string
		given bool
	}{{"setup.angle", r.Angle != nil}, {"setup.angle_error", r.AngleError != nil},
		{"setup.slide_error_per_100", r.SlidePer100 != nil}, {"setup.square_per_100", r.SquarePer100 != nil},
		{"target.centre_at", raw.Target.CentreAt != nil}} {
		if k.given && f.fine("setup.reference_at") {
			f.fail(k.key, "give reference_at = [x, y]: where on the drawing the reference stands that is swept",
				"given without setup.reference_at, need both")
		}
	}
}

// goesNowhere refuses set-ups whose slides carry nothing from the reference to the arc's centre.
func (f *file) goesNowhere(raw *rawJob, j *setup.Job) bool {
	const key = "setup.reference_at"
	switch {
	case j.Setup.Kind == indicator.Points:
		f.fail(key, "touch the bore by points, then go to the coordinates that the plan gives the arc from there",
			"given with kind = \"points\", need carried or turned")
	case j.Setup.Taps:
		f.fail(key, "tap the arc's own centre over the axis, by a pin set there", "given for work that is tapped into place, and no slide "+
			"carries it on to the arc's centre")
	case raw.Target.SetOffBy != nil:
		f.fail(key, "with set_off_by the arc's centre is the table's axis, which is swept itself",
			"given with target.set_off_by, need one of the two")
	default:
		return false
	}
	return true
}

// place reads a place on the drawing, in the job's unit.
func (f *file) place(key string, at []float64, j *setup.Job) geom.Point {
	if len(at) != 2 || slices.ContainsFunc(at, func(x float64) bool { return !(math.Abs(j.Unit.MM(x)) <= largest) }) {
		f.fail(key, "x and y of the drawing, in the job's unit, in brackets: [12.5, -40]", "%s, need two numbers not beyond %v",
			bracketed(at), j.Unit.From(largest))
		return geom.Point{}
	}
	return geom.Point{X: length(j.Unit, at[0]), Y: length(j.Unit, at[1])}
}

// within says which slides' whole travel does not reach from the reference to the arc's centre.
func within(j *setup.Job, m *setup.Machine, machineFile string) (beyond Errors) {
	c, ok := setup.CourseOf(j, m)
	if !ok {
		return nil
	}
	for i, name := range c.Names {
		sl, _ := m.Slide(name)
		if all := sl.High - sl.Low; all > 0 && math.Abs(c.Travel[i]) > all {
			beyond = append(beyond, &Error{File: machineFile, Key: "slide." + name + ".travel",
				Why: fmt.Sprintf("%s %v in all, and the arc's centre lies %s %v along it from the reference, need it within",
					show(j, all), j.Unit, show(j, math.Abs(c.Travel[i])), j.Unit),
				Hint: "name a reference that stands nearer to the arc's centre, or set a pin there"})
		}
	}
	return beyond
}
