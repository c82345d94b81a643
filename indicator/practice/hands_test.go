package practice

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
)

// opened is the setting of the bench.
func opened(t testing.TB) session.Opened {
	t.Helper()
	return testdata.Setting(t, BenchJob, BenchMachine)
}

// run is what one session came to.
type run struct {
	trials, readings, winds int
	truth                   Truth
	ended                   bool
	verdict                 session.Settled // the last
	refused                 int             // parked readings that were not taken, and read again
}

// within reports whether the machine truly stands where the job wants it.
func (r run) within(t setup.Target) bool {
	return (t.SwingRadius == 0 || math.Abs(r.truth.Swing-t.SwingRadius) <= t.Tolerance) &&
		math.Hypot(r.truth.CentreX, r.truth.CentreY) <= t.CentreTolerance
}

// answerer is a hand: it answers like [Machine.Do].
type answerer func(*Machine, session.Prompt) (session.Command, bool, error)

// playWith carries one session through with any hand, within a number of answers.
func playWith(t testing.TB, w World, seed uint64, o session.Opened, hand answerer, most int) run {
	t.Helper()
	m, l := New(w, seed), session.NewLive(session.State{}, &session.Memory{})
	if _, err := l.Do(session.Open{Opened: o}, time.Time{}); err != nil {
		t.Fatal(err)
	}
	var r run
	for range most {
		s := l.State()
		c, ok, err := hand(m, s.Prompt())
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if !ok {
			r.ended = true
			break
		}
		steps, err := l.Do(c, time.Time{})
		if refusal := (*session.Refusal)(nil); errors.As(err, &refusal) && s.Phase == session.Winding {
			r.refused++
			steps, err = l.Do(session.Take{Reading: m.Dial().Reading}, time.Time{})
		}
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, st := range steps {
			switch e := st.Event.(type) {
			case session.Took:
				r.readings++
			case session.Wound:
				r.winds++
			case session.Settled:
				r.verdict = e
			}
		}
	}
	r.trials, r.truth = l.State().Trial, m.Truth()
	return r
}

// spread logs how a figure is distributed and returns its mean and its worst.
func spread(t *testing.T, what string, all []int) (mean float64, worst int) {
	t.Helper()
	slices.Sort(all)
	n := len(all)
	for _, x := range all {
		mean += float64(x) / float64(n)
	}
	t.Logf("%s: mean %.2f, half up to %d, 95 %% up to %d, worst %d", what, mean, all[n/2], all[n*95/100], all[n-1])
	return mean, all[n-1]
}

// tally is what many sessions came to.
type tally struct{ trials, readings, winds []int }

func (a *tally) add(r run) {
	a.trials, a.readings, a.winds = append(a.trials, r.trials), append(a.readings, r.readings), append(a.winds, r.winds)
}

// byCollar makes a hand wind by the collar alone: under the needle it sees what it does, and its
// carelessness costs nothing.
func byCollar(hand answerer) answerer {
	return func(m *Machine, p session.Prompt) (session.Command, bool, error) {
		m.Hand = Collar
		return hand(m, p)
	}
}

// seeds plays the seeds 1 to n of the bench with one hand.
func seeds(t *testing.T, n uint64, hand answerer) (a tally, runs []run) {
	t.Helper()
	for seed := uint64(1); seed <= n; seed++ {
		r := playWith(t, Bench(seed), seed, opened(t), hand, maxSteps)
		a.add(r)
		runs = append(runs, r)
	}
	return a, runs
}

// Every bench settles, is accepted, and truly stands where it should: not by what the program
// says, but by where the simulated machine is.
func TestBenchesSettleTruly(t *testing.T) {
	target := opened(t).Job.Target
	a, runs := seeds(t, 200, (*Machine).Do)
	for i, r := range runs {
		if !r.ended || !r.within(target) || r.verdict != (session.Settled{Radius: indicator.Inside, Centre: indicator.Inside}) {
			t.Errorf("seed %d: ended %v, verdicts %v, %v, truly %+v, want accepted inside 42 ±0.02 and 0.02", i+1, r.ended,
				r.verdict.Radius, r.verdict.Centre, r.truth)
		}
	}
	// One sweep to find out, one to prove: five or six readings each, and a wind of each slide, sometimes
	// set right under the needle.
	if mean, worst := spread(t, "trials", a.trials); mean > 2.1 || worst > 3 {
		t.Errorf("%.2f trials, at worst %d, want about 2 and at most 3", mean, worst)
	}
	if mean, worst := spread(t, "readings", a.readings); mean > 12 || worst > 24 {
		t.Errorf("%.2f readings, at worst %d, want about 11 and at most 24", mean, worst)
	}
	if mean, worst := spread(t, "winds", a.winds); mean > 4 || worst > 9 {
		t.Errorf("%.2f winds, at worst %d, want below 4 and at most three of each slide", mean, worst)
	}
}

// The machine punishes what a real one does: a hand that leaves the take-up out, or the loading,
// needs more trials for the same job. Otherwise the benches above would prove nothing of either.
func TestCarelessHandsPay(t *testing.T) {
	honest, _ := seeds(t, 60, byCollar((*Machine).Do))
	base, _ := spread(t, "trials with an honest hand", honest.trials)
	for _, c := range []struct {
		name string
		hand answerer
	}{{"without take-up", merged}, {"without loading", unloaded}} {
		a, _ := seeds(t, 60, byCollar(c.hand))
		if mean, worst := spread(t, "trials "+c.name, a.trials); mean < base+0.8 || worst < 5 {
			t.Errorf("%s: %.2f trials, at worst %d, want clearly more than %.2f", c.name, mean, worst, base)
		}
	}
	// And a hand that takes the left-hand screw of y for a right-hand one gets nowhere, where y is
	// out by more than the play, which the loading may happen to put right.
	lost := 0
	for seed := uint64(1); seed <= 40; seed++ {
		w := Bench(seed)
		if math.Abs(w.Start.CentreY) < w.Y.Backlash+0.02 {
			continue
		}
		lost++
		if r := playWith(t, w, seed, opened(t), byCollar(mirrored), 150); r.ended {
			t.Errorf("seed %d: settled in %d trials with y wound the wrong way", seed, r.trials)
		}
	}
	if lost < 10 {
		t.Errorf("%d benches with y far out, want at least 10", lost)
	}
}

// merged is a hand that saves a movement: it winds to the figure where the movements of a wind end
// together, and leaves the play where it is.
func merged(m *Machine, p session.Prompt) (session.Command, bool, error) {
	if p.Waits != session.ForWind {
		return m.Do(p)
	}
	net := 0.0
	for _, v := range p.Wind.Moves {
		net += float64(v.Turn) * (float64(v.Turns)*p.Wind.Slide.Divisions + v.Divisions)
	}
	return session.Confirm{}, true, m.Turn(p.Wind.Slide.Name, Move{Clockwise: net > 0, Divisions: math.Abs(net)})
}

// unloaded is a hand that says done to a load and does nothing.
func unloaded(m *Machine, p session.Prompt) (session.Command, bool, error) {
	if p.Waits == session.ForLoad {
		return session.Confirm{}, true, nil
	}
	return m.Do(p)
}

// mirrored is a hand that winds the slide y the wrong way round, and does not bring it nearer by eye either.
func mirrored(m *Machine, p session.Prompt) (session.Command, bool, error) {
	if p.Waits == session.ForBack && len(p.Back.Winds) == 0 {
		return session.Restart{}, true, nil
	}
	if p.Waits != session.ForWind || p.Wind.Slide.Name != "y" {
		return m.Do(p)
	}
	p.Wind.Moves = slices.Clone(p.Wind.Moves)
	for i := range p.Wind.Moves {
		p.Wind.Moves[i].Turn = -p.Wind.Moves[i].Turn
	}
	return m.Do(p)
}

// Other machines and other references: the signs of bore and boss, of the reach and of the
// handwheels must all be right, or nothing settles.
func TestOtherWorldsSettleTruly(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*World, *session.Opened)
	}{
		{"boss inside the swing circle", func(w *World, o *session.Opened) { refer(w, o, false, 30, -12, 0) }},
		{"ring larger than the swing, reach out", func(w *World, o *session.Opened) { refer(w, o, true, 54, 12, 0) }},
		{"boss larger than the swing, reach out", func(w *World, o *session.Opened) { refer(w, o, false, 54, 12, 0) }},
		{"small bore, ball tip", func(w *World, o *session.Opened) { refer(w, o, true, 6, -36, 2) }},
		{"pin, ball tip", func(w *World, o *session.Opened) { refer(w, o, false, 2.5, -39.5, 1) }},
		{"lever at 30°", func(w *World, o *session.Opened) {
			w.LeverAngle, o.Job.Dial.LeverAngle = math.Pi/6, math.Pi/6
		}},
		{"dial that is no better than its marks", func(_ *World, o *session.Opened) { o.Job.Dial.Repeatability = 0 }},
		{"part of a circle", func(_ *World, o *session.Opened) {
			o.Job.Sweep = setup.Sweep{Stations: 8, From: 20 * geom.Degree, To: 250 * geom.Degree}
		}},
		{"eight stations from 37°", func(_ *World, o *session.Opened) {
			o.Job.Sweep = setup.Sweep{Stations: 8, From: 37 * geom.Degree, To: 397 * geom.Degree}
		}},
		{"every handwheel the other way", otherWay},
		{"every take-up the other way", func(_ *World, o *session.Opened) {
			for i := range o.Machine.Slides {
				o.Machine.Slides[i].TakeUp = -o.Machine.Slides[i].TakeUp
			}
		}},
		{"worn out: four times the play that is stated", func(w *World, _ *session.Opened) {
			w.Offset.Backlash, w.X.Backlash, w.Y.Backlash = 0.6, 0.6, 0.6
		}},
		{"centre only", func(_ *World, o *session.Opened) { o.Job.Target.SwingRadius, o.Job.Target.Tolerance = 0, 0 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			var a tally
			for seed := uint64(1); seed <= 50; seed++ {
				w, o := Bench(seed), opened(t)
				o.Machine.Slides = slices.Clone(o.Machine.Slides)
				c.change(&w, &o)
				r := playWith(t, w, seed, o, (*Machine).Do, maxSteps)
				a.add(r)
				if !r.ended || !r.within(o.Job.Target) {
					t.Errorf("seed %d: ended %v after %d trials, verdicts %v, %v, truly %+v", seed, r.ended, r.trials, r.verdict.Radius,
						r.verdict.Centre, r.truth)
				}
			}
			spread(t, "readings", a.readings)
			if mean, worst := spread(t, "trials", a.trials); mean > 2.5 || worst > 4 {
				t.Errorf("%.2f trials, at worst %d, want about 2 and at most 4", mean, worst)
			}
		})
	}
}

// refer puts another reference and another tip into the world and into the job.
func refer(w *World, o *session.Opened, bore bool, radius, reach, tip float64) {
	w.Bore, w.ReferenceRadius, w.Reach, w.TipDiameter = bore, radius, reach, tip
	o.Job.Setup.Touch = indicator.Boss
	if bore {
		o.Job.Setup.Touch = indicator.Bore
	}
	o.Job.Setup.ReferenceRadius, o.Job.Setup.Reach, o.Job.Setup.TipDiameter = radius, reach, tip
}

// otherWay cuts every screw the other hand, and says so in the machine file.
func otherWay(w *World, o *session.Opened) {
	for _, s := range []*Slide{&w.Offset, &w.X, &w.Y} {
		s.ClockwiseIncreases = !s.ClockwiseIncreases
	}
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Clockwise = -o.Machine.Slides[i].Clockwise
	}
}

// stubborn is an appender that takes a number of lines and no more.
type stubborn struct{ left int }

var errFull = errors.New("no space left on the plate")

func (s *stubborn) Append([]byte) error {
	if s.left--; s.left < 0 {
		return errFull
	}
	return nil
}

// Play carries a session to its end, shows every step once, and stamps it with what it is given.
func TestPlay(t *testing.T) {
	mem := &session.Memory{}
	l := session.NewLive(session.State{}, mem)
	now := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	if _, err := l.Do(session.Open{Opened: opened(t)}, now); err != nil {
		t.Fatal(err)
	}
	var kinds []string
	clock := func() time.Time { now = now.Add(time.Second); return now }
	if err := New(Bench(7), 7).Play(l, clock, func(st session.Step) { kinds = append(kinds, fmt.Sprintf("%T", st.Event)) }); err != nil {
		t.Fatal(err)
	}
	if s := l.State(); s.Phase != session.Ended || len(kinds) != len(mem.Lines)-1 || kinds[0] != "session.Loaded" ||
		kinds[len(kinds)-1] != "session.Accepted" {
		t.Errorf("phase %d, %d steps shown of %d lines: %v", s.Phase, len(kinds), len(mem.Lines), kinds)
	}
	last, err := session.Decode(len(mem.Lines), mem.Lines[len(mem.Lines)-1])
	if err != nil || !last.T.Equal(now) {
		t.Errorf("accepted at %v (%v), want %v", last.T, err, now)
	}
	// There is nothing left to do.
	if err := New(Bench(7), 7).Play(l, clock, func(st session.Step) { t.Errorf("%T after the end", st.Event) }); err != nil {
		t.Error(err)
	}
}

// What was recorded before a failure is shown, and the failure is told.
func TestPlayStops(t *testing.T) {
	for _, lines := range []int{1, 4, 11, 12, 20} {
		l := session.NewLive(session.State{}, &stubborn{left: lines})
		if _, err := l.Do(session.Open{Opened: opened(t)}, time.Time{}); err != nil {
			t.Fatal(err)
		}
		shown := 1
		err := New(Bench(7), 7).Play(l, func() time.Time { return time.Time{} }, func(session.Step) { shown++ })
		if !errors.Is(err, errFull) || shown != lines || l.State().Events != lines {
			t.Errorf("room for %d lines: %d steps shown, %d events, error %v", lines, shown, l.State().Events, err)
		}
	}
}

// A session that no hand can end is given up: here the needle is free all the way round.
func TestPlayGivesUp(t *testing.T) {
	w := Bench(7)
	w.ReferenceRadius = 300
	l := session.NewLive(session.State{}, &session.Memory{})
	if _, err := l.Do(session.Open{Opened: opened(t)}, time.Time{}); err != nil {
		t.Fatal(err)
	}
	off := 0
	err := New(w, 7).Play(l, func() time.Time { return time.Time{} }, func(st session.Step) {
		if e, ok := st.Event.(session.Skipped); ok && e.Off == session.Free {
			off++
		}
	})
	if !errors.Is(err, errNotReached) || off < 3 { // nor by eye and scale is it found
		t.Errorf("error %v, %d stations off free, want errNotReached", err, off)
	}
}

// What the hand does at the dial: a number, or which way the needle is off.
func TestRead(t *testing.T) {
	for _, c := range []struct {
		swing float64
		want  session.Command
	}{
		{42.1, session.Take{Reading: 0.1}},
		{44, session.Skip{Off: session.Pressed}},
		{40, session.Skip{Off: session.Free}},
	} {
		w := plain(true, 30, c.swing, -12)
		w.RangeFrom, w.RangeTo, w.Graduation, w.ReadsTo = -0.8, 0.8, 0.01, 0.2
		if got := New(w, 1).answer(session.Prompt{Waits: session.ForReading, Reading: session.ReadingAsked{Bearing: 1}}); got != c.want {
			t.Errorf("swing %v: %+v, want %+v", c.swing, got, c.want)
		}
	}
}

// The hand turns what it is told, and reports what cannot be turned.
func TestDo(t *testing.T) {
	m := New(plain(true, 30, 42, -12), 1)
	told := session.Told{Wind: slide.Wind{Slide: "y"}}
	c, ok, err := m.Do(session.Prompt{Waits: session.ForWind, Wind: session.WindAsked{Told: told, Slide: slide.Slide{Name: "y"},
		Moves: []slide.Move{{Turn: slide.Anticlockwise, Turns: 1, Divisions: 25}, {Turn: slide.Clockwise, Divisions: 50}}}})
	if c != (session.Confirm{}) || !ok || err != nil {
		t.Errorf("%T, %v, %v, want the wind confirmed", c, ok, err)
	}
	// The head has gone 0.75 down over the work, so the centre lies 0.75 up, seen from it.
	wantNear(t, "centre after the wind", m.Truth().CentreY, 0.75)
	if _, _, err := m.Do(session.Prompt{Waits: session.ForLoad, Load: session.LoadAsked{Slide: slide.Slide{Name: "table_x"}}}); err == nil {
		t.Error("a slide that the machine does not have was loaded")
	}
	for _, a := range []struct {
		waits session.Waits
		want  session.Command
	}{{session.ForAccept, session.Accept{}}, {session.ForAgain, session.Restart{}}} {
		if c, ok, err := m.Do(session.Prompt{Waits: a.waits}); c != a.want || !ok || err != nil {
			t.Errorf("waits for %d: %T, %v, %v, want %T", a.waits, c, ok, err, a.want)
		}
	}
	if c, ok, err := m.Do(session.Prompt{}); c != nil || ok || err != nil {
		t.Errorf("waits for nothing: %T, %v, %v", c, ok, err)
	}
}
