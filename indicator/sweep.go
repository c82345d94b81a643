package indicator

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// MaxStations is the largest sweep that is fitted without allocating.
const MaxStations = 64

// Setup is the geometry of a sweep. Lengths are millimetres; a radius of 0 is not known.
type Setup struct {
	Kind  Kind  `json:"kind"`
	Touch Touch `json:"touch"`
	// ReferenceRadius ρ is the radius of the round surface that is touched.
	ReferenceRadius float64 `json:"reference_radius"`
	// Reach t is the distance from the swung spindle's axis to the tip when the dial reads
	// zero, along the radius: + away from the head axis, − towards it.
	Reach      float64 `json:"reach"`
	ReachKnown bool    `json:"reach_known"`
	// ReferenceLimit and ReachLimit bound the errors of both, ±; 0 where none is stated ([Estimate.Assumed]), or 0 is.
	ReferenceLimit float64 `json:"reference_limit,omitempty"`
	ReachLimit     float64 `json:"reach_limit,omitempty"`
	// FormLimit bounds the amplitude of whatever lobes the reference has; 0 where nobody has stated it. Form is what sweeps
	// have shown of it.
	FormLimit float64 `json:"form_limit,omitempty"`
	Form      Form    `json:"-"`
	// TiltLimit bounds, ±, how far the reference's axis may lean against the head axis (and the
	// spindle's against either), as a ratio; SweepHeight is how far above the cutter the sweep is
	// taken. Their product is what centre and radius may be out by at the cut.
	TiltLimit   float64 `json:"tilt_limit,omitempty"`
	SweepHeight float64 `json:"sweep_height,omitempty"`
	// HeldRadius is the radius that the sweep would find (the swing radius, or the surface's where the
	// zero radius is given), known from elsewhere to ± HeldLimit; 0 where it is to be found. A sweep of
	// a short arc needs it.
	HeldRadius float64 `json:"held_radius,omitempty"`
	HeldLimit  float64 `json:"held_limit,omitempty"`
	// ZeroRadius z is the distance from the axis to the tip when the dial reads zero, where
	// that is known directly; ZeroLimit bounds its error, ±.
	ZeroRadius float64 `json:"zero_radius"`
	ZeroLimit  float64 `json:"zero_limit,omitempty"`
	// TipDiameter is that of the contact ball; 0 for a point.
	TipDiameter float64 `json:"tip_diameter"`
	// IndicatorBearing is where the indicator stands in setup turned, radians.
	IndicatorBearing geom.Bearing `json:"indicator_bearing"`
	// Taps says that no slides carry the work on the table that is turned: it is tapped into place.
	Taps bool `json:"taps,omitempty"`
}

// Surface returns the bearing at which the reference is met, in the reference's frame, when the
// spindle is swung to bearing t (carried) or the table stands turned counter-clockwise by t
// (turned).
func (s Setup) Surface(t geom.Bearing) geom.Bearing {
	if s.Kind.Turns() {
		return s.IndicatorBearing - t
	}
	return t
}

// Stands returns how far the table stands turned counter-clockwise, or the head is swung, where the
// reference is met at bearing b of its own frame: [Setup.Surface] the other way round, in [0, 2π).
func (s Setup) Stands(b geom.Bearing) geom.Bearing { return s.Surface(b).Normalized() }

// tilted bounds what the lean moves at the height of the cut, millimetres.
func (s Setup) tilted() float64 { return math.Abs(s.TiltLimit * s.SweepHeight) }

// model names what is known and what is sought.
func (s Setup) model() fit.Model {
	ball := -s.Touch.sign() * s.TipDiameter / 2
	hold := s.HeldRadius > 0
	switch {
	case s.ZeroRadius > 0:
		return fit.Model{Sought: fit.SurfaceRadius, Ball: ball, Hold: hold, Held: s.HeldRadius}
	case s.ReferenceRadius > 0:
		return fit.Model{Sought: fit.ZeroDistance, Surface: s.ReferenceRadius, Ball: ball, Hold: hold && s.ReachKnown,
			Held: s.HeldRadius + s.Reach}
	}
	return fit.Model{Sought: fit.MeanReading}
}

// Value is a number and its expanded uncertainty (95 %), both in millimetres. U is NaN where
// the uncertainty cannot be known; both are NaN where the number itself cannot.
type Value struct{ V, U float64 }

// Unknown is a value that cannot be known.
var unknown = Value{math.NaN(), math.NaN()}

// Known reports whether there is a number at all.
func (v Value) Known() bool { return !math.IsNaN(v.V) }

// Sure reports whether its uncertainty is known.
func (v Value) Sure() bool { return !math.IsNaN(v.U) }

// Estimate is what one sweep says.
type Estimate struct {
	Setup Setup
	Dial  Dial
	// Circle is the fit in distances from the axis.
	Circle fit.Radial
	// Sigma is the standard deviation of one reading, in millimetres of reading, and Dof its
	// degrees of freedom; NaN and 0 where three readings leave nothing to judge it by.
	Sigma, Dof float64
	// Change is by how much the readings drifted from the first to the last, where a drift was
	// fitted with the circle; unknown else. Drifts says that it is more than scatter.
	Change Value
	Drifts bool
	// lean is what an error of a held level does to the centre.
	lean geom.Point
	// perAcross is σ_θ over the spread of a distance, per millimetre: what turns e·v into the
	// angle's part of a reading's spread. 0 where stations are weighed alike.
	perAcross float64
	// lobes is what lobes of the reference, from two on, do to the unknowns.
	lobes [lobeKinds]lobeGain
}

// Fit fits the circle to readings (millimetres of dial reading) taken with the reference met at
// the given bearings of its own frame (see [Setup.Surface]). With m a reading, g the dial's gain
// and z the tip's distance from the axis at zero, the surface lies at
//
//	bore:  d = z − g·m        boss:  d = z + g·m
//
// A station's angle is known to Dial.AngleError only; that adds ((e·v)·σ)² to the variance of
// its reading, so stations far across the centre error weigh less. Where no repeatability is stated the
// weights are judged from the same readings, and 95 % are nearer to 93 (TestAngleErrorCoverage). Errors
// are those of [fit.Model.Fit].
func Fit(d Dial, s Setup, bearings []geom.Bearing, readings []float64) (Estimate, error) {
	return FitDrift(d, s, bearings, readings, nil)
}

// FitDrift is [Fit] with a steady drift of the readings as one unknown more. places are the readings'
// places in time, from −½ for the first to ½ for the last; nil fits no drift. What is returned is
// the circle as it stood at the middle of the sweep.
func FitDrift(d Dial, s Setup, bearings []geom.Bearing, readings, places []float64) (Estimate, error) {
	var yBuf, wBuf [MaxStations]float64
	y, room, w := yBuf[:0], wBuf[:0], []float64(nil)
	if n := len(readings); n > MaxStations {
		if y = make([]float64, 0, n); d.AngleError > 0 {
			room = make([]float64, 0, n)
		}
	}
	f := Estimate{Setup: s, Dial: d, Change: unknown}
	k := f.perReading()
	for _, m := range readings {
		y = append(y, s.ZeroRadius+float64(k*m))
	}
	if err := f.solve(bearings, y, nil, places); err != nil {
		return f, err
	}
	if d.AngleError > 0 {
		// The weights need e and the spread, and both change little once found: two rounds.
		for range 2 {
			w = f.weights(bearings, room)
			if w == nil {
				break
			}
			if err := f.solve(bearings, y, w, places); err != nil {
				return f, err
			}
		}
	}
	if f.Circle.Hold {
		f.lean = f.Circle.HeldLean(bearings, w)
	}
	f.findGains(bearings, w, places)
	return f, nil
}

// solve fits the circle, and the drift where places in time are given, and finds the spread.
func (f *Estimate) solve(bearings []geom.Bearing, y, w, places []float64) (err error) {
	p, k := f.Dial.prior(), f.perReading()
	var sigma float64
	if places == nil {
		if f.Circle, err = f.Setup.model().Fit(bearings, y, w); err != nil {
			return err
		}
		sigma, f.Dof, _ = f.Circle.Spread(p)
		f.Sigma = sigma / math.Abs(k)
		return nil
	}
	drift, err := f.Setup.model().FitDrift(bearings, y, w, places)
	if f.Circle = drift.Radial; err != nil {
		return err
	}
	sigma, f.Dof, _ = drift.Spread(p)
	f.Sigma = sigma / math.Abs(k)
	f.Change, f.Drifts = Value{drift.Change / k, math.NaN()}, drift.Drifts(y, p)
	if f.Dof > 0 {
		f.Change.U = fit.Coverage(f.Dof) * f.Sigma * math.Sqrt(drift.Var)
	}
	return nil
}

// Evened returns the readings with the drift taken out of them: what they would have been at the
// middle of the sweep. places are those of [FitDrift].
func (f *Estimate) Evened(readings, places []float64) []float64 {
	out := make([]float64, len(readings))
	for i := range readings {
		out[i] = readings[i] - float64(f.Change.V*places[i])
	}
	return out
}

// perReading is what a millimetre of reading is worth in distance from the axis, with its sign.
func (f *Estimate) perReading() float64 { return f.Setup.Touch.sign() * f.Dial.Gain() }

// distance is a reading in the terms that are fitted: the surface's distance from the axis where the
// zero radius is known, else from the tip's place at zero.
func (f *Estimate) distance(reading float64) float64 {
	return f.Setup.ZeroRadius + float64(f.perReading()*reading)
}

// weights returns σ²/(σ² + ((e·v)·σ_θ)²) for each station, appended to w; nil where no spread of
// a reading is known to compare the angle's part with.
func (f *Estimate) weights(bearings []geom.Bearing, w []float64) []float64 {
	// Rounding alone is no measure of the spread: set against it, the stations across would weigh
	// next to nothing, and the others would seem surer than they are.
	p := f.Dial.prior()
	base := p.Sigma
	if base == 0 {
		var ok bool
		if base, _, ok = f.Circle.Spread(p); !ok {
			base = p.Floor
		}
	}
	if !(base > 0) {
		return nil
	}
	f.perAcross = f.Dial.AngleError / base
	for _, b := range bearings {
		w = append(w, 1/f.growth(b))
	}
	return w
}

// growth is the variance of a reading at a bearing, its angle's part included, over that of a
// reading whose angle does not matter.
func (f *Estimate) growth(b geom.Bearing) float64 {
	a := f.Circle.Across(b) * f.perAcross
	return 1 + float64(a*a)
}

// spread is the standard deviation of one distance, NaN where it is not known.
func (f *Estimate) spread() float64 { return f.Sigma * f.Dial.scale() }

// centre returns the covariance of the unknowns as far as the centre is concerned, mm², and its
// degrees of freedom: the readings' part, what the tilt may do between sweep and cut, what the
// error of a held level does, and the reference's form. The
// degrees of freedom follow Welch and Satterthwaite over the sum of both components.
func (f *Estimate) centre() (c fit.Sym3, dof float64) {
	v := float64(f.spread() * f.spread())
	for i := range c {
		for j := range c {
			c[i][j] = f.Circle.Cofactor[i][j] * v
		}
	}
	read := c[1][1] + c[2][2]
	tilt, level := FromLimit(f.Setup.tilted()), f.heldU()
	lean := [3]float64{0, level * f.lean.X, level * f.lean.Y}
	for i := 1; i < 3; i++ {
		c[i][i] += float64(tilt * tilt)
		for j := 1; j < 3; j++ {
			c[i][j] += float64(lean[i] * lean[j])
		}
	}
	if f.Setup.FormLimit > 0 {
		_, g := f.formPart()
		c[1][1] += g.xx / 3 // a limit over √3, squared
		c[2][2] += g.yy / 3
		c[1][2] += g.xy / 3
		c[2][1] += g.xy / 3
	}
	if all := c[1][1] + c[2][2]; all > read {
		return c, f.Dof * (all / read) * (all / read)
	}
	return c, f.Dof
}

// expanded returns U for a combination of the centre's components.
func (f *Estimate) expanded(row [3]float64) float64 {
	if f.Dof <= 0 {
		return math.NaN()
	}
	c, dof := f.centre()
	return fit.Coverage(dof) * math.Sqrt(max(0, c.Quadratic(row)))
}

// Swing returns the swing radius R = z − t, unknown unless the reference's radius and the reach
// are known.
func (f *Estimate) Swing() Value {
	if f.Circle.Sought != fit.ZeroDistance || !f.Setup.ReachKnown {
		return unknown
	}
	return Value{f.Circle.Level - f.Setup.Reach, f.radiusU()}
}

// Radius returns the radius of the surface, unknown unless the zero radius is given.
func (f *Estimate) Radius() Value {
	if f.Circle.Sought != fit.SurfaceRadius {
		return unknown
	}
	return Value{f.Circle.Level, f.radiusU()}
}

// CentreX and CentreY return the components of the centre error.
func (f *Estimate) CentreX() Value { return Value{f.Circle.Centre.X, f.expanded([3]float64{0, 1, 0})} }

// CentreY: see CentreX.
func (f *Estimate) CentreY() Value { return Value{f.Circle.Centre.Y, f.expanded([3]float64{0, 0, 1})} }

// Offset returns |e| with the uncertainty along e (along the worst direction where e is zero).
func (f *Estimate) Offset() Value {
	e := f.Circle.Centre
	n := e.Norm()
	if n == 0 {
		return Value{0, f.expanded(f.worst())}
	}
	return Value{n, f.expanded([3]float64{0, e.X / n, e.Y / n})}
}

// Away is Offset with the doubt that it has whichever way the centre truly lies: along e alone it is too small where e is hardly
// anything.
func (f *Estimate) Away() Value {
	return Value{f.Circle.Centre.Norm(), f.expanded(f.worst())}
}

// worst is the direction in which the centre is known least.
func (f *Estimate) worst() [3]float64 {
	c, _ := f.centre()
	u := c.Ellipse().Along.Unit()
	return [3]float64{0, u.X, u.Y}
}

// Expect returns the reading that the fit gives at a bearing, with the uncertainty of one new
// reading there (the fit's, the reading's own and its angle's).
func (f *Estimate) Expect(b geom.Bearing) Value {
	v := Value{V: f.at(b), U: math.NaN()}
	if f.Dof > 0 {
		q := max(0, f.Circle.Cofactor.Quadratic(f.Circle.Row(b)))
		v.U = fit.Coverage(f.Dof) * f.Sigma * math.Sqrt(f.growth(b)+q)
	}
	return v
}

// at is the reading that the fit gives at a bearing, in millimetres.
func (f *Estimate) at(b geom.Bearing) float64 {
	return (f.Circle.At(b) - f.Setup.ZeroRadius) / f.perReading()
}

// Residual returns measured minus fitted, in millimetres of reading.
func (f *Estimate) Residual(b geom.Bearing, reading float64) float64 { return reading - f.at(b) }

// Ellipse returns the 95 % ellipse of the centre in millimetres; ok is false where the spread is
// not known.
func (f *Estimate) Ellipse() (e fit.Ellipse, ok bool) { return f.ellipse(fit.Confidence) }

// ellipse is the ellipse that holds the centre with probability p.
func (f *Estimate) ellipse(p float64) (e fit.Ellipse, ok bool) {
	if f.Dof <= 0 {
		return e, false
	}
	c, dof := f.centre()
	e = c.Ellipse()
	k := fit.EllipseFactor(p, dof)
	e.Major *= k
	e.Minor *= k
	return e, true
}

// Acts returns what the needle does where the tip's place at zero moves outwards by out, and the surface
// by away, millimetres of reading for millimetres:
//
//	bore:  m = (z − d)/g        boss:  m = (d − z)/g
func (s Setup) Acts(d Dial, out, away float64) float64 {
	return s.Touch.sign() * (away - out) / d.Gain()
}
