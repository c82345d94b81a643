package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/part"
)

// turnedSide is where the metal is of a closed element, as it was turned on the plan's screen. At is the middle of
// one of its pieces, millimetres, by which it is known again.
type turnedSide struct {
	At   geom.Point `json:"at"`
	Side string     `json:"side"`
}

// turnedSides are all that were turned of one drawing. The file's name is the drawing's digest, so a drawing that
// has changed is asked anew.
type turnedSides struct {
	Drawing string       `json:"drawing"`
	Sides   []turnedSide `json:"sides"`
}

// sidesFile is where a drawing's turned sides are kept.
func sidesFile(w world, sum string) (string, error) {
	folder, err := dataFolder(w)
	return filepath.Join(folder, "sides-"+sum+".json"), err
}

// readSides returns the turned sides of a drawing; none where none was turned.
func readSides(w world, sum string) (t turnedSides, err error) {
	path, err := sidesFile(w, sum)
	if err != nil {
		return t, nil // no folder, so nothing has been kept in it
	}
	text, err := readKept(path)
	if errors.Is(err, fs.ErrNotExist) {
		return t, nil
	}
	if err == nil {
		err = json.Unmarshal(text, &t)
	}
	for _, s := range t.Sides {
		if _, ok := metalWords[s.Side]; !ok && err == nil {
			err = fmt.Errorf("side %q, need inside or outside", s.Side)
		}
	}
	if err != nil {
		return turnedSides{}, withHint(fmt.Errorf("%s: the sides turned on the plan's screen cannot be read: %w", path, err),
			"delete that file, and turn them again")
	}
	return t, nil
}

// metalWords are the words for where the metal of a closed element is.
var metalWords = map[string]part.Side{part.Inside.String(): part.Inside, part.Outside.String(): part.Outside}

// metalFlags reads --metal LAYER=inside|outside, and refuses a layer that the drawing has not, or has nothing
// closed on.
func (f *planFlags) metalFlags(out *drawing.Outline) (part.Statement, error) {
	said := map[string]part.Said{}
	var named []string // by layer, as typed
	for _, s := range f.metal {
		at := strings.LastIndex(s, "=")
		side, ok := metalWords[s[at+1:]]
		if at < 1 || !ok {
			return nil, misuse("--metal %q, need a layer and a side like boss=inside or bore=outside", s)
		}
		layer := s[:at]
		if !slices.ContainsFunc(out.Layers, func(l drawing.Layer) bool { return drawing.SameName(l.Name, layer) }) {
			e := &drawing.LayerError{Name: layer}
			for _, l := range out.Layers {
				e.Have = append(e.Have, l.Name)
			}
			return nil, e
		}
		for _, other := range named {
			if drawing.SameName(other, layer) && said[other].Side != side {
				return nil, misuse("%s and --metal %s, need one side of the metal for a layer", said[other].By, s)
			}
		}
		on := func(from drawing.Source) bool { return drawing.SameName(from.Layer, layer) }
		if !slices.ContainsFunc(out.Loops, func(p drawing.Path) bool { return slices.ContainsFunc(p.From, on) }) {
			return nil, withHint(fmt.Errorf("--metal %s: nothing closed is taken from that layer (what is drawn twice is taken once)", s),
				"--side says where the metal is of open elements; trammel plan tells what was taken once")
		}
		named, said[layer] = append(named, layer), part.Said{Side: side, By: "--metal " + s}
	}
	return func(from drawing.Source, _ geom.Element) []part.Said {
		for _, layer := range named {
			if drawing.SameName(layer, from.Layer) {
				return []part.Said{said[layer]}
			}
		}
		return nil
	}, nil
}

// atPlace is how near a kept place has to be to an element's middle, millimetres.
const atPlace = 1e-6

// byTurning is what was turned on the plan's screen.
func (t *turnedSides) byTurning(_ drawing.Source, e geom.Element) []part.Said {
	for _, s := range t.Sides {
		if e.At(0.5).Sub(s.At).Norm() <= atPlace {
			return []part.Said{{Side: metalWords[s.Side], By: "the plan's screen said " + s.Side}}
		}
	}
	return nil
}

// unlessSaid lets others speak only of what neither the drawing nor a flag has stated.
func unlessSaid(first, then part.Statement) part.Statement {
	return func(from drawing.Source, e geom.Element) []part.Said {
		if said := first(from, e); len(said) > 0 || from.Metal != drawing.Unsaid || from.Slot {
			return said
		}
		return then(from, e)
	}
}

// turnSide goes on to the next thing that can be said of the closed element that arc or straight n belongs to: the side
// that nesting does not give it, then the side that it does, then nothing. It keeps that, plans anew, and says what is
// said now; without a plan, why it cannot be said here.
func (p *planned) turnSide(w world, c *common, f *planFlags, n int) (next *planned, words string, err error) {
	loop := p.loopOf(n)
	if why := p.saidElsewhere(loop); why != "" {
		return nil, why, nil
	}
	kept, err := readSides(w, p.drawing.SHA256) // another program may have turned others meanwhile
	if err != nil {
		return nil, "", err
	}
	at := loop.Chain[0].At(0.5)
	t, was := turnedSides{Drawing: filepath.Base(p.name)}, part.On
	for _, s := range kept.Sides {
		if s.At.Sub(at).Norm() > atPlace {
			t.Sides = append(t.Sides, s)
		} else {
			was = metalWords[s.Side]
		}
	}
	bare, err := p.withSides(w, c, f, t)
	if err != nil {
		return nil, "", err
	}
	nests := bare.Part.MetalOf(n)
	say := part.On
	if was == part.On {
		say = other(nests)
	} else if was != nests {
		say = nests
	}
	if say == part.On {
		next = bare
	} else {
		t.Sides = append(t.Sides, turnedSide{at, say.String()})
		if next, err = p.withSides(w, c, f, t); err != nil {
			return nil, "", err
		}
	}
	whole := "its metal"
	if k := len(loop.Chain); k > 1 {
		whole = fmt.Sprintf("the metal of its whole outline (%d elements)", k)
	}
	if say == part.On {
		return next, fmt.Sprintf("%s is %s by nesting again, nobody says it", whole, nests), nil
	}
	return next, fmt.Sprintf("%s is %s: said here, and kept for this drawing", whole, say), nil
}

// other is the other side.
func other(s part.Side) part.Side {
	if s == part.Inside {
		return part.Outside
	}
	return part.Inside
}

// saidElsewhere says why a side cannot be said on the plan's screen; empty where it can.
func (p *planned) saidElsewhere(loop *drawing.Path) string {
	if loop == nil {
		return "an open element: --side says where its metal is"
	}
	from := loop.From[0]
	flag := p.byFlag(from, loop.Chain[0])
	switch {
	case from.Metal != drawing.Unsaid:
		return fmt.Sprintf("the drawing says it, on line %d: change it there", cmp.Or(from.Says, from.Line))
	case from.Slot:
		return "a slot's metal is outside"
	case len(flag) > 0:
		return flag[0].By + " says it: leave that out to turn it here"
	case p.name == "-":
		return "the drawing came from standard input: say it with --metal"
	}
	return ""
}

// withSides keeps what is said on the screen, and plans with it.
func (p *planned) withSides(w world, c *common, f *planFlags, t turnedSides) (*planned, error) {
	path, err := sidesFile(w, p.drawing.SHA256)
	if err != nil {
		return nil, err
	}
	text, err := json.MarshalIndent(t, "", " ")
	if err != nil {
		return nil, err
	}
	if err := replaceFile(path, append(text, '\n')); err != nil {
		return nil, err
	}
	return planText(w, c, f, p.name, p.text)
}

// loopOf is the closed path that element n of the plan lies on, nil where it is on none.
func (p *planned) loopOf(n int) *drawing.Path {
	e := p.line.Outlined(n)
	if e == nil {
		return nil
	}
	u := p.line.Unit
	middle := e.At(0.5)
	place := geom.Point{X: u.MM(middle.X), Y: u.MM(middle.Y)}
	for i := range p.outline.Loops {
		loop := &p.outline.Loops[i]
		for _, q := range loop.Chain {
			if d, _ := q.Distance(place); d <= atPlace {
				return loop
			}
		}
	}
	return nil
}

// sideNotes tell what was said on the plan's screen, and where a flag goes before it.
func (p *planned) sideNotes(u geom.Unit) (out []string) {
	for _, s := range p.turned.Sides {
		note := fmt.Sprintf("the closed element through %s, %s %v: metal %s, as was said on the plan's screen",
			geom.FormatFixed(u.From(s.At.X), 3), geom.FormatFixed(u.From(s.At.Y), 3), u, s.Side)
		for _, loop := range p.outline.Loops {
			if loop.Chain[0].At(0.5).Sub(s.At).Norm() > atPlace {
				continue
			}
			if flag := p.byFlag(loop.From[0], loop.Chain[0]); len(flag) > 0 {
				note += "; " + flag[0].By + " goes before it"
			}
		}
		out = append(out, note)
	}
	return out
}

// tellSide says where the metal of an arc is that is to be set, who says so, and what is amiss with it.
func (p *planned) tellSide(w world, n int) {
	a := p.line.Arc(n)
	if a == nil {
		return
	}
	fmt.Fprintf(w.err, "trammel: arc %d: %s\n", n, printable(a.Metal()))
	for _, q := range append(p.line.ProblemsOf(n), p.sideNotes(p.line.Unit)...) {
		fmt.Fprintf(w.err, "trammel: ! %s\n", printable(q))
	}
}
