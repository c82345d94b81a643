package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// stepwise is the bench with its order at the machine asked for, and an arc of 38 (a boss) or 46 (a
// hollow) cut at 42 with a cutter of 8, 0.3 left on.
func stepwise(t testing.TB, hollow bool) session.Opened {
	o := with(t, func(j *setup.Job) { j.Cut = &setup.Cut{Hollow: hollow, Cutter: 8, Stock: 0.3} })
	o.Steps = true
	return o
}

// chores lists the chores that were done and left out, in order, with the winds among them.
func chores(p *player) (out []string) {
	for _, st := range p.steps {
		switch e := st.Event.(type) {
		case session.Worked:
			out = append(out, string(e.Step))
		case session.Wound:
			if c := st.Before.Prompt().Chore.Step; c != "" {
				out = append(out, string(c))
			}
		}
	}
	return out
}

// The order: isolate before a hand goes in; rough in and load with the tip clear; height, tip in, rock, lock where it
// turned back, look opposite; sweep; then change over, leave stock on, stop and measure, one last wind, cut, stop and
// check (common practice, no source). Swing large for a boss, small for a hollow.
func TestOrderAtTheMachine(t *testing.T) {
	for _, c := range []struct {
		hollow               bool
		left, measured, last float64 // what the slide does; what is found in between
	}{
		{false, 0.3, 38.32, -0.32}, // 0.02 more than was thought is left
		{true, -0.3, 45.71, 0.29},  // a hollow is small while stock is on it
	} {
		w := near42(0.1, 0.05, -0.08)
		w.arc = c.measured
		p := open(t, stepwise(t, c.hollow), w)
		if s := p.state(); s.Phase != session.Preparing || p.prompt().Chore.Step != session.Isolate {
			t.Fatalf("begins with %+v, want the machine isolated", p.prompt())
		}
		p.until(session.ForAccept)
		set := w.swing
		p.do(session.Accept{})
		p.until(session.ForWind)
		if p.answer(1); math.Abs(w.swing-set-c.left) > 1e-9 {
			t.Errorf("hollow %v: the slide goes %v to leave stock, want %v", c.hollow, w.swing-set, c.left)
		}
		p.until(session.ForWind)
		rough := w.swing
		if p.answer(1); math.Abs(w.swing-rough-c.last) > 1e-9 {
			t.Errorf("hollow %v: the last wind goes %v, want %v", c.hollow, w.swing-rough, c.last)
		}
		w.arc = 38
		if c.hollow {
			w.arc = 46
		}
		p.until(session.ForNothing)
		if s := p.state(); s.Phase != session.Ended {
			t.Errorf("ends in phase %d, want it over", s.Phase)
		}
		want := "isolate, rough in, lock height, tip in, rock, lock spindle, rock again, isolate, indicator out, cutter in, free " +
			"spindle, leave stock, " +
			"dry swing, power, rough cut, isolate, measure, last wind, power, cut, isolate, check arc"
		if got := strings.Join(chores(p), ", "); got != want {
			t.Errorf("steps\n%s, want\n%s", got, want)
		}
	}
}

// Every step can be left out, and taken back; without a measurement the last wind takes the stock off as
// it was put on, and without stock there is nothing to wind.
func TestStepsLeftOut(t *testing.T) {
	p := open(t, stepwise(t, false), near42(0.1, 0, 0))
	for range 2 {
		p.do(session.Skip{})
	}
	if p.prompt().Waits != session.ForLoad {
		t.Fatalf("waits for %d behind the steps, want the first load", p.prompt().Waits)
	}
	p.do(session.Undo{})
	if q := p.prompt(); q.Chore.Step != session.RoughIn || q.Chore.N != 2 || q.Chore.Of != 2 {
		t.Fatalf("taken back: %+v, want step 2 of 2", q)
	}
	p.refused(session.Take{Reading: 0.1})
	p.refused(session.Restart{})
	p.do(session.Confirm{})
	p.until(session.ForAccept).do(session.Accept{})
	for _, c := range []session.Command{session.Restart{}, session.Accept{}, session.Enough{}, session.AskClosing{},
		session.Hold{Radius: 42}, session.Skip{Off: session.Free}} {
		p.refused(c)
	}
	p.until(session.ForWind).answer(1)
	for p.prompt().Chore.Step != session.Measure {
		p.answer(1)
	}
	for _, c := range []session.Command{session.Confirm{}, session.Take{Reading: 76.6}, session.Take{Reading: math.Inf(1)},
		session.Take{Reading: -38}} {
		p.refused(c) // no number; a diameter; none at all
	}
	p.do(session.Skip{})
	if w := p.prompt().Wind.Told.Wind; math.Abs(w.Travel+0.3) > 1e-12 {
		t.Errorf("nothing measured: the last wind goes %v, want −0.3", w.Travel)
	}
	p.do(session.Skip{}, session.Undo{}, session.Undo{}, session.Skip{}) // measure again, and not
	if got := p.prompt(); got.Chore.Step != session.LastWind || got.Waits != session.ForWind {
		t.Errorf("taken back twice and left out: %+v, want the last wind", got)
	}
	s := p.state()
	if !s.Accepted() {
		t.Error("the setting does not count as accepted")
	}
	p.do(session.Open{Opened: stepwise(t, false)}) // the next one may begin
	if s := p.state(); s.Phase != session.Preparing || len(s.Worked) != 0 {
		t.Errorf("the next setting begins in phase %d with %v", s.Phase, s.Worked)
	}
}

// Without a stock, or the slide for it, nothing is wound behind the accepted setting; and without the
// order asked for, it is over.
func TestNoStockNoWind(t *testing.T) {
	o := stepwise(t, false)
	o.Job.Cut.Stock = 0
	p := open(t, o, near42(0.1, 0, 0)).until(session.ForAccept)
	p.do(session.Accept{})
	for p.prompt().Waits == session.ForChore {
		p.do(session.Skip{})
	}
	if got := chores(p); slices.Contains(got, "leave stock") || slices.Contains(got, "last wind") || p.state().Phase != session.Ended {
		t.Errorf("steps %v in phase %d, want no wind and all over", got, p.state().Phase)
	}
	o.Steps = false
	p = open(t, o, near42(0.1, 0, 0)).until(session.ForAccept)
	if p.do(session.Accept{}); p.state().Phase != session.Ended {
		t.Errorf("phase %d without steps, want it over", p.state().Phase)
	}
}

// The head's lock is closed last, and read again where the last sweep ended; what it moves is told.
func TestHeadLock(t *testing.T) {
	for moves, disturbs := range map[float64]bool{0.004: false, -0.03: true} {
		o := benchOpened(t)
		o.Machine.HeadLock = true
		w := near42(0.1, 0.05, 0)
		w.headMoves = moves
		p := open(t, o, w).until(session.ForChore)
		if q := p.prompt(); q.Chore.Step != session.LockHead || !q.TakesReading() ||
			q.Chore.Bearing != p.state().Sweep.Stations[p.state().Sweep.N-1].Bearing {
			t.Fatalf("waits for %+v, want the head's lock at the last station", q)
		}
		p.refused(session.Accept{})
		p.refused(session.Confirm{})
		p.refused(session.Take{Reading: 3})
		p.answer(1)
		s := p.state()
		if v, _, ok := s.HeadMoved(); !ok || math.Abs(v.V-moves) > 1e-6 || s.HeadDisturbs() != disturbs {
			t.Errorf("locking moves %v (%v), disturbs %v; want %v, %v", v.V, ok, s.HeadDisturbs(), moves, disturbs)
		}
		if p.prompt().Waits != session.ForAccept {
			t.Errorf("waits for %d behind it, want to be accepted", p.prompt().Waits)
		}
		p.do(session.Undo{}, session.Skip{})
		if s := p.state(); s.HeadDisturbs() || p.prompt().Waits != session.ForAccept {
			t.Error("left out, it is told of all the same")
		}
		p.do(session.Restart{})
		if p.until(session.ForChore); p.prompt().Chore.Step != session.LockHead {
			t.Error("behind another sweep the lock is not asked for again")
		}
	}
}

// An arc that the first pass left beyond its target has lost that metal for good: a rim of 38 found at 37.9 and a hollow
// of 46 found at 46.1 have no last wind, where one of 0.1 the other way would have been told; a rim at 38.1 has one.
func TestNoLastWindForMetalThatIsGone(t *testing.T) {
	for _, c := range []struct {
		hollow   bool
		measured float64
		gone     float64
	}{{false, 37.9, 0.1}, {true, 46.1, 0.1}, {false, 38.1, -0.1}, {true, 45.9, -0.1}} {
		w := near42(0.1, 0.05, -0.08)
		w.arc = c.measured
		p := open(t, stepwise(t, c.hollow), w).until(session.ForAccept)
		p.do(session.Accept{})
		p.until(session.ForNothing)
		s := p.state()
		if got := s.CutAway(c.measured); math.Abs(got-c.gone) > 1e-9 {
			t.Errorf("hollow %v at %v: %v cut away, want %v", c.hollow, c.measured, got, c.gone)
		}
		if wound := slices.Contains(chores(p), string(session.LastWind)); wound != (c.gone < 0) {
			t.Errorf("hollow %v at %v: last wind %v, want %v", c.hollow, c.measured, wound, c.gone < 0)
		}
	}
}

// A head with a lock of its own is locked for the last readings and freed again before it is swung under the cutter; and
// once the setting is accepted, with the indicator out, no sign can be checked and no dial set anew.
func TestFreedBeforeItIsSwung(t *testing.T) {
	o := stepwise(t, false)
	o.Machine.HeadLock = true
	w := near42(0.1, 0.05, 0)
	w.arc = 38
	p := open(t, o, w).until(session.ForAccept)
	p.do(session.Accept{})
	p.refused(session.Sense{Slide: "x", Went: session.Up})
	p.refused(session.Bezel{Showed: 0.1, Shows: 0})
	p.until(session.ForNothing)
	all := chores(p)
	free, dry := slices.Index(all, string(session.FreeHead)), slices.Index(all, string(session.DrySwing))
	if free < 0 || dry < free || free < slices.Index(all, string(session.CutterIn)) {
		t.Errorf("the head is freed at %d and swung at %d of %v", free, dry, all)
	}
}

// A step that this program does not know, or a value where none belongs, stops the reading.
func TestUnknownStep(t *testing.T) {
	for _, d := range []string{`{"step":"sing"}`, `{"step":"cut","value":3}`, `{}`} {
		line := `{"v":1,"n":1,"t":"2025-03-04T09:00:00.000Z","k":"step","d":` + d + `}`
		if r, err := session.Decode(1, []byte(line)); err == nil {
			t.Errorf("%s reads as %+v", line, r)
		}
	}
}

// After cross winds of more than a fortieth of the swing radius in all the tip is off the radial line by enough to
// rock again, before the sweep that verifies; less asks for nothing. 1.1 mm at 42 is more, 0.4 mm is less.
func TestRockAgainAfterLongCrossWinds(t *testing.T) {
	for off, want := range map[float64]bool{1.1: true, 0.4: false} {
		o := stepwise(t, false)
		o.Job.Dial.From, o.Job.Dial.To = -2, 2
		p := open(t, o, near42(0, off, 0)).until(session.ForReading).until(session.ForWind)
		for p.prompt().Waits == session.ForWind {
			p.answer(1)
		}
		if s := p.state(); s.Trial != 2 {
			t.Fatalf("%v mm off: trial %d behind the winds, want 2", off, s.Trial)
		}
		if got := p.prompt().Chore.Step == session.RockAgain; got != want {
			t.Errorf("%v mm wound across: rock again %v, want %v", off, got, want)
		}
		if want {
			if p.do(session.Confirm{}); p.prompt().Waits != session.ForReading || p.state().Crossed != 0 {
				t.Errorf("behind it: %+v, %v mm still counted", p.prompt(), p.state().Crossed)
			}
		}
	}
}

// A setting that was opened before the order was mended keeps the one that it was asked in.
func TestOrderOfOld(t *testing.T) {
	o := stepwise(t, false)
	s := session.State{}.Apply(o)
	var got []string
	for s.Phase == session.Preparing {
		all, done := s.Chores()
		got = append(got, string(all[len(done)]))
		s = s.Apply(session.Worked{Step: all[len(done)]})
	}
	if want := "rough in, lock spindle, rock, lock height"; strings.Join(got, ", ") != want || s.Phase != session.Loading {
		t.Errorf("%v, then phase %d, want %s, then the loads", got, s.Phase, want)
	}
	line := `{"v":1,"n":1,"t":"2025-03-04T09:00:00.000Z","k":"opened","d":{"order":9}}`
	if _, err := session.Decode(1, []byte(line)); err == nil || !strings.Contains(err.Error(), "order 9") {
		t.Errorf("an order that is none: %v", err)
	}
}

// Where leaving stock on was left out there is none to take off, measured or not: the slide stays where the accepted setting has left
// it. A last wind of the stock would cut a rim that much too small.
func TestStockThatWasNotLeftOnIsNotTakenOff(t *testing.T) {
	for _, hollow := range []bool{false, true} {
		w := near42(0.1, 0.05, -0.08)
		p := open(t, stepwise(t, hollow), w).until(session.ForAccept)
		p.do(session.Accept{})
		set, asked := w.swing, 0
		for p.prompt().Waits != session.ForNothing {
			switch p.prompt().Chore.Step {
			case session.LeaveStock, session.Measure, session.CheckArc:
				asked++
				p.do(session.Skip{})
			default:
				p.answer(1)
			}
		}
		if math.Abs(w.swing-set) > 1e-9 || asked != 3 {
			t.Errorf("hollow %v: the slide has gone %v behind the accepted setting, want 0; %d steps left out, want 3", hollow, w.swing-set,
				asked)
		}
	}
}

// What locking the head may move the needle by is half of the tolerance that is nearest to be upset: of a centre within 0.02 and a
// radius within 1 that is 0.01. 0.019 is more by all that five readings of a bench without spread leave in doubt, 0.009 is less.
func TestHeadLockAgainstTheCentre(t *testing.T) {
	for moves, disturbs := range map[float64]bool{0.009: false, 0.019: true, -0.019: true} {
		o := benchOpened(t)
		o.Machine.HeadLock, o.Job.Target.Tolerance, o.Job.Target.CentreTolerance = true, 1, 0.02
		w := near42(0, 0, 0)
		w.headMoves = moves
		s := open(t, o, w).until(session.ForChore).answer(1).state()
		if v, _, ok := s.HeadMoved(); !ok || s.HeadDisturbs() != disturbs {
			t.Errorf("locking moves %+v (%v), disturbs %v; want %v", v, ok, s.HeadDisturbs(), disturbs)
		}
	}
}
