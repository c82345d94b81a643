package drawing

import (
	"cmp"
	"slices"

	"example.org/trammel/geom"
)

// block is a part of a drawing that is put in place by INSERT.
type block struct {
	name     string
	base     geom.Point
	external bool
	file
}

// file is a list of entities, and how many there are of those that are not read.
type file struct {
	entities []entity
	others   map[[2]string]int // by type and layer
	paper    map[[2]string]int
}

func (f *file) other(kind, layer string, paper bool) {
	into := &f.others
	if paper {
		into = &f.paper
	}
	if *into == nil {
		*into = map[[2]string]int{}
	}
	(*into)[[2]string{kind, layer}]++
}

// reader reads the sections of a drawing.
type reader struct {
	tags
	names
	tally
	at     tag // the pair that is next
	ok     bool
	unit   int // $INSUNITS
	metric string
	pieces int // kept in memory
	blocks map[string]*block
	layers map[string]*Layer
	model  file
}

// step goes to the next pair.
func (r *reader) step() (err error) {
	r.at, r.ok, err = r.next()
	return err
}

// read reads all sections. What stands between them, and sections that say nothing of outlines, is
// passed over.
func (r *reader) read() error {
	if err := r.step(); err != nil {
		return err
	}
	for r.ok {
		if !r.at.is("SECTION") || r.at.code != 0 {
			if r.at.code == 0 && r.at.is("EOF") {
				return nil
			}
			if err := r.step(); err != nil {
				return err
			}
			continue
		}
		if err := r.step(); err != nil {
			return err
		}
		if err := r.section(); err != nil {
			return err
		}
	}
	return nil
}

func (r *reader) section() error {
	switch {
	case r.at.code != 2:
		return nil
	case r.at.is("HEADER"):
		return r.header()
	case r.at.is("TABLES"):
		return r.tables()
	case r.at.is("BLOCKS"):
		return r.readBlocks()
	case r.at.is("ENTITIES"):
		if err := r.step(); err != nil {
			return err
		}
		return r.readEntities(&r.model, "ENDSEC")
	}
	return nil
}

// header reads the variables that matter.
func (r *reader) header() error {
	variable := ""
	for {
		if err := r.step(); err != nil || !r.ok || r.at.code == 0 {
			return err
		}
		if r.at.code == 9 {
			variable = string(r.at.value)
			continue
		}
		var err error
		switch {
		case variable == "$ACADVER" && r.at.code == 1:
			r.version = r.text(r.at.value)
		case variable == "$DWGCODEPAGE" && r.at.code == 3:
			r.page = r.text(r.at.value)
		case variable == "$INSUNITS" && r.at.code == 70:
			r.unit, err = r.at.whole()
		case variable == "$MEASUREMENT" && r.at.code == 70:
			r.metric = map[bool]string{true: "inch", false: "metric"}[r.at.is("0")]
		}
		if err != nil {
			return err
		}
	}
}

// tables reads the layers.
func (r *reader) tables() error {
	var layer *Layer
	for {
		if err := r.step(); err != nil || !r.ok {
			return err
		}
		if r.at.code == 0 {
			if r.at.is("ENDSEC") {
				return nil
			}
			if layer = nil; r.at.is("LAYER") {
				layer = &Layer{}
			}
			continue
		}
		if layer == nil {
			continue
		}
		switch r.at.code {
		case 2:
			layer.Name = r.text(r.at.value)
			r.layers[same(layer.Name)] = layer
		case 62, 70:
			v, err := r.at.whole()
			if err != nil {
				return err
			}
			layer.Off = layer.Off || r.at.code == 62 && v < 0
			layer.Frozen = layer.Frozen || r.at.code == 70 && v&1 != 0
		}
		if len(r.layers) > MaxLayers {
			return &LimitError{What: "layers", Most: MaxLayers, Line: r.at.line}
		}
	}
}

// readBlocks reads the blocks' own properties and their entities.
func (r *reader) readBlocks() error {
	if err := r.step(); err != nil {
		return err
	}
	for r.ok && !(r.at.code == 0 && r.at.is("ENDSEC")) {
		if r.at.code != 0 || !r.at.is("BLOCK") {
			if err := r.step(); err != nil {
				return err
			}
			continue
		}
		if err := r.readBlock(); err != nil {
			return err
		}
	}
	return nil
}

func (r *reader) readBlock() (err error) {
	b := &block{}
	for {
		if err := r.step(); err != nil || !r.ok {
			return err
		}
		if r.at.code == 0 {
			break
		}
		switch r.at.code {
		case 2:
			b.name = r.text(r.at.value)
		case 10:
			b.base.X, err = r.at.number()
		case 20:
			b.base.Y, err = r.at.number()
		case 70:
			var flags int
			flags, err = r.at.whole()
			b.external = flags&4 != 0
		}
		if err != nil {
			return err
		}
	}
	if err := r.piece(1); err != nil {
		return err
	}
	r.blocks[same(b.name)] = b
	return r.readEntities(&b.file, "ENDBLK")
}

// piece counts what is kept in memory.
func (r *reader) piece(n int) error {
	if r.pieces += n; r.pieces > MaxPieces {
		return &LimitError{What: "entities and corners", Most: MaxPieces, Line: r.at.line}
	}
	return nil
}

// readEntities reads entities up to the word that ends them. r.at is the first.
func (r *reader) readEntities(into *file, end string) error {
	var polyline *entity // whose vertices follow
	for r.ok && !r.at.is(end) && !r.at.is("ENDSEC") {
		e, name, err := r.readEntity()
		if err != nil {
			return err
		}
		switch {
		case name == "VERTEX" && polyline != nil:
			polyline.take(&e)
			err = r.piece(1)
		case name == "SEQEND":
			polyline = nil
		case !understood[name] || name == "VERTEX":
			into.other(name, e.layer, e.paper)
			if len(into.others)+len(into.paper) > MaxLayers {
				err = &LimitError{What: "kinds of entity", Most: MaxLayers, Line: e.line}
			} else if len(into.others)+len(into.paper) == 1 {
				err = r.piece(1)
			}
		default:
			into.entities = append(into.entities, e)
			err = r.piece(1 + len(e.corners))
			if polyline = nil; name == "POLYLINE" {
				polyline = &into.entities[len(into.entities)-1]
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// readEntity reads one entity, and leaves r.at at the next.
func (r *reader) readEntity() (entity, string, error) {
	name := r.text(r.at.value)
	e := newEntity(name, r.at.line)
	read := understood[name]
	inside := 0 // groups of an application's own, in braces (code 102)
	for {
		if err := r.step(); err != nil {
			return e, name, err
		}
		if !r.ok || r.at.code == 0 {
			return e, name, nil
		}
		switch {
		case r.at.code == 102 && len(r.at.value) > 0 && r.at.value[0] == '{':
			inside++
		case r.at.code == 102:
			inside = max(0, inside-1)
		case inside > 0, r.at.code >= 1000: // an application's own data
		case read, r.at.code == 8, r.at.code == 67:
			if err := e.set(r.at, &r.names); err != nil {
				return e, name, err
			}
		}
	}
}

// inMillimetres are the units of $INSUNITS that are lengths for a workpiece, and which of ours is
// nearest.
var inMillimetres = map[int]struct {
	scale float64
	unit  geom.Unit
}{
	1: {geom.MillimetresPerInch, geom.Inch}, 2: {12 * geom.MillimetresPerInch, geom.Inch}, 4: {1, geom.Millimetre},
	5: {10, geom.Millimetre},
	6: {1000, geom.Millimetre}, 8: {geom.MillimetresPerInch * 1e-6, geom.Inch}, 9: {geom.MillimetresPerInch / 1000, geom.Inch},
	10: {36 * geom.MillimetresPerInch, geom.Inch}, 13: {0.001, geom.Millimetre}, 14: {100, geom.Millimetre},
}

// ReadDXF reads a drawing of the open group codes, ASCII, releases R12 to R2018: LINE, ARC, CIRCLE,
// LWPOLYLINE and POLYLINE with bulges, and INSERT, seen from above. Everything else is counted in the
// notes.
//
// It returns a *[FormatError] for what is no such file, a *[SyntaxError] with the line of what cannot be
// read, a *[UnitError] for a drawing that names no unit when opt has none either, a *[LimitError] for one
// beyond the bounds, a *[LayerError] for a layer that is not there, and an *[EmptyError] if nothing was
// left.
//
// Source: the format's public reference (group codes, $INSUNITS, arbitrary axis), from memory; held to
// files of another implementation by TestDrawnFiles.
func ReadDXF(text []byte, opt Options) (Outline, error) {
	if err := startOfText(text); err != nil {
		return Outline{}, err
	}
	if len(text) >= 3 && string(text[:3]) == "\ufeff" {
		text = text[3:]
	}
	r := &reader{tags: tags{rest: text}, blocks: map[string]*block{}, layers: map[string]*Layer{}}
	r.names = names{known: map[string]string{}, told: &r.tally}
	if err := r.read(); err != nil {
		return Outline{}, err
	}
	out := Outline{}
	scale, err := r.scale(opt, &out)
	if err != nil {
		return Outline{}, err
	}
	p := placer{reader: r, scale: scale, wanted: map[string]bool{}}
	if err := p.want(opt.Layers); err != nil {
		return Outline{}, err
	}
	if err := p.all(&r.model, identity(), "", "", 0); err != nil {
		return Outline{}, err
	}
	out.Layers = r.layerList()
	if err := out.assemble(p.drawn, opt, &r.tally); err != nil {
		return Outline{}, err
	}
	out.Notes = r.notes
	return out, out.needSome()
}

// scale is how many millimetres the drawing's unit has.
func (r *reader) scale(opt Options, out *Outline) (float64, error) {
	if u, ok := inMillimetres[r.unit]; ok {
		out.Unit = u.unit
		return u.scale, nil
	}
	if opt.Unit == nil || r.unit != 0 {
		return 0, &UnitError{Code: r.unit, Measurement: r.metric}
	}
	out.Unit = *opt.Unit
	r.tell(Note{Kind: UnitTaken, Text: opt.Unit.String()})
	return opt.Unit.MM(1), nil
}

// layerList sorts the layers by name, and tells of those that are not shown.
func (r *reader) layerList() []Layer {
	var out []Layer
	for _, l := range r.layers {
		out = append(out, *l)
	}
	slices.SortFunc(out, func(a, b Layer) int { return cmp.Compare(a.Name, b.Name) })
	for _, l := range out {
		if l.Off && l.Count > 0 {
			r.tell(Note{Kind: LayerOff, Layer: l.Name, Count: l.Count})
		}
		if l.Frozen && l.Count > 0 {
			r.tell(Note{Kind: LayerFrozen, Layer: l.Name, Count: l.Count})
		}
	}
	return out
}
