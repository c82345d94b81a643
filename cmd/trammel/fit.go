package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/setup"
)

// fitFlags are the flags of the verb fit; lengths in the unit that --unit names.
type fitFlags struct {
	touch                                 string
	points, roundness                     bool
	turned, referenceRadius, reach        *number
	zeroRadius, leverAngle                *number
	graduation, revolution, repeatability *number
	target, tolerance, centreTolerance    *number
	referenceError, reachError, dialError *number
	zeroError                             *number
	formError                             *number
	tilt, sweepHeight                     *number
	hold, holdError                       *number
	drift                                 bool
}

func newFit(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "fit [FILE | -]",
		Short: "fit a circle to lines of angle and reading",
		Long: `fit reads lines of "angle reading" (degrees and the dial's reading; comma,
semicolon, tab or spaces between them) and says the radius and the centre error.

With --reference-radius and --reach it says the swing radius, with --zero-radius
the radius of the surface, and with neither only where the centre lies.

With --roundness it also says the form of the surface by six stations or more:
the least-squares circle (LSC), the minimum-zone circles (MZC), the smallest
circle outside (MCC) and the largest circle inside (MIC), their centres and how
far the surface departs from each, peak to valley. n stations are sure to
show fewer than n/2 lobes only, and the readings' own spread looks like form: with
--repeatability, what it alone would make stands behind each figure.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return misuse("fit takes one file, seen %d", len(args))
			}
			return nil
		},
	}
	f := putFit(cmd)
	cmd.RunE = func(_ *cobra.Command, args []string) error { return fitVerb(w, c, f, append(args, "-")[0]) }
	return cmd
}

func putFit(cmd *cobra.Command) *fitFlags {
	f := fitFlags{
		turned: signed(cmd, "turned",
			"the indicator stands still at this bearing (degrees); the angle is how far the table was turned anticlockwise from above"),
		referenceRadius: length(cmd, "reference-radius", "radius of the reference"),
		reach: reachFlag(cmd,
			"reach (spindle axis to tip), when the dial reads zero: + away from the head axis, - towards it"),
		zeroRadius:     length(cmd, "zero-radius", "distance from the axis to the tip when the dial reads zero"),
		leverAngle:     putLever(cmd),
		graduation:     length(cmd, "graduation", "worth of one division of the dial"),
		revolution:     length(cmd, "revolution", "dial travel of one turn of the needle"),
		repeatability:  length(cmd, "repeatability", "standard deviation of one reading, where it is known"),
		referenceError: limit(cmd, "reference-radius-error", "limit of its error, plus or minus"),
		reachError:     limit(cmd, "reach-error", "limit of its error, plus or minus"),
		zeroError:      limit(cmd, "zero-radius-error", "limit of its error, plus or minus"),
		dialError:      limit(cmd, "dial-error", "limit of the dial's own error, plus or minus"),
		formError:      limit(cmd, "reference-form-error", "limit of how far the reference is out of round: the amplitude of its lobes"),
		hold:           length(cmd, "hold-radius", "the radius to be found is known from elsewhere: keep it, and find the centre"),
		holdError:      limit(cmd, "hold-radius-error", "limit of its error, plus or minus"),
		tilt: length(cmd, "tilt-per-100",
			"limit of how far the reference's axis leans against the head axis over 100 of height, plus or minus"),
		sweepHeight:     length(cmd, "sweep-height", "how far above the cutter the sweep was taken"),
		target:          length(cmd, "target", "radius to reach"),
		tolerance:       length(cmd, "tolerance", "plus or minus, on the radius"),
		centreTolerance: length(cmd, "centre-tolerance", "on the distance between axis and centre"),
	}
	fl := cmd.Flags()
	fl.StringVar(&f.touch, "touch", "bore", "bore (the tip inside) or boss (the tip outside)")
	fl.BoolVar(&f.points, "points", false, "lines of x and y instead: coordinates touched on a circle")
	fl.BoolVar(&f.roundness, "roundness", false, "also say how far the surface departs from a circle; six stations or more")
	fl.BoolVar(&f.drift, "drift", false, "fit a steady drift over the readings, in their order, and take it out")
	return &f
}

// check refuses flags that do not go together.
func (f *fitFlags) check() error {
	switch {
	case f.touch != "bore" && f.touch != "boss":
		return misuse("--touch %q, need bore or boss", f.touch)
	case f.points && (f.turned.set || f.referenceRadius.set || f.reach.set || f.zeroRadius.set || f.leverAngle.set ||
		f.centreTolerance.set || f.formError.set):
		return misuse("--points together with a flag of readings (--turned, --reference-radius, --reach, --zero-radius, --lever-angle, " +
			"--centre-tolerance, --reference-form-error), need one or the other")
	case f.zeroRadius.set && (f.reach.set || f.referenceRadius.set):
		return misuse("--zero-radius together with --reach or --reference-radius, need one or the other: a known zero radius measures " +
			"the surface, a known reference measures the swing")
	case f.reach.set && !f.referenceRadius.set:
		return misuse("--reach without --reference-radius, need both for a swing radius")
	case f.points && (f.hold.set || f.drift || f.tilt.set):
		return misuse("--points together with --hold-radius, --drift or --tilt-per-100, need one or the other")
	case f.hold.set && !f.zeroRadius.set && !f.reach.set:
		return misuse("--hold-radius without --zero-radius or --reach, need to know which radius it is")
	case f.zeroError.set && !f.zeroRadius.set:
		return misuse("--zero-radius-error without --zero-radius, need both")
	case f.holdError.set && !f.hold.set:
		return misuse("--hold-radius-error without --hold-radius, need both")
	case f.tilt.set != f.sweepHeight.set:
		return misuse("--tilt-per-100 and --sweep-height belong together, need both or none")
	case f.roundness && !f.points && !f.referenceRadius.set && !f.zeroRadius.set:
		return misuse("--roundness without a radius, need --reference-radius or --zero-radius: the form is judged on whole radii")
	case f.target.set != f.tolerance.set:
		return misuse("--target and --tolerance belong together, need both or none")
	}
	return nil
}

// setup puts the flags into millimetres.
func (f *fitFlags) setup(u geom.Unit) (indicator.Dial, indicator.Setup, setup.Target) {
	d := indicator.Dial{
		Graduation: u.MM(f.graduation.v), Revolution: u.MM(f.revolution.v), ReadsTo: indicator.DefaultReadsTo,
		LeverAngle: radians(f.leverAngle), Repeatability: u.MM(f.repeatability.v),
		ErrorLimit: u.MM(f.dialError.v),
	}
	s := indicator.Setup{
		ReferenceRadius: u.MM(f.referenceRadius.v), Reach: u.MM(f.reach.v), ReachKnown: f.reach.set,
		ReferenceLimit: u.MM(f.referenceError.v), ReachLimit: u.MM(f.reachError.v), TiltLimit: f.tilt.v / 100, HeldRadius: u.MM(f.hold.v),
		HeldLimit: u.MM(f.holdError.v), SweepHeight: u.MM(f.sweepHeight.v), ZeroRadius: u.MM(f.zeroRadius.v),
		ZeroLimit: u.MM(f.zeroError.v),
		FormLimit: u.MM(f.formError.v),
	}
	s.Form.Allowed = s.Allows()
	if f.touch == "boss" {
		s.Touch = indicator.Boss
	}
	if f.turned.set {
		s.Kind, s.IndicatorBearing = indicator.Turned, geom.FromDegrees(f.turned.v)
	}
	t := setup.Target{SwingRadius: u.MM(f.target.v), Tolerance: u.MM(f.tolerance.v), CentreTolerance: u.MM(f.centreTolerance.v)}
	return d, s, t
}

// stated are the figures whose limits the flags state.
func (f *fitFlags) stated() (all indicator.Stated) {
	for _, x := range []struct {
		figure string
		flag   *number
	}{{indicator.OfReach, f.reachError}, {indicator.OfReference, f.referenceError}, {indicator.OfDial, f.dialError},
		{indicator.OfHeld, f.holdError}, {indicator.OfZero, f.zeroError}, {indicator.OfForm, f.formError}} {
		if x.flag.set {
			all = append(all, x.figure)
		}
	}
	return all
}

func fitVerb(w world, c *common, f *fitFlags, name string) error {
	if err := f.check(); err != nil {
		return err
	}
	u := c.typed()
	in, label, err := openInput(w, name)
	if err != nil {
		return err
	}
	defer in.Close()
	// Of a million readings all that takes room are a few long arrays of numbers: the collector has nothing to look for in them, so
	// it may look often.
	defer debug.SetGCPercent(debug.SetGCPercent(10))
	columns, meaning := "angle and reading", "an angle in degrees and a reading"
	if f.points {
		columns, meaning = "x and y", "two coordinates"
	}
	pairs, err := readPairs(in, label, columns)
	if err != nil {
		return withHint(err, "each line holds %s in %v; lines that begin with # are passed over", meaning, u)
	}
	d, s, t := f.setup(u)
	if f.points {
		return pointsVerb(w, c, f, pairs, label, d, s.Touch, t)
	}
	bearings, readings := make([]geom.Bearing, len(pairs)), make([]float64, len(pairs))
	for i, p := range pairs {
		bearings[i], readings[i] = s.Surface(geom.FromDegrees(p.a)), u.MM(p.b)
	}
	var places []float64
	if f.drift {
		places = inOrder(len(readings))
	}
	found, err := indicator.FitDrift(d, s, bearings, readings, places)
	if err != nil && len(readings) == 2 && !f.drift && !f.roundness {
		if p, ok := indicator.Half(d, s, [2]geom.Bearing(bearings), [2]float64(readings)); ok {
			return say(w, c, record.NewPair(&p, s, indicator.DialAlone(d, f.stated()), u))
		}
	}
	if err != nil {
		return fitError(err, label, pairs)
	}
	if f.drift {
		readings = found.Evened(readings, places)
	}
	leans := record.Leans{On: found.Assumed(f.stated())}
	leans.Room = t.Room(&found, leans.On)
	x := record.NewFit(&found, bearings, readings, leans.Room.HoldBack(t.Judge(&found, indicator.FixedTail)), leans, u)
	if f.roundness {
		r, err := found.Roundness(bearings, readings)
		if err != nil {
			return formError(err, label)
		}
		x = x.WithRoundness(&r)
	}
	return say(w, c, x)
}

// inOrder places n readings evenly in time, from −½ to ½.
func inOrder(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(i)/float64(max(1, n-1)) - 0.5
	}
	return out
}

// pointsVerb fits coordinates touched on a circle.
func pointsVerb(w world, c *common, f *fitFlags, pairs []pair, label string, d indicator.Dial, touch indicator.Touch,
	t setup.Target) error {
	u := c.typed()
	points := make([]geom.Point, len(pairs))
	for i, p := range pairs {
		points[i] = geom.Point{X: u.MM(p.a), Y: u.MM(p.b)}
	}
	l, err := indicator.Locate(d, points)
	if err != nil {
		return withHint(fmt.Errorf("%s: %w", label, err), "touch three places or more, spread over as much of the circle as can be reached")
	}
	var v indicator.Verdicts
	if t.WantsSwing() {
		r := l.Radius()
		v.Radius = indicator.Judge(indicator.Value{V: r.V - t.SwingRadius, U: r.U}, t.Tolerance, 1)
	}
	x := record.NewPoints(&l, points, v, u)
	if f.roundness {
		r, err := l.Roundness(points, touch)
		if err != nil {
			return formError(err, label)
		}
		x = x.WithRoundness(&r)
	}
	return say(w, c, x)
}

// formError says what the form of a surface needs.
func formError(err error, label string) error {
	return withHint(fmt.Errorf("%s: --roundness: %w", label, err), "take %d stations or more, spread all round, with no gap of half a turn",
		indicator.MinProfile)
}

// fitError names the file and says what to do.
func fitError(err error, label string, pairs []pair) error {
	var value *fit.ValueError
	var few *fit.TooFewError
	var outside *fit.OutsideError
	var singular *fit.SingularError
	wrapped := fmt.Errorf("%s: %w", label, err)
	switch {
	case errors.As(err, &value) && value.Index < len(pairs):
		p := pairs[value.Index]
		return withHint(fmt.Errorf("%s: reading %d: %g at %g degrees, need numbers that a dial and a ring can show", label, value.Index+1,
			p.b, p.a),
			"check the decimal marks and the order of the columns")
	case errors.As(err, &few):
		return withHint(fmt.Errorf("%s: %d readings at %w", label, len(pairs), err),
			"take readings at three bearings or more, spread round the circle")
	case errors.As(err, &outside):
		return withHint(wrapped, "check --touch, the reference's radius and the sign of the readings")
	case errors.As(err, &singular):
		return withHint(wrapped, "spread the stations over more of the circle")
	}
	return wrapped
}

// say prints one line as JSON or as text.
func say(w world, c *common, l lines.Line) error {
	if !c.json {
		_, err := fmt.Fprintln(w.out, l.Text())
		return err
	}
	return json.NewEncoder(escaping{w.out}).Encode(l)
}

// escaping passes on a line of JSON, escaped: see escapeRest. The line may be one of a million residuals, so the encoder's own is
// taken, and goes on in pieces, of which copies may be made on the way.
type escaping struct{ to io.Writer }

func (e escaping) Write(line []byte) (int, error) {
	for piece := range slices.Chunk(append(escapeRest(line[:len(line)-1]), '\n'), 64<<10) {
		if _, err := e.to.Write(piece); err != nil {
			return 0, err
		}
	}
	return len(line), nil
}
