package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// checkFlags are the flags of the verb check, by name.
type checkFlags struct {
	lengths map[string]*number
	points  string
	metal   *value[check.Side]
}

// checkWays are the flags that make up each way of measuring, and how each is shown.
var checkWays = []struct {
	name    string
	need    []string
	may     string
	measure func(f *checkFlags, u geom.Unit, s check.Side) (check.Arc, error)
}{
	{"chord", []string{"chord", "sagitta"}, "", func(f *checkFlags, u geom.Unit, _ check.Side) (check.Arc, error) {
		return check.Chord(f.work("chord", u), f.work("sagitta", u))
	}},
	{"base", []string{"base", "depth"}, "foot-ball", func(f *checkFlags, u geom.Unit, s check.Side) (check.Arc, error) {
		return check.Base(f.tool("base", u), f.work("depth", u), f.tool("foot-ball", u), s)
	}},
	{"cusp", []string{"cusp", "pitch"}, "", func(f *checkFlags, u geom.Unit, _ check.Side) (check.Arc, error) {
		return check.Cusp(f.tool("pitch", u), f.work("cusp", u))
	}},
	{"diameter", []string{"diameter"}, "", func(f *checkFlags, u geom.Unit, _ check.Side) (check.Arc, error) {
		return check.Diameter(f.work("diameter", u))
	}},
	{"over pins", []string{"over-pins", "pin"}, "", func(f *checkFlags, u geom.Unit, _ check.Side) (check.Arc, error) {
		return check.OverPins(f.work("over-pins", u), f.tool("pin", u))
	}},
	{"between pins", []string{"between-pins", "pin"}, "", func(f *checkFlags, u geom.Unit, _ check.Side) (check.Arc, error) {
		return check.BetweenPins(f.work("between-pins", u), f.tool("pin", u))
	}},
	{"hollow pins", []string{"hollow-pins", "height", "pin"}, "", func(f *checkFlags, u geom.Unit, _ check.Side) (check.Arc, error) {
		return check.PinsInHollow(f.work("hollow-pins", u), f.tool("pin", u), f.work("height", u))
	}},
	{"hollow pin", []string{"chord", "pin", "stands"}, "", func(f *checkFlags, u geom.Unit, _ check.Side) (check.Arc, error) {
		return check.PinInHollow(f.work("chord", u), f.tool("pin", u), f.work("stands", u))
	}},
	{"points", []string{"points"}, "tip-diameter", nil},
	{"gauge", []string{"larger-than"}, "smaller-than", nil},
	{"gauge", []string{"smaller-than"}, "", nil},
}

// sideOf is the side of the metal that a way can only have.
var sideOf = map[string]check.Side{"over pins": check.Inside, "between pins": check.Inside, "hollow pins": check.Outside, "hollow pin": check.Outside}

// checkLengths are the flags that take a length; those in front measure.
var checkLengths = []struct {
	name, use string
	any       bool
}{
	{"chord", "chord of the arc", false}, {"sagitta", "height of the arc over the chord", false},
	{"base", "distance of the feet of a depth gauge", false}, {"depth", "its reading, zero on a flat", false}, {"foot-ball", "diameter of the balls that it stands on", false},
	{"diameter", "diameter, of a full circle or over a rim", false},
	{"over-pins", "over two pins, the convex arc between them on a plate", false}, {"between-pins", "between the same pins", false}, {"pin", "diameter of a pin", false},
	{"hollow-pins", "over two pins that lie in a hollow", false}, {"height", "from the bottom of the hollow to a straight edge across both", false},
	{"stands", "how far a pin on the bottom stands above the rim that --chord spans (- below)", true},
	{"cusp", "height of the cusp between two grooves", false}, {"pitch", "distance of the grooves", false},
	{"larger-than", "the arc is larger than this radius gauge", false}, {"smaller-than", "the arc is smaller than this radius gauge", false},
	{"tip-diameter", "diameter of the ball that touched the --points", false},
	{"error", "limit of the error of each length measured on the work, plus or minus", false}, {"resolution", "step that they were read in", false},
	{"repeatability", "standard deviation of one measurement, where it is known", false},
	{"tool-error", "limit of the error of pin, base, pitch, ball or gauge, plus or minus", false},
	{"target", "radius that the arc should have", false}, {"tolerance", "plus or minus, on the radius", false},
	{"swing", "swing radius that was set", false}, {"swing-error", "limit of its error, plus or minus", false},
	{"cutter", "diameter that the cutter was taken to have", false}, {"cutter-error", "limit of its error, plus or minus", false},
	{"stock", "stock that was left on, or is to be", false}, {"wind-error", "limit of the error of the last wind, plus or minus", false},
}

// measuring is how many of them measure.
const measuring = 17

func newCheck(w world, c *common) *cobra.Command {
	f := checkFlags{lengths: map[string]*number{}}
	cmd := &cobra.Command{
		Use:   "check --chord C --sagitta H | --diameter D | --over-pins M --pin D | --points FILE | …",
		Short: "a finished arc, measured: its radius, the verdict, the cutter",
		Long: `check turns what was measured on a finished arc into its radius, says how sure that
is, and judges it. One way of measuring:

  --chord C --sagitta H               chord, and height over it
  --base B --depth H [--foot-ball D]  depth gauge on feet; balls need --metal
  --diameter D                        full circle, or over a rim
  --over-pins M --pin D               convex arc on a plate between two pins
  --between-pins I --pin D            the same, inside measurement between the pins
  --hollow-pins L --pin D --height H  two pins in a hollow, a straight edge over both
  --chord C --pin D --stands E        one pin on the bottom of a hollow
  --cusp S --pitch P                  grooves of one radius cut side by side
  --points FILE [--tip-diameter D]    lines of "x y" touched on the arc (- for input)
  --larger-than R, --smaller-than R   radius gauges against the light: bounds only.
      On a boss light in the middle means larger, at the ends smaller; in a hollow
      the other way

With --swing and --metal it says what the cutter must have cut; with --cutter and the
errors of both, how to set the next radius. With --stock it says the last wind, and
with --stock, --target, --metal and --cutter alone what to rough at.
Spindle off and isolated before a hand or a gauge goes near the work.`,
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return checkVerb(w, c, &f) },
	}
	fl := cmd.Flags()
	for _, l := range checkLengths {
		kind := positive()
		if l.any {
			kind = anyNumber()
		}
		f.lengths[l.name] = put(cmd, l.name, l.use, kind)
	}
	fl.StringVar(&f.points, "points", "", "file of lines of x and y, touched on the arc")
	f.metal = putMetal(cmd, "side of the arc that the metal is on: inside (a boss) or outside (a hollow)")
	return cmd
}

func (f *checkFlags) set(name string) bool {
	if name == "points" {
		return f.points != ""
	}
	return f.lengths[name].set
}

func (f *checkFlags) mm(name string, u geom.Unit) float64 { return u.MM(f.lengths[name].v) }

// work is a length that was measured on the work, tool one that is known beforehand.
func (f *checkFlags) work(name string, u geom.Unit) check.Figure {
	return check.Figure{V: f.mm(name, u), Limit: f.mm("error", u), Resolution: f.mm("resolution", u), Repeat: f.mm("repeatability", u)}
}

func (f *checkFlags) tool(name string, u geom.Unit) check.Figure {
	return check.Figure{V: f.mm(name, u), Limit: f.mm("tool-error", u)}
}

func (f *checkFlags) known(name string, u geom.Unit) check.Figure {
	return check.Figure{V: f.mm(name, u), Limit: f.mm(name+"-error", u)}
}

// way finds the one way whose flags are given; −1 for none.
func (f *checkFlags) way() (int, error) {
	var given []string
	for _, l := range checkLengths[:measuring] {
		if f.set(l.name) {
			given = append(given, l.name)
		}
	}
	if f.points != "" {
		given = append(given, "points")
	}
	if len(given) == 0 {
		return -1, nil
	}
	for i, w := range checkWays {
		want := slices.Clone(w.need)
		if w.may != "" && f.set(w.may) {
			want = append(want, w.may)
		}
		if slices.Sort(want); slices.Equal(want, slices.Sorted(slices.Values(given))) {
			return i, nil
		}
	}
	return -1, withHint(misuse("check with --%s, need the flags of one way of measuring", strings.Join(given, " --")), "trammel check --help lists the ways")
}

// side is the side of the metal, as a way or a flag says it.
func (f *checkFlags) side(way string) (check.Side, bool, error) {
	only, fixed := sideOf[way]
	typed := f.metal.v
	if fixed && f.metal.set && typed != only {
		return typed, true, misuse("%s with --metal %v, need %v: that is where pins can be laid", way, typed, only)
	}
	if fixed {
		return only, true, nil
	}
	return typed, f.metal.set, nil
}

// together refuses flags that do not go together.
func (f *checkFlags) together(way string, sided bool) error {
	switch has := f.set; {
	case has("tolerance") && !has("target"), has("target") && !has("tolerance") && !has("stock"):
		return misuse("--target and --tolerance belong together, need both or none")
	case (has("swing-error") || has("cutter-error")) && way != "" && !has("swing"):
		return misuse("--swing-error or --cutter-error without --swing, need the swing radius that was set")
	case has("cutter") && way != "" && !has("swing"):
		return misuse("--cutter without --swing, need the swing radius that was set")
	case has("swing") && way == "gauge":
		return misuse("--swing with a gauge, which gives no figure; need a way that does")
	case has("stock") && (!has("target") || way == "gauge"):
		return misuse("--stock needs --target, and a way that gives a figure")
	case !sided && (has("swing") || has("stock") || has("foot-ball") || has("tip-diameter")):
		return misuse("--swing, --stock, --foot-ball or --tip-diameter without --metal, need inside or outside")
	}
	return nil
}

func checkVerb(w world, c *common, f *checkFlags) error {
	at, err := f.way()
	if err != nil {
		return err
	}
	name := ""
	if at >= 0 {
		name = checkWays[at].name
	}
	side, sided, err := f.side(name)
	if err != nil {
		return err
	}
	if at < 0 && !f.set("stock") {
		return withHint(misuse("check without a measurement, need one way of measuring"), "trammel check --help lists the ways")
	}
	if err := f.together(name, sided); err != nil {
		return err
	}
	u := c.unit.or(geom.Millimetre)
	var x lines.Line
	switch name {
	case "":
		x, err = f.rough(side, u)
	case "gauge":
		x, err = f.gauge(u)
	default:
		x, err = f.arc(w, at, side, u)
	}
	if err != nil {
		return checkError(err, u)
	}
	return say(w, c, x)
}

// checkError puts an error into the unit, with what to do.
func checkError(err error, u geom.Unit) error {
	var hints interface{ Hint() string }
	var place *indicator.PlaceError
	switch {
	case errors.As(err, &hints):
		return withHint(told(err, u), "%s", hints.Hint())
	case errors.As(err, &place):
		return withHint(told(err, u), "check the figures and the unit")
	}
	return err
}

// rough says what to rough at.
func (f *checkFlags) rough(side check.Side, u geom.Unit) (lines.Line, error) {
	if !f.set("cutter") {
		return nil, misuse("--stock without a measurement and without --cutter, need the cutter to say what to rough at")
	}
	p, err := check.Rough{Target: f.mm("target", u), Stock: f.mm("stock", u), Side: side, Cutter: f.known("cutter", u), Swing: check.Figure{Limit: f.mm("swing-error", u)}}.Plan()
	if err != nil {
		return nil, err
	}
	return record.NewRoughing(p, u), nil
}

func (f *checkFlags) gauge(u geom.Unit) (lines.Line, error) {
	b, err := check.Gauges(f.tool("larger-than", u), f.tool("smaller-than", u))
	if err != nil {
		return nil, err
	}
	return record.NewGauged(b, f.mm("target", u), f.mm("tolerance", u), u).Say(), nil
}

// touched reads the points.
func (f *checkFlags) touched(w world, s check.Side, u geom.Unit) (check.Arc, error) {
	in, label, err := openInput(w, f.points)
	if err != nil {
		return check.Arc{}, err
	}
	defer in.Close()
	pairs, err := readPairs(in, label, "x and y")
	if err != nil {
		return check.Arc{}, withHint(err, "each line holds two coordinates in %v; lines that begin with # are passed over", u)
	}
	points := make([]geom.Point, len(pairs))
	for i, p := range pairs {
		points[i] = geom.Point{X: u.MM(p.a), Y: u.MM(p.b)}
	}
	o := check.Readout{Limit: f.mm("error", u), Resolution: f.mm("resolution", u), Repeat: f.mm("repeatability", u), Tip: f.tool("tip-diameter", u)}
	a, err := check.Points(points, o, s)
	var shape *check.ShapeError
	if err != nil && !errors.As(err, &shape) {
		return a, withHint(fmt.Errorf("%s: %w", label, err), "touch three places or more, spread over as much of the arc as can be reached")
	}
	return a, err
}

// arc measures, judges, and says what follows.
func (f *checkFlags) arc(w world, at int, side check.Side, u geom.Unit) (lines.Line, error) {
	var a check.Arc
	var err error
	if measure := checkWays[at].measure; measure != nil {
		a, err = measure(f, u, side)
	} else {
		a, err = f.touched(w, side, u)
	}
	if err != nil {
		return nil, err
	}
	x := record.NewFinished(&a, u)
	if f.set("tolerance") {
		x = x.Against(&a, f.mm("target", u), f.mm("tolerance", u))
	}
	if f.set("swing") {
		if x, err = f.taught(x, &a, side, u); err != nil {
			return nil, err
		}
	}
	if f.set("stock") {
		r := check.Rough{Target: f.mm("target", u), Stock: f.mm("stock", u), Side: side}
		travel, err := r.Finish(a.Radius, check.Figure{Limit: f.mm("wind-error", u)})
		if err != nil {
			return nil, err
		}
		x = x.Left(travel)
	}
	return x.Say(), nil
}

// taught adds the cutter's effective diameter and, where the errors of cutter and swing radius are
// stated, what the arc teaches.
func (f *checkFlags) taught(x record.Finished, a *check.Arc, side check.Side, u geom.Unit) (record.Finished, error) {
	d, err := a.Cutter(f.known("swing", u), side)
	if err != nil {
		return x, err
	}
	x = x.Cut(d, f.mm("cutter", u))
	if !f.set("swing-error") {
		x.Notes = append(x.Notes, "the swing radius is taken as exact: state --swing-error")
	}
	if !f.set("cutter") || !f.set("swing-error") || !f.set("cutter-error") || a.Radius.Open {
		return x, nil
	}
	l, err := check.NewLearnt(indicator.FromLimit(f.mm("swing-error", u)), indicator.FromLimit(f.mm("cutter-error", u)))
	if err != nil {
		return x, err
	}
	v := a.Radius.Value()
	v.V -= check.Made(f.mm("swing", u), f.mm("cutter", u), side)
	l, fits := l.Add(check.Checked{Side: side, Error: v})
	return x.Teach(&l, fits, side), nil
}
