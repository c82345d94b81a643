package session_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// betweenWinds plays the practice bench from a coarse start until the needle is read between two winds.
func betweenWinds(t *testing.T) *player {
	t.Helper()
	w := practice.Bench(1)
	w.Start.Swing, w.Start.CentreX = 42.9, 0.9
	p := open(t, benchOpened(t), practice.New(w, 1))
	for range most {
		if q := p.prompt(); q.Reading.Between {
			return p
		}
		p.answer(1)
	}
	t.Fatal("nothing was read between two winds")
	return nil
}

// What is read between two winds makes known what they left open, and undo takes it back.
func TestLookBetweenWinds(t *testing.T) {
	p := betweenWinds(t)
	s := p.state()
	at := s.Prompt().Reading
	before := s.Believed.Expect(at.Bearing)
	if !(before.U > 0.02) || math.Abs(before.V-at.Expected.V) > 1e-12 {
		t.Fatalf("%+v is to be expected, asked with %+v; want more than the tolerance open", before, at.Expected)
	}
	p.do(session.Take{Reading: math.Round(before.V*500)/500 + 0.01})
	s = p.state()
	if after := s.Believed.Expect(at.Bearing); after.U > before.U/2 || len(s.Looked) != 1 || s.Looked[0].Bearing != at.Bearing {
		t.Errorf("%+v behind the look, %+v before; looks %+v", after, before, s.Looked)
	}
	p.do(session.Undo{})
	s = p.state()
	if again := s.Prompt().Reading; again.Bearing != at.Bearing || s.Believed.Expect(at.Bearing) != before {
		t.Errorf("asked at %v behind the undo, want %v anew", again.Bearing, at.Bearing)
	}
	p.do(session.Skip{}) // something is in the way: that says nothing of the winds
	if s = p.state(); s.Trial != 1 || s.Believed == nil || s.Prompt().Reading.Between && s.Prompt().Reading.Bearing == at.Bearing {
		t.Errorf("trial %d, asked %+v behind a look that was left out, want the winds to go on", s.Trial, s.Prompt())
	}
}

// What is seen between two winds and cannot be, were they what was told, says that they were not: nothing more is wound by them, the
// sweep begins anew, searched for, and undo takes it all back. By hand: the needle is to stand on a dial of ±0.8 to within a few
// hundredths, so beyond its end, or half a millimetre off, it stands nowhere near.
func TestLookThatContradictsTheWinds(t *testing.T) {
	for name, c := range map[string]session.Command{"pressed": session.Skip{Off: session.Pressed}, "free": session.Skip{Off: session.Free},
		"half a millimetre off": session.Take{}} {
		p := betweenWinds(t)
		was := p.state()
		at := was.Prompt().Reading
		if r, is := c.(session.Take); is {
			r.Reading = math.Round(at.Expected.V*500)/500 + 0.5
			c = r
		}
		p.do(c)
		s := p.state()
		if s.Trial != 2 || s.Told != nil || s.Winds != nil || s.Believed != nil || s.Predicted != nil || s.Past.Void {
			t.Fatalf("%s: trial %d, told %+v, winds %v, want a new sweep that nothing is believed of", name, s.Trial, s.Told, s.Winds)
		}
		if q := s.Prompt(); q.Waits != session.ForReading || q.Reading.Between || !math.IsNaN(q.Reading.Expected.V) {
			t.Errorf("%s: asked for %+v, want the first station with nothing to expect", name, q)
		}
		p.do(session.Skip{Off: session.Pressed})
		if s = p.state(); !s.Searches() {
			t.Errorf("%s: the needle is beyond the dial in the new sweep, and is not looked for", name)
		}
		p.do(session.Undo{}, session.Undo{})
		if s = p.state(); s.Trial != 1 || s.Winds == nil || s.Prompt().Reading != at {
			t.Errorf("%s: trial %d behind undo, want the look asked for as before", name, s.Trial)
		}
	}
}

// The slide that is named is the one wound farthest by its collar of those that move the needle where it was looked at: towards 90° a
// slide along x does not, and one that the needle stopped is none.
func TestLikeliestAstray(t *testing.T) {
	o := benchOpened(t)
	sl := func(name string) slide.Slide {
		s, _ := o.Machine.Slide(name)
		return s
	}
	parked := &advice.Park{Bearing: 0, Goal: 0.1, Act: 1}
	for _, c := range []struct {
		deg          float64
		x, y, offset float64
		parkedOffset bool
		want         string
	}{
		{deg: 0, x: 1.5, y: 2, offset: -0.4, want: "x"},
		{deg: 90, x: 1.5, y: 0.9, offset: -0.4, want: "y"},
		{deg: 90, x: 1.5, y: 0.1, offset: -0.4, want: "offset"},
		{deg: 90, x: 1.5, y: 0, offset: -0.4, parkedOffset: true, want: ""},
	} {
		s := session.State{}.Apply(o)
		var winds *setup.Done
		for _, w := range []slide.Wind{sl("x").Wind(c.x), sl("y").Wind(c.y), sl("offset").Wind(c.offset)} {
			d := &setup.Done{Wind: w, Before: winds}
			if w.Slide == "offset" && c.parkedOffset {
				d.Park = parked
			}
			winds = d
		}
		s.Winds = winds
		w, ok := s.Likeliest(session.Looked{Bearing: geom.Bearing(c.deg * math.Pi / 180), Skipped: true, Off: session.Pressed})
		if w.Slide != c.want || ok != (c.want != "") {
			t.Errorf("%+v: %q, want %q", c, w.Slide, c.want)
		}
	}
}
