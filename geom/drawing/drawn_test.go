package drawing_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

// Drawings written by another implementation (ezdxf), and where their elements lie by plain point
// transforms: testdata/drawing/make.py.
const drawings = "../../testdata/drawing"

type trueElement struct {
	Kind, Layer string
	Start, End  [2]float64
	Centre      [2]float64
	Radius      float64
	From, Sweep float64 // degrees, counter-clockwise
}

type trueFile struct {
	Release   string
	Unit      geom.Unit
	Elements  []trueElement
	LeftOut   map[string]int `json:"left_out"`
	Stretched int
	Tilted    int
	Paper     int
}

func truth(t *testing.T) map[string]trueFile {
	t.Helper()
	var all struct{ Files map[string]trueFile }
	if err := json.Unmarshal(bytesOf(t, "true.json"), &all); err != nil {
		t.Fatal(err)
	}
	if len(all.Files) != 13 {
		t.Fatalf("%d drawings, want twelve of six releases and the quadrant plate", len(all.Files))
	}
	return all.Files
}

func bytesOf(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(drawings, name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What rounding leaves of coordinates of up to some metres.
const (
	exactMM  = 1e-9
	exactDeg = 1e-9
)

// far tells how far an element is from what is true, in parts of what is allowed.
func (w trueElement) far(e geom.Element, layer string) float64 {
	if layer != w.Layer || e.Curved() != (w.Kind == "arc") {
		return math.Inf(1)
	}
	point := func(p [2]float64) geom.Point { return geom.Point{X: p[0], Y: p[1]} }
	if !e.Curved() {
		one := max(e.Start.Sub(point(w.Start)).Norm(), e.End.Sub(point(w.End)).Norm())
		other := max(e.End.Sub(point(w.Start)).Norm(), e.Start.Sub(point(w.End)).Norm())
		return min(one, other) / exactMM
	}
	from, to := e.Span()
	begin := 0.0
	if w.Sweep < 360 {
		begin = from.Apart(geom.FromDegrees(w.From)) * 180 / math.Pi
	}
	return max(max(e.Centre.Sub(point(w.Centre)).Norm(), math.Abs(e.Radius-w.Radius))/exactMM,
		max(begin, math.Abs((to-from).Degrees()-w.Sweep))/exactDeg)
}

// match pairs what was read with what is true.
func match(t *testing.T, name string, out drawing.Outline, want []trueElement) {
	t.Helper()
	left := slices.Clone(want)
	for _, path := range slices.Concat(out.Loops, out.Open) {
		for i, e := range path.Chain {
			best, least := -1, 1.0
			for k, w := range left {
				if far := w.far(e, path.From[i].Layer); far < least {
					best, least = k, far
				}
			}
			if best < 0 {
				t.Errorf("%s: %v (%+v) is none of what was drawn", name, path.From[i], e)
				continue
			}
			left = slices.Delete(left, best, best+1)
		}
	}
	for _, w := range left {
		t.Errorf("%s: not read: %+v", name, w)
	}
}

func TestDrawnFiles(t *testing.T) {
	for name, want := range truth(t) {
		text := bytesOf(t, name)
		out, err := drawing.ReadDXF(text, drawing.Options{})
		if want.Release == "R12" { // it has no place to name a unit in
			var no *drawing.UnitError
			if !errors.As(err, &no) || no.Hint() == "" {
				t.Errorf("%s: %v, want a unit to be asked for", name, err)
			}
			out, err = drawing.ReadDXF(text, drawing.Options{Unit: &want.Unit})
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if out.Unit != want.Unit {
			t.Errorf("%s: unit %v, want %v", name, out.Unit, want.Unit)
		}
		match(t, name, out, want.Elements)
		told := make(map[drawing.Kind]int)
		leftOut := map[string]int{}
		for _, n := range out.Notes {
			told[n.Kind] += n.Count
			if n.Kind == drawing.NotUnderstood {
				leftOut[n.Entity+" "+n.Layer] += n.Count
			}
		}
		if fmt.Sprint(leftOut) != fmt.Sprint(want.LeftOut) && len(leftOut)+len(want.LeftOut) > 0 {
			t.Errorf("%s: left out %v, want %v", name, leftOut, want.LeftOut)
		}
		if told[drawing.Stretched] != want.Stretched || told[drawing.Tilted] != want.Tilted || told[drawing.Paper] != want.Paper {
			t.Errorf("%s: %d stretched, %d tilted, %d on paper, want %d, %d, %d", name, told[drawing.Stretched], told[drawing.Tilted],
				told[drawing.Paper],
				want.Stretched, want.Tilted, want.Paper)
		}
		if len(want.LeftOut) > 0 && (told[drawing.LayerOff] != 1 || told[drawing.LayerFrozen] != 1) {
			t.Errorf("%s: %d entities on layers that are off, %d on frozen ones, want 1 and 1", name, told[drawing.LayerOff],
				told[drawing.LayerFrozen])
		}
	}
}
