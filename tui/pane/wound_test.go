package pane

import (
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// A wind to a coordinate comes to it by its last movement, the take-up way, whichever way the slide has to go: that is the one whose
// sense is told and by whose side the coordinate stands.
func TestCoordinateIsReachedByTheLastMovement(t *testing.T) {
	moves := map[int]int{}
	b := begin(t, byPoints).touch(6)
	for n := 0; n < 20 && b.prompt().Waits == session.ForWind; n++ {
		v := b.sees(false)
		w := v.Prompt.Wind
		if w.How != session.ByCoordinate || len(w.Moves) == 0 {
			t.Fatalf("%+v, want a wind to a coordinate", w)
		}
		moves[len(w.Moves)]++
		last, a := w.Moves[len(w.Moves)-1], windAction(v)
		if words := a.words[0]; !strings.Contains(words, ", last "+last.Turn.String()+";") {
			t.Errorf("%q, want the last movement %v, of %+v", words, last.Turn, w.Moves)
		}
		came, to := a.parts[len(a.parts)-1].alone[0], v.coordinate(w.Goal)
		if !strings.Contains(came, last.Turn.String()) || !strings.Contains(came, to) {
			t.Errorf("comes to it by %q, want %v to %s", came, last.Turn, to)
		}
		b.do(session.Confirm{})
	}
	if moves[2] == 0 {
		t.Errorf("winds of %v movements, want one of two to have looked at enough", moves)
	}
}

// Where the collar's figure is asked for nothing is moved: neither clear of the work nor unlocked, before it is told how far.
func TestNothingMovesBeforeACollarIsRead(t *testing.T) {
	b := begin(t, func(o *session.Opened) {
		o.Steps, o.Job.Cut = true, &setup.Cut{Cutter: 8, Stock: 0.3}
		byCollar(o)
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].Keeps = true
		}
	})
	b.swing, b.ex, b.ey = 42, 0, 0
	for n := 0; n < 60 && !(b.prompt().Waits == session.ForWind && b.live.State().Phase == session.Cutting); n++ {
		switch p := b.prompt(); {
		case p.Waits == session.ForChore && p.TakesReading():
			b.do(session.Skip{})
		case p.Waits == session.ForChore:
			b.do(session.Confirm{})
		default:
			b.answer(1, never)
		}
	}
	v := b.sees(false)
	if !v.Prompt.Wind.Reads {
		t.Fatalf("%+v, want a collar to be read", v.Prompt)
	}
	for _, words := range windAction(v).words {
		for _, moves := range []string{"lock", "clear", "stopped"} {
			if strings.Contains(words, moves) {
				t.Errorf("asked for the collar's figure with %q, want nothing moved", words)
			}
		}
	}
	if a := windAction(v); a.answer != "type the figure" || len(a.parts) != 1 {
		t.Errorf("%+v, want the figure alone", a)
	}
	b.do(session.Take{Reading: 10})
	if got := windAction(b.sees(false)).words[0]; !strings.HasPrefix(got, "spindle stopped, cutter lifted clear; unlock; ") {
		t.Errorf("the figure read: %q, want it clear and unlocked first", got)
	}
}

// What is inside only where something that nobody has stated is right is never told as inside alone.
func TestInsideOnConditionSaysSo(t *testing.T) {
	seen := map[bool]int{}
	for _, stated := range []bool{false, true} {
		b := begin(t, func(o *session.Opened) {
			if !stated { // which the file does, of all
				o.Job.Stated = nil
			}
		}).answer(60, session.ForAccept)
		v := b.sees(false)
		verdicts := v.State.Verdicts(&v.Found)
		radius, centre := v.leans().VerdictWords(verdicts, v.unit())
		for i, c := range []struct {
			is    indicator.Verdict
			words string
		}{{verdicts.Radius, radius}, {verdicts.Centre, centre}} {
			on := c.words != "inside"
			seen[on]++
			if told := settledAction(v).parts[i].alone[0]; c.is != indicator.Inside || strings.HasSuffix(told, "inside if") != on {
				t.Errorf("stated %v, %v, %q: told as %q", stated, c.is, c.words, told)
			}
		}
	}
	if seen[true] == 0 || seen[false] < 2 {
		t.Errorf("%d verdicts on condition and %d without, want both to have looked at enough", seen[true], seen[false])
	}
}

// A long way of the needle is counted in turns and what is over: by hand 2.3 of a dial that turns once in 1 are two turns and 0.3.
func TestWayOfTheNeedleInTurns(t *testing.T) {
	v := begin(t, nil).sees(false)
	for goal, want := range map[float64]string{
		2.3: "2 turns of the needle and 0.300 mm", 1.25: "1 turn of the needle and 0.250 mm", 0.4: "0.400 mm",
	} {
		a := gauge.NewApproach(gauge.Wanted{Goal: goal, Rises: true, Revolution: 1, Band: 0.002, Near: 0.05, Parked: true})
		at := 0.0
		a.See(0, &at)
		if v.Watch = &a; v.Num(v.toGo()) != v.Num(want) {
			t.Errorf("%v to go on a dial of 1 a turn: %q, want %q", goal, v.toGo(), want)
		}
	}
}

// The hand is told to stop where the needle goes astray or off its dial, to come back where it went over, and nothing of the kind else.
func TestWatchSaysStop(t *testing.T) {
	for p := gauge.Unseen; p <= gauge.Beyond; p++ {
		a := gauge.NewApproach(gauge.Wanted{})
		a.Progress = p
		said := " now"
		switch p {
		case gauge.Astray, gauge.Beyond:
			said = " STOP"
		case gauge.Over:
			said = " back"
		default:
		}
		if got := (&View{Watch: &a}).watchedAs(); got != said {
			t.Errorf("%v: %q, want %q", p, got, said)
		}
	}
}

// A readout that nobody has set yet is set to 0 before the slide goes, in the words and in large letters, and a slide without one goes by
// its collar.
func TestCoordinateSaysWhatItIsReadFrom(t *testing.T) {
	v := begin(t, byPoints).touch(6).sees(false)
	for _, c := range []struct {
		readout, zero bool
		words, first  string
	}{
		{true, false, "slide: wind to ", ""}, {true, true, "slide: readout to 0, wind to ", "readout to 0"},
		{false, false, "slide: by the collar to ", ""},
	} {
		v.Prompt.Wind.Slide.Readout, v.Prompt.Wind.Zero = c.readout, c.zero
		a := windAction(v)
		told := false
		for _, p := range a.parts {
			told = told || strings.Contains(p.alone[0], "readout to 0")
		}
		if !strings.Contains(a.words[0], c.words) || told != c.zero || !strings.Contains(a.parts[0].alone[0], c.first) {
			t.Errorf("readout %v, not set %v: %q, first %q", c.readout, c.zero, a.words[0], a.parts[0].alone[0])
		}
	}
}

// A needle that goes the wrong way has to go back to where it began, and not as far as the goal: from 0 to -0.2 with a goal of 0.5 that
// is 0.2.
func TestAstrayItIsTheWayBackThatIsLeft(t *testing.T) {
	v := begin(t, nil).sees(false)
	a := gauge.NewApproach(gauge.Wanted{Goal: 0.5, Rises: true, Revolution: 1, Band: 0.002, Near: 0.05, Room: 0.01, Parked: true})
	at := 0.0
	a.See(0, &at)
	for range 5 {
		a.See(-0.2, nil)
	}
	if v.Watch = &a; a.Progress != gauge.Astray || v.toGo() != "0.200 mm" || v.watchedAs() != stopNow {
		t.Errorf("%v: %q to go, %q; want 0.200 mm and to stop", a.Progress, v.toGo(), v.watchedAs())
	}
}
