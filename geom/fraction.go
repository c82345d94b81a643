package geom

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// denominators are those of a rule and of inch drill sizes (common practice, no source). What is finer is said with a point.
var denominators = []int{2, 4, 8, 16, 32, 64}

// Fractional reports whether a text is meant as a fraction, right or wrong: digits with a bar, and nothing else but what may
// stand in a number or between an inch and its fraction.
func Fractional(s string) bool {
	return strings.Contains(s, "/") && strings.ContainsAny(s, "0123456789") && strings.Trim(s, "0123456789+-−/., \t") == ""
}

// ParseLength reads a length in unit u as a person types it, and returns it in that unit: a number as [ParseNumber] reads
// it, or in inches a fraction, 3/16, 1-3/16 or 1 3/16, with a sign or none before all of it: -1-3/16 is -1.1875. Its
// denominator is 2, 4, 8, 16, 32 or 64, and it is below 1: 19/16 may as well be 1-9/16 that lost a space. A length in
// millimetres has no fraction. The error is a *[NumberError].
func ParseLength(s string, u Unit) (float64, error) {
	if !Fractional(s) {
		return ParseNumber(s)
	}
	wrong := func(why, need string) (float64, error) { return 0, &NumberError{Text: s, Why: why, Need: need} }
	if u != Inch {
		return wrong("is a fraction, and a length in mm has none", "")
	}
	const like = "a fraction like 1-3/16, or a number like 1.1875"
	t := strings.ReplaceAll(strings.TrimSpace(s), "−", "-")
	sign := 1.0
	switch t[0] {
	case '-':
		sign, t = -1, t[1:]
	case '+':
		t = t[1:]
	}
	above, below, _ := strings.Cut(t, "/")
	whole, top, both := cutWhole(above)
	if !both {
		whole, top = "0", above
	}
	var v [3]int
	for i, part := range []string{whole, top, below} {
		n, err := strconv.ParseUint(part, 10, 31)
		if err != nil {
			return wrong("is no fraction", like)
		}
		v[i] = int(n)
	}
	switch {
	case !slices.Contains(denominators, v[2]):
		return wrong(fmt.Sprintf("has a denominator of %d", v[2]), "2, 4, 8, 16, 32 or 64, or a number with a point")
	case v[1] == 0 || v[1] >= v[2]:
		return wrong("has a fraction that is not between 0 and 1", like)
	}
	return sign * (float64(v[0]) + float64(v[1])/float64(v[2])), nil // exact: every denominator is a power of two
}

// cutWhole parts the inches from the numerator: at a hyphen, or at one or more spaces.
func cutWhole(s string) (whole, top string, ok bool) {
	if whole, top, ok = strings.Cut(s, "-"); ok {
		return whole, top, true
	}
	f := strings.Fields(s)
	if len(f) != 2 {
		return "", "", false
	}
	return f[0], f[1], true
}

// LengthFields splits a text at spaces as [strings.Fields] does, and keeps 1 3/16 together. It is for texts in which no figure
// stands behind another, so that nothing else can be meant: see [Ambiguous].
func LengthFields(text string) (out []string) {
	for _, f := range strings.Fields(text) {
		if n := len(out); n > 0 && bareFraction(f) && wholeNumber(out[n-1]) {
			out[n-1] += " " + f
			continue
		}
		out = append(out, f)
	}
	return out
}

// Ambiguous returns two fields of which nobody can say whether they are one figure, 1 3/16, or two, 1 and 3/16; ok is false
// where there are none.
func Ambiguous(fields []string) (whole, fraction string, ok bool) {
	for i := 1; i < len(fields); i++ {
		if bareFraction(fields[i]) && wholeNumber(fields[i-1]) {
			return fields[i-1], fields[i], true
		}
	}
	return "", "", false
}

// bareFraction reports whether a field is digits with one bar between them.
func bareFraction(s string) bool {
	above, below, ok := strings.Cut(s, "/")
	return ok && digits(above) && digits(below)
}

// wholeNumber reports whether a field is digits alone, with a sign or none.
func wholeNumber(s string) bool {
	s = strings.ReplaceAll(s, "−", "-")
	if s != "" && (s[0] == '-' || s[0] == '+') {
		s = s[1:]
	}
	return digits(s)
}

func digits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// Whole reports whether a number was typed as a whole one: digits, with a sign or none, and neither point nor exponent.
func Whole(s string) bool { return wholeNumber(strings.TrimSpace(s)) }
