package part

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// Stops are where the swing of an arc begins and where it ends, and what the ring of the head or of the table shows there. Lengths
// are millimetres, angles radians.
type Stops struct {
	Start, Stop Stop
	// Ring is the one that is read; one whose graduation is not known shows nothing that a stop could be set by.
	Ring setup.Ring
	// Turned says that a table is turned, whose angles the axis' are.
	Turned bool
	// Swing is the radius at which the cutter is swung, LetPass what the windows let pass; 0 where nobody has said.
	Swing, LetPass float64
}

// Stop is one of the two.
type Stop struct {
	// At is the bearing of the surface there, of the drawing's frame; kept out of an inner corner.
	At geom.Bearing
	// Axis is how the head is swung there, or how far the table stands turned counter-clockwise, with the drawing as it lies.
	Axis geom.Bearing
	// Set is the same as the ring is set: at a figure that can be read, before the end or else within the window, where a hard stop
	// is needed always before the end; Axis itself where the ring shows none.
	Set geom.Bearing
	// Window is how far the swing may go beyond Axis, and stop before it; nil where no plan has said.
	Window *Window
	// Corner says that the end is no tangent: the window is a tolerance of the end.
	Corner bool
	// Hard says that the ring is too coarse for the window: it is less than half of what the ring shows, or no figure lies in it.
	Hard bool

	out float64 // + where the axis' angle grows beyond the end, −1 else
}

// Stops are those of the arc, with the drawing turned by lie; ok is false of a full circle, and of a table whose cutter stands nobody
// knows where.
func (a *Picked) Stops(turned bool, lie geom.Bearing, ring setup.Ring) (s Stops, ok bool) {
	if a.To-a.From >= 2*math.Pi-1e-12 || turned && a.CutterBearing == nil {
		return s, false
	}
	s = Stops{Ring: ring, Turned: turned, Swing: a.Swing, LetPass: a.LetPass}
	s.Start = Stop{At: a.From + a.BeforeFrom, Window: a.AtFrom, out: -1}
	s.Stop = Stop{At: a.To - a.BeforeTo, Window: a.AtTo, out: 1}
	for _, e := range []struct {
		stop   *Stop
		corner *Window
	}{{&s.Start, a.CornerFrom}, {&s.Stop, a.CornerTo}} {
		if e.corner != nil {
			e.stop.Window, e.stop.Corner = e.corner, true
		}
		if e.stop.Axis = e.stop.At + lie; turned {
			e.stop.Axis, e.stop.out = *a.CutterBearing-lie-e.stop.At, -e.stop.out
		}
		e.stop.Set, e.stop.Hard = e.stop.set(ring)
	}
	if a.BeginsAtTo(turned) {
		s.Start, s.Stop = s.Stop, s.Start
	}
	return s, true
}

// StopsOf are those of an arc of the plan, with the drawing as it is drawn; ok is false too of one that is not to be swung.
func (p *Plan) StopsOf(a *Arc, ring setup.Ring) (s Stops, ok bool) {
	if !(a.Swing > 0) || p.problem(Gouge, a.N) >= 0 {
		return s, false
	}
	_, rotary := p.Rotary()
	return p.picked(a, "").Stops(rotary, 0, ring)
}

// coarse reports whether the window is less than half of what the ring shows; what may run on has no need of it.
func (e *Stop) coarse(r setup.Ring) bool {
	w := e.Window
	if w == nil || e.Free() {
		return false
	}
	least := w.Short
	if !e.Inner() {
		least = min(least, *w.Past)
	}
	return float64(least) < r.Marked()/2
}

// Inner reports whether it is one before an inner corner: nothing is let pass beyond it, for the cutter's own radius stands there.
func (e *Stop) Inner() bool { return e.Corner && e.Window.Past != nil && *e.Window.Past == 0 }

// Free reports whether the swing may run on beyond: nothing is in the way.
func (e *Stop) Free() bool { return e.Window != nil && e.Window.Past == nil }

// set is where the axis stands with the ring at a figure that can be read: the last one before the end. Only where that is too far
// before it, and the next one is within what may be gone beyond however it is read, it is that; and where the swing may run on, for
// then nothing need stand proud. Where neither is in the window, or the ring is too coarse for it, the stop is hard, and the figure
// the one before the end: the block is measured to.
func (e *Stop) set(r setup.Ring) (at geom.Bearing, hard bool) {
	step := geom.Bearing(r.Reads())
	if !(step > 0) {
		return e.Axis, e.coarse(r)
	}
	on := geom.Bearing(e.out) * (e.Axis - r.Zero) // from the ring's zero, the way on
	short := geom.Bearing(math.Floor(float64(on/step)+1e-9)) * step
	switch w, next := e.Window, short+step; {
	case e.Free() && on-short > slack:
		short = next
	case e.coarse(r):
		hard = true
	case w == nil || on-short <= w.Short+slack:
	case next-on+step/2 <= *w.Past+slack:
		short = next
	default:
		hard = true
	}
	return r.Zero + geom.Bearing(e.out)*short, hard
}

// Shows is what the ring shows there, degrees from 0 to below 360, NaN where it shows nothing that can be read.
func (s *Stops) Shows(e *Stop) float64 {
	if !(s.Ring.Reads() > 0) {
		return math.NaN()
	}
	return s.Figure(e.Set)
}

// Figure is what the ring shows at an angle of the axis, degrees from 0 to below 360, without the tail that conversion leaves.
func (s *Stops) Figure(axis geom.Bearing) float64 {
	return math.Mod(math.Round(s.Ring.Shows(axis)*1e9)/1e9, 360)
}

// Way is by how much the axis goes from the one to the other, as they are set: + counter-clockwise.
func (s *Stops) Way() geom.Bearing { return s.Stop.Set - s.Start.Set }

// Miss is how a stop stands that the ring shows at a figure.
type Miss struct {
	// Beyond is how far it is beyond the end, − before it, radians.
	Beyond geom.Bearing
	// Past and Short say that it is beyond the window, or before it.
	Past, Short bool
	// Proud is about what stands proud where it is short, millimetres: it grows with the square of the way. 0 where that is not known.
	Proud float64
}

// slack is what a figure may be beyond a window by the rounding of what is written, radians.
const slack = geom.Bearing(1e-9)

// Seen judges a stop by what the ring shows, degrees.
func (s *Stops) Seen(e *Stop, shows float64) Miss {
	apart := math.Remainder(float64(s.Ring.At(shows)-e.Axis), 2*math.Pi)
	m := Miss{Beyond: geom.Bearing(e.out * apart)}
	w, let := e.Window, slack
	if w == nil {
		return m
	}
	if e.Hard { // a block stands nearer than the ring shows: to one step of its reading
		let += geom.Bearing(s.Ring.Reads())
	}
	m.Past = w.Past != nil && m.Beyond > *w.Past+let
	m.Short = -m.Beyond > w.Short+let
	if m.Short && !e.Corner {
		m.Proud = s.LetPass * math.Pow(float64(m.Beyond/w.Short), 2)
	}
	return m
}

// Gouge is how deep the cutter bites the outline that the arc belongs to where it is swung beyond an end, millimetres; 0 where it
// does not, and where the outline is not there. It is where the axis is nearer to the outline than its radius: the arc itself it
// leaves alone.
func (a *Picked) Gouge(outline []geom.Chain, e *Stop, beyond geom.Bearing, turned bool) float64 {
	out := geom.Bearing(e.out)
	if turned {
		out = -out
	}
	axis := a.Centre.Along(e.At+out*beyond, a.Swing)
	deep := 0.0
	for _, chain := range outline {
		if !a.in(chain) {
			continue
		}
		for _, el := range chain {
			if a.is(el) {
				continue
			}
			if apart, _ := el.Distance(axis); a.Cutter/2-apart > deep {
				deep = a.Cutter/2 - apart
			}
		}
	}
	return deep
}

// in reports whether the arc is one of a run of elements.
func (a *Picked) in(chain geom.Chain) bool {
	for _, el := range chain {
		if a.is(el) {
			return true
		}
	}
	return false
}

// is reports whether an element is of the arc's circle.
func (a *Picked) is(el geom.Element) bool {
	const alike = 0.005 // the gap that a drawing is let have, millimetres
	return el.Curved() && el.Centre.Sub(a.Centre).Norm() <= alike && math.Abs(el.Radius-a.Radius) <= alike
}
