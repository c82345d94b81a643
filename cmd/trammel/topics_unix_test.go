//go:build unix

package main

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// On a terminal a page is as wide as its window, within bounds.
func TestTopicFitsTheTerminal(t *testing.T) {
	for columns, want := range map[int]int{30: leastWidth, 50: 50, 200: topicWidth} {
		x := on(t, program(t, t.TempDir(), "help", "safety"), columns, 40)
		x.ends(exitDone)
		out := x.written()
		widest := 0
		for _, l := range strings.Split(strings.ReplaceAll(out, "\r", ""), "\n") {
			widest = max(widest, utf8.RuneCountInString(l))
		}
		if widest > want || widest < want-12 { // the longest word of the page, and a space
			t.Errorf("%d columns: lines of up to %d, want %d at most and nearly so:\n%s", columns, widest, want, out)
		}
	}
}

// So is the help on a verb and the list of topics, at words, with what stands in a column below it; examples are as they are typed.
func TestHelpFitsTheTerminal(t *testing.T) {
	for _, verb := range []string{"", "practice", "completion", "reach cut"} {
		args := append(strings.Fields(verb), "--help")
		whole, _, _ := asks(args...)
		for _, columns := range []int{50, 80} {
			x := on(t, program(t, t.TempDir(), args...), columns, 40)
			x.ends(exitDone)
			out := strings.ReplaceAll(x.written(), "\r", "")
			if got, want := strings.Join(strings.Fields(out), " "), strings.Join(strings.Fields(whole), " "); got != want {
				t.Errorf("%s in %d columns says\n%s\nwant\n%s", verb, columns, got, want)
			}
			for l := range strings.SplitSeq(out, "\n") {
				if utf8.RuneCountInString(l) > columns && !strings.Contains(l, "  trammel ") {
					t.Errorf("%s in %d columns: %q", verb, columns, l)
				}
			}
			if indent := "\n" + strings.Repeat(" ", 16) + "then the radius"; verb == "" && columns == 50 && !strings.Contains(out, indent) {
				t.Errorf("no line goes on below its column:\n%s", out)
			}
		}
	}
}
