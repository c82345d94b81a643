package tui_test

import (
	"math"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// measuredLast is the arc that the journal holds last.
func measuredLast(t *testing.T, d *driver) (last session.Worked) {
	t.Helper()
	for i, line := range d.mem.Lines {
		r, err := session.Decode(i+1, line)
		if err != nil {
			t.Fatal(err)
		}
		if w, ok := r.Event.(session.Worked); ok && w.Value != nil {
			last = w
		}
	}
	return last
}

// With the numeric keypad alone an arc is measured by a way out of the list: its number, and its figures each with Enter. A
// rim of 38.31: a chord of 30 has a sagitta of 38.31 − √(38.31² − 15²) = 3.0587, and pins of 10 on a plate lie
// 10 + 2√(43.31² − 33.31²) = 65.36 over both, by Pythagoras.
func TestWaysByKeypad(t *testing.T) {
	for _, c := range []struct {
		keys []string // each with Enter
		way  string
		want float64
	}{
		{[]string{"*1", "30", "3,0587"}, "chord", 38.31},
		{[]string{"*3", "65.3606", "10"}, "over pins", 38.31},
		{[]string{"*1", "4/30", "3.0587"}, "chord", 38.31},  // / clears what is typed
		{[]string{"*1\r/***2", "76.62"}, "diameter", 38.31}, // left, closed, and another chosen
		{[]string{"38.31"}, "", 38.31},                      // a bare radius needs no list
		{[]string{"*99\r2", "76.62"}, "diameter", 38.31},    // no such number
		{[]string{"*5", "8.31"}, "from hole", 38.31},        // about the bore of 60
	} {
		d := behind(session.Measure)(t, options{opened: benchOpened(t), colour: termenv.Ascii})
		if d.prompt().Chore.Step != session.Measure {
			t.Fatalf("the step is %s, want measure", d.prompt().Chore.Step)
		}
		d.Expect(Line("* ways"))
		for _, k := range c.keys {
			for i, part := range strings.Split(k, "\r") {
				if i > 0 {
					d.Enter()
				}
				d.Type(part)
			}
			d.Enter()
		}
		w := measuredLast(t, d)
		way := ""
		if w.By != nil {
			way = w.By.Way
		}
		if w.Step != session.Measure || math.Abs(*w.Value-c.want) > 1e-3 || way != c.way {
			t.Errorf("%q: %+v by %q, want %v by %q", c.keys, w, way, c.want, c.way)
		}
	}
}

// The list stands on the screen in every size with all its numbers, and what it cannot take is told.
func TestWaysList(t *testing.T) {
	d := behind(session.Measure)(t, options{opened: benchOpened(t), colour: termenv.Ascii}).Type("*")
	for _, size := range [][2]int{{58, 20}, {80, 24}, {120, 40}} {
		d.Size(size[0], size[1]).Fits(size[0], size[1])
		d.Expect(Line("1", "chord C sagitta H"), Line("5", "from-hole W"), Line("type a number"))
	}
	if d.Type("*"); strings.Contains(d.Screen(), "chord C sagitta H") {
		t.Error("* leaves the list open")
	}
	d.Type("*1").Enter().Enter().Expect(Line("one number; chord C"))
	d.Type("30").Enter().Type("40").Enter().Expect(Line("mm off the arc"))
	if w := measuredLast(t, d); w.Step == session.Measure {
		t.Errorf("%+v is taken", w)
	}
}

// A touched radius that contradicts the stated one is answered with the keypad: its answers stand numbered on the screen.
func TestSizeByKeypad(t *testing.T) {
	job := "unit = \"mm\"\n[setup]\nkind = \"points\"\ntouch = \"bore\"\nreference_radius = 30\ntip_diameter = 6\n[target]\n" +
		"centre_tolerance = 0.02\n[sweep]\nstations = 3\nat_least = 3\n[dial]\ngraduation = 0.005\nrepeatability = 0.003\n"
	slide := "]\ntravel_per_turn = 2.0\ndivisions = 100\nclockwise = \"increase\"\ntake_up = \"increase\"\nbacklash = 0.1\nreadout = true\n"
	o := testdata.Setting(t, []byte(job), []byte("name = \"m\"\nunit = \"mm\"\n[slide.x"+slide+"[slide.y"+slide))
	for _, c := range []struct {
		answer string
		waits  session.Waits
		sized  bool
	}{{"2", session.ForReading, false}, {"4", session.ForWind, true}, {"5", session.ForReading, false}, {"6", session.ForSize, false}} {
		d := screen(t, options{opened: o, colour: termenv.Ascii}).Enter()
		// About 12, −3, the middle of a tip of 6 on 27: 39 −3; the second, 12+27cos 120° = −1.5, has its sign wrong and a figure; …
		for _, p := range []string{"39 -3", "1.5 2.383", "-1.5 -26.383"} {
			d.Type(p).Enter()
		}
		if d.prompt().Waits != session.ForSize {
			t.Fatalf("waits for %v, want the radius questioned:\n%s", d.prompt().Waits, d.Screen())
		}
		for _, size := range [][2]int{{58, 20}, {80, 24}} {
			d.Size(size[0], size[1]).Fits(size[0], size[1])
			d.Expect(Line("2", "touch point 2 again"), Line("4", "keep, the reference is really that size"),
				Line("5", "again, all points anew"))
		}
		d.Type(c.answer).Enter()
		s := d.state()
		if d.prompt().Waits != c.waits || (s.Sized != nil) != c.sized {
			t.Errorf("%s: waits for %v, sized %v; want %v, %v", c.answer, d.prompt().Waits, s.Sized, c.waits, c.sized)
		}
	}
}

// A diameter that is typed where the radius is asked for is asked after as one, and is no reading that a dial could not show.
func TestDiameterIsAskedAfter(t *testing.T) {
	d := behind(session.CheckArc)(t, real(t, nil)).Type("76.02").Enter()
	d.Expect(Line("radius 76.02 mm is more than 5 mm off"), Line("is that the"), Line("diameter? *, then the line diameter D"))
	if page := d.Screen(); strings.Contains(page, "off the dial") {
		t.Errorf("an arc is measured by no dial:\n%s", page)
	}
	d.Waits(session.ForChore).Type("*").Type(d.number("diameter D")).Enter().Type("76.02").Enter().Waits(session.ForNothing)
}
