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
	"example.org/trammel/indicator/check"
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
	graduation, revolution, repeatability, dialError *number
	leverAngle, leverError, angleError               *number
}

func putDial(cmd *cobra.Command) *sweptDial {
	return &sweptDial{
		graduation:    length(cmd, "graduation", "worth of one division of the dial"),
		revolution:    length(cmd, "revolution", "dial travel of one turn of the needle"),
		repeatability: length(cmd, "repeatability", "standard deviation of one reading, where it is known"),
		dialError:     length(cmd, "dial-error", "limit of the dial's own error, plus or minus"),
		leverAngle:    putLever(cmd),
		leverError:    put(cmd, "lever-angle-error", "limit of its error, plus or minus, degrees", degrees(0, 45)),
		angleError:    put(cmd, "angle-error", "standard uncertainty of a place's angle, degrees", degrees(0, 20)),
	}
}

func (d *sweptDial) dial(u geom.Unit) indicator.Dial {
	return indicator.Dial{
		Graduation: u.MM(d.graduation.v), Revolution: u.MM(d.revolution.v), ReadsTo: indicator.DefaultReadsTo,
		Repeatability: u.MM(d.repeatability.v), ErrorLimit: u.MM(d.dialError.v),
		LeverAngle: radians(d.leverAngle), LeverLimit: radians(d.leverError), AngleError: radians(d.angleError),
	}
}

// radians is an angle that was given in degrees.
func radians(f *number) float64 { return float64(geom.FromDegrees(f.v)) }

func putLever(cmd *cobra.Command) *number {
	return put(cmd, "lever-angle", "angle between lever and surface, degrees", degrees(-75, 75))
}

func putTip(cmd *cobra.Command) *number {
	return length(cmd, "tip-diameter", "diameter of the tip's ball")
}

func putTouch(cmd *cobra.Command, use string) *value[indicator.Touch] {
	return put(cmd, "touch", use, either([2]string{"bore", "boss"}, [2]indicator.Touch{indicator.Bore, indicator.Boss}))
}

const touchUse = "bore (the tip inside) or boss (the tip outside)"

func putMetal(cmd *cobra.Command, use string) *value[check.Side] {
	return put(cmd, "metal", use, either([2]string{"inside", "outside"}, [2]check.Side{check.Inside, check.Outside}))
}

func putEven(cmd *cobra.Command, more string) *bool {
	return cmd.Flags().Bool("even", false, "lines of one reading each, taken at even steps of one whole turn"+more)
}

// sweep is one file of readings, in millimetres.
type sweep struct {
	label    string
	pairs    []pair
	bearings []geom.Bearing
	readings []float64
}

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
		return s, withHint(err, "each line holds an angle in degrees and a reading in %v, or with --even a reading alone; lines that "+
			"begin with # are passed over", u)
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
type roundFlags struct{ ring, plug, err *number }

func putRound(cmd *cobra.Command) *roundFlags {
	return &roundFlags{ring: length(cmd, "ring", "radius of the ring"), plug: length(cmd, "plug", "radius of the plug"),
		err: length(cmd, "round-error", "limit of its error, plus or minus")}
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
	touch                     *value[indicator.Touch]
	reference, referenceError *number
	mean, meanError           *number
	tipDiameter               *number
	even                      *bool
}

func putReference(cmd *cobra.Command) *tipFlags {
	return &tipFlags{
		touch:          putTouch(cmd, touchUse),
		reference:      length(cmd, "reference-radius", "radius of the reference that the head was swung over"),
		referenceError: length(cmd, "reference-radius-error", "limit of its error, plus or minus"),
		mean:           signed(cmd, "mean-reading", "mean reading round it, in the place of a FILE"),
		meanError:      length(cmd, "mean-reading-error", "limit of its error, plus or minus"),
		tipDiameter:    putTip(cmd),
		even:           putEven(cmd, ""),
	}
}

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
	found *indicator.Estimate
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
		m := indicator.Mean{Dial: d, Touch: t.touch.v, Radius: u.MM(t.reference.v), RadiusLimit: u.MM(t.referenceError.v),
			Reading: u.MM(t.mean.v), ReadingLimit: u.MM(t.meanError.v)}
		return &swept{zero: m.Zero("reference")}, nil
	}
	s := indicator.Setup{Touch: t.touch.v, ReferenceRadius: u.MM(t.reference.v), ReferenceLimit: u.MM(t.referenceError.v),
		TipDiameter: u.MM(t.tipDiameter.v)}
	return sweepZero(w, "reference", d, s, args[0], *t.even, u)
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
