package main

import (
	"testing"

	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/tui/pane"
)

// A setting that was opened and left without a reading takes nothing away from an arc that was accepted before; one with a reading
// does, and of an arc that was never set opening it counts.
func TestStandings(t *testing.T) {
	var opened, swept record.Journal
	opened.State.Trial, swept.State.Trial = 1, 2
	for _, x := range []struct {
		was  part.Standing
		open []record.Journal
		want pane.Standing
	}{
		{part.IsSet, nil, pane.SetUp},
		{part.IsSet, []record.Journal{opened}, pane.SetUp},
		{part.Checked, []record.Journal{opened}, pane.Checked},
		{part.IsSet, []record.Journal{opened, swept}, pane.Begun},
		{part.ToDo, []record.Journal{opened}, pane.Begun},
		{part.ToDo, nil, pane.ToDo},
	} {
		if got := standings(map[int]reached{2: {x.was, x.open}})[2]; got != x.want {
			t.Errorf("%v with %d open: %v, want %v", x.was, len(x.open), got, x.want)
		}
	}
}
