package setup

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// A tap that nobody has read the needle after is taken to have gone four fifths of its way, away from the side that was
// tapped, with a doubt of half of that along the line and a sixth of it aside.
func TestAfterTap(t *testing.T) {
	var at []geom.Bearing
	var readings []float64
	for i, off := range []float64{0.001, -0.001, 0.001, -0.001, 0.001, -0.001} {
		at, readings = append(at, geom.FromDegrees(60*float64(i))), append(readings, off)
	}
	f, err := indicator.Fit(indicator.Dial{Repeatability: 0.001}, indicator.Setup{Kind: indicator.Turned, ReferenceRadius: 30}, at,
		readings)
	if err != nil {
		t.Fatal(err)
	}
	side := geom.FromDegrees(30)
	got, _ := tapping{}.After(&Bench{}, f, &Done{Wind: slide.Wind{Travel: 0.5}, Tap: &Tap{Side: side}}, nil)
	moved := got.Circle.Centre.Sub(f.Circle.Centre)
	if want := side.Unit(); math.Hypot(moved.X+0.4*want.X, moved.Y+0.4*want.Y) > 1e-9 {
		t.Errorf("it has gone %v, want 0.4 away from 30°", moved)
	}
	along, aside := got.Part(side.Unit()).U, got.Part((side + math.Pi/2).Unit()).U
	if r := along / aside; r < 2.9 || r > 3.2 { // 0.4 to 0.13
		t.Errorf("doubt %v along, %v aside", along, aside)
	}
}
