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

// plainDigits is how many decimal digits, with or without a point among them, make a whole number and a power of ten that a
// float64 both holds exactly, so that their quotient is rounded once, to the number that is nearest.
//
// Source: W. D. Clinger, How to read floating point numbers accurately, PLDI 1990 (from memory); held by FuzzPlainNumber.
const plainDigits = 15

var powers = [plainDigits + 1]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// PlainNumber reads the number that a text begins with where it is plain, an optional sign and at most plainDigits digits with at most
// a decimal point, and returns how many bytes it has; 0 where it is none. It says nothing of what follows, and makes no garbage: of a
// text that is a plain number to its end it returns what [ParseNumber] does.
func PlainNumber(text []byte) (v float64, n int) {
	if len(text) > 0 && (text[0] == '-' || text[0] == '+') {
		n = 1
	}
	begin, point, whole := n, -1, uint64(0)
	for ; n < len(text) && n <= begin+plainDigits+1; n++ {
		if c := text[n] - '0'; c <= 9 {
			whole = 10*whole + uint64(c)
		} else if text[n] == '.' && point < 0 {
			point = n
		} else {
			break
		}
	}
	digits, places := n-begin, 0
	if point >= 0 {
		digits, places = digits-1, n-point-1
	}
	if digits == 0 || digits > plainDigits {
		return 0, 0
	}
	v = float64(whole) / powers[places]
	if text[0] == '-' {
		v = -v
	}
	return v, n
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
