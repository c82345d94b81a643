package record_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
)

// A half disc of 20 stands on a straight edge, y = 0. A cutter of 4 is plunged round it at 22, and its axis stays 2 from the edge,
// less the 0.002 that is let pass: it begins at asin(1.998/22), 5.21° from the drawn end, 1.819 along the arc. Under a quarter disc
// whose other end is an outer corner it is plunged to that end.
func TestPlungedArcTellsWhereItsCornersKeepIt(t *testing.T) {
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	half := []geom.Element{geom.ArcOf(at(0, 0), 20, 0, math.Pi), geom.Straight(at(-20, 0), at(-60, 0)),
		geom.Straight(at(-60, 0), at(-60, -40)), geom.Straight(at(-60, -40), at(60, -40)), geom.Straight(at(60, -40), at(60, 0)),
		geom.Straight(at(60, 0), at(20, 0))}
	quarter := []geom.Element{geom.ArcOf(at(0, 0), 20, 0, math.Pi/2), geom.Straight(at(0, 20), at(0, -40)),
		geom.Straight(at(0, -40), at(60, -40)), geom.Straight(at(60, -40), at(60, 0)), geom.Straight(at(60, 0), at(20, 0))}
	before := math.Asin(1.998/22) * 180 / math.Pi
	const kept = "1.819 mm from the drawn end: the cutter's own radius stays in the corner"
	for _, c := range []struct {
		outline []geom.Element
		left    bool
		before  [2]float64
		said    []string
	}{
		{half, false, [2]float64{before, before}, []string{"start at 0°: begins " + kept, "end at 180°: stops " + kept}},
		{half, true, [2]float64{before, before}, []string{"start at 180°: begins " + kept, "end at 0°: stops " + kept}},
		{quarter, false, [2]float64{before, 0}, []string{"start at 0°: begins " + kept, "end at 90°: plunged to the drawn end"}},
	} {
		var loop []part.Piece
		for _, e := range c.outline {
			loop = append(loop, part.Piece{Element: e})
		}
		o := part.Options{Cutters: []float64{4}, SwingMin: 30, SwingMax: 90, StepHeight: 0.5, LeftHand: c.left}
		p, err := part.Make(part.Outline{Loops: [][]part.Piece{loop}}, o)
		if err != nil {
			t.Fatal(err)
		}
		x := record.NewPlan(record.Planned{Part: p, Options: o, Name: "bump"}, geom.Millimetre)
		a := x.Arc(1)
		if a.PlanPlaces == nil || len(a.Ends) != 2 {
			t.Fatalf("%+v: want an arc by places, with both its ends", a)
		}
		for i, e := range a.Ends {
			if math.Abs(float64(e.Before)-c.before[i]) > 1e-6 {
				t.Errorf("end %d: %v° before it, want %v", i, e.Before, c.before[i])
			}
		}
		for _, want := range c.said {
			if !strings.Contains(x.Text(), want) {
				t.Errorf("no %q in\n%s", want, x.Text())
			}
		}
	}
}
