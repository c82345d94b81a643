package part_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator/part"
)

// bosses is a round plate of 80, cut through at 10, with bosses of 8 on it at 40, 0 and so on round, cut down to their depths.
func bosses(t *testing.T, depths ...float64) *part.Plan {
	t.Helper()
	var layers []part.LayerDepth
	say := func(layer string, mm float64) {
		layers = append(layers, part.LayerDepth{Layer: layer, SaidDepth: part.SaidDepth{Depth: mm, By: fmt.Sprintf("--depth %s=%v", layer, mm)}})
	}
	loops := [][]part.Piece{on("rim", pieces(circle(80)))}
	say("rim", 10)
	for i, d := range depths {
		layer := fmt.Sprintf("boss%d", i)
		b := circle(8)
		b.Centre = at(0, 0).Along(360*deg/9*2, 40).Times(float64(1 - 2*(i%2)))
		if i > 1 {
			b.Centre = at(0, 0)
		}
		b.Start, b.End = b.Centre.Add(at(8, 0)), b.Centre.Add(at(8, 0))
		loops = append(loops, on(layer, said(part.Inside, b)))
		say(layer, d)
	}
	return made(t, part.Outline{Loops: loops}, part.Options{Cutters: []float64{6}, Depths: part.Depths{Layers: layers,
		Step: part.SaidDepth{Depth: 2, By: "--step 2"}}})
}

// Bosses of one depth are milled round at once, those of two each at its level, from the top down: behind the bosses, and before what is
// cut deeper. Their numbers stand behind the elements', of which there are as many as outlines here. The plate has them in their places.
func TestMillings(t *testing.T) {
	for _, c := range []struct {
		depths []float64
		want   []part.Mill
	}{
		{[]float64{4, 4}, []part.Mill{{N: 4, Place: 2, Depth: 4, Bosses: []int{2, 3}}}},
		{[]float64{4, 2}, []part.Mill{{N: 4, Place: 1, Depth: 2, Bosses: []int{3}}, {N: 5, Place: 2, Depth: 4, Bosses: []int{2}}}},
		{[]float64{4, 2, 4}, []part.Mill{{N: 5, Place: 1, Depth: 2, Bosses: []int{3}}, {N: 6, Place: 3, Depth: 4, Bosses: []int{2, 4}}}},
	} {
		p := bosses(t, c.depths...)
		if !reflect.DeepEqual(p.Mills, c.want) {
			t.Errorf("bosses down to %v: %+v, want %+v", c.depths, p.Mills, c.want)
		}
		plate := part.NewPlate(p, "plate")
		if err := plate.Check(); err != nil {
			t.Errorf("bosses down to %v: %v", c.depths, err)
		}
		for i, m := range c.want {
			k := slices.IndexFunc(plate.Tasks, func(t part.Task) bool { return t.N == m.N })
			if k != m.Place+i || !slices.Equal(plate.Tasks[k].Mill, m.Bosses) || plate.Tasks[k].Depth != m.Depth ||
				!slices.Contains(plate.ByHand(), m.N) {
				t.Errorf("bosses down to %v: milling %d is task %d of %+v", c.depths, m.N, k, plate.Tasks)
			}
		}
	}
}

// A milling that a plate cannot have been given is refused.
func TestMillingsRefused(t *testing.T) {
	for want, tasks := range map[string][]part.Task{
		"round element 2, need one that is cut before": {{N: 1}, {N: 3, Mill: []int{2}, Depth: 4}, {N: 2}},
		"round element 9, need":                        {{N: 1}, {N: 3, Mill: []int{9}, Depth: 4}},
		"depth of 0 mm, need a depth above 0":          {{N: 1}, {N: 3, Mill: []int{1}}},
		"round element 3, need":                        {{N: 1}, {N: 3, Mill: []int{1}, Depth: 2}, {N: 4, Mill: []int{3}, Depth: 4}},
	} {
		p := &part.Plate{Tasks: tasks}
		if err := p.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", tasks, err, want)
		}
	}
}
