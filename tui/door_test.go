package tui

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
)

// styleAlone is a sequence that only says how what follows is drawn (ECMA-48, 8.3.117).
func styleAlone(text string) int {
	for i := 2; strings.HasPrefix(text, "\x1b[") && i < len(text); i++ {
		switch c := text[i]; {
		case c == 'm':
			return i + 1
		case c < '0' || c > ';':
			return 0
		}
	}
	return 0
}

// Whatever a screen draws, what prints, its lines and its styles come to the terminal as they are, and nothing else does.
func TestDoor(t *testing.T) {
	piece := rapid.OneOf(rapid.StringMatching(`[ -~°±−█é]{0,8}`), rapid.SampledFrom([]string{"\n", "\x1b", "\x1b[", "\x1b[31m", "\x1b[0m",
		"\x1b[38;5;12m", "\x1b[4:3m", "\x1b[2J", "\x1b[31;H", "\x1b]0;t\a", "\x1bc", "\u009b31m", "\xff", "\xc3", "\u202e",
		"\u2028", "\r", "\t",
		"\x00", "\x1b[?25l", "\x1bP1$r\x1b\\", "\x1b[999999999999m"}), rapid.String())
	rapid.Check(t, func(t *rapid.T) {
		drawn := strings.Join(rapid.SliceOfN(piece, 0, 12).Draw(t, "drawn"), "")
		got := harmless(drawn)
		if again := harmless(got); again != got {
			t.Fatalf("%q becomes %q, and that %q", drawn, got, again)
		}
		for rest := got; rest != ""; {
			if n := styleAlone(rest); n > 0 {
				rest = rest[n:]
				continue
			}
			r := []rune(rest)[0]
			if !geom.Prints(r) && r != '\n' {
				t.Fatalf("%q becomes %q, in which %q stands", drawn, got, r)
			}
			rest = rest[len(string(r)):]
		}
		if strings.Count(got, "\n") != strings.Count(drawn, "\n") {
			t.Fatalf("%q becomes %q: the lines are not as many", drawn, got)
		}
	})
	for _, same := range []string{"", "a\n\x1b[1;38;5;12mb\x1b[0m °±−\n", "\x1b[m"} {
		if got := harmless(same); got != same {
			t.Errorf("%q becomes %q", same, got)
		}
	}
}
