package session_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// However a sign is checked, the slide is wound far enough for the needle to be seen to move: five of its divisions (common practice, no
// source), by as much more as the needle goes less at that bearing, which is the slide's way along it.
func TestCheckIsWoundAsFarAsTheNeedleNeeds(t *testing.T) {
	centreOnly := strings.Replace(strings.Replace(setOffJob, "swing_radius = 42\nset_off_by = \"x\"\ntolerance = 0.02\n", "", 1),
		"centre_tolerance = 0.1", "centre_tolerance = 0.02", 1)
	byCollar := strings.ReplaceAll(pointsMachine, "readout = true", "by_collar = true")
	way := map[string]geom.Point{"x": {X: 1}, "y": {Y: 1}}
	aside := 0
	var check func(s session.State, depth int)
	check = func(s session.State, depth int) {
		p, ok := s.NextCheck()
		if !ok || depth == 4 {
			return
		}
		sl, has := s.Set.Machine.Slide(p.Slide)
		if !has {
			t.Fatalf("check of %q", p.Slide)
		}
		act := math.Abs(way[p.Slide].Dot(p.Bearing.Unit()))
		if act < 0.99 {
			aside++
		}
		if goes, least := p.Divisions*sl.Division()*act, 5*s.Set.Job.Dial.Graduation; goes < least*(1-1e-9) {
			t.Errorf("%s at %.0f°, after %d checks: %v divisions move the needle by %v, want %v at least", p.Slide, p.Bearing.Degrees(),
				depth, p.Divisions, goes, least)
		}
		for _, went := range []session.Went{session.Up, session.Down} {
			check(s.Apply(session.Sensed{Slide: p.Slide, Bearing: p.Bearing, Went: went}), depth+1)
		}
	}
	p := overAxis(t, centreOnly, byCollar, geom.Point{X: 0.2, Y: 0.1})
	for p.prompt().Waits == session.ForWind {
		p.do(session.Confirm{})
	}
	for p.prompt().Waits == session.ForReading { // it went astray: what is behind that is asked for
		b := p.prompt().Reading.Bearing.Unit()
		across := -0.4 * b.Y
		p.do(session.Take{Reading: 30 - (0.4*b.X + math.Sqrt(30*30-across*across))})
	}
	if p.prompt().Waits != session.ForCheck {
		t.Fatalf("waits for %v, want a check", p.prompt().Waits)
	}
	for zero := -180; zero <= 180; zero += 15 { // a ring's zero that is off by so much, or a slide that goes the other way
		s := p.state()
		set := *s.Set
		set.Job.Dial.Graduation, s.Set = 0.1, &set // so that a check takes several divisions of the collar
		check(s.Apply(session.Suspected{Causes: []session.Cause{{Key: "head.zero", Was: "0", Is: strconv.Itoa(zero)},
			{Key: "slide.x.clockwise", Was: "increase", Is: "decrease", Slides: []string{"x"}}}}), 0)
	}
	if aside < 5 {
		t.Errorf("%d checks where the needle goes less than the slide, want 5 to have looked at enough", aside)
	}
}

// Where a slide is wound past its goal and comes up to it from there, the needle goes away from its goal first: stopped on that way it
// has gone as it must, and no sign is in question. Wound straight to the goal it has gone the other way, and one is.
func TestWayToTheTurningPointIsNoWayAstray(t *testing.T) {
	o := benchOpened(t)
	sl, _ := o.Machine.Slide("x")
	past := -0.15
	for _, p := range []advice.Park{
		{Now: 0, Past: &past, Goal: 0.2, Act: 1}, {Now: 0, Goal: 0.2, Act: 1},
	} {
		s := open(t, o, near42(0.2, 0.2, 0)).until(session.ForReading).state()
		s = s.Apply(session.Told{Step: 1, Of: 1, Wind: sl.Wind(0.2), Park: &p})
		e, err := session.Decide(s, session.Take{Reading: -0.14})
		asked, is := e.(session.Suspected)
		if straight := p.Past == nil; is != straight || is != asked.Wind || (err == nil) != straight {
			t.Errorf("turning back at %v: %+v, %v; want a sign in question: %v", p.Past, e, err, straight)
		}
	}
}

// A place between the winds that was left out shows nothing, at whatever place and with whatever was to be expected there: near 0 too,
// which is what a record without a reading holds.
func TestLookLeftOutMakesNothingKnown(t *testing.T) {
	p := betweenWinds(t)
	s := p.state()
	near := 0
	for d := range 360 {
		at := geom.FromDegrees(float64(d))
		x := s.Believed.Expect(at)
		if math.Abs(x.V) < x.U {
			near++
		}
		if behind := s.Apply(session.Looked{Bearing: at, Skipped: true}); behind.Believed.Expect(at) != x {
			t.Fatalf("at %d°, left out: %+v to be expected, and %+v before", d, behind.Believed.Expect(at), x)
		}
	}
	if near < 5 {
		t.Errorf("at %d bearings the needle may stand at 0, want 5 to have looked at enough", near)
	}
}

// From the wall of the hole that was swept an arc is as sure as that hole's radius, of which the diameter is twice and its limit too.
func TestHolesLimitIsOfItsDiameter(t *testing.T) {
	p := onArc(t, 0, func(o *session.Opened) { o.Job.Setup.ReferenceLimit = 0.01 })
	p.do(say(t, "from-hole 8.01", geom.Millimetre))
	s := p.state()
	for _, f := range s.Worked[len(s.Worked)-1].By.Figures {
		if f.Name == "hole" {
			if r := s.Set.Job.Setup.ReferenceRadius; f.V != 2*r || f.Limit != 0.02 {
				t.Errorf("a hole of radius %v ±0.01: diameter %v ±%v, want ±0.02", r, f.V, f.Limit)
			}
			return
		}
	}
	t.Error("no hole among the figures")
}

// How right a held radius is can be said anew, and that is what counts from then on.
func TestLimitOfAHeldRadiusIsStatedAnew(t *testing.T) {
	p := open(t, benchOpened(t), near42(0, 0, 0)).until(session.ForReading)
	p.do(session.Hold{Radius: 42, Limit: 0.004}, session.StateLimit{Figure: indicator.OfHeld, Limit: 0.001})
	s := p.state()
	if mm, known := s.LimitOf(indicator.OfHeld); mm != 0.001 || !known || s.Hold.Limit != 0.001 || s.Hold.Radius != 42 {
		t.Errorf("stated 0.001: %v (%v), held %+v", mm, known, s.Hold)
	}
	p.do(session.Undo{})
	s = p.state()
	if mm, _ := s.LimitOf(indicator.OfHeld); mm != 0.004 {
		t.Errorf("taken back: %v, want 0.004", mm)
	}
}

// The next part's hole has a form of its own: what the sweeps of the one before have shown of it counts no more.
func TestNextPartsHoleHasItsOwnForm(t *testing.T) {
	w := near42(0, 0, 0)
	w.arc = 38
	s := open(t, ringed(t), w).until(session.ForNothing).state()
	s.Forms = []session.Formed{{Radius: s.Set.Job.Setup.ReferenceRadius, Two: 0.01}}
	for _, e := range []session.Parted{{Part: 2, Sweep: true}, {Part: 2}, {Part: 2, Sweep: true, Bracket: true}} {
		s.Reswept = true // as behind a look for which the indicator was out
		if behind := s.Apply(e); behind.Reswept {
			t.Errorf("%+v: its zero counts as one behind a look", e)
		}
		if behind := s.Apply(e); len(behind.Forms) != 0 || len(s.Forms) != 1 {
			t.Errorf("%+v: %+v is known of the next hole's form, want nothing; %d of the one before", e, behind.Forms, len(s.Forms))
		}
	}
}

// What a collar shows was counted by the sense that was stated wrong: it is asked for anew, of that slide alone.
func TestStatedAnewASlideStandsNobodyKnowsWhere(t *testing.T) {
	p := open(t, keeping(t), near42(0, 0, 0)).until(session.ForReading)
	for _, name := range []string{"x", "y"} {
		p.do(session.ReadCollar{Read: session.Read{Slide: name, Figure: 10}})
	}
	s := p.state()
	sl, _ := s.Set.Machine.Slide("x")
	other := map[string]string{"increase": "decrease", "decrease": "increase"}[sl.Clockwise.String()]
	s.Odd = []session.Odd{{Trial: 1, Slide: "x"}, {Trial: 1, Slide: "y"}}
	s = s.Apply(session.Restated{Key: "slide.x.clockwise", Was: sl.Clockwise.String(), Is: other})
	if len(s.Odd) != 1 || s.Odd[0].Slide != "y" {
		t.Errorf("x put right: odd are %+v, want what y did alone", s.Odd)
	}
	_, x := s.CollarAt("x")
	_, y := s.CollarAt("y")
	if x || !y {
		t.Errorf("x put right: where it stands is known %v, of y %v; want y alone", x, y)
	}
}

// Two measurements agree where they lie within what either may be out, however coarse the tool: by one that is right to 0.098 (twice
// its 0.05) arcs of 38.6 and 38.7 are the same, by one of 0.002 they are not.
func TestCutsAgreeByTheirDoubts(t *testing.T) {
	for tool, agree := range map[float64]bool{0.05: true, 0.002: false} {
		o := cuts(t, false, tool)
		o.Job.Cut.Stock = 0.3
		s := open(t, o, near42(0, 0, 0)).until(session.ForAccept).state()
		first, second := s.Set.Job.Arc()+0.3+0.6, s.Set.Job.Arc()+0.3+0.7
		s.Worked = []session.Worked{{Step: session.LeaveStock}, {Step: session.Measure, Value: &first}}
		once := s.DoubtsCut()
		s.Worked = append(s.Worked, session.Worked{Step: session.Measure, Value: &second})
		if twice := s.DoubtsCut(); !once || twice == agree {
			t.Errorf("a tool of %v: in doubt once %v, twice %v; want true, %v", tool, once, twice, !agree)
		}
	}
}

// How right a figure is bears on what the winds since the sweep are believed to have come to, at once: what is told next goes by it.
func TestLimitStatedBetweenWindsCountsAtOnce(t *testing.T) {
	s := betweenWinds(t).state()
	predicted := *s.Believed
	s.Predicted = &predicted
	was := s.Believed.Setup.ReachLimit
	behind := s.Apply(session.LimitStated{Figure: indicator.OfReach, Limit: 0.05})
	if b, p := behind.Believed.Setup.ReachLimit, behind.Predicted.Setup.ReachLimit; was == 0.05 || b != 0.05 || p != 0.05 {
		t.Errorf("stated 0.05: believed by %v, predicted by %v, and %v before", b, p, was)
	}
	if s.Believed.Setup.ReachLimit != was || predicted.Setup.ReachLimit != was {
		t.Error("the state before it has changed")
	}
}

// What was wound by the collar is wound back as far as the handle was turned, which is not as far as the slide went where its screw is
// known to be another: 0.2 of travel by 0.25 goes back as -0.2 by -0.25.
func TestWayBackIsTurnedAsItWasWound(t *testing.T) {
	o := benchOpened(t)
	s := open(t, o, near42(0, 0, 0)).until(session.ForReading).state()
	sl, _ := o.Machine.Slide("x")
	s.Past = &session.Trial{Number: 1, Winds: &setup.Done{Wind: sl.WindBy(0.2, 0.25)}}
	for n := 0; n < 30 && s.Prompt().Waits == session.ForReading; n++ {
		s = s.Apply(session.Skipped{Bearing: s.Prompt().Reading.Bearing, Off: session.Free})
	}
	if s.Prompt().Waits != session.ForBack {
		t.Fatalf("waits for %v, want the way back", s.Prompt().Waits)
	}
	all := s.Prompt().Back.Winds
	if len(all) != 1 || all[0].Slide != "x" || all[0].Travel != -0.2 || all[0].By() != -0.25 {
		t.Errorf("the way back is %+v, want x by -0.2, turned by -0.25", all)
	}
}
