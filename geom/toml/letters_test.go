package toml_test

import (
	"fmt"
	"strings"
	"testing"

	"example.org/trammel/geom/toml"
)

// A key's letters are told apart, capital and small, as TOML 1.0 has it ("Keys"): what is written otherwise is told with the line and
// the form's name, alone or beside the right one, in whatever it stands, once; a name of one's own is any.
func TestDecodeLetters(t *testing.T) {
	type play struct {
		Worm float64 `toml:"worm_play"`
	}
	type form struct {
		Unit string
		Cut  struct {
			Depth *float64 `toml:"depth"`
			play
		}
		Slide map[string]struct{ Backlash float64 }
		Path  []struct {
			Depth float64
			Steps []struct{ At []float64 }
		}
	}
	for _, c := range []struct{ text, want string }{
		{"unit = \"mm\"\n[cut]\ndepth = 6\nworm_play = 1\n[slide.X]\nbacklash = 1\n[[path]]\ndepth = 1\nsteps = [{ at = [1] }]\n", ""},
		{"[cut]\ndepth = 6\nDepth = 7\n", "3 cut.Depth depth"},
		{"[cut]\nDEPTH = 7\n", "2 cut.DEPTH depth"},
		{"[cut]\nWorm_play = 7\n", "2 cut.Worm_play worm_play"},
		{"Unit = \"mm\"\n[Cut]\ndepth = 6\n", "1 Unit unit 2 Cut cut"},
		{"cut.Depth = 6\n", "1 cut.Depth depth"},
		{"[slide.x]\nbacklash = 0.15\nBacklash = 0.9\n[slide.X]\nBacklash = 1\n",
			"3 slide.x.Backlash backlash 5 slide.X.Backlash backlash"},
		{"[[path]]\ndepth = 1\n[[path]]\nDepth = 1\nsteps = [\n{ at = [1] },\n{ At = [1] }]\n",
			"4 path.Depth depth 7 path.steps.At at"},
	} {
		var got form
		all, _, through := toml.Decode([]byte(c.text), &got)
		var words []string
		for _, m := range all {
			words = append(words, fmt.Sprint(m.Line), strings.Join(m.Key, "."), m.Name)
			if !m.Unknown || !strings.Contains(string(m.Seen), m.Key[len(m.Key)-1]) {
				t.Errorf("%q: %+v", c.text, m)
			}
		}
		if said := strings.Join(words, " "); said != c.want || !through {
			t.Errorf("%q: %q, want %q; read to its end: %v", c.text, said, c.want, through)
		}
	}
}
