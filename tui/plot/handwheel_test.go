package plot

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/tui/theme"
)

// The head of the arrow is the heavier end of the arc over the wheel: on the right for
// clockwise, seen facing the handle, and the two pictures are mirror images in their upper part.
func TestHandwheelTurnsTheRightWay(t *testing.T) {
	for _, size := range []struct{ w, h int }{{16, 7}, {24, 11}, {34, 17}, {60, 30}} {
		draw := func(clockwise bool) string {
			return Handwheel(clockwise, false, "7.5", size.w, size.h, colourless(false))
		}
		cw, ccw := draw(true), draw(false)
		upper := size.h / 3
		right, left := dotsOf(crop(cw, upper)), dotsOf(crop(ccw, upper))
		headR, _ := mean(without(right, left))
		headL, _ := mean(without(left, right))
		if middle := float64(size.w) - 0.5; headR <= middle || headL >= middle || math.Abs(headR+headL-2*middle) > 1.5 {
			t.Errorf("%v: head at %.1f clockwise, %.1f anticlockwise, want right and left of %.1f alike", size, headR, headL, middle)
		}
		for text, pic := range map[string]string{"↻ clockwise": cw, "↺ anticlockwise": ccw} {
			if !strings.Contains(pic, " "+text) && !strings.Contains(pic, "\n"+text) {
				t.Errorf("%v: %q is missing\n%s", size, text, pic)
			}
		}
	}
	plain := colourless(true)
	for _, size := range []struct{ w, h int }{{16, 7}, {34, 17}} {
		cw, ccw := Handwheel(true, false, "7.5", size.w, size.h, plain), Handwheel(false, false, "7.5", size.w, size.h, plain)
		if !strings.Contains(cw, ">") || strings.Contains(cw, "<") || !strings.Contains(ccw, "<") || strings.Contains(ccw, ">") {
			t.Errorf("%v: plain heads are wrong\n%s\n%s", size, cw, ccw)
		}
	}
}

// The figure is whole or the picture is not there at all.
func TestHandwheelKeepsItsFigure(t *testing.T) {
	for _, plain := range []bool{false, true} {
		th := colourless(plain)
		for _, figure := range []string{"7.5", "12.8", "0 turn 12.8", "1 turn 12.8 div", "12 turns 49.9 div"} {
			drawn := 0
			for w := range 60 {
				for h := range 25 {
					pic := Handwheel(true, false, figure, w, h, th)
					if pic == "" {
						continue
					}
					drawn++
					if covers(pic, Handwheel(true, false, "", w, h, th), h-1) {
						t.Errorf("plain %v, %d×%d: %q covers the wheel\n%s", plain, w, h, figure, pic)
					}
					if !strings.Contains(strings.Join(strings.Fields(lettersOf(pic)), " "), figure) {
						t.Errorf("plain %v, %d×%d: %q is not whole\n%s", plain, w, h, figure, pic)
					}
				}
			}
			if drawn == 0 {
				t.Errorf("plain %v: %q is never drawn", plain, figure)
			}
		}
		if got := Handwheel(true, false, strings.Repeat("9", 300), 60, 25, th); got != "" {
			t.Errorf("plain %v: a figure that cannot fit is drawn:\n%s", plain, got)
		}
	}
}

// covers reports whether the first rows of a picture differ from a bare one where the bare one is
// not blank.
func covers(pic, bare string, rows int) bool {
	a, b := []rune(crop(pic, rows)), []rune(crop(bare, rows))
	for i := range b {
		if b[i] != ' ' && a[i] != b[i] {
			return true
		}
	}
	return false
}

// lettersOf keeps letters, digits and points of a drawing, and leaves out the marks of the plain
// wheel: a single o, or the @ of its handle, is rim.
func lettersOf(pic string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'a' && r <= 'z' && r != 'o' || r == '.' {
			return r
		}
		return ' '
	}, pic)
}

func TestHandwheelBelowItsSize(t *testing.T) {
	for _, th := range []theme.Theme{colourless(false), colourless(true)} {
		for _, c := range []struct {
			w, h  int
			empty bool
		}{{14, 7, false}, {13, 7, true}, {14, 6, true}, {0, 0, true}, {-5, 3, true}} {
			if got := Handwheel(true, false, "5", c.w, c.h, th); (got == "") != c.empty {
				t.Errorf("%d×%d: empty is %v, want %v", c.w, c.h, got == "", c.empty)
			}
		}
	}
}

// Where another movement comes before, the caption says that this is the last.
func TestHandwheelSaysLast(t *testing.T) {
	for _, c := range []struct {
		w    int
		want string
	}{{30, "last ↻ clockwise"}, {16, "last ↻ clockwise"}, {15, "↻ clockwise"}} {
		rows := strings.Split(Handwheel(true, true, "7.5", c.w, 11, colourless(false)), "\n")
		if got := strings.TrimSpace(rows[len(rows)-1]); got != c.want {
			t.Errorf("%d wide: %q, want %q", c.w, got, c.want)
		}
	}
}
