package geom

import (
	"errors"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "1": 1, "-1": -1, "+1": 1, "007": 7, "0.125": 0.125, "-0.125": -0.125, "12.": 12, ".5": 0.5, "-.5": -0.5,
		"0,125": 0.125, "-0,125": -0.125, ",5": 0.5, "12,": 12, "1,000": 1, // a comma is a decimal mark, never of thousands
		"−0.125": -0.125, "−,5": -0.5, // the typographic minus
		"  3.5 ": 3.5, "\t3.5\r\n": 3.5, "\u00a03.5\u00a0": 3.5, // spaces round it, the fixed one too
		"1e3": 1000, "1E3": 1000, "1.5e+2": 150, "25e-1": 2.5, "25e−1": 2.5, "2,5e1": 25,
		"1e-999": 0, "4.9e-324": math.SmallestNonzeroFloat64, "1.7976931348623157e308": math.MaxFloat64,
		"0.1": 0.1, "0.30000000000000004": 0.30000000000000004, "123456789012345678901": 123456789012345678901,
		strings.Repeat("0", 5000) + "1": 1,
	} {
		got, err := ParseNumber(text)
		if err != nil || got != want {
			t.Errorf("ParseNumber(%.30q) = %v, %v, want %v", text, got, err, want)
		}
	}
}

func TestParseNumberRefuses(t *testing.T) {
	const empty, marks, word, large = "is empty", "has more than one decimal mark", "is not a number", "is too large"
	for text, why := range map[string]string{
		"": empty, " ": empty, "\t\r\n": empty, "\u00a0": empty,
		"1.2.3": marks, "1,2,3": marks, "1.234,5": marks, "1,234.5": marks, "..": marks, "1.5e1,5": marks,
		"NaN": word, "nan": word, "inf": word, "Inf": word, "+Inf": word, "-inf": word, "−inf": word, "infinity": word,
		"0x1p3": word, "0x10": word, "0b1": word, "0o7": word, "1_000": word, "1p3": word, "1'000": word, "1 000": word, "1\u00a0000": word,
		"--1": word, "+-1": word, "−−1": word, "-−1": word, "1-": word, "1-2": word, "1+1": word, "-": word, "+": word, "−": word,
		".": word, ",": word, "-.": word, "e": word, "e5": word, "E5": word, ".e5": word, "1e": word, "1e+": word, "1e1e1": word,
		"1e1.5": word, "1e,5": word,
		"１２": word, "١٢": word, "½": word, "1²": word, "⁻1": word, "–1": word, "—1": word, "﹣1": word,
		"1\x00": word, "\x001": word, "1\x1b[A": word, "1\x7f": word, "\x08" + "1": word, "\ufeff1": word, "1\u200b": word, "1\xff": word,
		"1mm": word, "1°": word, "0.1\"": word, "abc": word, "1a": word, "a1": word, "1x2": word, "1;2": word, "1/2": word, "1:2": word,
		"$1": word, "1%": word,
		"1e999": large, "-1e999": large, "1,8e308": large, "1" + strings.Repeat("0", 400): large,
	} {
		got, err := ParseNumber(text)
		var number *NumberError
		if !errors.As(err, &number) || number.Text != text || number.Why != why || got != 0 {
			t.Errorf("ParseNumber(%.30q) = %v, %v, want refused because it %s", text, got, err, why)
		}
	}
	_, err := ParseNumber("o.125")
	if want := `"o.125" is not a number, need a number like -0.125`; err == nil || err.Error() != want {
		t.Errorf("message %v, want %s", err, want)
	}
}

// FuzzParseNumber: any text gives a finite number or a *NumberError; an accepted one is what
// the standard library reads once the decimal mark and the minus are plain, and comes back from
// its printed form.
func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{
		"", "0", "-0", "-0,0123", "−1,5", "+.5", "1e3", "1e999", "0x1p3", "1_000", "NaN", "inf", "--1", "1.2.3", "１２", "1\x00",
		"\ufeff1", "1e", ".", " 7 ", "9999999999999999999999", "5e-324", "1,5e−3", "1\xff",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseNumber(s)
		if err != nil {
			var number *NumberError
			if !errors.As(err, &number) || number.Text != s || v != 0 || err.Error() == "" {
				t.Fatalf("ParseNumber(%q) = %v, %v", s, v, err)
			}
			return
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("ParseNumber(%q) = %v", s, v)
		}
		for _, r := range strings.TrimSpace(s) {
			if !strings.ContainsRune("0123456789+-−.,eE", r) {
				t.Fatalf("ParseNumber(%q) took %q", s, r)
			}
		}
		plain := strings.NewReplacer("−", "-", ",", ".").Replace(strings.TrimSpace(s))
		if want, err := strconv.ParseFloat(plain, 64); err != nil || v != want {
			t.Fatalf("ParseNumber(%q) = %v, want %v, %v", s, v, want, err)
		}
		again, err := ParseNumber(strconv.FormatFloat(v, 'g', -1, 64))
		if err != nil || again != v {
			t.Fatalf("%v came back as %v, %v", v, again, err)
		}
	})
}

func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		u    float64
		unit Unit
		want int
	}{
		{0.0123, Millimetre, 3}, {0.016, Millimetre, 3}, {0.0234, Millimetre, 3}, {0.0296, Millimetre, 2}, {0.031, Millimetre, 2},
		{0.09, Millimetre, 2},
		// no second figure below a micrometre
		{0.005, Millimetre, 3}, {0.0029, Millimetre, 3}, {0.0012, Millimetre, 3}, {0.001, Millimetre, 3},
		{0.0009, Millimetre, 4}, {0.0004, Millimetre, 4}, {0.0001, Millimetre, 4}, {0.00002, Millimetre, 4}, {1e-9, Millimetre, 4},
		{5e-324, Millimetre, 4},
		{0.1, Millimetre, 2}, {0.25, Millimetre, 2}, {0.3, Millimetre, 1}, {0.99, Millimetre, 1},
		{1, Millimetre, 1}, {2.9, Millimetre, 1}, {3, Millimetre, 0}, {10, Millimetre, 0}, {15, Millimetre, 0}, {250, Millimetre, 0},
		{1e300, Millimetre, 0},
		{0.0123, Inch, 3}, {0.005, Inch, 3}, {0.0012, Inch, 4}, {0.0005, Inch, 4}, {0.00012, Inch, 4}, {0.00005, Inch, 5}, {1e-9, Inch, 5},
		{0.1, Inch, 2},
		{0, Millimetre, 3}, {0, Inch, 4}, {math.NaN(), Millimetre, 3}, {math.NaN(), Inch, 4}, {math.Inf(1), Millimetre, 3},
		{math.Inf(1), Inch, 4},
		{-1, Millimetre, 3}, {math.Inf(-1), Inch, 4},
	} {
		if got := Places(c.u, c.unit); got != c.want {
			t.Errorf("Places(%v, %v) = %d, want %d", c.u, c.unit, got, c.want)
		}
	}
}

// Whatever the uncertainty, the printed one is within a sixth of the true one, has no more than
// two figures, and vanishes only where it is below the finest that is printed.
func TestPlacesKeepTheUncertainty(t *testing.T) {
	for _, unit := range []Unit{Millimetre, Inch} {
		finest := math.Pow10(-map[Unit]int{Millimetre: 4, Inch: 5}[unit])
		for u := 0.5 * finest; u < 2; u *= 1.001 {
			text := FormatFixed(u, Places(u, unit))
			shown, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			// One figure of 3 to 9, or of 1 and 2 where no second one is shown, is off by half of it.
			allowed := 0.17 * u
			if u < 30*finest {
				allowed = 5 * finest
			}
			if apart(shown, u) > allowed || shown == 0 {
				t.Fatalf("%v %v shown as %s", u, unit, text)
			}
			if figures := strings.TrimLeft(strings.ReplaceAll(text, ".", ""), "0"); len(figures) > 2 {
				t.Fatalf("%v %v shown as %s, more than two figures", u, unit, text)
			}
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		x             float64
		places        int
		fixed, signed string
	}{
		{0, 3, "0.000", "+0.000"}, {1.5, 3, "1.500", "+1.500"}, {-1.5, 3, "-1.500", "-1.500"},
		{-0.0004, 3, "0.000", "+0.000"}, {-0.0006, 3, "-0.001", "-0.001"}, {0.0006, 3, "0.001", "+0.001"},
		{math.Copysign(0, -1), 2, "0.00", "+0.00"}, {-0.4, 0, "0", "+0"}, {-0.6, 0, "-1", "-1"},
		{42.0129, 3, "42.013", "+42.013"}, {0.125, 2, "0.12", "+0.12"}, {0.375, 2, "0.38", "+0.38"}, // a half goes to the even digit
		{1e6, 1, "1000000.0", "+1000000.0"}, {-1e-300, 4, "0.0000", "+0.0000"}, {999.9996, 3, "1000.000", "+1000.000"},
	} {
		if got := FormatFixed(c.x, c.places); got != c.fixed {
			t.Errorf("FormatFixed(%v, %d) = %q, want %q", c.x, c.places, got, c.fixed)
		}
		if got := FormatSigned(c.x, c.places); got != c.signed {
			t.Errorf("FormatSigned(%v, %d) = %q, want %q", c.x, c.places, got, c.signed)
		}
	}
}

// Whatever a text is, the plain number that it begins with is to the last bit what ParseNumber reads of those bytes; and where a
// text is plain as a whole, it is read as a whole.
func FuzzPlainNumber(f *testing.F) {
	for _, s := range []string{
		"", "0", "-0", "+0.0", ".", "-", "+", "-.", "5.", ".5", "-.5", "1.2.3", "1,5", "1e5", "0x10", "−1", "١", "--1", "0.1 0.2",
		"123456789012345", "1234567890123456", "12345678901234.5", "0.00000000000001", "0.000000000000001", "000000000000001.",
		"999999999999999", "99999999999999.9", "00000000000000000000000000000000001", "9007199254740993",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		v, n := PlainNumber(text)
		if n > len(text) || n < 0 {
			t.Fatalf("%q: %d bytes of %d", text, n, len(text))
		}
		if n > 0 {
			want, err := ParseNumber(string(text[:n]))
			if err != nil || math.Float64bits(v) != math.Float64bits(want) {
				t.Errorf("%q: %v of %d bytes, want %v (%v)", text, v, n, want, err)
			}
			if n < len(text) && text[n] >= '0' && text[n] <= '9' {
				t.Errorf("%q: a number cut short after %d bytes", text, n)
			}
		}
		digits := strings.Replace(strings.TrimLeft(string(text[:min(1, len(text))]), "+-")+string(text[min(1, len(text)):]), ".", "", 1)
		if plain := digits != "" && len(digits) <= plainDigits && strings.Trim(digits, "0123456789") == ""; plain && n != len(text) {
			t.Errorf("%q: %d bytes read, want all %d", text, n, len(text))
		}
	})
}

// Digits with a point anywhere among them, a hundred thousand of them: the one division is rounded as strconv rounds.
func TestPlainNumberRounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 22))
	for range 100_000 {
		digits := strconv.FormatUint(rng.Uint64N(uint64(math.Pow10(1+rng.IntN(plainDigits)))), 10)
		at := rng.IntN(len(digits) + 1)
		text := []string{"", "-", "+"}[rng.IntN(3)] + digits[:at] + "." + digits[at:]
		want, err := strconv.ParseFloat(text, 64)
		if v, n := PlainNumber([]byte(text)); err != nil || n != len(text) || math.Float64bits(v) != math.Float64bits(want) {
			t.Fatalf("%q: %v of %d bytes, want %v of %d (%v)", text, v, n, want, len(text), err)
		}
	}
}
