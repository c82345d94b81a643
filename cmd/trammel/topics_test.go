package main

import (
	"bytes"
	"strings"
	"testing"

	"example.org/trammel/indicator/lines"
)

// The page of words that a person asks for by name is the one that the screens have: every word with what it means.
func TestHelpWordsIsTheTable(t *testing.T) {
	var out, complaints bytes.Buffer
	if code := run([]string{"help", "words"}, world{out: &out, err: &complaints}); code != exitDone || complaints.Len() > 0 {
		t.Fatalf("exit %d, %s", code, complaints.String())
	}
	page := strings.Join(strings.Fields(out.String()), " ")
	for _, w := range lines.Words {
		if !strings.Contains(page, w.Text()) {
			t.Errorf("trammel help words does not say %q", w.Text())
		}
	}
	for _, l := range strings.Split(out.String(), "\n") {
		if len([]rune(l)) > 80 {
			t.Errorf("a line of %d: %q", len([]rune(l)), l)
		}
	}
}
