package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// mostDevelopers bounds DEVELOPERS.md, bytes: what is longer nobody reads before he begins.
const mostDevelopers = 12 << 10

// filename is a name that is meant for a file even without its folder.
var filename = regexp.MustCompile(`^[\w.-]+\.(go|md|mod|json|jsonl|toml|txt|py)$`)

// papers returns the paths that a text names in backquotes, from the module's top: one word with a slash, or a file's
// name; a/… is the folder a. Packages of other modules, which begin with a host's name, are none.
func papers(text string) (paths []string) {
	for _, word := range names(text) {
		first, _, slash := strings.Cut(word, "/")
		switch {
		case strings.ContainsAny(word, " \t\n"), slash && strings.Contains(strings.TrimPrefix(first, "."), "."):
		case slash, filename.MatchString(word):
			paths = append(paths, strings.TrimSuffix(word, "/…"))
		}
	}
	return paths
}

// DEVELOPERS.md stays short, and what it names is there.
func TestDevelopers(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(top, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	if len(text) > mostDevelopers {
		t.Errorf("DEVELOPERS.md has %d bytes, want at most %d: put reasons beside the code they explain", len(text), mostDevelopers)
	}
	paths := papers(string(text))
	if len(paths) < 20 {
		t.Errorf("DEVELOPERS.md names %d paths, so this test sees nothing", len(paths))
	}
	for _, p := range paths {
		if _, err := os.Stat(filepath.Join(top, filepath.FromSlash(p))); err != nil {
			t.Errorf("DEVELOPERS.md names %s, which is not there", p)
		}
	}
}

// What is taken for a path, and what is not.
func TestPapers(t *testing.T) {
	got := papers("`tui/step.go` `geom/…` `go.mod` `.ci/run` `m.org/x/…` `go doc ./geom` `cmd → tui/…` `tui` `Live.Do` `a = \"b/c\"`")
	if want := "tui/step.go geom go.mod .ci/run"; strings.Join(got, " ") != want {
		t.Errorf("paths %q, want %s", got, want)
	}
}
