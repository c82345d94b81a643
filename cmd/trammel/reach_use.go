package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
)

func newReachCheck(w world, c *common) *cobra.Command {
	var d sweptDial
	var t tipFlags
	var reach number
	scale, scaleErr, target := positive(), positive(), positive()
	cmd := &cobra.Command{
		Use:   "check --touch bore|boss --reference-radius R --reach T --scale R [FILE | --mean-reading M]",
		Short: "which sign of the reach agrees with the slide's scale",
		Long: `A wrong sign of the reach is wrong by twice the reach in every swing radius, and no
sweep shows it. check says what the sweep makes of either sign, what the first wind
would be, and which of the two contradicts the swing radius by the slide's scale or
collar (--scale, to --scale-error, 1 mm unless set).`,
		Args: files(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := need("check", "touch", t.touch.set, "reference-radius", t.reference.set, "reach", reach.set, "scale", scale.set); err != nil {
				return err
			}
			u := c.unit.or(geom.Millimetre)
			s, err := t.find(w, "check", d.dial(u), args, u)
			if err != nil {
				return err
			}
			limit := 1.0 // a scale read by eye (common practice, no source)
			if scaleErr.set {
				limit = u.MM(scaleErr.v)
			}
			return say(w, c, lines.NewCheck(s.zero.Value(), u.MM(reach.v), indicator.Value{V: u.MM(scale.v), U: limit}, u.MM(target.v), u))
		},
	}
	fl := cmd.Flags()
	fl.Var(&reach, "reach", "the reach that is doubted, with its sign")
	fl.Var(&scale, "scale", "swing radius by the slide's scale or collar")
	fl.Var(&scaleErr, "scale-error", "limit of its error, plus or minus (default 1 mm)")
	fl.Var(&target, "target", "swing radius to reach, for the first wind")
	t.add(cmd)
	d.add(cmd)
	return cmd
}

func newReachRock(w world, c *common) *cobra.Command {
	touch := touchChoice()
	var reach number
	swing, ball, off, sd := positive(), positive(), within(-90, 90, "degrees"), positive()
	cmd := &cobra.Command{
		Use:   "rock --touch bore|boss --swing R --reach T [--off-line DEGREES] [FILE | -]",
		Short: "which reading is the turning point, what a tip off the line does",
		Long: `Rocking the locked-off spindle to and fro finds the place where the tip lies on the
radial line: the needle turns back there. rock says at which extreme, what a tip
--off-line does to the swing radius, and, from three lines of "angle reading" taken
while rocking, where the needle turns and which sign of the reach that proves.
Spindle off and isolated.`,
		Args: files(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := need("rock", "touch", touch.set, "swing", swing.set, "reach", reach.set); err != nil {
				return err
			}
			u := c.unit.or(geom.Millimetre)
			s := indicator.Setup{Touch: indicator.Touch(touch.at), Reach: u.MM(reach.v), ReachKnown: true, TipDiameter: u.MM(ball.v)}
			if !(swing.v+reach.v > 0) {
				return withHint(fmt.Errorf("reach %v puts the tip beyond the head axis at a swing radius of %v, need more than %v", reach.v, swing.v, -swing.v), "+ is away from the head axis, - towards it")
			}
			seen, err := readRocked(w, args, u, u.MM(sd.v))
			if err != nil {
				return err
			}
			return say(w, c, lines.NewRock(s, u.MM(swing.v), float64(geom.FromDegrees(off.v)), seen, u))
		},
	}
	fl := cmd.Flags()
	fl.Var(&touch, "touch", "bore (the tip inside) or boss (the tip outside)")
	fl.Var(&swing, "swing", "swing radius, as far as it is known")
	fl.Var(&reach, "reach", "reach, with its sign")
	fl.Var(&ball, "tip-diameter", "diameter of the tip's ball")
	fl.Var(&off, "off-line", "angle by which the tip is off the radial line, degrees")
	fl.Var(&sd, "repeatability", "standard deviation of one reading, where it is known")
	return cmd
}

// readRocked reads three lines of angle and reading, if a file is named.
func readRocked(w world, args []string, u geom.Unit, sigma float64) (*indicator.Rocked, error) {
	if len(args) == 0 {
		return nil, nil
	}
	in, err := readSweep(w, args[0], false, u)
	if err != nil {
		return nil, err
	}
	if len(in.readings) != 3 {
		return nil, withHint(fmt.Errorf("%s: %d readings, need 3", in.label, len(in.readings)), "one reading about the turning point, and one well to either side of it")
	}
	r, err := indicator.Rock([3]geom.Bearing(in.bearings), [3]float64(in.readings), sigma)
	if err != nil {
		return nil, withHint(fmt.Errorf("%s: %w", in.label, told(err, u)), "rock farther to either side, and read three places well apart")
	}
	return &r, nil
}

// numbers is a flag that takes a list of numbers above 0.
type numbers struct{ all []float64 }

func (n *numbers) String() string { return strings.Trim(fmt.Sprint(n.all), "[]") }

// Set splits at semicolons or spaces, so that decimal commas can stand between them, or else at commas.
func (n *numbers) Set(s string) error {
	split := strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == ' ' })
	if len(split) == 1 {
		split = strings.Split(s, ",")
	}
	n.all = nil
	for _, word := range split {
		v, err := geom.ParseNumber(word)
		if err != nil {
			return err
		}
		if !(v > 0) {
			return fmt.Errorf("%v, need a number above 0", v)
		}
		n.all = append(n.all, v)
	}
	return nil
}

func (n *numbers) Type() string { return "numbers" }

func newReachNull(w world, c *common) *cobra.Command {
	touch := touchChoice()
	var reach number
	var gauges numbers
	swing, travel, lever := positive(), positive(), within(-75, 75, "degrees")
	cmd := &cobra.Command{
		Use:   "null --touch bore|boss --swing R [--reach T] [--gauges R,R,…]",
		Short: "the gauge, or the reach, that makes the dial read zero",
		Long: `At the target the dial reads zero on a reference of radius R + T, in a bore and round
a boss alike; there the errors of lever and scale vanish. --gauges lists the radii at
hand: what each would read, which is nearest to zero inside the dial's --range, and to
which reach the tip would have to be set for each.`,
		Args: files(0),
		RunE: func(*cobra.Command, []string) error {
			if err := need("null", "touch", touch.set, "swing", swing.set, "reach or --gauges", reach.set || len(gauges.all) > 0); err != nil {
				return err
			}
			u := c.unit.or(geom.Millimetre)
			t := math.NaN()
			if reach.set {
				t = u.MM(reach.v)
			}
			if reach.set && !(swing.v+reach.v > 0) {
				return withHint(fmt.Errorf("reach %v puts the tip beyond the head axis at a swing radius of %v, need more than %v", reach.v, swing.v, -swing.v), "+ is away from the head axis, - towards it")
			}
			d := indicator.Dial{From: -u.MM(travel.v) / 2, To: u.MM(travel.v) / 2, LeverAngle: float64(geom.FromDegrees(lever.v))}
			radii := make([]float64, len(gauges.all))
			for i, g := range gauges.all {
				radii[i] = u.MM(g)
			}
			x := lines.NewNull(d, indicator.Touch(touch.at), u.MM(swing.v), t, radii, u)
			if reach.set && len(radii) > 0 && x.Best == nil {
				return withHint(noGauge(&x, travel.v), "at hand is none of radius %.6g %v; or set the reach anew: leave out --reach to see to what", float64(x.Reference), u)
			}
			return say(w, c, x)
		},
	}
	fl := cmd.Flags()
	fl.Var(&touch, "touch", "bore (the tip inside) or boss (the tip outside)")
	fl.Var(&swing, "swing", "target swing radius")
	fl.Var(&reach, "reach", "reach, with its sign; left out where the tip is still to be set")
	fl.Var(&gauges, "gauges", "radii of the references at hand, with commas (or semicolons) between")
	fl.Var(&travel, "range", "the dial's total travel, zero in the middle")
	fl.Var(&lever, "lever-angle", "angle between lever and surface, degrees")
	return cmd
}

// noGauge names the gauge that comes nearest, and what it would read.
func noGauge(x *lines.Null, travel float64) error {
	near := x.Gauges[0]
	for _, g := range x.Gauges {
		if math.Abs(float64(g.Reading)) < math.Abs(float64(near.Reading)) {
			near = g
		}
	}
	return fmt.Errorf("no gauge keeps the needle on the dial: radius %.6g would read %.4g %v, need %.4g to %.4g %v", float64(near.Radius), float64(near.Reading), x.Unit, -travel/2, travel/2, x.Unit)
}

func newReachOrigin(w world, c *common) *cobra.Command {
	var d sweptDial
	var r roundFlags
	var slide, at number
	slideErr, swing := within(0, 45, "degrees"), positive()
	even := false
	cmd := &cobra.Command{
		Use:   "origin --ring R | --plug R --slide-bearing DEGREES SPIN-FILE SWING-FILE",
		Short: "where the offset slide's line passes the head axis",
		Long: `With the slide near zero swing radius, in one ring that stays where it is: spin the
spindle with the head parked, then lock the spindle with its tip along the slide and
swing the head. Two files of "angle reading", the angle being the bearing in which the
tip points. The centres differ by how far the slide stands beyond the place nearest to
the head axis, and by how far its line misses it: + to the left of its direction.
--slide-bearing is where the slide carries the spindle, the head parked as for the
spin. Spindle off and isolated; spin and swing by hand.`,
		Args: files(2),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := need("origin", "slide-bearing", slide.set); err != nil {
				return err
			}
			round, radius, err := r.one("origin")
			switch {
			case err != nil:
				return err
			case len(args) != 2:
				return misuse("reach origin needs two files, of the spin and of the swing, seen %d", len(args))
			case args[0] == "-" && args[1] == "-":
				return misuse("both files from standard input, need one of them by name")
			}
			u := c.unit.or(geom.Millimetre)
			s := indicator.Setup{ReferenceRadius: u.MM(radius)}
			if round == indicator.Plug {
				s.Touch = indicator.Boss
			}
			var found [2]*swept
			for i, name := range [2]string{"spin", "swing"} {
				if found[i], err = sweepZero(w, name, d.dial(u), s, args[i], even, u); err != nil {
					return err
				}
			}
			o := indicator.FindOrigin(found[0].found, found[1].found, geom.FromDegrees(slide.v), float64(geom.FromDegrees(slideErr.v)))
			stands := math.NaN()
			if at.set {
				stands = u.MM(at.v)
			}
			return originVerb(w, c, o, stands, found, u, swing)
		},
	}
	fl := cmd.Flags()
	r.add(cmd)
	fl.Var(&slide, "slide-bearing", "bearing in which the slide carries the spindle outwards, degrees")
	fl.Var(&slideErr, "slide-bearing-error", "limit of the angle between it and the sweeps' bearings, plus or minus, degrees")
	fl.Var(&at, "slide-at", "where the slide's collar or readout stands")
	fl.Var(&swing, "swing", "swing radius at which to say how far the miss turns the arc")
	fl.BoolVar(&even, "even", false, evenUsage+", from bearing 0 on")
	d.add(cmd)
	return cmd
}

func originVerb(w world, c *common, o indicator.Origin, stands float64, found [2]*swept, u geom.Unit, swing number) error {
	x := lines.NewOrigin(o, stands, u)
	for i, name := range [2]string{"spin", "swing"} {
		x = x.Sweep(name, found[i].found, found[i].sweep.bearings, found[i].sweep.readings)
	}
	if swing.set {
		var err error
		if x, err = x.At(o.Miss.V, u.MM(swing.v)); err != nil {
			return withHint(told(err, u), "no place of the slide has that swing radius")
		}
	}
	return say(w, c, x.Say())
}
