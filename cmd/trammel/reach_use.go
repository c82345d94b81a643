package main

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
)

func newReachCheck(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "check --touch bore|boss --reference-radius R --reach T --scale R [FILE | --mean-reading M]",
		Short: "which sign of the reach agrees with the slide's scale",
		Long: `A wrong sign of the reach is wrong by twice the reach in every swing radius, and no
sweep shows it. check says what the sweep makes of either sign, what the first wind
would be, and which of the two contradicts the swing radius by the slide's scale or
collar (--scale, to --scale-error, 1 mm unless set).`,
		Args: files(1),
	}
	reach := reachFlag(cmd, "the reach that is doubted, with its sign")
	scale := length(cmd, "scale", "swing radius by the slide's scale or collar")
	scaleErr := length(cmd, "scale-error", "limit of its error, plus or minus (default 1 mm)")
	target := length(cmd, "target", "swing radius to reach, for the first wind")
	t, d := putReference(cmd), putDial(cmd)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := need("reach check", t.touch, t.reference, reach, scale); err != nil {
			return err
		}
		u := c.typed()
		s, err := t.find(w, "check", d.dial(u), args, u)
		if err != nil {
			return err
		}
		limit := 1.0 // a scale read by eye (common practice, no source)
		if scaleErr.set {
			limit = u.MM(scaleErr.v)
		}
		return say(w, c, record.NewCheck(s.zero.Value(), u.MM(reach.v), indicator.Value{V: u.MM(scale.v), U: limit}, u.MM(target.v), u))
	}
	return cmd
}

// beforeAxis refuses a reach that would put the tip on the head axis, or beyond it.
func beforeAxis(swing, reach *number) error {
	if swing.v+reach.v > 0 {
		return nil
	}
	return withHint(fmt.Errorf("reach %v puts the tip beyond the head axis at a swing radius of %v, need more than %v", reach.v, swing.v,
		-swing.v),
		"+ is away from the head axis, - towards it")
}

func newReachRock(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "rock --touch bore|boss --swing R --reach T [--off-line DEGREES] [FILE | -]",
		Short: "which reading is the turning point, what a tip off the line does",
		Long: `Rocking the locked-off spindle to and fro finds the place where the tip lies on the
radial line: the needle turns back there. rock says at which extreme, what a tip
--off-line does to the swing radius, and, from three lines of "angle reading" taken
while rocking, where the needle turns and which sign of the reach that proves.
Spindle off and isolated.`,
		Args: files(1),
	}
	touch := putTouch(cmd, touchUse)
	swing := length(cmd, "swing", "swing radius, as far as it is known")
	reach := reachFlag(cmd, "reach, with its sign")
	ball := putTip(cmd)
	off := put(cmd, "off-line", "angle by which the tip is off the radial line, degrees", degrees(-90, 90))
	sd := length(cmd, "repeatability", "standard deviation of one reading, where it is known")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := need("reach rock", touch, swing, reach); err != nil {
			return err
		}
		if err := beforeAxis(swing, reach); err != nil {
			return err
		}
		u := c.typed()
		s := indicator.Setup{Touch: touch.v, Reach: u.MM(reach.v), ReachKnown: true, TipDiameter: u.MM(ball.v)}
		seen, err := readRocked(w, args, u, u.MM(sd.v))
		if err != nil {
			return err
		}
		return say(w, c, record.NewRock(s, u.MM(swing.v), radians(off), seen, u))
	}
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
		return nil, withHint(fmt.Errorf("%s: %d readings, need 3", in.label, len(in.readings)),
			"one reading about the turning point, and one well to either side of it")
	}
	r, err := indicator.Rock([3]geom.Bearing(in.bearings), [3]float64(in.readings), sigma)
	if err != nil {
		return nil, withHint(fmt.Errorf("%s: %w", in.label, told(err, u)), "rock farther to either side, and read three places well apart")
	}
	return &r, nil
}

func newReachNull(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "null --touch bore|boss --swing R [--reach T] [--gauges R,R,…]",
		Short: "the gauge, or the reach, that makes the dial read zero",
		Long: `At the target the dial reads zero on a reference of radius R + T, in a bore and round
a boss alike; there the errors of lever and scale vanish. --gauges lists the radii at
hand: what each would read, which is nearest to zero inside the dial's --range, and to
which reach the tip would have to be set for each.`,
		Args: files(0),
	}
	touch := putTouch(cmd, touchUse)
	swing := length(cmd, "swing", "target swing radius")
	reach := reachFlag(cmd, "reach, with its sign; left out where the tip is still to be set")
	gauges := put(cmd, "gauges", "radii of the references at hand, with commas (or semicolons) between", numbers())
	travel := length(cmd, "range", "the dial's total travel, zero in the middle")
	lever := putLever(cmd)
	cmd.RunE = func(*cobra.Command, []string) error {
		if err := need("reach null", touch, swing); err != nil {
			return err
		}
		u := c.typed()
		t := math.NaN()
		switch {
		case reach.set:
			if err := beforeAxis(swing, reach); err != nil {
				return err
			}
			t = u.MM(reach.v)
		case len(gauges.v) == 0:
			return misuse("reach null without --reach or --gauges, need it")
		}
		d := indicator.Dial{From: -u.MM(travel.v) / 2, To: u.MM(travel.v) / 2, LeverAngle: radians(lever)}
		radii := make([]float64, len(gauges.v))
		for i, g := range gauges.v {
			radii[i] = u.MM(g)
		}
		x := record.NewNull(d, touch.v, u.MM(swing.v), t, radii, u)
		if reach.set && len(radii) > 0 && x.Best == nil {
			return withHint(noGauge(&x, travel.v), "at hand is none of radius %.6g %v; or set the reach anew: leave out --reach to "+
				"see to what", float64(x.Reference), u)
		}
		return say(w, c, x)
	}
	return cmd
}

// noGauge names the gauge that comes nearest, and what it would read.
func noGauge(x *record.Null, travel float64) error {
	near := x.Gauges[0]
	for _, g := range x.Gauges {
		if math.Abs(float64(g.Reading)) < math.Abs(float64(near.Reading)) {
			near = g
		}
	}
	return fmt.Errorf("no gauge keeps the needle on the dial: radius %.6g would read %.4g %v, need %.4g to %.4g %v", float64(near.Radius),
		float64(near.Reading), x.Unit, -travel/2, travel/2, x.Unit)
}

func newReachOrigin(w world, c *common) *cobra.Command {
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
	}
	r := putRound(cmd)
	slide := signed(cmd, "slide-bearing", "bearing in which the slide carries the spindle outwards, degrees")
	slideErr := put(cmd, "slide-bearing-error", "limit of the angle between it and the sweeps' bearings, plus or minus, degrees",
		degrees(0, 45))
	at := signed(cmd, "slide-at", "where the slide's collar or readout stands")
	swing := length(cmd, "swing", "swing radius at which to say how far the miss turns the arc")
	even, d := putEven(cmd, ", from bearing 0 on"), putDial(cmd)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := need("reach origin", slide); err != nil {
			return err
		}
		round, radius, err := r.one("origin")
		if err != nil {
			return err
		}
		if len(args) != 2 {
			return misuse("reach origin needs two files, of the spin and of the swing, seen %d", len(args))
		}
		if err := twoInputs(args); err != nil {
			return err
		}
		u := c.typed()
		s := indicator.Setup{ReferenceRadius: u.MM(radius)}
		if round == indicator.Plug {
			s.Touch = indicator.Boss
		}
		var found [2]*swept
		for i, name := range [2]string{"spin", "swing"} {
			if found[i], err = sweepZero(w, name, d.dial(u), s, args[i], *even, u); err != nil {
				return err
			}
		}
		o := indicator.FindOrigin(found[0].found, found[1].found, geom.FromDegrees(slide.v), radians(slideErr))
		stands := math.NaN()
		if at.set {
			stands = u.MM(at.v)
		}
		return originVerb(w, c, o, stands, found, u, swing)
	}
	return cmd
}

func originVerb(w world, c *common, o indicator.Origin, stands float64, found [2]*swept, u geom.Unit, swing *number) error {
	x := record.NewOrigin(o, stands, u)
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
