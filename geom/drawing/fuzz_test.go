package drawing_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
)

// FuzzDXF: whatever the bytes, the reader neither panics nor hangs nor says anything that cannot be
// printed; what it returns is finite, bounded, and every element has its source.
func FuzzDXF(f *testing.F) {
	f.Add(bytesOf(f, "mixed-r12-mm.dxf"))
	f.Add([]byte(text(lineText("a", geom.Point{}, geom.Point{X: 1}), arcText("b", geom.Point{}, 5, 10, 80))))
	f.Add([]byte(text(chords(9, true, func(i int) geom.Point { return geom.Point{}.Along(geom.FromDegrees(40*float64(i)), 9) }))))
	f.Add([]byte(text("0\nPOLYLINE\n70\n1\n0\nVERTEX\n10\n1\n42\n0.5\n0\nVERTEX\n20\n5\n0\nSEQEND\n", "0\nHATCH\n0\nINSERT\n2\nX\n")))
	f.Add([]byte("0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nA\n0\nINSERT\n2\nA\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nA\n70\n9\n44\n1\n"))
	f.Add([]byte("Drawing Binary DXF\r\n"))
	mm := geom.Millimetre
	f.Fuzz(func(t *testing.T, text []byte) {
		out, err := drawing.ReadDXF(text, drawing.Options{Unit: &mm})
		if err != nil && strings.ContainsFunc(err.Error(), func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Errorf("message %q", err)
		}
		for _, n := range out.Notes {
			if s := n.Format(geom.Inch); strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) {
				t.Errorf("note %q", s)
			}
		}
		total := 0
		for _, p := range slices.Concat(out.Loops, out.Open) {
			if len(p.Chain) != len(p.From) || len(p.Chain) == 0 {
				t.Fatalf("%d elements from %d sources", len(p.Chain), len(p.From))
			}
			total += len(p.Chain)
			for _, e := range p.Chain {
				if sum := e.Start.X + e.Start.Y + e.End.X + e.End.Y + e.Centre.X + e.Centre.Y + e.Radius +
					float64(e.Turn); math.IsNaN(sum) || math.IsInf(sum, 0) {
					t.Errorf("%+v", e)
				}
			}
		}
		if total > drawing.MaxPieces {
			t.Errorf("%d elements", total)
		}
	})
}

// FuzzTOML: whatever the text, our own form is read or refused in printable words, and what it gives is
// finite.
func FuzzTOML(f *testing.F) {
	f.Add(bytesOf(f, "quadrant-plate.toml"))
	for _, c := range badOutlines {
		f.Add([]byte(c.text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		out, err := drawing.ReadTOML(text, drawing.Options{})
		if err != nil && strings.ContainsFunc(err.Error(), func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Errorf("message %q", err)
		}
		for _, p := range slices.Concat(out.Loops, out.Open) {
			for _, e := range p.Chain {
				if sum := e.Start.X + e.Start.Y + e.End.X + e.End.Y + e.Centre.X + e.Centre.Y + e.Radius +
					float64(e.Turn); math.IsNaN(sum) || math.IsInf(sum, 0) {
					t.Errorf("%+v", e)
				}
			}
		}
	})
}
