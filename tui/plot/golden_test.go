package plot

import (
	"math"
	"path/filepath"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/testdata"
	"example.org/trammel/tui/theme"
)

// golden compares a drawing with testdata/name.golden.
func golden(t *testing.T, name, got string) {
	t.Helper()
	testdata.WantGolden(t, filepath.Join("testdata", name+".golden"), testdata.Barred(got))
}

// both draws with braille and plain.
func both(t *testing.T, name string, draw func(t theme.Theme) string) {
	t.Helper()
	golden(t, name, draw(colourless(false)))
	golden(t, name+"_plain", draw(colourless(true)))
}

func TestGoldenRadial(t *testing.T) {
	e := geom.Point{X: 0.25, Y: 0.13}
	first := sweep(6, 4, e, -0.07, 0.015)
	both(t, "radial_first_40x16", func(th theme.Theme) string { return Radial(first, 40, 16, th) })
	both(t, "radial_first_24x9", func(th theme.Theme) string { return Radial(first, 24, 9, th) })
	settled := sweep(8, 8, geom.Point{X: 0.006, Y: -0.003}, 0.004, 0.006)
	both(t, "radial_settled_40x16", func(th theme.Theme) string { return Radial(settled, 40, 16, th) })
	both(t, "radial_empty_40x16", func(th theme.Theme) string { return Radial(sweep(6, 0, e, 0, 0), 40, 16, th) })
	large := sweep(12, 12, geom.Point{X: -0.25, Y: 0.13}, -0.07, 0.09)
	both(t, "radial_large_60x24", func(th theme.Theme) string { return Radial(large, 60, 24, th) })
	oval := Picture{Radius: 30, Joined: true, Named: "form"}
	for i := range 8 {
		b := geom.FromDegrees(45 * float64(i))
		oval.Stations = append(oval.Stations, Mark{Bearing: b, Out: 0.004 * math.Cos(2*float64(b)), Present: true})
	}
	both(t, "radial_form_40x16", func(th theme.Theme) string { return Radial(oval, 40, 16, th) })
	golden(t, "radial_first_40x16_colour", Radial(first, 40, 16, colourful(false)))
}

func TestGoldenDial(t *testing.T) {
	both(t, "dial_40x20", func(th theme.Theme) string { return Dial(0.124, 0.01, 1, geom.Millimetre, 40, 20, th) })
	both(t, "dial_24x10", func(th theme.Theme) string { return Dial(-0.326, 0.01, 1, geom.Millimetre, 24, 10, th) })
	both(t, "dial_inch_60x30", func(th theme.Theme) string { return Dial(-0.0371*25.4, 0.0127, 1.016, geom.Inch, 60, 30, th) })
}

func TestGoldenHandwheel(t *testing.T) {
	both(t, "handwheel_clockwise_24x11", func(th theme.Theme) string { return Handwheel(true, false, "0 turns 12.8", 24, 11, th) })
	both(t, "handwheel_anticlockwise_34x17", func(th theme.Theme) string { return Handwheel(false, false, "1 turn 16.6 div", 34, 17, th) })
	both(t, "handwheel_small_16x7", func(th theme.Theme) string { return Handwheel(false, false, "12.8", 16, 7, th) })
}

func TestGoldenBig(t *testing.T) {
	for name, text := range map[string]string{
		"station": "station 120°",
		"stop":    "stop at −0.113",
		"wind":    "X  clockwise 1 turn 16.6 div",
		"upper":   "ABCDEFGHIJKLMNOPQRSTUVWXYZ",
		"lower":   "abcdefghijklmnopqrstuvwxyz",
		"figures": "0123456789 .,:;+-−±=×/%°",
		"signs":   "'\"()[]?!*_|<>→←↑↓↻↺⌀µσ·…▸✓✗é",
	} {
		larger, ok := big(text, 200, 4, false)
		smaller, okSmaller := big(text, 80, 4, false)
		hashed, okHashed := big(text, 200, 8, true)
		if !ok || !okSmaller || !okHashed {
			t.Errorf("%s does not fit: 200×4 %v, 80×4 %v, plain 200×8 %v", name, ok, okSmaller, okHashed)
		}
		golden(t, "big_"+name+"_200x4", larger)
		golden(t, "big_"+name+"_80x4", smaller)
		golden(t, "big_"+name+"_plain", hashed)
	}
}

// An outline's pieces, as the plan draws them: lines, arcs, a label that is cut off.
func TestGoldenCanvas(t *testing.T) {
	draw := func(plain bool) string {
		c := newCanvas(40, 14, plain)
		c.Fit(geom.Point{X: -32, Y: -16}, geom.Point{X: 32, Y: 16})
		c.Line(geom.Point{X: -20, Y: -14}, geom.Point{X: 20, Y: -14}, pen{Weight: medium})
		c.Line(geom.Point{X: -20, Y: 14}, geom.Point{X: 20, Y: 14}, pen{Weight: medium, Dash: 3})
		c.Arc(geom.Point{X: 20}, 14, geom.FromDegrees(-90), geom.FromDegrees(90), pen{Weight: heavy})
		c.Arc(geom.Point{X: -20}, 14, geom.FromDegrees(90), geom.FromDegrees(270), pen{Weight: thin})
		c.Ellipse(geom.Point{}, [2][2]float64{{64, 24}, {24, 25}}, pen{Weight: medium})
		c.Cross(geom.Point{X: 20}, 3, heavy)
		c.Cross(geom.Point{X: -20}, 3, heavy)
		c.Label(geom.Point{X: 20, Y: -5}, "R 14", heavy)
		c.Label(geom.Point{X: 33, Y: 12}, "cut off", medium)
		return joined(c)
	}
	golden(t, "canvas_40x14", draw(false))
	golden(t, "canvas_40x14_plain", draw(true))
}
