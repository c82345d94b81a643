package main

import (
	"errors"
	"math"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
	"example.org/trammel/indicator/record"
)

// rocked is what every way with a dial asks for first.
const rocked = "rock the spindle to the turning point first (reach rock): a tip off the radial line is one-sided, and no mean takes it out"

func newReachSpin(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "spin --touch bore|boss --way in|out --ring R | --plug R [FILE | -]",
		Short: "spin the spindle, tip against a ring or a plug: the reach",
		Long: `The head stands still; the cutter spindle is spun by hand, the tip running in a
ring or on a plug that stands about true to it. Lines of "angle reading": where
the tip points, and what the dial shows there. A ring is needed for a bore with
the tip out and for a boss with the tip in, a plug for the other two.
Spindle off and isolated.`,
		Args: files(1),
	}
	touch := putTouch(cmd, "how the reach will be used: bore (the tip inside) or boss (the tip outside)")
	way := put(cmd, "way", "where the tip stands: out (away from the head axis) or in (towards it)",
		either([2]string{"out", "in"}, [2]indicator.Way{indicator.TipOut, indicator.TipIn}))
	r, ball, even, d := putRound(cmd), putTip(cmd), putEven(cmd, ""), putDial(cmd)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := need("reach spin", touch, way); err != nil {
			return err
		}
		u := c.typed()
		s := indicator.Spin{Dial: d.dial(u), Touch: touch.v, Way: way.v, RadiusLimit: u.MM(r.err.v), TipDiameter: u.MM(ball.v)}
		if !r.ring.set && !r.plug.set {
			return misuse("reach spin without a round, need --%v R", indicator.RoundFor(s.Touch, s.Way))
		}
		round, radius, err := r.one("spin")
		if err != nil {
			return err
		}
		s.Round, s.Radius = round, u.MM(radius)
		if err := wrongRound(&s, u); err != nil {
			return err
		}
		return spinVerb(w, c, s, append(args, "-")[0], *even)
	}
	return cmd
}

// wrongRound refuses the round that the tip would touch with its other side, with what it would cost.
func wrongRound(s *indicator.Spin, u geom.Unit) error {
	err := indicator.CheckRound(s.Touch, s.Way, s.Round)
	var wrong *indicator.WrongRoundError
	if !errors.As(err, &wrong) {
		return err
	}
	cost := "by a whole diameter of the tip's ball"
	if s.TipDiameter > 0 {
		p := geom.Places(0, u)
		cost = "by the tip's whole diameter, " + geom.FormatSigned(u.From(wrong.SwingError(s.TipDiameter)), p) + " " + u.String()
	}
	return withHint(&useError{err}, "the ball's other side would touch, and every swing radius come out wrong %s; use --%v R", cost,
		indicator.RoundFor(s.Touch, s.Way))
}

func spinVerb(w world, c *common, s indicator.Spin, name string, even bool) error {
	u := c.typed()
	in, err := readSweep(w, name, even, u)
	if err != nil {
		return err
	}
	reach, f, err := s.Reach(in.bearings, in.readings)
	if err != nil {
		return reachError(err, &in, u)
	}
	formula := map[indicator.Round]string{indicator.Ring: "|t| = ρ + g·m̄ (ring)", indicator.Plug: "|t| = ρ − g·m̄ (plug)"}[s.Round]
	x := record.NewReach("spin", formula, s.Touch, reach, indicator.Measure{V: math.NaN()}, u)
	return say(w, c, x.Sweep(s.Round.String(), &f, in.bearings, in.readings).Say())
}

// reachError says what to do about a length that cannot be.
func reachError(err error, in *sweep, u geom.Unit) error {
	var place *indicator.PlaceError
	if errors.As(err, &place) {
		return withHint(told(err, u), checkRadii)
	}
	return fitError(err, in.label, in.pairs)
}

// pairFlags are the two rounds of a pair, each with its error and its mean reading; the ring first.
type pairFlags struct {
	radius, err, mean [2]*number
	meanError, ball   *number
	even              *bool
	dial              *sweptDial
}

func putPair(cmd *cobra.Command) *pairFlags {
	return &pairFlags{
		radius: [2]*number{length(cmd, "ring", "radius of the ring"), length(cmd, "plug", "radius of the plug")},
		err: [2]*number{length(cmd, "ring-error", "limit of the ring's error, plus or minus"),
			length(cmd, "plug-error", "limit of the plug's error, plus or minus")},
		mean: [2]*number{signed(cmd, "ring-mean", "mean reading in the ring, in the place of a file"),
			signed(cmd, "plug-mean", "mean reading on the plug, in the place of a file")},
		meanError: length(cmd, "mean-error", "limit of a mean reading's error, plus or minus"),
		ball:      putTip(cmd), even: putEven(cmd, ""), dial: putDial(cmd),
	}
}

// check refuses what does not go together, and says whether the mean readings stand for files.
func (f *pairFlags) check(args []string) (means bool, err error) {
	means = f.mean[0].set && f.mean[1].set
	switch {
	case !f.radius[0].set || !f.radius[1].set:
		return means, misuse("reach pair needs both --ring and --plug")
	case f.mean[0].set != f.mean[1].set, means == (len(args) > 0), len(args) == 1:
		return means, misuse("reach pair needs two files, or --ring-mean and --plug-mean")
	}
	return means, twoInputs(args)
}

// twoInputs refuses to read two files from standard input.
func twoInputs(args []string) error {
	if len(args) == 2 && args[0] == "-" && args[1] == "-" {
		return misuse("both files from standard input, need one of them by name")
	}
	return nil
}

func newReachPair(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "pair --ring R --plug R [RING-FILE PLUG-FILE]",
		Short: "a ring, then half a turn and a plug: reach and swing radius",
		Long: `The head is swung in a ring; then, the slide left alone and locked, the spindle is
turned half round and the head swung round a plug. Half the sum of both zero radii is
the swing radius, half their difference the reach. Two files of "angle reading", or
--ring-mean and --plug-mean. Rock to the turning point before either sweep.
Spindle off and isolated.`,
		Args: files(2),
	}
	f := putPair(cmd)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		means, err := f.check(args)
		if err != nil {
			return err
		}
		u := c.typed()
		dial, found := f.dial.dial(u), [2]*swept{}
		for i, touch := range [2]indicator.Touch{indicator.Bore, indicator.Boss} {
			name := indicator.Round(i).String()
			radius, limit := u.MM(f.radius[i].v), u.MM(f.err[i].v)
			if means {
				mean := indicator.Mean{Dial: dial, Touch: touch, Radius: radius, RadiusLimit: limit, Reading: u.MM(f.mean[i].v),
					ReadingLimit: u.MM(f.meanError.v)}
				found[i] = &swept{zero: mean.Zero(name)}
				continue
			}
			s := indicator.Setup{Touch: touch, ReferenceRadius: radius, ReferenceLimit: limit, TipDiameter: u.MM(f.ball.v)}
			if found[i], err = sweepZero(w, name, dial, s, args[i], *f.even, u); err != nil {
				return err
			}
		}
		return pairVerb(w, c, found, u)
	}
	return cmd
}

func pairVerb(w world, c *common, found [2]*swept, u geom.Unit) error {
	reach, swing := indicator.PairReach(found[0].zero, found[1].zero)
	for _, p := range []indicator.PlaceError{{What: "swing radius", V: swing.V}, {What: "tip to the head axis in the ring",
		V: found[0].zero.V}, {What: "tip to the head axis at the plug", V: found[1].zero.V}} {
		if !(p.V > 0) {
			return withHint(told(&p, u), checkRadii)
		}
	}
	x := record.NewReach("pair", "R = (ρ₁ + ρ₂ + g(m̄₁ − m̄₂))/2, t = (ρ₁ − ρ₂ + g(m̄₁ + m̄₂))/2", indicator.Bore, reach, swing, u)
	for i, s := range found {
		if s.found != nil {
			x = x.Sweep(indicator.Round(i).String(), s.found, s.sweep.bearings, s.sweep.readings)
		}
	}
	return say(w, c, x.Say("this is the reach as it stood in the ring; turned half round, for a boss, it has the other sign", rocked))
}

func newReachPin(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "pin --difference D [--reference-radius R FILE]",
		Short: "a ground pin, opposite swings, a readout: the swing radius",
		Long: `A ground pin in the spindle meets an indicator that stands still. Swing the head
to where the pin presses most, bring the needle to zero by the slide with the readout,
and note the readout; swing the head half round, bring the needle to the same figure
on the same side of the pin. The readout's difference is twice the swing radius. With
a sweep taken at that place of the slide it gives the reach too.
Spindle off and isolated.`,
		Args: files(1),
	}
	diff := length(cmd, "difference", "difference of the readout between the two swings")
	diffErr := length(cmd, "difference-error", "limit of its error, plus or minus")
	step := length(cmd, "resolution", "what the readout counts in")
	runout := length(cmd, "pin-runout", "total indicator reading of the pin, the spindle turning")
	t, d := putReference(cmd), putDial(cmd)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := need("reach pin", diff); err != nil {
			return err
		}
		u := c.typed()
		dial := d.dial(u)
		p := indicator.Pin{Dial: dial, Difference: u.MM(diff.v), DifferenceLimit: u.MM(diffErr.v), Resolution: u.MM(step.v),
			Runout: u.MM(runout.v)}
		swing, err := p.Swing()
		if err != nil {
			return withHint(told(err, u), checkRadii)
		}
		return swungVerb(w, c, "pin", "R = difference/2", t, dial, swing, args,
			"at both ends rock the head to the turning point: past the readout's line by 1° the swing radius comes out 0.015 % small")
	}
	return cmd
}

func newReachCut(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "cut --arc-radius R --cutter D --metal inside|outside [--reference-radius R FILE]",
		Short: "a trial cut, measured: the swing radius, and the reach",
		Long: `The radius of an arc that has been cut, the cutter's diameter and the side of the
metal (inside: a boss, a convex rim; outside: a hollow) give the swing radius that cut
it. With the sweep that was taken before the cut, the slide not moved since, it gives
the reach.`,
		Args: files(1),
	}
	arc := length(cmd, "arc-radius", "radius of the arc that was cut")
	arcErr := length(cmd, "arc-radius-error", "limit of its error, plus or minus")
	cutter := length(cmd, "cutter", "diameter that the cutter cuts")
	cutterErr := length(cmd, "cutter-error", "limit of its error, plus or minus")
	metal := putMetal(cmd, "side of the arc that the metal is on: inside or outside")
	t, d := putReference(cmd), putDial(cmd)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := need("reach cut", arc, cutter, metal); err != nil {
			return err
		}
		u := c.typed()
		k := indicator.Cut{Arc: u.MM(arc.v), ArcLimit: u.MM(arcErr.v), Cutter: u.MM(cutter.v), CutterLimit: u.MM(cutterErr.v),
			MetalInside: metal.v == check.Inside}
		swing, err := k.Swing()
		if err != nil {
			return withHint(told(err, u), "a hollow must be larger than the cutter; check --metal")
		}
		formula := "R = r + D/2 (metal inside the arc)"
		if !k.MetalInside {
			formula = "R = r − D/2 (metal outside the arc)"
		}
		return swungVerb(w, c, "cut", formula, t, d.dial(u), swing, args, "the slide must not have moved between the sweep and the cut")
	}
	return cmd
}

// swungVerb says a swing radius found without the reach and, where a sweep was taken too, the reach.
func swungVerb(w world, c *common, method, formula string, t *tipFlags, d indicator.Dial, swing indicator.Measure, args []string,
	note string) error {
	u := c.typed()
	s, err := t.find(w, method, d, args, u)
	if err != nil {
		return err
	}
	if s == nil {
		return say(w, c, record.NewReach(method, formula, indicator.Bore, indicator.Measure{V: math.NaN()}, swing, u).Say(note))
	}
	if !t.touch.set {
		return misuse("reach %s with a reference and without --touch, need bore or boss", method)
	}
	if !(s.zero.V > 0) {
		return withHint(told(&indicator.PlaceError{What: "tip to the head axis", V: s.zero.V}, u), checkRadii)
	}
	x := record.NewReach(method, formula+", t = z − R", t.touch.v, indicator.ReachAt(s.zero, swing), swing, u)
	if s.found != nil {
		x = x.Sweep("reference", s.found, s.sweep.bearings, s.sweep.readings)
	}
	return say(w, c, x.Say(note, rocked))
}
