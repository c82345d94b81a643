package session_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/check"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
)

// onArc is a session that asks for the finished arc of the bench: a rim of 38 about a bore of 60, by 0.01 too large, over an
// angle (degrees; 0: nobody says).
func onArc(t *testing.T, angle float64, change func(*session.Opened)) *player {
	t.Helper()
	o := stepwise(t, false)
	if angle > 0 {
		o.Arc = &part.Picked{Part: "plate", N: 1, Radius: 38, From: 0, To: geom.FromDegrees(angle), Side: "inside", Cutter: 8, Swing: 42}
	}
	if change != nil {
		change(&o)
	}
	p := open(t, o, near42(0, 0, 0)).until(session.ForAccept)
	p.do(session.Accept{})
	for p.prompt().Chore.Step != session.CheckArc {
		if q := p.prompt(); q.Waits == session.ForWind || q.Chore.Step == session.Measure {
			p.do(session.Skip{})
			continue
		}
		p.answer(1)
	}
	return p
}

// say types a line.
func say(t *testing.T, text string, u geom.Unit) session.Command {
	t.Helper()
	c, err := session.Parse(text, u)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return c
}

// Each way finds the radius of a true rim of 38.01, its figures by Pythagoras on the places where it is touched: a chord of
// 30; pins of 10 beside the rim on a plate; the wall from the bore. Any order, any unit, a decimal comma; and undo takes it
// back.
func TestMeasuredByWays(t *testing.T) {
	const r = 38.01
	sag := r - math.Sqrt(r*r-15*15)
	beside := math.Sqrt((r+5)*(r+5) - (r-5)*(r-5))
	f := func(v float64) string { return strings.Replace(geom.FormatFixed(v, 9), "−", "-", 1) }
	inch := func(v float64) string { return f(v / 25.4) }
	for _, c := range []struct {
		text string
		u    geom.Unit
		way  string
	}{
		{f(r), geom.Millimetre, ""},
		{"d " + f(2*r), geom.Millimetre, "diameter"},
		{"diameter " + f(2*r), geom.Millimetre, "diameter"},
		{"chord 30 sagitta " + f(sag), geom.Millimetre, "chord"},
		{"chord 30 error 0.02 sagitta " + strings.Replace(f(sag), ".", ",", 1), geom.Millimetre, "chord"},
		{"chord " + inch(30) + " sagitta " + inch(sag), geom.Inch, "chord"},
		{"over-pins " + f(2*beside+10) + " pin 10", geom.Millimetre, "over pins"},
		{"between-pins " + f(2*beside-10) + " pin 10 tool-error 0.002", geom.Millimetre, "between pins"},
		{"from-hole " + f(r-30), geom.Millimetre, "from hole"},
	} {
		p := onArc(t, 0, func(o *session.Opened) { o.Job.Unit = c.u })
		p.do(say(t, c.text, c.u))
		s := p.state()
		w := s.Worked[len(s.Worked)-1]
		if w.Value == nil || math.Abs(*w.Value-r) > 1e-6 || (w.By == nil) != (c.way == "") {
			t.Errorf("%s: %+v, want %v", c.text, w, r)
			continue
		}
		a, way, ok := s.Gauged(&w)
		if ok != (c.way != "") || ok && (way.Name != c.way || math.Abs(a.Radius.V-r) > 1e-6 || !a.Radius.Value().Sure()) {
			t.Errorf("%s: by %v %+v, want by %q with its doubt", c.text, way, a.Radius, c.way)
		}
		wantSame(t, c.text+": folded again", mustFold(t, p.mem.Lines), s)
	}
}

// mustFold folds a journal.
func mustFold(t *testing.T, lines [][]byte) session.State {
	t.Helper()
	s, err := session.Fold(lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A hollow of 38.01 by two pins of 10 lying in it, their middles 20 to either side: by Pythagoras.
func TestMeasuredHollow(t *testing.T) {
	const r = 38.01
	low := math.Sqrt((r-5)*(r-5) - 20*20)
	p := onArc(t, 0, func(o *session.Opened) {
		o.Job.Cut.Hollow, o.Job.Target.SwingRadius, o.Job.Setup.Reach = true, 34, -4
	})
	p.do(say(t, "hollow-pins 50 height "+geom.FormatFixed(r-low+5, 9)+" pin 10", geom.Millimetre))
	s := p.state()
	if w := s.Worked[len(s.Worked)-1]; math.Abs(*w.Value-r) > 1e-6 {
		t.Errorf("radius %v, want %v", *w.Value, r)
	}
}

// How sure a measured arc is goes with its way: of an arc of 38 the wall from the bore at 8 counts whole, and the sagitta of a
// chord of 30 eleven times, by hand: ½ − 900/8h² with h = 38 − √(38² − 15²) = 3.0858 is −11.3. What the setting has left
// of the centre's error counts beside the wall.
func TestMeasuredDoubt(t *testing.T) {
	arc := func(text string) check.Arc {
		p := onArc(t, 0, nil)
		p.do(say(t, text, geom.Millimetre))
		s := p.state()
		a, _, _ := s.Gauged(&s.Worked[len(s.Worked)-1])
		return a
	}
	slope := func(a check.Arc, of string) float64 {
		for _, x := range a.Radius.Terms {
			if x.Name == of {
				return x.Sensitivity
			}
		}
		return 0
	}
	wall, chord := arc("from-hole 8.01"), arc("chord 30 sagitta 3.0848")
	if got := slope(chord, "sagitta"); math.Abs(got+11.3) > 0.05 || slope(wall, "wall") != 1 || slope(wall, "hole's middle") != 1 {
		t.Errorf("slopes %v of the sagitta, %+v of the wall", got, wall.Radius.Terms)
	}
	if finer := arc("from-hole 8.01 error 0.002"); !(finer.Radius.Value().U < wall.Radius.Value().U/2) {
		t.Errorf("a finer caliper: ±%v, want less than half of ±%v", finer.Radius.Value().U, wall.Radius.Value().U)
	}
}

// An arc of a quarter leaves some ways only; a bare radius by its diameter goes all the same.
func TestWaysOfAnArc(t *testing.T) {
	why := map[string]string{}
	p := onArc(t, 90, nil)
	s := p.state()
	for _, w := range s.Ways() {
		why[w.Named] = w.Why
	}
	for way, want := range map[string]string{"chord": "", "diameter": "goes round 90.0°", "over pins": "", "between pins": "",
		"hollow pins": "convex", "from hole": ""} {
		if got, there := why[way]; !there || (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%s: %q (%v), want %q", way, got, there, want)
		}
	}
	p.do(say(t, "d 76.02", geom.Millimetre))
	s = p.state()
	if w := s.Worked[len(s.Worked)-1]; w.By != nil || math.Abs(*w.Value-38.01) > 1e-12 {
		t.Errorf("a radius told by its diameter: %+v, want 38.01 and no way", w)
	}
}

// What an arc of a quarter of 38 cannot have, and what nobody can read, is refused with what is there and what would do, and
// nothing has changed; the radius that was set is not told.
func TestMeasuredRefused(t *testing.T) {
	p := onArc(t, 90, func(o *session.Opened) { o.Job.Setup.ReferenceRadius = 30 })
	for _, c := range []struct{ text, because, hint string }{
		{"diameter 76.02", "diameter: this arc goes round 90.0°, need 180° or more to measure across it", "another way"},
		{"hollow-pins 50 pin 10 height 12", "hollow pins: this arc is convex, and no pins lie in it; need a hollow", "another way"},
		{"chord 60 sagitta 14.7",
			"a chord of 60 mm is longer than any of this arc can be, which goes round 90.0°, need at most about 53 mm",
			"both its ends on the arc"},
		{"chord 14.7 sagitta 60", "what was laid on touches 166.0° to either side of the middle, and this arc goes 45.0° to either side",
			"exchanged"},
		{"over-pins 130 pin 26", "what was laid on touches 53.1° to either side of the middle", "smaller pins"},
		{"over-pins 15 pin 10", "over the pins 15 mm with pins of 10 mm: the pins would stand in each other, need more than 20 mm",
			"smaller pins"},
		{"76.02", "radius 76.02 mm is more than 5 mm off the arc that was set", "like d 76.02"},
		{"from-hole 38", "radius 68 mm is more than 5 mm off the arc that was set", "measure again, or skip"},
		{"chord 30", "chord without sagitta", "chord C sagitta H, in mm"},
		{"chord 30 sagitta", "sagitta without its figure", "chord C sagitta H"},
		{"chord 30 sagitta 3 pin 10", `"pin" is no figure of chord`, "chord C sagitta H"},
		{"chord 30 sagitta 3 chord 30", "chord is there twice, need it once", "chord C sagitta H"},
		{"chord 30 sagitta 0", "sagitta 0, need it above 0", "chord C sagitta H"},
		{"chord 30 sagitta -3", "sagitta -3, need it above 0", "chord C sagitta H"},
		{"chord 30 sagitta 1e999", "sagitta", "chord C sagitta H"},
		{"chord x sagitta 3", "chord: ", "chord C sagitta H"},
		{"d", "diameter without its figure", "diameter D"},
	} {
		cmd, err := session.Parse(c.text, geom.Millimetre)
		var r *session.Refusal
		if err != nil {
			r = err.(*session.Refusal)
		} else {
			r = p.refused(cmd)
		}
		if !strings.HasPrefix(r.Because, c.because) || !strings.Contains(r.Hint, c.hint) {
			t.Errorf("%q: %q (%q), want %q (%q)", c.text, r.Because, r.Hint, c.because, c.hint)
		}
		if strings.Contains(r.Because+r.Hint, "38") && !strings.Contains(c.text, "38") {
			t.Errorf("%q: %q (%q) tells the radius that was set", c.text, r.Because, r.Hint)
		}
	}
	// Where no arc is asked for, and about a reference of which nobody says how large it is.
	q := open(t, stepwise(t, false), near42(0, 0, 0))
	if r := q.refused(say(t, "chord 30 sagitta 3", geom.Millimetre)); !strings.Contains(r.Because, "no arc is asked for") {
		t.Errorf("%q, want that no arc is asked for", r.Because)
	}
	p = onArc(t, 0, nil)
	s := p.state()
	s.Set.Job.Setup.ReferenceRadius = 40
	wall := say(t, "from-hole 8", geom.Millimetre)
	if _, err := session.Decide(s, wall); err == nil || !strings.Contains(err.Error(), "within the reference") {
		t.Errorf("%v, want that an arc of 38 lies within a bore of 40", err)
	}
	s.Set.Job.Setup.ReferenceRadius = 0
	if _, err := session.Decide(s, wall); err == nil || !strings.Contains(err.Error(), "no radius is stated") {
		t.Errorf("%v, want that no radius is stated", err)
	}
}

// A way that this program does not know, or figures that are none of it, are refused where a journal is read.
func TestMeasuredByChecked(t *testing.T) {
	v := 38.0
	for _, by := range []session.MeasuredBy{{Way: "by eye"},
		{Way: "cusp", Figures: []session.Figured{{Name: "cusp", V: 1}, {Name: "pitch", V: 4}}},
		{Way: "chord", Figures: []session.Figured{{Name: "chord", V: 30}}}} {
		line, err := session.Encode(1, begin, session.Worked{Step: session.CheckArc, Value: &v, By: &by})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := session.Decode(1, line); err == nil || !strings.Contains(err.Error(), by.Way) {
			t.Errorf("%+v is read: %v", by, err)
		}
	}
}

// A radius to be held is taken by its diameter, its doubt with it.
func TestHoldByDiameter(t *testing.T) {
	want := session.Hold{Radius: 42.003, Limit: 0.004}
	h, err := session.ParseHold("d 84.006 0.008", geom.Millimetre)
	if err != nil || math.Abs(h.Radius-want.Radius)+math.Abs(h.Limit-want.Limit) > 1e-12 {
		t.Errorf("%+v, %v, want %+v", h, err, want)
	}
	if _, err := session.ParseHold("d", geom.Millimetre); err == nil {
		t.Error("d alone is taken")
	}
}
