package geom

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// The decimals are those of a table of decimal equivalents: halves, quarters … of 1 worked by hand.
func TestParseLengthInches(t *testing.T) {
	for text, want := range map[string]float64{
		"1/2": 0.5, "3/4": 0.75, "3/8": 0.375, "3/16": 0.1875, "5/32": 0.15625, "1/64": 0.015625, "63/64": 0.984375,
		"1-3/16": 1.1875, "1 3/16": 1.1875, "1   3/16": 1.1875, " 1-3/16 ": 1.1875, "0-3/16": 0.1875, "12-7/8": 12.875,
		"-3/16": -0.1875, "+3/16": 0.1875, "-1-3/16": -1.1875, "-1 3/16": -1.1875, "−1-3/16": -1.1875, "+1-3/16": 1.1875,
		"2/4": 0.5, "2/16": 0.125, // as a rule's marks are counted
		"1.1875": 1.1875, "-0,125": -0.125, "12": 12, "1e1": 10, // numbers are read as ever
	} {
		got, err := ParseLength(text, Inch)
		if err != nil || got != want {
			t.Errorf("ParseLength(%q, in) = %v, %v, want %v", text, got, err, want)
		}
	}
}

// A slip of a finger never makes another length of a fraction.
func TestParseLengthRefuses(t *testing.T) {
	const none, form, below = "is a fraction, and a length in mm has none", "is no fraction", "has a fraction that is not between 0 and 1"
	for _, c := range []struct {
		text string
		unit Unit
		why  string
	}{
		{"1-3/16", Millimetre, none}, {"1/2", Millimetre, none}, {"1//2", Millimetre, none},
		{"1/3", Inch, "has a denominator of 3"}, {"1/1", Inch, "has a denominator of 1"}, {"1/10", Inch, "has a denominator of 10"},
		{"1/128", Inch, "has a denominator of 128"}, {"1/0", Inch, "has a denominator of 0"}, {"1-3/15", Inch, "has a denominator of 15"},
		{"19/16", Inch, below}, {"16/16", Inch, below}, {"0/16", Inch, below}, {"1-17/16", Inch, below},
		{"1/", Inch, form}, {"/16", Inch, form}, {"1-/16", Inch, form}, {"1-3/", Inch, form}, {"1-3/1/6", Inch, form},
		{"1--3/16", Inch, form},
		{"1 -3/16", Inch, form}, {"1- 3/16", Inch, form}, {"1 - 3/16", Inch, form}, {"--3/16", Inch, form}, {"- 3/16", Inch, form},
		{"1 2 3/16", Inch, form}, {"1.5-3/16", Inch, form}, {"1.5/16", Inch, form}, {"3/16.0", Inch, form}, {"3/-16", Inch, form},
		{"3/ 16", Inch, form}, {"3 /16", Inch, form}, {"1+3/16", Inch, form}, {"3/16-1", Inch, form}, {"3/99999999999", Inch, form},
		{"1-2", Inch, "is not a number"}, {"a/2", Inch, "is not a number"}, {"1/2\"", Inch, "is not a number"},
		{"/", Inch, "is not a number"},
		{"", Inch, "is empty"},
	} {
		got, err := ParseLength(c.text, c.unit)
		var number *NumberError
		if !errors.As(err, &number) || number.Text != c.text || number.Why != c.why || got != 0 {
			t.Errorf("ParseLength(%q, %v) = %v, %v, want refused because it %s", c.text, c.unit, got, err, c.why)
		}
	}
	for text, want := range map[string]string{
		"1/3":   `"1/3" has a denominator of 3, need 2, 4, 8, 16, 32 or 64, or a number with a point`,
		"19/16": `"19/16" has a fraction that is not between 0 and 1, need a fraction like 1-3/16, or a number like 1.1875`,
	} {
		if _, err := ParseLength(text, Inch); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
	_, err := ParseLength("1/2", Millimetre)
	if want := `"1/2" is a fraction, and a length in mm has none, need a number like -0.125`; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

func TestLengthFields(t *testing.T) {
	for text, want := range map[string][]string{
		"chord 1 3/16 sagitta 1/4": {"chord", "1 3/16", "sagitta", "1/4"}, "d -2  1/2": {"d", "-2 1/2"}, "1.5 1/2": {"1.5", "1/2"},
		"1-3/16 1/64": {"1-3/16", "1/64"}, "3/16": {"3/16"}, "": nil, "1 -1/2": {"1", "-1/2"},
	} {
		if got := LengthFields(text); !slices.Equal(got, want) {
			t.Errorf("LengthFields(%q) = %q, want %q", text, got, want)
		}
	}
	for text, want := range map[string]string{"42 1/8": "42 1/8", "d 84 1/8 1/64": "84 1/8", "42-1/8 1/64": "", "42 0.01": "",
		"1/2 1/4": "", "": ""} {
		whole, fraction, ok := Ambiguous(strings.Fields(text))
		if got := strings.TrimSpace(whole + " " + fraction); got != want || ok != (want != "") {
			t.Errorf("Ambiguous(%q) = %q, %v, want %q", text, got, ok, want)
		}
	}
}

func TestWhole(t *testing.T) {
	for text, want := range map[string]bool{"12": true, "-12": true, "+0": true, "−5": true, " 7 ": true, "007": true, "12.": false,
		"0.012": false, "12,0": false, "1e1": false, "": false, "-": false, "--1": false, "1-2": false, "3/16": false} {
		if got := Whole(text); got != want {
			t.Errorf("Whole(%q) = %v", text, got)
		}
	}
}

// FuzzParseLength: any text gives a finite number or a *NumberError; what is no fraction is read as ParseNumber reads it, and
// one that is taken is a whole number of 64ths, and comes back from its own form.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"", "1-3/16", "-1 3/16", "−3/64", "19/16", "1//2", "/", "1/3", "0,5", "1.5-3/16", "999999999-1/2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseLength(s, Inch)
		if n, nerr := ParseNumber(s); nerr == nil && (err != nil || n != v) {
			t.Fatalf("ParseLength(%q) = %v, %v, and as a number %v", s, v, err, n)
		}
		if err != nil {
			var number *NumberError
			if !errors.As(err, &number) || number.Text != s || v != 0 {
				t.Fatalf("ParseLength(%q) = %v, %v", s, v, err)
			}
			return
		}
		if !Fractional(s) {
			return
		}
		whole, part := math.Modf(math.Abs(v) * 64)
		if part != 0 {
			t.Fatalf("ParseLength(%q) = %v, no whole number of 64ths", s, v)
		}
		sign := ""
		if v < 0 {
			sign = "-"
		}
		again, err := ParseLength(fmt.Sprintf("%s%.0f-%.0f/64", sign, math.Floor(whole/64), math.Mod(whole, 64)), Inch)
		if err != nil || again != v {
			t.Fatalf("%q: %v came back as %v, %v", s, v, again, err)
		}
	})
}
