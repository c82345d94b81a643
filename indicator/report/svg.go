package report

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// The pictures are drawn in a box of this size, seen from above: X to the right, Y up.
const (
	box    = 240.0
	circle = 78.0 // radius of the fitted circle
	most   = 26.0 // how far out the largest residual is drawn
)

// picture collects the parts of a drawing. Only numbers and our own words are written into it.
type picture struct{ strings.Builder }

func (p *picture) put(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

// end closes the drawing; title and text are for a reader who does not see it.
func (p *picture) end(w, h float64, title string) template.HTML {
	return template.HTML(fmt.Sprintf(`<svg viewBox="0 0 %g %g" role="img" aria-label="%s"><title>%[3]s</title>`, w, h,
		template.HTMLEscapeString(title)) + "\n" + p.String() + "</svg>")
}

func (p *picture) text(x, y float64, anchor, s string) {
	p.put(`<text x="%.1f" y="%.1f" text-anchor="%s">%s</text>`, x, y, anchor, template.HTMLEscapeString(s))
}

// nice returns the largest of 1, 2, 5 times a power of ten that is not above x.
func nice(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 1
	}
	p := math.Pow10(int(math.Floor(math.Log10(x))))
	switch m := x / p; {
	case m >= 5:
		return 5 * p
	case m >= 2:
		return 2 * p
	}
	return p
}

// Polar draws the residuals outwards from the fitted circle, exaggerated by the factor that stands
// beside it. A residual is drawn the way the surface departs: outwards is away from the axis.
func (w *Sweep) Polar() template.HTML {
	if w.Err != nil {
		return ""
	}
	p, c, u := &picture{}, box/2, w.Unit
	gain := w.State.Set.Job.Dial.Gain()
	if w.State.Set.Job.Setup.Touch == indicator.Bore {
		gain = -gain
	}
	out, largest := make([]float64, len(w.Readings)), 0.0
	for i, b := range w.Bearings {
		out[i] = gain * w.Found.Residual(b, w.Readings[i])
		largest = math.Max(largest, math.Abs(out[i]))
	}
	radius := w.State.Set.Job.Setup.ReferenceRadius
	if r := w.Found.Radius(); r.Known() {
		radius = r.V
	}
	factor := 1.0
	if radius > 0 && largest > 0 {
		factor = nice(most / circle * radius / largest)
	}
	perMM := factor * circle / math.Max(radius, 1e-9)
	if radius <= 0 { // the size of the circle is not known, so only the length can be said
		perMM = nice(most / math.Max(largest, 1e-9))
	}
	p.put(`<line class="faint" x1="%g" y1="8" x2="%g" y2="%g"/><line class="faint" x1="8" y1="%g" x2="%g" y2="%g"/>`, c, c, box-8, c, box-8,
		c)
	p.put(`<circle class="fit" cx="%g" cy="%g" r="%g"/>`, c, c, circle)
	for i, b := range w.Bearings {
		sin, cos := math.Sincos(float64(b))
		r := circle + out[i]*perMM
		p.put(`<line class="dev" x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"/>`, c+circle*cos, c-circle*sin, c+r*cos, c-r*sin)
		p.put(`<circle class="mark" cx="%.2f" cy="%.2f" r="2.6"/>`, c+r*cos, c-r*sin)
		p.text(c+(circle-most-10)*cos, c-(circle-most-10)*sin+3, "middle", fmt.Sprint(w.Station[i]))
	}
	p.text(box-6, c-4, "end", "X")
	p.text(c+4, 14, "start", "Y")
	scale := fmt.Sprintf("residuals ×%g", factor)
	if radius <= 0 {
		scale = "residuals only"
	}
	bar := nice(most / perMM)
	p.put(`<line class="scale" x1="8" y1="%g" x2="%.2f" y2="%g"/>`, box-6, 8+bar*perMM, box-6)
	p.text(8, box-12, "start", fmt.Sprintf("%s; bar %s %v", scale, short(u.From(bar)), u))
	return p.end(box, box, fmt.Sprintf("%s: residuals of %d stations round the fitted circle, %s", w.Name(), len(w.Readings), scale))
}

// short prints a length of a scale bar.
func short(x float64) string { return fmt.Sprintf("%.3g", x) }

// Centre draws the centre of the reference as seen from the axis, with its 95 % ellipse and the circle
// of the tolerance, to one scale.
func (w *Sweep) Centre() template.HTML {
	if w.Err != nil {
		return ""
	}
	p, c, u := &picture{}, box/2, w.Unit
	tol := w.State.Set.Job.Target.CentreTolerance
	e := w.Found.Circle.Centre
	reach := math.Max(math.Hypot(e.X, e.Y), tol)
	ell, sure := w.Found.Ellipse()
	if sure {
		reach = math.Max(reach, math.Hypot(e.X, e.Y)+ell.Major)
	}
	perMM := (box/2 - 24) / math.Max(reach, 1e-9)
	p.put(`<circle class="tolerance" cx="%g" cy="%g" r="%.2f"/>`, c, c, tol*perMM)
	p.put(`<line class="axis" x1="%g" y1="%g" x2="%g" y2="%g"/><line class="axis" x1="%g" y1="%g" x2="%g" y2="%g"/>`, c-7, c, c+7, c, c,
		c-7, c, c+7)
	x, y := c+e.X*perMM, c-e.Y*perMM
	if sure {
		p.put(`<ellipse class="ellipse" cx="%.2f" cy="%.2f" rx="%.2f" ry="%.2f" transform="rotate(%.2f %.2f %.2f)"/>`,
			x, y, math.Max(ell.Major*perMM, 0.5), math.Max(ell.Minor*perMM, 0.5), -ell.Along.Degrees360(), x, y)
	}
	p.put(`<circle class="mark" cx="%.2f" cy="%.2f" r="2.6"/>`, x, y)
	bar := nice(reach / 2)
	p.put(`<line class="scale" x1="8" y1="%g" x2="%.2f" y2="%g"/>`, box-6, 8+bar*perMM, box-6)
	p.text(8, box-12, "start", fmt.Sprintf("bar %s %v; + axis, dashed: tolerance", short(u.From(bar)), u))
	return p.end(box, box, fmt.Sprintf("%s: the centre with its 95 %% ellipse, seen from the axis, and the tolerance circle",
		w.Name()))
}

// point is one value of a course, with a name under it.
type point struct {
	name string
	v    indicator.Value
	word string // over it; empty for none
}

// course draws values with their error bars one after the other, and ± limit about 0 where there is one.
func course(title string, all []point, limit float64, u geom.Unit) template.HTML {
	if len(all) == 0 {
		return ""
	}
	const w, h, left, foot = 320.0, 170.0, 8.0, 30.0
	low, high := 0.0, 0.0
	if limit > 0 {
		low, high = -limit, limit
	}
	for _, x := range all {
		d := 0.0
		if x.v.Sure() {
			d = x.v.U
		}
		if x.v.Known() {
			low, high = math.Min(low, x.v.V-d), math.Max(high, x.v.V+d)
		}
	}
	if !(high > low) {
		high = low + 1
	}
	at := func(v float64) float64 { return 22 + (high-v)/(high-low)*(h-22-foot) }
	p := &picture{}
	if limit > 0 {
		p.put(`<rect class="band" x="%g" y="%.2f" width="%g" height="%.2f"/>`, left, at(limit), w-2*left, at(-limit)-at(limit))
		p.text(w-left-2, at(limit)-3, "end", "+"+short(u.From(limit)))
	}
	p.put(`<line class="faint" x1="%g" y1="%.2f" x2="%g" y2="%.2f"/>`, left, at(0), w-left, at(0))
	step := (w - 2*left) / float64(len(all))
	for i, q := range all {
		x := left + (float64(i)+0.5)*step
		if q.v.Sure() {
			p.put(`<line class="error" x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"/>`, x, at(q.v.V-q.v.U), x, at(q.v.V+q.v.U))
		}
		if q.word != "" {
			p.text(x, 34, "middle", q.word)
		}
		value := "\u2013"
		if q.v.Known() {
			p.put(`<circle class="mark" cx="%.2f" cy="%.2f" r="3"/>`, x, at(q.v.V))
			value = geom.FormatSigned(u.From(q.v.V), geom.Places(u.From(q.v.U), u))
		}
		if len(all) <= 12 {
			p.text(x, h-14, "middle", q.name)
			p.text(x, h-3, "middle", value)
		}
	}
	p.text(left, 12, "start", title+", "+u.String())
	return p.end(w, h, title)
}

// Converged draws what the trials came to: the radius's error against its tolerance, and how far the
// centre is off.
func (s *Setting) Converged() []template.HTML {
	var radius, centre []point
	for i := range s.Sweeps {
		w := &s.Sweeps[i]
		name := w.Name()
		if e, ok := w.radiusError(); ok {
			radius = append(radius, point{name: name, v: e})
		}
		if w.Err == nil {
			centre = append(centre, point{name: name, v: w.Found.Offset()})
		}
	}
	var out []template.HTML
	t := s.State.Set.Job.Target
	if len(radius) > 0 {
		out = append(out, course("swing radius less target, ±95 %", radius, t.Tolerance, s.Unit))
	}
	if len(centre) > 0 {
		out = append(out, course("centre off the axis, ±95 %", centre, t.CentreTolerance, s.Unit))
	}
	return out
}
