package setup

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
