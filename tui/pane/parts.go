package pane

import (
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/tui/plot"
)

// A chart of the parts is so wide at least, and so high at most: beyond that a row tells no more.
const (
	partsWide, partsHigh = 30, 13
	partsRoomy           = 76 // for which all is said of what is drawn
)

// Parts are the charts of the parts that were set on one setting, and what they show of the fixture below them. Nothing of the first
// part, nor where not all of it fits.
func Parts(v *View, w, h int) []string {
	said := fixtureLines(v, w)
	charts := partCharts(v, w, h-len(said))
	if len(charts) == 0 {
		return nil
	}
	return append(charts, said...)
}

// partCharts are centre x and y as each part came in: beside one another where there is the width, else below one another. Nothing of
// the first part, nor where not both fit.
func partCharts(v *View, w, h int) []string {
	if v.State.Part < 2 {
		return nil
	}
	x, y := courses(v, w)
	if w >= 2*partsWide {
		high := min(h, partsHigh)
		left, right := plot.Drift(x, w/2-1, high, v.Theme), plot.Drift(y, w-w/2, high, v.Theme)
		if left == "" || right == "" {
			return nil
		}
		return strings.Split(Beside(Box(v.Theme, left, w/2, high), right), "\n")
	}
	high := min(h/2, partsHigh)
	upper, lower := plot.Drift(x, w, high, v.Theme), plot.Drift(y, w, high, v.Theme)
	if upper == "" || lower == "" {
		return nil
	}
	return append(strings.Split(upper, "\n"), strings.Split(lower, "\n")...)
}

// courses are how the centres went on from part to part, for charts that have w cells of width in all.
func courses(v *View, w int) (x, y plot.Course) {
	tol, u := v.job().Target.CentreTolerance, v.unit()
	edge := func(mm float64) string { return v.Num(geom.FormatSigned(u.From(mm), geom.Places(0, u))) }
	x = plot.Course{Title: "centre x as it came in, " + u.String(), Band: tol, Upper: edge(tol), Zero: "0", Lower: edge(-tol)}
	y = x
	y.Title = "centre y as it came in, " + u.String()
	if w < partsRoomy {
		x.Title, y.Title = "centre x, "+u.String(), "centre y, "+u.String()
	}
	for _, d := range v.State.Parts.All() {
		p := plot.Passed{N: d.Part, V: math.NaN(), U: math.NaN()}
		if !d.Unswept {
			p.Word = lines.PartMark(d)
			p.V, p.U = d.Entered.X, d.U[0]
		}
		x.Points = append(x.Points, p)
		if !d.Unswept {
			p.V, p.U = d.Entered.Y, d.U[1]
		}
		y.Points = append(y.Points, p)
	}
	return x, y
}

// fixtureLines say what the parts show of the fixture; none where too few were swept.
func fixtureLines(v *View, w int) []string {
	said := lines.FixtureWords(&v.State, v.unit())
	if v.State.Part < 2 || said == "" {
		return nil
	}
	style := v.Theme.Text
	if _, _, heads := v.State.HeadsOut(); heads {
		style = v.Theme.Bad
	}
	return wrapped(style, v.Num(v.text(said)), w)
}
