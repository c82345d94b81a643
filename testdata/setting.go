package testdata

import (
	"bytes"
	"embed"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

//go:embed journal/*.jsonl journal/fields/*.jsonl drawing/quadrant-plate.dxf drawing/tensioner-two-levels.toml
var kept embed.FS

func read(t testing.TB, name string) []byte {
	t.Helper()
	text, err := kept.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// Setting is what a session is opened with by a job's and a machine's file.
func Setting(t testing.TB, jobText, machineText []byte) session.Opened {
	t.Helper()
	j, err := job.ParseJob("bench-job.toml", jobText)
	if err != nil {
		t.Fatal(err)
	}
	m, err := job.ParseMachine("bench-machine.toml", machineText)
	if err != nil {
		t.Fatal(err)
	}
	return session.Opened{Program: "trammel test", Job: j, Machine: m}
}

// Records are the events of a kept journal.
func Records(t testing.TB, name string) (all []session.Record) {
	t.Helper()
	for _, payload := range payloads(t, name) {
		r, err := session.Decode(len(all)+1, payload)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, r)
	}
	return all
}

// payloads are the lines of a journal without their checks, which belong to the file.
func payloads(t testing.TB, name string) (all [][]byte) {
	t.Helper()
	for line := range bytes.Lines(read(t, "journal/"+name)) {
		all = append(all, append(line[:bytes.LastIndex(line, []byte(`,"c":`))], '}'))
	}
	return all
}

// Plate is the plan of the quadrant plate of a bench-drill belt tensioner: 4 is its rim of radius 52 about the pivot,
// 1 the bore of radius 6. Layers are those that are cut; where none is named, all but the boss.
func Plate(t testing.TB, o part.Options, layers ...string) *part.Plan {
	t.Helper()
	return plate(t, o, layers).Part
}

// PlateLine is what is said of it. ring is the head's or the table's, nil where it is not known.
func PlateLine(t testing.TB, u geom.Unit, o part.Options, ring *setup.Ring) *record.Plan {
	t.Helper()
	from := plate(t, o, nil)
	from.Ring = ring
	x := record.NewPlan(from, u)
	return &x
}

// PlateInOrder is what is said of it in an order of one's own.
func PlateInOrder(t testing.TB, u geom.Unit, o part.Options, order ...int) *record.Plan {
	t.Helper()
	from := plate(t, o, nil)
	var err error
	if from.Part, err = from.Part.Reordered(order); err != nil {
		t.Fatal(err)
	}
	x := record.NewPlan(from, u)
	return &x
}

// TwoLevels is what is said of the plate of two levels, cut to the depths and by the step of its drawing.
func TwoLevels(t testing.TB, u geom.Unit, o part.Options) *record.Plan {
	t.Helper()
	x := record.NewPlan(LevelPart(t, o), u)
	return &x
}

// LevelPart is that plate as it is planned.
func LevelPart(t testing.TB, o part.Options) record.Planned {
	t.Helper()
	out, err := drawing.ReadTOML(read(t, "drawing/tensioner-two-levels.toml"), drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	o.Depths = part.Depths{Step: part.SaidDepth{Depth: out.Step, By: "the drawing"}, Spring: out.Spring}
	p, err := part.Make(part.Drawn(&out), o)
	if err != nil {
		t.Fatal(err)
	}
	return record.Planned{Name: "tensioner-two-levels", Part: p, Options: o, Told: out.Notes}
}

// bossStands says what no drawing of lines can: the metal of the boss is inside it.
func bossStands(from drawing.Source, _ geom.Element) []part.Said {
	if from.Layer != "boss" {
		return nil
	}
	return []part.Said{{Side: part.Inside, By: "the test"}}
}

func plate(t testing.TB, o part.Options, layers []string) record.Planned {
	t.Helper()
	if len(layers) == 0 {
		layers = []string{"rim", "slot", "bore"}
	}
	out, err := drawing.ReadDXF(read(t, "drawing/quadrant-plate.dxf"), drawing.Options{Layers: layers})
	if err != nil {
		t.Fatal(err)
	}
	p, err := part.Make(part.Drawn(&out, bossStands), o)
	if err != nil {
		t.Fatal(err)
	}
	return record.Planned{Name: "quadrant-plate", Part: p, Options: o, Told: out.Notes}
}
