package part

import (
	"math"

	"example.org/trammel/geom"
)

// How good a cutter is for an element.
const (
	clean      = iota
	gouges     // it bites an element that it does not meet
	impossible // the concave radius is too small for it, or the slide cannot set the swing radius
)

// trial is a cutter tried on an element.
type trial struct {
	cutter float64
	path   geom.Element // of its axis, run as the element is drawn
	level  int
	excess float64 // gouges: by how much beyond what is let pass
	// before is how far from the start and from the end of its run, radians or millimetres, the cutter stays clear of
	// the corners there.
	before   [2]float64
	problems []Problem
}

// axis is the path of a cutter's axis along an element; ok is false where a concave radius leaves none.
func (e *element) axis(d float64) (path geom.Element, ok bool) {
	if e.Curved() {
		swing := e.Radius + e.kappa()*d/2
		return geom.ArcOf(e.Centre, swing, e.From(), e.Turn), swing > 0
	}
	off := e.away().Times(d / 2)
	return geom.Straight(e.Start.Add(off), e.End.Add(off)), true
}

// away is the unit vector from a straight to its side without metal, zero where it has no side.
func (e *element) away() geom.Point {
	run := e.End.Sub(e.Start)
	return geom.Point{X: run.Y, Y: -run.X}.Times(float64(e.hand) / run.Norm())
}

// try tries a cutter on element i.
func (w *work) try(i int, d float64) trial {
	e := &w.elements[i]
	t := trial{cutter: d}
	if e.centreLine {
		if p, ok := w.tryCentreLine(i, d); !ok {
			t.level, t.problems = impossible, []Problem{p}
			return t
		}
	}
	var ok bool
	if t.path, ok = e.axis(d); !ok {
		t.level = impossible
		t.problems = []Problem{{Kind: TooTight, N: e.n, At: e.Centre, Size: e.Radius, Need: d / 2, Cutter: d}}
		return t
	}
	if s := t.path.Radius; e.Curved() && (s < w.SwingMin || s > w.SwingMax) {
		t.level = impossible
		t.problems = []Problem{{Kind: OutOfTravel, N: e.n, At: e.Centre, Size: s, Need: min(max(s, w.SwingMin), w.SwingMax), Cutter: d}}
		return t
	}
	corner := false
	w.bites(i, t.path, d, func(b bite) {
		if b.excess <= 0 {
			return
		}
		into := &w.elements[b.into]
		p := Problem{Kind: Gouge, N: e.n, Other: into.n, At: b.at, Size: b.depth, Need: b.depth - b.excess, Cutter: d}
		if into.n == 0 {
			p.Names[1] = w.name(b.into)
		}
		if b.into == e.next[0] || b.into == e.next[1] {
			p.Kind, corner = Corner, true
		} else {
			t.level, t.excess = gouges, max(t.excess, b.excess)
		}
		t.add(p)
	})
	if corner {
		if t.before, ok = w.betweenCorners(i, t.path, d); !ok { // it finds no room anywhere along the element
			t.level = impossible
		}
	}
	return t
}

// add notes a problem of the trial, the deeper one of two with the same element.
func (t *trial) add(p Problem) {
	for k := range t.problems {
		if q := &t.problems[k]; q.Other == p.Other && q.Names == p.Names {
			if p.Size > q.Size {
				*q = p
			}
			return
		}
	}
	t.problems = append(t.problems, p)
}

// cut chooses the cutters and lists the arcs, the straights and the slots.
func (w *work) cut() {
	w.tried = make([][]trial, len(w.elements))
	for i := range w.elements {
		if w.elements[i].n == 0 || w.inSingle(i) {
			continue
		}
		for _, d := range w.Cutters {
			w.tried[i] = append(w.tried[i], w.try(i, d))
		}
	}
	w.chosen = w.choose(w.tried)
	for i := range w.elements {
		e, t := &w.elements[i], w.cutBy(i)
		switch {
		case e.n == 0:
			continue
		case e.centreLine:
			w.slotLine(i, t, w.tried[i])
		case e.Curved():
			w.part.Arcs = append(w.part.Arcs, w.arc(i, t, w.tried[i]))
		default:
			w.line(i, t)
			if t == nil && len(w.tried[i]) > 0 {
				t = &w.tried[i][0] // what stands in the way of it does so of every other
			}
		}
		if t != nil {
			for _, p := range t.problems {
				w.tell(p)
			}
		}
	}
}

// cutBy is the trial that element i is cut by, nil where there is none.
func (w *work) cutBy(i int) *trial {
	if k := w.chosen[i]; k >= 0 {
		return &w.tried[i][k]
	}
	return nil
}

// arc is arc i as it is cut by trial t, nil: no cutter at hand can.
func (w *work) arc(i int, t *trial, tried []trial) Arc {
	e := &w.elements[i]
	from, to := e.Span()
	a := Arc{N: e.n, Layer: e.layer, Source: e.source, Centre: e.Centre, Radius: e.Radius, From: from, To: to, Sweep: to - from,
		Side: e.side(), SideFrom: w.sideFrom(e), Readout: e.Centre.Sub(w.Datum), Sense: w.sense(e)}
	if s := w.chains[e.chain].slot; s != nil && !e.centreLine {
		a.Slot = w.elements[s.at].n
	}
	a.Wind = a.Readout
	if w.Rotary {
		a.Wind = a.Readout.Times(-1)
	}
	switch {
	case t != nil:
		a.Cutter, a.Swing = t.cutter, t.path.Radius
		if j := w.fills(i, t); j >= 0 {
			a.Sense = NoSense
			w.tell(Problem{Kind: FullSlot, N: e.n, Other: w.elements[j].n, At: e.Centre, Size: t.cutter, Cutter: t.cutter})
		}
		w.ends(i, &a, t)
	case len(tried) > 0:
		// Tell of the cutter that came nearest.
		best := &tried[0]
		for k := range tried {
			if tried[k].lacks() < best.lacks() {
				best = &tried[k]
			}
		}
		w.tell(best.problems[0])
		w.otherCutter(i, tried)
	case e.kappa() == 0: // the axis follows the arc, whatever the cutter
		a.Swing = e.Radius
	}
	w.run(&a)
	a.Depth, a.WayIn = w.chains[e.chain].floor, w.wayIn(i)
	a.ToStep = !w.chains[e.chain].open && w.chains[e.chain].side == Inside && w.chains[e.chain].lower > 0
	if t != nil {
		w.leftStanding(i, t)
	}
	return a
}

// leftStanding tells what the passes that are planned leave in a hole: a slug that comes loose in a round one, or an island
// that stays on its floor; ribs between the first pass of a slot and its walls.
func (w *work) leftStanding(i int, t *trial) {
	e := &w.elements[i]
	if e.Full() && e.kappa() < 0 && len(w.chains[e.chain].children) == 0 && t.path.Radius > t.cutter/2+w.Limits.Gap {
		kind := Slug
		if w.blind(&w.chains[e.chain]) {
			kind = Island
		}
		w.tell(Problem{Kind: kind, N: e.n, At: e.Centre, Size: t.path.Radius - t.cutter/2, Cutter: t.cutter})
	}
	if s := w.chains[e.chain].slot; e.centreLine && s.width > 3*t.cutter+2*w.Limits.Gap {
		w.tell(Problem{Kind: Ribs, N: e.n, At: e.middle, Size: (s.width - 3*t.cutter) / 2, Cutter: t.cutter})
	}
}

// run says where the arc begins and ends as it is cut. Seen from the part the cutter goes round the other way
// than a table is turned.
func (w *work) run(a *Arc) {
	if a.Full() {
		return
	}
	a.Start, a.Stop = a.From, a.To
	if w.clockwise(a) {
		a.Start, a.Stop = a.To, a.From
	}
	if w.Rotary {
		a.TableStart, a.TableStop = w.CutterBearing-a.Start, w.CutterBearing-a.Stop
	}
}

// ends tells how near trial t comes to the ends of arc a, element i.
func (w *work) ends(i int, a *Arc, t *trial) {
	if a.Full() {
		return
	}
	a.Ends = [2]End{w.end(i, 0, t), w.end(i, 1, t)}
	if w.elements[i].Turn < 0 {
		a.Ends[0], a.Ends[1] = a.Ends[1], a.Ends[0]
	}
}

// clockwise reports whether the cutter goes clockwise round the part as the arc's sense is: the other way than a table is turned.
func (w *work) clockwise(a *Arc) bool {
	return a.Sense == Clockwise && !w.Rotary || a.Sense == Anticlockwise && w.Rotary
}

// sideFrom is who says where an element's metal is.
func (w *work) sideFrom(e *element) Origin {
	switch c := &w.chains[e.chain]; {
	case !c.open:
		return c.from
	case e.hand != 0:
		return Stated
	}
	return Unsaid
}

// lacks is by how much an impossible trial fails, millimetres.
func (t *trial) lacks() float64 { return math.Abs(t.problems[0].Size - t.problems[0].Need) }

// sense is the way to swing that cuts conventionally: with the cutter turning clockwise the metal must stand on the
// left of its run, which is anticlockwise round a convex arc. A table that turns under a standing cutter turns the
// other way. So an outline that is mirrored changes no sense, and one that is mirrored together with the cutter's
// hand changes all.
func (w *work) sense(e *element) Sense {
	k := e.kappa()
	if w.LeftHand {
		k = -k
	}
	if w.Rotary {
		k = -k
	}
	switch k {
	case 1:
		return Anticlockwise
	case -1:
		return Clockwise
	}
	return NoSense
}

// fills returns the arc opposite to arc i, by index, whose wall the cutter touches at the same time
// all along, or −1.
func (w *work) fills(i int, t *trial) int {
	e := &w.elements[i]
	if e.hand == 0 {
		return -1
	}
	opposite := t.path.Radius + e.kappa()*t.cutter/2
	for _, j := range w.opposite(e.Element, opposite) {
		f := &w.elements[j]
		if w.passesOver(&w.chains[e.chain], &w.chains[f.chain]) || f.kappa()*e.kappa() >= 0 ||
			f.Centre.Sub(e.Centre).Norm() > w.Limits.Gap {
			continue
		}
		if math.Abs(f.Radius-opposite) <= w.Limits.Gap && overlap(e.Element, f.Element) {
			return j
		}
	}
	return -1
}

// overlap reports whether two arcs about one centre stand side by side over some angle.
func overlap(a, b geom.Element) bool {
	aFrom, aTo := a.Span()
	bFrom, bTo := b.Span()
	const more = 1e-6 // arcs that only meet end to end do not
	return float64((bFrom-aFrom).Normalized())+more < float64(aTo-aFrom) || float64((aFrom-bFrom).Normalized())+more < float64(bTo-bFrom)
}

// line lists straight i as it is cut by trial t, nil: there is no cutter.
func (w *work) line(i int, t *trial) {
	e := &w.elements[i]
	l := Line{N: e.n, Layer: e.layer, Source: e.source, Start: e.Start, End: e.End, SideFrom: w.sideFrom(e),
		Depth: w.chains[e.chain].floor, WayIn: w.wayIn(i)}
	w.slide(i, &l)
	if t != nil {
		l.Cutter = t.cutter
		l.Ends = [2]End{w.end(i, 0, t), w.end(i, 1, t)}
		way := t.path.End.Sub(t.path.Start)
		way = way.Times(1 / way.Norm())
		// As far as the cutter may come: not into an inner corner.
		l.Axis = [2]geom.Point{t.path.Start.Add(way.Times(l.Ends[0].Before)), t.path.End.Sub(way.Times(l.Ends[1].Before))}
		// Conventionally the metal stands on the left of the run, for a left-hand cutter on the right.
		if left := e.hand > 0; e.hand != 0 && left == w.LeftHand {
			l.Axis[0], l.Axis[1], l.FromEnd = l.Axis[1], l.Axis[0], true
		}
	}
	w.lay(&l)
	w.part.Lines = append(w.part.Lines, l)
}

// slide finds the slide that can cut a straight: along it the straight's end is out by no more than a
// gap is let be.
func (w *work) slide(i int, l *Line) {
	run := l.End.Sub(l.Start)
	if w.Rotary && len(w.Slides) > 0 {
		// Turned by t the straight points along its own bearing + t; half a turn is no matter to it.
		l.Sliding, l.Slide = true, w.Slides[0]
		l.Table = geom.Bearing(math.Mod(float64((l.Slide - run.Bearing()).Normalized()), math.Pi))
		return
	}
	out := math.Inf(1)
	for _, b := range w.Slides {
		if off := math.Abs(b.Unit().Cross(run)); off < out {
			out, l.Slide = off, b
		}
	}
	if l.Sliding = out <= w.Limits.Gap; !l.Sliding {
		w.tell(Problem{Kind: Skew, N: w.elements[i].n, At: l.Start.Add(run.Times(0.5)), Size: min(out, run.Norm()), Need: w.Limits.Gap})
	}
}
