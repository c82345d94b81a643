package plot

import (
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/x/ansi"
)

// Tap draws, in w × h cells and seen from above, work on a table that is to be knocked: its outline, the axis in its
// middle, a square where the indicator stands, at bearing stands of the machine's frame, and an arrow at the side
// that the hammer hits, the way the work is to go: towards the indicator from across, or away from it. The last row
// says which. Below 16 × 7 cells the result is empty.
func Tap(stands geom.Bearing, towards bool, w, h int, t theme.Theme) string {
	if w < radialMinWidth || h < radialMinHeight || !finite(float64(stands)) {
		return ""
	}
	c := newCanvas(w, h-1, t.Plain)
	const most = 1.75 // of the work's radius, with the arrow and the indicator beside it
	c.Fit(geom.Point{X: -most, Y: -most}, geom.Point{X: most, Y: most})
	c.Circle(geom.Point{}, 1, pen{Weight: medium})
	c.Cross(geom.Point{}, 2, medium)
	side := stands
	if towards {
		side += math.Pi
	}
	c.Line(at(side, 1.7), at(side, 1.08), pen{Weight: heavy})
	for aside := -30.0; aside <= 30; aside += 6 {
		c.Line(at(side, 1.08), at(side, 1.08).Add(at(side+geom.FromDegrees(aside), 0.3)), pen{Weight: heavy})
	}
	if indicator := at(stands, 1.35); towards {
		c.Label(indicator, "I", heavy)
	} else { // beside the arrow, which has its place
		c.Label(at(stands+geom.FromDegrees(28), 1.45), "I", heavy)
	}
	caption := "I indicator, arrow: tap here"
	if ansi.StringWidth(caption) > w {
		caption = "arrow: tap"
	}
	pad := w - ansi.StringWidth(caption)
	caption = strings.Repeat(" ", pad/2) + t.Strong.Render(caption) + strings.Repeat(" ", pad-pad/2)
	return strings.Join(append(c.Styled(t), caption), "\n")
}
