package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The records of the verb reach, written from its description and not from the code.
var (
	sweptRecord = list(object{"of": word("ring", "plug", "reference", "spin", "swing"), "readings": numeral, "offset": numeral,
		"sigma": orNull(numeral), "dof": numeral,
		"suspects": list(object{"reading": numeral, "residual": numeral, "because": because, "would_be": orNull(numeral)}.check)}.check)
	budgetRecord = list(object{"part": text, "input_u": numeral, "sensitivity": numeral, "u": numeral, "dof": orNull(numeral)}.check)
	wayWord      = word("in", "out")
	judged       = object{"reach": numeral, "swing": numeral, "wind": orNull(numeral), "contradicts": flag}.check

	foundRecord = object{"unit": word("mm", "in"), "method": word("spin", "pair", "pin", "cut"), "formula": text,
		"touch": orNull(word("bore", "boss")), "way": orNull(wayWord),
		"reach": orNull(measured), "swing": orNull(measured), "reach_error": orNull(numeral), "sweeps": sweptRecord, "budget": budgetRecord,
		"limits": orNull(text), "notes": list(text)}
	rockRecord = object{"unit": word("mm", "in"), "method": word("rock"), "touch": word("bore", "boss"),
		"turning":  word("highest", "lowest", "none"),
		"off_line": orNull(object{"degrees": numeral, "swing": numeral}.check),
		"seen": orNull(object{"at": numeral, "reading": numeral, "extreme": word("highest", "lowest"), "way": wayWord, "agrees": flag,
			"beyond": flag}.check), "notes": list(text)}
	checkRecord = object{"unit": word("mm", "in"), "method": word("check"), "given": judged, "turned": judged,
		"scale":   object{"value": numeral, "limit": numeral}.check,
		"verdict": word("agrees", "sign", "undecided", "neither"), "notes": list(text)}
	nullRecord = object{"unit": word("mm", "in"), "method": word("null"), "touch": word("bore", "boss"), "swing": numeral,
		"reach": orNull(numeral), "reference": orNull(numeral),
		"gauges": list(object{"radius": numeral, "reading": orNull(numeral), "in_range": orNull(flag), "null_reach": numeral,
			"null_way": wayWord}.check), "best": orNull(numeral), "notes": list(text)}
	originRecord = object{"unit": word("mm", "in"), "method": word("origin"), "along": measured, "miss": measured, "swing": numeral,
		"slide_origin": orNull(measured), "turns": orNull(numeral),
		"sweeps": sweptRecord, "budget": budgetRecord, "limits": orNull(text), "notes": list(text)}
)

// Every field is there, in its type, in either unit, of every method; and in words no line of the
// drawing is wider than 76 columns.
func TestReachRecords(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	six := file("six", "0 0.0211\n60 -0.012\n120 -0.0333333333333\n180 -0.029\n240 0.005\n300 0.029\n")
	misread := file("misread", "0 0.1\n45 0.101\n90 0.1\n135 0.3\n180 0.1\n225 0.099\n270 0.1\n315 0.1\n")
	three := file("three", "0 0.0211\n120 -0.012\n240 -0.0333333333333\n")
	for _, c := range []struct {
		record object
		args   string
	}{
		{foundRecord, "spin --touch bore --way in --plug 12 " + six},
		{foundRecord, "spin --touch boss --way in --ring 12 --round-error 0.002 --repeatability 0.003 --graduation 0.01 --lever-angle 12 " +
			"--lever-angle-error 3 --dial-error 0.003 --angle-error 2 " + three},
		{foundRecord, "spin --touch bore --way out --ring 12 " + three},
		{foundRecord, "pair --ring 54 --plug 30 " + six + " " + three},
		{foundRecord, "pair --ring 54 --plug 30 --ring-mean 0.1 --plug-mean 0.2"},
		{foundRecord, "pair --ring 54 --plug 30 --ring-mean 0.1 --plug-mean 0.2 --mean-error 0.002 --ring-error 0.003 --plug-error 0.004 " +
			"--lever-angle 30 --lever-angle-error 2"},
		{foundRecord, "pin --difference 84.02"},
		{foundRecord, "pin --difference 84.02 --difference-error 0.02 --resolution 0.005 --pin-runout 0.01 --repeatability 0.002 --touch " +
			"boss --reference-radius 30 " + six},
		{foundRecord, "cut --arc-radius 39 --cutter 6 --metal inside --touch bore --reference-radius 30 --mean-reading 0.1 --graduation " +
			"0.01 --mean-reading-error 0.004 --arc-radius-error 0.01 --cutter-error 0.02 --reference-radius-error 0.003"},
		{foundRecord, "spin --touch bore --way in --plug 1 --tip-diameter 3 --revolution 0.2 --repeatability 0.001 " + misread},
		{foundRecord, "pin --difference 84.02 --touch bore --reference-radius 1 --reference-radius-error 0.003 --tip-diameter 1 " + six},
		{foundRecord, "pair --ring 2 --plug 1 --ring-error 0.003 --plug-error 0.002 --tip-diameter 1 " + six + " " + six},
		{rockRecord, "rock --touch bore --swing 42 --reach -12"},
		{rockRecord, "rock --touch bore --swing 42 --reach 0.5 --tip-diameter 2 --off-line -3 --repeatability 0.001 " + three},
		{checkRecord, "check --touch bore --reference-radius 30 --reach -12 --scale 42 --scale-error 0.5 --target 42 " + six},
		{checkRecord, "check --touch bore --reference-radius 30 --reach -12 --scale 42 --scale-error 1 --mean-reading 0"},
		{nullRecord, "null --touch bore --swing 42 --gauges 10,20"},
		{nullRecord, "null --touch bore --swing 42 --reach -12 --gauges 29,29.5,30.3 --range 1.6 --lever-angle 20"},
		{originRecord, "origin --ring 15 --slide-bearing 0 --slide-at 1 --swing 10 " + six + " " + three},
		{originRecord, "origin --plug 15 --slide-bearing 70 --slide-bearing-error 1 " + six + " " + three},
	} {
		var mm map[string]any
		for _, unit := range []string{"mm", "in"} {
			args := append([]string{"reach", "--unit", unit}, strings.Fields(c.args)...)
			out := objects(t, tell(t, "", append(args, "--json")...))
			if len(out) != 1 {
				t.Fatalf("%q prints %d lines, want 1", args, len(out))
			}
			if err := c.record.check(out[0]); err != nil {
				t.Errorf("%q: the record %v", args, err)
			}
			if out[0]["unit"] != unit {
				t.Errorf("%q: unit %v", args, out[0]["unit"])
			}
			finest(t, out[0])
			// The geometry has no unit: the same figures typed in inches come back the same.
			if mm == nil {
				mm = out[0]
			} else if !alike(mm, out[0]) {
				t.Errorf("%q: in inches\n%v\nin millimetres\n%v", args, out[0], mm)
			}
			tidyText(t, tell(t, "", args...))
		}
	}
}

// alike compares two records but for their units and notes.
func alike(a, b any) bool {
	switch a := a.(type) {
	case map[string]any:
		for name, x := range a {
			if name != "unit" && name != "notes" && !alike(x, b.(map[string]any)[name]) {
				return false
			}
		}
		return true
	case []any:
		for i, x := range a {
			if !alike(x, b.([]any)[i]) {
				return false
			}
		}
		return len(a) == len(b.([]any))
	case json.Number:
		n, ok := b.(json.Number)
		x, errX := a.Float64()
		y, errY := n.Float64()
		return ok && errX == nil && errY == nil && math.Abs(x-y) <= 1e-9*(1+math.Abs(x)) // the rounding of 25.4, both ways
	}
	return a == b
}

// tidyText holds the text to what can be read: no number that is none, and a drawing of at most 76
// columns, which is the only thing that has its like of dashes.
func tidyText(t *testing.T, out string) {
	t.Helper()
	for _, line := range strings.Split(out, "\n") {
		if strings.Contains(line, "NaN") || strings.Contains(line, "Inf") {
			t.Errorf("line %q shows what is no number", line)
		}
		if strings.Contains(line, "-----") && len(line) > 76 {
			t.Errorf("line %q of the drawing is %d columns wide, want at most 76", line, len(line))
		}
	}
}

// Whatever a file of one reading a line holds, it is refused or read as finite numbers at even steps.
func FuzzReadColumn(f *testing.F) {
	for _, s := range []string{"", "0.1\n-0,2\n", "\ufeff0\r\n# x\n\n1", "1 2\n", "NaN", "1e999", "−1", strings.Repeat("9", 400), "\x00",
		","} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, in string) {
		pairs, err := readColumn(strings.NewReader(in), "readings.txt")
		if err != nil {
			if what, bad := harmful(printable(err.Error()) + "\n"); pairs != nil || bad {
				t.Errorf("%d readings and %v, which holds %s", len(pairs), err, what)
			}
			return
		}
		for i, p := range pairs {
			if math.IsNaN(p.b) || math.IsInf(p.b, 0) || math.Abs(p.a-360*float64(i)/float64(len(pairs))) > 1e-9 {
				t.Errorf("reading %d of %d is %v", i+1, len(pairs), p)
			}
		}
	})
}
