package practice

import (
	"bytes"
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
)

// trialled is a drawn machine without a known reach, whose radius is set by scale and comes from a trial cut. Lengths are mm.
type trialled struct {
	Drawn
	m        *Machine
	hollow   bool
	cutter   float64 // its true diameter
	arc      float64 // wanted
	scale    float64 // what the radius as set is truly out by
	measured float64 // standard deviation of an arc's measurement, as stated
	chance   chance
}

// The limits that the trial's jobs state, mm: of a radius set by scale or by a collar of known zero, and of the cutter; and the
// stock. What is drawn keeps to them.
var trialScales = [...]float64{1, 0.5, 0.2}

const (
	trialCutter, trialCutterLimit, trialStock = 8.0, 0.03, 0.3
	streamTrial                               = 40
)

// drawTrial draws one: on a table that is turned or not, a boss touched or a bore, the metal outside or inside the arc; the rest
// belongs to the seed.
func drawTrial(seed uint64, turned, boss, hollow bool) *trialled {
	d := Draw(seed, Options{Turned: turned, Locks: seed%2 == 0})
	c := draw{stream(seed, streamTrial)}
	t := &trialled{hollow: hollow, chance: c.chance, cutter: trialCutter + c.either(trialCutterLimit), measured: c.between(0.003, 0.008)}
	limit := trialScales[c.chance.IntN(len(trialScales))]
	t.scale = c.either(limit)
	d.Want.Tolerance = []float64{0.01, 0.02, 0.03}[c.chance.IntN(3)]
	metal, touch := "inside", "bore"
	if t.arc = drawSwing - trialCutter/2; hollow {
		metal, t.arc = "outside", drawSwing+trialCutter/2
	}
	if boss {
		d.Bore, touch = false, "boss"
	}
	job := bytes.ReplaceAll(d.Job, fmt.Appendf(nil, "reach = %v\nreach_error = %v\n", drawReach, drawKnown), nil)
	job = bytes.Replace(job, []byte(`touch = "bore"`), fmt.Appendf(nil, "touch = %q", touch), 1)
	job = bytes.Replace(job, fmt.Appendf(nil, "\ntolerance = %v", drawTolerance), fmt.Appendf(nil, "\ntolerance = %v", d.Want.Tolerance), 1)
	d.Job = fmt.Appendf(job, "[cut]\nmetal = %q\ncutter = %v\ncutter_error = %v\nstock = %v\nmeasured_error = %.4f\nradius_error = %v\n",
		metal, trialCutter, trialCutterLimit, trialStock, t.measured, limit)
	d.Start.Swing = drawSwing
	t.Drawn = d
	return t
}

// roughIn winds the offset slide back and up to the radius that is told, as a scale shows it that is out by what was drawn, locks
// it, and clamps the indicator so that the needle stands about amid its range.
func (t *trialled) roughIn(to float64) {
	m := t.m
	by := to + t.scale - m.Truth().Swing
	m.offset.place(m.offset.at + by - 1)
	m.offset.place(m.offset.at + 1) // the take-up way
	if t.Offset.LockShift != 0 {
		m.offset.clamp(m.lock)
	}
	m.world.Reach = m.world.ReferenceRadius - m.Truth().Swing + 0.2*(t.chance.Float64()-0.5)
}

// trueArc is what would be cut now.
func (t *trialled) trueArc() float64 {
	if t.hollow {
		return t.m.Truth().Swing + t.cutter/2
	}
	return t.m.Truth().Swing - t.cutter/2
}

// left is how much metal there is on an arc beyond its target.
func (t *trialled) left(arc float64) float64 {
	if t.hollow {
		return t.arc - arc
	}
	return arc - t.arc
}

// trialTally is what came of the machines.
type trialTally struct {
	runs, again, covered, within, reach int
	promised, spread                    float64 // how many should be within, and the variance of that
	past                                float64 // most that was cut past the line, of what was said
}

// play sets one machine, cuts its arc and notes how it came out.
func (t *trialled) play(tt *testing.T, seed uint64, sum *trialTally) {
	tt.Helper()
	set, err := openDrawn(&t.Drawn)
	if err != nil {
		tt.Fatalf("machine %d: %v\n%s", seed, err, t.Job)
	}
	set.Steps = seed%3 != 0
	t.m = New(t.World, seed)
	live := session.NewLive(session.State{}, nowhere{})
	do := func(c session.Command) {
		tt.Helper()
		if _, err := live.Do(c, time.Time{}); err != nil {
			tt.Fatalf("machine %d: %T: %v", seed, c, err)
		}
	}
	do(session.Open{Opened: set})
	cuts := 0
	for range maxSteps {
		s := live.State()
		p := s.Prompt()
		if p.Waits == session.ForNothing {
			tt.Fatalf("machine %d: ended without a checked arc", seed)
		}
		switch c := p.Chore.Step; {
		case p.Waits != session.ForChore:
		case c == session.RoughIn:
			t.roughIn(s.TrialRadius())
			do(session.Confirm{})
			continue
		case c == session.RoughCut:
			if cuts++; !(t.left(t.trueArc()) > 0) {
				tt.Errorf("machine %d: rough cut %d leaves %.4f on", seed, cuts, t.left(t.trueArc()))
			}
		case c == session.Measure:
			do(session.Take{Reading: math.Round(1e3*(t.trueArc()+float64(t.measured*t.chance.NormFloat64()))) / 1e3})
			continue
		case c == session.CheckArc:
			t.judge(&s, cuts, sum)
			return
		}
		c, ok, err := t.m.Do(p)
		if err != nil || !ok {
			tt.Fatalf("machine %d: nothing to do where %v is waited for: %v", seed, p.Waits, err)
		}
		do(c)
	}
	tt.Fatalf("machine %d: no end", seed)
}

// judge compares the arc with what is said of it, and the reach that was found with the true one.
func (t *trialled) judge(s *session.State, cuts int, sum *trialTally) {
	now := s.ArcNow()
	v, is, tol := now.Value(), t.trueArc(), t.Want.Tolerance
	sum.runs++
	if cuts > 1 {
		sum.again++
	}
	if math.Abs(is-v.V) <= v.U {
		sum.covered++
	}
	if math.Abs(is-t.arc) <= tol {
		sum.within++
	}
	p := math.Erf(tol / (v.U / 1.96) / math.Sqrt2) // U is 1.96 standard deviations
	sum.promised += p
	sum.spread += p * (1 - p)
	sum.past = max(sum.past, -t.left(is)/v.U)
	if r, ok := s.FoundReach(); ok && math.Abs(r.V-t.m.world.Reach) <= r.U {
		sum.reach++
	}
}

// Without a reach the radius is set by scale, cut, measured and wound to its figure. As many arcs are then truly within their
// tolerance as the doubts that are told promise, none is cut past its line beyond what they leave open, and the reach that follows
// is the true one. The figures come from the simulated machine's own geometry; 95 % is what an expanded uncertainty is (JCGM
// 100:2008, 6.2, from memory), and three standard deviations of a count are left to chance.
func TestTrapTrialCut(t *testing.T) {
	n := trapRuns(t)
	var sum trialTally
	for how := range uint64(8) {
		for seed := range n {
			drawTrial(1+seed*8+how, how&1 != 0, how&2 != 0, how&4 != 0).play(t, 1+seed*8+how, &sum)
		}
	}
	runs := float64(sum.runs)
	chance := 3 * math.Sqrt(runs*0.95*0.05)
	t.Logf("%d machines, %d cut twice: within what is said %d, truly within %d of %.1f promised, reach %d; past the line at most %.2f of U",
		sum.runs, sum.again, sum.covered, sum.within, sum.promised, sum.reach, sum.past)
	if least := 0.95*runs - chance; float64(sum.covered) < least || float64(sum.reach) < least {
		t.Errorf("within what is said: %d arcs and %d reaches of %d, need %.1f", sum.covered, sum.reach, sum.runs, least)
	}
	if least := sum.promised - 3*math.Sqrt(sum.spread); float64(sum.within) < least {
		t.Errorf("%d arcs truly within their tolerance, need %.1f of %.1f promised", sum.within, least, sum.promised)
	}
	if sum.past > 2 { // beyond two of U, four standard deviations, chance does not go in some thousand
		t.Errorf("an arc is cut past its line by %.2f of what was said", sum.past)
	}
}
