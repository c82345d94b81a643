package job

import "math"

// Cut says how the arc is cut once its radius is set. Lengths are millimetres.
type Cut struct {
	// Hollow says that the metal lies outside the arc; otherwise inside, as of a boss or a rim.
	Hollow bool `json:"hollow,omitempty"`
	// Cutter is its diameter, Stock what the first cut leaves on; 0 where it is cut at once.
	Cutter float64 `json:"cutter"`
	Stock  float64 `json:"stock,omitempty"`
	// MeasuredError is the standard uncertainty of a measured arc's radius, and CutterLimit bounds the error of
	// Cutter, ±; 0 where the job does not say, and DefaultMeasuredError and DefaultCutterLimit are taken.
	MeasuredError float64 `json:"measured_error,omitempty"`
	CutterLimit   float64 `json:"cutter_limit,omitempty"`
}

// What is taken of a measured arc and of a cutter where the job does not say, millimetres: a radius by pins or
// by chord and sagitta with a hundredth on the scale, and a cutter that has been ground or runs out a little
// (common practice, no source).
const (
	DefaultMeasuredError = 0.01
	DefaultCutterLimit   = 0.03
)

// Left is how much the swing radius differs while stock is left on: + for a boss, − for a hollow.
func (c *Cut) Left() float64 {
	if c.Hollow {
		return -c.Stock
	}
	return c.Stock
}

// Arc is the radius of the finished arc, 0 where the job does not say how it is cut, or sets no radius.
func (j *Job) Arc() float64 {
	switch c := j.Cut; {
	case c == nil || !j.Target.WantsSwing():
		return 0
	case c.Hollow:
		return j.Target.SwingRadius + c.Cutter/2
	default:
		return j.Target.SwingRadius - c.Cutter/2
	}
}

type rawCut struct {
	Metal  *string  `toml:"metal"`
	Cutter *float64 `toml:"cutter"`
	Stock  *float64 `toml:"stock"`

	MeasuredError *float64 `toml:"measured_error"`
	CutterError   *float64 `toml:"cutter_error"`
}

// cut reads how the arc is cut; nil where the file does not say.
func (f *file) cut(r *rawCut, j *Job) {
	if r == nil {
		return
	}
	c := Cut{
		Cutter: length(j.Unit, f.need("cut.cutter", r.Cutter, positive, "its diameter, above 0")),
		Stock:  length(j.Unit, f.number("cut.stock", r.Stock, 0, notNegative, "0 or above")),

		MeasuredError: length(j.Unit, f.number("cut.measured_error", r.MeasuredError, 0, positive, "above 0; leave it out where it is not known")),
		CutterLimit:   length(j.Unit, f.number("cut.cutter_error", r.CutterError, 0, positive, "above 0; leave it out where it is not known")),
	}
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
	case !(arc > 0):
		f.fail("cut.cutter", "", "a cutter of %v %v leaves no arc at a swing radius of %v %v", show(j, c.Cutter), j.Unit, show(j, j.Target.SwingRadius), j.Unit)
	case c.Hollow && c.Stock >= j.Target.SwingRadius:
		f.fail("cut.stock", "", "%v %v, need less than the swing radius", show(j, c.Stock), j.Unit)
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
