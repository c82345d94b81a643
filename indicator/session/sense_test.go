package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// senseAll has the simulated hands check every sign of a session; the machine has its own geometry.
func senseAll(t testing.TB, o session.Opened, m *practice.Machine, names ...string) *player {
	t.Helper()
	p := open(t, o, m)
	for _, name := range names {
		s := p.state()
		c, err := m.Sense(&s, name)
		if err != nil {
			t.Fatal(err)
		}
		p.do(c)
	}
	return p
}

// The sign check finds the one statement that is wrong, in a bore and round a boss, and agrees where all
// is right. The simulated machine intersects lines and circles, and shares no sign with the session.
func TestSignCheck(t *testing.T) {
	other := func(o *session.Opened, names ...string) {
		o.Machine.Slides = slices.Clone(o.Machine.Slides)
		for i := range o.Machine.Slides {
			if sl := &o.Machine.Slides[i]; slices.Contains(names, sl.Name) {
				sl.Clockwise = -sl.Clockwise
			}
		}
	}
	all := []string{session.Tip, "x", "y", "offset"}
	cases := []struct {
		name   string
		change func(*session.Opened)
		senses []string
		want   advice.Fault
		slides []string
	}{
		{"right", func(*session.Opened) {}, all, advice.NoFault, nil},
		{"touch", func(o *session.Opened) { o.Job.Setup.Touch = indicator.Boss - o.Job.Setup.Touch }, all, advice.TouchFault, nil},
		{"touch, one slide", func(o *session.Opened) { o.Job.Setup.Touch = indicator.Boss - o.Job.Setup.Touch }, []string{"x"},
			advice.EitherFault, []string{"x"}},
		{"left-handed x", func(o *session.Opened) { other(o, "x") }, all, advice.ScrewFault, []string{"x"}},
		{"left-handed y, of two", func(o *session.Opened) { other(o, "y") }, []string{"x", "y"}, advice.ScrewFault, []string{"y"}},
		{"left-handed offset", func(o *session.Opened) { other(o, "offset") }, all, advice.ScrewFault, []string{"offset"}},
		{"both cross slides", func(o *session.Opened) { other(o, "x", "y") }, all, advice.BearingsFault, []string{"x", "y"}},
	}
	for _, bore := range []bool{true, false} {
		for _, c := range cases {
			o := benchOpened(t)
			w := practice.Bench(7)
			if w.Bore = bore; !bore {
				o.Job.Setup.Touch = indicator.Boss
			}
			c.change(&o)
			p := senseAll(t, o, practice.New(w, 7), c.senses...)
			s := p.state()
			if f, slides := s.Faulty(); f != c.want || !slices.Equal(slides, c.slides) {
				t.Errorf("%s, bore %v: %q of %v, want %q of %v: %+v", c.name, bore, f, slides, c.want, c.slides, s.Senses)
			}
		}
	}
	o := benchOpened(t)
	p := senseAll(t, o, practice.New(practice.Bench(7), 7), "x")
	p.do(session.Sense{Slide: session.Tip, Went: session.Down})
	s := p.state()
	if f, _ := s.Faulty(); f != advice.DialFault {
		t.Errorf("a dial that counts down as it is pressed: %q", f)
	}
	p.do(session.Undo{})
	s = p.state()
	if f, _ := s.Faulty(); f != advice.NoFault || s.NextSense() != session.Tip || len(s.Senses) != 1 {
		t.Errorf("taken back: %q, %+v, next %q", f, s.Senses, s.NextSense())
	}
}

// The hands leave the slide loaded, and where it stood but for its play.
func TestSenseLeavesTheSlide(t *testing.T) {
	w := practice.Bench(7)
	m := practice.New(w, 7)
	p := open(t, benchOpened(t), m)
	p.until(session.ForReading)
	before := m.Truth()
	for _, name := range []string{"x", "y", "offset"} {
		s := p.state()
		if _, err := m.Sense(&s, name); err != nil {
			t.Fatal(err)
		}
	}
	if after := m.Truth(); math.Abs(after.CentreX-before.CentreX) > 0.01 || math.Abs(after.CentreY-before.CentreY) > 0.01 ||
		math.Abs(after.Swing-before.Swing) > 0.01 {
		t.Errorf("stands at %+v, stood at %+v", after, before)
	}
}

// What no check can be: a way that is none, a slide that is not wound, a slide inside an open sweep.
func TestSenseRefused(t *testing.T) {
	p := bench(t, 7)
	p.refused(session.Sense{Slide: "x", Went: "left"})
	p.refused(session.Sense{Slide: "table_x", Went: session.Up})
	p.until(session.ForReading).answer(1)
	p.refused(session.Sense{Slide: "x", Went: session.Up})
	p.do(session.Sense{Slide: session.Tip, Went: session.Up}) // moves nothing
	for text, want := range map[string]session.Sense{"up": {Slide: "y", Went: session.Up}, " X  Down ": {Slide: "x", Went: session.Down}} {
		if c, err := session.ParseSense(text, "y"); err != nil || c != want {
			t.Errorf("%q: %+v, %v, want %+v", text, c, err, want)
		}
	}
	if _, err := session.ParseSense("x goes up", "y"); err == nil {
		t.Error("three words are taken")
	}
}

// A parked wind whose needle went the other way has the slide's sign checked before anything more is wound, once. Where it is as
// stated, the hand has slipped: a new sweep begins, and a second slip is told as one, and not as off the goal.
func TestWindWentBack(t *testing.T) {
	o := benchOpened(t)
	w := near42(0.3, 0.25, -0.2)
	p := open(t, o, w).until(session.ForWind)
	k := p.prompt().Wind.Told.Park
	if k == nil {
		t.Fatal("the wind is not parked")
	}
	if r := p.refused(session.Take{Reading: k.Now}); strings.Contains(r.Because, "other way") {
		t.Errorf("a needle that has not moved: %q", r.Because)
	}
	slide, back := p.prompt().Wind.Slide.Name, session.Take{Reading: k.Now - 0.6*(k.Goal-k.Now)}
	if p.do(back); p.prompt().Waits != session.ForCheck || p.prompt().Check.Plan.Slide != slide {
		t.Fatalf("asked %+v, want the sign of %s checked", p.prompt(), slide)
	}
	p.refused(session.Confirm{})
	for _, nothing := range []session.Went{session.Still, session.BackOnly} {
		if p.do(session.Sense{Slide: slide, Went: nothing}); p.prompt().Waits != session.ForCheck || p.prompt().Check.Plan.Slide != slide {
			t.Fatalf("the needle %s: asked %+v, want the check still", nothing, p.prompt())
		}
	}
	p.do(session.Sense{Slide: slide, Went: p.prompt().Check.Plan.Must})
	if s := p.state(); p.prompt().Waits != session.ForReading || s.Sweep.N != 0 || s.Told != nil || s.Accused != nil || s.Predicted != nil {
		t.Fatalf("asked %+v with %d readings and the wind %v told, want a new sweep: the sign is as stated, and the slide stands nobody "+
			"knows where", p.prompt(), s.Sweep.N, s.Told)
	}
	p.until(session.ForWind)
	k = p.prompt().Wind.Told.Park
	back = session.Take{Reading: k.Now - 0.6*(k.Goal-k.Now)}
	if r := p.refused(back); !strings.Contains(r.Because, "the needle went the other way") || !strings.Contains(r.Hint, "sense ") ||
		strings.Contains(r.Pressed, "sense ") || !strings.Contains(r.Pressed, "*") {
		t.Errorf("refused because %q, hint %q, on a screen %q", r.Because, r.Hint, r.Pressed)
	}
}

// A reach of the wrong sign is doubted at the first wind of the offset slide, and only there; one of the
// right sign never is.
func TestReachDoubted(t *testing.T) {
	for _, c := range []struct {
		stated, true float64
		want         bool
	}{{-12, 12, true}, {12, -12, true}, {-12, -12, false}, {12, 12, false}, {-1, 1, false}} {
		o := with(t, func(j *setup.Job) {
			j.Setup.Reach, j.Setup.ReferenceRadius = c.stated, 42+c.true
			j.Dial.From, j.Dial.To = -30, 30
		})
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].ByCollar = true
		}
		w := near42(0.4, 0, 0)
		w.reach, w.rho = c.true, 42+c.true
		p := open(t, o, w).until(session.ForWind)
		s := p.state()
		if s.Told.Wind.Slide != "offset" {
			t.Fatalf("the first wind is %s's", s.Told.Wind.Slide)
		}
		travel, byScale, got := s.ReachDoubt()
		if got != c.want || byScale {
			t.Errorf("stated %v, true %v: doubted %v by a wind of %v (by scale %v), want %v", c.stated, c.true, got, travel, byScale,
				c.want)
		}
		if got && math.Abs(math.Abs(travel)-math.Abs(2*c.true)) > 1 {
			t.Errorf("stated %v, true %v: a wind of %v", c.stated, c.true, travel)
		}
		for p.answer(1); p.prompt().Waits != session.ForAccept; p.answer(1) {
			s = p.state()
			if _, _, again := s.ReachDoubt(); again {
				t.Errorf("stated %v: doubted once more behind the first wind", c.stated)
			}
		}
	}
}
