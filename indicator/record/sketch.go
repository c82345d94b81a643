package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// Sketch is what a set-up looks like: which thing stands on which side of which. It is there so that a wrong sign is
// seen, and the one drawing of it, for the set-up's page and the verbs setup and reach. Lengths are millimetres.
type Sketch struct {
	Touch indicator.Touch
	// Reach is the tip's place beside the spindle's axis, + away from the axis of rotation. Swing and
	// Reference are 0 where they are not known.
	Reach, Swing, Reference float64
	// Table says that a table is turned about the axis, and no head is swung.
	Table bool
	// Over says that the spindle stands over a table's axis, and carries the indicator round: Swing is 0, and Reach
	// about the reference's radius.
	Over bool
	// At is the bearing at which spindle and tip are drawn from above.
	At   geom.Bearing
	Unit geom.Unit
}

// NewSketch returns the sketch of a job; ok is false where the reach, and so the side on which the tip
// stands, is not known. Where no swing radius is asked for it is the one that the dial reads zero at.
func NewSketch(j *setup.Job) (k Sketch, ok bool) {
	s, u := &j.Setup, setup.Of(j)
	k = Sketch{Touch: s.Touch, Reach: s.Reach, Swing: j.Target.SwingRadius, Reference: s.ReferenceRadius, Table: u.Under().Table,
		Unit: j.Unit}
	if !j.SweepsSwing() {
		k.Swing = max(0, s.ReferenceRadius-s.Reach)
	}
	if k.At = s.IndicatorBearing; !k.Table && j.Sweep.Stations > 1 {
		k.At = j.Sweep.Bearing(0)
	}
	if u.Does().Turns { // the spindle stands over the axis, and its bar reaches out to the wall
		k.Swing, k.Reach, k.Over = 0, s.ReferenceRadius, true
		return k, true
	}
	return k, s.ReachKnown
}

// Drawing shows, in plain characters and at most 76 columns, where the tip stands and which way it
// presses: the side view from the head axis outwards, not to scale. Lengths are in unit u; a swing
// radius of 0 is not known.
func Drawing(touch indicator.Touch, reach, swing float64, u geom.Unit) string {
	return strings.Join(Sketch{Touch: touch, Reach: u.MM(reach), Swing: u.MM(swing), Unit: u}.Side(76), "\n")
}

// raster is a drawing in plain characters.
type raster [][]byte

func newRaster(w, h int) raster {
	r := make(raster, h)
	for i := range r {
		r[i] = []byte(strings.Repeat(" ", max(0, w)))
	}
	return r
}

// put writes a text where there is room for it, moved aside where it would leave the row.
func (r raster) put(row, at int, s string) {
	copy(r[row][max(0, min(at, len(r[row])-len(s))):], s)
}

// mid writes a text with its middle at a column.
func (r raster) mid(row, at int, s string) { r.put(row, at-len(s)/2, s) }

func (r raster) rows() []string {
	out := make([]string, len(r))
	for i := range r {
		out[i] = strings.TrimRight(string(r[i]), " ")
	}
	return out
}

// leastSide is the least width that a side view fits into.
const leastSide = 36

// Side is the view from the side, from the axis of rotation outwards: six rows in plain characters, at
// most w columns wide, and w at least 36. Order and sides are true, distances are not to scale.
func (k Sketch) Side(w int) []string {
	const head = 2
	w = max(w, leastSide)
	near, far := w/2, w*5/6+1
	tip, spindle := near, far
	switch {
	case k.Reach > 0:
		tip, spindle = far, near
	case k.Reach == 0:
		tip = far
	}
	if k.Over {
		spindle = head
	}
	r := newRaster(w, 5)
	axis, wide := "head axis", w >= 60
	switch {
	case k.Over && wide:
		axis = "spindle, over the table axis"
	case k.Over:
		axis = "spindle"
	case k.Table:
		axis = "table axis"
	}
	r.put(0, 2, axis)
	r.mid(0, tip, "tip")
	name := "spindle's axis"
	if !wide {
		name = "spindle"
	}
	switch {
	case k.Over:
	case k.Reach != 0:
		r.mid(0, spindle, name)
	default:
		r.put(0, far-len(name)-5, name+" =")
	}
	for i := head + 1; i < max(tip, spindle); i++ {
		r[2][i] = '-'
	}
	for row := 1; row <= 3; row++ {
		r.put(row, head, "|")
		r.put(row, spindle, "|")
		if k.Touch == indicator.Bore { // the wall stands beyond the tip
			r.put(row, tip+2, "#")
		} else {
			r.put(row, tip-2, "#")
		}
	}
	if k.Touch == indicator.Bore {
		r.put(2, tip, "o>#")
	} else {
		r.put(2, tip-2, "#<o")
	}
	u := k.Unit
	size := fmt.Sprintf("reach %s %v", geom.FormatSigned(u.From(k.Reach), geom.Places(0, u)), u)
	if k.Over {
		size = fmt.Sprintf("about %s %v", geom.FormatFixed(u.From(k.Reach), geom.Places(0, u)), u)
	}
	r.mid(4, (tip+spindle)/2, size)
	if k.Swing > 0 {
		text := fmt.Sprintf("swing %s %v", geom.FormatFixed(u.From(k.Swing), geom.Places(0, u)), u)
		if head+len(text) < (tip+spindle-len(size))/2 {
			r.put(4, head, text)
		}
	}
	wall := "# the bore's wall; the tip presses outwards"
	if k.Touch == indicator.Boss {
		wall = "# the boss's wall; the tip presses inwards"
	}
	if 2+len(wall)+len(" (side view, not to scale)") <= w {
		wall += " (side view, not to scale)"
	} else {
		wall = strings.Replace(strings.Replace(wall, "the tip ", "", 1), " the b", " b", 1)
	}
	return append(r.rows(), "  "+wall)
}

// leastAbove is the least height of a view from above in which radii can be told apart.
const leastAbove = 7

// Above is the view from above in plain characters, to scale: the metal, the way of the spindle's axis
// (or of the work under it), the axis of rotation, and tip and spindle at their bearing. It is h rows
// high, and 2h − 1 columns wide, for a cell is about twice as high as wide. h is at least 7.
func (k Sketch) Above(h int) []string {
	h = max(h, leastAbove)
	half := float64(h-1) / 2
	tip := max(0, k.Swing+k.Reach)
	rho := k.Reference
	if !(rho > 0) {
		rho = tip
	}
	full := max(k.Swing, tip, rho)
	if k.Touch == indicator.Bore {
		full = max(full, rho*1.25)
	}
	if !(full > 0) {
		return nil
	}
	r := newRaster(2*h-1, h)
	cell := full / half // millimetres a row
	for row := range r {
		for col := range r[row] {
			d := math.Hypot((float64(col)/2-half)*cell, (half-float64(row))*cell)
			if metal := d <= rho; metal == (k.Touch == indicator.Boss) && d <= full+cell/2 {
				r[row][col] = '#'
			}
		}
	}
	place := func(b geom.Bearing, at float64) (row, col int) {
		u := b.Unit()
		return int(math.Round(half - at*u.Y/cell)), int(math.Round(2 * (half + at*u.X/cell)))
	}
	put := func(b geom.Bearing, at float64, c byte) {
		if row, col := place(b, at); row >= 0 && row < h && col >= 0 && col < len(r[row]) {
			r[row][col] = c
		}
	}
	for i := range 24 {
		put(geom.FromDegrees(float64(i)*15), k.Swing, '.')
	}
	put(0, 0, '+')
	put(k.At, k.Swing, 'S')
	row, col := place(k.At, tip)
	if rs, cs := place(k.At, k.Swing); rs == row && cs == col && k.Reach != 0 { // too near to be told apart: one cell to its side
		u := k.At.Unit()
		way := math.Copysign(1, k.Reach)
		if math.Abs(u.X) >= math.Abs(u.Y) {
			col += int(math.Copysign(1, u.X) * way)
		} else {
			row -= int(math.Copysign(1, u.Y) * way)
		}
	}
	if row >= 0 && row < h && col >= 0 && col < len(r[row]) {
		r[row][col] = 'o'
	}
	return r.rows()
}
