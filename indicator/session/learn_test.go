package session_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// geared is an ideal bench whose slides move gain times what their collars say; it winds by the collar.
type geared struct {
	*ideal
	gain float64
}

// Do answers like [practice.Machine.Do].
func (w geared) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits != session.ForWind {
		return w.ideal.Do(p)
	}
	p.Wind.Told.Wind.Travel = w.gain * p.Wind.Told.Wind.By()
	return w.ideal.Do(p)
}

func lesson(t testing.TB, s session.State, name string) slide.Lesson {
	t.Helper()
	b, ok := s.Lesson(name)
	if !ok {
		t.Fatalf("nothing is held of slide %q", name)
	}
	return b
}

// A wind by the collar and the sweeps on either side of it teach the screw's gain; the next wind is told
// by it.
func TestLearnsGain(t *testing.T) {
	p := open(t, byCollar(t), geared{near42(0.3, 0.2, -0.25), 1.002}).until(session.ForWind)
	p.until(session.ForReading)
	if b := lesson(t, p.state(), "x"); len(b.Travels) != 0 {
		t.Fatalf("%d travels are learnt before the next sweep has seen anything", len(b.Travels))
	}
	p.until(session.ForAccept)
	s := p.state()
	for name, turned := range map[string]float64{"x": 0.2, "y": -0.25, "offset": -0.3} {
		b := lesson(t, s, name)
		if len(b.Travels) != 1 || math.Abs(b.Travels[0].Turned-turned) > 1e-3 || math.Abs(b.Travels[0].Moved-1.002*turned) > 1e-3 ||
			!(b.Travels[0].U > 0) {
			t.Errorf("%s: %+v, want a travel of %v that moved %v", name, b.Travels, turned, 1.002*turned)
		}
	}
	if len(s.Odd) != 0 {
		t.Errorf("odd: %+v, want nothing", s.Odd)
	}
	// Told by what was learnt, a wind's collar differs from its travel.
	o := byCollar(t)
	o.Lessons = s.Lessons
	p = open(t, o, geared{near42(0.3, 0.2, -0.25), 1.002}).until(session.ForWind)
	w := p.prompt().Wind.Told.Wind
	if g := lesson(t, s, "x").Posterior().Gain().V; math.Abs(w.Turned-w.Travel/g) > 1e-9 || g == 1 {
		t.Errorf("told %v for a travel of %v, learnt gain %v", w.Turned, w.Travel, g)
	}
	if len(w.Moves) != 1 || math.Abs(100*float64(w.Moves[0].Turns)+w.Moves[0].Divisions-w.Turned/0.02) > 1e-9 {
		t.Errorf("moves %+v, want %v divisions", w.Moves, w.Turned/0.02)
	}
}

// Wound under the needle, the collar's figure is nobody's business, and no travel is learnt.
func TestParkedWindsTeachNoGain(t *testing.T) {
	p := open(t, benchOpened(t), geared{near42(0.3, 0.2, -0.25), 1.002}).until(session.ForAccept)
	for _, l := range p.state().Lessons {
		if len(l.Lesson.Travels) != 0 || len(l.Lesson.Radii) != 0 {
			t.Errorf("%+v, want no travel learnt", l)
		}
	}
}

// Radii accepted with the collar's count told teach where to start the next one; a machine that has
// taught it says so when the next setting opens.
func TestLearnsRadii(t *testing.T) {
	var lessons []setup.Taught
	for _, radius := range []float64{34, 39, 46} {
		o := with(t, func(j *setup.Job) {
			j.Target.SwingRadius, j.Setup.ReferenceRadius, j.Setup.Reach = radius, 30, 30-radius
		})
		o.Lessons = lessons
		w := near42(0, 0, 0)
		w.swing, w.reach = radius, 30-radius
		p := open(t, o, w).until(session.ForAccept)
		// The collar counts 1 for a millimetre and stands at 7.25 on the axis.
		p.do(session.At{Slide: "offset", At: radius + 7.25}, session.Accept{})
		lessons = p.state().Lessons
	}
	b := lessons[0].Lesson
	if len(lessons) != 1 || lessons[0].Slide != "offset" || len(b.Radii) != 3 || b.Radii[2].Setup != 3 {
		t.Fatalf("%+v, want three radii of the offset slide, each of its own set-up", lessons)
	}
	o := benchOpened(t)
	o.Lessons = lessons
	p := open(t, o, near42(0, 0, 0))
	s := p.state()
	count, ok := s.Start()
	if !ok || math.Abs(count.V-49.25) > count.U || count.U > 0.02 {
		t.Errorf("start at %+v (%v), want 49.25", count, ok)
	}
	// Three radii do not yet tell a miss of the axis from none, which moves the start by micrometres.
	if math.Abs(count.V-49.25) > 0.005 {
		t.Errorf("start at %v, want 49.25 to 5 µm", count.V)
	}
	bare := open(t, benchOpened(t), near42(0, 0, 0)).state()
	if _, ok := bare.Start(); ok {
		t.Error("a machine that has taught nothing says where to start")
	}
}

// A ring that somebody moved is noticed when the radius is accepted, and not averaged in.
func TestNoticesSlippedCollar(t *testing.T) {
	b := slide.Prior(slide.Slide{Name: "offset", TravelPerTurn: 2, Divisions: 100})
	for _, r := range []float64{30, 38, 52, 64} {
		b, _ = b.SeenRadius(slide.RadiusSeen{Count: r + 0.5, R: r, U: 0.002, Common: 0.003, Setup: 1})
	}
	o := benchOpened(t)
	o.Lessons = []setup.Taught{{Slide: "offset", Lesson: b}}
	p := open(t, o, near42(0, 0, 0)).until(session.ForAccept)
	p.do(session.At{Slide: "offset", At: 42.5 + 0.3}, session.Accept{})
	s := p.state()
	if len(s.Odd) != 1 || s.Odd[0].Finding.Kind != slide.SlippedCollar || math.Abs(s.Odd[0].Finding.Shown.V-0.3) > 0.02 {
		t.Fatalf("%+v, want a collar that slipped by 0.3", s.Odd)
	}
	if g, before := lesson(t, s, "offset").Posterior().Gain().V, b.Posterior().Gain().V; math.Abs(g-before) > 1e-9 {
		t.Errorf("gain %v after the slip, %v before", g, before)
	}
	if len(o.Lessons[0].Lesson.Radii) != 4 {
		t.Error("what the setting was opened with has been changed")
	}
}

// sticky is an ideal bench whose slides are moved by their locks.
type sticky struct {
	*ideal
	by float64
}

// Do answers like [practice.Machine.Do]; under the needle it stops where it is told, and then locks.
func (w sticky) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits != session.ForWind || p.Wind.Told.Park == nil {
		return w.ideal.Do(p)
	}
	p.Wind.Told.Wind.Travel += w.by // it stops at the goal, and then the lock is closed
	if _, _, err := w.ideal.Do(p); err != nil {
		return nil, false, err
	}
	return session.Take{Reading: w.reading(p.Wind.Told.Park.Bearing)}, true, nil
}

// Locks that move every slide by 15 µm are seen under the needle: each slide is wound once more, and
// from then on the goals allow for it.
func TestLearnsLocks(t *testing.T) {
	o := benchOpened(t)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Lock = true
	}
	p := open(t, o, sticky{near42(0.3, 0.2, -0.2), 0.015}).until(session.ForWind)
	var slides []string
	for p.prompt().Waits == session.ForWind {
		told := p.prompt().Wind.Told
		slides = append(slides, told.Wind.Slide)
		if second := len(slides) > 1 && slides[len(slides)-2] == told.Wind.Slide; second && math.Abs(told.Park.Shift-0.015) > 3e-3 {
			t.Errorf("%s once more: a shift of %v is allowed for, want nearly 0.015", told.Wind.Slide, told.Park.Shift)
		}
		p.answer(1)
	}
	want := []string{"x", "x", "y", "y", "offset", "offset"}
	if len(slides) != len(want) {
		t.Fatalf("wound %v, want %v", slides, want)
	}
	for i := range want {
		if slides[i] != want[i] {
			t.Fatalf("wound %v, want %v", slides, want)
		}
	}
	b := lesson(t, p.state(), "x")
	if len(b.Locks) != 2 || math.Abs(b.LockShift().Mean.V-0.015) > 2e-3 {
		t.Errorf("locks %+v, want two of 0.015", b.Locks)
	}
}

// A readout's coordinate, once told, goes along with the winds; a collar's is lost under the needle.
func TestStands(t *testing.T) {
	o := benchOpened(t)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Readout = o.Machine.Slides[i].Name == "x"
	}
	p := open(t, o, near42(0.3, 0.2, -0.2))
	p.do(session.At{Slide: "x", At: 23.415}, session.At{Slide: "offset", At: 42.3})
	p.refused(session.At{Slide: "table_x", At: 1})
	p.refused(session.At{Slide: "x", At: math.NaN()})
	p.until(session.ForWind)
	p.until(session.ForReading)
	s := p.state()
	if at := s.Stand("x"); !at.Known || math.Abs(at.At-23.615) > 1e-3 {
		t.Errorf("x at %+v, want 23.615", at)
	}
	if at := s.Stand("offset"); at.Known {
		t.Errorf("offset at %+v after a wind under the needle, want not known", at)
	}
	p = open(t, byCollar(t), near42(0.3, 0.2, -0.2))
	p.do(session.At{Slide: "offset", At: 42.3})
	p.until(session.ForWind)
	p.until(session.ForReading)
	s = p.state()
	if at := s.Stand("offset"); !at.Known || math.Abs(at.At-42) > 1e-3 {
		t.Errorf("offset at %+v after a wind by the collar, want 42", at)
	}
}

// A wind that would leave the slide's travel is told with by how much, at its end or where it is wound past.
func TestOffTravel(t *testing.T) {
	for _, c := range []struct {
		at, end, past float64
	}{
		{23.4, 0, 0},
		{59.9, 0.1, 0.1},   // 0.2 on is the take-up way: 60.1
		{0.05, 0, 0},       // 0.25
		{-0.5, -0.3, -0.3}, // −0.3
	} {
		o := benchOpened(t)
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].Readout, o.Machine.Slides[i].Low, o.Machine.Slides[i].High = true, 0, 60
		}
		p := open(t, o, near42(0, 0.2, 0))
		p.do(session.At{Slide: "x", At: c.at})
		p.until(session.ForWind)
		s := p.state()
		if end, past := s.OffTravel(); math.Abs(end-c.end) > 1e-3 || math.Abs(past-c.past) > 1e-3 {
			t.Errorf("x at %v, told %v: beyond by %v and %v, want %v and %v", c.at, s.Told.Wind.Travel, end, past, c.end, c.past)
		}
	}
	// Against the take-up it is wound past by 0.25 more under the needle: 0.1 − 0.05 − 0.25.
	o := benchOpened(t)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Readout, o.Machine.Slides[i].Low, o.Machine.Slides[i].High = true, 0, 60
	}
	p := open(t, o, near42(0, -0.05, 0))
	p.do(session.At{Slide: "x", At: 0.1})
	s := p.until(session.ForWind).state()
	if end, past := s.OffTravel(); end != 0 || math.Abs(past+0.2) > 1e-3 {
		t.Errorf("wound past: beyond by %v and %v, want 0 and −0.2", end, past)
	}
}

// clamped is an ideal bench wound by the collar, whose slides stand open in the first sweep and are moved
// by their locks ever after.
type clamped struct {
	*ideal
	by   float64
	shut map[string]bool
}

// Do answers like [practice.Machine.Do].
func (w clamped) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits == session.ForWind && !w.shut[p.Wind.Slide.Name] {
		w.shut[p.Wind.Slide.Name] = true
		p.Wind.Told.Wind.Travel = p.Wind.Told.Wind.By() + w.by
	} else if p.Waits == session.ForWind {
		p.Wind.Told.Wind.Travel = p.Wind.Told.Wind.By() // opened and shut again
	}
	return w.ideal.Do(p)
}

// By the collar, what a lock does shows in the sweep behind the first winds; the next setting is told with
// it, and is done in two sweeps.
func TestLearnsLocksByCollar(t *testing.T) {
	o := byCollar(t)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Lock = true
	}
	p := open(t, o, clamped{near42(0.3, 0.2, -0.2), 0.018, map[string]bool{}}).until(session.ForAccept)
	s := p.state()
	if s.Trial != 3 {
		t.Errorf("%d trials, want a third for what the locks have moved", s.Trial)
	}
	for _, name := range []string{"x", "y", "offset"} {
		b := lesson(t, s, name)
		if len(b.Locks) != 1 || math.Abs(b.Locks[0].Moved-0.018) > 1e-3 || len(b.Travels) != 1 {
			t.Errorf("%s: locks %+v, travels %+v, want one of 0.018, and the second wind", name, b.Locks, b.Travels)
		}
	}
	p.do(session.Accept{})
	p.hands = clamped{near42(-0.2, 0.15, 0.1), 0.018, map[string]bool{}}
	p.do(session.Open{Opened: o})
	p.until(session.ForAccept)
	if s = p.state(); s.Trial != 2 {
		t.Errorf("%d trials on the machine that has taught its locks, want 2", s.Trial)
	}
}
