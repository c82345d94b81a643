package practice_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// putRight is how a machine fared whose statement is wrong, under hands that answer what is asked.
type putRight struct {
	restated []string   // by key
	accused  bool       // something was in question
	grew     float64    // by how much the centre error, or that of the radius, grew at the most by a wind after that, mm
	settled  bool       // inside, by the session
	truth    [2]float64 // what the radius and the centre are off by then, by the machine's own geometry, mm
	trials   int
}

// off is how far the machine stands off its goal: the radius and the centre.
func off(m *practice.Machine, swing float64) [2]float64 {
	x := m.Truth()
	return [2]float64{math.Abs(x.Swing - swing), math.Hypot(x.CentreX, x.CentreY)}
}

// plays has the hands play a drawn machine with a wrong statement until it settles. Where a needle that went the other way is
// refused, they check the slide's sign, and others until one statement is left, as the refusal says.
func plays(t *testing.T, seed uint64, h practice.Hand, o practice.Options, w wrong) (r putRight) {
	t.Helper()
	m, set := w.drawn(t, seed, h, o)
	live := session.NewLive(session.State{}, &session.Memory{})
	do := func(c session.Command) error {
		steps, err := live.Do(c, time.Time{})
		for _, st := range steps {
			if e, ok := st.Event.(session.Restated); ok {
				r.restated = append(r.restated, e.Key)
			}
		}
		return err
	}
	if err := do(session.Open{Opened: set}); err != nil {
		t.Fatal(err)
	}
	goal := set.Job.Target.SwingRadius
	for range 400 {
		s := live.State()
		p := s.Prompt()
		r.trials = s.Trial
		if len(s.Named) > 0 {
			r.accused = true
		}
		if p.Waits == session.ForAccept {
			r.settled, r.truth = !strings.Contains(verdictOf(&s), "undecided") && !strings.Contains(verdictOf(&s), "outside"), off(m, goal)
			if r.settled || s.Trial > 12 {
				return r
			}
			if err := do(session.Restart{}); err != nil {
				t.Fatal(err)
			}
			continue
		}
		w.set(&p, &set)
		before := off(m, goal)
		c, ok, err := m.Do(p)
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		err = do(c)
		if now := live.State(); err == nil && p.Waits == session.ForCheck && now.Phase == session.Winding && now.Accused == nil {
			err = do(session.Confirm{}) // as stated: it has gone as far as it was told to go
		}
		if refusal := (*session.Refusal)(nil); errors.As(err, &refusal) && p.Waits == session.ForWind {
			if strings.Contains(refusal.Hint, "stated wrong") {
				r.accused = true
				senses(t, live, m, p.Wind.Slide.Name, do, func(p *session.Prompt) { w.set(p, &set) })
				continue
			}
			err = do(session.Confirm{})
		}
		if err != nil {
			t.Fatalf("%v: %v", p.Waits, err)
		}
		if after := off(m, goal); r.accused && p.Waits == session.ForWind {
			r.grew = max(r.grew, after[0]-before[0], after[1]-before[1])
		}
	}
	t.Fatalf("machine %d: no end", seed)
	return r
}

// set has the hands do what they take for what is asked, by the ring.
func (w *wrong) set(p *session.Prompt, first *session.Opened) {
	if byRing(p, first); w.hands != nil {
		w.hands(p)
	}
}

// byRing sets the head as its ring shows it: the hands of the bench know the bearing alone, which is what the ring showed as it
// was stated first.
func byRing(p *session.Prompt, first *session.Opened) {
	if p.Position().Table != 0 || first.Job.Setup.Kind != indicator.Carried || !p.Position().Set {
		return
	}
	b := first.Machine.Head.Zero - geom.Bearing(float64(first.Machine.Head.Figures)*p.Position().Ring)*geom.Degree
	p.Reading.Bearing, p.Check.Plan.Bearing = b, b
	if k := p.Wind.Told.Park; k != nil {
		park := *k
		park.Bearing = b
		p.Wind.Told.Park = &park
	}
}

func verdictOf(s *session.State) string {
	f, err := s.Fit()
	if err != nil {
		return "undecided"
	}
	v := s.Verdicts(&f)
	return v.Radius.String() + " " + v.Centre.String()
}

// senses checks the sign of a slide, and of others until one statement is left, and puts that right; where all agree, the
// wind is confirmed as it is.
func senses(t *testing.T, live *session.Live, m *practice.Machine, name string, do func(session.Command) error,
	set func(*session.Prompt)) {
	t.Helper()
	s := live.State()
	for _, n := range append([]string{name}, s.Set.Job.Needs()...) {
		s := live.State()
		plan, _ := s.SensePlanFor(n)
		sl, _ := s.Set.Machine.Slide(n)
		p := session.Prompt{Waits: session.ForCheck, Check: session.CheckAsked{Plan: plan, Slide: sl}}
		p.Check.Position = session.Position{Set: true, Ring: s.RingAt(plan.Bearing)}
		set(&p)
		c, _, err := m.Do(p)
		if err != nil {
			t.Fatal(err)
		}
		if err := do(c); err != nil {
			t.Fatal(err)
		}
		switch s = live.State(); len(s.Named) {
		case 0:
			if err := do(session.Confirm{}); err != nil {
				t.Fatal(err)
			}
			return
		case 1:
			if err := do(session.Restate{}); err != nil {
				t.Fatal(err)
			}
			return
		}
	}
	// What a check of either slide cannot tell apart is the same by all that can be seen: the first is taken.
	if s = live.State(); len(s.Named) != 2 || s.Named[0].Fault != advice.ZeroFault || s.Named[0].Turn != 180 {
		t.Fatalf("more than one statement is left: %+v", s.Named)
	}
	if err := do(session.Restate{N: 1}); err != nil {
		t.Fatal(err)
	}
}

// mostGrown is what a wind that is right may make radius or centre worse by: half a tolerance, mm. The hand sets a collar to a tenth
// of a division and stops the needle as it reads it.
const mostGrown = 0.01

// Each statement that is wrong is put right in the session, which then settles truly within its tolerances, and no wind after
// the accusation makes radius or centre worse by more than a wind's own error. The machines have a
// geometry and a play of their own. (By how much a ring's zero is turned one movement tells only roughly: TestWrongSetupsNamed.)
// A ring or a touch that is stated wrong may do no harm to a wind that is short, or along the line that it leaves as it is.
func TestWrongStatementsPutRight(t *testing.T) {
	for _, o := range []practice.Options{{}, {Turned: true}} {
		for name, key := range map[string]string{"offset": "slide.offset.clockwise", "x": "slide.x.clockwise", "y": "slide.y.clockwise",
			"touch": "setup.touch", "sense": "head.sense"} {
			if name == "sense" && !o.Turned {
				key = "slide.y.clockwise" // the same by all that can be seen, where the ring's zero lies along X
			}
			w := wrongs[name].on(name, o.Turned)
			if name == "sense" && o.Turned {
				continue // see TestMirroredTableIsNoTurnedOne
			}
			if o.Turned {
				key = strings.NewReplacer("slide.x", "slide.table_x", "slide.y", "slide.table_y", "head", "table").Replace(key)
			}
			for _, h := range []practice.Hand{practice.Collar, practice.Parked} {
				for seed := uint64(1); seed <= 6; seed++ {
					r := plays(t, seed, h, o, w)
					right := slices.Equal(r.restated, []string{key}) ||
						!r.accused && len(r.restated) == 0 && (name == "sense" || !strings.HasPrefix(key, "slide"))
					if !right || !r.settled || r.truth[0] > 0.02 || r.truth[1] > 0.02 || r.grew > mostGrown {
						t.Errorf("%s, %v, turned %v, machine %d: %+v; want %s put right, and settled within", name, h, o.Turned, seed, r, key)
					}
				}
			}
		}
	}
}

// A table's ring that is read the wrong way round does in one movement what a turned one does, and is told from it by checks
// at another place: its zero is never put right, it settles truly within, and no wind makes it worse once the ring is
// named by its sense. By the collar; under the needle the first refused wind blames a slide before any sweep has seen the ring.
func TestMirroredTableIsNoTurnedOne(t *testing.T) {
	w, named := wrongs["sense"].on("sense", true), 0
	for seed := uint64(1); seed <= 6; seed++ {
		r := plays(t, seed, practice.Collar, practice.Options{Turned: true}, w)
		if slices.Contains(r.restated, "table.zero") || !r.settled || r.truth[0] > 0.02 || r.truth[1] > 0.02 {
			t.Errorf("machine %d: %+v; want it settled within, and the zero left alone", seed, r)
		}
		if slices.Equal(r.restated, []string{"table.sense"}) {
			if named++; r.grew > mostGrown {
				t.Errorf("machine %d: %+v, grew by more than %v", seed, r, mostGrown)
			}
		}
	}
	if named < 3 {
		t.Errorf("the ring is named on %d of 6 machines, want half of them", named)
	}
}
