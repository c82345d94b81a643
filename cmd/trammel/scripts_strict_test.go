package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// asserts are the words of a script that look at what a program has done: at what it said, or at a file.
var asserts = []string{"stdout", "stderr", "cmp", "cmpenv", "grep", "exists", "field", "says", "harmless", "named"}

// ran is a line of a script that runs a program, with what is looked at behind it.
type ran struct {
	n       int // of the line, from 1
	refused bool
	text    string
	looks   [][]string // the words of each assertion, without its negation
	denies  []bool     // the negation of each
}

// onlyOn is a condition in front of a script's line.
var onlyOn = regexp.MustCompile(`^(\[[^]]*\]\s*)+`)

// leftUnrun is a line behind which nothing of a script is run. That another system has no such files is a reason; that a program is
// missing is none, for whoever has to know can put it there.
var leftUnrun = regexp.MustCompile(`(?m)^(\[[^]]*\]\s*)*(skip|stop)\b.*`)

// runsOf are the programs that a script runs, up to its first file.
func runsOf(text string) (all []ran) {
	for i, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "-- ") {
			break
		}
		line = onlyOn.ReplaceAllString(strings.TrimSpace(line), "")
		words := strings.Fields(strings.TrimPrefix(line, "!"))
		switch {
		case len(words) == 0:
		case words[0] == "exec" || words[0] == "exits":
			no := strings.HasPrefix(line, "!") || words[0] == "exits" && words[1] != "0"
			all = append(all, ran{n: i + 1, refused: no, text: line})
		case slices.Contains(asserts, words[0]) && len(all) > 0:
			r := &all[len(all)-1]
			r.looks, r.denies = append(r.looks, words), append(r.denies, strings.HasPrefix(line, "!"))
		}
	}
	return all
}

// says reports whether something is wanted of what a refusal says on standard error; that it does not say something else is not enough.
func (r *ran) says() bool {
	for i, words := range r.looks {
		if !r.denies[i] && (words[0] == "stderr" || slices.Contains(words[1:], "stderr")) {
			return true
		}
	}
	return false
}

// An exit code alone is no check: behind every program that a script runs something is looked at before the next is run, and of a
// refusal what it says.
func TestScriptsLookAtWhatIsSaid(t *testing.T) {
	names, err := filepath.Glob("../../testdata/script/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d scripts, %v", len(names), err)
	}
	runs := 0
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range runsOf(string(text)) {
			runs++
			switch {
			case len(r.looks) == 0:
				t.Errorf("%s:%d: nothing is looked at behind %q", filepath.Base(name), r.n, r.text)
			case r.refused && !r.says():
				t.Errorf("%s:%d: what is refused by %q is not looked at: need stderr", filepath.Base(name), r.n, r.text)
			}
		}
		head, _, _ := strings.Cut(string(text), "\n-- ")
		if left := leftUnrun.FindString(head); left != "" && !strings.HasPrefix(left, "[!unix] ") {
			t.Errorf("%s: %q leaves out what could have run", filepath.Base(name), left)
		}
	}
	if runs < 1000 {
		t.Errorf("%d programs run by %d scripts, need all of them seen: 1000 and more", runs, len(names))
	}
}
