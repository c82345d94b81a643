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

// checkKnown are the lengths that are known of the arc and its making, beside those that measure it ([check.Lengths]).
var checkKnown = []check.Length{
	{Name: "error", Is: "limit of the error of each length measured on the work, plus or minus"},
	{Name: "resolution", Is: "step that they were read in"},
	{Name: "repeatability", Is: "standard deviation of one measurement, where it is known"},
	{Name: "tool-error", Is: "limit of the error of pin, base, pitch, ball or gauge, plus or minus"},
	{Name: "target", Is: "radius that the arc should have"},
	{Name: "tolerance", Is: "plus or minus, on the radius"},
	{Name: "swing", Is: "swing radius that was set"},
	{Name: "swing-error", Is: "limit of its error, plus or minus"},
	{Name: "cutter", Is: "diameter that the cutter was taken to have"},
	{Name: "cutter-error", Is: "limit of its error, plus or minus"},
	{Name: "stock", Is: "stock that was left on, or is to be"},
	{Name: "wind-error", Is: "limit of the error of the last wind, plus or minus"},
}

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
  --from-hole W --hole D              outwards from the wall of a hole or boss about the
                                      same middle, which may lie --off-centre E off it
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
	for _, l := range slices.Concat(check.Lengths, checkKnown) {
		kind := positive()
		switch {
		case l.Signed:
			kind = anyNumber()
		case strings.HasSuffix(l.Name, "error"): // 0 says that it is exact
			kind = notNegative()
		}
		f.lengths[l.Name] = putLength(cmd, l.Name, l.Is, kind)
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

// figure is a length of a way of measuring, with what is stated of its doubt: of the work's or of the tool's.
func (f *checkFlags) figure(name string, u geom.Unit) check.Figure {
	i := slices.IndexFunc(check.Lengths, func(l check.Length) bool { return l.Name == name })
	if check.Lengths[i].Tool {
		return check.Figure{V: f.mm(name, u), Limit: f.mm("tool-error", u), Stated: f.set("tool-error")}
	}
	return check.Figure{V: f.mm(name, u), Limit: f.mm("error", u), Resolution: f.mm("resolution", u), Repeat: f.mm("repeatability", u),
		Stated: f.set("error")}
}

func (f *checkFlags) known(name string, u geom.Unit) check.Figure {
	k := check.Figure{Limit: f.mm(name+"-error", u), Stated: f.set(name + "-error")}
	if of := f.lengths[name]; of != nil { // of the last wind only that is known
		k.V = u.MM(of.v)
	}
	return k
}

// way finds the one way whose flags are given; nil for none.
func (f *checkFlags) way() (*check.Way, error) {
	var given []string
	for _, l := range check.Lengths {
		if f.set(l.Name) {
			given = append(given, l.Name)
		}
	}
	if f.points != "" {
		given = append(given, check.PointsOn)
	}
	if len(given) == 0 {
		return nil, nil
	}
	if w := check.WayOf(given); w != nil {
		return w, nil
	}
	return nil, withHint(misuse("check with --%s, need the flags of one way of measuring", strings.Join(given, " --")),
		"trammel check --help lists the ways")
}

// side is the side of the metal, as a way, if there is one, or a flag says it.
func (f *checkFlags) side(w *check.Way) (check.Side, bool, error) {
	typed := f.metal.v
	if w == nil || w.Only == nil {
		return typed, f.metal.set, nil
	}
	if f.metal.set && typed != *w.Only {
		return typed, true, misuse("%s with --metal %v, need %v: that is where pins can be laid", w.Name, typed, *w.Only)
	}
	return *w.Only, true, nil
}

// together refuses flags that do not go together.
func (f *checkFlags) together(w *check.Way, sided bool) error {
	bounds := w != nil && w.Bounds
	switch has := f.set; {
	case has("tolerance") && !has("target"), has("target") && !has("tolerance") && !has("stock"):
		return misuse("--target and --tolerance belong together, need both or none")
	case (has("swing-error") || has("cutter-error")) && w != nil && !has("swing"):
		return misuse("--swing-error or --cutter-error without --swing, need the swing radius that was set")
	case has("cutter") && w != nil && !has("swing"):
		return misuse("--cutter without --swing, need the swing radius that was set")
	case has("swing") && bounds:
		return misuse("--swing with a gauge, which gives no figure; need a way that does")
	case has("stock") && (!has("target") || bounds):
		return misuse("--stock needs --target, and a way that gives a figure")
	case !sided && (has("swing") || has("stock") || has("foot-ball") || has("tip-diameter")):
		return misuse("--swing, --stock, --foot-ball or --tip-diameter without --metal, need inside or outside")
	}
	return nil
}

func checkVerb(w world, c *common, f *checkFlags) error {
	way, err := f.way()
	if err != nil {
		return err
	}
	side, sided, err := f.side(way)
	if err != nil {
		return err
	}
	if way == nil && !f.set("stock") {
		return withHint(misuse("check without a measurement, need one way of measuring"), "trammel check --help lists the ways")
	}
	if err := f.together(way, sided); err != nil {
		return err
	}
	u := c.typed()
	var x lines.Line
	switch {
	case way == nil:
		x, err = f.rough(side, u)
	case way.Bounds:
		x, err = f.gauge(u)
	default:
		x, err = f.arc(w, way, side, u)
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
	cutter, swing := f.known("cutter", u), f.known("swing", u)
	p, err := check.Rough{Target: f.mm("target", u), Stock: f.mm("stock", u), Side: side, Cutter: cutter, Swing: swing}.Plan()
	if err != nil {
		return nil, err
	}
	return record.NewRoughing(p, append(swing.On("swing radius"), cutter.On("cutter")...), u), nil
}

func (f *checkFlags) gauge(u geom.Unit) (lines.Line, error) {
	b, err := check.Gauges(f.figure("larger-than", u), f.figure("smaller-than", u))
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
	o := check.Readout{Limit: f.mm("error", u), Stated: f.set("error"), Resolution: f.mm("resolution", u), Repeat: f.mm("repeatability", u),
		Tip: f.figure("tip-diameter", u)}
	a, err := check.Points(points, o, s)
	var shape *check.ShapeError
	if err != nil && !errors.As(err, &shape) {
		return a, withHint(fmt.Errorf("%s: %w", label, err), "touch three places or more, spread over as much of the arc as can be reached")
	}
	return a, err
}

// arc measures, judges, and says what follows.
func (f *checkFlags) arc(w world, way *check.Way, side check.Side, u geom.Unit) (lines.Line, error) {
	var a check.Arc
	var err error
	if way.Measure != nil {
		a, err = way.Measure(func(name string) check.Figure { return f.figure(name, u) }, side)
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
		wind := f.known("wind", u)
		travel, err := r.Finish(a.Radius, wind)
		if err != nil {
			return nil, err
		}
		x = x.Left(travel).Unsaid(wind.On("last wind"))
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
	x = x.Unsaid(f.known("swing", u).On("swing radius"))
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
