package job

import (
	"maps"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// Figures are an arc's, put in the place of the file's own: the swing radius for the target, the cutter and the side
// of the metal. Lengths are millimetres. How a drawing's arc comes to them is the outline's trade, and of no matter here.
type Figures struct {
	Swing, Cutter float64
	Metal         string // inside or outside; empty where the cutter leaves metal on no one side, or is not known
	// Centre is the arc's, of the drawing, and Lone says that nothing round is drawn about it.
	Centre geom.Point
	Lone   bool
	// Circles are those that are drawn elsewhere, the nearest first: one of them may be swept in the stead of what is not there.
	Circles []Circle
	// Depth is from the top of the stock to the floor of the arc's cut, 0 where the drawing does not say; Step, Spring and Entry
	// are as a cut's.
	Depth, Step float64
	Spring      bool
	Entry       setup.WayIn
}

// Circle is a whole circle of the drawing, by its number in the plan; millimetres.
type Circle struct {
	N      int
	Centre geom.Point
	Radius float64
}

// into puts the figures in the place of the file's own, with as much stock as the file leaves on. Of nil it does nothing.
func (a *Figures) into(raw *rawJob, u geom.Unit) {
	if a == nil {
		return
	}
	swing, cutter := u.From(a.Swing), u.From(a.Cutter)
	raw.Target.SwingRadius = &swing
	if raw.Target.CentreAt = nil; raw.Setup.ReferenceAt != nil {
		raw.Target.CentreAt = []float64{u.From(a.Centre.X), u.From(a.Centre.Y)}
	}
	stock := raw.Cut
	if raw.Cut = nil; a.Metal != "" {
		raw.Cut = &rawCut{Metal: &a.Metal, Cutter: &cutter}
		if stock != nil {
			raw.Cut.Stock, raw.Cut.MeasuredError, raw.Cut.CutterError = stock.Stock, stock.MeasuredError, stock.CutterError
			raw.Cut.RadiusError, raw.Cut.rawDepth = stock.RadiusError, stock.rawDepth
		}
		a.depth(&raw.Cut.rawDepth, u)
	}
}

// exact puts the figures in again that have gone by way of the file's unit.
func (a *Figures) exact(j *setup.Job) {
	if a == nil {
		return
	}
	j.Target.SwingRadius = a.Swing
	if at := j.About; at != nil {
		if at.Reference == at.Centre {
			at.Reference = a.Centre
		}
		at.Centre = a.Centre
	}
	if j.Cut != nil {
		j.Cut.Cutter = a.Cutter
		if a.Depth > 0 {
			j.Cut.Depth, j.Cut.Step = a.Depth, a.Step
		}
	}
}

// Draft is a job file whose target may still be chosen.
type Draft struct {
	Unit  geom.Unit
	Setup indicator.Setup
	// Cutters are the diameters at hand, millimetres.
	Cutters []float64

	raw  rawJob
	file file
	job  setup.Job
}

// ReadJob reads a job file. name is what messages call it. The error is an *[Error], or [Errors]; with a draft it is of the text
// alone, and what is wrong with its numbers, too, is told by [Draft.For].
func ReadJob(name string, text []byte) (*Draft, error) {
	d := &Draft{}
	f, err := decode(name, text, &d.raw)
	if f == nil {
		return nil, err
	}
	d.file = *f
	d.settle()
	return d, err
}

// settle reads off the file what is asked of it before it is a job.
func (d *Draft) settle() {
	j, _ := d.read(nil)
	d.Unit, d.Setup, d.job, d.Cutters = j.Unit, j.Setup, j, nil
	for _, c := range d.raw.Cutters {
		d.Cutters = append(d.Cutters, length(j.Unit, c))
	}
}

// read makes a job of the file, which may be asked again.
func (d *Draft) read(a *Figures) (setup.Job, error) {
	raw, f := d.raw, d.file
	f.wrong, f.bad = slices.Clip(f.wrong), maps.Clone(f.bad)
	return f.job(&raw, a)
}

// SetUp is the set-up of the file's job.
func (d *Draft) SetUp() *setup.SetUp { return setup.Of(&d.job) }

// Deep is what the file says of how deep its arcs are cut, whatever else of a cut it leaves to them; nil where it says nothing.
func (d *Draft) Deep() *setup.Cut {
	if d.raw.Cut == nil {
		return nil
	}
	f := d.file
	f.wrong, f.bad = slices.Clip(f.wrong), maps.Clone(f.bad)
	var c setup.Cut
	if f.depth(&d.raw.Cut.rawDepth, &d.job, &c); c.Depth == 0 {
		return nil
	}
	return &c
}

// Tolerance is the file's tolerance on the swing radius, millimetres; 0 where it has none that is one.
func (d *Draft) Tolerance() float64 {
	if t := d.raw.Target.Tolerance; t != nil && *t > 0 && !math.IsInf(*t, 0) {
		return length(d.Unit, *t)
	}
	return 0
}

// For is the job for an arc: the file's setup, dial, sweep, tolerances and stock, with the arc's figures, whatever the
// file says of these itself. Of nil it is the job as the file has it.
// The error is an *[Error], or [Errors]: the reach must bring the dial's range to the target.
func (d *Draft) For(a *Figures) (setup.Job, error) {
	j, err := d.read(a)
	if err != nil {
		return setup.Job{}, err
	}
	return j, nil
}
