package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// drawingsFolder holds drawings that another implementation wrote, and where their elements lie by plain
// point transforms (make.py there, with ezdxf).
const drawingsFolder = "../../testdata/drawing"

// exactly is what rounding leaves of a figure that is printed to 1e-12.
const exactly = 1e-9

type trueElement struct {
	Kind, Layer        string
	Start, End, Centre [2]float64
	Radius             float64
	From, Sweep        float64
}

// said is what this test reads of plan --json.
type said struct {
	Unit string
	Arcs []struct {
		N                   int
		Layer               string
		Centre              [2]float64
		Radius, From, Sweep float64
		To                  float64
	}
	Lines []struct {
		N          int
		Layer      string
		Start, End [2]float64
	}
	Notes []string
}

// sayPlan runs the verb and reads what it says.
func sayPlan(t *testing.T, args ...string) (out said) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	w := world{in: strings.NewReader(""), out: &stdout, err: &stderr, now: time.Now, getenv: func(string) string { return "" }}
	if code := run(append([]string{"plan", "--json"}, args...), w); code != 0 {
		t.Fatalf("%q: exit code %d: %s", args, code, stderr.String())
	}
	if err := json.NewDecoder(&stdout).Decode(&out); err != nil {
		t.Fatal(err)
	}
	return out
}

func gap(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// trueFile is where the elements of one drawing lie, in its unit.
type trueFile struct {
	Unit     string
	Elements []trueElement
}

// trueFiles reads where the elements of the drawings lie (true.json, by plain point transforms, from no program of
// ours), by the drawings' names.
func trueFiles(t testing.TB) map[string]trueFile {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(drawingsFolder, "true.json"))
	if err != nil {
		t.Fatal(err)
	}
	var truth struct{ Files map[string]trueFile }
	if err := json.Unmarshal(text, &truth); err != nil {
		t.Fatal(err)
	}
	return truth.Files
}

// Every element of every drawing is in the plan once, to 1e-9: mm files, inch files, every release, blocks,
// bulges, doubles.
func TestPlanOfTrueDrawings(t *testing.T) {
	files := trueFiles(t)
	if len(files) != 13 {
		t.Fatalf("%d drawings, want 13", len(files))
	}
	for name, file := range files {
		// Drawings of R12 cannot name their unit; millimetres are what the true values are in.
		x := sayPlan(t, "--unit", file.Unit, "--cutter", "1", filepath.Join(drawingsFolder, name))
		scale := map[string]float64{"mm": 1, "in": 25.4}[file.Unit]
		if x.Unit != file.Unit {
			t.Errorf("%s: in %s, want %s", name, x.Unit, file.Unit)
		}
		left := slices.Clone(file.Elements)
		take := func(what int, layer string, near func(e trueElement) float64) {
			i := slices.IndexFunc(left, func(e trueElement) bool { return e.Layer == layer && near(e) <= exactly })
			if i < 0 {
				t.Errorf("%s: element %d on %s is none of what was drawn", name, what, layer)
				return
			}
			left = slices.Delete(left, i, i+1)
		}
		for _, a := range x.Arcs {
			centre := [2]float64{a.Centre[0] * scale, a.Centre[1] * scale}
			if math.Abs(a.To-a.From-a.Sweep) > exactly {
				t.Errorf("%s: arc %d from %v to %v sweeps %v", name, a.N, a.From, a.To, a.Sweep)
			}
			take(a.N, a.Layer, func(e trueElement) float64 {
				if e.Kind != "arc" {
					return math.Inf(1)
				}
				begin := math.Abs(math.Remainder(a.From-e.From, 360))
				if e.Sweep == 360 {
					begin = a.From
				}
				return slices.Max([]float64{gap(centre, e.Centre), math.Abs(a.Radius*scale - e.Radius), begin, math.Abs(a.Sweep - e.Sweep)})
			})
		}
		for _, l := range x.Lines {
			start, end := [2]float64{l.Start[0] * scale, l.Start[1] * scale}, [2]float64{l.End[0] * scale, l.End[1] * scale}
			take(l.N, l.Layer, func(e trueElement) float64 {
				if e.Kind != "line" {
					return math.Inf(1)
				}
				return min(max(gap(start, e.Start), gap(end, e.End)), max(gap(start, e.End), gap(end, e.Start)))
			})
		}
		for _, e := range left {
			t.Errorf("%s: not in the plan: %+v", name, e)
		}
	}
}

// Any bytes for a drawing: the program answers, and in lines.
func FuzzPlan(f *testing.F) {
	for _, name := range plateFiles {
		text, err := os.ReadFile(filepath.Join(drawingsFolder, name))
		if err != nil {
			f.Fatal(err)
		}
		if len(text) < 20_000 {
			f.Add(text)
		}
	}
	f.Add([]byte("[[circle]]\ncentre=[0,0]\nradius=5"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var stderr bytes.Buffer
		w := world{in: bytes.NewReader(text), out: io.Discard, err: &stderr, now: time.Now, getenv: func(string) string { return "" }}
		if code := run([]string{"plan", "-", "--unit", "mm", "--cutter", "4"}, w); code != exitDone &&
			!strings.HasPrefix(stderr.String(), "trammel: error: ") {
			t.Errorf("exit code %d, told %q", code, stderr.String())
		}
	})
}

// The record of a plan, written from its description and not from the code.
var (
	place2 = func(v any) error {
		if all, ok := v.([]any); !ok || len(all) != 2 {
			return fmt.Errorf("is %v, want x and y", v)
		}
		return list(numeral)(v)
	}
	endRecord = object{"at": place2, "may_overrun": flag, "past": orNull(numeral), "short": orNull(numeral),
		"end_tolerance": orNull(numeral), "before": numeral,
		"into": numeral, "next": numeral}
	arcRecord = object{"n": numeral, "layer": text, "centre": place2, "radius": numeral, "from": numeral, "to": numeral, "sweep": numeral,
		"side": word("inside", "outside", "on"), "metal_from": orNull(word("stated", "slot", "nesting")), "swing": orNull(numeral),
		"group":   numeral,
		"readout": place2, "start": orNull(numeral), "sense": word("clockwise", "anticlockwise", "none"), "stop": orNull(numeral),
		"table_start": orNull(numeral), "table_stop": orNull(numeral), "ring_start": orNull(numeral), "ring_stop": orNull(numeral),
		"slot": numeral, "ends": list(endRecord.check), "source": text}
	planRecord = object{
		"unit": word("mm", "in"),
		"arcs": list(arcRecord.check),
		"slots": list(object{"width": numeral, "arcs": list(numeral), "single_pass": flag, "n": numeral, "swing": orNull(numeral),
			"ends": list(endRecord.check)}.check),
		"lines":  list(object{"n": numeral, "layer": text, "start": place2, "end": place2, "ends": list(endRecord.check)}.check),
		"groups": list(object{"n": numeral, "swing": numeral, "arcs": list(numeral)}.check),
		"order":  list(numeral),
		"blends": list(object{"between": list(numeral), "at": place2, "tangent": flag, "kink": numeral, "gap": numeral}.check),
		"notes":  list(text),
	}
)

// Every field of the record is there, in its type, in every way that a plan is asked for.
func TestPlanRecord(t *testing.T) {
	plate := filepath.Join(drawingsFolder, "quadrant-plate.dxf")
	for _, args := range [][]string{
		{}, {"--cutter", "6"}, {"--cutter", "6", "--cutter", "10", "--table", "90"}, {"--unit", "in", "--cutter", "0.5"},
		{"--layer", "bore"}, {"--layer", "slot", "--cutter", "8", "--left-hand"},
	} {
		out := objects(t, tell(t, "", append([]string{"plan", plate, "--json"}, args...)...))
		if len(out) != 1 {
			t.Fatalf("plan %q prints %d lines, want 1", args, len(out))
		}
		if err := planRecord.check(out[0]); err != nil {
			t.Errorf("plan %q: the record %v", args, err)
		}
		finest(t, out[0])
	}
}
