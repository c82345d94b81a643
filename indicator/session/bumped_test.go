package session_test

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// refitted is an ideal bench whose indicator has been out: all that the dial shows is shifted since.
type refitted struct {
	*ideal
	by float64
}

// Do answers like [ideal.Do].
func (w *refitted) Do(p session.Prompt) (session.Command, bool, error) {
	c, ok, err := w.ideal.Do(p)
	if take, is := c.(session.Take); is && p.Waits == session.ForReading {
		take.Reading += w.by
		c = take
	}
	return c, ok, err
}

// step answers until a step is asked for.
func (p *player) step(c session.Chore) *player {
	p.t.Helper()
	for range most {
		if q := p.prompt(); q.Waits == session.ForChore && q.Chore.Step == c {
			return p
		}
		p.answer(1)
	}
	p.t.Fatalf("step %s is not asked for", c)
	return p
}

// bumps plays a setting step by step in which it is looked three times whether anything has moved: with the cutter in, when nothing
// has; between power and cut, when the table was bumped, and it is gone on with; and once more, when it is wound back.
func bumps(t testing.TB) *player {
	t.Helper()
	w := &refitted{ideal: near42(0.1, 0.05, -0.08)}
	w.arc = 38
	p := open(t, stepwise(t, false), w).step(session.DrySwing)
	w.by = 0.21
	p.do(session.Look{}, session.Undo{}, session.Look{})
	p.step(session.Cut)
	w.ex, w.ey, w.by = w.ex+0.05, w.ey-0.03, -0.1
	p.do(session.Look{})
	p.until(session.ForReading).answer(1)
	p.do(session.Undo{})
	p.answer(1)
	p.do(session.Skip{Off: session.Free})
	p.until(session.ForMoved)
	p.do(session.Keep{}, session.Undo{}, session.Keep{})
	p.step(session.Cut).do(session.Look{})
	p.until(session.ForMoved)
	p.do(session.Restart{}) // the dial's zero stays what it has become: this sweep sees the centre alone
	return p.until(session.ForNothing)
}

// moves are what came of the looks.
func (p *player) moves() (out []session.Moved) {
	for _, st := range p.steps {
		if m, ok := st.Event.(session.Moved); ok {
			out = append(out, m)
		}
	}
	return out
}

// A look finds what has moved and what has not, whatever the dial's zero is by then; the change-over comes around it, and then the step
// that was waited for; a move is wound back by a new sweep, and the setting accepted anew. The fold of the journal is the same.
func TestBumped(t *testing.T) {
	p := bumps(t)
	all := p.moves()
	if len(all) != 3 {
		t.Fatalf("%d looks came to something, want 3: %+v", len(all), all)
	}
	near := func(m session.Moved, x, y float64) bool { return math.Hypot(m.X-x, m.Y-y) < 1e-4 }
	if m := all[0]; m.Shown || m.Asks || m.Centre != indicator.Inside || !near(m, 0, 0) || m.Readings != 3 {
		t.Errorf("nothing has moved: %+v", m)
	}
	for _, m := range all[1:] {
		if !m.Shown || !m.Asks || m.Centre != indicator.Outside || !near(m, 0.05, -0.03) || m.U > 0.02 {
			t.Errorf("moved by 0.05, -0.03: %+v", m)
		}
	}
	// From the first look on, by hand: with the cutter in, not yet with the power on; then with both.
	said := strings.Join(chores(p), ", ")
	for _, want := range []string{
		"isolate, indicator out, cutter in, free spindle, leave stock, lift out, isolate, cutter out, indicator in, rock, lock spindle, " +
			"indicator out, cutter in, free spindle, dry swing",
		"power, lift out, isolate, cutter out, indicator in, rock, lock spindle, indicator out, cutter in, free spindle, dry swing, power",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("steps %s\nwant among them %s", said, want)
		}
	}
	s := p.state()
	if w := p.hands.(*refitted); s.Phase != session.Ended || math.Hypot(w.ex, w.ey) > 0.02 {
		t.Errorf("ends in phase %d with the centre at %v, %v", s.Phase, w.ex, w.ey)
	}
	folded, err := session.Fold(p.mem.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	wantSame(t, "replay", folded, s)
}

// With the indicator untouched two readings do, about a quarter turn apart, and the arc that had ended is ended again.
func TestBumpedUntouched(t *testing.T) {
	w := near42(0.1, 0.05, -0.08)
	p := open(t, benchOpened(t), w).until(session.ForNothing)
	if s := p.state(); s.Phase != session.Ended {
		t.Fatalf("phase %d, want the end", s.Phase)
	}
	p.do(session.Look{Kept: true})
	before := p.prompt().Reading
	p.answer(1)
	if apart := math.Abs(math.Sin(float64(p.prompt().Reading.Bearing - before.Bearing))); before.Of != 2 || apart < 0.8 {
		t.Errorf("first %+v, then %+v: want two, about a quarter turn apart", before, p.prompt().Reading)
	}
	p.answer(1)
	if m := p.moves(); len(m) != 1 || m[0].Shown || m[0].Readings != 2 {
		t.Errorf("%+v, want nothing moved by two readings", m)
	}
	if s := p.state(); s.Phase != session.Ended || s.Bump != nil {
		t.Errorf("phase %d, look %+v, want the end", s.Phase, s.Bump)
	}
}

// On a table that is turned the table's own shift is in every reading, like the dial's: three readings part them from the work's move.
func TestBumpedOnTable(t *testing.T) {
	p := onTable(t)
	r := p.refused(session.Look{Kept: true})
	if !strings.Contains(r.Because, "three readings") {
		t.Errorf("refused because %s", r.Because)
	}
	p.do(session.Look{})
	p.until(session.ForNothing)
	if m := p.moves(); len(m) != 1 || m[0].Shown {
		t.Errorf("%+v, want nothing moved", m)
	}
}

// What cannot be looked at is refused, with what to do.
func TestBumpedRefused(t *testing.T) {
	w := near42(0.1, 0.05, -0.08)
	w.arc = 38
	p := open(t, stepwise(t, false), w)
	check := func(p *player, c session.Command, want string) {
		t.Helper()
		if r := p.refused(c); !strings.Contains(r.Because, want) {
			t.Errorf("refused because %q, want %q", r.Because, want)
		}
	}
	check(p, session.Look{}, "nothing is accepted yet")
	p.until(session.ForAccept)
	check(p, session.Look{}, "nothing is accepted yet")
	p.step(session.DrySwing)
	check(p, session.Look{Kept: true}, "taken out since")
	p.do(session.Look{})
	check(p, session.Look{}, "already")
	check(p, session.Accept{}, "accepted")
	p.until(session.ForReading)
	check(p, session.Take{Reading: 3}, "off the dial")
	check(p, session.Restart{}, "accepted")
	check(sizedPoints(t), session.Look{}, "have no needle")
	for range 5 { // all stations left out: nothing can be told
		if p.prompt().Waits == session.ForReading {
			p.do(session.Skip{})
		}
	}
	if p.until(session.ForMoved); !p.moves()[0].Failed {
		t.Errorf("%+v, want a look that tells nothing", p.moves())
	}
}

// The whole look, read on where it is undecided: what has not moved passes, a centre that stands beyond its tolerance passes as seldom
// as the verdict says, and a move is said of what has not moved in one of a hundred. A few draws; many more with TRAMMEL_TRAPS.
func TestBumpedLooks(t *testing.T) {
	draws := 60
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		draws = 3000
	}
	const tolerance = 0.02
	for _, far := range []float64{0, 0.01, 0.02, 0.03, 0.05} {
		rng := rand.New(rand.NewPCG(8, uint64(1000*far)))
		var shown, wrong, passed share
		readings := 0
		for range draws {
			d := drawing{sweep: wholeRound(6), e: 0.004 * rng.Float64(), at: 7 * rng.Float64(), sigma: 0.003, step: 0.002, stated: true}
			base := with(t, func(j *setup.Job) { j.Target.CentreTolerance, j.Target.Tolerance = tolerance, 0.05 })
			l := d.run(t, rng, base, nil)
			for e, due := session.Follow(l.state); due; e, due = session.Follow(l.state) {
				l.state = l.state.Apply(e)
			}
			if l.state.Phase != session.SettledDown {
				continue // it is to be wound: not what is looked at here
			}
			e, err := session.Decide(l.state, session.Accept{})
			if err != nil {
				t.Fatal(err)
			}
			s, w, way := l.state.Apply(e), l.truth, 7*rng.Float64()
			w.ex, w.ey = w.ex+far*math.Cos(way), w.ey+far*math.Sin(way)
			s, m := looksAt(t, s, func(b geom.Bearing) float64 { return 0.13 + d.shows(rng, w, b) })
			readings += m.Readings
			shown.add(m.Shown)
			passed.add(s.Bump == nil)
			wrong.add(s.Bump == nil && math.Hypot(w.ex, w.ey) > tolerance)
		}
		t.Logf("moved %.3f mm: said of %.4f, passed %.4f, wrongly %.4f, %.2f readings", far, shown.of(), passed.of(), wrong.of(),
			float64(readings)/float64(max(1, shown.all)))
		switch {
		case shown.all < draws/2:
			t.Errorf("%d of %d settings settled", shown.all, draws)
		case float64(wrong.yes) > wrong.most(indicator.FixedTail):
			t.Errorf("moved %.3f mm: %.4f pass beyond the tolerance, want at most %v", far, wrong.of(), indicator.FixedTail)
		case far == 0 && (passed.of() < 0.9 || float64(shown.yes) > shown.most(indicator.MovedAlarm)):
			t.Errorf("nothing moved: %.4f pass, of %.4f a move is said", passed.of(), shown.of())
		case far >= 0.03 && shown.of() < 0.95:
			t.Errorf("moved %.3f mm: said of %.4f", far, shown.of())
		}
	}
}

// looksAt carries a look through.
func looksAt(t testing.TB, s session.State, shows func(geom.Bearing) float64) (session.State, session.Moved) {
	t.Helper()
	e, err := session.Decide(s, session.Look{})
	if err != nil {
		t.Fatal(err)
	}
	s = s.Apply(e)
	for range 20 {
		if e, due := session.Follow(s); due {
			m, ok := e.(session.Moved)
			if s = s.Apply(e); ok {
				return s, m
			}
			continue
		}
		q := s.Prompt()
		if q.Waits != session.ForReading {
			t.Fatalf("waits for %d", q.Waits)
		}
		if e, err = session.Decide(s, session.Take{Reading: shows(q.Reading.Bearing)}); err != nil {
			t.Fatal(err)
		}
		s = s.Apply(e)
	}
	t.Fatal("the look does not end")
	return s, session.Moved{}
}

// Stations are chosen evenly for three, and each is asked for but once.
func TestBumpedStations(t *testing.T) {
	p := open(t, with(t, func(j *setup.Job) { j.Sweep.AtLeast = 6 }), near42(0, 0.001, 0)).until(session.ForNothing)
	p.do(session.Look{})
	var at []float64
	for p.prompt().Waits == session.ForReading {
		at = append(at, math.Round(p.prompt().Reading.Bearing.Degrees360()))
		p.answer(1)
	}
	if slices.Sort(at); !slices.Equal(at, []float64{0, 120, 240}) {
		t.Errorf("read again at %v, want 0, 120, 240 of six even stations", at)
	}
}

// In the middle of a cut by passes a look begins with the cutter out of the metal and ends with stops, the quill's zero and the power
// set up anew, in this order, before the pass that was waited for.
func TestBumpedInAPass(t *testing.T) {
	o := ringed(t)
	o.Order, o.Job.Cut.Depth, o.Job.Cut.Step = 2, 6, 2
	w := near42(0, 0, 0)
	w.arc = 38
	p := open(t, o, w).step(session.Pass).answer(1)
	at := p.prompt().Chore
	begun := len(p.steps)
	p.do(session.Look{})
	p.step(session.Pass)
	want := "lift out, isolate, cutter out, stops off, indicator in, rock, lock spindle, indicator out, cutter in, free spindle, set stops, " +
		"dry swing, touch top, power"
	if got := choresIn(p.steps[begun:]); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	if now := p.prompt().Chore; now != at {
		t.Errorf("goes on with %+v, want %+v", now, at)
	}
}

// Swept again behind a look, with the indicator's zero gone, the offset slide stays; so does what was wound for the stock. Where the
// centre was wound the passes at that radius come again from the first, and where it was not they go on.
func TestSweptAgainBehindALook(t *testing.T) {
	for _, far := range []float64{0.1, 0.022} {
		o := ringed(t)
		o.Order, o.Job.Cut.Depth, o.Job.Cut.Step, o.Job.Cut.Stock = 2, 6, 2, 0.3
		w := &refitted{ideal: near42(0, 0, 0)}
		w.arc = 38.3
		p := open(t, o, w).step(session.Pass).answer(1)
		at := p.prompt().Chore
		before := p.state()
		w.ex, w.by = w.ex+far, 0.17
		p.do(session.Look{})
		p.until(session.ForMoved)
		begun, wound := len(p.steps), len(w.turned)
		if far < 0.03 {
			w.ex -= far // put back by hand
		}
		p.do(session.Restart{})
		p.step(session.Pass)
		s := p.state()
		slides := w.turned[wound:]
		if slices.Contains(slides, "offset") || (len(slides) > 0) != (far > 0.03) || math.Hypot(w.ex, w.ey) > 0.02 {
			t.Errorf("%v: wound %v, the centre at %v, %v; want the cross slides alone", far, slides, w.ex, w.ey)
		}
		said := choresIn(p.steps[begun:])
		if strings.Contains(said, "leave stock") ||
			!strings.Contains(said, "cutter in, free spindle, set stops, dry swing, touch top, power") {
			t.Errorf("%v: %s", far, said)
		}
		want := at.N
		if far > 0.03 {
			want-- // the first of them again
		}
		if got := p.prompt().Chore; got.N != want || got.Of != at.Of {
			t.Errorf("%v: goes on with %+v, want %d of %d", far, got, want, at.Of)
		}
		f, _ := before.Fit()
		g, _ := s.Fit()
		was, _ := before.Swing(&f)
		if now, _ := s.Swing(&g); now != was {
			t.Errorf("%v: swing %v, want %v as it was accepted", far, now, was)
		}
		// It is one part all the same; the axis over the work has gone where the slides have carried it, and came in where it did.
		gone := geom.Point{}
		if far > 0.03 {
			gone.X = far
		}
		if len(s.Parts.All()) != 1 || s.Parts.Entered != before.Parts.Entered || s.Axis.Sub(before.Axis).Sub(gone).Norm() > 1e-3 {
			t.Errorf("%v: %d parts, the axis gone to %v, want one, and by %v", far, len(s.Parts.All()), s.Axis, gone)
		}
	}
}
