package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// Whatever a file holds, it is refused in one line of words or read as finite numbers, and what
// was read is read again from its own digits.
func FuzzReadPairs(f *testing.F) {
	for _, s := range []string{
		"", "0 0.1\n", "angle,reading\n0,0.1\n90,-0.2\n", "\ufeff0;0,1\r\n90;−0,2\r\n", "0\t1\n\n# remark\n1e3\t-1E-3",
		"0 0.1 2\n", "x y\nx y\n", "1,2,3", "0 NaN\n", "0 1e999\n", "0 0x1p4\n", ";;;\n", ",,\n", "0,1,\n", "+ -\n", "e e\n",
		"\x00\xff 1\n",
		"0 ,5\n", "١ ٢\n", strings.Repeat("9", 400) + " 1\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		pairs, err := readPairs(bytes.NewReader(data), "readings.txt", "angle and reading")
		if err != nil {
			if pairs != nil {
				t.Errorf("%d pairs together with the error %v", len(pairs), err)
			}
			if what, bad := harmful(printable(err.Error()) + "\n"); bad {
				t.Errorf("the message holds %s: %q", what, err)
			}
			return
		}
		if lines := bytes.Count(data, []byte("\n")) + 1; len(pairs) > lines {
			t.Errorf("%d pairs from %d lines", len(pairs), lines)
		}
		var again strings.Builder
		for i, p := range pairs {
			if math.IsNaN(p.a) || math.IsInf(p.a, 0) || math.IsNaN(p.b) || math.IsInf(p.b, 0) {
				t.Errorf("pair %d is %v, want finite numbers", i+1, p)
			}
			fmt.Fprintf(&again, "%v;%v\n", p.a, p.b)
		}
		back, err := readPairs(strings.NewReader(again.String()), "again", "angle and reading")
		if err != nil || !slices.Equal(back, pairs) {
			t.Errorf("%v read again is %v (%v)", pairs, back, err)
		}
	})
}

// Whatever is typed is a command or refused with a reason, and a reading is a number.
func FuzzParseAnswer(f *testing.F) {
	for _, s := range []string{
		"", "  ", "done", "off pressed", "off  free ", "off", "undo", "skip", "again", "enough", "accept", "quit", "note", "note Ø60",
		"0.118", "-0,118", "−0.118", "+.5", "1e999", "NaN", "Inf", "0x1", "1 2", "done now", "\x1b[A", "\xff", "note \x00",
	} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, text string, inch bool) {
		u := geom.Millimetre
		if inch {
			u = geom.Inch
		}
		cmd, err := parseAnswer(text, func(text string) (session.Command, error) { return session.Parse(text, u) })
		var refusal *session.Refusal
		switch {
		case errors.Is(err, errQuit):
			if strings.TrimSpace(text) != "quit" {
				t.Errorf("%q ends the session", text)
			}
		case err != nil:
			if cmd != nil || !errors.As(err, &refusal) || refusal.Because == "" || refusal.Hint == "" {
				t.Errorf("%q: command %v and error %v, want a refusal with its reason and a hint", text, cmd, err)
			}
		case cmd == nil:
			t.Errorf("%q is neither a command nor refused", text)
		default:
			took, reading := cmd.(session.Take)
			if !reading {
				return
			}
			// An inch has 25.4 mm, so what is just finite in inches may not be in millimetres; the
			// session refuses that. It is never no number at all.
			if r := took.Reading; math.IsNaN(r) || (!inch && math.IsInf(r, 0)) {
				t.Errorf("%q is the reading %v", text, r)
			}
			if !strings.ContainsAny(text, "0123456789") {
				t.Errorf("%q has no digit and is the reading %v", text, took.Reading)
			}
		}
	})
}

// What is read of a plain line is to the last bit what the reader of every form makes of it.
func FuzzPlainPair(f *testing.F) {
	for _, s := range []string{
		"0 0.1", "0  -0", "0\t0.1", "0 \t 0.1", "0\t\t0.1", "0;0.1", "0 ; 0.1", "0;;0.1", "0,0.1", "0, 0.1", "0 ,0.1", "0,1", "0 0,1",
		"0,5 1",
		"0.1-0.2", "0.1+0.2", "0 0.1 ", " 0 0.1", "0 0.1\r", "0 0.1\t", "0 0.1;", "1.2.3 4", "1e3 2", "1 2e3", "#1 2", "\ufeff1 2", "1. .5",
		"1234567890123456 1", "1 1234567890123456", "- 1", "1 -", "1 2 3", "1,2,3", "0 1", "0\v1",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		fast, ok := plainPair(line)
		past := false
		slow, is, err := anyPair(string(line), &past, "angle and reading")
		if ok && (err != nil || !is || !past || bits(fast) != bits(slow)) {
			t.Errorf("%q is read as %v, and in every form as %v (a pair: %v, said anything: %v, %v)", line, fast, slow, is, past, err)
		}
		var words [2]float64
		if n, _ := fmt.Sscanf(string(line), "%f %f", &words[0], &words[1]); ok && strings.Count(string(line), " ") == 1 && n == 2 &&
			bits(fast) != bits(pair{words[0], words[1]}) {
			t.Errorf("%q is read as %v, by the standard library as %v", line, fast, words)
		}
	})
}

func bits(p pair) [2]uint64 { return [2]uint64{math.Float64bits(p.a), math.Float64bits(p.b)} }

// A plain line leaves nothing behind, however it is split: what is allocated is the room for the numbers, doubled as they come.
func TestPlainLinesMakeNoGarbage(t *testing.T) {
	for _, split := range []string{" ", "  ", "\t", ";", ",", "; ", " , "} {
		text := strings.Repeat("120.5"+split+"-0.0123\n", 1<<14)
		allocs := testing.AllocsPerRun(5, func() {
			if pairs, err := readPairs(strings.NewReader(text), "readings.txt", "angle and reading"); err != nil || len(pairs) != 1<<14 {
				t.Fatalf("%d pairs, %v", len(pairs), err)
			}
		})
		// From 64 in eight doublings, the scanner and its room, and little else.
		if allocs > 20 {
			t.Errorf("%q between: %v allocations for %d lines", split, allocs, 1<<14)
		}
	}
}
