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
	// RadiusLimit bounds the error of a swing radius that is set by scale or collar for a trial cut, ±; 0 where the job does not
	// say, and DefaultRadiusLimit is taken.
	RadiusLimit float64 `json:"radius_limit,omitempty"`
	// Depth is from the top of the stock to the floor of this cut, and Step as deep as one pass may go; 0 where nobody says, and both
	// or none are. Spring asks for a pass at the full depth, without winding anything, for what the cutter has sprung away.
	Depth  float64 `json:"depth,omitempty"`
	Step   float64 `json:"step,omitempty"`
	Spring bool    `json:"spring,omitempty"`
	// Entry is where the cutter may go down to a pass.
	Entry WayIn `json:"entry,omitempty"`
}

// What is taken of a measured arc, of a cutter and of a radius set by scale where the job does not say, millimetres: a radius by
// pins or by chord and sagitta with a hundredth on the scale, a cutter that has been ground or runs out a little, and a scale
// with millimetres (common practice, no source).
const (
	DefaultMeasuredError = 0.01
	DefaultCutterLimit   = 0.03
	DefaultRadiusLimit   = 1.0 // set by a scale
)

// Left is how much the swing radius differs while stock is left on: + for a boss, − for a hollow.
func (c *Cut) Left() float64 {
	return c.Waste() * c.Stock
}

// Scale bounds how far a swing radius that is set by scale for a trial cut may be off, ±, and whether that is the usual limit, for
// nobody has stated one.
func (c *Cut) Scale() (limit float64, usual bool) {
	if c.RadiusLimit > 0 {
		return c.RadiusLimit, false
	}
	return DefaultRadiusLimit, true
}

// Waste is the way in which the swing radius lies off its target while there is metal left to take off: + for a boss, − for a
// hollow.
func (c *Cut) Waste() float64 {
	if c.Hollow {
		return -1
	}
	return 1
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
