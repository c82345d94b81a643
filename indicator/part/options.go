package part

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// Limits are what is let pass, millimetres and radians; 0 takes the default in brackets.
type Limits struct {
	Gap    float64      // between the ends of elements that are meant to meet [0.005]
	Kink   geom.Bearing // the most that two tangent elements turn where they meet [0.1°]
	Corner geom.Bearing // the least turn that is taken for a corner that is meant [5°]
	// Gouge is how far the cutter may pass beyond a finished surface, and how high what it leaves may stand
	// proud of one [0.002].
	Gouge float64
	End   float64 // how far off the stop may be at an end that is no tangent [0.1]
	Same  float64 // swing radii that differ by no more are one setting [0.001]
}

// Options are the machine and the wishes. Only the cutters have no useful default.
type Options struct {
	Cutters  []float64 // diameters at hand; none: swing radii and axis positions are left open
	LeftHand bool      // the cutter turns anticlockwise seen from above
	// SwingMin and SwingMax are what the offset slide can set; SwingMax 0: no limit.
	SwingMin, SwingMax float64
	Datum              geom.Point
	// Rotary: the table turns the work under a cutter that stands at CutterBearing from the table's
	// axis; otherwise the head carries the cutter round.
	Rotary        bool
	CutterBearing geom.Bearing
	// OpenSide says where the metal is of open chains: each one's first arc takes it, the rest of the
	// chain has its metal on the same hand.
	OpenSide Side
	Slides   []geom.Bearing // the bearings along which a slide can cut [0 and 90°]
	// StepHeight is how high the cusps may be, before rounding, that plunging at places leaves of an arc that no swing
	// makes; 0: no places are asked for. ReadoutStep is what the readouts of X and of Y count in [0.005].
	StepHeight  float64
	ReadoutStep [2]float64
	Limits      Limits
	Depths      Depths
}

// An OptionError is an option that cannot be.
type OptionError struct {
	Option string
	Value  float64
	Need   string
}

func (e *OptionError) Error() string {
	return fmt.Sprintf("%s %v, need %s", e.Option, e.Value, e.Need)
}

// check refuses what cannot be and fills in the defaults.
func (o Options) check() (Options, error) {
	for _, d := range o.Cutters {
		if !(d > 0) || math.IsInf(d, 1) {
			return o, &OptionError{"cutter", d, "a diameter above 0"}
		}
	}
	if !(o.SwingMin >= 0) {
		return o, &OptionError{"least swing radius", o.SwingMin, "0 or more"}
	}
	if o.SwingMax != 0 && !(o.SwingMax >= o.SwingMin) {
		return o, &OptionError{"largest swing radius", o.SwingMax, fmt.Sprintf("at least the least, %v", o.SwingMin)}
	}
	if !finite(o.Datum.X, o.Datum.Y, float64(o.CutterBearing)) {
		return o, &OptionError{"datum or cutter bearing", math.NaN(), "finite numbers"}
	}
	if err := o.checkPlaces(); err != nil {
		return o, err
	}
	if o.SwingMax == 0 {
		o.SwingMax = math.Inf(1)
	}
	if o.Slides == nil {
		o.Slides = []geom.Bearing{0, math.Pi / 2}
	}
	l := &o.Limits
	for _, v := range []struct {
		name string
		at   *float64
		or   float64
	}{
		{"gap limit", &l.Gap, 0.005}, {"kink limit", (*float64)(&l.Kink), float64(0.1 * geom.Degree)},
		{"corner limit", (*float64)(&l.Corner), float64(5 * geom.Degree)}, {"gouge limit", &l.Gouge, 0.002},
		{"limit of one setting", &l.Same, 0.001}, {"end tolerance", &l.End, 0.1},
	} {
		switch {
		case *v.at == 0:
			*v.at = v.or
		case !(*v.at > 0) || math.IsInf(*v.at, 1):
			return o, &OptionError{v.name, *v.at, "above 0"}
		}
	}
	return o, nil
}

// checkPlaces refuses what no places can be found by, and fills in the defaults.
func (o *Options) checkPlaces() error {
	if !(o.StepHeight >= 0) {
		return &OptionError{"height of cusps", o.StepHeight, "above 0"}
	}
	for _, d := range o.Cutters {
		if !(o.StepHeight < d/2) {
			return &OptionError{"height of cusps", o.StepHeight, fmt.Sprintf("less than the radius of cutter %v, %v", d, d/2)}
		}
	}
	for k := range o.ReadoutStep {
		if s := &o.ReadoutStep[k]; *s == 0 {
			*s = usualReadout
		} else if !(*s > 0) || math.IsInf(*s, 1) {
			return &OptionError{"step of the readout", *s, "above 0"}
		}
	}
	return nil
}

func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
