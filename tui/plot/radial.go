package plot

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/tui/theme"
	"github.com/charmbracelet/x/ansi"
)

// Mark is one station of a [Picture].
type Mark struct {
	Bearing geom.Bearing // where the surface is met
	Out     float64      // mm by which it lies outside the nominal circle; used when Present
	Present bool         // a reading is present here
}

// Picture is a sweep, ready to be drawn.
type Picture struct {
	Radius   float64       // of the nominal circle, mm, above 0
	Stations []Mark        // in the order of their numbers, which count from 1
	Next     *geom.Bearing // the station to go to, nil for none
	Fitted   bool          // Centre and EllipseCov mean something
	Joined   bool          // a closed curve joins the readings round the circle
	Named    string        // what is exaggerated, for the caption; "readings" when empty

	// Centre is the centre error e, mm: where the reference's centre lies, seen from the axis.
	Centre geom.Point
	// EllipseCov is the covariance of Centre, mm², multiplied by the square of the 95 %
	// coverage factor: the ellipse is the set of points e + x with xᵀ·EllipseCov⁻¹·x = 1, its
	// semi-axes the square roots of the eigenvalues. Zero, or not finite: no ellipse.
	EllipseCov [2][2]float64
	// Tolerance is the centre tolerance, mm: the greatest distance between axis and centre.
	// Zero: none.
	Tolerance float64
	// Blocked are the parts of the circle that cannot be reached.
	Blocked []Sector
}

// The least size, in cells, at which the picture can be read.
const (
	radialMinWidth  = 16
	radialMinHeight = 7
)

// leastLength is the displacement, mm, below which nothing is exaggerated any more: a tenth of
// a nanometre is rounding, not a reading.
const leastLength = 1e-7

// Radial draws a sweep in w × h cells: the nominal circle, dashed; the readings as bars outwards
// or inwards from it; the curve that the fit would read, thin; the axis as a cross in the middle;
// the centre as a round dot with its 95 % ellipse; the tolerance circle about the axis;
// the next station as a ring on the circle; the numbers of the stations where they fit; what cannot
// be reached, hatched. The last row says by which factor readings (or what Named says), centre,
// ellipse and tolerance are exaggerated against the
// circle; they share it. A tolerance circle too small to see at that factor is left out.
//
// The curve is r(θ) = R + F·(δ + e·u(θ)), F the factor and δ the mean of Outᵢ − e·u(θᵢ): the
// exaggerated readings of the fit, so that the gap between a bar's end and the curve is the
// residual. (A true circle about F·e would leave gaps where there are none.)
//
// Below 16 × 7 cells, or without a nominal radius, the result is empty.
func Radial(p Picture, w, h int, t theme.Theme) string {
	if w < radialMinWidth || h < radialMinHeight || !(p.Radius > 0) || !finite(p.Radius) {
		return ""
	}
	r := newRadial(p, w, h, t)
	r.drawCircle()
	r.drawFit()
	r.drawJoined()
	r.drawStations()
	r.drawMiddle()
	r.drawNext()
	r.drawNumbers()
	r.drawBlocked()
	return strings.Join(r.lines(w, h), "\n")
}

// radial is a picture being drawn. Its canvas is in dot widths about the middle, Y up.
type radial struct {
	Picture
	canvas *canvas
	theme  theme.Theme

	circle float64 // nominal radius on the canvas
	out    float64 // room for readings outside the nominal circle
	letter float64 // room for station numbers beyond that
	grow   float64 // canvas units per mm of reading: the factor times the scale; 0 for none
	factor float64
}

func newRadial(p Picture, w, h int, t theme.Theme) *radial {
	r := &radial{Picture: p, theme: t, canvas: newCanvas(w, h-1, t.Plain)}
	half := (min(float64(r.canvas.dotsX), float64(r.canvas.dotsY)/r.canvas.squash) - 1) / 2
	if half >= 16 || t.Plain && half >= 8 { // else a number would take the room of the readings
		r.letter = 5
		if t.Plain {
			r.letter = 2
		}
	}
	r.circle = 0.65 * (half - r.letter)
	r.out = half - r.letter - r.circle
	scale := r.circle / p.Radius
	r.factor = roundFactor(r.limit() / scale)
	r.grow = r.factor * scale
	return r
}

// limit returns the greatest number of canvas units per millimetre at which all that is to be
// seen stays inside its room; infinite when nothing asks for room.
func (r *radial) limit() float64 {
	limit := math.Inf(1)
	within := func(length, room float64) {
		if length > leastLength && finite(length) {
			limit = min(limit, room/length)
		}
	}
	for _, m := range r.Stations {
		if m.reads() {
			within(m.Out, r.out)
			within(-m.Out, 0.6*r.circle)
		}
	}
	if r.fitted() {
		major, minor, _ := semiAxes(r.EllipseCov[0][0], r.EllipseCov[0][1], r.EllipseCov[1][1])
		if !finite(major, minor) {
			major = 0
		}
		within(r.Centre.Norm()+major, 0.8*r.circle)
	}
	if !math.IsInf(limit, 1) || r.any() {
		within(r.Tolerance, 0.6*r.circle)
	}
	return limit
}

// reads reports whether there is a reading to draw.
func (m Mark) reads() bool { return m.Present && finite(m.Out, float64(m.Bearing)) }

func (r *radial) any() bool {
	for _, m := range r.Stations {
		if m.reads() {
			return true
		}
	}
	return false
}

func (r *radial) fitted() bool { return r.Fitted && finite(r.Centre.X, r.Centre.Y) }

// at returns the place on the canvas at a distance from the middle along a bearing.
func at(b geom.Bearing, distance float64) geom.Point {
	u := b.Unit()
	return geom.Point{X: distance * u.X, Y: distance * u.Y}
}

func (r *radial) drawCircle() {
	r.canvas.Circle(geom.Point{}, r.circle, r.broken(2))
}

// broken is a thin pen with dashes; in plain mode the points of an unbroken line are as far
// apart as they may be.
func (r *radial) broken(dash int) pen {
	if r.theme.Plain {
		dash = 0
	}
	return pen{Weight: thin, Dash: dash}
}

// drawFit draws the curve of the fitted readings. It needs a reading to know its mean height.
func (r *radial) drawFit() {
	if !r.fitted() {
		return
	}
	mean, n := 0.0, 0
	for _, m := range r.Stations {
		if m.reads() {
			mean += m.Out - r.Centre.Dot(m.Bearing.Unit())
			n++
		}
	}
	if n == 0 {
		return
	}
	mean /= float64(n)
	const steps = 120 // segments of about a dot and a half on a common screen
	height := func(b geom.Bearing) float64 {
		return r.circle + r.grow*(mean+r.Centre.Dot(b.Unit()))
	}
	for i := range steps {
		from, to := geom.FromDegrees(360*float64(i)/steps), geom.FromDegrees(360*float64(i+1)/steps)
		if hf, ht := height(from), height(to); hf > 0 && ht > 0 {
			r.canvas.Line(at(from, hf), at(to, ht), pen{Weight: medium})
		}
	}
}

// drawJoined draws a curve from reading to reading, in the order of their bearings; between two of
// them its height changes evenly.
func (r *radial) drawJoined() {
	var marks []Mark
	for _, m := range r.Stations {
		if m.reads() {
			m.Bearing = m.Bearing.Normalized()
			marks = append(marks, m)
		}
	}
	if !r.Joined || len(marks) < 3 {
		return
	}
	slices.SortFunc(marks, func(a, b Mark) int { return cmp.Compare(a.Bearing, b.Bearing) })
	const steps = 24 // segments between two of them
	for i, from := range marks {
		to := marks[(i+1)%len(marks)]
		turn := float64((to.Bearing - from.Bearing).Normalized())
		place := func(k int) geom.Point {
			f := float64(k) / steps
			return at(from.Bearing+geom.Bearing(f*turn), r.tip(from)+f*(r.tip(to)-r.tip(from)))
		}
		for k := range steps {
			r.canvas.Line(place(k), place(k+1), pen{Weight: medium})
		}
	}
}

// drawStations draws a bar from the circle to each reading, and a tick where none is yet.
func (r *radial) drawStations() {
	for _, m := range r.Stations {
		switch {
		case !finite(float64(m.Bearing)):
		case !m.reads():
			r.canvas.Line(at(m.Bearing, r.circle-1), at(m.Bearing, r.circle+1), pen{Weight: medium})
		default:
			tip := at(m.Bearing, r.tip(m))
			r.canvas.Line(at(m.Bearing, r.circle), tip, pen{Weight: heavy})
			r.canvas.Dot(tip, heavy)
		}
	}
}

// tip is the distance from the middle at which a reading ends.
func (r *radial) tip(m Mark) float64 { return max(r.circle+r.grow*m.Out, 0) }

// ringed reports whether the tolerance is large enough to see: a smaller circle is a blot.
func (r *radial) ringed() bool {
	radius := r.grow * r.Tolerance
	return radius >= 2.5 && finite(radius)
}

// drawMiddle draws the axis, the tolerance about it, and the centre with its ellipse.
func (r *radial) drawMiddle() {
	if r.ringed() {
		r.canvas.Circle(geom.Point{}, r.grow*r.Tolerance, r.broken(1))
	}
	r.canvas.Cross(geom.Point{}, 2, heavy)
	if !r.fitted() {
		return
	}
	e := geom.Point{X: r.grow * r.Centre.X, Y: r.grow * r.Centre.Y}
	cov := r.EllipseCov
	for i := range cov {
		for j := range cov[i] {
			cov[i][j] *= r.grow * r.grow
		}
	}
	dot := heavy
	if major, _, _ := semiAxes(cov[0][0], cov[0][1], cov[1][1]); major >= 1 {
		r.canvas.Ellipse(e, cov, pen{Weight: medium})
		dot = medium // or it would fill the ellipse
	}
	if r.theme.Plain {
		r.canvas.Label(e, r.theme.Glyphs.Centre, heavy)
		return
	}
	r.canvas.Dot(e, dot)
}

// ring is the radius of the mark round the next station, in dot widths.
const ring = 3

// drawNext puts a ring round the place of the next station.
func (r *radial) drawNext() {
	if r.Next == nil || !finite(float64(*r.Next)) {
		return
	}
	place := at(*r.Next, r.circle)
	if r.theme.Plain {
		r.canvas.Label(place, "O", heavy)
		return
	}
	r.canvas.wipe(place, ring)
	r.canvas.Circle(place, ring, pen{Weight: heavy})
}

// drawNumbers writes the number of each station beyond its reading, where there is room. The
// next station's is written first, so that it is the last to be missing.
func (r *radial) drawNumbers() {
	if r.letter == 0 {
		return
	}
	write := func(text string, m Mark, beyond float64, w weight, gap int) {
		if m.reads() {
			beyond = max(beyond, r.tip(m))
		}
		// The middle of a long text stands off farther where it lies along the bearing.
		width := ansi.StringWidth(text)
		away := r.letter - 1 + float64(width-1)*math.Abs(m.Bearing.Unit().X)*r.canvas.across()/2
		col, row, ok := r.canvas.place(at(m.Bearing, beyond+away), width)
		if ok && r.canvas.free(col, row, width, gap) {
			r.canvas.Text(col, row, text, w)
		}
	}
	for i, m := range r.Stations {
		if r.isNext(m) {
			write(r.theme.Glyphs.RightMark+strconv.Itoa(i+1), m, r.circle+ring, heavy, 0)
		}
	}
	for i, m := range r.Stations {
		if finite(float64(m.Bearing)) && !r.isNext(m) {
			write(strconv.Itoa(i+1), m, r.circle, medium, 1)
		}
	}
}

// isNext reports whether the mark is the station to go to. Bearings of the same station may
// differ by rounding only; a microradian is far below what a collar shows.
func (r *radial) isNext(m Mark) bool { return r.Next != nil && m.Bearing.Apart(*r.Next) < 1e-6 }

// lines returns the drawing with the factor written below it.
func (r *radial) lines(w, h int) []string {
	lines := r.canvas.Styled(r.theme)
	text := ""
	if r.factor > 0 {
		text = cmp.Or(r.Named, "readings") + " " + r.theme.Glyphs.Times + formatFactor(r.factor)
	}
	if more := strings.TrimLeft(text+"   "+hatchWords, " "); len(r.Blocked) > 0 && ansi.StringWidth(more) <= w {
		text = more
	}
	if more := "   inner ring: tolerance"; r.ringed() && ansi.StringWidth(text+more) <= w {
		text += more
	}
	pad := max(w-ansi.StringWidth(text), 0)
	return append(lines, strings.Repeat(" ", pad/2)+r.theme.Dim.Render(text)+strings.Repeat(" ", pad-pad/2))
}
