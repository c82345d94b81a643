package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/big"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// kind checks one JSON value.
type kind func(v any) error

func numeral(v any) error { return want[json.Number](v, "a number") }
func text(v any) error    { return want[string](v, "a string") }
func numeralOrText(v any) error {
	if numeral(v) == nil {
		return nil
	}
	return text(v)
}
func flag(v any) error { return want[bool](v, "true or false") }

func want[T any](v any, what string) error {
	if _, ok := v.(T); !ok {
		return fmt.Errorf("is %v (%T), want %s", v, v, what)
	}
	return nil
}

func orNull(k kind) kind {
	return func(v any) error {
		if v == nil {
			return nil
		}
		return k(v)
	}
}

func word(words ...string) kind {
	return func(v any) error {
		if s, ok := v.(string); !ok || !slices.Contains(words, s) {
			return fmt.Errorf("is %v, want one of %q", v, words)
		}
		return nil
	}
}

func list(k kind) kind {
	return func(v any) error {
		all, ok := v.([]any)
		if !ok {
			return fmt.Errorf("is %v, want a list", v)
		}
		for i, x := range all {
			if err := k(x); err != nil {
				return fmt.Errorf("[%d] %w", i, err)
			}
		}
		return nil
	}
}

// object wants every field to be there, and lets further ones be.
type object map[string]kind

func (o object) check(v any) error {
	m, ok := v.(map[string]any)
	if !ok {
		return fmt.Errorf("is %v, want an object", v)
	}
	for name, k := range o {
		x, there := m[name]
		if !there {
			return fmt.Errorf("has no field %q", name)
		}
		if err := k(x); err != nil {
			return fmt.Errorf(".%s %w", name, err)
		}
	}
	return nil
}

// and joins the fields of several objects.
func and(parts ...object) object {
	out := object{}
	for _, p := range parts {
		for name, k := range p {
			out[name] = k
		}
	}
	return out
}

// The parts of the interface, written from its description and not from the code.
var (
	measured = object{"value": numeral, "u95": orNull(numeral)}.check
	centre   = object{"x": measured, "y": measured}.check
	verdict  = word("inside", "outside", "undecided", "none")
	verdicts = object{"radius": verdict, "centre": verdict}.check
	moves    = list(object{"turn": word("clockwise", "anticlockwise"), "turns": numeral, "divisions": numeral}.check)
	because  = word("revolution", "ten divisions", "sign", "unknown", "form")

	formCircle = object{"x": numeral, "y": numeral, "departure": numeral, "noise": orNull(numeral)}.check
	spot       = object{"reading": numeral, "bearing": numeral, "departure": numeral}.check
	fitRecord  = object{
		"unit": word("mm", "in"), "setup": word("carried", "turned", "points"), "touch": word("bore", "boss"),
		"readings": numeral, "radius": orNull(measured), "swing": orNull(measured), "centre": centre,
		"offset": numeral, "bearing": orNull(numeral), "sigma": orNull(numeral), "dof": numeral,
		"residuals": list(numeral),
		"suspects":  list(object{"reading": numeral, "residual": numeral, "because": because, "would_be": orNull(numeral)}.check),
		"shape":     orNull(object{"two_lobe": numeral, "three_lobe": orNull(numeral), "significant": flag}.check),
		"roundness": orNull(object{"stations": numeral, "lobes": numeral, "least_squares": formCircle, "minimum_zone": formCircle,
			"minimum_circumscribed": formCircle, "maximum_inscribed": formCircle, "peak": spot, "valley": spot}.check),
		"verdict": verdicts, "notes": list(text),
	}

	sayings = map[string]object{
		"load": {"slide": text, "moves": moves},
		"ask": {"trial": numeral, "station": numeral, "of": numeral, "bearing": numeral, "table": orNull(numeral), "collar": numeral,
			"expected": orNull(measured), "again": flag},
		"reading": {"trial": numeral, "station": numeral, "bearing": numeral, "value": numeral, "surprise": flag,
			"because": orNull(because), "would_be": orNull(numeral)},
		"fit": and(object{"trial": numeral}, fitRecord),
		"wind": {"trial": numeral, "step": numeral, "of": numeral, "slide": text, "travel": numeral, "moves": moves,
			"park": orNull(object{"bearing": numeral, "table": orNull(numeral), "collar": numeral, "reading_now": numeral,
				"reading_past": orNull(numeral), "reading_goal": numeral}.check),
			"collar":  object{"from": numeral, "to": numeral}.check,
			"readout": orNull(object{"from": numeral, "to": numeral}.check)},
		"settled":  {"trial": numeral, "swing": orNull(measured), "centre": centre, "verdict": verdicts},
		"accepted": {"trial": numeral, "trials": numeral},
		"resumed":  {"trial": numeral, "readings": numeral},
		"refused":  {"input": text, "because": text},
		"paused":   {"journal_lines": numeral},
		"doubt":    {"trial": numeral, "station": numeral, "because": because, "would_be": orNull(numeral)},
		// What the description leaves to the reader: what is said of entries that are no reading.
		"skipped": {"trial": numeral, "station": numeral, "bearing": numeral, "off": word("", "pressed", "free")},
		"wound":   {"trial": numeral, "slide": text, "value": numeral, "goal": numeral},
		"undone":  {"trial": numeral, "entry": text},
		"again":   {"trial": numeral, "because": text},
		"stuck":   {"trial": numeral, "because": text},
		"back":    {"winds": list(object{"slide": text, "moves": moves}.check), "clear": flag},
		"noted":   {"note": text},
		"question": {"key": text, "text": text, "choices": orNull(list(text)), "unit": orNull(word("mm", "in", "deg")),
			"default": orNull(numeralOrText), "optional": flag},
		"help": {"text": text},
		"taught": {"slide": text, "gain": orNull(measured), "origin": orNull(measured), "miss": orNull(measured),
			"backlash": orNull(measured),
			"lock":     orNull(measured), "angle": orNull(measured), "square": orNull(measured), "trials": numeral},
	}
)

// tell runs the program in this process, with no terminal, and returns standard output.
func tell(t *testing.T, in string, args ...string) string {
	t.Helper()
	return tellAt(t, t.TempDir(), in, args...) // what one session teaches is not for another, nor for whoever runs the tests
}

// tellAt is tell of somebody whose folders are all in one place.
func tellAt(t *testing.T, home, in string, args ...string) string {
	t.Helper()
	var out, complaints bytes.Buffer
	at := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	w := world{in: strings.NewReader(in), out: &out, err: &complaints, getenv: homeAt(home),
		now: func() time.Time { at = at.Add(20 * time.Second); return at }}
	if code := run(args, w); code != exitDone {
		t.Fatalf("trammel %q: exit code %d, want 0; it complains %q", args, code, complaints.String())
	}
	return out.String()
}

// homeAt are the variables of somebody whose folders are all in one place.
func homeAt(home string) func(string) string {
	return func(name string) string {
		if strings.HasPrefix(name, "XDG_") {
			return home
		}
		return ""
	}
}

// objects decodes output, numbers as they are written.
func objects(t *testing.T, out string) []map[string]any {
	t.Helper()
	var all []map[string]any
	for _, line := range strings.Split(strings.TrimSuffix(out, "\n"), "\n") {
		d := json.NewDecoder(strings.NewReader(line))
		d.UseNumber()
		var m map[string]any
		if err := d.Decode(&m); err != nil || d.More() {
			t.Fatalf("line %q is not one JSON object (%v)", line, err)
		}
		all = append(all, m)
	}
	return all
}

// finest holds every number to the 1e-12 that it is rounded to; past a thousand a float64 has no
// such digits to spare.
func finest(t *testing.T, v any) {
	t.Helper()
	switch v := v.(type) {
	case json.Number:
		r, ok := new(big.Rat).SetString(v.String())
		if !ok {
			t.Fatalf("%q is not a number", v)
		}
		if r.Cmp(big.NewRat(1000, 1)) < 0 && r.Cmp(big.NewRat(-1000, 1)) > 0 && !r.Mul(r, big.NewRat(1e12, 1)).IsInt() {
			t.Errorf("%s is not rounded to 1e-12", v)
		}
		if strings.HasPrefix(v.String(), "-0") && r.Sign() == 0 {
			t.Errorf("%s is a negative zero", v)
		}
	case map[string]any:
		for _, x := range v {
			finest(t, x)
		}
	case []any:
		for _, x := range v {
			finest(t, x)
		}
	}
}

// Every field of the fit record is there, in its type, in every way that fit is used.
func TestFitRecord(t *testing.T) {
	const readings = "0 -0.3211\n60 0.1\n120 0.333333333333333\n180 0.5\n240 0.14\n300 -0.2\n"
	const three = "0 0.3\n120 0\n240 0\n"
	for _, args := range [][]string{
		{}, {"--unit", "in"}, {"--zero-radius", "31"}, {"--reference-radius", "30"},
		{"--reference-radius", "30", "--reach", "-12"}, {"--touch", "boss", "--turned", "90"},
		{"--reference-radius", "30", "--roundness"}, {"--zero-radius", "31", "--roundness", "--repeatability", "0.003"},
		{"--reference-radius", "30", "--reach", "-12", "--target", "42", "--tolerance", "0.02", "--centre-tolerance", "0.02",
			"--graduation", "0.01", "--revolution", "1", "--repeatability", "0.003", "--lever-angle", "10"},
	} {
		for _, in := range []string{readings, three} {
			if in == three && slices.Contains(args, "--roundness") {
				continue // six stations or more
			}
			out := objects(t, tell(t, in, append([]string{"fit", "--json"}, args...)...))
			if len(out) != 1 {
				t.Fatalf("fit %q prints %d lines, want 1", args, len(out))
			}
			if err := fitRecord.check(out[0]); err != nil {
				t.Errorf("fit %q: the record %v", args, err)
			}
			if out[0]["radius"] != nil && out[0]["swing"] != nil {
				t.Errorf("fit %q claims both radii, want at most one", args)
			}
			if n := len(out[0]["residuals"].([]any)); n != strings.Count(in, "\n") {
				t.Errorf("fit %q: %d residuals for %d readings", args, n, strings.Count(in, "\n"))
			}
			finest(t, out[0])
		}
	}
}

// stories make the line mode say all it can.
func stories(t *testing.T) []map[string]any {
	t.Helper()
	dir, home := t.TempDir(), t.TempDir()
	if err := copyBench(dir); err != nil {
		t.Fatal(err)
	}
	const loads, sweep = "\n\n\n", "0.08\n0.14\n0.26\n0.32\n0.26\n0.14\n" // see testdata/script/dial_session.txtar
	story := func(journal, in string, more ...string) []map[string]any {
		args := append([]string{"dial", "--lines", "--json", "--journal", filepath.Join(dir, journal)}, more...)
		return objects(t, tellAt(t, home, in, args...))
	}
	files := []string{"--job", filepath.Join(dir, benchFiles[0]), "--machine", filepath.Join(dir, benchFiles[1])}
	var all []map[string]any
	all = append(all, story("a", loads+"0.08\n0.14\nnote a remark\nabc\nskip\noff free\nundo\nundo\nundo\n", files...)...)
	all = append(all, story("a", "again\n"+sweep, "--resume")...)
	all = append(all, story("a", "\n\n0\n0\n0\n0\n0\naccept\n", "--resume")...)
	all = append(all, story("b", loads+strings.Repeat("off pressed\n", 12)+"again\n", files...)...)
	all = append(all, story("d", loads+strings.Repeat("skip\n", 12)+"again\n", files...)...)
	all = append(all, story("c", loads+sweep+"\n\n0.08\n0.162\n0.298\n0.298\n0.162\n", append(files, "--unit", "in")...)...)
	all = append(all, story("e", "?\n\nback\n\n\n42\n0.02\n\n\n\n\n\n1.6\n\n\n3\nd 60\n\n\n-12\n\n", files[2:]...)...)
	all = append(all, objects(t, tell(t, "", "practice", "--auto", "--seed", "7", "--json"))...)
	return all
}

// notSaidYet are the lines of the interface that no story brings about: the program does not
// search for misreads yet.
var notSaidYet = []string{"doubt"}

// Every field of every line is there, in its type; and every kind of line is met.
func TestSayLines(t *testing.T) {
	met := map[string]bool{}
	for _, l := range stories(t) {
		say, _ := l["say"].(string)
		shape, known := sayings[say]
		if !known {
			t.Errorf("a line says %q, which the interface does not know: %v", say, l)
			continue
		}
		met[say] = true
		if err := shape.check(l); err != nil {
			t.Errorf("a line that says %s %v: %v", say, err, l)
		}
		finest(t, l)
	}
	for say := range sayings {
		if met[say] == slices.Contains(notSaidYet, say) {
			t.Errorf("%s: met %v, want the opposite", say, met[say])
		}
	}
}

// A slide with a readout is told the coordinate too: from 0, where it is zeroed, to the travel
// (0.12 to the right, see testdata/script/dial_session.txtar).
func TestReadoutOfAWind(t *testing.T) {
	dir := t.TempDir()
	if err := copyBench(dir); err != nil {
		t.Fatal(err)
	}
	machine := filepath.Join(dir, benchFiles[1])
	swapInFile(t, machine, "readout = false", "readout = true")
	out := objects(t, tell(t, "\n\n\n0.08\n0.14\n0.26\n0.32\n0.26\n0.14\n", "dial", "--lines", "--json", "--job",
		filepath.Join(dir, benchFiles[0]),
		"--machine", machine, "--journal", filepath.Join(dir, "j")))
	for _, l := range out {
		if l["say"] != "wind" {
			continue
		}
		if err := sayings["wind"].check(l); err != nil {
			t.Fatalf("wind %v", err)
		}
		r, ok := l["readout"].(map[string]any)
		if !ok || r["from"] != json.Number("0") || r["to"] != l["travel"] {
			t.Errorf("readout %v, want from 0 to the travel, %v", l["readout"], l["travel"])
		}
		return
	}
	t.Fatal("no wind was told")
}
