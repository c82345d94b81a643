package geom

import (
	"slices"
	"strings"
	"unicode"
)

// Prints reports whether a character shows and does nothing else. It is the one rule for what names and notes may
// hold, and for all that leaves the program: terminal, page, table and file. Not among them are the controls of
// ASCII and of the C1 set, one of which begins an escape sequence by itself (ECMA-48, 5.2 and 5.3), the marks that
// turn the order of what follows (Unicode Standard Annex 9, 2.1 to 2.5), what has no width or breaks a line, and
// every space but the plain one.
func Prints(r rune) bool { return unicode.IsPrint(r) }

// Printable returns a text with a stand-in for everything that does not print, but for the characters that may stay
// (a line feed, where a text has lines). Bytes that are no UTF-8 become U+FFFD. A stand-in below 0 leaves nothing.
func Printable(text string, standIn rune, stay ...rune) string {
	return strings.Map(func(r rune) rune {
		if Prints(r) || slices.Contains(stay, r) {
			return r
		}
		return standIn
	}, text)
}

// PrintableLine is Printable for a text of one line: U+FFFD for what does not print, a space for what would break the line.
func PrintableLine(text string) string {
	return Printable(strings.NewReplacer("\n", " ", "\t", " ").Replace(text), unicode.ReplacementChar)
}
