package drawing

import (
	"cmp"
	"math"
	"slices"

	"example.org/trammel/geom"
)

// affine is a map of the plane: x' = a·x + b·y + tx, y' = c·x + d·y + ty.
type affine struct{ a, b, c, d, tx, ty float64 }

func identity() affine { return affine{a: 1, d: 1} }

func (m affine) apply(p geom.Point) geom.Point {
	return geom.Point{X: float64(m.a*p.X) + float64(m.b*p.Y) + m.tx, Y: float64(m.c*p.X) + float64(m.d*p.Y) + m.ty}
}

// after is the map that does n first.
func (m affine) after(n affine) affine {
	t := m.apply(geom.Point{X: n.tx, Y: n.ty})
	return affine{
		a: float64(m.a*n.a) + float64(m.b*n.c), b: float64(m.a*n.b) + float64(m.b*n.d),
		c: float64(m.c*n.a) + float64(m.d*n.c), d: float64(m.c*n.b) + float64(m.d*n.d),
		tx: t.X, ty: t.Y,
	}
}

// round reports whether circles stay circles, to a part in 10⁹, and by what they grow: + as drawn, −
// mirrored.
func (m affine) round() (scale float64, ok bool) {
	first, second := math.Hypot(m.a, m.c), math.Hypot(m.b, m.d)
	lean := float64(m.a*m.b) + float64(m.c*m.d)
	limit := 1e-9 * max(first, second)
	if math.Abs(first-second) > limit || math.Abs(lean) > limit*max(first, second) || first == 0 {
		return 0, false
	}
	return math.Copysign(first, float64(m.a*m.d)-float64(m.b*m.c)), true
}

// seen is the map from an entity's own coordinates to those it is drawn in, by its normal. By the rule
// of the arbitrary axis a normal straight down turns X round and leaves Y; ok is false where the
// entity's plane is not square to the view.
func seen(normal [3]float64) (m affine, ok bool) {
	length := math.Hypot(math.Hypot(normal[0], normal[1]), normal[2])
	if length == 0 || math.Hypot(normal[0], normal[1]) > 1e-6*length {
		return m, false
	}
	m = identity()
	if normal[2] < 0 {
		m.a = -1
	}
	return m, true
}

// piece is a run of elements that belong together as they are drawn: one, or those of a polyline.
type piece struct {
	Path
	closed bool
}

// placer puts the entities of a drawing in place.
type placer struct {
	*reader
	scale  float64
	wanted map[string]bool
	drawn  []piece
	used   int // elements and others visited
	placed int
}

// want takes the layers that were asked for.
func (p *placer) want(layers []string) error {
	p.addLayers(&p.model)
	for _, b := range p.blocks {
		p.addLayers(&b.file)
	}
	for _, name := range layers {
		if p.layers[same(name)] == nil {
			e := &LayerError{Name: name}
			for _, l := range p.layers {
				e.Have = append(e.Have, l.Name)
			}
			slices.SortFunc(e.Have, cmp.Compare[string])
			return e
		}
		p.wanted[same(name)] = true
	}
	if len(p.layers) > MaxLayers {
		return &LimitError{What: "layers", Most: MaxLayers}
	}
	return nil
}

// addLayers adds the layers that entities are on and the file has no table of.
func (p *placer) addLayers(f *file) {
	for i := range f.entities {
		if name := f.entities[i].layer; p.layers[same(name)] == nil {
			p.layers[same(name)] = &Layer{Name: name}
		}
	}
}

// on is the layer that an entity ends up on, and whether it is wanted: in a block, layer 0 stands for
// that of the INSERT.
func (p *placer) on(layer, inherited string) (string, bool) {
	if layer == "0" && inherited != "" {
		layer = inherited
	}
	if l := p.layers[same(layer)]; l != nil {
		layer = l.Name
	}
	return layer, len(p.wanted) == 0 || p.wanted[same(layer)]
}

// all puts the entities of a file, or of a block, in place.
func (p *placer) all(f *file, m affine, inherited, block string, depth int) error {
	p.others(f, inherited)
	for i := range f.entities {
		e := &f.entities[i]
		layer, wanted := p.on(e.layer, inherited)
		if p.used += 1 + len(e.corners); p.used > MaxPieces {
			return &LimitError{What: "entities and corners with every block in place", Most: MaxPieces, Line: e.line}
		}
		if e.paper {
			p.count(Note{Kind: Paper, Entity: e.kind, Layer: layer, Count: 1})
			continue
		}
		own, ok := seen(e.normal)
		if e.kind == "LINE" || e.kind == "POLYLINE" && e.flags&threeDFlag != 0 {
			own, ok = identity(), true // these are given in the drawing's own coordinates
		}
		if !ok {
			p.count(Note{Kind: Tilted, Entity: e.kind, Layer: layer, Count: 1})
			continue
		}
		if e.kind == "INSERT" {
			if err := p.insert(e, m.after(own), layer, depth); err != nil {
				return err
			}
			continue
		}
		p.layers[same(layer)].Count++
		if e.hidden {
			p.count(Note{Kind: Hidden, Entity: e.kind, Layer: layer, Count: 1})
		}
		p.draw(e, m.after(own), Source{Line: e.line, Entity: e.kind, Handle: e.handle, Layer: layer, Block: block, Aside: !wanted})
	}
	return nil
}

// others counts what is not read.
func (p *placer) others(f *file, inherited string) {
	for _, kind := range []struct {
		of   Kind
		what map[[2]string]int
	}{{NotUnderstood, f.others}, {Paper, f.paper}} {
		keys := make([][2]string, 0, len(kind.what))
		for k := range kind.what {
			keys = append(keys, k)
		}
		slices.SortFunc(keys, func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
		p.used += len(keys)
		for _, k := range keys {
			if layer, wanted := p.on(k[1], inherited); wanted {
				p.count(Note{Kind: kind.of, Entity: k[0], Layer: layer, Count: kind.what[k]})
			}
		}
	}
}

// insert puts a block in place, once or in rows and columns. The spacing of those is turned, but not
// scaled (as the library does that wrote the drawings of testdata/drawing).
func (p *placer) insert(e *entity, m affine, layer string, depth int) error {
	b := p.blocks[same(e.block)]
	if b == nil || b.external {
		p.count(Note{Kind: NoBlock, Text: quoted(e.block), Count: 1})
		return nil
	}
	if depth >= MaxDepth {
		return &LimitError{What: "blocks in one another", Most: MaxDepth, Line: e.line}
	}
	sin, cos := sincosDegrees(e.angle[0])
	put := affine{a: cos * e.r[1], b: -sin * e.r[2], c: sin * e.r[1], d: cos * e.r[2]}
	columns, rows := max(1, e.flags), max(1, e.rows)
	if float64(columns)*float64(rows) > MaxPlaces {
		return &LimitError{What: "blocks in place", Most: MaxPlaces, Line: e.line}
	}
	for row := range rows {
		for column := range columns {
			if p.placed++; p.placed > MaxPlaces {
				return &LimitError{What: "blocks in place", Most: MaxPlaces, Line: e.line}
			}
			right, up := float64(column)*e.r[4], float64(row)*e.r[5]
			at := put
			at.tx, at.ty = e.p[0]+cos*right-sin*up, e.p[1]+sin*right+cos*up
			base := identity()
			base.tx, base.ty = -b.base.X, -b.base.Y
			if err := p.all(&b.file, m.after(at).after(base), layer, b.name, depth+1); err != nil {
				return err
			}
			if (columns > 1 && e.r[4] == 0 || columns == 1) && (rows > 1 && e.r[5] == 0 || rows == 1) {
				return nil // all in one place
			}
		}
	}
	return nil
}

// sincosDegrees is exact at quarter turns, where drawings are made of them.
func sincosDegrees(deg float64) (sin, cos float64) {
	switch turned := math.Mod(deg, 360); turned {
	case 0:
		return 0, 1
	case 90, -270:
		return 1, 0
	case 180, -180:
		return 0, -1
	case 270, -90:
		return -1, 0
	default:
		return math.Sincos(turned * math.Pi / 180)
	}
}
