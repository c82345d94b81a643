package record_test

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
)

// A square has four corners of 90° and no tangent blend: each corner is told by itself, and none is counted.
func TestSquareHasNoTangent(t *testing.T) {
	at := []geom.Point{{}, {X: 40}, {X: 40, Y: 40}, {Y: 40}}
	var loop []part.Piece
	for i, p := range at {
		loop = append(loop, part.Piece{Element: geom.Straight(p, at[(i+1)%4]), Layer: "outline"})
	}
	p, err := part.Make(part.Outline{Loops: [][]part.Piece{loop}}, part.Options{Cutters: []float64{6}})
	if err != nil {
		t.Fatal(err)
	}
	x := record.NewPlan(record.Planned{Name: "square", Part: p}, geom.Millimetre)
	text := x.Text()
	if strings.Contains(text, "tangent") || strings.Count(text, ": corner of 90") != 4 {
		t.Errorf("want four corners of 90° and no word of a tangent:\n%s", text)
	}
}
