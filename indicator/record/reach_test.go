package record_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/record"
)

// The drawing is plain ASCII, at most 76 columns wide, and shows the sign: towards the head axis the
// tip stands left of the spindle's axis, away from it right of it; in a bore the wall is beyond the tip,
// round a boss before it.
func TestDrawing(t *testing.T) {
	for _, touch := range []indicator.Touch{indicator.Bore, indicator.Boss} {
		for _, reach := range []float64{-12, 6.6, 0, -123.4567, 1e-9} {
			for _, swing := range []float64{0, 42, 12345.6789} {
				for _, u := range []geom.Unit{geom.Millimetre, geom.Inch} {
					d := record.Drawing(touch, reach, swing, u)
					rows := strings.Split(d, "\n")
					for _, r := range rows {
						if len(r) > 76 || strings.ContainsFunc(r, func(c rune) bool { return c < ' ' || c > '~' }) {
							t.Errorf("row %q, want at most 76 plain characters", r)
						}
					}
					arm, axes := rows[2], rows[1]
					tip, spindle := strings.IndexByte(arm, 'o'), strings.LastIndexByte(axes, '|')
					if (reach < 0) != (tip < spindle) || (reach > 0) != (tip > spindle) {
						t.Errorf("reach %v: the tip stands at column %d and the spindle's axis at %d in\n%s", reach, tip, spindle, d)
					}
					if wall := strings.IndexByte(arm, '#'); (touch == indicator.Bore) != (wall > tip) {
						t.Errorf("%v: the wall stands at column %d and the tip at %d in\n%s", touch, wall, tip, d)
					}
					if names := rows[0]; !strings.Contains(names, "head axis") || !strings.Contains(names, "spindle's axis") ||
						!strings.Contains(names, "tip") {
						t.Errorf("the drawing does not name what it shows:\n%s", d)
					}
				}
			}
		}
	}
}

// The lines for the job file are read by a job, in its unit, as the reach that was found, and with an
// error that makes no less of its doubt.
func TestReachLinesInAJob(t *testing.T) {
	const jobText = "unit = %q\n[setup]\nkind = \"carried\"\nreference_radius = %v\n%s\n[target]\ncentre_tolerance = " +
		"0.02\n[sweep]\nstations = 6\n[dial]\ngraduation = 0.01\nrange = 1.6\n"
	b := []geom.Bearing{0, 90 * geom.Degree, 180 * geom.Degree, 270 * geom.Degree}
	for _, u := range []geom.Unit{geom.Millimetre, geom.Inch} {
		s := indicator.Spin{Dial: indicator.Dial{ErrorLimit: 0.003}, Touch: indicator.Boss, Way: indicator.TipIn, Round: indicator.Ring,
			Radius: 12.00321, RadiusLimit: 0.006}
		reach, _, err := s.Reach(b, []float64{0.004, -0.004, 0.004, -0.004})
		if err != nil {
			t.Fatal(err)
		}
		x := record.NewReach("spin", "", s.Touch, reach, indicator.Measure{V: math.NaN()}, u)
		j, err := job.ParseJob("job.toml", fmt.Appendf(nil, jobText, u, u.From(30), x.Lines()))
		if err != nil {
			t.Fatalf("%v\n%s", err, x.Lines())
		}
		if j.Setup.Touch != indicator.Boss || !j.Setup.ReachKnown || math.Abs(j.Setup.Reach-reach.V) > 0.0001 {
			t.Errorf("the job reads %v, reach %v, want boss and %v", j.Setup.Touch, j.Setup.Reach, reach.V)
		}
		if l := j.Setup.ReachLimit; l < reach.Limit()-1e-9 || l > 1.05*reach.Limit() {
			t.Errorf("the job reads an error of %v, want just above %v", l, reach.Limit())
		}
	}
}

// What is not known is null and told why; the safety words are there.
func TestReachUnknown(t *testing.T) {
	x := record.NewReach("pin", "", indicator.Bore, indicator.Measure{V: math.NaN()}, indicator.Measure{V: 42, Open: true},
		geom.Millimetre).Say()
	b, err := json.Marshal(x)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"reach":null`, `"reach_error":null`, `"touch":null`, `"swing":{"value":42,"u95":null}`,
		"no reach is claimed", "no uncertainty is known", "off and isolated"} {
		if !strings.Contains(string(b), want) {
			t.Errorf("%s does not hold %s", b, want)
		}
	}
	if s := x.Text(); strings.Contains(s, "[setup]") || !strings.Contains(s, "swing radius 42.000 ±? mm") {
		t.Errorf("text %q, want no lines for a job file, and an unknown doubt", s)
	}
}

// A misread in a spin is doubted, with the slip that explains it.
func TestReachDoubtsAMisread(t *testing.T) {
	d := indicator.Dial{Graduation: 0.01, Revolution: 1, ReadsTo: 0.2, Repeatability: 0.002}
	s := indicator.Spin{Dial: d, Touch: indicator.Bore, Way: indicator.TipIn, Round: indicator.Plug, Radius: 12}
	var b []geom.Bearing
	for i := range 8 {
		b = append(b, geom.FromDegrees(45*float64(i)))
	}
	m := []float64{0.1, 0.102, 0.098, 0.2, 0.1, 0.1, 0.102, 0.098} // the fourth: ten divisions too many
	reach, f, err := s.Reach(b, m)
	if err != nil {
		t.Fatal(err)
	}
	x := record.NewReach("spin", "", s.Touch, reach, indicator.Measure{V: math.NaN()}, geom.Millimetre).Sweep("plug", &f, b, m)
	if len(x.Sweeps) != 1 || len(x.Sweeps[0].Suspects) != 1 || x.Sweeps[0].Suspects[0].Reading != 4 ||
		x.Sweeps[0].Suspects[0].Because != indicator.TenDivisions {
		t.Errorf("sweeps %+v, want reading 4 doubted for ten divisions", x.Sweeps)
	}
	if s := x.Text(); !strings.Contains(s, "plug: reading 4 is off by 0.100 mm: ten divisions? then it would be 0.100 mm") {
		t.Errorf("text %q does not doubt reading 4", s)
	}
}
