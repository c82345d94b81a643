//go:build unix

package main

import "testing"

// Practice by the cable indicator on a terminal, from the start page: the simulated line is read like a real one's, its needle stands still
// at the station that the head has been swung to, and one Enter takes it; then it shakes on its way to the next.
func TestPracticeByGaugeOnAScreen(t *testing.T) {
	t.Parallel()
	p := startPage(t, t.TempDir(), 80, 24)
	p.shows("5  practice with a cable indicator")
	p.presses("5\r")
	p.shows("practice", "Enter goes on")
	for n := 0; !hasAll(p.page(), []string{"station 1 of"}); n++ {
		if n > 20 {
			t.Fatalf("no station is asked for; the screen:\n%s", p.page())
		}
		page := p.page()
		p.presses("\r")
		p.leaves(page)
		p.reads("\r")
	}
	for range 2 {
		p.shows("✓ still", "Enter take needle")
		p.presses("\r")
		p.shows("mean of 10 samples of the simulated indicator", "… moves")
	}
	p.shows("station 3 of")
	p.types("q")
	p.shows("5  practice with a cable indicator")
	p.presses("/")
	p.ends(exitDone)
}
