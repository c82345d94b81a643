package main

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// What no figure of a plan can come from is refused as it is said, with what is needed.
func TestPlanBounds(t *testing.T) {
	for _, c := range []struct{ flags, want string }{
		{"--step-height 1e-300", "--step-height 1e-300, need 1e-05 mm or more"},
		{"--step-height 0.01 --readout-step 1e308", "--readout-step 1e+308, need at most 1 mm"},
		{"--step-height 0.01 --readout-step 1.5", "--readout-step 1.5, need at most 1 mm"},
		{"--step 1e-5 --depth 1e-4", "--depth 1e-4, need 0.001 to 10000 mm"},
		{"--step 1e4 --depth 1e5", "--depth 1e5, need 0.001 to 10000 mm"},
		{"--parts 0", "--parts 0, need 1 to"},
		{"--parts -1", "--parts -1, need 1 to"},
	} {
		var out, complaints bytes.Buffer
		code := run(append([]string{"plan", "-", "--cutter", "8"}, strings.Fields(c.flags)...), world{out: &out, err: &complaints,
			in:  strings.NewReader("unit = \"mm\"\n[[circle]]\ncentre = [0, 0]\nradius = 30\nmetal = \"inside\"\n"),
			now: time.Now, getenv: func(string) string { return "" }})
		if code != 2 || !strings.Contains(complaints.String(), c.want) {
			t.Errorf("%s: exit code %d, %q, want 2 and %s", c.flags, code, complaints.String(), c.want)
		}
	}
}
