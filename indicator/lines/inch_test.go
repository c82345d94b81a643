package lines_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// lengths are the keys whose numbers are lengths; all other numbers are angles, counts or
// divisions of a collar.
var lengths = map[string]bool{"value": true, "u95": true, "would_be": true, "offset": true, "sigma": true, "residuals": true,
	"residual": true,
	"travel":   true, "goal": true, "readout": true, "reading_now": true, "reading_past": true, "reading_goal": true, "two_lobe": true,
	"u": true, "three_lobe": true}

// The same session in inches: every length is that in millimetres over 25.4, to the rounding of
// both, and nothing else is different.
func TestInch(t *testing.T) {
	read := func(o *session.Opened) {
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].Readout = true
		}
	}
	mmSteps, _ := play(t, 7, bench(t, read))
	inSteps, _ := play(t, 7, bench(t, func(o *session.Opened) { read(o); o.Job.Unit = geom.Inch }))
	mm, in := say(mmSteps, geom.Millimetre), say(inSteps, inSteps[0].After.Set.Job.Unit)
	if len(mm) != len(in) {
		t.Fatalf("%d lines in inches, want %d", len(in), len(mm))
	}
	seen := 0
	for i := range mm {
		a, b := decoded(t, encode(t, mm[i])), decoded(t, encode(t, in[i]))
		seen += inches(t, fmt.Sprintf("line %d", i+1), a, b, false)
	}
	if seen < 60 {
		t.Errorf("%d lengths were compared, want many", seen)
	}
}

// inches compares two decoded values and counts the lengths in them.
func inches(t *testing.T, path string, mm, in any, length bool) (seen int) {
	t.Helper()
	switch mm := mm.(type) {
	case map[string]any:
		in, ok := in.(map[string]any)
		if !ok || len(in) != len(mm) {
			t.Fatalf("%s: %v in inches, %v in millimetres", path, in, mm)
		}
		for k, v := range mm {
			if k == "unit" {
				if v != "mm" || in[k] != "in" {
					t.Errorf("%s: unit %v and %v, want mm and in", path, v, in[k])
				}
				continue
			}
			seen += inches(t, path+"."+k, v, in[k], lengths[k] || length && (k == "from" || k == "to"))
		}
	case []any:
		in, ok := in.([]any)
		if !ok || len(in) != len(mm) {
			t.Fatalf("%s: %v in inches, %v in millimetres", path, in, mm)
		}
		for i := range mm {
			seen += inches(t, fmt.Sprintf("%s[%d]", path, i), mm[i], in[i], length)
		}
	case float64:
		in, ok := in.(float64)
		if length {
			seen, mm = 1, mm/25.4
		}
		// Two roundings to half of 1e-12, one of them of a number 25.4 times as large.
		if !ok || math.Abs(in-mm) > 0.55e-12 {
			t.Errorf("%s: %v in inches, want %v", path, in, mm)
		}
	default:
		if in != mm {
			t.Errorf("%s: %v in inches, want %v", path, in, mm)
		}
	}
	return seen
}
