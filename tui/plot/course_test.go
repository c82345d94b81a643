package plot

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/tui/theme"
)

// walking is a fixture that goes by 0.006 a part in a band of 0.02; part 4 was not measured, part 6 is told with a word.
func walking(parts int) Course {
	c := Course{Title: "centre x", Band: 0.02, Upper: "+0.020", Zero: "0", Lower: "-0.020"}
	for n := 1; n <= parts; n++ {
		p := Passed{N: n, V: 0.006 * float64(n-1), U: 0.003}
		switch n {
		case 4:
			p.V, p.U = math.NaN(), math.NaN()
		case 6:
			p.Word = "heads out"
		}
		c.Points = append(c.Points, p)
	}
	return c
}

func TestGoldenCourse(t *testing.T) {
	both(t, "course_40x11", func(th theme.Theme) string { return Drift(walking(6), 40, 11, th) })
	both(t, "course_24x8", func(th theme.Theme) string { return Drift(walking(12), 24, 8, th) })
	golden(t, "course_40x11_colour", Drift(walking(6), 40, 11, colourful(false)))
}

// Rows by hand: of 2 to 22 the middle is 12, the scale reaches 0.1, so that a row is a hundredth; the band of 0.05 is at 7 and 17,
// a value of +0.08 ± 0.02 stands at 4 with its bar from 2 to 6, one of −0.03 at 15.
func TestCourseRows(t *testing.T) {
	c := Course{Band: 0.05, Points: []Passed{{N: 1, V: 0.08, U: 0.02}, {N: 2, V: -0.03}}}
	rows := strings.Split(Drift(c, 40, 24, colourless(true)), "\n")
	find := func(rows []string, sign byte) (at []int) {
		for i, r := range rows {
			if strings.IndexByte(r, sign) >= 0 {
				at = append(at, i)
			}
		}
		return at
	}
	if got := find(rows, 'o'); len(got) != 2 || got[0] != 4 || got[1] != 15 {
		t.Errorf("values in rows %v, want 4 and 15", got)
	}
	if got := find(rows, '|'); len(got) != 4 || got[0] != 2 || got[3] != 6 {
		t.Errorf("bar in rows %v, want 2, 3, 5, 6", got)
	}
	if got := find(rows, '-'); len(got) != 2 || got[0] != 7 || got[1] != 17 {
		t.Errorf("band in rows %v, want 7 and 17", got)
	}
	far := Course{Band: 0.05, Points: []Passed{{N: 1, V: 0.3}, {N: 2, V: -0.3, U: math.Inf(1)}}}
	rows = strings.Split(Drift(far, 40, 24, colourless(true)), "\n")
	if up, down := find(rows, '^'), find(rows, 'v'); len(up) != 1 || up[0] != 2 || len(down) != 1 || down[0] != 22 {
		t.Errorf("farther than the scale: ^ in rows %v, v in %v; want 2 and 22", up, down)
	}
}
