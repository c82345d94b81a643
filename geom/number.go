package geom

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// NumberError says that a text is not a number the program can use.
type NumberError struct {
	Text string
	Why  string
	Need string // empty: a number
}

func (e *NumberError) Error() string {
	need := e.Need
	if need == "" {
		need = "a number like -0.125"
	}
	return fmt.Sprintf("%q %s, need %s", e.Text, e.Why, need)
}

// ParseNumber reads a decimal number as a person types it: an optional sign (the typographic
// minus too), digits with at most one point or one comma, an optional exponent. Words, NaN,
// infinities, hexadecimal and thousands separators are refused with a *[NumberError], as is a
// number too large for the machine.
func ParseNumber(s string) (float64, error) {
	t := strings.ReplaceAll(strings.TrimSpace(s), "−", "-")
	if t == "" {
		return 0, &NumberError{Text: s, Why: "is empty"}
	}
	if strings.Count(t, ".")+strings.Count(t, ",") > 1 {
		return 0, &NumberError{Text: s, Why: "has more than one decimal mark"}
	}
	t = strings.Replace(t, ",", ".", 1)
	if strings.Trim(t, "0123456789+-.eE") != "" || !strings.ContainsAny(t, "0123456789") {
		return 0, &NumberError{Text: s, Why: "is not a number"}
	}
	v, err := strconv.ParseFloat(t, 64)
	if errors.Is(err, strconv.ErrRange) || math.IsInf(v, 0) {
		return 0, &NumberError{Text: s, Why: "is too large"}
	}
	if err != nil {
		return 0, &NumberError{Text: s, Why: "is not a number"}
	}
	return v, nil
}

// maxPlaces is the finest that a length is ever printed: a tenth of a micrometre, or about the
// same in inches.
func maxPlaces(u Unit) int {
	if u == Inch {
		return 5
	}
	return 4
}

// Places returns how many decimals of a length in unit u the uncertainty (in the same unit)
// allows: two figures of an uncertainty that begins with 1 or 2, one of any other. Tenths of a
// micrometre are shown only where the uncertainty itself would vanish without them. An
// uncertainty of 0, NaN or Inf allows three (mm) or four (in).
//
// Source: JCGM 100:2008 (GUM) 7.2.6 asks for at most two significant figures (from memory).
func Places(uncertainty float64, u Unit) int {
	if !(uncertainty > 0) || math.IsInf(uncertainty, 1) {
		return maxPlaces(u) - 1
	}
	exp := int(math.Floor(math.Log10(uncertainty)))
	n := -exp
	// 2.95 rounds to 3.0, one figure; and no second figure is a tenth of a micrometre.
	if lead := uncertainty * math.Pow10(n); lead < 2.95 && n < maxPlaces(u)-1 {
		n++
	}
	return max(0, min(n, maxPlaces(u)))
}

// FormatFixed prints x with the given number of decimals, and never a negative zero.
func FormatFixed(x float64, places int) string {
	s := strconv.FormatFloat(x, 'f', places, 64)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// FormatSigned is FormatFixed with a plus sign on what is not negative.
func FormatSigned(x float64, places int) string {
	s := FormatFixed(x, places)
	if strings.HasPrefix(s, "-") {
		return s
	}
	return "+" + s
}
