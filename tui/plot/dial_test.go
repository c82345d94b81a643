package plot

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"github.com/charmbracelet/x/ansi"
)

func face(reading float64) string {
	return Dial(reading, 0.01, 1, geom.Millimetre, 60, 34, colourless(false))
}

// needleAt returns where the long hand points, in turns clockwise from the top: the direction of
// the dots that a reading adds to the bare face, far from the middle.
func needleAt(t *testing.T, reading float64) float64 {
	t.Helper()
	const faceRows = 34 - 4
	cx, cy := 59.5, float64(4*faceRows-1)/2
	bare, hand := dotsOf(crop(face(math.NaN()), faceRows)), map[xy]bool{}
	for d := range without(dotsOf(crop(face(reading), faceRows)), bare) {
		if r := math.Hypot(float64(d.x)-cx, float64(d.y)-cy); r > 40 {
			hand[d] = true
		}
	}
	if len(hand) == 0 {
		t.Fatalf("reading %v: no needle", reading)
	}
	x, y := mean(hand)
	turn := math.Atan2(x-cx, cy-y) / (2 * math.Pi)
	return turn - math.Floor(turn)
}

// crop keeps the first rows of a drawing.
func crop(drawing string, rows int) string {
	return strings.Join(strings.Split(drawing, "\n")[:rows], "\n")
}

func TestNeedleGoesClockwise(t *testing.T) {
	for _, c := range []struct{ reading, turn float64 }{
		{0, 0}, {0.25, 0.25}, {0.5, 0.5}, {0.75, 0.75}, {-0.25, 0.75}, {1.25, 0.25}, {-0.1, 0.9}, {0.124, 0.124}, {2, 0},
	} {
		got := needleAt(t, c.reading)
		off := math.Abs(got - c.turn)
		if off = min(off, 1-off); off > 0.006 { // half a dot at 0.9 of the radius, and the needle's width
			t.Errorf("reading %v: needle at %.3f turns, want %.3f", c.reading, got, c.turn)
		}
	}
}

// The figures count from zero both ways; + stands on the right of it, − on the left.
func TestFiguresAndSigns(t *testing.T) {
	lines := strings.Split(crop(face(0.3), 30), "\n")
	column := func(text string) (int, int) {
		for row, l := range lines {
			if i := strings.Index(l, text); i >= 0 {
				return ansi.StringWidth(l[:i]), row
			}
		}
		t.Fatalf("%q is not on the face", text)
		return 0, 0
	}
	plus, _ := column("+")
	minus, _ := column("−")
	if plus <= 30 || minus >= 30 {
		t.Errorf("+ at column %d, − at %d, want right and left of 30", plus, minus)
	}
	if col, row := column("50"); row < 20 || col < 28 || col > 31 {
		t.Errorf("50 at column %d, row %d, want at the bottom", col, row)
	}
	all := strings.Join(lines, " ")
	for text, want := range map[string]int{"10": 2, "25": 2, "40": 2, "50": 1, "60": 0, "90": 0} {
		if n := len(regexp.MustCompile(`\b`+text+`\b`).FindAllString(all, -1)); n != want {
			t.Errorf("figure %s stands %d times, want %d", text, n, want)
		}
	}
}

// The scale under the needle: the needle stands in the middle, and the division to its left is
// as many fifths away as the reading says.
func TestScaleUnderTheNeedle(t *testing.T) {
	for _, c := range []struct {
		reading float64
		left    string // figure of the mark at or to the left of the needle
		cells   int    // cells from that mark to the needle
	}{
		{0.12, "+12", 0}, {0.124, "+12", 2}, {0.128, "+12", 4}, {1.124, "+12", 2}, {-0.326, "−33", 2}, {0, "0", 0}, {-0.002, "−1", 4},
		{0.5, "+50", 0}, {0.508, "+50", 4},
	} {
		lines := strings.Split(face(c.reading), "\n")
		figures, marks := []rune(lines[30]), []rune(lines[31])
		if strings.IndexRune(lines[32], '^') != 30 {
			t.Fatalf("needle %q, want at cell 30", lines[32])
		}
		col := 30
		for marks[col] != '│' {
			col--
		}
		if 30-col != c.cells {
			t.Errorf("reading %v: mark %d cells left of the needle, want %d", c.reading, 30-col, c.cells)
		}
		width := len([]rune(c.left))
		if got := strings.TrimSpace(string(figures[col-width/2 : col-width/2+width])); got != c.left {
			t.Errorf("reading %v: figure %q, want %q (%s)", c.reading, got, c.left, string(figures))
		}
	}
}

// The small hand goes a tenth of a turn for each turn of the needle. Its circle is the only thing
// round 0.42 of the radius below the middle.
func TestSmallHandCountsTurns(t *testing.T) {
	d := dial{divisions: 100, theme: colourless(false), canvas: newCanvas(60, 30, false), radius: 59.5}
	d.smallHand()
	bare := dotsOn(d.canvas)
	for _, turns := range []float64{1, 2.5, -1, 4} {
		with := dial{turns: turns, divisions: 100, theme: d.theme, canvas: newCanvas(60, 30, false), radius: 59.5}
		with.smallHand()
		x, y := mean(without(dotsOn(with.canvas), bare))
		cx, cy, _ := d.canvas.dot(geom.Point{Y: -0.42 * d.radius})
		if got := math.Atan2(x-cx, cy-y) / (2 * math.Pi); math.Abs(got-turns/10) > 0.02 {
			t.Errorf("%v turns: small hand at %.3f, want %.3f", turns, got, turns/10)
		}
	}
	for turns, want := range map[float64]string{0.7: "turns +1", -0.326: "turns 0", -2.2: "turns −2"} {
		if got := Dial(turns, 0.01, 1, geom.Millimetre, 24, 9, colourless(false)); !strings.Contains(got, want) {
			t.Errorf("%v turns on a small face: %q is missing\n%s", turns, want, got)
		}
	}
}

func TestLegend(t *testing.T) {
	for _, c := range []struct {
		graduation, revolution float64
		unit                   geom.Unit
		w                      int
		want                   string
	}{
		{0.01, 1, geom.Millimetre, 60, "one division 0.01 mm, one turn 1 mm"},
		{0.01, 1, geom.Millimetre, 24, "one division 0.01 mm"},
		{0.01, 1, geom.Millimetre, 16, "div 0.01 mm"},
		{0.002, 0.2, geom.Millimetre, 60, "one division 0.002 mm, one turn 0.2 mm"},
		{0.0127, 1.27, geom.Inch, 60, "one division 0.0005 in, one turn 0.05 in"}, // 25.4 mm to the inch
	} {
		lines := strings.Split(Dial(0, c.graduation, c.revolution, c.unit, c.w, 20, colourless(false)), "\n")
		if got := strings.TrimSpace(lines[len(lines)-1]); got != c.want {
			t.Errorf("%v of %v in %d cells: %q, want %q", c.graduation, c.revolution, c.w, got, c.want)
		}
	}
}

func TestDialThatCannotBeDrawn(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		reading, graduation, revolution float64
		w, h                            int
		empty                           bool
	}{
		{0, 0.01, 1, 16, 7, false}, {0, 0.01, 1, 15, 7, true}, {0, 0.01, 1, 16, 6, true},
		{0, 0, 1, 40, 20, true}, {0, 0.01, 0, 40, 20, true}, {0, -0.01, 1, 40, 20, true}, {0, nan, 1, 40, 20, true},
		{0, 1, 0.5, 40, 20, true}, {0, 1e-9, 1, 40, 20, true},
		{nan, 0.01, 1, 40, 20, false}, {math.Inf(-1), 0.01, 1, 40, 20, false}, {1e300, 0.01, 1, 40, 20, false},
		{0.3, 0.03, 1, 40, 20, false}, // 33.3 divisions: no figures but the zero
	} {
		got := Dial(c.reading, c.graduation, c.revolution, geom.Millimetre, c.w, c.h, colourless(false))
		if (got == "") != c.empty {
			t.Errorf("%+v: empty is %v", c, got == "")
		}
	}
}
