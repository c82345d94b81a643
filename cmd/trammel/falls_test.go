package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// fallsEntries are sessions on the practice bench's job, on a dial whose figures grow as the tip is pressed: one to the acceptance,
// with the sign of the tip and the bezel set anew, and one with a misread, a wind that goes astray and brings the signs into
// question, a place where the tip is over-pressed, and figures that are refused.
var fallsEntries = []string{
	"done\ndone\ndone\nsense tip up\n0.062\n0.158\n0.298\n0.338\n0.242\n0.102\n0.198\n0.203\n0.002\nbezel 0.002 0.102\n0.1\n0.104\n" +
		"0.098\n0.102\n0.101\n0.1\naccept\n",
	"done\ndone\ndone\n0.062\n0.158\n0.298\n0.338\n0.642\n0.242\n0.198\n0.203\n1.2\nsense tip up\nsense x down\nbezel 0 0.1\nagain\n" +
		"off pressed\n0.1\n0.104\n0.1\n0.098\n0.1\naccept\n",
}

// ofNeedle are the fields that are figures of the dial, by their names in a line; value is one of a reading, and of what is expected.
var ofNeedle = []string{"goal", "reading_now", "reading_past", "reading_goal", "expected", "would_be", "showed", "shows",
	"residuals", "residual"}

// A dial that counts down as it is pressed is the same dial read with the other sign: a session of the negated figures says the very
// same of circle, winds and verdicts, and each figure of the needle, in what is told and in what is to be shown, negated. A dial's
// range that lies to one side of its zero lies to the other then, and a lever's angle changes nothing in that.
func TestFallingDial(t *testing.T) {
	number := regexp.MustCompile(`(?m)^-?\d[\d.]*( -?\d[\d.]*)?$`)
	negated := regexp.MustCompile(`-?\d[\d.]*`)
	negate := func(s string) string {
		return strings.ReplaceAll(negated.ReplaceAllString(s, "-$0"), "--", "")
	}
	turn := strings.NewReplacer("tip up", "tip down", "x down", "x up", "bezel 0 0.1", "bezel 0 -0.1", "bezel 0.002 0.102",
		"bezel -0.002 -0.102")
	for _, c := range []struct{ name, grows, falls string }{
		{"as far either way", "range = 1.6", "range = 1.6\npressed = \"falls\""},
		{"to one side, aslant", "from = -0.5\nto = 0.9\nlever_angle = 20", "from = -0.9\nto = 0.5\nlever_angle = -20\npressed = \"falls\""},
	} {
		dir := t.TempDir()
		if err := copyBench(dir); err != nil {
			t.Fatal(err)
		}
		for i, entries := range fallsEntries {
			grows := fallsSession(t, dir, c.grows, entries)
			falls := fallsSession(t, dir, c.falls, turn.Replace(number.ReplaceAllStringFunc(entries, negate)))
			if len(grows) != len(falls) || len(grows) < 30 {
				t.Fatalf("%s, session %d: %d lines, and %d of the dial that falls; want as many, and a whole session", c.name, i+1,
					len(grows), len(falls))
			}
			seen, accepted := 0, false
			for j, l := range grows {
				seen += sameBut(t, c.name, l, falls[j], "", false)
				accepted = accepted || l["say"] == "accepted"
			}
			if seen < 25 || !accepted {
				t.Errorf("%s, session %d: %d figures of the needle compared, accepted %v; want 25 or more, to the acceptance", c.name, i+1,
					seen, accepted)
			}
		}
	}
}

func fallsSession(t *testing.T, dir, dial, entries string) []map[string]any {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, benchFiles[0]))
	if err != nil {
		t.Fatal(err)
	}
	changed := regexp.MustCompile(`(?m)^range = 1\.6.*$`).ReplaceAllString(string(text), dial)
	if strings.Contains(dial, "lever") {
		changed = regexp.MustCompile(`(?m)^lever_angle = 0.*$`).ReplaceAllString(changed, "")
	}
	job := filepath.Join(dir, "dial.toml")
	if err := os.WriteFile(job, []byte(changed), 0o600); err != nil {
		t.Fatal(err)
	}
	return objects(t, tell(t, entries, "dial", "--lines", "--json", "--job", job, "--machine", filepath.Join(dir, benchFiles[1]),
		"--journal", filepath.Join(t.TempDir(), "j.jsonl")))
}

// sameBut compares what is said, of a figure of the needle its negative, and returns how many of these there were.
func sameBut(t *testing.T, at string, grows, falls any, key string, needle bool) (seen int) {
	t.Helper()
	needle = needle || slices.Contains(ofNeedle, key)
	switch g := grows.(type) {
	case map[string]any:
		f, _ := falls.(map[string]any)
		if g["went"] != nil {
			return 0 // up for down is the point of it
		}
		for k, v := range g {
			reads := needle && k != "u95" || k == "value" && (g["say"] == "reading" || g["say"] == "wound")
			n := k
			if needle && k == "u95" {
				n = ""
			}
			seen += sameBut(t, at+"."+k, v, f[k], n, reads)
		}
		return seen
	case []any:
		f, _ := falls.([]any)
		if len(f) != len(g) {
			t.Errorf("%s: %v, and %v of the dial that falls", at, grows, falls)
			return 0
		}
		for i := range g {
			seen += sameBut(t, at, g[i], f[i], key, needle)
		}
		return seen
	case json.Number:
		want, _ := g.Float64()
		n, ok := falls.(json.Number)
		have, _ := n.Float64()
		if needle {
			want, seen = -want, 1
		}
		if !ok || math.Abs(have-want) > 1e-9 {
			t.Errorf("%s: %v, and %v of the dial that falls", at, grows, falls)
		}
		return seen
	}
	if text, _ := grows.(string); key != "because" && key != "text" && key != "input" && key != "from" && grows != falls {
		t.Errorf("%s: %q, and %v of the dial that falls", at, text, falls)
	}
	return 0
}
