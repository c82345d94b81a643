package session_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// behind is what was asked from the accepted setting on, and what each pass was told as.
func behind(p *player) (all []session.Chore, passes []session.CutPass) {
	for _, st := range p.steps {
		c := st.Before.Prompt().Chore
		switch e := st.Event.(type) {
		case session.Worked:
		case session.Wound:
			if e.Slide == "" || c.Step == "" {
				continue
			}
		default:
			continue
		}
		if !st.Before.Accepted() {
			continue
		}
		if all = append(all, c.Step); c.Step == session.Pass {
			pass, _ := st.Before.PassAt(c.N - 1)
			passes = append(passes, pass)
		}
	}
	return all, passes
}

// cutIn plays a setting, its arc cut as it is set but for so much, to its end.
func cutIn(t *testing.T, o session.Opened, w *ideal, off float64) *player {
	t.Helper()
	c := o.Job.Cut
	arc := func() float64 { return w.swing - c.Waste()*c.Cutter/2 + off }
	p := open(t, o, w)
	for range most {
		if p.prompt().Waits == session.ForNothing {
			return p
		}
		w.arc = arc()
		p.answer(1)
	}
	t.Fatal("the cut does not end")
	return nil
}

// What has to hold however an arc is cut in passes: the cutter is out of the metal before anything is wound and before anything is
// measured; the depths go down strictly, from the first pass's to exactly the depth, none by more than the step unless what is left
// on is taken off at once; and where a spring pass is asked for it comes last at every radius, at the full depth.
func TestNothingIsWoundOrMeasuredInTheMetal(t *testing.T) {
	played := 0
	for _, table := range []bool{false, true} {
		for _, trial := range []bool{false, true} {
			for i := range 2 * 2 * 2 * 3 * 3 {
				hollow, spring, lock := i%2 == 1, i/2%2 == 1, i/4%2 == 1
				stock, step := []float64{0, 0.3, 1.6}[i/8%3], []float64{6, 2.5, 2}[i/24%3]
				if trial && (table || stock == 0) {
					continue
				}
				o, w := benchOpened(t), near42(0, 0, 0)
				if table {
					o = testdata.Setting(t, practice.TableJob, practice.TableMachine)
					w = &ideal{rho: o.Job.Setup.ReferenceRadius, swing: o.Job.Target.SwingRadius, reach: o.Job.Setup.Reach,
						boss: o.Job.Setup.Touch == indicator.Boss}
				}
				o.Steps, o.Machine.HeadLock = true, lock
				o.Job.Cut = &setup.Cut{Hollow: hollow, Cutter: 8, Stock: stock, Depth: 6, Step: step, Spring: spring}
				if trial {
					o.Job.Setup.Reach, o.Job.Setup.ReachKnown, o.Job.Target.Trial = 0, false, true
					w.swing += o.Job.Cut.Waste() * (stock + 1)
					w.reach = 30 - w.swing
				}
				name := fmt.Sprintf("table %v, trial %v, %+v, lock %v", table, trial, *o.Job.Cut, lock)
				holdsPasses(t, name, cutIn(t, o, w, 0), spring, step)
				played++
			}
		}
	}
	if played < 150 {
		t.Errorf("%d were played", played)
	}
}

func holdsPasses(t *testing.T, name string, p *player, spring bool, step float64) {
	t.Helper()
	all, passes := behind(p)
	in, at, springs, n := false, 0.0, 0, 0
	for _, c := range all {
		switch c {
		case session.Pass:
			pass := passes[n]
			n++
			switch by := pass.Depth - at; {
			case pass.First != !in:
				t.Errorf("%s: pass %+v, in the metal %v: first of its radius?", name, pass, in)
			case pass.Spring && (by != 0 || pass.N != pass.Of):
				t.Errorf("%s: a spring pass %+v behind one of %v", name, pass, at)
			case !pass.Spring && !(by > 0), !pass.Spring && !pass.Whole && by > step+1e-9:
				t.Errorf("%s: pass %+v behind one of %v, steps of %v", name, pass, at, step)
			}
			if at, in = pass.Depth, true; pass.Spring {
				springs++
			}
		case session.LiftOut:
			if at != 6 || spring != (springs == 1) {
				t.Errorf("%s: lifted out at %v behind %d spring passes", name, at, springs)
			}
			in, at, springs = false, 0, 0
		case session.Isolate, session.LeaveStock, session.LastWind, session.Measure, session.CheckArc, session.Power:
			if in {
				t.Errorf("%s: %s with the cutter in the metal, of %v", name, c, all)
			}
		case session.Cut, session.RoughCut:
			t.Errorf("%s: %s, where a depth is stated", name, c)
		default:
		}
	}
	if s := p.state(); n == 0 || in || s.Phase != session.Ended {
		t.Errorf("%s: ends behind %v", name, all)
	}
}

// By hand: 0.3 on with a cutter of 8 and 6 deep is light, and comes off the whole depth at once; 0.3 is not light for one of 2, nor
// 1.6 for one of 8, nor is a whole depth of 6 for a cutter of 2.5 whose flutes are 5: these are cut by the same steps again. Without
// a depth, or in a setting of old, it is one cut as ever.
func TestPassesAsked(t *testing.T) {
	const change = "isolate, indicator out, cutter in, free spindle, leave stock, dry swing, power, "
	const rough = "pass, pass, pass, lift out, isolate, measure, last wind, power, "
	for _, c := range []struct {
		cut   setup.Cut
		order int
		want  string
	}{
		{setup.Cut{Cutter: 8, Stock: 0.3, Depth: 6, Step: 2}, 2, change + rough + "pass, lift out, isolate, check arc"},
		{setup.Cut{Cutter: 8, Stock: 0.3, Depth: 6, Step: 2, Spring: true}, 2,
			change + "pass, " + rough + "pass, pass, lift out, isolate, check arc"},
		{setup.Cut{Cutter: 8, Stock: 1.6, Depth: 6, Step: 2}, 2, change + rough + "pass, pass, pass, lift out, isolate, check arc"},
		{setup.Cut{Cutter: 2, Stock: 0.3, Depth: 4, Step: 4.0 / 3}, 2, change + rough + "pass, pass, pass, lift out, isolate, check arc"},
		{setup.Cut{Cutter: 2.5, Stock: 0.2, Depth: 6, Step: 2}, 2, change + rough + "pass, pass, pass, lift out, isolate, check arc"},
		{setup.Cut{Cutter: 8, Depth: 2, Step: 2}, 2, "isolate, indicator out, cutter in, free spindle, dry swing, power, " +
			"pass, lift out, isolate, check arc"},
		{setup.Cut{Cutter: 8, Stock: 0.3, Depth: 6, Step: 2}, 1, change + "rough cut, isolate, measure, last wind, power, cut, " +
			"isolate, check arc"},
		{setup.Cut{Cutter: 8, Stock: 0.3}, 2, change + "rough cut, isolate, measure, last wind, power, cut, isolate, check arc"},
	} {
		o := benchOpened(t)
		o.Steps, o.Job.Cut = true, &c.cut
		p := open(t, o, near42(0, 0, 0))
		if c.order != 2 { // as a journal of old has it
			old := bytes.Replace(p.mem.Lines[0], []byte(`"order":2`), fmt.Appendf(nil, `"order":%d`, c.order), 1)
			s, err := session.Fold([][]byte{old}, nil)
			if err != nil || s.Set.Order != c.order {
				t.Fatal(err)
			}
			p.live = session.NewLive(s, p.mem)
		}
		w := p.hands.(*ideal)
		for p.prompt().Waits != session.ForNothing {
			w.arc = w.swing - c.cut.Cutter/2
			p.answer(1)
		}
		all, _ := behind(p)
		words := make([]string, len(all))
		for i, c := range all {
			words[i] = string(c)
		}
		if got := strings.Join(words, ", "); got != c.want {
			t.Errorf("%+v, order %d:\n%s, want\n%s", c.cut, c.order, got, c.want)
		}
	}
}

// The passes of one setting: 2, 4 and 6 with stock on, the spring pass at 6 again; then what is left off the whole depth at once.
func TestPassesTold(t *testing.T) {
	o := benchOpened(t)
	o.Steps, o.Job.Cut = true, &setup.Cut{Cutter: 8, Stock: 0.3, Depth: 6, Step: 2, Spring: true}
	p := cutIn(t, o, near42(0, 0, 0), 0.02)
	all, got := behind(p)
	want := []session.CutPass{
		{
			N:     1,
			Of:    3,
			Depth: 2,
			Step:  2,
			Rough: true,
			First: true, Fresh: true, AtOnce: 2,
		}, {N: 2, Of: 3, Depth: 4, Step: 2, Rough: true, AtOnce: 2}, {N: 3, Of: 3, Depth: 6, Step: 2, Rough: true, AtOnce: 2},
		{N: 3, Of: 3, Depth: 6, Step: 2, Rough: true, Spring: true},
		{N: 1, Of: 1, Depth: 6, Step: 2, Whole: true, First: true}, {N: 1, Of: 1, Depth: 6, Step: 2, Whole: true, Spring: true},
	}
	if !slices.Equal(got, want) {
		t.Errorf("passes\n%+v, want\n%+v", got, want)
	}
	s := p.state() // had the ones before been left out, the whole 6 would come off at once, where nobody has gone in
	s.Worked = slices.Clone(s.Worked)
	last := slices.Index(all, session.LastWind)
	for i := range s.Worked[:last] {
		s.Worked[i].Skipped = s.Worked[i].Step == session.Pass
	}
	whole := last + slices.Index(all[last:], session.Pass)
	if q, _ := s.PassAt(whole); !q.Whole || !q.Fresh || q.AtOnce != 6 || !q.Jumps() {
		t.Errorf("behind passes that were left out: %+v", q)
	}
}

// A pass is left out and taken back like any step; with every pass of the finish left out the arc is not cut to size.
func TestPassesLeftOut(t *testing.T) {
	o := benchOpened(t)
	o.Steps, o.Job.Cut = true, &setup.Cut{Cutter: 8, Depth: 6, Step: 3}
	p := open(t, o, near42(0, 0, 0)).until(session.ForAccept)
	p.do(session.Accept{})
	for p.prompt().Chore.Step != session.Pass {
		p.answer(1)
	}
	first := p.prompt().Chore.N
	before := p.state()
	p.do(session.Confirm{}, session.Skip{}, session.Undo{}, session.Undo{})
	if q := p.prompt(); q.Chore.Step != session.Pass || q.Chore.N != first {
		t.Fatalf("taken back: %+v, want the first pass", q.Chore)
	}
	after := p.state()
	wantSame(t, "worked", after.Worked, before.Worked)
	p.do(session.Skip{}, session.Confirm{})
	s := p.state()
	if s.Sizes(first-1) || !s.Sizes(first) || s.Sizes(first+1) {
		t.Errorf("left out, then made: it cuts to size %v, %v", s.Sizes(first-1), s.Sizes(first))
	}
	p.refused(session.Take{Reading: 6})
	if p.do(session.Confirm{}, session.Confirm{}); p.prompt().Chore.Step != session.CheckArc || math.IsNaN(s.Set.Job.Arc()) {
		t.Errorf("behind the passes %v is asked for, want the check", p.prompt().Chore.Step)
	}
}
