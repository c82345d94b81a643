package drawing

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// items makes pieces of all tables.
func (r *reading) items(raw *rawOutline) {
	for i, l := range raw.Line {
		from, key := r.source("line", i, l.Layer)
		from.Depth = r.depth(key, "depth", l.Depth)
		r.add(geom.Chain{geom.Straight(r.place(key+", from", l.From), r.place(key+", to", l.To))}, false, from, key)
	}
	for i := range raw.Circle {
		from, key := r.source("circle", i, raw.Circle[i].Layer)
		c := &raw.Circle[i]
		if c.From != nil || c.To != nil || c.Width != nil {
			r.fail(key, "a part of a circle is an [[arc]]", "a circle has a centre, a radius, a side of the metal and a depth only")
		}
		from.Metal, from.Depth = r.metal(key, c.Metal), r.depth(key, "depth", c.Depth)
		r.add(geom.Chain{geom.ArcOf(r.place(key+", centre", c.Centre), r.above0(key+", radius", c.Radius), 0, 2*math.Pi)}, true, from, key)
	}
	for i := range raw.Arc {
		from, key := r.source("arc", i, raw.Arc[i].Layer)
		a := &raw.Arc[i]
		if a.Width != nil {
			r.fail(key+", width", "an arc with a width is a [[slot]]", "an arc has no width")
		}
		r.open(key, a.Metal)
		from.Depth = r.depth(key, "depth", a.Depth)
		begin, sweep := r.span(key, a)
		arc := geom.ArcOf(r.place(key+", centre", a.Centre), r.above0(key+", radius", a.Radius), begin, sweep)
		r.add(geom.Chain{arc}, arc.Full(), from, key)
	}
	for i := range raw.Slot {
		from, key := r.source("slot", i, raw.Slot[i].Layer)
		if from.Slot = true; r.metal(key, raw.Slot[i].Metal) == MetalInside {
			r.fail(key+", metal", "what stands like a slot, with its metal inside, is a closed [[path]]",
				"inside, need outside or nothing: a slot is open")
		}
		from.Depth = r.depth(key, "depth", raw.Slot[i].Depth)
		r.add(r.slot(key, &raw.Slot[i]), true, from, key)
	}
	for i := range raw.Path {
		r.path(i, &raw.Path[i])
	}
}

// metal reads on which side of a closed element the metal is.
func (r *reading) metal(key string, word *string) Metal {
	switch {
	case word == nil:
		return Unsaid
	case *word == "inside":
		return MetalInside
	case *word == "outside":
		return MetalOutside
	}
	r.fail(key+", metal", "inside for a boss or a rim, outside for a hole", "%q, need inside or outside", *word)
	return Unsaid
}

// open refuses a side of the metal that is stated of what is not closed.
func (r *reading) open(key string, word *string) {
	if word != nil {
		r.fail(key+", metal", "--side says where the metal is of open elements",
			"%q of an element that is not closed, need a circle or a closed path", *word)
	}
}

// add keeps a chain, each element of which comes from the same place. What has no length is refused: in
// a text written by hand it is a slip.
func (r *reading) add(chain geom.Chain, closed bool, from Source, key string) {
	if r.err != nil {
		return
	}
	p := piece{Path: Path{Chain: chain}, closed: closed}
	for _, e := range chain {
		if !finite(e) || e.Length() <= meets {
			r.fail(key, "", "a piece has no length, need one that has")
			return
		}
		p.From = append(p.From, from)
	}
	r.drawn = append(r.drawn, p)
}

// span reads from and to, degrees, counter-clockwise from the one to the other, at most once round.
func (r *reading) span(key string, a *rawArc) (from, sweep geom.Bearing) {
	if a.From == nil || a.To == nil {
		r.fail(key, "degrees, anticlockwise from +X seen from above", "from or to missing, need both")
		return 0, 1
	}
	turn := *a.To - *a.From
	if !(math.Abs(*a.From) <= 3600 && math.Abs(*a.To) <= 3600) {
		r.fail(key, "", "from %v to %v, need degrees", *a.From, *a.To)
		return 0, 1
	}
	if turn = math.Mod(turn, 360); turn <= 0 {
		turn += 360
	}
	return geom.FromDegrees(*a.From), geom.FromDegrees(turn)
}

// slot is an arc slot: two walls and two round ends, counter-clockwise.
func (r *reading) slot(key string, s *rawArc) geom.Chain {
	c, radius, half := r.place(key+", centre", s.Centre), r.above0(key+", radius", s.Radius), r.above0(key+", width", s.Width)/2
	from, sweep := r.span(key, s)
	if half >= radius {
		r.fail(key+", width", "", "half of it is %.6g mm, need less than the radius of %.6g mm", half, radius)
	}
	const turned = geom.Bearing(math.Pi)
	if room := float64(2*math.Pi-sweep) / 2; room < math.Pi && radius*math.Sin(min(room, math.Pi/2)) <= half {
		r.fail(key, "", "the slot's ends run into each other, need room between them")
	}
	return geom.Chain{
		geom.ArcOf(c, radius+half, from, sweep),
		geom.ArcOf(c.Along(from+sweep, radius), half, from+sweep, turned),
		geom.ArcOf(c, radius-half, from+sweep, -sweep),
		geom.ArcOf(c.Along(from, radius), half, from+turned, turned),
	}
}

// path makes the elements of a run of steps, then rounds its corners.
func (r *reading) path(i int, raw *rawPath) {
	from, key := r.source("path", i, raw.Layer)
	if len(raw.Steps) < 2 {
		r.fail(key, "", "%d steps, need at least two", len(raw.Steps))
		return
	}
	from.Depth = r.depth(key, "depth", raw.Depth)
	if from.Metal = r.metal(key, raw.Metal); !raw.Closed {
		r.open(key, raw.Metal)
	}
	var chain geom.Chain
	first := r.place(stepKey(key, 0)+", at", raw.Steps[0].At)
	if s := &raw.Steps[0]; s.Centre != nil || s.Radius != nil || s.Bulge != nil || s.Turn != nil {
		r.fail(stepKey(key, 0), "repeat the first place as the last step to come back to it by an arc",
			"the first step is where the path begins, need only at and blend")
	}
	at := first
	var blends []*float64 // of the corner at each element's start
	blends = append(blends, raw.Steps[0].Blend)
	for k := 1; k < len(raw.Steps); k++ {
		s := &raw.Steps[k]
		to := r.place(stepKey(key, k)+", at", s.At)
		chain = append(chain, r.way(stepKey(key, k), at, to, s))
		blends = append(blends, s.Blend)
		at = to
	}
	if raw.Closed && at.Sub(first).Norm() > meets {
		chain = append(chain, geom.Straight(at, first))
		blends = append(blends, nil)
	}
	if last := blends[len(chain)]; last != nil && raw.Closed { // the first corner again
		if blends[0] != nil && *blends[0] != *last {
			r.fail(key, "", "the first corner has two blends, %v and %v, need one", *blends[0], *last)
		}
		blends[0] = last
	}
	if !raw.Closed && (blends[0] != nil || blends[len(chain)] != nil) {
		r.fail(key, "", "a blend at the end of an open path, need an element on either side of it")
	}
	r.add(r.rounded(key, chain, blends[:len(chain)], raw.Closed), raw.Closed, from, key)
}

func stepKey(key string, k int) string { return fmt.Sprintf("%s, step %d", key, k+1) }

// way is the element by which a step is reached.
func (r *reading) way(key string, a, b geom.Point, s *rawStep) geom.Element {
	given := 0
	for _, is := range []bool{s.Centre != nil, s.Radius != nil, s.Bulge != nil} {
		if is {
			given++
		}
	}
	left := s.Turn != nil && *s.Turn == "left"
	switch {
	case given > 1:
		r.fail(key, "", "an arc by more than one of centre, radius and bulge, need one")
	case a == b && s.Centre == nil:
		r.fail(key, "", "the same place as the step before, need another")
	case s.Turn != nil && !left && *s.Turn != "right":
		r.fail(key+", turn", "", "%q, need left or right", *s.Turn)
	case (s.Centre != nil || s.Radius != nil) != (s.Turn != nil):
		r.fail(key, "turn = \"left\" runs anticlockwise seen from above, \"right\" clockwise",
			"an arc has a turn and a centre or radius, need both")
	case s.Centre != nil:
		return r.about(key, a, b, r.place(key+", centre", s.Centre), left)
	case s.Radius != nil:
		radius, half := r.above0(key+", radius", s.Radius), b.Sub(a).Norm()/2
		if radius < half*(1-1e-12) {
			r.fail(key+", radius", "", "%v, need at least half the distance, %.6g", *s.Radius, r.unit.From(half))
		}
		// The tangent of a quarter of the angle swept, from the sine of its half.
		sine := min(1, half/radius)
		bulge := sine / (1 + math.Sqrt(1-float64(sine*sine)))
		if s.Long {
			bulge = 1 / bulge
		}
		if !left {
			bulge = -bulge
		}
		return geom.Bulged(a, b, bulge)
	case s.Bulge != nil:
		if !(math.Abs(*s.Bulge) <= 1e6) {
			r.fail(key+", bulge", "", "%v, need a number not beyond 1e6", *s.Bulge)
		}
		return geom.Bulged(a, b, *s.Bulge)
	}
	return geom.Straight(a, b)
}

// about is the arc from a to b about a centre that both are as far from.
func (r *reading) about(key string, a, b, centre geom.Point, left bool) geom.Element {
	away := a.Sub(centre)
	if off := math.Abs(b.Sub(centre).Norm() - away.Norm()); off > DefaultGap {
		r.fail(key+", centre", "", "the arc's ends are %.6g and %.6g away from it, need the same (to %v mm)",
			r.unit.From(away.Norm()), r.unit.From(b.Sub(centre).Norm()), DefaultGap)
	}
	turn := (b.Sub(centre).Bearing() - away.Bearing()).Normalized()
	if !left {
		turn -= 2 * math.Pi
	}
	if a == b {
		turn = geom.Bearing(math.Copysign(2*math.Pi, float64(turn)))
	}
	return geom.Element{Start: a, End: b, Centre: centre, Radius: away.Norm(), Turn: turn}
}

// rounded puts blends between elements; blends[i] is the radius at the start of element i.
func (r *reading) rounded(key string, chain geom.Chain, blends []*float64, closed bool) geom.Chain {
	if r.err != nil {
		return nil
	}
	var out geom.Chain
	arcs := make([]geom.Chain, len(chain)) // what goes before each element
	for i := range chain {
		if blends[i] == nil {
			continue
		}
		before := (i + len(chain) - 1) % len(chain)
		radius := r.above0(stepKey(key, i)+", blend", blends[i])
		a, arc, b, ok := Blend(chain[before], chain[i], radius)
		if !ok {
			r.fail(stepKey(key, i)+", blend", "a smaller radius needs less room", "%v does not fit between its neighbours", *blends[i])
			return nil
		}
		r.tell(Note{Kind: Blended, Entity: "path", At: chain[i].Start, Size: radius})
		chain[before], chain[i] = a, b
		arcs[i] = geom.Chain{arc}
	}
	for i := range chain {
		out = append(append(out, arcs[i]...), chain[i])
	}
	// A blend may use up a whole element.
	return slices.DeleteFunc(out, func(e geom.Element) bool { return e.Length() <= meets })
}

// want marks the layers that are not wanted, and lists all.
func (out *Outline) want(pieces []piece, wanted []string) error {
	for _, p := range pieces {
		i := slices.IndexFunc(out.Layers, func(l Layer) bool { return same(l.Name) == same(p.From[0].Layer) })
		if i < 0 {
			i = len(out.Layers)
			out.Layers = append(out.Layers, Layer{Name: p.From[0].Layer})
		}
		out.Layers[i].Count++
	}
	for _, name := range wanted {
		if !slices.ContainsFunc(out.Layers, func(l Layer) bool { return same(l.Name) == same(name) }) {
			e := &LayerError{Name: name}
			for _, l := range out.Layers {
				e.Have = append(e.Have, l.Name)
			}
			return e
		}
	}
	for _, p := range pieces {
		for k := range p.From {
			p.From[k].Aside = len(wanted) > 0 &&
				!slices.ContainsFunc(wanted, func(name string) bool { return same(name) == same(p.From[k].Layer) })
		}
	}
	return nil
}
