package setup

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// figure is one that a record states, and between what it has to lie: NaN lies nowhere.
type figure struct {
	key          string
	v, low, high float64
}

// mostLength bounds every length, millimetres: the largest that a file can state, in inches.
const mostLength = 25.4e9

// leastTurn is the least that a handwheel's turn can move, millimetres, and mostDivisions the most marks that a collar can have: with
// others a wind is of more turns than can be counted.
const (
	leastTurn     = 0.001
	mostDivisions = 10000
)

// hair is what the rounding of degrees to radians may take the very bound beyond itself by.
const hair = 1e-9

// upTo is a figure from 0 to a bound.
func upTo(key string, v, most float64) figure { return figure{key, v, 0, most} }

// between is a figure from minus a bound to the bound.
func between(key string, v, most float64) figure { return figure{key, v, -most, most} }

// angle is a bound in radians.
func angle(degrees float64) float64 { return float64(geom.FromDegrees(degrees)) + hair }

// turnedBy bounds an angle that may be any: files state so many degrees at most.
const turnedBy = mostLength

func checkAll(of string, all []figure) error {
	for _, f := range all {
		if !(f.v >= f.low && f.v <= f.high) {
			return fmt.Errorf("%s%s %v, need %v to %v", of, f.key, f.v, f.low, f.high)
		}
	}
	return nil
}

// Check refuses a machine that no file can have stated, and that nothing can be wound on.
func (m *Machine) Check() error {
	all := []figure{between("miss", m.Miss, mostLength)}
	for _, r := range []struct {
		name string
		Ring
	}{{"head", m.Head}, {"table", m.Table}} {
		all = append(all, between(r.name+" zero", float64(r.Zero), turnedBy), upTo(r.name+" graduation", r.Graduation, turnedBy),
			upTo(r.name+" vernier", r.Vernier, turnedBy))
	}
	if err := checkAll("machine: ", all); err != nil {
		return err
	}
	if err := m.Handwheel.Check(); err != nil {
		return err
	}
	for i := range m.Slides {
		if err := checkSlide(&m.Slides[i]); err != nil {
			return err
		}
		if slices.ContainsFunc(m.Slides[:i], func(s slide.Slide) bool { return s.Name == m.Slides[i].Name }) {
			return fmt.Errorf("slide %q twice, need it once", m.Slides[i].Name)
		}
	}
	return nil
}

func checkSlide(s *slide.Slide) error {
	if s.Name == "" {
		return errors.New("a slide without a name, need one")
	}
	if s.Clockwise == 0 || s.TakeUp == 0 || s.Figures == 0 {
		return fmt.Errorf("slide %q without clockwise, take_up or figures, need all three", s.Name)
	}
	return checkAll(fmt.Sprintf("slide %q: ", s.Name), []figure{
		{"travel_per_turn", s.TravelPerTurn, leastTurn, mostLength}, {"divisions", s.Divisions, 1, mostDivisions},
		upTo("backlash", s.Backlash, mostLength), upTo("backlash_limit", s.BacklashLimit, mostLength),
		upTo("overshoot", s.Overshoot, mostLength), upTo("readout_step", s.Step, mostLength),
		between("low", s.Low, mostLength), {"high", s.High, s.Low, mostLength},
		between("askew", s.Askew, angle(180)), upTo("askew_limit", s.AskewLimit, angle(30)),
		between("reached_from", float64(s.ReachedFrom), turnedBy), between("reached_to", float64(s.ReachedTo), turnedBy),
	})
}

// Check refuses a job that no file can have stated.
func (j *Job) Check() error {
	s, d := &j.Setup, &j.Dial
	all := []figure{
		upTo("setup.reference_radius", s.ReferenceRadius, mostLength), between("setup.reach", s.Reach, mostLength),
		upTo("setup.reference_limit", s.ReferenceLimit, mostLength), upTo("setup.reach_limit", s.ReachLimit, mostLength),
		upTo("setup.form_limit", s.FormLimit, mostLength), upTo("setup.tilt_limit", s.TiltLimit, mostPer100/100.0+hair),
		upTo("setup.sweep_height", s.SweepHeight, mostLength), upTo("setup.held_radius", s.HeldRadius, mostLength),
		upTo("setup.held_limit", s.HeldLimit, mostLength), upTo("setup.zero_radius", s.ZeroRadius, mostLength),
		upTo("setup.zero_limit", s.ZeroLimit, mostLength), upTo("setup.tip_diameter", s.TipDiameter, mostLength),
		between("setup.indicator_bearing", float64(s.IndicatorBearing), turnedBy),
		upTo("target.swing_radius", j.Target.SwingRadius, mostLength), upTo("target.tolerance", j.Target.Tolerance, mostLength),
		upTo("target.centre_tolerance", j.Target.CentreTolerance, mostLength),
		{"sweep.stations", float64(j.Sweep.Stations), fit.MinStations, indicator.MaxStations},
		upTo("sweep.at_least", float64(j.Sweep.AtLeast), indicator.MaxStations),
		between("sweep.from", float64(j.Sweep.From), turnedBy), between("sweep.to", float64(j.Sweep.To), turnedBy),
		upTo("dial.graduation", d.Graduation, mostLength), upTo("dial.revolution", d.Revolution, mostLength),
		between("dial.from", d.From, mostLength), {"dial.to", d.To, d.From, mostLength},
		upTo("dial.reads_to", d.ReadsTo, 1), upTo("dial.angle_error", d.AngleError, angle(20)),
		between("dial.lever_angle", d.LeverAngle, angle(75)), upTo("dial.lever_limit", d.LeverLimit, angle(45)),
		upTo("dial.error_limit", d.ErrorLimit, mostLength), upTo("dial.repeatability", d.Repeatability, mostLength),
	}
	if c := j.Cut; c != nil {
		all = append(all, upTo("cut.cutter", c.Cutter, mostLength), upTo("cut.stock", c.Stock, mostLength),
			upTo("cut.measured_error", c.MeasuredError, mostLength), upTo("cut.cutter_limit", c.CutterLimit, mostLength),
			upTo("cut.radius_limit", c.RadiusLimit, mostLength), upTo("cut.depth", c.Depth, mostLength),
			upTo("cut.step", c.Step, mostLength))
	}
	if a := j.About; a != nil {
		all = append(all, between("about.angle", float64(a.Angle), angle(180)), upTo("about.angle_error", a.AngleLimit, angle(45)),
			upTo("about.slide_error_per_100", a.SlidePer100, mostPer100), upTo("about.square_per_100", a.SquarePer100, mostPer100))
		for _, p := range []geom.Point{a.Reference, a.Centre} {
			all = append(all, between("about: a place's x", p.X, mostLength), between("about: a place's y", p.Y, mostLength))
		}
	}
	if j.Part != nil {
		if err := j.Part.check(); err != nil {
			return err
		}
	}
	if err := checkAll("job: ", all); err != nil {
		return err
	}
	if err := j.Sweep.check(); err != nil || j.Cut == nil {
		return err
	}
	return j.Cut.checkDepth()
}

// check refuses a sweep, or an obstacle of it, that goes no way, or on beyond a whole turn.
func (s *Sweep) check() error {
	const rounding = 1e-5 // of the largest angle that a file states
	for _, o := range slices.Concat([]Obstacle{{s.From, s.To}}, s.Obstacles) {
		if by := float64(o.To - o.From); !(by > 0 && by <= 2*math.Pi+rounding) || math.Abs(float64(o.From)) > turnedBy {
			return fmt.Errorf("job: sweep, or an obstacle of it, from %.6g° to %.6g°, need it to go on by up to a whole turn",
				o.From.Degrees(), o.To.Degrees())
		}
	}
	if !(s.Left() > 0) {
		return errors.New("job: the obstacles leave nothing of the sweep, need a part of it")
	}
	return nil
}

// mostPer100 bounds what may be out over 100 of a length.
const mostPer100 = 10

// UnmarshalJSON refuses an arc of which it is not said where it is, and where the reference: of two places left out both would be the
// drawing's origin.
func (a *About) UnmarshalJSON(text []byte) error {
	var keys map[string]json.RawMessage
	if err := json.Unmarshal(text, &keys); err != nil {
		return err
	}
	for _, key := range []string{"reference_at", "centre_at"} {
		if _, ok := keys[key]; !ok {
			return fmt.Errorf("about without %s, need it", key)
		}
	}
	type plain About
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	return d.Decode((*plain)(a))
}

// Says reports whether the job states the very figure that was found: it was written from what was found, to the same places.
func (f *Found) Says(j *Job) error {
	v := map[string]float64{FoundReach: j.Setup.Reach, FoundRepeatability: j.Dial.Repeatability}[f.Key]
	if !(math.Abs(v-f.Value) <= sameFigure) {
		return fmt.Errorf("%s found as %v, and the job says %v, need one", f.Key, f.Value, v)
	}
	return nil
}

// sameFigure is how far two spellings of a figure lie apart at most, millimetres.
const sameFigure = 1e-6
