package job_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

// lone is an arc about whose centre nothing round is drawn.
var lone = job.Figures{Swing: 42, Cutter: 6, Metal: "inside", Centre: geom.Point{X: 21.98, Y: -39.26}, Lone: true}

// notHere answers the questions after an arc about no hole.
var notHere = map[string]string{"setup.kind": "carried", "target.tolerance": "0.02", "target.centre_tolerance": "0.02",
	"setup.reference_radius": "30", "setup.reach": "-12", "swept_here": "no", "setup.reference_at": "10, -2.5", "setup.angle": "-1.5",
	"clocked_over": "100", "way_right": "yes"}

// An arc about whose centre nothing is drawn is asked for what stands elsewhere; what is answered is what is read. An edge that is
// followed within 0.01 over 100 leaves atan(0.0001), 0.00573 degrees: 0.0058. In inches the 0.01 stay millimetres.
func TestAboutIsAsked(t *testing.T) {
	for unit, want := range map[string]float64{"mm": 0.0058, "in": 0.00023} {
		say := map[string]string{"unit": unit}
		mm := 1.0
		for k, v := range notHere {
			say[k] = v
		}
		arc := lone
		if unit == "in" {
			mm = 25.4
			say["setup.reference_radius"], say["setup.reach"], say["dial.range"] = "1.2", "-0.45", "0.06"
			arc.Swing = 1.65 * 25.4
		}
		facts := job.Facts{Machine: mill("offset", "x", "y"), Drawing: true, Arc: &arc, AtHand: nothingAtHand}
		done, keys := askAll(t, job.JobQuestions(facts), say)
		asked := strings.Join(keys, " ")
		if !strings.Contains(asked, "swept_here setup.reference_at setup.angle way_right clocked_over setup.angle_error "+
			"setup.slide_error_per_100 setup.square_per_100 setup.touch") {
			t.Errorf("%s: asked %s", unit, asked)
		}
		draft := done.Draft()
		j, err := draft.For(&arc)
		if err != nil {
			t.Fatalf("%v\n%s", err, done.Text())
		}
		a := j.About
		if a == nil || a.Centre != arc.Centre || a.Reference.Sub(geom.Point{X: 10 * mm, Y: -2.5 * mm}).Norm() > 1e-9 ||
			math.Abs(a.Angle.Degrees()+1.5) > 1e-12 || math.Abs(geom.Bearing(a.AngleLimit).Degrees()-want) > 1e-12 {
			t.Errorf("%s: %+v, want 10, -2.5 turned by -1.5 within %v\n%s", unit, a, want, done.Text())
		}
		if !j.Stated.Has(indicator.OfAngle) || j.Stated.Has(indicator.OfSlides) || j.Stated.Has(indicator.OfSquare) {
			t.Errorf("%s: stated %v, want the angle, and nothing of the slides", unit, j.Stated)
		}
		if text := string(done.Text()); strings.Contains(text, "swept_here") || strings.Contains(text, "clocked_over") {
			t.Errorf("what no file has is written:\n%s", text)
		}
	}
}

// It is not asked where something is swept about the centre, where nothing could go there, and where a file says it.
func TestAboutIsNotAsked(t *testing.T) {
	drawn := lone
	drawn.Lone = false
	for _, c := range []struct {
		name    string
		arc     *job.Figures
		machine *setup.Machine
		say     map[string]string
	}{
		{"a circle about it", &drawn, mill("offset", "x", "y"), nil},
		{"no drawing", nil, mill("offset", "x", "y"), map[string]string{"target.swing_radius": "42"}},
		{"work that is tapped", &lone, mill("offset"), map[string]string{"setup.kind": "turned"}},
		{"off a table's axis", &lone, mill("x", "y"), map[string]string{"target.set_off_by": "x"}},
		{"swept here", &lone, mill("offset", "x", "y"), map[string]string{"swept_here": "yes"}},
	} {
		say := map[string]string{}
		for _, m := range []map[string]string{notHere, c.say} {
			for k, v := range m {
				say[k] = v
			}
		}
		_, keys := askAll(t, job.JobQuestions(job.Facts{Machine: c.machine, Drawing: c.arc != nil, Arc: c.arc, AtHand: nothingAtHand}), say)
		if want := c.name == "swept here"; slices.Contains(keys, "setup.reference_at") || slices.Contains(keys, "swept_here") != want {
			t.Errorf("%s: asked %v", c.name, keys)
		}
	}
	text := strings.Replace(shownJob, "reach = -12.0", "reach = -25.0\nreference_at = [0, 0]", 1)
	q, err := draft(t, text).Questions(job.Facts{Drawing: true, Arc: &lone, AtHand: nothingAtHand})
	if err != nil {
		t.Fatal(err)
	}
	if now, open := q.Next(); !open || now.Key != "setup.touch" {
		t.Errorf("a file that says where the reference stands, and a reach that cannot serve: asked %q first", now.Key)
	}
}

// The reference of the arc before is proposed for the next.
func TestAboutIsProposed(t *testing.T) {
	last, err := job.ParseJob("j", []byte(aboutJob))
	if err != nil {
		t.Fatal(err)
	}
	q, err := job.Shared(&last).Questions(job.Facts{Machine: mill("offset", "x", "y"), Drawing: true, Arc: &lone, Last: &last,
		AtHand: nothingAtHand})
	if err != nil {
		t.Fatal(err)
	}
	proposed := map[string]string{}
	for now, open := q.Next(); open; now, open = q.Next() {
		proposed[now.Key] = now.Default
		say := now.Default
		if say == "" {
			say = map[bool]string{true: "unknown", false: "0.02"}[now.Optional]
		}
		if q, err = q.Answer(say); err != nil {
			t.Fatalf("%s: %v", now.Key, err)
		}
	}
	for key, want := range map[string]string{"swept_here": "no", "setup.reference_at": "10 20", "setup.angle": "1.5",
		"setup.angle_error": "0.01"} {
		if proposed[key] != want {
			t.Errorf("%s proposes %q, want %q", key, proposed[key], want)
		}
	}
	j, err := q.Draft().For(&lone)
	if err != nil || j.About == nil || j.About.Reference != last.About.Reference || j.About.Centre != lone.Centre ||
		j.About.Angle != last.About.Angle {
		t.Errorf("%+v (%v), want the reference of before and the new arc's centre", j.About, err)
	}
}

// What is no place, no length and no angle is refused where it is given.
func TestAboutAnswersRefused(t *testing.T) {
	for _, c := range []struct{ key, answer, because string }{
		{"swept_here", "perhaps", `"perhaps", need one of yes, no`},
		{"swept_here", "", "nothing is typed, and this has no default"},
		{"setup.angle", "", "nothing is typed, and this has no default"},
		{"way_right", "90", `"90", need one of yes, no`},
		{"setup.reference_at", "10", `"10", need two numbers, x first`},
		{"setup.reference_at", "10 x", "x"},
		{"setup.reference_at", "unknown", "this has to be known"},
		{"setup.angle", "181", "181, must be from -180 to 180 degrees"},
		{"clocked_over", "0", "0, need a length above 0"},
		{"setup.angle_error", "-0.1", "-0.1, must be from 0 to 45 degrees"},
		{"setup.square_per_100", "11", "11, must be from 0 to 10"},
	} {
		q := job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y"), Drawing: true, Arc: &lone, AtHand: nothingAtHand})
		for now, open := q.Next(); open && now.Key != c.key; now, open = q.Next() {
			var err error
			if q, err = q.Answer(notHere[now.Key]); err != nil {
				t.Fatalf("%s: %v", now.Key, err)
			}
		}
		if _, err := q.Answer(c.answer); err == nil || !strings.Contains(err.Error(), c.because) {
			t.Errorf("%s answered with %q: %v, want %q", c.key, c.answer, err, c.because)
		}
	}
}

// upTo answers the questions with what is said to them until one is asked that stop names.
func upTo(t *testing.T, q job.Asking, stop string, say map[string]string) job.Asking {
	t.Helper()
	for now, open := q.Next(); open && now.Key != stop; now, open = q.Next() {
		var err error
		if q, err = q.Answer(say[now.Key]); err != nil {
			t.Fatalf("%s: %v", now.Key, err)
		}
	}
	if now, open := q.Next(); !open || now.Key != stop {
		t.Fatalf("%s is never asked", stop)
	}
	return q
}

// The way that comes of an angle is shown before it is taken, by hand: from 0, 0 to 21.98, -39.26, and a quarter turn anticlockwise
// makes 39.26, 21.98 of it. Far from 0 Enter alone does not take it, and no asks for the angle again. The keypad's place is taken.
func TestAboutShowsTheWay(t *testing.T) {
	say := map[string]string{"setup.reference_at": "0+0"}
	for k, v := range notHere {
		if say[k] == "" {
			say[k] = v
		}
	}
	q := upTo(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y"), Drawing: true, Arc: &lone, AtHand: nothingAtHand}),
		"setup.angle", say)
	for _, c := range []struct{ angle, way, enter string }{
		{"90", "far from 0: from what is swept to the arc's centre it is then X +39.260, Y +21.980 mm", ""},
		{"-90", "X -39.260, Y -21.980 mm", ""},
		{"180", "X -21.980, Y +39.260 mm", ""},
		{"0", "X +21.980, Y -39.260 mm", "yes"},
		{"4.9", "X +25.2", "yes"},
	} {
		say["setup.angle"] = c.angle
		asked := upTo(t, q, "way_right", say)
		now, _ := asked.Next()
		if !strings.Contains(now.Text, c.way) || now.Default != c.enter {
			t.Errorf("%s: %q, Enter takes %q, want %q and %q", c.angle, now.Text, now.Default, c.way, c.enter)
		}
		if _, err := asked.Answer(""); (err == nil) != (c.enter != "") {
			t.Errorf("%s: Enter alone: %v", c.angle, err)
		}
		again, err := asked.Answer("no")
		if now, open := again.Next(); err != nil || !open || now.Key != "setup.angle" || now.Default != "" {
			t.Errorf("%s: no, and asked for %q (%v), want the angle again", c.angle, now.Key, err)
		}
		if on, err := asked.Answer("1"); err != nil {
			t.Errorf("%s: %v", c.angle, err)
		} else if now, _ := on.Next(); now.Key != "clocked_over" {
			t.Errorf("%s: yes, and asked for %q", c.angle, now.Key)
		}
	}
}

// What is drawn round elsewhere is offered by number, and its centre written; the one of the arc before is proposed.
func TestAboutOffersCircles(t *testing.T) {
	for unit, mm := range map[string]float64{"mm": 1, "in": 25.4} {
		arc := lone
		arc.Circles = []job.Circle{{N: 7, Centre: geom.Point{X: 10 * mm, Y: -2.5 * mm}, Radius: 6 * mm}, {N: 1, Radius: 4 * mm}}
		facts := job.Facts{Machine: mill("offset", "x", "y"), Drawing: true, Arc: &arc, AtHand: nothingAtHand}
		say := map[string]string{"unit": unit}
		for k, v := range notHere {
			if k != "setup.reference_at" && k != "unit" {
				say[k] = v
			}
		}
		if unit == "in" {
			say["setup.reference_radius"], say["setup.reach"], say["dial.range"] = "1.2", "-0.45", "0.06"
			arc.Swing = 1.65 * 25.4
		}
		q := upTo(t, job.JobQuestions(facts), "swept_circle", say)
		now, _ := q.Next()
		want := []string{"arc 7, diameter 12 " + unit + ", at 10, -2.5", "arc 1, diameter 8 " + unit + ", at 0, 0", "another place"}
		if !slices.Equal(now.Choices, want) || now.Default != "" || !now.Closed {
			t.Errorf("%s: offered %q, Enter takes %q, want %q and nothing", unit, now.Choices, now.Default, want)
		}
		for answer, key := range map[string]string{"1": "setup.angle", "3": "setup.reference_at"} {
			if on, err := q.Answer(answer); err != nil {
				t.Errorf("%s: %v", answer, err)
			} else if now, _ := on.Next(); now.Key != key {
				t.Errorf("%s: %s, and asked for %q, want %q", unit, answer, now.Key, key)
			}
		}
		for _, none := range []string{"", "4", "7", "0 0"} {
			if _, err := q.Answer(none); err == nil {
				t.Errorf("%s: %q is taken for a circle", unit, none)
			}
		}
		say["swept_circle"] = "1"
		done, _ := askAll(t, q, say)
		j, err := done.Draft().For(&arc)
		if err != nil || j.About == nil || j.About.Reference.Sub(arc.Circles[0].Centre).Norm() > 1e-6 {
			t.Fatalf("%s: %+v (%v), want the circle's centre\n%s", unit, j.About, err, done.Text())
		}
		next := arc
		next.Circles = []job.Circle{arc.Circles[1], arc.Circles[0]}
		after, err := job.Shared(&j).Questions(job.Facts{Machine: mill("offset", "x", "y"), Drawing: true, Arc: &next, Last: &j,
			AtHand: nothingAtHand})
		if err != nil {
			t.Fatal(err)
		}
		if now, _ := upTo(t, after, "swept_circle", say).Next(); now.Default != want[0] {
			t.Errorf("%s: the next arc proposes %q, want %q", unit, now.Default, want[0])
		}
	}
}
