package record

import (
	"fmt"
	"strings"

	"example.org/trammel/geom"
)

// milling is what the slides mill off round bosses, as it is told.
type milling struct {
	unit   geom.Unit
	table  bool // it is done on a table that is turned
	depth  Number
	passes []Number // nil: nobody says how deep one may go
	floors []millFloor
}

// millFloor is a boss with the width of the floor that its cutter has cleared round it.
type millFloor struct {
	n     int
	width Number
}

// words say it as the hand does it, a movement each: what, where head and cutter stand, from where, to where. What the program does not
// know (what else stands there, and where the head is locked) is to be looked at.
func (m *milling) words() []string {
	deep := DepthFigure(m.unit.MM(float64(m.depth)), m.unit)
	what := fmt.Sprintf("mill the plate down by the slides to %s %v below the top of the stock, no deeper", deep, m.unit)
	if len(m.passes) > 0 {
		what += "; " + passWords(m.passes, m.unit)
	}
	stands := []string{"lock the head, at any figure of its ring; leave the readouts as they are",
		"the cutter stands a swing radius off what they show: look where it is before it goes down"}
	if m.table {
		stands = []string{"lock the table; note where the slides stand, and bring them back there after",
			"the slides carry the work under the cutter: look where it is before it goes down"}
	}
	wide, all := m.wide()
	return append(append([]string{what}, stands...),
		fmt.Sprintf("begin on the floor round %s, %s; stay off its wall", elements(all), strings.Join(wide, ", ")),
		"end at the outline round that: past a rim's edge, not into a pocket's wall; look first what else stands higher, and stay off it")
}

// wide are the floors' widths, each with its bosses where they are several, and all bosses.
func (m *milling) wide() (wide []string, all []int) {
	var alike []int
	for i, f := range m.floors {
		all, alike = append(all, f.n), append(alike, f.n)
		if i+1 < len(m.floors) && plain(m.floors[i+1].width, m.unit) == plain(f.width, m.unit) {
			continue
		}
		words := fmt.Sprintf("%s %v wide", plain(f.width, m.unit), m.unit)
		if len(alike) < len(m.floors) {
			words += " round " + elements(alike)
		}
		wide, alike = append(wide, words), nil
	}
	return wide, all
}

// passWords spell the depths of passes: "3 passes: 2.0, 4.0, 6.0 mm".
func passWords(passes []Number, u geom.Unit) string {
	what := "passes"
	if len(passes) == 1 {
		what = "pass"
	}
	all := make([]string, len(passes))
	for i, v := range passes {
		all[i] = DepthFigure(u.MM(float64(v)), u)
	}
	return fmt.Sprintf("%d %s: %s %v", len(passes), what, strings.Join(all, ", "), u)
}
