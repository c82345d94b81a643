package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
)

//go:embed sheet.html
var sheetText string

var sheetPage = parsed("sheet", sheetText)

// HTML writes the sheet as one page that needs nothing else: to be printed, or read in either light. It is
// well-formed XML, void elements closed, so that a strict reader can hold it to that without another dependency.
func (s *SettingSheet) HTML(w io.Writer) error {
	return render(w, sheetPage(), struct {
		*SettingSheet
		Last string
	}{s, SheetLast})
}

// Outline is the part seen from above, every element with its number. The arrow on an arc is the way in
// which the cutter runs when it cuts conventionally.
func (s *SettingSheet) Outline() template.HTML {
	p := s.Plan
	d := newSheetDrawing(p)
	for i := range p.Lines {
		e := p.Lines[i].Element()
		d.put(`<path class="metal" d="M%s L%s"/>`, d.at(e.Start), d.at(e.End))
		d.number(p.Lines[i].N, e.At(0.5))
	}
	for i := range p.Arcs {
		a := &p.Arcs[i]
		d.arc(a.Element())
		if a.Sense != "none" {
			// A table carries the work: its sense is the cutter's turned round.
			d.arrow(a.Element(), (a.Sense == "anticlockwise") != d.turned)
		}
		d.number(a.N, a.Element().At(0.5))
	}
	for i := range p.Slots {
		d.number(p.Slots[i].N, p.Slots[i].Element().At(0.5))
	}
	// Only numbers and words of ours are written into it.
	return template.HTML(fmt.Sprintf(`<svg viewBox="0 0 %.1f %.1f" role="img" aria-label="outline with numbered elements">`+"\n%s%s</svg>",
		d.w, d.h, d.lines.String(), d.numbers.String()))
}

// sheetDrawing is a picture in the making: places of the plan are scaled into a box, Y up.
type sheetDrawing struct {
	lines, numbers strings.Builder // numbers stand over the lines
	lo             geom.Point
	scale, w, h    float64
	turned         bool
}

// The picture's larger side, and what stays free round it.
const (
	sheetSide   = 420.0
	sheetMargin = 18.0
)

func newSheetDrawing(p *record.Plan) *sheetDrawing {
	lo, hi := geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	take := func(e geom.Element) {
		a, b := e.Bounds()
		lo, hi = geom.Point{X: min(lo.X, a.X), Y: min(lo.Y, a.Y)}, geom.Point{X: max(hi.X, b.X), Y: max(hi.Y, b.Y)}
	}
	for i := range p.Arcs {
		take(p.Arcs[i].Element())
	}
	for i := range p.Lines {
		take(p.Lines[i].Element())
	}
	d := &sheetDrawing{lo: lo, turned: p.Table}
	d.scale = (sheetSide - 2*sheetMargin) / max(hi.X-lo.X, hi.Y-lo.Y)
	d.w, d.h = (hi.X-lo.X)*d.scale+2*sheetMargin, (hi.Y-lo.Y)*d.scale+2*sheetMargin
	return d
}

func (d *sheetDrawing) put(format string, args ...any) { fmt.Fprintf(&d.lines, format+"\n", args...) }

func (d *sheetDrawing) xy(p geom.Point) (x, y float64) {
	return (p.X-d.lo.X)*d.scale + sheetMargin, d.h - sheetMargin - (p.Y-d.lo.Y)*d.scale
}

func (d *sheetDrawing) at(p geom.Point) string {
	x, y := d.xy(p)
	return fmt.Sprintf("%.2f %.2f", x, y)
}

func (d *sheetDrawing) arc(e geom.Element) {
	r := e.Radius * d.scale
	if e.Full() {
		x, y := d.xy(e.Centre)
		d.put(`<circle class="metal" cx="%.2f" cy="%.2f" r="%.2f"/>`, x, y, r)
		return
	}
	large := 0
	if e.Turn > math.Pi {
		large = 1
	}
	// Counter-clockwise with Y up is against the positive angle of SVG.
	d.put(`<path class="metal" d="M%s A%.2f %.2f 0 %d 0 %s"/>`, d.at(e.Start), r, r, large, d.at(e.End))
}

// arrow shows the way in which the cutter runs, where there is room for it.
func (d *sheetDrawing) arrow(e geom.Element, anticlockwise bool) {
	const long, wide, part = 9.0, 3.6, 0.8
	if e.Length()*d.scale < 4*long {
		return
	}
	along := e.Heading(part).Unit()
	if !anticlockwise {
		along = along.Times(-1)
	}
	x, y := d.xy(e.At(part))
	tx, ty := along.X, -along.Y // in the picture, whose Y runs down
	d.put(`<path class="run" d="M%.2f %.2f L%.2f %.2f L%.2f %.2f Z"/>`, x+tx*long/2, y+ty*long/2,
		x-tx*long/2+ty*wide, y-ty*long/2-tx*wide, x-tx*long/2-ty*wide, y-ty*long/2+tx*wide)
}

// number writes an element's number over the lines.
func (d *sheetDrawing) number(n int, at geom.Point) {
	x, y := d.xy(at)
	half := 4 + 3.2*float64(len(strconv.Itoa(n)))
	fmt.Fprintf(&d.numbers,
		`<rect class="plate" x="%.2f" y="%.2f" width="%.2f" height="14" rx="3"/><text x="%.2f" y="%.2f" text-anchor="middle">%d</text>`+
			"\n",
		x-half, y-7, 2*half, x, y+3.8, n)
}
