package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// planFlags are what a plan is asked for; lengths in the output's unit, angles in degrees.
type planFlags struct {
	layers               []string
	cutters              []string
	points               string
	closed               bool
	repeatability, table number
	gap                  number
	datum, travel, order string
	side, chords         string
	metal                []string
	letPass, end         number
	machine              string      // whose ring is shown; empty for none
	parts                int         // whose ways are counted; 0 for none
	partsSaid            func() bool // a number of parts is given; nil without flags
	stepHeight, readout  number      // of X/Y places
	leftHand             bool
	deep                 depthFlags
	// typed is the unit of lengths where none is asked for; nil: the drawing's own.
	typed *geom.Unit
}

// unit is the unit of the flags and of the output.
func (f *planFlags) unit(c *common, drawn geom.Unit) geom.Unit {
	if f.typed != nil {
		drawn = *f.typed
	}
	return c.unit.or(drawn)
}

func newPlanFlags() planFlags {
	return planFlags{repeatability: positive(), table: anyNumber(), gap: inLength(notNegative()),
		letPass: inLength(positive()), end: inLength(positive()), deep: newDepthFlags(),
		stepHeight: inLength(positive()), readout: inLength(positive())}
}

// add puts the flags of a plan on a verb.
func (f *planFlags) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	fl.StringArrayVar(&f.layers, "layer", nil, "cut this layer only (may be given again); the others still count for what lies in what")
	fl.StringArrayVar(&f.cutters, "cutter", nil, "diameter of a cutter at hand (may be given again)")
	fl.StringVar(&f.datum, "datum", "", "X,Y of the drawing where the readout stands at zero (default 0,0)")
	fl.StringArrayVar(&f.metal, "metal", nil, "where the metal is of a layer's closed elements: boss=inside, bore=outside (may be given "+
		"again; default: by nesting)")
	fl.StringVar(&f.side, "side", "", "where the metal is on open elements: inside, outside or on (default on)")
	fl.Var(&f.letPass, "let-pass", "how deep the cutter may gouge past an end, and how high what it leaves before it may stand (default "+
		"0.002 mm; for a job half its tolerance)")
	fl.Var(&f.end, "end-tolerance", "how near the stop has to be to an end that is no tangent (default 0.1 mm)")
	fl.Var(&f.gap, "gap", "join ends that miss each other by up to this (default 0.01 mm)")
	fl.StringVar(&f.chords, "chords", "", "take many short chords for an arc when every corner lies this near to it, or off "+
		"(default 0.005 mm)")
	fl.Var(&f.table, "table", "a rotary table: bearing of the cutter from its axis, degrees")
	fl.StringVar(&f.travel, "travel", "", "LOW,HIGH swing radius that the offset slide can set")
	fl.BoolVar(&f.leftHand, "left-hand", false, "the cutter turns anticlockwise seen from above")
	fl.StringVar(&f.order, "order", "", "cut in this order: 3,1,2")
	fl.StringVar(&f.points, "points", "", "touched points in place of a drawing: lines of x and y, a blank line between elements "+
		"(- for input)")
	fl.BoolVar(&f.closed, "closed", false, "the touched outline is closed")
	f.deep.add(cmd)
	fl.IntVar(&f.parts, "parts", 0, "so many parts: count what they take, part by part or setting by setting")
	f.partsSaid = func() bool { return fl.Changed("parts") }
	areLengths(cmd, "let-pass", "end-tolerance", "gap", "step")
	cmd.Annotations[unitOfFile] = "yes"
	fl.Var(&f.repeatability, "repeatability", "standard deviation of one touch, for points that are not grouped")
}

func newPlan(w world, c *common) *cobra.Command {
	f := newPlanFlags()
	cmd := &cobra.Command{
		Use:   "plan DRAWING | plan --points FILE",
		Short: "from a drawing: swing radii, sides, starts and stops, and an order",
		Long: `plan reads a drawing (DXF in ASCII, or an outline in TOML; - for input) and says of
each arc its swing radius for the cutters at hand, where the metal is, where the readout
stands with the axis on its centre; where to start, which way to swing so that it cuts
conventionally, and where to stop; and how near to an end the stop has to be. It says how
few settings do them all, and in which order. What could not be read, does not meet or
would be gouged is told.

Where the metal of a closed element is, the drawing or --metal says; what nobody says
goes by turns from the rim inwards, and is told where a boss and a hole look alike.

Arcs and straights are numbered in one sequence. Angles are degrees, anticlockwise
from +X, seen from above.`,
		Args: oneDrawing(&f),
		RunE: func(_ *cobra.Command, args []string) error { return planVerb(w, c, &f, args) },
	}
	f.add(cmd)
	f.addMachine(cmd)
	return cmd
}

// addMachine puts the flag of a machine's ring on a verb that has no other use for a machine.
func (f *planFlags) addMachine(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.machine, "machine", "", "machine, by its name or its file: what the head's or the table's ring shows")
	f.addSteps(cmd)
}

// ring is the ring of the machine's head, or of its table with the handwheel; nil without a machine file.
func (f *planFlags) ring(w world, rotary bool) (*setup.Ring, setup.Handwheel, error) {
	machine := w.orMachine(f.machine)
	if machine == "" {
		return nil, setup.Handwheel{}, nil
	}
	m, _, err := readMachine(machine)
	if err != nil {
		return nil, setup.Handwheel{}, err
	}
	if rotary {
		return &m.Table, m.Handwheel, nil
	}
	return &m.Head, setup.Handwheel{}, nil
}

// offset is the machine's offset slide where nobody has said which swing radii it can set; nil without one.
func (f *planFlags) offset(w world) (*slide.Slide, error) {
	machine := w.orMachine(f.machine)
	if machine == "" || f.travel != "" {
		return nil, nil
	}
	m, _, err := readMachine(machine)
	if err != nil {
		return nil, err
	}
	if s, ok := m.Slide("offset"); ok {
		return &s, nil
	}
	return nil, nil
}

// oneDrawing refuses anything but one drawing, or none with touched points.
func oneDrawing(f *planFlags) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		want := 1
		if f.points != "" {
			want = 0
		}
		if len(args) != want {
			return withHint(misuse("%s takes one drawing or --points, seen %d and %q", cmd.Name(), len(args), f.points),
				"name a file that ends in .dxf or .toml")
		}
		return nil
	}
}

func planVerb(w world, c *common, f *planFlags, args []string) error {
	p, err := readPlan(w, c, f, args)
	if err != nil {
		return err
	}
	return say(w, c, p.line)
}

// planned is a plan, and what it says in the output's unit.
type planned struct {
	record.Planned
	line    record.Plan
	name    string // of the file
	text    []byte // and what it holds
	drawing record.Drawn

	kept    *part.Plate // as a journal keeps it; nil where the drawing itself was planned
	outline drawing.Outline
	byFlag  part.Statement // what --metal says
	turned  turnedSides    // and what was turned on the plan's screen
}

// file is what an opening says of the drawing's file.
func (p *planned) file() session.File { return session.File{Name: p.name, SHA256: p.drawing.SHA256} }

// plate is the whole part as it is worked off.
func (p *planned) plate() *part.Plate {
	if p.kept != nil {
		return p.kept
	}
	return part.NewPlate(p.Part, p.Name)
}

// readPlan reads a drawing, or touched points, and plans it.
func readPlan(w world, c *common, f *planFlags, args []string) (*planned, error) {
	name := f.points
	if len(args) > 0 {
		name = args[0]
	}
	var err error
	if f.machine, err = machineFile(w, f.machine); err != nil {
		return nil, err
	}
	in, label, err := openInput(w, name)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	text, err := io.ReadAll(io.LimitReader(in, drawing.MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", label, err)
	}
	p, err := planText(w, c, f, name, text)
	if err == nil {
		return p, nil
	}
	err = drawingError(label, err)
	if wrong := (*drawing.TextError)(nil); errors.As(err, &wrong) { // the machine has not been read yet
		_, _, machine := f.ring(w, false)
		err = together(err, machine)
	}
	return nil, err
}

// usualStations are those of a sweep where no job says another number, and mostParts bounds what is counted.
const (
	usualStations = 6
	mostParts     = 1_000_000
)

// planText plans what a file holds.
func planText(w world, c *common, f *planFlags, name string, text []byte) (*planned, error) {
	p := &planned{name: name, text: text, drawing: record.Drawn{SHA256: digest(name, text).SHA256}}
	p.Name = "part"
	if name != "-" {
		p.Name = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	}
	var err error
	if p.outline, err = f.outline(c, name, text); err != nil {
		return nil, err
	}
	out := &p.outline
	u := f.unit(c, out.Unit)
	if p.Options, err = f.options(w, u); err != nil {
		return nil, err
	}
	if f.side != "" && !slices.ContainsFunc(out.Open, func(p drawing.Path) bool { return !p.From[0].Aside }) {
		return nil, withHint(misuse("--side %s, but every element is closed", f.side),
			"--metal LAYER=inside or outside says where the metal of closed elements is")
	}
	if p.Ring, p.Handwheel, err = f.ring(w, p.Options.Rotary); err != nil {
		return nil, err
	}
	if p.Offset, err = f.offset(w); err != nil {
		return nil, err
	}
	if err = f.steps(w, p, u); err != nil {
		return nil, err
	}
	p.Told = out.Notes
	var depths []string
	if p.Options.Depths, depths, err = f.deep.read(out, u); err != nil {
		return nil, err
	}
	for _, path := range slices.Concat(out.Loops, out.Open) {
		p.drawing.Runs = append(p.drawing.Runs, path.Chain)
	}
	if p.byFlag, err = f.metalFlags(out); err != nil {
		return nil, err
	}
	if p.turned, err = readSides(w, p.drawing.SHA256); err != nil {
		return nil, err
	}
	if p.Part, err = part.Make(part.Drawn(out, unlessSaid(p.byFlag, p.turned.byTurning)), p.Options); err != nil {
		return nil, placesError(err, u)
	}
	if f.order != "" {
		if p.Part, err = f.reordered(p.Part); err != nil {
			return nil, err
		}
	}
	p.line = record.NewPlan(p.Planned, u)
	p.line.Notes = append(append(p.line.Notes, depths...), p.sideNotes(u)...)
	if f.parts > 0 {
		p.line.Ways = record.NewWays(p.plate(), f.parts, usualStations)
	}
	return p, nil
}

var sides = map[string]part.Side{"on": part.On, "inside": part.Inside, "outside": part.Outside}

// options reads the flags that the plan itself is made by.
func (f *planFlags) options(w world, u geom.Unit) (o part.Options, err error) {
	side, ok := sides[f.side]
	if !ok && f.side != "" {
		return o, misuse("--side %q, need inside, outside or on", f.side)
	}
	o = part.Options{OpenSide: side, LeftHand: f.leftHand, Rotary: f.table.set, CutterBearing: geom.FromDegrees(f.table.v)}
	for _, s := range f.cutters {
		v, err := geom.ParseLength(s, u)
		if err != nil || !(v > 0) {
			return o, notLength("cutter", s, "a diameter above 0", err)
		}
		o.Cutters = append(o.Cutters, u.MM(v))
	}
	if text, ok := w.settings.text("cutters"); ok && len(f.cutters) == 0 {
		all, own := lengthsOf(text)
		for _, d := range all {
			o.Cutters = append(o.Cutters, own.MM(d))
		}
	}
	if f.parts > mostParts || f.parts < 1 && f.partsSaid != nil && f.partsSaid() {
		return o, misuse("--parts %d, need 1 to %d", f.parts, mostParts)
	}
	if f.letPass.set {
		o.Limits.Gouge = u.MM(f.letPass.v)
		for _, d := range o.Cutters {
			if !(o.Limits.Gouge < d/2) {
				return o, misuse("--let-pass %v, need less than the radius of the smallest cutter, %v", f.letPass.v, u.From(d/2))
			}
		}
	}
	if f.end.set {
		o.Limits.End = u.MM(f.end.v)
	}
	if f.datum != "" {
		x, y, err := twoLengths("datum", f.datum, u)
		if err != nil {
			return o, err
		}
		o.Datum = geom.Point{X: u.MM(x), Y: u.MM(y)}
	}
	if f.travel != "" {
		low, high, err := twoLengths("travel", f.travel, u)
		if err != nil {
			return o, err
		}
		if o.SwingMin, o.SwingMax = u.MM(low), u.MM(high); !(low >= 0) || !(high > low) {
			return o, misuse("--travel %s, need two swing radii, the least first", f.travel)
		}
	}
	return o, nil
}

// twoLengths reads, in unit u, "16,-12", or "16,5;-12" where the decimal mark is a comma.
func twoLengths(flag, s string, u geom.Unit) (a, b float64, err error) {
	sep := ","
	if strings.Contains(s, ";") {
		sep = ";"
	}
	v := [2]float64{math.NaN(), math.NaN()}
	parts := strings.Split(s, sep)
	for i := range v {
		if len(parts) == 2 {
			v[i], err = geom.ParseLength(parts[i], u)
		}
		if err != nil || len(parts) != 2 {
			return 0, 0, notLength(flag, s, "two numbers like 16,-12 or 16,5;-12", err)
		}
	}
	return v[0], v[1], nil
}

// reordered puts the elements into the order that was asked for.
func (f *planFlags) reordered(p *part.Plan) (*part.Plan, error) {
	var order []int
	for s := range strings.SplitSeq(f.order, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(s))
		if err != nil {
			return nil, misuse("--order %q, need numbers like 3,1,2", f.order)
		}
		order = append(order, n)
	}
	q, err := p.Reordered(order)
	if err != nil {
		return nil, withHint(err, "--order names every arc and straight of the plan once")
	}
	return q, nil
}
