package check

import (
	"math"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Learnt is what checked arcs teach of two errors that no single arc can tell apart: b, by which every
// swing radius is larger than it was found to be (reach, reference, the dial), and δD, by which the
// cutter cuts wider than its diameter says. A finished radius is out by
//
//	e = b − δD/2 with the metal inside        e = b + δD/2 with it outside
//
// Both are held as a Gaussian with its covariance, and every arc is one linear update of it (R. E.
// Kalman, J. Basic Eng. 82 (1960) 35–45, from memory). It is a value: adding an arc gives a new one.
type Learnt struct {
	// Swing is b, and Cutter δD, as far as is known.
	Swing, Cutter float64
	// cov is their covariance, prior what it was before any arc: they are independent then.
	cov   [2][2]float64
	prior [2]float64
	arcs  [2]int
}

// NewLearnt begins with nothing but the standard uncertainties of b (the sweep's budget: [indicator.Combine])
// and of δD (a stated limit: [indicator.FromLimit]); 0 is one that is known to be nothing.
func NewLearnt(swing, cutter float64) (Learnt, error) {
	for _, f := range []Figure{{Limit: swing}, {Limit: cutter}} {
		if err := finite(input{name: "swing radius or cutter", Figure: f}); err != nil {
			return Learnt{}, err
		}
	}
	v := [2]float64{swing * swing, cutter * cutter}
	return Learnt{prior: v, cov: [2][2]float64{{v[0], 0}, {0, v[1]}}}, nil
}

// Checked is an arc that was measured. Error is its radius less what it should have been: the swing
// radius as it was set, less or more half the cutter's diameter as it was taken to be. Scatter is the
// standard uncertainty of whatever differs from one setting to the next, as the readings of a sweep do.
type Checked struct {
	Side    Side
	Error   indicator.Value
	Scatter float64
}

// Fits says how a checked arc agrees with what was known.
type Fits struct {
	// Taken says that it was learnt from.
	Taken bool
	// Off is how far it lies from what was expected, Band how far it may: beyond, it is told and left out.
	Off, Band float64
	// Unsure says that it was left out because its uncertainty is not known.
	Unsure bool
}

// alarm is how rarely a good arc is doubted, as all alarms of the program together: one in a hundred.
const alarm = 0.01

// row is what b and δD make of a radius.
func row(s Side) [2]float64 { return [2]float64{1, -s.sign() / 2} }

// spread is the variance of a side's error under a covariance.
func (l *Learnt) spread(s Side) float64 {
	r := row(s)
	return max(0, l.cov[0][0]+float64(2*r[1]*l.cov[0][1])+float64(r[1]*r[1]*l.cov[1][1]))
}

// first is the variance of a side's error before any arc; it is the same for both.
func (l *Learnt) first() float64 { return l.prior[0] + l.prior[1]/4 }

// expected is the mean error of a side.
func (l *Learnt) expected(s Side) float64 { return l.Swing + float64(row(s)[1]*l.Cutter) }

// standard is the standard uncertainty that leads to the same expanded one with no shortage of
// degrees of freedom: what is known by few readings counts for less.
func standard(v indicator.Value) float64 { return v.U / fit.Coverage(math.Inf(1)) }

// Add learns from an arc, unless it does not fit: one that lies farther from what was expected than
// both doubts together allow in all but one of a hundred is told (Fits.Taken false), and changes nothing.
// Either it was measured wrong, or a limit was stated too tight; no mean of the two would be true.
func (l Learnt) Add(c Checked) (Learnt, Fits) {
	off := c.Error.V - l.expected(c.Side)
	if !c.Error.Known() || !c.Error.Sure() || math.IsInf(off, 0) || !(c.Scatter >= 0) || math.IsInf(c.Scatter, 0) {
		return l, Fits{Off: off, Band: math.NaN(), Unsure: true}
	}
	u := math.Hypot(standard(c.Error), c.Scatter)
	total := l.spread(c.Side) + float64(u*u)
	f := Fits{Off: off, Band: fit.Student(1-alarm/2, math.Inf(1)) * math.Sqrt(total)}
	if f.Taken = math.Abs(off) <= f.Band; !f.Taken || total == 0 {
		return l, f
	}
	r := row(c.Side)
	var cr [2]float64 // covariance of (b, δD) with the side's error
	for i := range 2 {
		cr[i] = l.cov[i][0] + float64(l.cov[i][1]*r[1])
	}
	l.Swing += cr[0] / total * off
	l.Cutter += cr[1] / total * off
	for i := range 2 {
		for j := range 2 {
			l.cov[i][j] -= float64(cr[i] * cr[j] / total)
		}
	}
	l.arcs[c.Side]++
	return l, f
}

// MaxRisk is how often feeding an error back to a side on which no arc was checked may make that side
// worse: one in twenty.
const MaxRisk = 0.05

// Risk is how often correcting a side would make it worse. The correction m and what stays unknown of
// the error, ε, are independent Gaussians of variances s² − v and v (s² the side's variance before any
// arc, v after), and |ε| > |m + ε| in
//
//	atan(2√v / √(s² − v)) / π
//
// of all cases: ½ where nothing has been learnt, and [MaxRisk] where √v is 0.079·√(s² − v).
func (l *Learnt) Risk(s Side) float64 {
	v := l.spread(s)
	return math.Atan2(2*math.Sqrt(v), math.Sqrt(max(0, l.first()-v))) / math.Pi
}

// talksOf reports whether what was learnt may be fed to a side: an arc was checked there, or b and δD
// are told apart so far that the correction makes it worse no oftener than MaxRisk. With arcs on the
// other side alone this is so only where the limits stated before had already told them: then v is at
// least s²(1 − ρ²), ρ = (σ_b² − σ_δ²/4)/(σ_b² + σ_δ²/4), which asks for one of σ_b and σ_δ/2 to be some
// twenty-five times the other. Else arcs of both sides are needed: fed back as the wrong one of the two an
// error comes out double.
func (l *Learnt) talksOf(s Side) bool { return l.arcs[s] > 0 || l.Risk(s) <= MaxRisk }

// Correction is what the next swing radius of a side should be set larger by, and how far the arc may
// then still be out (95 %, without what differs from setting to setting). ok is false while nothing may
// be said of that side ([Learnt.talksOf]).
func (l *Learnt) Correction(s Side) (c indicator.Value, ok bool) {
	if !l.talksOf(s) {
		return indicator.Value{V: math.NaN(), U: math.NaN()}, false
	}
	return indicator.Value{V: -l.expected(s), U: fit.Coverage(math.Inf(1)) * math.Sqrt(l.spread(s))}, true
}

// SwingError is b, CutterError δD, each with its uncertainty: large as long as they are not told apart,
// however well one side is known.
func (l *Learnt) SwingError() indicator.Value { return l.marginal(l.Swing, 0) }

// CutterError is δD: the cutter's effective diameter is what it was taken to be and this.
func (l *Learnt) CutterError() indicator.Value { return l.marginal(l.Cutter, 1) }

func (l *Learnt) marginal(v float64, i int) indicator.Value {
	return indicator.Value{V: v, U: fit.Coverage(math.Inf(1)) * math.Sqrt(max(0, l.cov[i][i]))}
}

// Arcs counts what was learnt from on a side.
func (l *Learnt) Arcs(s Side) int { return l.arcs[s] }
