package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// keeping is the bench whose collars keep their figures, wound by them alone.
func keeping(t testing.TB) session.Opened {
	t.Helper()
	o := benchOpened(t)
	o.Machine.Slides = slices.Clone(o.Machine.Slides)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Keeps, o.Machine.Slides[i].ByCollar = true, true
	}
	return o
}

// collars plays such a setting, a figure taken back and told again on the way.
func collars(t testing.TB) *player {
	t.Helper()
	p := open(t, keeping(t), practice.New(practice.Bench(7), 7)).until(session.ForWind).answer(1)
	p.do(session.Undo{})
	p.answer(1)
	return p.until(session.ForNothing)
}

// The figure is asked once for each slide, ahead of its first wind; then winds go from figure to figure. What a collar truly shows
// before each is what the session carries: read to a tenth of a division, and set to a tenth of one by the hand, a few times over.
func TestCollarsKeepTheirFigures(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		p := open(t, keeping(t), practice.New(practice.Bench(seed), seed))
		asked := map[string]int{}
		for p.prompt().Waits != session.ForNothing {
			s, q := p.state(), p.prompt()
			if q.Waits == session.ForWind {
				name := q.Wind.Slide.Name
				at, known := s.CollarAt(name)
				if q.Wind.Reads == known {
					t.Fatalf("machine %d, %s: asked %v, known %v", seed, name, q.Wind.Reads, known)
				}
				if q.Wind.Reads {
					asked[name]++
				} else if figure := q.Wind.Slide.Collar(at); !(figure >= 0 && figure < q.Wind.Slide.Divisions) {
					t.Errorf("machine %d, %s: %v on its collar", seed, name, figure)
				}
			}
			p.answer(1)
		}
		for name, n := range asked {
			if n != 1 {
				t.Errorf("machine %d: the collar of %s is asked for %d times", seed, name, n)
			}
		}
		if len(asked) == 0 {
			t.Errorf("machine %d: no collar is asked for", seed)
		}
	}
}

// By hand: x moves 2 a turn in 100 divisions, its figures grow clockwise with its coordinate. At 37.5 it stands 0.75 on from 0; a wind
// of 0.1 ends at 42.5, and one of -1 at 37.5 - 50 = 87.5 of the turn before. A left-hand slide of 4 a turn in 200, whose coordinate
// shrinks clockwise: at 37.5 a wind of -0.1, clockwise, ends at 42.5.
func TestCollarFigureByHand(t *testing.T) {
	p := open(t, keeping(t), near42(0, 0.1, 0.1)).until(session.ForReading)
	for _, c := range []struct {
		slide        string
		at, by, ends float64
	}{{"x", 37.5, 0.1, 42.5}, {"x", 37.5, -1, 87.5}, {"x", 0, 0, 0}, {"x", 99.9, 0.002, 0},
		{"y", 37.5, -0.1, 42.5}, {"y", 199.9, -4, 199.9}} {
		p.do(session.ReadCollar{Read: session.Read{Slide: c.slide, Figure: c.at}})
		s := p.state()
		at, ok := s.CollarAt(c.slide)
		sl, _ := s.Set.Machine.Slide(c.slide)
		if from, to := sl.Collar(at), sl.Collar(at+c.by); !ok || math.Abs(from-c.at) > 1e-9 || math.Abs(to-c.ends) > 1e-9 {
			t.Errorf("%+v: from %v to %v, %v", c, from, to, ok)
		}
	}
	for _, text := range []string{"x", "x 100", "x -0.1", "x nan", "x 1 2", "q 3", "x\x1b 3", "", "x y"} {
		c, err := session.Parse("collar "+text, geom.Millimetre)
		if err == nil {
			p.refused(c)
		}
	}
}

// A slide that was stopped by something else than its collar has not been counted: its figure is asked for again, if ever. A scale
// that is told afresh counts from there, and a sign check moves a slide by nobody knows how much.
func TestCollarsFigureIsLost(t *testing.T) {
	o := keeping(t)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].ByCollar = false
	}
	figure := func(p *player, name string) (at float64, ok bool) {
		s := p.state()
		return s.CollarAt(name)
	}
	p := open(t, o, near42(0, 0.1, 0.1)).until(session.ForReading)
	for _, name := range []string{"x", "y"} {
		p.do(session.ReadCollar{Read: session.Read{Slide: name, Figure: 10}})
	}
	p.until(session.ForWind)
	name := p.prompt().Wind.Slide.Name
	if _, known := figure(p, name); p.prompt().Wind.How != session.UnderNeedle || !known {
		t.Fatalf("%s is wound %v, known %v", name, p.prompt().Wind.How, known)
	}
	p.answer(1)
	if _, known := figure(p, name); known {
		t.Errorf("%s was stopped under the needle, and its figure is still known", name)
	}
	p.do(session.Undo{})
	if at, known := figure(p, name); !known || math.Abs(at) == 0 {
		t.Errorf("the wind taken back, %v, %v", at, known)
	}
	p.do(session.At{Slide: name, At: 23.4})
	if at, known := figure(p, name); !known || at != 23.4 {
		t.Errorf("its scale told, %v, %v", at, known)
	}
	p = open(t, o, near42(0, 0.1, 0.1)).until(session.ForReading)
	p.do(session.ReadCollar{Read: session.Read{Slide: "x", Figure: 10}}, session.Sense{Slide: "x", Went: session.Up})
	if _, known := figure(p, "x"); known {
		t.Error("its sign was checked, and its figure is still known")
	}
}

// Where the figure has to be read first, nothing else confirms the wind; a figure that the collar has not is refused.
func TestCollarIsReadBeforeTheWind(t *testing.T) {
	p := open(t, keeping(t), near42(0.1, 0.1, 0.1)).until(session.ForWind)
	if !p.prompt().Wind.Reads {
		t.Fatal("no figure is asked for")
	}
	if why := p.refused(session.Confirm{}); !strings.Contains(why.Because, "keeps its figures") {
		t.Errorf("confirmed: %q", why.Because)
	}
	p.refused(session.Take{Reading: 100})
	p.refused(session.Take{Reading: -1})
	p.do(session.Take{Reading: 37.5})
	if p.prompt().Wind.Reads || p.prompt().Waits != session.ForWind {
		t.Errorf("told, %+v is asked", p.prompt())
	}
	p.do(session.Confirm{})
}
