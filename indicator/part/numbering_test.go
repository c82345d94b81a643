package part_test

import (
	"testing"

	"example.org/trammel/indicator/part"
)

// What the hand does first is setting 1, in the proposed order and in a chosen one; a setting that is come back to keeps its number,
// and the plan that was put into another order is left as it was. The link: 1 and 3 are its rounds, of one setting, 5 its bore.
func TestSettingsAreNumberedAsTheyAreCut(t *testing.T) {
	p := made(t, link(), part.Options{Cutters: []float64{8}})
	numbered := func(name string, p *part.Plan, want map[int]int) {
		t.Helper()
		for n, setting := range want {
			if a := p.Swung(n); a.Group != setting || p.Groups[setting-1].N != setting {
				t.Errorf("%s: arc %d is of setting %d, want %d: %+v", name, n, a.Group, setting, p.Groups)
			}
		}
		if plate := part.NewPlate(p, "link"); plate.Number(plate.Task(2)) != 0 {
			t.Errorf("%s: a straight is of setting %d", name, plate.Number(plate.Task(2)))
		} else if got := plate.Number(plate.Task(5)); got != want[5] {
			t.Errorf("%s: the plate has arc 5 in setting %d, want %d", name, got, want[5])
		}
	}
	for _, c := range []struct {
		order []int
		want  map[int]int
	}{{[]int{5, 1, 3, 2, 4}, map[int]int{5: 1, 1: 2, 3: 2}}, {[]int{2, 1, 5, 3, 4}, map[int]int{1: 1, 5: 2, 3: 1}}} {
		q, err := p.Reordered(c.order)
		if err != nil {
			t.Fatal(err)
		}
		numbered("in another order", q, c.want)
		back, err := q.Reordered([]int{1, 3, 5, 2, 4})
		if err != nil {
			t.Fatal(err)
		}
		numbered("back again", back, map[int]int{1: 1, 3: 1, 5: 2})
		numbered("the other", q, c.want)
	}
}

// A plate that a journal of old keeps has numbered its settings by their first arcs.
func TestSettingsOfOldPlates(t *testing.T) {
	p := &part.Plate{Tasks: []part.Task{{N: 8, Setting: 5}, {N: 3, Setting: 2}, {N: 5, Setting: 2}, {N: 2}, {N: 1, Setting: 1}}}
	for n, want := range map[int]int{8: 1, 3: 2, 5: 2, 2: 0, 1: 3} {
		if got := p.Number(p.Task(n)); got != want {
			t.Errorf("element %d: setting %d, want %d", n, got, want)
		}
	}
}
