package session_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// limits plays a setting in which nobody had said how right anything is: limits are stated at a station, at a wind, of a radius
// that is held, and where it has settled, and each is taken back once.
func limits(t testing.TB) *player {
	t.Helper()
	o := unsaid(t, 0.02)
	o.Steps = false
	p := open(t, o, near42(0.2, 0.1, -0.05)).until(session.ForReading).answer(1)
	p.do(session.StateLimit{Figure: "dial.error", Limit: 0.002}, session.Undo{}, session.StateLimit{Figure: "dial", Limit: 0.002})
	p.do(session.Hold{Radius: 42.2}, session.StateLimit{Figure: "held_radius", Limit: 0.004}, session.Undo{}, session.Undo{})
	p.until(session.ForWind).answer(1)
	p.do(session.StateLimit{Figure: "reference_radius", Limit: 0.003}, session.Undo{},
		session.StateLimit{Figure: "reference_radius", Limit: 0.003})
	p.until(session.ForAccept)
	p.do(session.StateLimit{Figure: "reach_error", Limit: 0.05}, session.Undo{}, session.StateLimit{Figure: "reach", Limit: 0.004},
		session.StateLimit{Figure: "reference_form", Limit: 0})
	return p.until(session.ForNothing)
}

// What is stated behind the sweep is what the same figure stated in the job file makes: the same circle, doubt, verdicts and
// room, to the last bit; taken back, it is as it was.
func TestStatedHereAsInTheFile(t *testing.T) {
	for _, c := range []struct {
		figure string
		limit  float64
		put    func(j *setup.Job, v float64)
	}{
		{"reach", 0.012, func(j *setup.Job, v float64) { j.Setup.ReachLimit = v }},
		{"reach", 0, func(j *setup.Job, v float64) { j.Setup.ReachLimit = v }},
		{"reference_radius", 0.003, func(j *setup.Job, v float64) { j.Setup.ReferenceLimit = v }},
		{"reference_form", 0.002, func(j *setup.Job, v float64) { j.Setup.FormLimit = v }},
		{"dial", 0.004, func(j *setup.Job, v float64) { j.Dial.ErrorLimit = v }},
	} {
		in := unsaid(t, 0.02)
		c.put(&in.Job, c.limit)
		in.Job.Stated = indicator.Stated{c.figure}
		file := open(t, in, near42(0, 0, 0)).until(session.ForAccept)
		p := open(t, unsaid(t, 0.02), near42(0, 0, 0)).until(session.ForAccept)
		p.do(session.StateLimit{Figure: c.figure, Limit: c.limit})
		p.until(session.ForAccept)
		a, b := p.state(), file.state()
		f, errA := a.Fit()
		g, errB := b.Fit()
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		if a.Sweep.N != b.Sweep.N || f.Swing() != g.Swing() || f.CentreX() != g.CentreX() || a.Verdicts(&f) != b.Verdicts(&g) ||
			digest(a.Room(&f)) != digest(b.Room(&g)) {
			t.Errorf("%s %v: swing %+v, verdicts %+v, room %+v; from the file %+v, %+v, %+v", c.figure, c.limit, f.Swing(), a.Verdicts(&f),
				a.Room(&f), g.Swing(), b.Verdicts(&g), b.Room(&g))
		}
		if got := a.Assumed(&f).Names(); slices.Contains(got, c.figure) || len(got) != 3 {
			t.Errorf("%s stated: leaning on %v", c.figure, got)
		}
		p.do(session.Undo{})
		if s := p.state(); s.Phase != session.SettledDown || s.Set.Job.Stated != nil {
			t.Errorf("%s taken back: phase %d, stated %v", c.figure, s.Phase, s.Set.Job.Stated)
		}
	}
}

// The doubt of the swing radius is the readings' and the limit's over √3, the standard uncertainty of a rectangle by JCGM
// 100:2008, 4.3.7 (from memory), as the root of the sum of squares; a limit that takes the tolerance whole leaves nothing proven.
func TestStatedLimitIsInTheDoubt(t *testing.T) {
	p := open(t, unsaid(t, 0.02), near42(0, 0, 0)).until(session.ForAccept)
	s := p.state()
	f, _ := s.Fit()
	alone := f.Swing().U
	for _, limit := range []float64{0.004, 0.012, 0.05} {
		p.do(session.StateLimit{Figure: "reach", Limit: limit})
		s = p.until(session.ForAccept).state()
		f, _ = s.Fit()
		// The coverage factor lies between 1.96, of a normal distribution, and that of the readings alone.
		part := limit / math.Sqrt(3)
		if u := f.Swing().U; u < 1.959*part || u > math.Hypot(alone, 2.4*part) {
			t.Errorf("limit %v: U is %v, of the readings alone %v", limit, u, alone)
		}
		if v := s.Verdicts(&f).Radius; (v == indicator.Inside) != (limit < 0.015) {
			t.Errorf("limit %v: radius %v", limit, v)
		}
	}
}

// A limit that is stated while slides are being wound counts from there on, and nothing that was wound is forgotten.
func TestStatedBetweenWinds(t *testing.T) {
	p := open(t, unsaid(t, 0.02), near42(0.3, 0.2, -0.1)).until(session.ForWind).answer(1)
	before := p.state()
	p.do(session.StateLimit{Figure: "reach", Limit: 0.004})
	s := p.state()
	if _, anew := p.steps[len(p.steps)-1].Event.(session.Told); !anew {
		t.Errorf("the wind is not told anew, with what is stated: %T is the last", p.steps[len(p.steps)-1].Event)
	}
	if s.Winds == nil || s.Told == nil || digest(s.Told.Wind) != digest(before.Told.Wind) || s.Told.Step != before.Told.Step {
		t.Errorf("told %+v, before %+v", s.Told, before.Told)
	}
	s = p.until(session.ForAccept).state()
	f, _ := s.Fit()
	if v := s.Verdicts(&f); v.Radius != indicator.Inside || s.Assumed(&f).Names()[0] != "reference_radius" {
		t.Errorf("%v, leaning on %v", v, s.Assumed(&f).Names())
	}
}

// What cannot be stated is refused with what was seen and what is needed; a limit is read by the figure's name or by its key.
func TestLimitRefusals(t *testing.T) {
	p := open(t, unsaid(t, 0.02), near42(0, 0, 0)).until(session.ForReading)
	for _, c := range []struct{ figure, says string }{
		{"cutter", `"cutter", need one of reach, reference_radius, reference_form, dial`},
		{"held_radius", "need one of reach"}, {"zero_radius", "need one of reach"}, {"", `"", need one of`},
	} {
		if r := p.refused(session.StateLimit{Figure: c.figure, Limit: 0.01}); !strings.Contains(r.Because, c.says) {
			t.Errorf("%q: refused with %q", c.figure, r.Because)
		}
	}
	for _, v := range []float64{-0.01, 2.01, math.NaN(), math.Inf(1)} {
		if r := p.refused(session.StateLimit{Figure: "reach", Limit: v}); !strings.Contains(r.Because, "need 0 to 2 mm") {
			t.Errorf("%v: refused with %q", v, r.Because)
		}
	}
	p.do(session.StateLimit{Figure: "reach", Limit: 0.02})
	if r := p.refused(session.StateLimit{Figure: "reach_error", Limit: 0.02}); !strings.Contains(r.Because, "0.02 mm already") {
		t.Errorf("refused with %q", r.Because)
	}
	p.until(session.ForAccept).do(session.Accept{})
	p.refused(session.StateLimit{Figure: "reach", Limit: 0.01})
	pair := pointsOn(t, 4, nil)
	if r := pair.refused(session.StateLimit{Figure: "dial", Limit: 0.01}); !strings.Contains(r.Because, "nothing of this set-up") {
		t.Errorf("of points: refused with %q", r.Because)
	}
	for text, want := range map[string]session.StateLimit{"limit reach 0,02": {Figure: "reach", Limit: 0.02},
		"limit DIAL.error 0.001": {Figure: "dial", Limit: 0.001}, "limit reference_form_error 0": {Figure: "reference_form"}} {
		if c, err := session.Parse(text, geom.Millimetre); err != nil || c != want {
			t.Errorf("%s: %+v, %v", text, c, err)
		}
	}
	for _, text := range []string{"limit", "limit reach", "limit reach x", "limit reach 0.1 0.2"} {
		if c, err := session.Parse(text, geom.Millimetre); !errors.As(err, new(*session.Refusal)) {
			t.Errorf("%s: %+v, %v", text, c, err)
		}
	}
}

// Files that say nothing of a limit do not differ from a setting in which it was stated by hand; one that says another does.
func TestStatedHereIsNoDifference(t *testing.T) {
	p := open(t, unsaid(t, 0.02), near42(0, 0, 0)).until(session.ForReading)
	p.do(session.StateLimit{Figure: "reach", Limit: 0.02})
	s, now := p.state(), unsaid(t, 0.02)
	if all := s.OthersFrom(&now); len(all) > 0 || now.Job.Setup.ReachLimit != 0 {
		t.Errorf("told as different: %+v", all)
	}
	now.Job.Stated, now.Job.Setup.ReachLimit = indicator.Stated{indicator.OfReach}, 0.05
	if all := s.OthersFrom(&now); len(all) != 1 || all[0].Was != "0.02 mm" || all[0].Is != "0.05 mm" {
		t.Errorf("told as different: %+v, want the reach's limit", all)
	}
}

// A limit that is stated where all has settled is judged anew, and what has become of the verdicts is told: a reach that may be off by
// far more than the tolerance leaves the radius undecided, and the centre, which the reach does not bear on, inside.
func TestStatedAtTheEndIsJudgedAnew(t *testing.T) {
	p := open(t, unsaid(t, 0.02), near42(0, 0, 0)).until(session.ForAccept)
	p.do(session.StateLimit{Figure: "reach", Limit: 0.05})
	e, settled := p.steps[len(p.steps)-1].Event.(session.Settled)
	if want := (session.Settled{Radius: indicator.Undecided, Centre: indicator.Inside}); !settled || e != want {
		t.Errorf("behind the limit %+v, want %+v", p.steps[len(p.steps)-1].Event, want)
	}
}
