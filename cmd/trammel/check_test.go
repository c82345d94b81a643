package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The records of the verb check, written from its description and not from the code.
var (
	finishedRecord = object{"unit": word("mm", "in"), "way": text, "formula": text, "radius": orNull(measured),
		"bounds": orNull(object{"above": orNull(numeral), "below": orNull(numeral)}.check),
		"error":  orNull(numeral), "verdict": verdict,
		"cutter": orNull(object{"effective_diameter": measured, "nominal": orNull(numeral)}.check),
		"learnt": orNull(object{"same_side": orNull(measured), "other_side": orNull(measured), "swing_error": measured,
			"cutter_error": measured, "fits": flag}.check),
		"travel": orNull(measured), "budget": budgetRecord, "limits": orNull(text), "notes": list(text)}
	roughRecord = object{"unit": word("mm", "in"), "way": word("rough"), "swing": numeral, "radius": measured, "stock": measured,
		"notes": list(text)}
)

// Every field is there, in its type, of every way; the geometry has no unit, so the same figures typed in
// inches come back the same.
func TestCheckRecords(t *testing.T) {
	points := filepath.Join(t.TempDir(), "points")
	if err := os.WriteFile(points, []byte("39 0.002\n0.001 39\n-39 0.001\n0 -39.003\n27.577 27.578\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	judge := " --error 0.004 --resolution 0.002 --repeatability 0.003 --tool-error 0.001 --target 39 --tolerance 0.05"
	taught := judge + " --metal inside --swing 42 --swing-error 0.03 --cutter 6 --cutter-error 0.03"
	for _, c := range []struct {
		record object
		args   string
	}{
		{finishedRecord, "--chord 30 --sagitta 3"},
		{finishedRecord, "--chord 30 --sagitta 3" + judge},
		{finishedRecord, "--diameter 78.02" + taught},
		{finishedRecord, "--diameter 79" + taught},
		{finishedRecord, "--diameter 78.3 --stock 0.2 --wind-error 0.002" + taught},
		{finishedRecord, "--over-pins 43.4 --pin 8" + judge},
		{finishedRecord, "--between-pins 27.4 --pin 8" + judge},
		{finishedRecord, "--hollow-pins 40 --pin 8 --height 12" + judge},
		{finishedRecord, "--chord 40 --pin 8 --stands 1.5" + judge},
		{finishedRecord, "--base 50 --depth 8.2 --foot-ball 6 --metal outside" + judge},
		{finishedRecord, "--cusp 0.1 --pitch 5" + judge},
		{finishedRecord, "--larger-than 38.99 --smaller-than 39.02" + judge},
		{finishedRecord, "--smaller-than 39.02"},
		{finishedRecord, "--points " + points + " --tip-diameter 2" + taught},
		{roughRecord, "--target 39 --stock 0.3 --metal inside --cutter 6 --cutter-error 0.04 --swing-error 0.06"},
	} {
		var mm map[string]any
		for _, unit := range []string{"mm", "in"} {
			args := append([]string{"check", "--unit", unit}, strings.Fields(c.args)...)
			out := objects(t, tell(t, "", append(args, "--json")...))
			if len(out) != 1 {
				t.Fatalf("%q prints %d lines, want 1", args, len(out))
			}
			if err := c.record.check(out[0]); err != nil {
				t.Errorf("%q: the record %v", args, err)
			}
			finest(t, out[0])
			if out[0]["formula"] != nil && strings.HasPrefix(out[0]["way"].(string), "gauge") {
				delete(out[0], "formula") // it is the bounds in words
			}
			if mm == nil {
				mm = out[0]
			} else if !alike(mm, out[0]) {
				t.Errorf("%q: in inches\n%v\nin millimetres\n%v", args, out[0], mm)
			}
			tidyText(t, tell(t, "", args...))
		}
	}
}
