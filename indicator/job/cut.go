package job

import (
	"math"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

type rawCut struct {
	Metal  *string  `toml:"metal"`
	Cutter *float64 `toml:"cutter"`
	Stock  *float64 `toml:"stock"`

	MeasuredError *float64 `toml:"measured_error"`
	CutterError   *float64 `toml:"cutter_error"`
	RadiusError   *float64 `toml:"radius_error"`

	rawDepth
}

// cut reads how the arc is cut; nil where the file does not say.
func (f *file) cut(r *rawCut, j *setup.Job) {
	if r == nil {
		return
	}
	c := setup.Cut{
		Cutter: length(j.Unit, f.need("cut.cutter", r.Cutter, positive, "its diameter, above 0")),
		Stock:  length(j.Unit, f.number("cut.stock", r.Stock, 0, notNegative, "0 or above")),

		MeasuredError: length(j.Unit, f.number("cut.measured_error", r.MeasuredError, 0, positive,
			"above 0; leave it out where it is not known")),
		CutterLimit: f.limit(j, indicator.OfCutter, "cut.cutter_error", r.CutterError),
		RadiusLimit: length(j.Unit, f.number("cut.radius_error", r.RadiusError, 0, positive,
			"above 0: how far a swing radius set by scale may be off; leave it out where it is not known")),
	}
	f.depth(&r.rawDepth, j, &c)
	switch {
	case r.Metal == nil:
		f.fail("cut.metal", "inside for a boss or a rim, outside for a hollow", "missing, need inside or outside")
		return
	case *r.Metal == "inside":
	case *r.Metal == "outside":
		c.Hollow = true
	default:
		f.fail("cut.metal", "inside for a boss or a rim, outside for a hollow", "%q, need inside or outside", *r.Metal)
		return
	}
	j.Cut = &c
	switch arc := j.Arc(); {
	case !j.Target.WantsSwing(): // only what the cutter is
	case !f.fine("cut.cutter", "cut.stock"):
	case !(arc > 0):
		f.fail("cut.cutter", "", "a cutter of %v %v leaves no arc at a swing radius of %v %v", show(j, c.Cutter), j.Unit,
			show(j, j.Target.SwingRadius), j.Unit)
	case c.Hollow && c.Stock >= j.Target.SwingRadius:
		f.fail("cut.stock", "", "%v %v, need less than the swing radius", show(j, c.Stock), j.Unit)
	case j.Target.Trial && f.fine("cut.radius_error"):
		f.leaves(j, &c)
	}
}

// leaves checks that the trial cut of a hollow has a swing radius to be made at.
func (f *file) leaves(j *setup.Job, c *setup.Cut) {
	scale, _ := c.Scale()
	if at := j.Target.SwingRadius - c.Stock - scale; c.Hollow && at <= 0 {
		f.fail("cut.radius_error", "set the radius better than that, and state it", "the trial cut would be made at a swing radius of "+
			"%v %v: %v less the stock of %v and the %v that a radius set by scale may be off, need above 0", show(j, at), j.Unit,
			show(j, j.Target.SwingRadius), show(j, c.Stock), show(j, scale))
	}
}

// cutters checks the diameters at hand, of which a plan chooses.
func (f *file) cutters(at []float64) {
	for _, d := range at {
		if !(d > 0) || math.IsInf(d, 0) {
			f.fail("cutters", "the diameters at hand, like [6, 8, 10]", "%v, need diameters above 0", d)
		}
	}
}
