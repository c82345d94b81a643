package job_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

// aboutJob has its arc 40, -20 and its reference 10, 20 on the drawing.
var aboutJob = strings.NewReplacer("reach = -12.0\n", "reach = -12.0\nreference_at = [10, 20]\nangle = 1.5\nangle_error = 0.01\n",
	"[target]\n", "[target]\ncentre_at = [40, -20]\n").Replace(cutJob)

// Places are the drawing's in the job's unit, angles degrees; a limit that is given, be it 0, is stated.
func TestAbout(t *testing.T) {
	for unit, mm := range map[string]float64{"mm": 1, "in": 25.4} {
		text := strings.Replace(aboutJob, `unit = "mm"`, `unit = "`+unit+`"`, 1)
		more := strings.Replace(text, "angle = 1.5", "angle = 1.5\nslide_error_per_100 = 0\nsquare_per_100 = 0.02", 1)
		j, err := job.ParseJob("j", []byte(more))
		if err != nil {
			t.Fatal(err)
		}
		a := j.About
		if a == nil || a.Reference != (geom.Point{X: 10 * mm, Y: 20 * mm}) || a.Centre != (geom.Point{X: 40 * mm, Y: -20 * mm}) {
			t.Fatalf("%s: %+v, want 10, 20 and 40, -20", unit, a)
		}
		if math.Abs(float64(a.Angle)-1.5*math.Pi/180) > 1e-15 || math.Abs(a.AngleLimit-0.01*math.Pi/180) > 1e-15 ||
			a.SlidePer100 != 0 || a.SquarePer100 != 0.02 {
			t.Errorf("%s: %+v, want 1.5 degrees within 0.01, and 0.02 over 100 out of square", unit, a)
		}
		for name, want := range map[string]bool{indicator.OfAngle: true, indicator.OfSlides: true, indicator.OfSquare: true} {
			if j.Stated.Has(name) != want {
				t.Errorf("%s: %s stated %v, want %v", unit, name, !want, want)
			}
		}
		if j, err = job.ParseJob("j", []byte(text)); err != nil || j.Stated.Has(indicator.OfSlides) || j.Stated.Has(indicator.OfSquare) {
			t.Errorf("%s: %v (%v), want slides and squareness not stated", unit, j.Stated, err)
		}
	}
	j, err := job.ParseJob("j", []byte(strings.Replace(aboutJob, "[40, -20]", "[10, 20.01]", 1)))
	if err != nil || j.About == nil || setup.Of(&j).Does().Away || j.About.Angle != geom.FromDegrees(1.5) {
		t.Errorf("%+v (%v) where the reference stands about the arc's own centre, want it swept there, and the drawing turned", j.About, err)
	}
}

// An arc of a drawing brings its own centre, exactly, whatever the file says of one, and needs none there.
func TestAboutAnArc(t *testing.T) {
	at := geom.Point{X: 6.917000000000001, Y: -39.26453} // of which the inches make another in the last bit
	if inch := at.X / 25.4; inch*25.4 == at.X {
		t.Fatal("this figure goes through inches as it is, and shows nothing")
	}
	for _, text := range []string{aboutJob, strings.Replace(aboutJob, "centre_at = [40, -20]\n", "", 1)} {
		text = strings.Replace(text, `unit = "mm"`, `unit = "in"`, 1)
		text = strings.NewReplacer("reference_radius = 30.0", "reference_radius = 1", "reach = -12.0", "reach = -0.6",
			"swing_radius = 42.0", "swing_radius = 1.6", "range = 1.6", "range = 0.2").Replace(text)
		d, err := job.ReadJob("j", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		j, err := d.For(&job.Figures{Swing: 1.6 * 25.4, Centre: at})
		if err != nil || j.About == nil || j.About.Centre != at {
			t.Errorf("%+v (%v), want the arc's own centre", j.About, err)
		}
	}
	d, err := job.ReadJob("j", []byte(cutJob))
	if err != nil {
		t.Fatal(err)
	}
	if j, err := d.For(&job.Figures{Swing: 42, Centre: at}); err != nil || j.About != nil {
		t.Errorf("%+v (%v) without a place of the reference, want none", j.About, err)
	}
}

func TestBadAbout(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"centre_at = [40, -20]\n", "", "j:7: setup.reference_at: given, and the arc's centre is not, need both"},
		{"reference_at = [10, 20]\nangle = 1.5\nangle_error = 0.01\n", "",
			"j:8: target.centre_at: given without setup.reference_at, need both"},
		{"reference_at = [10, 20]\nangle = 1.5\nangle_error = 0.01\n", "angle = 1\n",
			"j:7: setup.angle: given without setup.reference_at, need both"},
		{"[10, 20]", "[10]", "j:7: setup.reference_at: [10], need two numbers not beyond "},
		{"[10, 20]", "[10, nan]", "j:7: setup.reference_at: [10, NaN], need two numbers not beyond "},
		{"[10, 20]", "[10, 1e300]", "j:7: setup.reference_at: [10, 1e+300], need two numbers not beyond "},
		{"[10, 20]", "12", "j:7: setup.reference_at: "},
		{"[40, -20]", "[]", "target.centre_at: [], need two numbers not beyond "},
		{"angle = 1.5", "angle = 180.5", "j:8: setup.angle: 180.5, must be from -180 to 180 degrees"},
		{"angle_error = 0.01", "angle_error = -0.01", "j:9: setup.angle_error: -0.01, must be from 0 to 45 degrees"},
		{"angle = 1.5", "square_per_100 = -1", "setup.square_per_100: -1, must be from 0 to 10 of a length over 100 of it"},
		{"angle = 1.5", "slide_error_per_100 = 11", "setup.slide_error_per_100: 11, must be from 0 to 10 of a length over 100 of it"},
		{"reach = -12.0\n", "", "setup.reach"},
		{`kind = "carried"`, "kind = \"turned\"\ntaps = true", "setup.reference_at: given for work that is tapped into place"},
	} {
		if !strings.Contains(aboutJob, c.old) {
			t.Fatalf("%q is not in the job", c.old)
		}
		_, err := job.ParseJob("j", []byte(strings.Replace(aboutJob, c.old, c.new, 1)))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q for %q: error %v, want %q", c.new, c.old, err, c.want)
		}
	}
	off := strings.NewReplacer("reach = -12.0\n", "", "centre_at", "set_off_by = \"x\"\ncentre_at").Replace(aboutJob)
	if _, err := job.ParseJob("j", []byte(off)); err == nil || !strings.Contains(err.Error(), "given with target.set_off_by, need one") {
		t.Errorf("set off as well: %v", err)
	}
	points := strings.NewReplacer("reach = -12.0\n", "", `"carried"`, `"points"`, "swing_radius = 42.0\ntolerance = 0.02\n", "",
		"range = 1.6\n", "").Replace(aboutJob)
	if _, err := job.ParseJob("j", []byte(points)); err == nil || !strings.Contains(err.Error(), `given with kind = "points", need carried`) {
		t.Errorf("by points: %v", err)
	}
}

// A slide that is shorter than the way, and work without slides, are refused with the machine.
func TestAboutMatch(t *testing.T) {
	const machine = `name = "m"
unit = "mm"
[slide.offset]
travel_per_turn = 2
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.1
[slide.x]
travel_per_turn = 2
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.1
[slide.y]
travel_per_turn = 2
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.1
travel = [-20, 25]
`
	j, err := job.ParseJob("j", []byte(aboutJob))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ angle, long, want string }{
		{"0", "25", ""},
		{"0", "19", "slide.y.travel: 39 mm in all, and the arc's centre lies 40 mm along it from the reference, need it within"},
		{"90", "19", ""}, // there it is 30 along y
	} {
		text := strings.Replace(aboutJob, "angle = 1.5", "angle = "+c.angle, 1)
		if j, err = job.ParseJob("j", []byte(text)); err != nil {
			t.Fatal(err)
		}
		m, err := job.ParseMachine("m", []byte(strings.Replace(machine, "25]", c.long+"]", 1)))
		if err != nil {
			t.Fatal(err)
		}
		if err := job.Match(&j, &m, "m"); (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("angle %s, up to %s: %v, want %q", c.angle, c.long, err, c.want)
		}
	}
	bare, err := job.ParseMachine("m", []byte(machine[:strings.Index(machine, "[slide.x]")]))
	if err != nil {
		t.Fatal(err)
	}
	if j, err = job.ParseJob("j", []byte(strings.Replace(aboutJob, "carried", "turned", 1))); err != nil {
		t.Fatal(err)
	}
	if err := job.Match(&j, &bare, "m"); err == nil || !strings.Contains(err.Error(), "slide.table_x: missing, needed to carry the work") {
		t.Errorf("a table without slides: %v", err)
	}
}

// A place of the drawing lies within 1e9 mm, whatever the job is in: 39370078.7 in.
func TestPlacesBoundInInches(t *testing.T) {
	inches := strings.Replace(aboutJob, `"mm"`, `"in"`, 1)
	if inches == aboutJob {
		t.Fatal("the job is not in mm")
	}
	for at, fits := range map[string]bool{"[39370078.7, 20]": true, "[39370078.8, 20]": false, "[10, -39370078.8]": false} {
		_, err := job.ParseJob("j", []byte(strings.Replace(inches, "[10, 20]", at, 1)))
		if beyond := err != nil && strings.Contains(err.Error(), "setup.reference_at"); beyond == fits {
			t.Errorf("reference_at = %s in inches: %v, want it taken: %v", at, err, fits)
		}
	}
}
