package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// reachMethods names the verb's methods, in the order in which they are shown.
const reachMethods = "spin, pair, pin, cut, check, rock, null or origin"

func newReach(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "reach METHOD",
		Short: "find the reach of the tip, and what else a sweep cannot show",
		Long: `reach finds how far the tip stands from the spindle's axis: + away from the head
axis, - towards it. An error in it goes whole into the swing radius, and no sweep
shows it. Every method says what it found, with its budget, and the lines for the
job file.

Spindle off and isolated before a hand or an indicator goes near it; spin and
swing by hand only.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return misuse("reach without a method, need %s", reachMethods)
			}
			return misuse("reach %q, need %s", args[0], reachMethods)
		},
		RunE: func(*cobra.Command, []string) error { return nil }, // never: Args refuses
	}
	cmd.AddCommand(newReachSpin(w, c), newReachPair(w, c), newReachPin(w, c), newReachCut(w, c),
		newReachCheck(w, c), newReachRock(w, c), newReachNull(w, c), newReachOrigin(w, c))
	return cmd
}

// files refuses more files than a method reads.
func files(most int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > most {
			return misuse("reach %s: %d files, need at most %d", cmd.Name(), len(args), most)
		}
		return nil
	}
}

// sweptDial are the flags of what is known of the dial.
type sweptDial struct {
	graduation, revolution, repeatability, dialError number
	leverAngle, leverError, angleError               number
}

func (d *sweptDial) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	d.graduation, d.revolution, d.repeatability, d.dialError = positive(), positive(), positive(), positive()
	d.leverAngle, d.leverError, d.angleError = within(-75, 75, "degrees"), within(0, 45, "degrees"), within(0, 20, "degrees")
	fl.Var(&d.graduation, "graduation", "worth of one division of the dial")
	fl.Var(&d.revolution, "revolution", "dial travel of one turn of the needle")
	fl.Var(&d.repeatability, "repeatability", "standard deviation of one reading, where it is known")
	fl.Var(&d.dialError, "dial-error", "limit of the dial's own error, plus or minus")
	fl.Var(&d.leverAngle, "lever-angle", "angle between lever and surface, degrees")
	fl.Var(&d.leverError, "lever-angle-error", "limit of its error, plus or minus, degrees")
	fl.Var(&d.angleError, "angle-error", "standard uncertainty of a place's angle, degrees")
}

func (d *sweptDial) dial(u geom.Unit) indicator.Dial {
	return indicator.Dial{
		Graduation: u.MM(d.graduation.v), Revolution: u.MM(d.revolution.v), ReadsTo: indicator.DefaultReadsTo,
		Repeatability: u.MM(d.repeatability.v), ErrorLimit: u.MM(d.dialError.v),
		LeverAngle: float64(geom.FromDegrees(d.leverAngle.v)), LeverLimit: float64(geom.FromDegrees(d.leverError.v)), AngleError: float64(geom.FromDegrees(d.angleError.v)),
	}
}

func within(lo, hi float64, what string) number {
	return number{ok: func(x float64) bool { return x >= lo && x <= hi }, need: fmt.Sprintf("%v to %v %s", lo, hi, what)}
}

// choice is a flag that takes one of two words.
type choice struct {
	words [2]string
	at    int
	set   bool
}

func (c *choice) String() string {
	if !c.set {
		return ""
	}
	return c.words[c.at]
}

func (c *choice) Set(s string) error {
	for i, w := range c.words {
		if s == w {
			c.at, c.set = i, true
			return nil
		}
	}
	return fmt.Errorf("%q, need %s or %s", s, c.words[0], c.words[1])
}

func (c *choice) Type() string { return strings.Join(c.words[:], "|") }

// need refuses a method that lacks a flag.
func need(method string, flags ...any) error {
	for i := 0; i < len(flags); i += 2 {
		if !flags[i+1].(bool) {
			return misuse("reach %s without --%s, need it", method, flags[i])
		}
	}
	return nil
}

// sweep is one file of readings, in millimetres.
type sweep struct {
	label    string
	pairs    []pair
	bearings []geom.Bearing
	readings []float64
}

const evenUsage = "lines of one reading each, taken at even steps of one whole turn"

// readSweep reads lines of angle and reading, or, with even, of a reading each.
func readSweep(w world, name string, even bool, u geom.Unit) (s sweep, err error) {
	in, label, err := openInput(w, name)
	if err != nil {
		return s, err
	}
	defer in.Close()
	s.label = label
	if even {
		s.pairs, err = readColumn(in, label)
	} else {
		s.pairs, err = readPairs(in, label, "angle and reading")
	}
	if err != nil {
		return s, withHint(err, "each line holds an angle in degrees and a reading in %v, or with --even a reading alone; lines that begin with # are passed over", u)
	}
	for _, p := range s.pairs {
		s.bearings, s.readings = append(s.bearings, geom.FromDegrees(p.a)), append(s.readings, u.MM(p.b))
	}
	return s, nil
}

// readColumn reads one number a line, and gives them the angles of even steps.
func readColumn(r io.Reader, name string) ([]pair, error) {
	text, err := io.ReadAll(io.LimitReader(r, 1<<24))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var out []pair
	for i, line := range strings.Split(string(bytes.TrimPrefix(text, []byte("\ufeff"))), "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if len(line) > 80 {
			line = line[:80]
		}
		v, err := geom.ParseNumber(line)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, i+1, err)
		}
		out = append(out, pair{0, v})
	}
	for i := range out {
		out[i].a = 360 * float64(i) / float64(len(out))
	}
	return out, nil
}

// roundFlags are the ring or the plug.
type roundFlags struct{ ring, plug, err number }

func (r *roundFlags) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	r.ring, r.plug, r.err = positive(), positive(), positive()
	fl.Var(&r.ring, "ring", "radius of the ring")
	fl.Var(&r.plug, "plug", "radius of the plug")
	fl.Var(&r.err, "round-error", "limit of its error, plus or minus")
}

// one returns the round that is given, refusing both or none.
func (r *roundFlags) one(method string) (indicator.Round, float64, error) {
	switch {
	case r.ring.set == r.plug.set:
		return 0, 0, misuse("reach %s with both or neither of --ring and --plug, need one of them", method)
	case r.plug.set:
		return indicator.Plug, r.plug.v, nil
	}
	return indicator.Ring, r.ring.v, nil
}

// tipFlags find the zero radius: a reference swept about the head axis, by its readings or their mean.
type tipFlags struct {
	touch                     choice
	reference, referenceError number
	mean, meanError           number
	tipDiameter               number
	even                      bool
}

func touchChoice() choice { return choice{words: [2]string{"bore", "boss"}} }

func (t *tipFlags) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	t.touch = touchChoice()
	t.reference, t.referenceError, t.meanError, t.tipDiameter = positive(), positive(), positive(), positive()
	fl.Var(&t.touch, "touch", "bore (the tip inside) or boss (the tip outside)")
	fl.Var(&t.reference, "reference-radius", "radius of the reference that the head was swung over")
	fl.Var(&t.referenceError, "reference-radius-error", "limit of its error, plus or minus")
	fl.Var(&t.mean, "mean-reading", "mean reading round it, in the place of a FILE")
	fl.Var(&t.meanError, "mean-reading-error", "limit of its error, plus or minus")
	fl.Var(&t.tipDiameter, "tip-diameter", "diameter of the tip's ball")
	fl.BoolVar(&t.even, "even", false, evenUsage)
}

func (t *tipFlags) touches() indicator.Touch { return indicator.Touch(t.touch.at) }

// told spells an error of the library in the unit that was typed.
func told(err error, u geom.Unit) error {
	var in interface{ In(geom.Unit) string }
	if errors.As(err, &in) {
		return errors.New(in.In(u))
	}
	return err
}

const checkRadii = "check the radii, the unit, and the signs of the readings"

// swept is a zero radius, and the sweep it came from, if it did.
type swept struct {
	zero  indicator.Measure
	found *indicator.Found
	sweep sweep
}

// find returns the zero radius; nil where no reference is given.
func (t *tipFlags) find(w world, method string, d indicator.Dial, args []string, u geom.Unit) (*swept, error) {
	switch {
	case !t.reference.set && (t.mean.set || len(args) > 0):
		return nil, misuse("reach %s with readings and without --reference-radius, need what they were taken on", method)
	case !t.reference.set:
		return nil, nil
	case t.mean.set == (len(args) > 0):
		return nil, misuse("reach %s with both or neither of --mean-reading and a FILE, need one of them", method)
	case t.mean.set:
		z := indicator.MeanZero("reference", d, t.touches(), u.MM(t.reference.v), u.MM(t.referenceError.v), u.MM(t.mean.v), u.MM(t.meanError.v))
		return &swept{zero: z}, nil
	}
	s := indicator.Setup{Touch: t.touches(), ReferenceRadius: u.MM(t.reference.v), ReferenceLimit: u.MM(t.referenceError.v), TipDiameter: u.MM(t.tipDiameter.v)}
	return sweepZero(w, "reference", d, s, args[0], t.even, u)
}

// sweepZero fits a file of readings on a reference.
func sweepZero(w world, name string, d indicator.Dial, s indicator.Setup, file string, even bool, u geom.Unit) (*swept, error) {
	in, err := readSweep(w, file, even, u)
	if err != nil {
		return nil, err
	}
	f, err := indicator.Fit(d, s, in.bearings, in.readings)
	if err != nil {
		return nil, fitError(err, in.label, in.pairs)
	}
	return &swept{f.Zero(name), &f, in}, nil
}
