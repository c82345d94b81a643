package main

import (
	"errors"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/slide"
)

// addSteps puts the flags on a verb by which arcs that no swing makes are plunged at X/Y places.
func (f *planFlags) addSteps(cmd *cobra.Command) {
	fl := cmd.Flags()
	fl.Var(&f.stepHeight, "step-height", "for arcs beyond the slide's travel: X/Y places to plunge at, between which cusps of at most "+
		"this stay before rounding")
	fl.Var(&f.readout, "readout-step", "what these places are rounded to (default: as --machine says of the slides x and y, else 0.005 mm "+
		"or 0.0002 in)")
	areLengths(cmd, "step-height", "readout-step")
}

// What a readout counts in where nobody has said (common practice, no source).
var usualSteps = map[geom.Unit]float64{geom.Millimetre: 0.005, geom.Inch: 0.0002}

// leastCusp is less than any cusp is seen or felt at, and coarsestReadout more than any readout counts in, millimetres (common
// practice, no source).
const leastCusp, coarsestReadout = 1e-5, 1.0

// steps reads what X/Y places are asked for by: the slides are the machine's, a readout's step the one that it shows, and
// a collar's the tenth of a division that a hand can set.
func (f *planFlags) steps(w world, p *planned, u geom.Unit) error {
	if !f.stepHeight.set {
		if f.readout.set {
			return misuse("--readout-step %v without --step-height: nothing is rounded to it", f.readout.v)
		}
		return nil
	}
	o := &p.Options
	if len(o.Cutters) == 0 {
		return withHint(misuse("--step-height %v without a cutter, need the one that is plunged", f.stepHeight.v), "name it with --cutter")
	}
	o.StepHeight = u.MM(f.stepHeight.v)
	if o.StepHeight < leastCusp {
		return misuse("--step-height %v, need %v %v or more: nobody sees less", f.stepHeight.v, u.From(leastCusp), u)
	}
	if f.readout.set && u.MM(f.readout.v) > coarsestReadout {
		return misuse("--readout-step %v, need at most %v %v", f.readout.v, u.From(coarsestReadout), u)
	}
	for _, d := range o.Cutters {
		if !(o.StepHeight < d/2) {
			return misuse("--step-height %v, need less than the radius of the smallest cutter, %v", f.stepHeight.v, u.From(d/2))
		}
	}
	for k := range o.ReadoutStep {
		o.ReadoutStep[k] = u.MM(usualSteps[u])
	}
	if err := f.stepSlides(w, p); err != nil {
		return err
	}
	if f.readout.set {
		for k := range o.ReadoutStep {
			o.ReadoutStep[k] = u.MM(f.readout.v)
		}
	}
	return nil
}

// stepSlides takes the slides along X and Y of the machine, and what they are set to.
func (f *planFlags) stepSlides(w world, p *planned) error {
	name := w.orMachine(f.machine)
	if name == "" {
		return nil
	}
	m, _, err := readMachine(name)
	if err != nil {
		return err
	}
	for k, name := range [...]string{"x", "y"} {
		s, ok := m.Slide(name)
		if !ok {
			continue
		}
		p.Slides[k] = &s
		p.Options.ReadoutStep[k] = stepOf(s, m.Unit)
	}
	return nil
}

// stepOf is what a slide can be set to, millimetres.
func stepOf(s slide.Slide, u geom.Unit) float64 {
	switch {
	case !s.Readout:
		return s.Finest()
	case s.Step > 0:
		return s.Step
	}
	return u.MM(usualSteps[u])
}

// placesError says in the plan's unit what X/Y places would take, and what to ask for.
func placesError(err error, u geom.Unit) error {
	if bad := (*part.PlacesError)(nil); errors.As(err, &bad) {
		return withHint(errors.New(bad.Text(u)), "--step-height %s", bad.Needs(u))
	}
	return err
}

// placesElsewhere says of flags that a verb knows not which verbs do.
func placesElsewhere(_ *cobra.Command, err error) error {
	told := &useError{toldOnce(err)}
	if bad := (*pflag.NotExistError)(nil); errors.As(err, &bad) {
		if name := bad.GetSpecifiedName(); name == "step-height" || name == "readout-step" {
			return withHint(told, "X/Y places are no setting: plan and sheet list them, with --%s", name)
		}
	}
	return told
}
