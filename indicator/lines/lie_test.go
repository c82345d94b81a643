package lines_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// at is the unit vector at a bearing in degrees.
func at(deg float64) complex128 { return cmplx.Rect(1, deg*math.Pi/180) }

// lying is a setting of arc 9 of a plate, which lies turned by an angle from the way of an x slide that itself runs at a bearing of
// lean; the reference stands 30 before and 40 above the arc's centre on the drawing. The ring of the head is figured clockwise.
func lying(table bool, angle, lean float64) *session.State {
	past, cutter := geom.FromDegrees(0.5), geom.FromDegrees(180)
	arc := part.Picked{Part: "plate", N: 9, Radius: 40, From: geom.FromDegrees(255.96), To: geom.FromDegrees(359.19), Side: "outside",
		Cutter: 6, Swing: 37, Sense: "anticlockwise", AtFrom: &part.Window{Past: &past, Short: geom.FromDegrees(0.25)},
		AtTo: &part.Window{Past: &past, Short: geom.FromDegrees(1)}}
	if table {
		arc.CutterBearing, arc.Sense = &cutter, "clockwise"
	}
	s := cutting(table, true, &arc)
	s.Set.Job.About = &setup.About{Reference: geom.Point{X: 10, Y: 20}, Centre: geom.Point{X: 40, Y: -20}, Angle: geom.FromDegrees(angle)}
	for _, name := range []string{"x", "y", "table_x", "table_y"} {
		sl := slide.Slide{Name: name}
		if strings.HasSuffix(name, "x") {
			sl.Askew = float64(geom.FromDegrees(lean))
		}
		s.Set.Machine.Slides = append(s.Set.Machine.Slides, sl)
	}
	return s
}

// The plate is laid on the machine, turned; the slides go the way that is told, and the cutter stands at the start, at the stop and at
// their limits that are told: by the plate's own geometry, places as complex numbers, it is over the arc's ends as they are drawn, on
// the head and on a table.
func TestStartAndStopTurnWithTheDrawing(t *testing.T) {
	const swing, from, to = 37, 255.96, 359.19
	reference, centre := complex(10, 20), complex(40, -20)
	for _, table := range []bool{false, true} {
		for _, c := range [][2]float64{{0, 0}, {90, 0}, {1.5, 0}, {-1.5, 0}, {150, 2}, {-120, -3}} {
			s := lying(table, c[0], c[1])
			lies := func(p complex128) complex128 { return p * at(c[0]+c[1]) }
			course, ok := setup.CourseOf(&s.Set.Job, &s.Set.Machine)
			r, told := lines.ChoreRun(s, session.Cut)
			if !ok || !told {
				t.Fatalf("%v: a course %v, a run %v, want both", c, ok, told)
			}
			gone := complex(course.Travel[0], 0)*at(c[1]) + complex(course.Travel[1], 0)*at(90)
			if table { // which carries the work, until the arc's centre is where the reference was
				gone = -gone
			}
			if off := cmplx.Abs(lies(reference) + gone - lies(centre)); off > 1e-9 {
				t.Errorf("table %v, %v: the slides end %v beside the arc's centre", table, c, off)
			}
			over := func(what string, told record.Number, drawn float64) {
				stands, point := complex(swing, 0)*at(float64(told)), lies(complex(swing, 0)*at(drawn))
				if table { // the cutter stands at 180°, and the table turns the work under it
					stands, point = complex(swing, 0)*at(180), point*at(float64(told))
				}
				if off := cmplx.Abs(stands - point); off > 1e-9 {
					t.Errorf("table %v, %v: at the %s, %v°, the cutter stands %v from where it is drawn", table, c, what, told, off)
				}
			}
			begin, end := r.StartLimits(), r.StopLimits()
			over("start", r.Start, from)
			over("stop", r.Stop, to)
			over("start's farthest", begin.Past, from-0.5)
			over("start's nearest", begin.Short, from+0.25)
			over("stop's farthest", end.Past, to+0.5)
			over("stop's nearest", end.Short, to-1)
			way := 1.0
			if !table {
				way = -1 // its ring is figured clockwise
			}
			for at, ring := range map[record.Number]record.Number{r.Start: r.RingStart(), r.Stop: r.RingStop()} {
				if off := math.Remainder(float64(ring)-way*float64(at), 360); math.Abs(off) > 1e-9 {
					t.Errorf("table %v, %v: the ring is told %v at %v°", table, c, ring, at)
				}
			}
		}
	}
}

// The words have the turned figures, by hand 255.96 + 90 and 359.19 + 90 − 360, and say by what they are turned; where nobody has said
// how the drawing lies they say that too, once, before the first pass. About the arc's own centre the angle counts as well.
func TestStartAndStopAreTurnedInWords(t *testing.T) {
	const run = "start at 345.96° (ring 14.04°), swing anticlockwise from above through 103.23°, stop at 89.19° (ring 270.81°); "
	s := lying(false, 90, 0)
	for range 2 {
		all := lines.ChoreWords(s, session.DrySwing, geom.Millimetre)
		if !strings.Contains(all[0], run) || !strings.HasSuffix(all[0], "; start and stop are told with the drawing's X turned to 90°") {
			t.Errorf("%q, want %q and how the drawing lies", all[0], run)
		}
		if !strings.HasSuffix(all[1], "start 345.96° (ring 14.04°), anticlockwise 103.23° from above, stop 89.19° (ring 270.81°)") {
			t.Errorf("%q, want the turned places in short", all[1])
		}
		if cut := lines.ChoreWords(s, session.Cut, geom.Millimetre)[0]; !strings.Contains(cut, run) || strings.Contains(cut, "drawing") {
			t.Errorf("%q, want %q, and nothing more of the drawing", cut, run)
		}
		s.Set.Job.About.Reference = s.Set.Job.About.Centre
	}
	s.Set.Job.About = nil
	all := fmt.Sprint(lines.ChoreWords(s, session.DrySwing, geom.Millimetre))
	const holds = "start and stop hold with the drawing's X along the machine's"
	if strings.Count(all, holds) != 1 || !strings.Contains(all, "start at 255.96°") {
		t.Errorf("%q, want the drawn places, and that they hold with the drawing along the machine", all)
	}
}
