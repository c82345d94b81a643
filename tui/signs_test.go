package tui_test

import (
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/session"
)

// A sign is checked by a key: the list says how, in the hand's order, and has every answer by its number, those of the sign that
// comes next first, and the other signs below them.
func TestSigns(t *testing.T) {
	d := loaded(t, real(t, nil)).Type("g").Expect(Line("press the tip in with a finger"), Line("1  the needle went up (+ u)"),
		Line("2  the needle went down (- d)"), Line("3  the needle did not move"), Line("4  check the sign of the X slide"))
	d.Type("1").Enter().Expect(Line("tip pressed: the needle went up, as job and machine say"))
	d.Type("g").Expect(Line("the tip at 0°, hand off"), Line("wind X clockwise"), Line("4  the needle moved only on the way back"))
	d.Type("-").Expect(Line("X clockwise at 0°: the needle went down, against what job and machine say"))
	d.Type("g3").Enter().Expect(Line("the needle did not move")).Type("/")
	s := d.state()
	if f, slides := s.Faulty(); f != advice.EitherFault || len(slides) != 1 || slides[0] != "x" {
		t.Errorf("at fault: %q of %v, want touch or clockwise of x", f, slides)
	}
	d.Type("/").Expect(Line("taken back: the sign check"))
	d.Type("g").Enter() // nothing typed: nothing happens
	if got := len(d.state().Senses); got != 1 {
		t.Errorf("%d sign checks, want the tip's", got)
	}
	d.Type("g0.25").Enter().Readings(0.25) // not an answer
}

// Nothing of what a list of answers asks is cut, nor of its lines, in a window of 80 columns, of 60 and of 40; what the hand does
// first stands first.
func TestSignsAreToldWhole(t *testing.T) {
	for _, w := range []int{80, 60, 40} {
		for _, h := range []int{24, 18, 14} {
			d := loaded(t, real(t, nil)).Type("g1").Enter().Size(w, h).Type("g")
			said := ""
			for range 5 {
				said += pageOf(d.Screen()) + " "
				d.Type("0").Enter()
			}
			at := 0
			for _, words := range []string{"the tip at 0°, hand off: facing the handle", "wind X clockwise until its backlash is taken up",
				"and back again the take-up way: did the needle go up or down?", "the needle went up", "the needle went down",
				"the needle did not move", "the needle moved only on the way back", "check the tip's sign"} {
				i := strings.Index(said[at:], words)
				if i < 0 {
					t.Fatalf("%d × %d: %q is not told behind the others:\n%s\n%s", w, h, words, said, d.Screen())
				}
				at += i
			}
		}
	}
}

// pageOf is the text of the page between the two rules of a screen, without the numbers of its lines and what leads on.
func pageOf(screen string) string {
	var out []string
	rules := 0
	for _, l := range strings.Split(screen, "\n") {
		if strings.HasPrefix(l, "───") {
			rules++
		} else if f := strings.Fields(l); rules == 1 && len(f) > 0 && f[0] != "0" {
			if _, err := strconv.Atoi(f[0]); err == nil {
				f = f[1:]
			}
			out = append(out, f...)
		}
	}
	return strings.Join(out, " ")
}

// A second sweep at another height is begun by a key and ends by itself; the first one stands again, and
// the tilt beside it.
func TestHeightByKey(t *testing.T) {
	st := &stand{41.7, -0.11, 0.15}
	d := st.work(loaded(t, real(t, nil)), 20, session.ForWind)
	d.Type("z").Expect(Line("second sweep, how far above this one (mm)")).Type("high").Enter().Expect(Line("not a number"))
	d.Type("z").Type("30").Enter().Expect(Line("second sweep, 30.000 mm above the first"))
	st.ex -= 0.03 // where the reference is met now
	st.work(d, 6, session.ForWind)
	d.Expect(Line("tilt 0.1"), Line("going up"), Line("wind 1 of 3"))
}

// A key goes from the one frame to the ring's figures and back; the column says which it is.
func TestRingFigures(t *testing.T) {
	d := loaded(t, real(t, nil)).Type("x").Expect(Line("ring", "read"), Line("swing to ring 0°"))
	d.Type("x").Expect(Line("bearing", "read"), Line("swing to bearing 0° (ring 0°)"))
}
