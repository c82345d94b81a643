package lines_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// inPasses is a setting that is accepted, its arc of 40 in a hollow cut 6 deep by 2 with a spring pass; so much of the order is done.
func inPasses(turned bool, arc *part.Picked, entry setup.WayIn, done int) *session.State {
	s := cutting(turned, true, arc)
	c := s.Set.Job.Cut
	c.Stock, c.Depth, c.Step, c.Spring, c.Entry = 0, 6, 2, true, entry
	s.Set.Order, s.Phase = 2, session.Cutting
	all, _ := s.Chores()
	if slices.Contains(all, session.SetStops) { // where a drawing tells the ends
		done++
	}
	for _, c := range all[:done] {
		s.Worked = append(s.Worked, session.Worked{Step: c})
	}
	return s
}

// What the hand does comes in the order in which it does it: depth, where it goes down, start, which way, stop, out and back lifted.
// Where the arc's wall has an element beside it the cutter goes down at the start itself, for ahead of it that wall would be cut. The
// ring of the head is figured clockwise: 70° is 290 on it.
func TestPassWords(t *testing.T) {
	arc := part.Picked{Part: "plate", N: 1, Radius: 40, From: geom.FromDegrees(20), To: geom.FromDegrees(70), Side: "outside", Cutter: 6,
		Swing: 37, Sense: "clockwise"}
	past, cutter := geom.FromDegrees(0.5), geom.FromDegrees(90)
	beside, corner, table, whole, slot := arc, arc, arc, arc, arc
	beside.AtTo = &part.Window{Past: &past, Short: geom.FromDegrees(1)}
	corner.BeforeTo = geom.FromDegrees(5)
	table.CutterBearing, table.Sense = &cutter, "anticlockwise"
	whole.From, whole.To = 0, geom.FromDegrees(360)
	slot.Sense = "none"
	const run = "start at 70° (ring 290°), swing clockwise from above through 50°, stop at 20° (ring 340°)"
	const climbs = "; lift out at the stop, go back lifted (back in the cut climbs)"
	for _, c := range []struct {
		name string
		s    *session.State
		want []string
	}{
		{"first", inPasses(false, &arc, setup.WayInOff, 6), []string{"pass 1 of 3, depth 2.0 mm from the top of the stock; go down " +
			"off the part, lock the quill at that depth, come up to the start in the cutting sense: " + run + climbs,
			"pass 1 of 3, depth 2.0 mm: start 70° (ring 290°), clockwise 50° from above, stop 20° (ring 340°); lift out, back lifted",
			"", "pass 1 of 3"}},
		{"second", inPasses(false, &arc, setup.WayInOff, 7), []string{"pass 2 of 3, depth 4.0 mm from the top of the stock; down " +
			"where you went in before, lock the quill at that depth, come up to the start in the cutting sense: " + run + climbs}},
		{"spring", inPasses(false, &arc, setup.WayInOff, 9), []string{"spring pass, depth 6.0 mm again, nothing wound: the same way " +
			"once more, for what the cutter has sprung away; down where you went in before, lock the quill at that depth, come up to the " +
			"start in the cutting sense: " + run + climbs, "", "", "spring pass"}},
		{"nobody says where", inPasses(false, &arc, "", 6), []string{"pass 1 of 3, depth 2.0 mm from the top of the stock; enter off " +
			"the metal: in the waste, off the part or in a drilled hole, lock the quill at that depth, come up to the start in the " +
			"cutting sense: " + run + climbs}},
		{"beside another", inPasses(false, &beside, setup.WayInWaste, 6), []string{"pass 1 of 3, depth 2.0 mm from the top of the " +
			"stock; go down at the start itself, in the waste; ahead of it the cutter would gouge the element next to the arc, lock the quill at that depth: " + run +
			"; start between 70.5° (ring 289.5°) and 69° (ring 291°), rather short" + climbs}},
		{"in a corner", inPasses(false, &corner, setup.WayInWaste, 6), []string{"pass 1 of 3, depth 2.0 mm from the top of the stock; " +
			"go down at the start itself, in the waste; ahead of it the cutter would gouge the element next to the arc, lock the quill at that depth: start at 65° " +
			"(ring 295°), swing clockwise from above through 45°, stop at 20° (ring 340°)" + climbs}},
		{"table", inPasses(true, &table, setup.WayInHole, 6), []string{"pass 1 of 3, depth 2.0 mm from the top of the stock; go down " +
			"in the drilled hole, lock the quill at that depth, come up to the start in the cutting sense: start with the table at 20° " +
			"(ring 20°), turn it anticlockwise from above through 50°, stop at 70° (ring 70°)" + climbs}},
		{"all round", inPasses(false, &whole, setup.WayInWaste, 6), []string{"pass 1 of 3, depth 2.0 mm from the top of the stock; go " +
			"down in the waste, lock the quill at that depth: start anywhere, swing all round, clockwise from above, one turn and a " +
			"little" + climbs}},
		{"slot", inPasses(false, &slot, setup.WayInHole, 7), []string{"pass 2 of 3, depth 4.0 mm from the top of the stock; down " +
			"where you went in before, lock the quill at that depth, come up to the start in the cutting sense: start at 20° (ring 340°), " +
			"swing anticlockwise from above through 50°, stop at 70° (ring 290°); or back again: neither way is conventional on both " +
			"walls; lift out at the stop, go back lifted"}},
		{"no drawing", inPasses(false, nil, setup.WayInOff, 6), []string{"pass 1 of 3, depth 2.0 mm from the top of the stock; go " +
			"down off the part, lock the quill at that depth, come up to the start in the cutting sense: swing clockwise from above, for a " +
			"cutter that turns clockwise from above" + climbs}},
	} {
		got := lines.ChoreWords(c.s, session.Pass, geom.Millimetre)
		for i, want := range c.want {
			if want != "" && (i >= len(got) || got[i] != want) {
				t.Errorf("%s:\n%q, want\n%q", c.name, got[min(i, len(got)-1)], want)
			}
		}
		if at := lines.ChoreWordsAt(c.s, session.Pass, len(c.s.Worked), geom.Millimetre); at[0] != got[0] {
			t.Errorf("%s: at its place it is %q", c.name, at[0])
		}
	}
}

// A depth is told as a quill is set: to hundredths of a millimetre, at least a tenth; to thousandths of an inch.
func TestDepthWords(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		u    geom.Unit
		want string
	}{{4, geom.Millimetre, "4.0 mm"}, {5.0 / 3, geom.Millimetre, "1.67 mm"}, {2.5, geom.Millimetre, "2.5 mm"},
		{0.25, geom.Millimetre, "0.25 mm"}, {6.35, geom.Inch, "0.250 in"}, {25.4 / 12, geom.Inch, "0.083 in"}} {
		if got := lines.DepthWords(c.mm, c.u); got != c.want {
			t.Errorf("%v mm in %v: %q, want %q", c.mm, c.u, got, c.want)
		}
	}
}

// The depths count from the top of the stock, so the quill is set to zero there before the first power, and not again before the next.
func TestQuillIsZeroedOnce(t *testing.T) {
	arc := part.Picked{From: geom.FromDegrees(20), To: geom.FromDegrees(70), Side: "outside", Cutter: 6, Swing: 37, Sense: "clockwise"}
	s := inPasses(false, &arc, "", 0)
	s.Set.Job.Cut.Stock, s.Set.Machine.Slides = 0.3, []slide.Slide{{Name: "offset"}}
	all, _ := s.Chores()
	n := 0
	for i, c := range all {
		if c != session.Power {
			continue
		}
		zero := strings.Contains(lines.ChoreWordsAt(s, c, i, geom.Millimetre)[0], "touch the cutter to the top of the stock")
		if n++; zero != (n == 1) {
			t.Errorf("power %d: %q", n, lines.ChoreWordsAt(s, c, i, geom.Millimetre)[0])
		}
	}
	if n != 2 {
		t.Errorf("power comes on %d times of %v, want 2", n, all)
	}
	s.Set.Job.Cut.Depth, s.Set.Job.Cut.Step = 0, 0
	if got := lines.ChoreWords(s, session.Power, geom.Millimetre)[0]; !strings.Contains(got, "height to the depth, quill locked") {
		t.Errorf("without a depth: %q", got)
	}
}

// A pass that was left out has cut nothing: the next one says how much deeper it goes at once than its step, and nobody has gone in
// before where no pass was made. Depths by hand: 6 in steps of 2.
func TestPassBehindOneLeftOut(t *testing.T) {
	for _, c := range []struct {
		name         string
		made         []bool // of the passes before
		want, wanted string // what is said, and what is not
	}{
		{"the first", []bool{false}, "passes were left out: 4.0 mm at once, more than the step of 2.0 mm: go down by steps of 2.0 mm " +
			"at most, each over the same way; go down off the part", "went in before"},
		{"the second", []bool{true, false}, "passes were left out: 4.0 mm at once, more than the step of 2.0 mm", "go down off the part"},
		{"both", []bool{false, false}, "passes were left out: 6.0 mm at once, more than the step of 2.0 mm", "went in before"},
		{"none", []bool{true, true}, "down where you went in before", "left out"},
		{"the last, and the spring pass is on", []bool{true, true, false}, "the pass to this depth was left out: this one cuts 2.0 mm",
			"at once"},
	} {
		s := inPasses(false, nil, setup.WayInOff, 6)
		if all, done := s.Chores(); all[len(done)] != session.Pass {
			t.Fatalf("asked for %q, want a pass", all[len(done)])
		}
		for _, made := range c.made {
			s.Worked = append(s.Worked, session.Worked{Step: session.Pass, Skipped: !made})
		}
		got := lines.ChoreWords(s, session.Pass, geom.Millimetre)[0]
		if !strings.Contains(got, c.want) || strings.Contains(got, c.wanted) {
			t.Errorf("%s left out: %q, want %q, and not %q", c.name, got, c.want, c.wanted)
		}
	}
}
