package pane

import (
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/testdata"
	"example.org/trammel/tui/theme"
)

// Of an arc that is cut in passes the plan's screen says them, and where the cutter goes down.
func TestPlanOfLevels(t *testing.T) {
	x := testdata.TwoLevels(t, geom.Millimetre, part.Options{Cutters: []float64{6, 10}})
	v := NewPlanView(theme.New(nil, false), x, nil)
	for i, want := range map[int][]string{
		0:               {"2 passes: 2.0, 4.0 mm, spring pass", "its step, 4.0 mm, not through", "go down in the waste"},
		len(v.Rows) - 1: {"4 passes: 2.5, 5.0, 7.5, 10.0 mm, spring pass", "go down in the waste"},
	} {
		v.Chosen = i
		page := strings.Join(strings.Fields(PlanWork(&v, 200, 40)), " ")
		for _, w := range want {
			if !strings.Contains(page, w) {
				t.Errorf("row %d: want %q in\n%s", i, w, PlanWork(&v, 200, 40))
			}
		}
	}
}
