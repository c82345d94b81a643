package job_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// mill is a machine with the slides that are named.
func mill(names ...string) *setup.Machine {
	m := &setup.Machine{Name: "mill"}
	for _, n := range names {
		m.Slides = append(m.Slides, slide.Slide{Name: n, TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase,
			TakeUp: slide.Increase, Backlash: 0.1})
	}
	return m
}

// How right a figure is by how it is known, in millimetres of a diameter, put down here once more, so that a slip
// in the program's own list is seen. Common practice, no source.
var (
	ofDiameter = map[string]float64{"setting ring or plug": 0.003, "dowel or micrometer": 0.01, "reamed": 0.02, "caliper": 0.04,
		"drilled": 0.2}
	ofReach  = map[string]float64{"found before and untouched": 0.01, "caliper": 0.05, "indicator re-seated": 0.05, "rule": 0.5}
	ofCutter = map[string]float64{"measured": 0.01, "as marked": 0.03}
)

// near reports whether a figure is another, to the two figures that inches are rounded to.
func near(got, want float64) bool { return math.Abs(got-want) <= 0.05*math.Abs(want) }

// drawnKnown answers a question after how something is known, by its words or its number, and returns the limit that is meant; ok
// is false where nobody knows.
func drawnKnown(t *rapid.T, say map[string]string, key string, order []string, limits map[string]float64) (mm float64, ok bool) {
	i := rapid.IntRange(0, len(order)).Draw(t, key)
	all := append(slices.Clone(order), "don't know")
	say[key] = all[i]
	if rapid.Bool().Draw(t, key+" by number") {
		say[key] = strconv.Itoa(i + 1)
	}
	return limits[all[i]], i < len(order)
}

// What is answered is what the job's parser reads of the text that it ends in: where the sweep shows a swing radius.
func TestJobAnswersAreWhatIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]geom.Unit{geom.Millimetre, geom.Inch}).Draw(t, "unit")
		thing := rapid.SampledFrom([]string{"bore", "ring", "boss", "plug", "pin"}).Draw(t, "thing")
		say := map[string]string{"unit": u.String(), "setup.touch": thing, "dial.repeatability": "unknown"}
		var swing, tol, rho, off float64
		say["target.swing_radius"], swing = typed(t, "swing", 20, 60)
		say["target.tolerance"], tol = typed(t, "tolerance", 0.001, 0.1)
		rhoText, rho := typed(t, "radius", 10, 60)
		if say["setup.reference_radius"] = rhoText; rapid.Bool().Draw(t, "diameter") {
			say["setup.reference_radius"] = rapid.SampledFrom([]string{"d ", "D", "diameter "}).Draw(t, "said") + rhoText
			rho /= 2
		}
		// So far off zero at the target, and no farther than the dial goes; the tip on its own side of the axis.
		_, off = typed(t, "off", -0.4, 0.4)
		reach := math.Round((rho-swing+off)*1e5) / 1e5
		say["setup.reach"] = strconv.FormatFloat(reach, 'f', -1, 64)
		say["dial.graduation"], say["dial.range"], say["sweep.stations"] = "0.01", "1.6", "7"
		refLimit, refKnown := drawnKnown(t, say, "setup.reference_radius_error", []string{"setting ring or plug", "dowel or micrometer",
			"reamed", "caliper", "drilled"}, ofDiameter)
		reachLimit, reachKnown := drawnKnown(t, say, "setup.reach_error", []string{"found before and untouched", "caliper",
			"indicator re-seated", "rule"}, ofReach)
		cutterLimit, cutterKnown := 0.0, false
		if rapid.Bool().Draw(t, "cut") {
			say["cut.cutter"], say["cut.metal"] = "8", "outside"
			cutterLimit, cutterKnown = drawnKnown(t, say, "cut.cutter_error", []string{"measured", "as marked"}, ofCutter)
		}
		done, _ := askAll(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")}), say)
		j, err := job.ParseJob("j.toml", done.Text())
		if err != nil {
			t.Fatalf("what was answered cannot be read: %v\n%s", err, done.Text())
		}
		touch := indicator.Bore
		if !slices.Contains([]string{"bore", "ring"}, thing) {
			touch = indicator.Boss
		}
		for _, c := range []struct {
			what      string
			got, want any
		}{
			{"unit", j.Unit, u}, {"kind", j.Setup.Kind, indicator.Carried}, {"touch", j.Setup.Touch, touch},
			{"swing", j.Target.SwingRadius, u.MM(swing)}, {"tolerance", j.Target.Tolerance, u.MM(tol)},
			{"centre tolerance, as the other", j.Target.CentreTolerance, u.MM(tol)},
			{"reference", j.Setup.ReferenceRadius, u.MM(rho)}, {"reach", j.Setup.Reach, u.MM(reach)},
			{"range", j.Dial.To - j.Dial.From, u.MM(1.6)}, {"stations", j.Sweep.Stations, 7},
			{"cut", j.Cut != nil, say["cut.cutter"] != ""},
		} {
			if fmt.Sprintf("%.9v", c.got) != fmt.Sprintf("%.9v", c.want) {
				t.Fatalf("%s is %v, want %v\n%s", c.what, c.got, c.want, done.Text())
			}
		}
		wantStated(t, &j, indicator.OfReference, j.Setup.ReferenceLimit, refLimit/2, refKnown)
		wantStated(t, &j, indicator.OfReach, j.Setup.ReachLimit, reachLimit, reachKnown)
		if j.Cut != nil {
			wantStated(t, &j, indicator.OfCutter, j.Cut.CutterLimit, cutterLimit, cutterKnown)
		}
	})
}

// wantStated checks that a limit is stated where it is known, and that not knowing it states nothing.
func wantStated(t *rapid.T, j *setup.Job, figure string, got, want float64, known bool) {
	if slices.Contains(j.Stated, figure) != known || known && !near(got, want) || !known && got != 0 {
		t.Fatalf("%s: limit %v, stated %v; want %v, stated %v", figure, got, j.Stated, want, known)
	}
}

// Which questions are asked depends on the set-up and on what is wanted; lists by hand.
func TestJobQuestionsAsked(t *testing.T) {
	const dial = " dial.graduation dial.revolution dial.range dial.error dial.pressed dial.repeatability"
	for _, c := range []struct {
		name, want string
		machine    *setup.Machine
		say        map[string]string
	}{
		{"centre only", "unit setup.kind target.swing_radius target.centre_tolerance sweep.stations" + dial +
			" setup.touch setup.reference_radius setup.reference_radius_error setup.reference_form_error setup.tip_diameter",
			mill("offset", "x", "y"), nil},
		{"centre only, with nothing known", "unit setup.kind target.swing_radius target.centre_tolerance sweep.stations" + dial +
			" setup.touch setup.reference_radius setup.reference_form_error setup.tip_diameter", mill("offset", "x", "y"),
			map[string]string{"setup.reference_radius": "unknown"}},
		{"points", "unit setup.kind target.centre_tolerance sweep.stations dial.graduation dial.repeatability setup.touch " +
			"setup.reference_radius setup.tip_diameter", mill("x", "y"), map[string]string{"setup.reference_radius": "unknown"}},
		{"turned, tapped", "unit setup.kind target.swing_radius target.tolerance target.centre_tolerance cut.cutter sweep.stations" + dial +
			" setup.touch setup.reference_radius setup.reference_radius_error setup.reference_form_error setup.tip_diameter " +
			"setup.indicator_bearing setup.reach setup.reach_error", mill("offset"), map[string]string{"target.swing_radius": "42"}},
		{"set off", "unit setup.kind target.swing_radius target.set_off_by target.tolerance target.centre_tolerance cut.cutter " +
			"cut.cutter_error cut.metal cut.stock cut.depth sweep.stations" + dial + " setup.touch setup.reference_radius " +
			"setup.reference_radius_error setup.reference_form_error setup.tip_diameter", mill("x", "y"),
			map[string]string{"setup.kind": "carried", "target.swing_radius": "42", "target.set_off_by": "-y", "cut.cutter": "8",
				"cut.metal": "inside"}},
	} {
		say := map[string]string{"target.tolerance": "0.02", "target.centre_tolerance": "0.02", "setup.reference_radius": "30",
			"setup.reach": "-12", "target.swing_radius": "unknown"}
		for k, v := range c.say {
			say[k] = v
		}
		done, keys := askAll(t, job.JobQuestions(job.Facts{Machine: c.machine}), say)
		if got := strings.Join(keys, " "); got != c.want {
			t.Errorf("%s: asked\n%s\nwant\n%s", c.name, got, c.want)
		}
		j, err := job.ParseJob("j.toml", done.Text())
		if err != nil {
			t.Errorf("%s: %v\n%s", c.name, err, done.Text())
		}
		if err := job.Match(&j, c.machine, "m.toml"); err != nil {
			t.Errorf("%s: what was answered does not go with the machine: %v", c.name, err)
		}
	}
}

// Answers that cannot be are refused where they are given, by what stands before them too.
func TestJobAnswersRefused(t *testing.T) {
	at := map[string]string{"target.swing_radius": "42", "target.tolerance": "0.02", "setup.reference_radius": "d 60",
		"setup.reach": "-12"}
	turned := map[string]string{"setup.kind": "turned"}
	for _, c := range []struct {
		key, answer, because string
		machine              *setup.Machine
	}{
		{"setup.kind", "carried", `the machine "mill" has no slide x`, mill("offset")},
		{"target.swing_radius", "42", `the machine "mill" has no slide offset`, mill("x", "y", "table_x", "table_y")},
		{"setup.kind", "floating", "need one of carried, turned, points", nil},
		{"target.swing_radius", "0", "0, must be above 0", nil},
		{"target.swing_radius", "d", "is empty", nil},
		{"target.tolerance", "-1", "-1, must be above 0", nil},
		{"target.tolerance", "unknown", "has to be known", nil},
		{"sweep.stations", "2", "2, must be a whole number from 3 to", nil},
		{"dial.graduation", "0", "0, must be above 0", nil},
		{"setup.touch", "hole", "need one of bore, boss, ring, plug, pin", nil},
		{"setup.reference_radius", "unknown", "has to be known", nil}, // a swing radius leans on it
		{"setup.reference_radius_error", "0", "need one of setting ring or plug", nil},
		{"setup.reference_radius_error", "exact", "need one of setting ring or plug", nil},
		{"setup.reference_radius_error", "7", "need one of setting ring or plug", nil},
		{"setup.reference_radius_error", "-0.1", "-0.1, must be 0 or above", nil},
		// A bore of 30 touched from a swing of 42 with a reach of 12 the wrong way: 42 + 12 − 30 = 24 on the dial.
		{"setup.reach", "12", "the dial would have to show 24 mm", nil},
		{"setup.reach", "-43", "puts the tip beyond the head axis", nil},
		{"setup.reach", "unknown", "has to be known", nil},
	} {
		q := job.JobQuestions(job.Facts{Machine: c.machine})
		for {
			now, more := q.Next()
			if !more {
				t.Fatalf("%s is not asked", c.key)
			}
			if now.Key == c.key {
				break
			}
			var err error
			say := at[now.Key]
			if c.machine != nil && say == "" {
				say = turned[now.Key]
			}
			if q, err = q.Answer(say); err != nil {
				t.Fatal(err)
			}
		}
		after, err := q.Answer(c.answer)
		if err == nil || !strings.Contains(err.Error(), c.because) {
			t.Errorf("%s answered with %q: %v, want refused: %s", c.key, c.answer, err, c.because)
		}
		if now, _ := after.Next(); now.Key != c.key {
			t.Errorf("%s answered with %q: the question is %s then", c.key, c.answer, now.Key)
		}
	}
}

// The reach that would make the dial read zero stands beside the question: a bore or a boss of 30 and a swing radius of 42
// meet where the tip stands 12 towards the axis (d = R + t: DEVELOPERS.md, signs and frames).
func TestZeroReach(t *testing.T) {
	for _, touch := range []string{"bore", "boss"} {
		say := map[string]string{"target.swing_radius": "42", "target.tolerance": "0.02", "setup.touch": touch,
			"setup.reference_radius": "d60"}
		q := job.JobQuestions(job.Facts{})
		now, _ := q.Next()
		for now.Key != "setup.reach" {
			if now.ZeroAt != nil {
				t.Errorf("%s says a reach", now.Key)
			}
			q, _ = q.Answer(say[now.Key])
			now, _ = q.Next()
		}
		if now.ZeroAt == nil || *now.ZeroAt != -12 {
			t.Errorf("%s: zero at %v, want -12", touch, now.ZeroAt)
		}
	}
}

// Where the reach may be left out, that has to be said: a bare Enter would choose a trial cut that nobody wants.
func TestReachLeftOutIsSaid(t *testing.T) {
	say := map[string]string{"target.swing_radius": "42", "target.tolerance": "0.02", "cut.cutter": "8", "cut.metal": "inside",
		"dial.range": "1.6", "setup.reference_radius": "30"}
	q := job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")})
	now, _ := q.Next()
	for ; now.Key != "setup.reach"; now, _ = q.Next() {
		var err error
		if q, err = q.Answer(say[now.Key]); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := q.Answer(""); err == nil || !strings.Contains(err.Error(), "nothing is typed") {
		t.Errorf("Enter alone at the reach: %v, want it refused", err)
	}
	q, err := q.Answer(job.Unknown)
	if now, _ := q.Next(); err != nil || now.Key != "cut.radius_error" {
		t.Errorf("left out, %s is asked (%v), want how the radius is set", now.Key, err)
	}
}

// A ball that the bore does not take is refused where it is asked for, and not at a question behind it, whatever is answered there.
func TestBallThatDoesNotGoIn(t *testing.T) {
	say := map[string]string{"target.swing_radius": "42", "target.tolerance": "0.02", "cut.cutter": "unknown", "dial.range": "1.6",
		"setup.reference_radius": "30"}
	q := job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")})
	now, _ := q.Next()
	for ; now.Key != "setup.tip_diameter"; now, _ = q.Next() {
		var err error
		if q, err = q.Answer(say[now.Key]); err != nil {
			t.Fatal(now.Key, err)
		}
	}
	if _, err := q.Answer("60"); err == nil || !strings.Contains(err.Error(), "need less than 60 mm") {
		t.Errorf("a ball of 60 in a bore of radius 30: %v, want it refused", err)
	}
	if _, err := q.Answer("59"); err != nil {
		t.Errorf("a ball of 59 in a bore of radius 30: %v", err)
	}
}
