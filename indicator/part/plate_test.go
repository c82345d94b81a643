package part_test

import (
	"testing"

	"example.org/trammel/indicator/part"
)

// What parts take, by hand. Three settings: arcs 1 and 2 share radius, centre and cutter, 3 lies about another centre, 4 has another
// radius and cutter; 5 is a straight. One part is put on once, set 3 times, changed over 3 times with 2 cutters; a setting is found by
// a sweep of 6 and seen by one of 5, so 33 readings. Of 4 parts, part by part takes 4 times that. Setting by setting, each part is put
// on once a setting, but for the last at one setting, which stays on for the next: 12 - 2 times; 3 set-ups, and the 3 later parts of
// each are checked by five: 33 + 9·5 readings.
func TestWays(t *testing.T) {
	arc := func(cutter float64) *part.Picked { return &part.Picked{Cutter: cutter} }
	p := &part.Plate{Tasks: []part.Task{{N: 1, Arc: arc(8), Cutter: 8, Setting: 1, Centre: 1}, {N: 2, Arc: arc(8), Cutter: 8, Setting: 1,
		Centre: 1}, {N: 3, Arc: arc(8), Cutter: 8, Setting: 1, Centre: 2}, {N: 4, Arc: arc(6), Cutter: 6, Setting: 2, Centre: 1}, {N: 5}}}
	for parts, want := range map[int][2]part.Way{
		1: {{Clampings: 1, SetUps: 3, ChangeOvers: 3, Cutters: 2, Readings: 33},
			{Clampings: 1, SetUps: 3, ChangeOvers: 3, Cutters: 2, Readings: 33}},
		4: {{Clampings: 4, SetUps: 12, ChangeOvers: 12, Cutters: 8, Readings: 132},
			{Clampings: 10, SetUps: 3, Verified: 9, ChangeOvers: 12, Cutters: 2, Readings: 78}},
	} {
		if one, other := p.Ways(parts, 6); one != want[0] || other != want[1] {
			t.Errorf("%d parts: %+v and %+v, want %+v and %+v", parts, one, other, want[0], want[1])
		}
	}
}
