package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// PartRows are the parts of a setting that were accepted or counted, a row each: how far from the axis each came in, with a strip each
// way that shows it between the edges of the tolerance, how it was accepted, and the word where the fixture was said to head out.
func PartRows(s *session.State, u geom.Unit) (out []string) {
	for _, d := range s.Parts.All() {
		row := fmt.Sprintf("part %-3d ", d.Part)
		if d.Unswept {
			out = append(out, row+TrustedWords(s, d.Trusted, u))
			continue
		}
		tol := s.Set.Job.Target.CentreTolerance
		x, y := indicator.Value{V: d.Entered.X, U: d.U[0]}, indicator.Value{V: d.Entered.Y, U: d.U[1]}
		row += fmt.Sprintf("x %s %s  y %s %s  trial %d, %d readings", record.ValueOf(u, x).Text(u), strip(x, tol), record.ValueOf(u, y).Text(u),
			strip(y, tol), d.Trials, d.Readings)
		if m := PartMark(d); m != "" {
			row += ", " + m
		}
		out = append(out, row)
	}
	return out
}

// PartMark is the word that stands by a part in a chart; empty for none.
func PartMark(d *session.PartDone) string {
	switch {
	case d.Unswept:
		return "not swept"
	case d.May:
		return "may head out"
	case d.Out > 0:
		return "heads out"
	}
	return ""
}

// Half a strip's cells, and how many tolerances they reach: what is beyond stands at the end as < or >.
const (
	stripHalf  = 7
	stripReach = 1.4
)

// strip is a value with its doubt between the edges of a tolerance, in characters that every screen has; empty where there is none.
func strip(v indicator.Value, tolerance float64) string {
	if !(tolerance > 0) || !v.Known() {
		return ""
	}
	cell := func(x float64) int {
		at := math.Round(x / (tolerance * stripReach) * stripHalf)
		return stripHalf + int(max(-stripHalf, min(stripHalf, at)))
	}
	row := []byte(strings.Repeat(" ", 2*stripHalf+1))
	row[stripHalf] = ':'
	if v.Sure() {
		for i := cell(v.V - v.U); i <= cell(v.V+v.U); i++ {
			row[i] = '-'
		}
	}
	row[cell(-tolerance)], row[cell(tolerance)] = '|', '|'
	switch mark := cell(v.V); {
	case math.Abs(v.V) > tolerance*stripReach && v.V < 0:
		row[mark] = '<'
	case math.Abs(v.V) > tolerance*stripReach:
		row[mark] = '>'
	default:
		row[mark] = 'o'
	}
	return "[" + string(row) + "]"
}
