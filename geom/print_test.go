package geom_test

import (
	"testing"
	"unicode"
	"unicode/utf8"

	"example.org/trammel/geom"
)

// Nothing prints that ECMA-48 (5.2 and 5.3) calls a control, that turns the writing direction (Unicode Standard
// Annex 9, 2.1 to 2.5), or that Unicode calls a separator of lines or
// paragraphs (The Unicode Standard, general categories Zl and Zp; from memory).
func TestPrints(t *testing.T) {
	for _, span := range [][2]rune{{0, 0x1f}, {0x7f, 0x9f}, {0x202a, 0x202e}, {0x2066, 0x2069}, {0x200b, 0x200f}, {0x061c, 0x061c},
		{0x2028, 0x2029}, {0xfeff, 0xfeff}} {
		for r := span[0]; r <= span[1]; r++ {
			if geom.Prints(r) {
				t.Errorf("%U prints", r)
			}
		}
	}
	for _, r := range " ~äßØ°±−→½µ┌█⠿語\u0301\ufffd" {
		if !geom.Prints(r) {
			t.Errorf("%U %q does not print", r, r)
		}
	}
}

func TestPrintable(t *testing.T) {
	const foul = "a\x1b[2J\u009b\nß\xff\u200b°"
	for _, c := range []struct {
		standIn rune
		stay    []rune
		want    string
	}{
		{'?', nil, "a?[2J??ß\ufffd?°"},
		{'?', []rune{'\n'}, "a?[2J?\nß\ufffd?°"},
		{unicode.ReplacementChar, nil, "a\ufffd[2J\ufffd\ufffdß\ufffd\ufffd°"},
		{-1, nil, "a[2Jß\ufffd°"},
	} {
		if got := geom.Printable(foul, c.standIn, c.stay...); got != c.want || !utf8.ValidString(got) {
			t.Errorf("with %q, %q staying: %q, want %q", c.standIn, c.stay, got, c.want)
		}
	}
}
