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
