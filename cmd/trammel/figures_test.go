package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// What the README tells of drawn machines stands in the page of figures, which nobody types: each row of its table, and how many
// settings of the two-point hand are outside without showing it.
func TestReadmeHasTheFigures(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(top, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	page, _ := findTopic("figures")
	rows := regexp.MustCompile(`(?m)^    (parked|collar|two-point) .*[0-9]$`).FindAllString(string(text), -1)
	if len(rows) < 3 {
		t.Errorf("%d rows of figures in the README, want those of three hands", len(rows))
	}
	for _, row := range rows {
		if !strings.Contains(page.Text, row+"\n") {
			t.Errorf("the page of figures has no row %q", row)
		}
	}
	within := regexp.MustCompile(`(?m)^    two-point +([0-9]+) `).FindStringSubmatch(page.Text)
	out := regexp.MustCompile(`([0-9]+) of its 1000 settings are outside`).FindStringSubmatch(strings.Join(strings.Fields(string(text)), " "))
	if within == nil || out == nil {
		t.Fatalf("two-point: %q on the page, %q in the README", within, out)
	}
	if n, err := strconv.Atoi(within[1]); err != nil || strconv.Itoa(1000-n) != out[1] {
		t.Errorf("%s of 1000 truly within, and the README says %q", within[1], out[0])
	}
}
