package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// depthFlags say how deep the elements of a drawing are cut, and in which steps.
type depthFlags struct {
	depths []string // LAYER=D, or D
	step   number
	spring bool
	cut    *setup.Cut // what the job file says of all its arcs; nil: nothing
}

func newDepthFlags() depthFlags { return depthFlags{step: inLength(positive())} }

func (f *depthFlags) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	fl.StringArrayVar(&f.depths, "depth", nil, "how deep a layer's elements are cut, from the top of the stock to the floor: boss=4, or "+
		"10 for every element of which no layer's is said (may be given again)")
	fl.Var(&f.step, "step", "how deep one pass may go")
	fl.BoolVar(&f.spring, "spring", false, "a pass more at the full depth, nothing wound, for what the cutter has sprung away")
}

// given is the first of the flags that is given, for a message; empty where none is.
func (f *depthFlags) given() string {
	switch {
	case len(f.depths) > 0:
		return "--depth " + f.depths[0]
	case f.step.set:
		return fmt.Sprintf("--step %v", f.step.v)
	case f.spring:
		return "--spring"
	}
	return ""
}

// read is what the flags, the drawing and the job say, in that order, of depths and steps; told is what goes before what.
func (f *depthFlags) read(out *drawing.Outline, u geom.Unit) (d part.Depths, told []string, err error) {
	for _, s := range f.depths {
		if err := f.one(out, u, s, &d); err != nil {
			return d, nil, err
		}
	}
	d.Spring = f.spring || out.Spring
	say := func(mm float64) string { return geom.FormatFixed(u.From(mm), geom.Places(0, u)) + " " + u.String() }
	if out.Step > 0 {
		d.Step = part.SaidDepth{Depth: out.Step, By: fmt.Sprintf("line %d of the drawing says a step of %s", out.StepLine, say(out.Step))}
	}
	if f.step.set {
		if mm := u.MM(f.step.v); out.Step > 0 && mm != out.Step {
			told = append(told, fmt.Sprintf("--step %v goes before the step of %s that line %d of the drawing says", f.step.v, say(out.Step),
				out.StepLine))
		}
		d.Step = part.SaidDepth{Depth: u.MM(f.step.v), By: fmt.Sprintf("--step %v", f.step.v)}
	}
	if c := f.cut; c != nil && d.Step.Depth == 0 && (len(f.depths) > 0 || saysDepth(out)) {
		d.Step, d.Spring = part.SaidDepth{Depth: c.Step, By: "the job file says a step of " + say(c.Step)}, d.Spring || c.Spring
	}
	return d, told, nil
}

// saysDepth reports whether a drawing says how deep anything is cut.
func saysDepth(out *drawing.Outline) bool {
	return slices.ContainsFunc(slices.Concat(out.Loops, out.Open), func(p drawing.Path) bool {
		return slices.ContainsFunc(p.From, func(s drawing.Source) bool { return s.Depth > 0 })
	})
}

// inDrawing reports whether the drawing or a flag says depths, so that nobody need be asked for one. A drawing that cannot be read is
// told of later.
func (f *dialFlags) inDrawing(c *common) bool {
	if !f.drawn() || len(f.deep.depths) > 0 {
		return f.drawn()
	}
	name := f.drawing + f.points
	text, err := readPlain(name, drawing.MaxBytes)
	if err != nil {
		return false
	}
	out, err := f.outline(c, name, text)
	return err == nil && saysDepth(&out)
}

// withoutDepth is the job of a setting without the depth that the drawing of its arc has given it: another arc has its own.
func withoutDepth(o *session.Opened) *setup.Job {
	j := o.Job
	if j.Cut != nil && o.Arc.Cut() != nil {
		c := *j.Cut
		c.Depth, c.Step, c.Spring, c.Entry = 0, 0, false, setup.WayInUnsaid
		j.Cut = &c
	}
	return &j
}

// one reads one --depth, and refuses a layer that the drawing has not, and one that is said two depths.
func (f *depthFlags) one(out *drawing.Outline, u geom.Unit, s string, d *part.Depths) error {
	at := strings.LastIndex(s, "=")
	v, err := geom.ParseLength(s[at+1:], u)
	if err != nil || !(v > 0) || at == 0 {
		return notLength("depth", s, "a depth above 0, like 10, or of a layer, like boss=4", err)
	}
	if !geom.DepthFits(u.MM(v)) {
		return misuse("--depth %s, need %v to %v %v", s, u.From(geom.LeastDepth), u.From(geom.MostDepth), u)
	}
	said := part.SaidDepth{Depth: u.MM(v), By: "--depth " + s}
	if at < 0 {
		if d.All.Depth > 0 && d.All.Depth != said.Depth {
			return misuse("%s and %s, need one depth for every element", d.All.By, said.By)
		}
		d.All = said
		return nil
	}
	layer := s[:at]
	if !slices.ContainsFunc(out.Layers, func(l drawing.Layer) bool { return drawing.SameName(l.Name, layer) }) {
		e := &drawing.LayerError{Name: layer}
		for _, l := range out.Layers {
			e.Have = append(e.Have, l.Name)
		}
		return e
	}
	if !slices.ContainsFunc(slices.Concat(out.Loops, out.Open), func(p drawing.Path) bool {
		return slices.ContainsFunc(p.From, func(s drawing.Source) bool { return drawing.SameName(s.Layer, layer) })
	}) {
		return withHint(fmt.Errorf("--depth %s: nothing is taken from that layer (what is drawn twice is taken once)", s),
			"trammel plan tells what was taken once")
	}
	for _, l := range d.Layers {
		if drawing.SameName(l.Layer, layer) && l.Depth != said.Depth {
			return misuse("%s and %s, need one depth for a layer", l.By, said.By)
		}
	}
	d.Layers = append(d.Layers, part.LayerDepth{Layer: layer, SaidDepth: said})
	return nil
}

// takeDepth says whose depth an arc is cut to, where the job says one too. An arc that the job cannot hold a cut of, a slot's centre
// line, takes the job's itself.
func (f *dialFlags) takeDepth(w world, c *setup.Cut) {
	a := f.set
	if c == nil {
		return
	}
	say := func(mm float64) string {
		u := f.planned.line.Unit
		return record.DepthFigure(mm, u) + " " + u.String()
	}
	switch {
	case a.Depth == 0:
		fmt.Fprintf(w.err, "trammel: arc %d: the drawing says no depth, the job's %s in steps of %s is taken\n", a.N, say(c.Depth), say(c.Step))
		if a.Figures().Metal == "" {
			a.Depth, a.Step, a.Spring, a.WayIn = c.Depth, c.Step, c.Spring, c.Entry
		}
	case a.Depth != c.Depth || a.Step != c.Step || a.Spring != c.Spring:
		spring := ""
		if a.Spring != c.Spring {
			spring = map[bool]string{true: ", with a spring pass", false: ", without a spring pass"}[a.Spring]
		}
		fmt.Fprintf(w.err, "trammel: arc %d: the drawing's depth of %s in steps of %s%s goes before the job's %s in steps of %s\n", a.N,
			say(a.Depth), say(a.Step), spring, say(c.Depth), say(c.Step))
	}
}
