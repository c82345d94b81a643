package tui_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What the screen must not do, for reasons that no test of a single part would show: send to a
// program from inside it (it deadlocks), chain commands in a way that the driver cannot unroll,
// build styles on the terminal that happens to be standard output, or start goroutines of its own
// (a panic in one leaves the terminal raw).
func TestHouseRules(t *testing.T) {
	rules := []struct {
		pattern *regexp.Regexp
		only    string // where it may stand
	}{
		{regexp.MustCompile(`tea\.(NewProgram|Program)\b|\.Send\(`), "run.go"},
		{regexp.MustCompile(`tea\.Sequence`), ""},
		{regexp.MustCompile(`lipgloss\.(NewStyle|DefaultRenderer|HasDarkBackground|AdaptiveColor)`), ""},
		{regexp.MustCompile(`(?m)^\s*go `), ""},
		{regexp.MustCompile(`\btime\.(Now|Sleep|After|Tick)\b|os\.Exit`), ""},
	}
	var files []string
	for _, dir := range []string{".", "keys", "pane"} {
		found, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	seen := 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		seen++
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rules {
			if hit := r.pattern.Find(text); hit != nil && f != r.only {
				t.Errorf("%s: %q", f, hit)
			}
		}
	}
	if seen < 10 {
		t.Fatalf("%d files read, want 10 or more", seen)
	}
}
