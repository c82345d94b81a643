package pane

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// stepped has the order at the machine asked for step by step.
func stepped(o *session.Opened) {
	o.Steps = true
	o.Job.Cut = &setup.Cut{Cutter: 8}
}

// through does what the order at the machine asks for, up to what session waits for.
func (b *bench) through(w session.Waits) *bench {
	b.t.Helper()
	for range 80 {
		switch p := b.prompt(); {
		case p.Waits == w:
			return b
		case p.Waits == session.ForChore && p.TakesReading():
			b.do(session.Take{Reading: 38.01})
		case p.Waits == session.ForChore:
			b.do(session.Confirm{})
		default:
			b.answer(1, w)
		}
	}
	b.t.Fatal("it never comes to that")
	return b
}

// The page of what was reached: accepted with nothing behind it, with steps behind it, the job done, leaning on what nobody has
// stated, in inches, in practice, and from a plan.
func TestEnds(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*session.Opened)
		to     session.Waits
		with   func(*View)
	}{
		{"accepted", nil, session.ForNothing, nil},
		{"steps", stepped, session.ForAccept, nil},
		{"done", stepped, session.ForNothing, nil},
		{"unstated", func(o *session.Opened) { o.Job.Stated = nil }, session.ForNothing, nil},
		{"inch", func(o *session.Opened) { o.Job.Unit, o.Job.Dial.Graduation = geom.Inch, 0.0005*25.4 }, session.ForNothing, nil},
		{"practice", nil, session.ForNothing, func(v *View) { v.Practice, v.Seed, v.End.Journal = true, 7, "" }},
		{"plan", nil, session.ForNothing, func(v *View) { v.End.Plan = true }},
	} {
		b := begin(t, c.change).through(c.to)
		if c.to == session.ForAccept {
			b.do(session.Accept{})
		}
		see := func(plain bool) *View {
			v := b.sees(plain)
			v.End.Journal = "2025-03-04-0900-plate-42mm.jsonl"
			if c.with != nil {
				c.with(v)
			}
			return v
		}
		var page strings.Builder
		for _, size := range [][2]int{{40, 7}, {60, 8}, {80, 14}, {120, 30}, {200, 40}} {
			leaves := Ends(see(false), size[0], size[1])
			for leaf := range leaves.N {
				fmt.Fprintf(&page, "-- %d × %d, leaf %d\n%s", size[0], size[1], leaf+1, testdata.Barred(leaves.Draw(leaf)))
			}
		}
		fmt.Fprintf(&page, "-- 80 × 14 plain\n%s", testdata.Barred(Ends(see(true), 80, 14).Draw(0)))
		golden(t, "ends/"+c.name, page.String())
	}
}

// batch sets further parts, each of which lies by so much beside the one before, and is swept but for those that are left out.
func (b *bench) batch(by []float64, unswept ...int) *bench {
	b.t.Helper()
	for i, x := range by {
		b.ex += x
		b.ey += x / 3
		if slices.Contains(unswept, i+2) {
			b.do(session.Part{How: session.PartUnswept})
			continue
		}
		b.do(session.Part{How: session.PartSwept}).through(session.ForNothing)
	}
	return b
}

// A later part's page shows how the parts have gone on, beside the text, below it, or on a leaf of its own, and says where the fixture
// heads out; so do the trials. The top line numbers the part.
func TestParts(t *testing.T) {
	b := begin(t, nil).through(session.ForNothing).batch([]float64{0.006, 0.006, 0.006, 0.006, 0.006}, 4)
	for _, plain := range []bool{false, true} {
		v := b.sees(plain)
		v.End.Journal = "2025-03-04-0900-plate-42mm.jsonl"
		var page strings.Builder
		for _, size := range [][2]int{{40, 7}, {60, 9}, {80, 16}, {120, 30}, {200, 42}} {
			fmt.Fprintf(&page, "-- %d × %d\n%s\n", size[0], size[1], Aim(v, size[0]))
			leaves := Ends(v, size[0], size[1])
			for leaf := range leaves.N {
				fmt.Fprintf(&page, "leaf %d\n%s", leaf+1, testdata.Barred(leaves.Draw(leaf)))
			}
			fmt.Fprintf(&page, "trials\n%s", testdata.Barred(Trials(v, size[0], size[1])))
		}
		name := "parts"
		if plain {
			name = "parts_plain"
		}
		golden(t, "ends/"+name, page.String())
	}
	if first := Parts(begin(t, nil).through(session.ForNothing).sees(false), 200, 40); first != nil {
		t.Errorf("the first part's: %v", first)
	}
}
