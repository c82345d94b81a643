package record_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/testdata"
)

// goldens is the folder of this package's goldens.
const goldens = "../../testdata/record/"

// jsonOf is a record as it is written.
func jsonOf(t testing.TB, x any) string {
	t.Helper()
	b, err := json.Marshal(x)
	if err != nil {
		t.Fatalf("%T: %v", x, err)
	}
	return string(b) + "\n"
}

// plate plans the quadrant plate of a bench-drill belt tensioner.
func plate(t testing.TB, u geom.Unit, o part.Options) record.Plan {
	t.Helper()
	return *testdata.PlateLine(t, u, o, nil)
}

// The whole plan of the plate, on the head and on a rotary table.
func TestGoldenPlan(t *testing.T) {
	o := part.Options{Cutters: []float64{6, 10}, Datum: geom.Point{X: -52, Y: -52}}
	x := plate(t, geom.Millimetre, o)
	testdata.WantGoldenLines(t, goldens+"plan.jsonl", jsonOf(t, x))
	testdata.WantGolden(t, goldens+"plan.txt", x.Text()+"\n")
	testdata.WantGolden(t, goldens+"plan-in.txt", plate(t, geom.Inch, o).Text()+"\n")
	o.Rotary, o.CutterBearing = true, geom.FromDegrees(90)
	testdata.WantGolden(t, goldens+"plan-turned.txt", plate(t, geom.Millimetre, o).Text()+"\n")
	testdata.WantGolden(t, goldens+"plan-open.txt", plate(t, geom.Millimetre, part.Options{}).Text()+"\n")
}

// The plan of the plate of two levels says depths, passes and ways in; in inches a depth has thousandths.
func TestGoldenPlanOfLevels(t *testing.T) {
	o := part.Options{Cutters: []float64{6, 10}, Datum: geom.Point{X: -52, Y: -52}}
	x := testdata.TwoLevels(t, geom.Millimetre, o)
	testdata.WantGoldenLines(t, goldens+"plan-levels.jsonl", jsonOf(t, x))
	testdata.WantGolden(t, goldens+"plan-levels.txt", x.Text()+"\n")
	// By the drawing: the boss to 4 mm in steps of no more than 2.5, all else to 10 mm. 10 mm are 0.394 in, as 1 in is 25.4 mm.
	in := testdata.TwoLevels(t, geom.Inch, o).Text()
	for text, all := range map[string][]string{
		x.Text(): {"2 passes: 2.0, 4.0 mm, spring pass", "4 passes: 2.5, 5.0, 7.5, 10.0 mm, spring pass",
			"to the depth of its step, 4.0 mm, not through", "in its last pass, at 10.0 mm"},
		in: {"2 passes: 0.079, 0.157 in, spring pass", "4 passes: 0.098, 0.197, 0.295, 0.394 in, spring pass"},
	} {
		for _, want := range all {
			if !strings.Contains(text, want) {
				t.Errorf("want %q in\n%s", want, text)
			}
		}
	}
	for _, s := range x.Steps {
		depth, step := 10.0, 2.5
		if a := x.Arc(s.N); a != nil && a.Layer == "boss" {
			depth, step = 4, 2
		}
		for i, v := range s.Passes {
			if !close9(float64(v), float64(i+1)*step) {
				t.Errorf("element %d: pass %d at %v, want %v", s.N, i+1, v, float64(i+1)*step)
			}
		}
		if len(s.Passes) == 0 || !close9(float64(s.Passes[len(s.Passes)-1]), depth) || !s.Spring {
			t.Errorf("element %d: passes %v, spring pass %v; want down to %v mm and one", s.N, s.Passes, s.Spring, depth)
		}
	}
}

// What a plan must hold by the geometry alone, on the head and on the table: worked from the figures
// that are said, not from what they were made of.
func TestPlanSays(t *testing.T) {
	for _, rotary := range []bool{false, true} {
		o := part.Options{Cutters: []float64{6}, Datum: geom.Point{X: 3, Y: -4}, Rotary: rotary, CutterBearing: geom.FromDegrees(35)}
		x := plate(t, geom.Millimetre, o)
		if len(x.Arcs) != 11 || len(x.Lines) != 2 || len(x.Slots) != 1 || len(x.Order) != 14 || len(x.Steps) != 14 {
			t.Fatalf("%d arcs, %d straights, %d slots, %d in the order, want 11, 2, 1 and 14", len(x.Arcs), len(x.Lines), len(x.Slots),
				len(x.Order))
		}
		for _, a := range x.Arcs {
			want := map[string]float64{"inside": 3, "outside": -3}[a.Side]
			if !close9(float64(a.Swing-a.Radius), want) {
				t.Errorf("arc %d: swing radius %v with the metal %s, radius %v", a.N, a.Swing, a.Side, a.Radius)
			}
			if !close9(float64(a.Readout[0]), float64(a.Centre[0])-3) || !close9(float64(a.Readout[1]), float64(a.Centre[1])+4) {
				t.Errorf("arc %d: readout %v, centre %v", a.N, a.Readout, a.Centre)
			}
			if (a.Table != nil) != rotary {
				t.Errorf("arc %d: table %v", a.N, a.Table)
			}
			// Turned, the place of the arc that is at the cutter lies under it, at 35° of the room.
			if rotary && !(close9(float64(a.Table.From+a.From), 35) && close9(float64(a.Table.To+a.To), 35)) {
				t.Errorf("arc %d: from %v to %v, table %v", a.N, a.From, a.To, *a.Table)
			}
		}
		for _, l := range x.Lines {
			run := func(p []record.Place) (length, bearing float64) {
				dx, dy := float64(p[1][0]-p[0][0]), float64(p[1][1]-p[0][1])
				return math.Hypot(dx, dy), math.Atan2(dy, dx) * 180 / math.Pi
			}
			length, along := run(l.Readout)
			drawn, _ := run([]record.Place{l.Start, l.End})
			if !close9(length, drawn) {
				t.Errorf("straight %d: %v long, drawn %v", l.N, length, drawn)
			}
			if rotary && !close9(math.Mod(along+720, 180), float64(l.Slide)) && !close9(math.Mod(along+720, 180), float64(l.Slide)+180) {
				t.Errorf("straight %d: runs along %v°, the slide along %v°", l.N, along, l.Slide)
			}
		}
	}
}

func close9(got, want float64) bool { return math.Abs(got-want) < 1e-9 }

// Inches are millimetres by 25.4, and angles are what they were.
func TestPlanInches(t *testing.T) {
	o := part.Options{Cutters: []float64{6, 10}, Datum: geom.Point{X: 3, Y: -4}}
	mm, in := plate(t, geom.Millimetre, o), plate(t, geom.Inch, o)
	for i, a := range mm.Arcs {
		b := in.Arcs[i]
		for _, v := range [][2]record.Number{{a.Radius, b.Radius}, {a.Swing, b.Swing}, {a.Readout[0], b.Readout[0]},
			{a.Centre[1], b.Centre[1]}} {
			if !close9(float64(v[0]), 25.4*float64(v[1])) {
				t.Errorf("arc %d: %v mm, %v in", a.N, v[0], v[1])
			}
		}
		if a.From != b.From || a.To != b.To || len(a.Ends) != len(b.Ends) {
			t.Errorf("arc %d: from %v to %v, in inches from %v to %v", a.N, a.From, a.To, b.From, b.To)
		}
		for k := range a.Ends {
			past := a.Ends[k].Past == b.Ends[k].Past || math.IsNaN(float64(a.Ends[k].Past)) && math.IsNaN(float64(b.Ends[k].Past))
			if !past || !close9(float64(a.Ends[k].Short), float64(b.Ends[k].Short)) {
				t.Errorf("arc %d: end %+v, in inches %+v", a.N, a.Ends[k], b.Ends[k])
			}
		}
	}
}
