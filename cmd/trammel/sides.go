package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/geom/plan"
	"example.org/trammel/indicator/job"
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
	text, err := os.ReadFile(path)
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
		return turnedSides{}, withHint(fmt.Errorf("%s: the sides turned on the plan's screen cannot be read: %w", path, err), "delete that file, and turn them again")
	}
	return t, nil
}

// metalWords are the words for where the metal of a closed element is.
var metalWords = map[string]plan.Side{plan.Inside.String(): plan.Inside, plan.Outside.String(): plan.Outside}

// metalFlags reads --metal LAYER=inside|outside, and refuses a layer that the drawing has not, or has nothing
// closed on.
func (f *planFlags) metalFlags(out *drawing.Outline) (job.Statement, error) {
	said := map[string]plan.Said{}
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
		if !slices.ContainsFunc(out.Loops, func(p drawing.Path) bool { return drawing.SameName(p.From[0].Layer, layer) }) {
			return nil, withHint(fmt.Errorf("--metal %s: nothing on that layer is closed", s), "--side says where the metal is of open elements")
		}
		named, said[layer] = append(named, layer), plan.Said{Side: side, By: "--metal " + s}
	}
	return func(from drawing.Source, _ geom.Element) []plan.Said {
		for _, layer := range named {
			if drawing.SameName(layer, from.Layer) {
				return []plan.Said{said[layer]}
			}
		}
		return nil
	}, nil
}

// atPlace is how near a kept place has to be to an element's middle, millimetres.
const atPlace = 1e-6

// byTurning is what was turned on the plan's screen.
func (t *turnedSides) byTurning(_ drawing.Source, e geom.Element) []plan.Said {
	for _, s := range t.Sides {
		if e.At(0.5).Sub(s.At).Norm() <= atPlace {
			return []plan.Said{{Side: metalWords[s.Side], By: "the plan's screen said " + s.Side}}
		}
	}
	return nil
}

// unlessSaid lets others speak only of what neither the drawing nor a flag has stated.
func unlessSaid(first, then job.Statement) job.Statement {
	return func(from drawing.Source, e geom.Element) []plan.Said {
		if said := first(from, e); len(said) > 0 || from.Metal != drawing.Unsaid || from.Slot {
			return said
		}
		return then(from, e)
	}
}

// turnSide turns the side of the closed element that arc or straight n belongs to, keeps that, and plans anew. why
// says why it cannot be turned.
func (p *planned) turnSide(w world, c *common, f *planFlags, n int) (next *planned, why string, err error) {
	loop, side := p.loopOf(n)
	switch {
	case loop == nil:
		return nil, "an open element: --side says where its metal is", nil
	case loop.From[0].Metal != drawing.Unsaid:
		return nil, fmt.Sprintf("the drawing says it, on line %d: change it there", loop.From[0].Line), nil
	case loop.From[0].Slot:
		return nil, "a slot's metal is outside", nil
	case len(p.byFlag(loop.From[0], loop.Chain[0])) > 0:
		return nil, p.byFlag(loop.From[0], loop.Chain[0])[0].By + " says it: leave that out to turn it here", nil
	case p.name == "-":
		return nil, "the drawing came from standard input: say it with --metal", nil
	}
	turned := plan.Inside
	if side == plan.Inside {
		turned = plan.Outside
	}
	t := turnedSides{Drawing: filepath.Base(p.name)}
	for _, s := range p.turned.Sides {
		if s.At.Sub(loop.Chain[0].At(0.5)).Norm() > atPlace {
			t.Sides = append(t.Sides, s)
		}
	}
	t.Sides = append(t.Sides, turnedSide{loop.Chain[0].At(0.5), turned.String()})
	path, err := sidesFile(w, p.sum)
	if err != nil {
		return nil, "", err
	}
	text, err := json.MarshalIndent(t, "", " ")
	if err != nil {
		return nil, "", err
	}
	if err := replaceFile(path, append(text, '\n')); err != nil {
		return nil, "", err
	}
	next, err = planText(w, c, f, p.name, p.text)
	return next, "", err
}

// loopOf is the closed path that element n of the plan lies on, nil where it is on none, and where its metal is taken
// to be: of the whole path, not of the element, which may be a slot's inner wall.
func (p *planned) loopOf(n int) (*drawing.Path, plan.Side) {
	e := p.line.Outlined(n)
	if e == nil {
		return nil, plan.On
	}
	u := p.line.Unit
	middle := e.At(0.5)
	place := geom.Point{X: u.MM(middle.X), Y: u.MM(middle.Y)}
	for i := range p.outline.Loops {
		loop := &p.outline.Loops[i]
		for _, q := range loop.Chain {
			if d, _ := q.Distance(place); d <= atPlace {
				return loop, p.Part.MetalOf(n)
			}
		}
	}
	return nil, plan.On
}

// notes tell what was turned on the screen and counts.
func (t *turnedSides) notes(u geom.Unit) (out []string) {
	for _, s := range t.Sides {
		out = append(out, fmt.Sprintf("the closed element through %s, %s %v: metal %s, as was turned on the plan's screen",
			geom.FormatFixed(u.From(s.At.X), 3), geom.FormatFixed(u.From(s.At.Y), 3), u, s.Side))
	}
	return out
}
