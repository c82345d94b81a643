package session_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/indicator/check"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// shop is a machine whose errors no sweep shows: b, by which the swing radius is larger than it is found to be, and
// dd, by which the cutter of 8 cuts wider; the tool that measures an arc is out by tool.
type shop struct{ b, dd, tool float64 }

// arc is what is measured of an arc cut as the slides stand: a boss half a cutter inside the swing circle, a hollow
// half a cutter outside of it (plain geometry).
func (m shop) arc(swing float64, hollow bool) float64 {
	if hollow {
		return swing + m.b + (8+m.dd)/2 + m.tool
	}
	return swing + m.b - (8+m.dd)/2 + m.tool
}

// cuts is a setting that is cut at once, with its order at the machine; u is what an arc is measured to.
func cuts(t testing.TB, hollow bool, u float64) session.Opened {
	o := stepwise(t, hollow)
	o.Job.Cut.Stock, o.Job.Cut.MeasuredError, o.Job.Target.Tolerance = 0, u, 0.01
	o.Job.Setup.ReachLimit, o.Job.Cut.CutterLimit = 0.05, 0.03
	return o
}

// through plays the open setting to its checked arc.
func (m shop) through(p *player) {
	p.t.Helper()
	w := p.hands.(*ideal)
	for p.prompt().Waits != session.ForNothing {
		if c := p.prompt().Chore.Step; c == session.Measure || c == session.CheckArc {
			w.arc = m.arc(w.swing, p.state().Set.Job.Cut.Hollow)
		}
		p.answer(1)
	}
}

func fed(t testing.TB, p *player) session.Feedback {
	t.Helper()
	s := p.state()
	fb, ok := s.Feedback()
	if !ok {
		t.Fatal("nothing is said of the arcs so far")
	}
	return fb
}

// The arcs of one side come out 0.018 big; the next setting of that side is told −0.018, by Bayes' rule for one unknown:
// the mean of the arcs, drawn to 0 by what was known before (σ² of the side's error: 0.05²/3 + 0.03²/3/4). It is not
// taken up by itself; taken up, the slide goes there, the arc comes out right, and undo takes it back.
func TestArcsProposeABias(t *testing.T) {
	const b, u = 0.018, 0.001
	m := shop{b: b}
	w := near42(0.1, 0.05, -0.08)
	p := open(t, cuts(t, false, u), w)
	if s := p.state(); s.Bias.By != 0 {
		t.Fatal("biased before any arc")
	}
	p.refused(session.Bias{})
	m.through(p)
	p.do(session.Open{Opened: cuts(t, false, u)})
	m.through(p)
	p.do(session.Open{Opened: cuts(t, false, u)})
	fb, s := fed(t, p), p.state()
	prior := 0.05*0.05/3 + 0.03*0.03/12
	shrunk := b * prior / (prior + u*u/2)
	if fb.Taken != 2 || fb.Why != "" || math.Abs(fb.By.V+shrunk) > 6e-4 || s.Bias.By != 0 || s.Target() != s.Set.Job.Target {
		t.Errorf("two arcs %v big: %+v, bias %v; want a proposal of %v, not taken up", b, fb, s.Bias, -shrunk)
	}
	if !(fb.By.U > 1.9*u/math.Sqrt2) || !(fb.By.U < 0.006) {
		t.Errorf("its doubt is %v, want that of two arcs to %v and of their settings", fb.By.U, u)
	}
	p.do(session.Bias{})
	s = p.state()
	if s.Bias.By != fb.By.V || s.Target().SwingRadius != 42+fb.By.V || session.Kind(s.LastEntry()) != "biased" {
		t.Errorf("taken up: bias %v, target %v", s.Bias, s.Target())
	}
	if p.refused(session.Bias{}).Because == "" {
		t.Error("taken up twice")
	}
	p.do(session.Undo{})
	if s := p.state(); s.Bias.By != 0 {
		t.Errorf("taken back, the bias is %v", s.Bias)
	}
	p.do(session.Bias{})
	p.until(session.ForAccept)
	if math.Abs(w.swing-(42+fb.By.V)) > 1e-6 {
		t.Errorf("set to %v, want %v", w.swing, 42+fb.By.V)
	}
	p.do(session.Accept{})
	p.refused(session.Bias{})
	if back, err := session.Fold(p.mem.Lines, nil); err != nil || digest(back) != digest(p.state()) {
		t.Errorf("the journal leads elsewhere (%v)", err)
	}
}

// Bosses say nothing of a hollow before swing radius and cutter are told apart; a hollow checked, both are, and either
// side is told its own error: b − δD/2 and b + δD/2.
func TestOtherSideIsHeldBack(t *testing.T) {
	m := shop{b: 0.02, dd: 0.03}
	p := open(t, cuts(t, false, 0.001), near42(0, 0, 0))
	m.through(p)
	p.do(session.Open{Opened: cuts(t, true, 0.001)})
	fb := fed(t, p)
	if fb.Why == "" || fb.By.Known() || fb.Taken != 1 || !strings.Contains(p.refused(session.Bias{}).Because, "other side") {
		t.Errorf("a boss alone: %+v, want it held back from the hollow", fb)
	}
	own := -0.007
	p.do(session.Bias{By: &own}) // by one's own word
	p.do(session.Undo{})
	m.through(p)
	for hollow, want := range map[bool]float64{false: -0.005, true: -0.035} {
		p.do(session.Open{Opened: cuts(t, hollow, 0.001)})
		if fb := fed(t, p); fb.Why != "" || math.Abs(fb.By.V-want) > 1.6e-3 {
			t.Errorf("hollow %v, one arc of either side: %+v, want %v", hollow, fb, want)
		}
		m.through(p)
	}
}

// What was cut with another cutter or set by another reach is another error. An arc that was measured with its stock
// on, or beside it, says the same: what the winds behind the acceptance did is taken out.
func TestWhichArcsSpeak(t *testing.T) {
	m := shop{b: 0.02}
	for name, change := range map[string]func(*session.Opened){
		"cutter":    func(o *session.Opened) { o.Job.Cut.Cutter = 6 },
		"reach":     func(o *session.Opened) { o.Job.Setup.Reach = -12.1 },
		"reference": func(o *session.Opened) { o.Job.Setup.ReferenceRadius = 30.1 },
		"machine":   func(o *session.Opened) { o.Machine.Name = "another" },
	} {
		p := open(t, cuts(t, false, 0.001), near42(0, 0, 0))
		m.through(p)
		o := cuts(t, false, 0.001)
		change(&o)
		p.do(session.Open{Opened: o})
		if fb := fed(t, p); fb.Why == "" || fb.Other != 1 || fb.Taken != 0 {
			t.Errorf("another %s: %+v, want nothing proposed", name, fb)
		}
	}
	for _, skip := range []session.Chore{"", session.Measure, session.LeaveStock} {
		o := cuts(t, false, 0.001)
		o.Job.Cut.Stock = 0.3
		w := near42(0, 0, 0)
		p := open(t, o, w)
		for p.prompt().Waits != session.ForNothing {
			if c := p.prompt().Chore.Step; c != "" && c == skip {
				p.do(session.Skip{})
				continue
			} else if c == session.Measure || c == session.CheckArc {
				w.arc = m.arc(w.swing, false)
			}
			p.answer(1)
		}
		s := p.state()
		if len(s.Arcs) != 1 || math.Abs(s.Arcs[0].Off-0.02) > 1e-6 {
			t.Errorf("%q left out: %+v, want one arc 0.02 big", skip, s.Arcs)
		}
	}
}

// A swing radius that a slide has set off an axis knows no reach: its arcs teach nothing, and nothing is fed to it; a bias
// of one's own word moves where the slide is sent.
func TestSetOffTeachesNothing(t *testing.T) {
	p := open(t, cuts(t, false, 0.001), near42(0, 0, 0))
	shop{b: 0.02}.through(p)
	s := p.state()
	o := cuts(t, false, 0.001)
	o.Job.Target.SetOff = &setup.SetOff{Slide: "x", Way: 1}
	o.Arcs = s.Arcs
	s = s.Apply(o)
	if fb, ok := s.Feedback(); ok {
		t.Errorf("fed to a radius that a slide sets off: %+v", fb)
	}
	s.Phase = session.Cutting
	if s = s.Apply(session.Worked{Step: session.CheckArc, Value: new(38.02)}); len(s.Arcs) != 1 {
		t.Errorf("%d arcs, want the one before", len(s.Arcs))
	}
}

// Not stated is told: the measurement's doubt, the reach's and the cutter's limits. An arc beyond all of them is odd.
func TestFeedbackAssumes(t *testing.T) {
	plain := func() session.Opened {
		o := cuts(t, false, 0)
		o.Job.Setup.ReachLimit, o.Job.Cut.CutterLimit, o.Job.Stated = 0, 0, nil
		return o
	}
	for _, c := range []struct {
		b     float64
		taken int
	}{{0.02, 1}, {0.3, 0}} {
		p := open(t, plain(), near42(0, 0, 0))
		shop{b: c.b}.through(p)
		p.do(session.Open{Opened: plain()})
		fb := fed(t, p)
		if fb.Measured != setup.DefaultMeasuredError || fb.Cutter != setup.DefaultCutterLimit || fb.Reach != session.DefaultReachLimit {
			t.Errorf("assumed %+v, want the three defaults", fb)
		}
		if fb.Taken != c.taken || len(fb.Odd) != 1-c.taken || (fb.Why == "") != (c.taken == 1) {
			t.Errorf("an arc %v big: %+v, want %d taken", c.b, fb, c.taken)
		}
	}
	p := open(t, cuts(t, false, 0.001), near42(0, 0, 0))
	shop{}.through(p)
	p.do(session.Open{Opened: cuts(t, false, 0.001)})
	if fb := fed(t, p); fb.Measured != 0 || fb.Cutter != 0 || fb.Reach != 0 {
		t.Errorf("all stated, and yet assumed: %+v", fb)
	}
}

// A bias may come at any time before the acceptance: what was told is told anew, and the setting ends there.
func TestBiasAnyTime(t *testing.T) {
	by := 0.1
	for when := range 14 {
		w := near42(0.3, 0.2, -0.1)
		p := open(t, cuts(t, false, 0.001), w).answer(when)
		p.do(session.Bias{By: &by})
		p.until(session.ForAccept)
		if math.Abs(w.swing-42.1) > 1e-6 {
			t.Errorf("biased after %d answers: set to %v, want 42.1", when, w.swing)
		}
	}
	p := open(t, cuts(t, false, 0.001), near42(0, 0, 0)).until(session.ForAccept)
	p.do(session.Bias{By: &by})
	if q := p.prompt(); q.Waits != session.ForWind || q.Wind.Slide.Name != "offset" || math.Abs(q.Wind.Told.Wind.Travel-0.1) > 1e-6 {
		t.Errorf("biased where it had settled: %+v, want a wind of 0.1", q)
	}
}

// What is no bias is refused, and what is typed is read in the job's unit.
func TestBiasRefused(t *testing.T) {
	p := open(t, cuts(t, false, 0.001), near42(0, 0, 0))
	for _, v := range []float64{math.NaN(), math.Inf(1), 41.982, 0, -1.001} {
		p.refused(session.Bias{By: &v})
	}
	o := cuts(t, false, 0.001)
	o.Job.Target.SwingRadius, o.Job.Cut = 0, nil
	by := 0.01
	open(t, o, near42(0, 0, 0)).refused(session.Bias{By: &by})
	if b, err := session.ParseBias("-0,018", 0); err != nil || *b.By != -0.018 {
		t.Errorf("-0,018 reads as %v (%v)", b, err)
	}
	if b, err := session.ParseBias(" ", 0); err != nil || b.By != nil {
		t.Errorf("nothing reads as %v (%v)", b, err)
	}
	for _, text := range []string{"much", "1 2"} {
		if _, err := session.ParseBias(text, 0); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
}

// A journal whose openings carry no arcs was written before arcs were fed back: it says nothing new, whatever was
// checked in it.
func TestOlderJournalsSayNothing(t *testing.T) {
	p := open(t, cuts(t, false, 0.001), near42(0, 0, 0))
	shop{b: 0.02}.through(p)
	s := p.state()
	s = s.Apply(cuts(t, false, 0.001))
	if fb, ok := s.Feedback(); ok {
		t.Errorf("an opening without arcs: %+v", fb)
	}
}

// Whatever is cut in a row: what is proposed is what check.Learnt makes of the arcs; a side without arcs of its own
// hears of the other only when told apart; a bias stands only behind the word; and the journal leads to the same state.
func TestFeedbackProperty(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m := shop{b: rapid.Float64Range(-0.04, 0.04).Draw(r, "b"), dd: rapid.Float64Range(-0.025, 0.025).Draw(r, "δD")}
		u := rapid.SampledFrom([]float64{0, 0.002, 0.02}).Draw(r, "measured to")
		sides := rapid.SliceOfN(rapid.Bool(), 2, 4).Draw(r, "hollow")
		w := near42(0, 0, 0)
		p := open(t, cuts(t, sides[0], u), w)
		for i, hollow := range sides {
			if i > 0 {
				p.do(session.Open{Opened: cuts(t, hollow, u)})
			}
			s := p.state()
			fb, ok := s.Feedback()
			if s.Bias.By != 0 || ok != (i > 0) {
				r.Fatalf("setting %d opens with bias %v, and arcs %v", i, s.Bias, ok)
			}
			if ok {
				side := check.Side(map[bool]int{false: 0, true: 1}[hollow])
				c, talks := fb.Learnt.Correction(side)
				if talks != (fb.Why == "") || (talks && math.Abs(fb.By.V-c.V) > 0.00051) || fb.Taken+len(fb.Odd) != i {
					r.Fatalf("%+v, where the arcs say %v %v", fb, c, talks)
				}
				if fb.Learnt.Arcs(side) == 0 && talks && fb.Learnt.Risk(side) > check.MaxRisk {
					r.Fatalf("fed to the other side at a risk of %v", fb.Learnt.Risk(side))
				}
			}
			m.through(p)
		}
		if back, err := session.Fold(p.mem.Lines, nil); err != nil || digest(back) != digest(p.state()) {
			r.Fatalf("the journal leads elsewhere (%v)", err)
		}
	})
}

// A setting's opening carries along as many arcs as are kept, and a further one pushes out the oldest.
func TestTheNewestArcsAreKept(t *testing.T) {
	const most = 64
	p := open(t, cuts(t, false, 0.001), near42(0, 0, 0))
	shop{}.through(p)
	one := p.state().Arcs
	if len(one) != 1 {
		t.Fatalf("%d arcs behind one that was checked", len(one))
	}
	o := cuts(t, false, 0.001)
	for i := range most {
		a := one[0]
		a.Off = float64(i+1) / 1000
		o.Arcs = append(o.Arcs, a)
	}
	q := open(t, o, near42(0, 0, 0))
	shop{b: -0.5}.through(q)
	got := q.state().Arcs
	if len(got) != most || got[0].Off != 0.002 || got[most-2].Off != 0.064 || !(got[most-1].Off < -0.4) {
		t.Errorf("%d arcs, from %v to %v and %v, want %d, the oldest gone and the new one last", len(got), got[0].Off, got[len(got)-2].Off,
			got[len(got)-1].Off, most)
	}
}
