package job

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

type rawJob struct {
	Unit    *string   `toml:"unit"`
	Cutters []float64 `toml:"cutters"`
	Setup   struct {
		Kind             *string  `toml:"kind"`
		Touch            *string  `toml:"touch"`
		ReferenceRadius  *float64 `toml:"reference_radius"`
		Reach            *float64 `toml:"reach"`
		IndicatorBearing *float64 `toml:"indicator_bearing"`
		TipDiameter      *float64 `toml:"tip_diameter"`
		ReferenceError   *float64 `toml:"reference_radius_error"`
		FormError        *float64 `toml:"reference_form_error"`
		ReachError       *float64 `toml:"reach_error"`
		Held             *float64 `toml:"held_radius"`
		HeldError        *float64 `toml:"held_radius_error"`
		Tilt             *float64 `toml:"tilt_per_100"`
		SweepHeight      *float64 `toml:"sweep_height"`
		Taps             *bool    `toml:"taps"`
		rawAbout
	} `toml:"setup"`
	Target struct {
		SwingRadius     *float64 `toml:"swing_radius"`
		Tolerance       *float64 `toml:"tolerance"`
		CentreTolerance *float64 `toml:"centre_tolerance"`
		SetOffBy        *string  `toml:"set_off_by"`

		CentreAt []float64 `toml:"centre_at"`
	} `toml:"target"`
	Sweep struct {
		Stations *float64 `toml:"stations"`
		AtLeast  *float64 `toml:"at_least"`
		Closing  *bool    `toml:"closing"`
		From     *float64 `toml:"from"`
		To       *float64 `toml:"to"`

		Obstacles [][]float64 `toml:"obstacles"`
	} `toml:"sweep"`
	Cut  *rawCut  `toml:"cut"`
	Part *rawPart `toml:"part"`
	Dial struct {
		Graduation    *float64 `toml:"graduation"`
		Revolution    *float64 `toml:"revolution"`
		Range         *float64 `toml:"range"`
		From          *float64 `toml:"from"`
		To            *float64 `toml:"to"`
		ReadsTo       *float64 `toml:"reads_to"`
		AngleError    *float64 `toml:"angle_error"`
		LeverAngle    *float64 `toml:"lever_angle"`
		LeverError    *float64 `toml:"lever_angle_error"`
		Error         *float64 `toml:"error"`
		Repeatability *float64 `toml:"repeatability"`
		WholeNumbers  *string  `toml:"whole_numbers"`
		Repeats       *float64 `toml:"repeatability_readings"`
		Pressed       *string  `toml:"pressed"`
	} `toml:"dial"`
}

// ParseJob reads a job file. name is what messages call it. The error is an *[Error], or [Errors].
func ParseJob(name string, text []byte) (setup.Job, error) {
	d, err := ReadJob(name, text)
	if d == nil {
		return setup.Job{}, err
	}
	return d.For(nil)
}

// job makes a job of a file, for arc a where it is not nil; on an error as far as it could be read.
func (f *file) job(raw *rawJob, a *Figures) (setup.Job, error) {
	var j setup.Job
	if raw.Unit != nil {
		f.word("unit", raw.Unit, &j.Unit, "mm or in")
	}
	f.cuts = raw.Cut != nil
	a.into(raw, j.Unit)
	f.setup(raw, &j)
	f.target(raw, &j)
	f.about(raw, &j)
	f.sweep(raw, &j)
	f.dial(raw, &j)
	f.cutters(raw.Cutters)
	f.cut(raw.Cut, &j)
	f.part(raw.Part, &j)
	a.exact(&j)
	if len(f.wrong) == 0 {
		f.fits(&j)
	}
	return j, f.wrong.err()
}

// length scales a number that was read in the file's unit.
func length(u geom.Unit, v float64) float64 { return u.MM(v) }

// limit reads the limit of a figure's error, and notes in the job that it is stated: 0 too says how right the figure is.
func (f *file) limit(j *setup.Job, figure, key string, v *float64) float64 {
	if v != nil {
		j.Stated = append(j.Stated, figure)
	}
	return length(j.Unit, f.number(key, v, 0, notNegative, "0 or above"))
}

func (f *file) setup(raw *rawJob, j *setup.Job) {
	s := &raw.Setup
	f.word("setup.kind", s.Kind, &j.Setup.Kind, "carried, turned or points")
	f.word("setup.touch", s.Touch, &j.Setup.Touch, "bore or boss")
	if j.Setup.Taps = s.Taps != nil && *s.Taps; j.Setup.Taps && j.Setup.Kind != indicator.Turned && f.fine("setup.kind") {
		f.fail("setup.taps", "", "work is tapped into place on a table that is turned, need kind = \"turned\"")
	}
	if j.Setup.Kind == indicator.Points {
		f.points(raw, j)
		return
	}
	if s.ReferenceRadius != nil || raw.Target.SwingRadius != nil { // the centre alone can do without
		j.Setup.ReferenceRadius = length(j.Unit, f.need("setup.reference_radius", s.ReferenceRadius, positive, "above 0"))
	}
	if s.Reach != nil {
		j.Setup.Reach, j.Setup.ReachKnown = length(j.Unit, f.number("setup.reach", s.Reach, 0, anyNumber, "a number")), true
	}
	j.Setup.TipDiameter = length(j.Unit, f.number("setup.tip_diameter", s.TipDiameter, 0, notNegative, "0 or above"))
	j.Setup.ReferenceLimit = f.limit(j, indicator.OfReference, "setup.reference_radius_error", s.ReferenceError)
	j.Setup.ReachLimit = f.limit(j, indicator.OfReach, "setup.reach_error", s.ReachError)
	j.Setup.FormLimit = f.limit(j, indicator.OfForm, "setup.reference_form_error", s.FormError)
	j.Setup.TiltLimit = f.number("setup.tilt_per_100", s.Tilt, 0, func(x float64) bool { return x >= 0 && x <= 10 },
		"from 0 to 10 of a length over 100 of it") / 100
	j.Setup.SweepHeight = length(j.Unit, f.number("setup.sweep_height", s.SweepHeight, 0, notNegative, "0 or above"))
	j.Setup.HeldRadius = length(j.Unit, f.number("setup.held_radius", s.Held, 0, positive, "above 0"))
	j.Setup.HeldLimit = f.limit(j, indicator.OfHeld, "setup.held_radius_error", s.HeldError)
	switch {
	case s.Held != nil && s.Reach == nil && f.fine("setup.reach"):
		f.fail("setup.held_radius", "the swing radius can only be held where the reach is known", "given without reach, need both")
	case s.Held == nil && s.HeldError != nil && f.fine("setup.held_radius"):
		f.fail("setup.held_radius_error", "", "given without held_radius, need both")
	}
	if s.Tilt != nil && s.SweepHeight == nil && f.fine("setup.sweep_height") {
		f.fail("setup.tilt_per_100", "give sweep_height: how far above the cutter the sweep is taken",
			"given without sweep_height, need both")
	}
	j.Setup.IndicatorBearing = geom.FromDegrees(f.number("setup.indicator_bearing", s.IndicatorBearing, 0, anyNumber,
		"a number of degrees"))
}

func (f *file) target(raw *rawJob, j *setup.Job) {
	t := &raw.Target
	j.Target.CentreTolerance = length(j.Unit, f.need("target.centre_tolerance", t.CentreTolerance, positive, "above 0"))
	switch {
	case !f.fine("target.swing_radius"):
		return // nobody knows whether one is wanted
	case t.SwingRadius == nil:
		if t.Tolerance != nil {
			f.fail("target.tolerance", "give swing_radius, or leave out both to bring the centre in only", "given without a swing_radius")
		}
		if t.SetOffBy != nil {
			f.fail("target.set_off_by", "give swing_radius: how far the slide carries the spindle off the axis",
				"given without a swing_radius")
		}
		return
	}
	j.Target.SwingRadius = length(j.Unit, f.need("target.swing_radius", t.SwingRadius, positive, "above 0"))
	j.Target.Tolerance = length(j.Unit, f.need("target.tolerance", t.Tolerance, positive, "above 0"))
	if t.SetOffBy != nil {
		f.setOff(*t.SetOffBy, j)
		return
	}
	switch {
	case j.Setup.ReachKnown:
	case f.cuts && j.Setup.Kind != indicator.Points:
		j.Target.Trial = true
	default:
		f.fail("setup.reach", "measure it, or leave out target.swing_radius to bring the centre in only; with cutter and metal under "+
			"[cut] a trial cut shows the radius without it", "missing, needed for a swing radius")
	}
}

// setOff reads by which machine slide the swing radius is set off the axis, and which way.
func (f *file) setOff(text string, j *setup.Job) {
	name, back := strings.CutPrefix(text, "-")
	if name != "x" && name != "y" {
		f.fail("target.set_off_by", "the machine slide that carries the spindle off the table's axis", "%q, need x, -x, y or -y", text)
		return
	}
	if j.Setup.Kind != indicator.Carried {
		f.fail("target.set_off_by", "", "given with kind = %q, need carried: the indicator swung by the spindle that stands over the axis",
			j.Setup.Kind)
		return
	}
	if j.Setup.ReachKnown || j.Setup.HeldRadius > 0 {
		f.fail("target.set_off_by", "leave out reach and held_radius: they are a head's that swings the cutter",
			"given with a reach, which says that a sweep shows the swing radius, need one of the two")
		return
	}
	j.Target.SetOff = &setup.SetOff{Slide: name, Way: slide.Increase}
	if back {
		j.Target.SetOff.Way = slide.Decrease
	}
}

func (f *file) sweep(raw *rawJob, j *setup.Job) {
	s := &raw.Sweep
	whole := func(x float64) bool { return x == math.Trunc(x) && x >= fit.MinStations && x <= indicator.MaxStations }
	stations := fmt.Sprintf("a whole number from %d to %d", fit.MinStations, indicator.MaxStations)
	j.Sweep.Stations = int(f.need("sweep.stations", s.Stations, whole, stations))
	j.Sweep.AtLeast = int(f.number("sweep.at_least", s.AtLeast, 0, whole, stations))
	j.Sweep.Closing = s.Closing != nil && *s.Closing
	from := f.number("sweep.from", s.From, 0, anyNumber, "a number of degrees")
	to := from + 360
	if f.fine("sweep.from") { // else nobody knows what to is measured against
		to = f.number("sweep.to", s.To, to, func(x float64) bool { return x > from && x <= from+360 },
			fmt.Sprintf("above from (%v) and at most %v", from, from+360))
	}
	j.Sweep.From, j.Sweep.To = geom.FromDegrees(from), geom.FromDegrees(to)
	f.obstacles(s.Obstacles, &j.Sweep)
}

func (f *file) dial(raw *rawJob, j *setup.Job) {
	d, u := &raw.Dial, j.Unit
	if j.Setup.Kind == indicator.Points {
		f.readout(raw, j)
		return
	}
	j.Dial = indicator.Dial{
		Graduation: length(u, f.need("dial.graduation", d.Graduation, positive, "above 0")),
		Revolution: length(u, f.number("dial.revolution", d.Revolution, 0, positive, "above 0")),
		ReadsTo: f.number("dial.reads_to", d.ReadsTo, indicator.DefaultReadsTo, func(x float64) bool { return x > 0 && x <= 1 },
			"above 0 and at most 1"),
		AngleError: float64(geom.FromDegrees(f.number("dial.angle_error", d.AngleError, 0, func(x float64) bool {
			return x >= 0 &&
				x <= 20
		}, "from 0 to 20 degrees"))),
		LeverAngle: float64(geom.FromDegrees(f.number("dial.lever_angle", d.LeverAngle, 0,
			func(x float64) bool { return math.Abs(x) <= 75 }, "from -75 to 75 degrees"))),
		LeverLimit: float64(geom.FromDegrees(f.number("dial.lever_angle_error", d.LeverError, 0, func(x float64) bool {
			return x >= 0 &&
				x <= 45
		}, "from 0 to 45 degrees"))),
		ErrorLimit:    f.limit(j, indicator.OfDial, "dial.error", d.Error),
		Repeatability: length(u, f.number("dial.repeatability", d.Repeatability, 0, notNegative, "0 or above")),
	}
	f.wholeNumbers(d.WholeNumbers, j)
	f.repeats(raw, j)
	f.pressed(d.Pressed, j)
	switch {
	case d.Range != nil && (d.From != nil || d.To != nil):
		f.fail("dial.range", "keep range where the zero is in the middle, from and to where it is not", "given together with from or to")
	case d.From != nil && d.To == nil && f.fine("dial.to"):
		f.fail("dial.from", "", "given without to, need both")
	case d.From == nil && d.To != nil && f.fine("dial.from"):
		f.fail("dial.to", "", "given without from, need both")
	case d.From != nil || d.To != nil || !f.fine("dial.from", "dial.to"):
		from := f.number("dial.from", d.From, 0, func(x float64) bool { return x <= 0 }, "0 or below")
		to := f.number("dial.to", d.To, 0, func(x float64) bool { return x >= 0 && (x > from || !f.fine("dial.from")) },
			"0 or above, and above from")
		j.Dial.From, j.Dial.To = length(u, from), length(u, to)
	default:
		half := length(u, f.need("dial.range", d.Range, positive, "above 0")) / 2
		j.Dial.From, j.Dial.To = -half, half
	}
}

// wholeNumbers reads what a reading counts that is typed without a point.
func (f *file) wholeNumbers(word *string, j *setup.Job) {
	const key, need = "dial.whole_numbers", "thousandths, or the key left out"
	switch {
	case word == nil:
	case *word == "":
		f.fail(key, "", "%q, need %s", *word, need)
	case j.Unit != geom.Inch && f.fine("unit"):
		f.fail(key, "they are thousandths of an inch", "given with unit = %q, need \"in\", or the key left out", j.Unit)
	default:
		f.word(key, word, &j.Dial.WholeNumbers, need)
	}
}

// fits checks that the numbers go together: at the target the needle has to be on the dial.
func (f *file) fits(j *setup.Job) {
	ball := j.Setup.TipDiameter / 2
	if j.Setup.ReferenceRadius > 0 && j.Setup.Touch == indicator.Bore && ball >= j.Setup.ReferenceRadius {
		f.fail("setup.tip_diameter", "", "a tip of %v %v does not go into a bore of radius %v %v", show(j, 2*ball), j.Unit,
			show(j, j.Setup.ReferenceRadius), j.Unit)
		return
	}
	if !j.SweepsSwing() {
		return
	}
	hint := fmt.Sprintf("at the target the dial reads zero with a reach of %v %v; + is away from the head axis, - towards it",
		show(j, j.Setup.ReferenceRadius-j.Target.SwingRadius), j.Unit)
	zero := j.Target.SwingRadius + j.Setup.Reach
	if zero <= 0 {
		f.fail("setup.reach", hint, "%v %v puts the tip beyond the head axis at a swing radius of %v %v",
			show(j, j.Setup.Reach), j.Unit, show(j, j.Target.SwingRadius), j.Unit)
		return
	}
	reading := (zero - j.Setup.ReferenceRadius) / j.Dial.Gain()
	if j.Setup.Touch == indicator.Boss {
		reading = -reading
	}
	if j.Dial.Check(reading) != nil {
		f.fail("setup.reach", hint, "with %v %v the dial would have to show %v %v at the target, need %v to %v %v", show(j, j.Setup.Reach),
			j.Unit,
			show(j, reading), j.Unit, show(j, j.Dial.From), show(j, j.Dial.To), j.Unit)
	}
}

// show returns a length in the job's unit, short enough to read.
func show(j *setup.Job, mm float64) string { return fmt.Sprintf("%.6g", j.Unit.From(mm)) }
