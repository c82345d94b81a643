package drawing_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"pgregory.net/rapid"
)

// A block in place is what plain transforms of its points make of it: base taken off, scaled, turned,
// moved, and mirrored where its normal points down; in a block in a block as well.
func TestBlocksAgainstPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, most float64) float64 { return rapid.Float64Range(-most, most).Draw(t, name) }
		type put struct {
			base, at   geom.Point
			sx, sy, by float64
			down       bool
		}
		var puts [2]put
		var inserts [2]string
		for i := range puts {
			k := rapid.Float64Range(0.2, 5).Draw(t, "scale")
			puts[i] = put{geom.Point{X: number("bx", 50), Y: number("by", 50)}, geom.Point{X: number("x", 500), Y: number("y", 500)},
				k, k, number("turn", 360), rapid.Bool().Draw(t, "down")}
			if rapid.Bool().Draw(t, "mirror") {
				puts[i].sx = -k
			}
			p := puts[i]
			down := 1
			if p.down {
				down = -1
			}
			inserts[i] =
				fmt.Sprintf("0\nINSERT\n8\nin\n2\nB%d\n10\n%.17g\n20\n%.17g\n41\n%.17g\n42\n%.17g\n50\n%.17g\n210\n0\n220\n0\n230\n%d\n",
					i, p.at.X, p.at.Y, p.sx, p.sy, p.by, down)
		}
		c, r := geom.Point{X: number("cx", 100), Y: number("cy", 100)}, rapid.Float64Range(0.5, 80).Draw(t, "r")
		from, sweep := number("from", 360), rapid.Float64Range(1, 359).Draw(t, "sweep")
		block := func(i int, inside string) string {
			return fmt.Sprintf("0\nBLOCK\n2\nB%d\n10\n%.17g\n20\n%.17g\n%s0\nENDBLK\n", i, puts[i].base.X, puts[i].base.Y, inside)
		}
		s := "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n" + block(0,
			arcText("0", c, r, from, from+sweep)) +
			block(1, inserts[0]) + "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + inserts[1] + "0\nENDSEC\n0\nEOF\n"
		out, err := drawing.ReadDXF([]byte(s), drawing.Options{Gap: -1})
		if err != nil {
			t.Fatal(err)
		}
		move := func(q geom.Point) geom.Point {
			for _, p := range puts {
				q = q.Sub(p.base)
				q = geom.Point{X: q.X * p.sx, Y: q.Y * p.sy}
				sin, cos := math.Sincos(p.by * math.Pi / 180)
				q = geom.Point{X: q.X*cos - q.Y*sin, Y: q.X*sin + q.Y*cos}.Add(p.at)
				if p.down {
					q.X = -q.X
				}
			}
			return q
		}
		e := out.Open[0].Chain[0]
		for _, part := range []float64{0, 0.25, 0.5, 1} {
			want := move(c.Along(geom.FromDegrees(from+part*sweep), r))
			if off := e.At(part).Sub(want).Norm(); off > 1e-9*(1+r*25) {
				t.Fatalf("at %v: %v, want %v", part, e.At(part), want)
			}
		}
		if off := e.Centre.Sub(move(c)).Norm(); off > 1e-9 {
			t.Fatalf("centre %v, want %v", e.Centre, move(c))
		}
		if out.Open[0].From[0].Layer != "in" || out.Open[0].From[0].Block != "B0" {
			t.Fatalf("from %+v", out.Open[0].From[0])
		}
	})
}

// A block at a quarter turn stands as the axes do, to the last digit: (8, 3) of it comes to (8, 3), (-3, 8), (-8, -3) and (3, -8) by
// the turns of a plane, whether they are written forwards or back.
func TestBlocksAtQuarterTurns(t *testing.T) {
	const s = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB\n10\n0\n20\n0\n%s0\nENDBLK\n" +
		"0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n8\nin\n2\nB\n10\n100\n20\n200\n50\n%v\n0\nENDSEC\n0\nEOF\n"
	for turn, want := range map[float64]geom.Point{0: {X: 8, Y: 3}, 90: {X: -3, Y: 8}, 180: {X: -8, Y: -3}, 270: {X: 3, Y: -8},
		-90: {X: 3, Y: -8}, -180: {X: -8, Y: -3}, -270: {X: -3, Y: 8}, 360: {X: 8, Y: 3}, 450: {X: -3, Y: 8}, -360: {X: 8, Y: 3}} {
		out, err := drawing.ReadDXF([]byte(fmt.Sprintf(s, lineText("0", geom.Point{}, geom.Point{X: 8, Y: 3}), turn)), drawing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if e := out.Open[0].Chain[0]; e.Start != (geom.Point{X: 100, Y: 200}) || e.End.Sub(e.Start) != want {
			t.Errorf("turned by %v: from %v to %v, want %v on", turn, e.Start, e.End, want)
		}
	}
}
