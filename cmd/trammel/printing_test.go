package main

import (
	"bytes"
	"errors"
	"io"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/testdata"
)

// However a text is cut into pieces, at a character's bytes too, it leaves as the whole of it would: what prints as it is, and a
// stand-in for each character, or byte of none, that does not.
func TestPrintingInPieces(t *testing.T) {
	piece := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"\x1b[2J", "\u009b", "\xe2", "\x82", "\xac", "€",
		"\U000e0001", "\n", "\r", "\t"}))
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, s := range rapid.SliceOfN(piece, 0, 8).Draw(t, "text") {
			text += s
		}
		var out bytes.Buffer
		p := &printing{to: &out}
		for rest := []byte(text); len(rest) > 0; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "piece")
			if m, err := p.Write(rest[:n]); m != n || err != nil {
				t.Fatalf("wrote %d of %d: %v", m, n, err)
			}
			rest = rest[n:]
		}
		if err := p.end(); err != nil {
			t.Fatal(err)
		}
		got := out.String()
		for _, r := range got {
			if !geom.Prints(r) && r != '\n' {
				t.Fatalf("%q leaves as %q", text, got)
			}
		}
		if want := geom.Printable(text, unicode.ReplacementChar, '\n'); got != want {
			t.Fatalf("%q leaves as %q, the whole of it as %q", text, got, want)
		}
	})
}

// What cannot be written is told by whoever is written to.
func TestPrintingIntoNothing(t *testing.T) {
	if n, err := (&printing{to: noRoom{}}).Write([]byte("a")); n != 0 || err == nil {
		t.Errorf("%d bytes, %v", n, err)
	}
	if _, err := io.WriteString(&printing{to: noRoom{}}, testdata.Foul); errors.Is(err, io.ErrShortWrite) || err == nil {
		t.Error(err)
	}
}
