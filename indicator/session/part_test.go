package session_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// laid puts the next part before an ideal machine: its hole lies (x, y) beside where the last one's was, and the indicator, which
// was out for the cut, has another reach.
func (w *ideal) laid(x, y, reach float64) { w.ex, w.ey, w.reach = w.ex+x, w.ey+y, w.reach+reach }

// firstPart plays a bench up to where the first part is accepted and cut.
func firstPart(t *testing.T, o session.Opened) (*player, *ideal) {
	t.Helper()
	w := near42(0.1, 0.1, -0.08)
	w.arc = o.Job.Arc()
	p := open(t, o, w)
	return p.until(session.ForNothing), w
}

// stations counts the readings of the newest sweep.
func stations(p *player) int {
	s := p.state()
	return s.Sweep.Readings()
}

// A part that lies where the last one did is settled by five readings, and nothing is wound; one that lies beside it is brought in by
// the cross slides, and the offset slide is not touched. The radius is the first part's, whatever the indicator's reach has become.
func TestNextPart(t *testing.T) {
	p, w := firstPart(t, benchOpened(t))
	first := p.state()
	f, err := first.Fit()
	if err != nil {
		t.Fatal(err)
	}
	was, _ := first.Swing(&f)
	for i, c := range []struct{ x, y, reach float64 }{{0.004, -0.003, 0.2}, {-0.03, 0.04, -0.3}} {
		w.laid(c.x, c.y, c.reach)
		wound := len(w.turned)
		ex, ey := w.ex, w.ey
		p.do(session.Part{How: session.PartSwept})
		if s := p.state(); s.Part != i+2 || s.Trial != 1 || s.Phase != session.Sweeping {
			t.Fatalf("part %d, trial %d, phase %d; want part %d, trial 1, sweeping", s.Part, s.Trial, s.Phase, i+2)
		}
		p.until(session.ForAccept)
		s := p.state()
		f, err := s.Fit()
		if err != nil {
			t.Fatal(err)
		}
		swing, _ := s.Swing(&f)
		v := s.Verdicts(&f)
		if swing != was || v.Radius != indicator.Inside || v.Centre != indicator.Inside {
			t.Errorf("part %d: swing %v, verdicts %+v; want that of the first part, %v, both inside", s.Part, swing, v, was)
		}
		if far := math.Hypot(c.x, c.y) > o02(p); far != (len(w.turned) > wound) || slices.Contains(w.turned[wound:], "offset") {
			t.Errorf("part %d: %v were wound, centre off by %v", s.Part, w.turned[wound:], math.Hypot(c.x, c.y))
		}
		if n := stations(p); n != 5 {
			t.Errorf("part %d: %d readings, want 5", s.Part, n)
		}
		if off := math.Hypot(w.ex, w.ey); off > o02(p) {
			t.Errorf("part %d: settled with the centre %v off", s.Part, off)
		}
		p.do(session.Accept{})
		s = p.state()
		d := s.Parts
		if !s.Accepted() || d.Part != i+2 || math.Abs(d.Entered.X-ex) > 1e-3 || math.Abs(d.Entered.Y-ey) > 1e-3 {
			t.Errorf("kept as %+v, want it entered at %v, %v", d, ex, ey)
		}
		p.until(session.ForNothing)
	}
	folded, err := session.Fold(p.mem.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	wantSame(t, "replay", folded, p.state())
}

// o02 is the centre's tolerance.
func o02(p *player) float64 {
	s := p.state()
	return s.Set.Job.Target.CentreTolerance
}

// Where parts lie in the fixture's frame follows from what each sweep found and what the slides have done since; it does not depend
// on how often they were wound. By hand: 0.03, then 0.03 farther, all from the first.
func TestPartsLieInTheFixture(t *testing.T) {
	p, w := firstPart(t, benchOpened(t))
	s := p.state()
	at := s.Parts.Left
	x0 := at.X // what the first part was accepted with
	for range 4 {
		w.laid(0.03, 0, 0)
		p.do(session.Part{How: session.PartSwept})
		p.until(session.ForNothing)
	}
	s = p.state()
	f := s.Fixture()
	if f.Parts != 5 || math.Abs(f.Slope.X-0.03) > 5e-4 || math.Abs(f.Slope.Y) > 5e-4 || math.Abs(f.Mean.X-x0-0.06) > 1e-3 {
		t.Errorf("%+v, want 5 parts that go by 0.03 in x, about %v", f, x0+0.06)
	}
	if out, may, ok := s.HeadsOut(); !f.Walks || !ok || may || out != 1 {
		t.Errorf("walks %v, out in %d (%v); want out with the next part", f.Walks, out, ok)
	}
}

// The second part is always swept, and then every so many as the job says; a part between is counted, and trusted by what is stated.
func TestPartsBetweenAreCounted(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Part = &setup.Batch{Every: 3, FixtureLimit: 0.004} })
	p, _ := firstPart(t, o)
	var swept []bool
	for range 6 {
		p.do(session.Part{})
		s := p.state()
		swept = append(swept, !s.Unswept)
		if d := s.Parts; s.Unswept && (d.Trusted > 0.02 || !d.Unswept || d.Part != s.Part || !s.Accepted()) {
			t.Errorf("part %d: %+v, want it counted and trusted", s.Part, d)
		}
		p.until(session.ForNothing)
	}
	if want := []bool{true, false, false, true, false, false}; !slices.Equal(swept, want) {
		t.Errorf("parts 2 to 7 swept: %v, want %v", swept, want)
	}
}

// With the steps asked the next part comes behind the last of them, lies down by steps of its own, and is cut without stock: the offset
// slide stays. On a bracket the indicator stays in.
func TestNextPartBySteps(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Cut = &setup.Cut{Cutter: 8, Stock: 0.3} })
	o.Steps = true
	w := near42(0, 0, 0)
	p := open(t, o, w)
	p.until(session.ForAccept).do(session.Accept{})
	if r := p.refused(session.Part{}); !strings.Contains(r.Because, "step 1 of") {
		t.Errorf("refused: %s; want the step that is due", r.Because)
	}
	w.arc = 38.3
	for p.prompt().Waits != session.ForNothing {
		if p.prompt().Chore.Step == session.CheckArc {
			w.arc = 38
		}
		p.answer(1)
	}
	begun := len(p.steps)
	p.do(session.Part{})
	p.until(session.ForNothing)
	want := "lift out, isolate, cutter out, part in, feel seat, clock edge, lock height, indicator in, rock, lock spindle, isolate, " +
		"indicator out, cutter in, " +
		"free spindle, dry swing, power, cut, isolate, check arc"
	if got := choresIn(p.steps[begun:]); got != want {
		t.Errorf("part 2: %s\nwant %s", got, want)
	}
	begun = len(p.steps)
	p.do(session.Part{How: session.PartBracketed})
	p.until(session.ForNothing)
	want = "lift out, isolate, part in, feel seat, clock edge, indicator in, isolate, indicator out, dry swing, power, cut, isolate, check arc"
	if got := choresIn(p.steps[begun:]); got != want {
		t.Errorf("on a bracket: %s\nwant %s", got, want)
	}
	begun = len(p.steps)
	p.do(session.Part{How: session.PartUnswept})
	p.until(session.ForNothing)
	want = "lift out, isolate, part in, feel seat, clock edge, dry swing, power, cut, isolate, check arc"
	if got := choresIn(p.steps[begun:]); got != want {
		t.Errorf("not swept: %s\nwant %s", got, want)
	}
	if s := p.state(); s.Carried == nil || s.Carried.By != session.CarriedByArc || math.Abs(s.Carried.V-42) > 1e-9 || !s.Carried.Unstated {
		t.Errorf("carried %+v, want 42 by the measured arc, of which nobody has said how right it is", s.Carried)
	}
}

func choresIn(steps []session.Step) string {
	var out []string
	for _, st := range steps {
		if e, ok := st.Event.(session.Worked); ok {
			out = append(out, string(e.Step))
		}
	}
	return strings.Join(out, ", ")
}

// A part before an acceptance is refused with what is needed; what was begun by mistake is taken back, and the setting stays accepted;
// a session that is resumed in the middle of a part takes that back, but not the acceptance before it.
func TestPartRefusedAndTakenBack(t *testing.T) {
	p := open(t, benchOpened(t), near42(0, 0, 0))
	if r := p.refused(session.Part{}); r.Hint != "accept the setting first" {
		t.Errorf("hint %q", r.Hint)
	}
	p.until(session.ForNothing)
	done := p.state()
	p.do(session.Part{}, session.Undo{})
	wantSame(t, "taken back", timeless(p.state()), timeless(done))
	p.do(session.Part{})
	p.answer(3)
	again := session.NewLive(fold(session.State{}, events(t, p.mem.Lines)), p.mem)
	p.live = again
	p.answer(1)
	p.do(session.Undo{}, session.Undo{}, session.Undo{}, session.Undo{}, session.Undo{})
	if s := p.state(); !s.Accepted() || s.Part != 1 {
		t.Fatalf("part %d, phase %d; want the first part accepted", s.Part, s.Phase)
	}
	p.refused(session.Undo{})
	p.do(session.Part{})
	p.until(session.ForNothing)
	p.do(session.Open{Opened: benchOpened(t)})
	if s := p.state(); s.Part != 1 || s.Parts != nil || s.Carried != nil {
		t.Errorf("the next setting begins at part %d, %d behind it", s.Part, len(s.Parts.All()))
	}
	h := session.HistoryOf(records(t, p.mem.Lines), nil)
	for n := range h.Len() + 1 {
		wantSame(t, fmt.Sprintf("history at %d", n), h.State(n), fold(session.State{}, events(t, p.mem.Lines)[:n]))
	}
}

// However a later part begins, and whatever is cut: before its sweep, and where none comes before its cut, no slide is loaded or
// wound and the tip never comes in by one; hands go in behind the isolator, and the cutter is clear of the metal first. A sweep is never
// run against stops, and stops that were backed off, or stood for another part, are set before the pass by hand.
func TestLaterPartTouchesNoSlide(t *testing.T) {
	for _, how := range []session.PartHow{session.PartSwept, session.PartBracketed, session.PartUnswept} {
		for _, depth := range []float64{0, 6} {
			o := ringed(t)
			o.Order = 2
			if o.Job.Cut.Depth = depth; depth > 0 {
				o.Job.Cut.Step = 2
			}
			w := near42(0, 0, 0)
			w.arc = 38
			p := open(t, o, w).until(session.ForNothing)
			begun := len(p.steps)
			p.do(session.Part{How: how})
			p.until(session.ForNothing)
			all := strings.Split(choresIn(p.steps[begun:]), ", ")
			said := fmt.Sprintf("part %q, depth %v: %v", how, depth, all)
			for _, st := range p.steps[begun:] {
				switch st.Event.(type) {
				case session.Loaded, session.Wound, session.Told:
					t.Errorf("%s: %T, want no slide touched", said, st.Event)
				}
			}
			if all[0] != "lift out" || all[1] != "isolate" || slices.Contains(all, "tip in") {
				t.Errorf("%s; want it lifted out, then isolated, and no tip in", said)
			}
			set := slices.Index(all, "set stops")
			if set < 0 || set > slices.Index(all, "dry swing") {
				t.Errorf("%s; want the stops set before the pass by hand", said)
			}
			off, in := slices.Index(all, "stops off"), slices.Index(all, "indicator in")
			if (how == session.PartUnswept) != (off < 0 && in < 0) || off > in || off > set {
				t.Errorf("%s; want the stops off before a sweep", said)
			}
			out, rock := slices.Index(all, "cutter out"), slices.Index(all, "rock")
			if alone := how == session.PartSwept; alone != (out > 1 && out < in) || alone != (rock > in && all[rock+1] == "lock spindle") {
				t.Errorf("%s; want the cutter out, the indicator in and rocked where it takes its place", said)
			}
		}
	}
}

// batched plays five parts by their steps: two with the indicator in the cutter's place, one that is brought in on a bracket, and two
// that are only counted. A step is taken back between.
func batched(t testing.TB) *player {
	t.Helper()
	w := near42(0.1, 0.05, -0.08)
	w.arc = 38
	o := benchOpened(t)
	o.Steps, o.Job.Cut, o.Job.Part = true, &setup.Cut{Cutter: 8}, &setup.Batch{Every: 2}
	p := open(t, o, w).until(session.ForNothing)
	w.laid(0.004, -0.001, 0.15)
	p.do(session.Part{})
	p.answer(2)
	p.do(session.Undo{})
	p.until(session.ForNothing)
	w.laid(0.03, 0.002, -0.05)
	p.do(session.Part{How: session.PartBracketed})
	for range 2 {
		p.until(session.ForNothing).do(session.Part{How: session.PartUnswept})
	}
	return p.until(session.ForNothing)
}

// States are values, and so are the parts behind them: of one state two may follow, and neither sees the other's part, nor does the
// state they came from, however long the list is.
func TestPartsAreShared(t *testing.T) {
	p, _ := firstPart(t, benchOpened(t))
	s := p.state()
	for n := 2; n <= 40; n++ {
		s = s.Apply(session.Parted{Part: n})
	}
	was := numbers(s.Parts)
	one, other := s.Apply(session.Parted{Part: 41}), s.Apply(session.Parted{Part: 51})
	further := one.Apply(session.Parted{Part: 42})
	for _, c := range []struct {
		name string
		s    *session.State
		more []int
	}{{"the state itself", &s, nil}, {"one", &one, []int{41}}, {"the other", &other, []int{51}}, {"one's next", &further, []int{41, 42}}} {
		if got, want := numbers(c.s.Parts), slices.Concat(was, c.more); len(was) != 40 || !slices.Equal(got, want) {
			t.Errorf("%s: parts %v, want %v", c.name, got, want)
		}
	}
}

func numbers(parts *session.PartDone) (out []int) {
	for _, d := range parts.All() {
		out = append(out, d.Part)
	}
	return out
}
