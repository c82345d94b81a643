package theme_test

import (
	"reflect"
	"testing"

	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/x/ansi"
	"github.com/mattn/go-runewidth"
	"github.com/muesli/termenv"
)

// glyphs returns the signs of one set by field name.
func glyphs(plain bool) map[string]string {
	out := map[string]string{}
	v := reflect.ValueOf(theme.New(renderer(termenv.Ascii), plain).Glyphs)
	for i := range v.NumField() {
		out[v.Type().Field(i).Name] = v.Field(i).String()
	}
	return out
}

func TestDrawnGlyphsTakeOneCell(t *testing.T) {
	for name, g := range glyphs(false) {
		if w := ansi.StringWidth(g); w != 1 {
			t.Errorf("%s %q takes %d cells, want 1", name, g, w)
		}
	}
}

// A plain sign must take as many cells as it has bytes, whether or not the locale is East Asian.
func TestPlainGlyphsAreASCIIAndNeverAmbiguous(t *testing.T) {
	for name, g := range glyphs(true) {
		if g == "" {
			t.Errorf("%s is empty", name)
		}
		for _, r := range g {
			if r < ' ' || r > '~' {
				t.Errorf("%s %q holds %U, want printable ASCII", name, g, r)
			}
		}
		for _, eastAsian := range []bool{false, true} {
			c := runewidth.NewCondition()
			c.EastAsianWidth = eastAsian
			if w := c.StringWidth(g); w != len(g) {
				t.Errorf("%s %q, East Asian %v: %d cells, want %d", name, g, eastAsian, w, len(g))
			}
		}
		if w := ansi.StringWidth(g); w != len(g) {
			t.Errorf("%s %q takes %d cells, want %d", name, g, w, len(g))
		}
	}
}

// The reason for the second set: were the drawn one unambiguous, it would not be needed.
func TestDrawnGlyphsAreAmbiguousInEastAsianLocales(t *testing.T) {
	c := runewidth.NewCondition()
	c.EastAsianWidth = true
	g := theme.New(renderer(termenv.Ascii), false).Glyphs
	for _, sign := range []string{g.PlusMinus, g.Degree, g.Times, g.Sigma, g.Rule, g.Arrow} {
		if w := c.StringWidth(sign); w != 2 {
			t.Errorf("%q takes %d cells, want 2", sign, w)
		}
	}
}

// Signs that stand for different things on the same line must not look alike.
func TestVerdictGlyphsDiffer(t *testing.T) {
	for _, plain := range []bool{false, true} {
		all := glyphs(plain)
		for _, group := range [][]string{
			{"Tick", "Cross", "Query", "RightMark"},
			{"Clockwise", "Anticlockwise"},
			{"Axis", "Centre"},
		} {
			seen := map[string]string{}
			for _, name := range group {
				if other, ok := seen[all[name]]; ok {
					t.Errorf("plain %v: %s and %s are both %q", plain, name, other, all[name])
				}
				seen[all[name]] = name
			}
		}
	}
}
