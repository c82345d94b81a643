package main

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/record"
)

// The page of cautions tells all of those that are told at the steps.
func TestSafetyPageTellsAll(t *testing.T) {
	flat := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	page, err := helpPages.ReadFile("help/safety.txt")
	if err != nil {
		t.Fatal(err)
	}
	help := record.CautionsOn(record.Care{}, record.OnHelp)
	if len(help) < 9 {
		t.Errorf("%d cautions for the page, there were 9 when this was written", len(help))
	}
	for _, c := range append(help, "trained supervision go before anything this program says") {
		if !strings.Contains(flat(string(page)), c) {
			t.Errorf("help/safety.txt does not tell: %s", c)
		}
	}
}
