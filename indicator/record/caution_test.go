package record_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// Each caution is told at the steps and on the papers where it matters. The list is written out here once more, so that none is lost
// from the table without anybody seeing it. Common practice, no source.
func TestCautionsAreTold(t *testing.T) {
	slot, frees := record.Care{Drawn: true, Slot: true}, record.Care{Drawn: true, Frees: true}
	usual := []record.Paper{record.OnSheet, record.OnReport, record.OnHelp}
	cut, dry := []session.Chore{session.RoughCut, session.Cut, session.Pass}, []session.Chore{session.DrySwing, session.DryTurn}
	measured := []session.Chore{session.Measure, session.CheckArc, session.PartIn}
	for _, c := range []struct {
		says  string
		care  record.Care
		steps []session.Chore
		on    []record.Paper
	}{
		{"enter in the waste, off the part, or in a drilled hole", record.Care{}, []session.Chore{session.Power}, usual},
		{"in the waste neither", record.Care{Way: setup.WayInWaste}, []session.Chore{session.Power}, nil},
		{"never into the table", record.Care{}, []session.Chore{session.Power, session.Pass}, usual},
		{"never into the table", record.Care{Shallow: true}, nil, nil}, // the last pass says it
		{"lets the part go", record.Care{Drawn: true, Frees: true, Shallow: true}, nil, nil},
		{"Hands at the handle only", record.Care{}, cut, usual},
		{"never a hand, never air towards a face", record.Care{}, append([]session.Chore{session.LiftOut}, cut...), usual},
		{"Hands at the handle only", record.Care{Later: true}, nil, nil}, // the first pass says it
		{"before you measure, and before the next part is seated", record.Care{}, measured, usual},
		{"bows under its clamps", record.Care{}, []session.Chore{session.RoughIn}, usual},
		{"flutes lift thin or soft work", record.Care{}, dry, usual},
		{"what still holds the part", record.Care{}, dry, usual},
		{"climbs on one wall", record.Care{}, nil, []record.Paper{record.OnReport, record.OnHelp}},
		{"climbs on one wall", slot, cut, []record.Paper{record.OnArc}},
		{"lets the part go", frees, cut, nil},
		// What every cut is told is told once a radius; what this one does is told again with each pass.
		{"lets the part go", record.Care{Drawn: true, Frees: true, Later: true}, cut, nil},
	} {
		told := func(all []string) bool { return strings.Contains(strings.Join(all, "\n"), c.says) }
		for _, step := range session.AllChores() {
			want := false
			for _, s := range c.steps {
				want = want || s == step
			}
			if got := told(record.Cautions(c.care, step)); got != want {
				t.Errorf("%q at step %s: told %v, want %v", c.says, step, got, want)
			}
		}
		for p := record.OnSheet; p <= record.OnHelp; p++ {
			want := false
			for _, on := range c.on {
				want = want || on == p
			}
			if got := told(record.CautionsOn(c.care, p)); got != want {
				t.Errorf("%q on paper %d: told %v, want %v", c.says, p, got, want)
			}
		}
	}
	for _, drawn := range []record.Care{{Drawn: true}, slot} { // a plan that tells which arc frees the part scares with no other
		for _, step := range session.AllChores() {
			if all := strings.Join(record.Cautions(drawn, step), "\n"); strings.Contains(all, "lets") {
				t.Errorf("%+v at %s: %q", drawn, step, all)
			}
		}
	}
}

// The wall that climbs, from the teeth's own velocity: a cutter's tooth at r from its axis moves with ω × r, and where that runs the
// way the cutter is going it meets the metal head on, conventionally; where it runs the other way, it climbs. Own geometry.
func TestClimbingWall(t *testing.T) {
	for _, c := range []record.Care{{}, {Left: true}, {Table: true}, {Table: true, Left: true}} {
		c.Slot = true
		said := strings.Join(record.CautionsOn(c, record.OnArc), " ")
		for _, sense := range []string{"anticlockwise", "clockwise"} {
			// The cutter is at (R, 0) of the work, the arc's centre at its origin; it goes +Y for a head that is swung anticlockwise.
			way := 1.0
			if (sense == "clockwise") != c.Table { // the table takes the work along, the cutter goes the other way round in it
				way = -1
			}
			omega := -1.0 // clockwise from above
			if c.Left {
				omega = 1
			}
			outer := omega * 1 // ω × (1, 0) = (0, ω): the outer wall lies towards +X
			wall := "outer"
			if math.Signbit(outer) == math.Signbit(way) { // the tooth there runs ahead with the cutter: conventional
				wall = "inner"
			}
			var got string
			switch {
			case strings.Contains(said, "on the outer swung "+sense), strings.Contains(said, "on the outer with the table turned "+sense):
				got = "outer"
			case strings.Contains(said, "on the inner "+sense):
				got = "inner"
			}
			if got != wall {
				t.Errorf("%+v %s: climbs on %q, want %q, in %q", c, sense, got, wall, said)
			}
		}
	}
}
