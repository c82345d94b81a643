package part

import (
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// Standing is how far an arc of a plan is, as a word.
type Standing string

// The standings, in the order of the work.
const (
	ToDo    Standing = "to do"
	IsSet   Standing = "set"     // a setting of it is accepted
	IsCut   Standing = "cut"     // and the arc is cut
	Checked Standing = "checked" // and measured inside its tolerance
	Out     Standing = "out"     // and measured outside
)

// Made is an accepted setting of arc N of a plan, in values: its job, what it found, and what was cut behind it.
type Made struct {
	N   int
	Job setup.Job
	// Found is what its last sweep found; in setup points, of where the spindle stands; nil where no circle fits.
	Found *indicator.Estimate
	// Assumed are the figures that this leans on and of which nobody has said how right they are.
	Assumed indicator.Assumed
	// Swing is the swing radius that it stands at, not known where nothing tells.
	Swing indicator.Value
	// Bias is by how much the swing radius was set larger than the job asks for, and BiasLimit, above 0 where checked
	// arcs have taught it, the limit of its error.
	Bias, BiasLimit float64
	// Cut: the arc is cut; Checked is its radius as it was measured behind that, nil where it was not.
	Cut     bool
	Checked *float64
	Finish  Finish
}

// Stands is how far the setting's arc is, of a radius.
func (m *Made) Stands(radius float64) Standing {
	switch {
	case m.Checked != nil && math.Abs(*m.Checked-radius) <= m.Job.Target.Tolerance:
		return Checked
	case m.Checked != nil:
		return Out
	case m.Cut:
		return IsCut
	}
	return IsSet
}

// Finish is how the arc of an accepted setting came to its radius behind the sweep.
type Finish struct {
	// Measured: the radius is the one that was measured; else the swing radius stands by Stock beside the
	// one that was accepted.
	Measured      bool
	Radius, Stock float64
}

// Doubts are what is believed of what no journal tells, millimetres. Tolerance and CentreTolerance are those
// of settings to come; Cutter is the limit, ±, of the error of each cutter's diameter; Measured is the
// standard uncertainty of an arc's measured radius.
//
// Angle is the limit, ±, of the angle that straights are laid at, radians, and Slide of the coordinate of the slide
// that is locked across them, with the datum found again; 0 where nobody has said it, as AngleSaid and SlideSaid tell.
type Doubts struct {
	Tolerance, CentreTolerance, Cutter, Measured float64
	Angle, Slide                                 float64
	AngleSaid, SlideSaid                         bool
}

// Believed where nobody says otherwise, millimetres (common practice, no source): the limit of a cutter's
// diameter by a micrometer over its teeth, the standard uncertainty of a radius measured over pins, and the
// tolerances of a setting to come.
const (
	cutterError   = 0.01
	measuredError = 0.005
	toleranceSet  = 0.02
)

// DoubtsOf are the doubts as the jobs of settings state them, each as the last that has it, and where none does as
// they are without.
func DoubtsOf(made []Made) Doubts {
	d := Doubts{Cutter: cutterError, Measured: measuredError, Tolerance: toleranceSet, CentreTolerance: toleranceSet}
	take := func(at *float64, v float64) {
		if v > 0 {
			*at = v
		}
	}
	for i := range made {
		j := &made[i].Job
		take(&d.Tolerance, j.Target.Tolerance)
		take(&d.CentreTolerance, j.Target.CentreTolerance)
		if j.Cut != nil {
			if take(&d.Cutter, j.Cut.CutterLimit); j.Stated.Has(indicator.OfCutter) {
				d.Cutter = j.Cut.CutterLimit // 0 too
			}
			take(&d.Measured, j.Cut.MeasuredError)
		}
	}
	return d
}

// Believed is what is believed of a plan's settings, ready to foretell its steps.
type Believed struct {
	Situation
	// At holds of every arc with a swing radius its index among the situation's settings, and Standing how far
	// each arc is, both by number. Arcs to come of one group about one centre are one setting.
	At       map[int]int
	Standing map[int]Standing
	Where    []int    // of each joint the index of its blend
	Held     []string // what had to be assumed, in words
	Measured bool     // an arc's measured radius stands in
}

// Believe puts together what is believed of a plan's settings: those made by their sweeps, with the arcs'
// measured radii in the place of setting and cutter where there are any, those to come by their figures give or
// take the tolerance. Made holds one setting of an arc at most. What settings have in common (reach, reference,
// cutter) is a source of its own, so that it cancels or doubles.
func Believe(p *Plan, made []Made, d Doubts) Believed {
	b := believer{Believed: Believed{At: map[int]int{}, Standing: map[int]Standing{}}, part: p, doubts: d,
		shared: map[common]int{}, cut: map[int]bool{}}
	for a := range p.Swings() {
		b.Standing[a.N] = ToDo
	}
	for i := range made {
		if a := p.Swung(made[i].N); a != nil && a.Group > 0 {
			b.made(a, &made[i])
		}
	}
	b.open()
	b.cutters()
	b.joints()
	return b.Believed
}

// believer collects beliefs.
type believer struct {
	Believed
	part   *Plan
	doubts Doubts
	shared map[common]int // index of a source
	cut    map[int]bool   // arcs whose own radius is measured, or taught by others, by number: no cutter enters any more
}

// common is what several settings have in common: a figure of the job, with its limit of error.
type common struct {
	name          string
	touch         indicator.Touch
	figure, limit float64
}

// made adds a setting that is made. A sweep that finds a table's axis, off which a slide then sets the swing
// radius, says nothing of how the work stands on the table.
func (b *believer) made(a *Arc, m *Made) {
	b.Standing[a.N] = m.Stands(a.Radius)
	b.At[a.N] = len(b.Settings)
	known, setOff := m.Found != nil, m.Job.Target.WantsSwing() && setup.Of(&m.Job).Does().Off
	var set Setting
	if known && !setOff {
		set.Centre = m.Found.Circle.Centre
		if set.Cov, known = m.Found.Own(); known {
			b.leans(m.Found)
		}
	}
	if !known || setOff {
		b.assume("arc %d: its setting does not tell how sure its centre is, the tolerance stands for it", a.N)
		set.Cov = b.toCome(m.Job.Target)
	}
	switch {
	case m.Finish.Measured:
		set.Radius = m.Finish.Radius - a.Radius
		b.ownRadius(&set, b.doubts.Measured)
		b.cut[a.N], b.Measured = true, true
	case known && m.Swing.V > 0 && m.Swing.Sure():
		set.Radius = m.Swing.V - a.Swing + m.Finish.Stock
		if setOff { // where the axis lies and how far the slide has gone are in it, and no sweep's reach
			b.ownRadius(&set, m.Swing.U/fit.Coverage(math.Inf(1)))
			break
		}
		if m.BiasLimit > 0 { // checked arcs have taught what reach, reference and cutter do together
			set.Radius -= m.Bias
			set.Cov[0][0] += m.BiasLimit * m.BiasLimit / 3
			b.cut[a.N] = true
			break
		}
		b.common(&m.Job.Setup, m.Found)
	default:
		b.assume("arc %d: no swing radius is known of its setting, its figure stands for it, give or take the tolerance", a.N)
		b.ownRadius(&set, math.Sqrt(b.toCome(m.Job.Target)[0][0]))
	}
	b.Settings = append(b.Settings, set)
}

func (b *believer) assume(format string, args ...any) {
	b.Held = append(b.Held, fmt.Sprintf(format, args...))
}

// ownRadius lets the radius be known by itself, to a standard uncertainty.
func (b *believer) ownRadius(set *Setting, u float64) {
	for i := range 3 {
		set.Cov[0][i], set.Cov[i][0] = 0, 0
	}
	set.Cov[0][0] = u * u
}

// source returns the source of something in common, long enough for the setting that is added next.
func (b *believer) source(c common, u float64) *Source {
	k, ok := b.shared[c]
	if !ok {
		k = len(b.Sources)
		b.shared[c] = k
		b.Sources = append(b.Sources, Source{Name: c.name, U: u})
	}
	src := &b.Sources[k]
	for len(src.Settings) <= len(b.Settings) {
		src.Settings, src.Centres = append(src.Settings, 0), append(src.Centres, geom.Point{})
	}
	return src
}

// common notes what the setting's swing radius has in common with others: R = ρ + z − t, so the reference's
// error enters as it is and the reach's the other way round, and a leaning spindle as it is. Figures of the job are
// taken, which the bezel does not change.
func (b *believer) common(j *indicator.Setup, f *indicator.Estimate) {
	if f.Circle.Hold {
		return // the radius is the one that was held
	}
	at := len(b.Settings)
	for _, c := range []struct {
		common
		u, by float64
	}{
		{common{indicator.PartReference, j.Touch, j.ReferenceRadius, j.ReferenceLimit}, indicator.FromLimit(j.ReferenceLimit), 1},
		{common{indicator.PartReach, 0, j.Reach, j.ReachLimit}, indicator.FromLimit(j.ReachLimit), -1},
		{common{indicator.PartTilt, 0, f.Setup.SweepHeight, f.Setup.TiltLimit}, f.Lean(), 1},
	} {
		if c.u > 0 {
			b.source(c.common, c.u).Settings[at] = c.by
		}
	}
}

// leans notes what the leaning axes do to the setting's centre: all settings' alike, so that it cancels between arcs.
func (b *believer) leans(f *indicator.Estimate) {
	u, at := f.Lean(), len(b.Settings)
	if u == 0 {
		return
	}
	b.source(common{indicator.PartTilt + " x", 0, f.Setup.SweepHeight, f.Setup.TiltLimit}, u).Centres[at] = geom.Point{X: 1}
	b.source(common{indicator.PartTilt + " y", 0, f.Setup.SweepHeight, f.Setup.TiltLimit}, u).Centres[at] = geom.Point{Y: 1}
}

// toCome is the covariance of a setting of which only its tolerances are known: the radius anywhere inside its
// own (limit/√3), the centre anywhere inside a circle, each coordinate of which has the variance r²/4.
func (b *believer) toCome(t setup.Target) (c [3][3]float64) {
	tol, centre := t.Tolerance, t.CentreTolerance
	if !(tol > 0) {
		tol = b.doubts.Tolerance
	}
	if !(centre > 0) {
		centre = b.doubts.CentreTolerance
	}
	c[0][0] = tol * tol / 3
	c[1][1], c[2][2] = centre*centre/4, centre*centre/4
	return c
}

// open adds the settings to come. They are aimed beside their figures by half the tolerance at most: a setting
// aimed at its edge could never be proven inside.
func (b *believer) open() {
	t := setup.Target{Tolerance: b.doubts.Tolerance, CentreTolerance: b.doubts.CentreTolerance}
	for _, g := range b.part.Groups {
		for _, centre := range g.Centres {
			at := -1
			for _, n := range centre {
				if _, ok := b.At[n]; ok {
					continue
				}
				if at < 0 {
					at = len(b.Settings)
					b.Settings = append(b.Settings, Setting{Open: true, Tolerance: t.Tolerance / 2, CentreTolerance: t.CentreTolerance / 2,
						Cov: b.toCome(t)})
				}
				b.At[n] = at
			}
		}
	}
}

// cutters gives every cutter of the plan an error of its own, whichever elements it cuts.
func (b *believer) cutters() {
	for _, d := range b.diameters() {
		src := Source{Name: fmt.Sprintf("cutter %v", d), U: indicator.FromLimit(b.doubts.Cutter),
			Cutters: make([]float64, len(b.Cutters)+1)}
		src.Cutters[len(b.Cutters)] = 1
		b.Sources, b.Cutters = append(b.Sources, src), append(b.Cutters, 0)
	}
}

// diameters lists the cutters of the plan, each once.
func (b *believer) diameters() (all []float64) {
	add := func(d float64) {
		if d > 0 && !slices.Contains(all, d) {
			all = append(all, d)
		}
	}
	for a := range b.part.Swings() {
		add(a.Cutter)
	}
	for i := range b.part.Lines {
		add(b.part.Lines[i].Cutter)
	}
	return all
}

// joints lists the blends whose steps can be foretold: tangent, and both elements cut.
func (b *believer) joints() {
	for i, bl := range b.part.Blends {
		if !bl.Tangent || bl.Normal == (geom.Point{}) {
			continue
		}
		first, ok := b.how(bl.Between[0], bl.At)
		second, also := b.how(bl.Between[1], bl.At)
		if ok && also {
			b.Joints = append(b.Joints, Joint{Cuts: [2]Cut{first, second}, Normal: bl.Normal})
			b.Where = append(b.Where, i)
		}
	}
}

// how says how element n is cut, seen at a place on it; ok is false for an arc without a swing radius. A straight is cut
// where it is meant to be, but for the cutter, which may be the one of the arc it meets, and for how it is laid.
func (b *believer) how(n int, at geom.Point) (c Cut, ok bool) {
	c = Cut{Setting: -1, Cutter: -1}
	for i := range b.part.Lines {
		if l := &b.part.Lines[i]; l.N == n {
			c.Cutter = slices.Index(b.diameters(), l.Cutter)
			c.OwnU = l.ownU(at, b.part.datum, b.part.rotary != nil, b.doubts)
			return c, true
		}
	}
	i := slices.IndexFunc(b.part.Arcs, func(a Arc) bool { return a.N == n })
	if i < 0 {
		return c, false
	}
	a := &b.part.Arcs[i]
	switch a.Side {
	case Inside:
		c.Kappa = 1
	case Outside:
		c.Kappa = -1
	case On:
	}
	// A measured radius holds setting and cutter: κ·δr = κ·δR − δD/2.
	if c.Setting, ok = b.At[n]; ok && !b.cut[n] {
		c.Cutter = slices.Index(b.diameters(), a.Cutter)
	}
	return c, ok
}
