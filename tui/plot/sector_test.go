package plot

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
)

// Every letter of the hatch stands on the circle inside the sector, the sector's middle has one, and
// a narrow sector still shows; the caption says what they mean, where there is room.
func TestHatchStandsInItsSector(t *testing.T) {
	const w, h = 60, 24
	for _, plain := range []bool{false, true} {
		for _, c := range [][2]float64{{80, 130}, {200, 215}, {350, 380}, {90, 91}, {10, 355}} {
			from, to := c[0], c[1]
			p := Picture{Radius: 30, Blocked: []Sector{{geom.FromDegrees(from), geom.FromDegrees(to)}}}
			lines := strings.Split(Radial(p, w, h, colourless(plain)), "\n")
			caption := lines[h-1]
			if strings.TrimSpace(caption) != "/ can't reach" {
				t.Errorf("caption %q", caption)
			}
			n, middle := 0, false
			for row, line := range lines[:h-1] {
				for col, r := range []rune(line) {
					if r != '/' {
						continue
					}
					n++
					// A cell is about twice as high as wide; one cell of play for its size.
					x, y := float64(col)-float64(w-1)/2, 2*(float64(h-2)/2-float64(row))
					off := math.Remainder(math.Atan2(y, x)*180/math.Pi-(from+to)/2, 360)
					play := 2 / math.Hypot(x, y) * 180 / math.Pi
					if math.Abs(off) > (to-from)/2+play {
						t.Errorf("plain %v, %v° to %v°: hatched %v° from its middle", plain, from, to, off)
					}
					middle = middle || math.Abs(off) < play
				}
			}
			if n == 0 || !middle || float64(n) > 1+to-from {
				t.Errorf("plain %v, %v° to %v°: %d cells hatched, the middle %v", plain, from, to, n, middle)
			}
		}
	}
}

// The tick of a station that was left out, at an edge, and the ring round the next one keep every
// dot of theirs; a sector too narrow to stand clear of its station shows all the same. The caption
// never grows out of the picture.
func TestHatchGivesWay(t *testing.T) {
	from, to, next := geom.FromDegrees(60), geom.FromDegrees(110), geom.FromDegrees(110)
	p := Picture{Radius: 30, Stations: []Mark{{Bearing: from}}, Next: &next,
		Blocked: []Sector{{from, to}, {geom.Bearing(math.NaN()), 1}, {0, geom.Bearing(math.Inf(1))}, {2, 1}}}
	free := Picture{Radius: 30}
	only := p
	only.Blocked = nil
	pic := drawn(p, 60, 24)
	if !strings.Contains(pic, "//") {
		t.Fatalf("nothing is hatched:\n%s", pic)
	}
	if gone := without(without(dotsOf(drawn(only, 60, 24)), dotsOf(drawn(free, 60, 24))), dotsOf(pic)); len(gone) > 0 {
		t.Errorf("dots of stations have gone: %v\n%s", gone, pic)
	}
	narrow := Picture{Radius: 30, Stations: []Mark{{Bearing: from}}, Blocked: []Sector{{from - geom.Degree, from}}}
	if pic := drawn(narrow, 60, 24); strings.Count(pic, "/") != 2 {
		t.Errorf("a sector of 1° has no mark beside the caption's:\n%s", pic)
	}
	for w := radialMinWidth; w < 60; w++ {
		for _, line := range strings.Split(drawn(p, w, 16), "\n") {
			if widthOf(line) != w {
				t.Errorf("a line of %d cells in a picture %d wide: %q", widthOf(line), w, line)
			}
		}
	}
}
