package indicator

import "math"

// PairReach returns reach and swing radius from two references that are swept with the spindle turned
// by half a turn between them, the slide left alone. far is the zero radius found in a ring or bore,
// R + t, near the one found on a plug or boss, R − t:
//
//	R = (far + near)/2        t = (far − near)/2
//
// t is the reach as the ring saw it; on the plug it is −t. The swing radius needs no reach, and the
// reach no round for the spindle's own axis.
func PairReach(far, near Measure) (reach, swing Measure) {
	return far.Times(0.5).Plus(near.Times(-0.5)), far.Times(0.5).Plus(near.Times(0.5))
}

// Pin is a ground pin in the spindle, met by an indicator that stands still, at two opposite swings of
// the head: the readout's difference between them is twice the swing radius, and the pin's diameter
// drops out. Lengths are millimetres.
type Pin struct {
	Dial Dial
	// Difference is that of the readout, DifferenceLimit its error's limit, ±, and Resolution what it
	// counts in.
	Difference, DifferenceLimit, Resolution float64
	// Runout is the pin's total indicator reading where it is met, the spindle turning.
	Runout float64
}

// Swing returns R = Difference/2. The head swung past the line of the readout by φ at either end
// makes it small by R(1 − cos φ), 6 µm at R 42 for 1°: rock the head to the turning point at both ends.
//
// The pin's runout rides round with the head: half of it times the cosine of an unknown angle, of
// standard uncertainty Runout/2/√2 (arc-sine distribution; JCGM 100:2008, H.1.3.4, from memory, and
// testdata/gum).
func (p Pin) Swing() (Measure, error) {
	if !(p.Difference > 0) {
		return unmeasured, &PlaceError{"difference of the readout", p.Difference}
	}
	m := Measure{V: p.Difference / 2}
	inf := math.Inf(1)
	m.Add(Input{Name: "readout", U: FromLimit(p.DifferenceLimit), Sensitivity: 0.5, Dof: inf,
		Cure: "have the readout checked, or take a gauge block of about twice the swing radius"})
	// Two readings of the readout, each rounded.
	m.Add(Input{Name: "readout's step", U: p.Resolution / math.Sqrt(12) * math.Sqrt2, Sensitivity: 0.5, Dof: inf,
		Cure: "take a finer readout, or a gauge block"})
	u, dof := priorOf(p.Dial)
	m.Add(Input{Name: "needle brought back", U: u * math.Sqrt2, Sensitivity: 0.5, Dof: dof, Cure: "repeat it, and take the mean"})
	m.Open = len(m.Terms) == 0
	m.Add(Input{Name: "pin's runout", U: p.Runout / 2 / math.Sqrt2, Sensitivity: 1, Dof: inf,
		Cure: "repeat it with the spindle turned half round, and take the mean"})
	return m, nil
}

// Cut is a trial cut, measured afterwards. Lengths are millimetres.
type Cut struct {
	// Arc is the radius of the cut arc, Cutter the cutter's effective diameter; the limits are ±.
	Arc, ArcLimit       float64
	Cutter, CutterLimit float64
	// MetalInside says that the metal lies inside the arc (a boss, a convex rim); else outside.
	MetalInside bool
}

// Swing returns the swing radius that made the cut: R = r + D/2 with the metal inside the arc, r − D/2
// with it outside.
func (c Cut) Swing() (Measure, error) {
	half := -0.5
	if c.MetalInside {
		half = 0.5
	}
	m := Measure{V: c.Arc + half*c.Cutter, Open: c.ArcLimit == 0}
	if !(m.V > 0) {
		return unmeasured, &PlaceError{"swing radius of the cut", m.V}
	}
	inf := math.Inf(1)
	m.Add(Input{Name: "arc radius", U: FromLimit(c.ArcLimit), Sensitivity: 1, Dof: inf, Cure: "measure the arc better, or cut more of it"})
	m.Add(Input{Name: "cutter diameter", U: FromLimit(c.CutterLimit), Sensitivity: half, Dof: inf,
		Cure: "measure what the cutter cuts: a slot's width"})
	return m, nil
}

// ReachAt returns the reach of a tip whose zero radius has been found with the slide at a swing radius
// that is known from elsewhere: t = z − R.
func ReachAt(zero, swing Measure) Measure { return zero.Plus(swing.Times(-1)) }

// Judged is what a reach makes of a sweep: the swing radius, and the first wind of the offset slide
// towards the target (NaN where there is none).
type Judged struct {
	Reach, Swing, Wind float64
	// Contradicts says that the swing radius lies beyond the limits of the other evidence.
	Contradicts bool
}

// PlausibleReach holds a reach, and the same with its sign turned, against a swing radius known roughly
// from elsewhere: scale, read from the slide's scale or collar, U being its limit. No sweep can show a
// wrong sign, for it is a constant in R; but it makes R wrong by 2t, and the first wind absurd. zero is
// the zero radius of a sweep; target is 0 where there is none. All millimetres.
func PlausibleReach(zero Value, reach float64, scale Value, target float64) (given, turned Judged) {
	slack := scale.U
	if zero.Sure() {
		slack += zero.U
	}
	judge := func(t float64) Judged {
		j := Judged{Reach: t, Swing: zero.V - t, Wind: math.NaN()}
		if target > 0 {
			j.Wind = target - j.Swing
		}
		// A swing radius is positive whatever the scale says.
		j.Contradicts = !(j.Swing > 0) || math.Abs(j.Swing-scale.V) > slack
		return j
	}
	return judge(reach), judge(-reach)
}
