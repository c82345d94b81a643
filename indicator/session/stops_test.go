package session_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
)

// tongue is a plate with a round end of radius 38 about the origin, from −90° to 90°, that goes over into two straights; a cutter of
// 8 is swung round the end at 42. 0.01 is let pass at its ends.
func tongue(t *testing.T, rotary bool) (*part.Picked, []geom.Chain) {
	t.Helper()
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	chain := geom.Chain{geom.ArcOf(at(0, 0), 38, -math.Pi/2, math.Pi), geom.Straight(at(0, 38), at(-90, 38)),
		geom.Straight(at(-90, 38), at(-90, -38)), geom.Straight(at(-90, -38), at(0, -38))}
	var run []part.Piece
	for _, e := range chain {
		run = append(run, part.Piece{Element: e})
	}
	p, err := part.Make(part.Outline{Loops: [][]part.Piece{run}}, part.Options{Cutters: []float64{8}, Rotary: rotary,
		CutterBearing: geom.FromDegrees(35), Limits: part.Limits{Gouge: 0.01}})
	if err != nil {
		t.Fatal(err)
	}
	a, err := part.Pick(p, 1, "tongue")
	if err != nil {
		t.Fatal(err)
	}
	return a, []geom.Chain{chain}
}

// ringed is a bench whose head's ring shows 0 at a bearing of 100.3° and falls as the head is swung anticlockwise, with marks of 1°.
func ringed(t *testing.T) session.Opened {
	t.Helper()
	o := benchOpened(t)
	o.Steps, o.Job.Cut = true, &setup.Cut{Cutter: 8}
	o.Arc, o.Outline = tongue(t, false)
	o.Machine.Head = setup.Ring{Zero: geom.FromDegrees(100.3), Figures: slide.Clockwise, Graduation: float64(geom.FromDegrees(1))}
	return o
}

// toTheDrySwing plays a setting to the pass by hand.
func toTheDrySwing(t *testing.T, o session.Opened, dry session.Chore) *player {
	t.Helper()
	w := near42(0, 0, 0)
	if dry == session.DryTurn {
		w = &ideal{rho: o.Job.Setup.ReferenceRadius, swing: o.Job.Target.SwingRadius, reach: o.Job.Setup.Reach}
	}
	p := open(t, o, w)
	for range most {
		if p.prompt().Chore.Step == dry {
			return p
		}
		p.answer(1)
	}
	t.Fatal("there is no pass by hand")
	return nil
}

// A swing that stops too far on, or too soon, is told by how much and what it would spoil, and is not taken; nor is a figure that the
// ring cannot show. The end is at ring 10.3°, which falls beyond it: a swing on by φ comes 42·(1 − cos φ) nearer to the straight than
// the cutter's radius, and 0.01 is let pass.
func TestDrySwingIsHeldAgainstTheRing(t *testing.T) {
	p := toTheDrySwing(t, ringed(t), session.DrySwing)
	past := math.Acos(1-0.01/42) * 180 / math.Pi
	if !p.prompt().Chore.Seen {
		t.Fatal("the ring is not asked for")
	}
	say := func(f float64) session.Take { return session.Take{Reading: f} }
	deep := 42 * (1 - math.Cos(1.9*math.Pi/180))
	for f, want := range map[float64][]string{
		400:   {"ring 400° is no figure of a ring, need 0 to 360"},
		-1:    {"ring -1° is no figure of a ring, need 0 to 360"},
		10.35: {"ring 10.35° is finer than the ring is read: it shows 1°, read to 0.2°; need no finer a figure"},
		8.4: {"ring 8.4° at the stop is 1.9° (1.393 mm at the cutter) beyond it, need no more than " + fmt.Sprintf("%.2f°", past),
			fmt.Sprintf("the cutter would gouge %.3f mm, and 0.010 mm is let pass", deep)},
		12.4: {"ring 12.4° at the stop is 2.1° (1.539 mm at the cutter) short of it", "would stand proud, and 0.010 mm is let pass"},
	} {
		r := p.refused(say(f))
		for _, w := range want {
			if !strings.Contains(r.Error(), w) {
				t.Errorf("ring %v°: %s, want %s", f, r.Error(), w)
			}
		}
		if f < 360 && f > 8 && f != 10.35 && !strings.Contains(r.Hint, "move the stop to ring 10.4°") {
			t.Errorf("ring %v°: %s, want to be told where to move the stop", f, r.Hint)
		}
	}
	// What is past at the start is in the other direction: there the figures grow beyond 190.3°.
	if r := p.refused(session.SeeRing{Start: 192.2, Stop: 10.4}); !strings.Contains(r.Error(), "ring 192.2° at the start is 1.9°") ||
		!strings.Contains(r.Error(), "beyond it") || !strings.Contains(r.Hint, "move the stop to ring 190.2°") {
		t.Errorf("%s; %s", r.Error(), r.Hint)
	}
	p.do(session.SeeRing{Start: 190.2, Stop: 9.4}) // 0.9° on is within
	seen := p.state().Worked[len(p.state().Worked)-1]
	if seen.Step != session.DrySwing || seen.Seen == nil || *seen.Seen.Start != 190.2 || *seen.Seen.Stop != 9.4 {
		t.Fatalf("%+v, want what the ring showed", seen)
	}
	p.do(session.Undo{})
	if done := p.state().Worked; p.prompt().Chore.Step != session.DrySwing || len(done) > 0 && done[len(done)-1].Seen != nil {
		t.Error("what the ring showed is not taken back")
	}
	p.do(say(10.4))
	kept, err := session.Fold(p.mem.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	wantSame(t, "the journal", kept, p.state())
}

// Stops are set before the pass by hand wherever a drawing says where the arc ends, on a head and on a table, where the cut is by
// trial and where it is in one; a full circle has none, nor has an arc that nobody has drawn, and settings of before are not asked.
func TestStopsAreSetBeforeTheDrySwing(t *testing.T) {
	behind := func(o session.Opened, order int) []session.Chore {
		s := session.State{}.Apply(withOrder(t, o, order))
		s.Phase = session.Cutting
		all, _ := s.Chores()
		return all
	}
	at := func(all []session.Chore, c session.Chore) int { return slices.Index(all, c) }
	o := ringed(t)
	for name, change := range map[string]func(*session.Opened){
		"as it is": func(*session.Opened) {}, "stock": func(o *session.Opened) { o.Job.Cut.Stock = 0.3 },
		"trial": func(o *session.Opened) {
			o.Job.Setup.ReachKnown, o.Job.Target.Trial, o.Job.Cut.Stock = false, true, 0.3
		},
		"passes": func(o *session.Opened) { o.Job.Cut.Depth, o.Job.Cut.Step = 6, 2 },
	} {
		o := o
		cut := *o.Job.Cut
		o.Job.Cut = &cut
		change(&o)
		all := behind(o, 2)
		stops, dry := at(all, session.SetStops), at(all, session.DrySwing)
		if stops < 0 || dry != stops+1 || at(all, session.FreeSpindle) > stops || at(all, session.Power) < dry {
			t.Errorf("%s: %v, want the stops set just before the pass by hand, the spindle free", name, all)
		}
		if old := behind(o, 1); at(old, session.SetStops) >= 0 || at(old, session.DrySwing) < 0 {
			t.Errorf("%s: a setting of before is asked %v", name, old)
		}
	}
	table := testdata.Setting(t, practice.TableJob, practice.TableMachine)
	table.Steps = true
	table.Arc, table.Outline = tongue(t, true)
	if all := behind(table, 2); at(all, session.SetStops) < 0 || at(all, session.DryTurn) != at(all, session.SetStops)+1 {
		t.Errorf("a table: %v", all)
	}
	full := *o.Arc
	full.To = full.From + 2*math.Pi
	o.Arc = &full
	if all := behind(o, 2); at(all, session.SetStops) >= 0 {
		t.Errorf("a full circle: %v", all)
	}
	o.Arc = nil
	if all := behind(o, 2); at(all, session.SetStops) >= 0 {
		t.Errorf("no arc: %v", all)
	}
}

// withOrder is a setting as it was opened in an order.
func withOrder(t *testing.T, o session.Opened, order int) session.Opened {
	t.Helper()
	o.Order, o.Rules = order, 2
	return o
}

// A ring whose graduation nobody has stated is not asked for, and a number is no answer.
func TestNoRingIsAskedForWithoutGraduation(t *testing.T) {
	o := ringed(t)
	o.Machine.Head.Graduation = 0
	p := toTheDrySwing(t, o, session.DrySwing)
	if asked := p.prompt(); asked.Chore.Seen || asked.TakesReading() {
		t.Error("a ring is asked for that shows nothing")
	}
	p.refused(session.Take{Reading: 10.4})
	p.refused(session.SeeRing{Start: 190.2, Stop: 10.4})
	p.do(session.Confirm{})
}
