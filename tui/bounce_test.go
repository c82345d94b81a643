package tui_test

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
)

// ticking is a screen whose clock a test sets.
type ticking struct {
	*driver
	now time.Time
}

// tick opens a screen at the state of another, with a clock of its own that has stood long enough.
func tick(d *driver) *ticking {
	x := &ticking{driver: d, now: begin.Add(time.Hour)}
	c := tui.Config{Live: d.live, Now: func() time.Time { return x.now }, Bench: d.bench, Seed: d.seed}
	d.model = tui.NewModel(c, colours(termenv.Ascii, false))
	d.Size(80, 24)
	x.now = x.now.Add(time.Minute)
	return x
}

// after presses a key so much later.
func (x *ticking) after(d time.Duration, key tea.KeyMsg) *ticking {
	x.t.Helper()
	x.now = x.now.Add(d)
	x.Send(key)
	return x
}

var enterKey = tea.KeyMsg{Type: tea.KeyEnter}

// winding is a screen at the first of three winds by the collar.
func winding(t *testing.T) *ticking {
	t.Helper()
	return tick((&stand{41.7, -0.11, 0.15}).work(loaded(t, collar(real(t, nil))), 20, session.ForWind))
}

func (x *ticking) wound(t *testing.T, want int) *ticking {
	t.Helper()
	if got := x.prompt().Wind.Told.Step - 1; got != want {
		t.Errorf("%d winds confirmed, want %d\n%s", got, want, x.Screen())
	}
	return x
}

// A finger that bounces confirms one wind, and the screen says that it took no second one; after the page can have been read
// Enter confirms again.
func TestBounce(t *testing.T) {
	x := winding(t).after(0, enterKey).after(40*time.Millisecond, enterKey).wound(t, 1)
	x.Expect(Line("only just changed: Enter is not taken"))
	x.after(299*time.Millisecond-40*time.Millisecond, char('/')).wound(t, 1)
	x.after(600*time.Millisecond, enterKey).wound(t, 1) // the second wind has the head swung first: Enter shows the rest of its page
	x.after(600*time.Millisecond, enterKey).wound(t, 2)
}

// What asks once more goes on to say so where the second Enter came too soon: the next one does it.
func TestBounceLeavesTheQuestion(t *testing.T) {
	x := tick((&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForAccept))
	x.after(0, enterKey).Expect(Line("Enter once more: accept"), Nowhere("not taken"))
	x.after(50*time.Millisecond, enterKey).Expect(Line("only just changed: Enter is not taken"), Line("Enter once more: accept"))
	if x.accepted() {
		t.Error("Enter twice within 50 ms accepts")
	}
	if x.after(time.Second, enterKey); !x.accepted() {
		t.Error("Enter once more does not accept")
	}
}

// Two Enters never answer two pages, whichever page it is: practice of every set-up with all of its steps, from the first page to the
// end's, by Enters that come twice.
func TestNoPageIsAnsweredTwice(t *testing.T) {
	for _, c := range simulations {
		for _, apart := range []time.Duration{0, 50 * time.Millisecond, 290 * time.Millisecond} {
			job, machine := c.Files()
			o := testdata.Setting(t, job, machine)
			o.Job.Setup.Taps, o.Steps = setup.Taps(&o.Job, &o.Machine), true
			x := tick(screen(t, options{opened: o, seed: 7, bench: practice.New(c.Bench(7), 7), colour: termenv.Ascii}))
			pages := 0
			for ; pages < 200; pages++ {
				x.after(time.Second, enterKey)
				if x.quit {
					break
				}
				events, page := x.state().Events, x.Screen()
				x.after(apart, enterKey)
				if said := strings.Join(strings.Fields(x.Screen()), " "); x.quit || x.state().Events != events ||
					!strings.Contains(said, "only just changed: Enter is not taken") {
					t.Fatalf("%v, page %d, %v apart: the second Enter is taken:\n%s\nleads to\n%s", c, pages, apart, page, x.Screen())
				}
			}
			if s := x.state(); !x.quit || s.Phase != session.Ended {
				t.Errorf("%v: %d pages, left %v, phase %d; want the job done, and left", c, pages, x.quit, s.Phase)
			}
		}
	}
}

// A key that is held confirms once, whatever the time that it takes to repeat.
func TestHeldKey(t *testing.T) {
	x := winding(t).after(0, enterKey).after(450*time.Millisecond, enterKey)
	for range 200 {
		x.after(33*time.Millisecond, enterKey)
	}
	x.wound(t, 1)
}

// Two keys at one go confirm one page; what waited while the page changed was meant for the one before.
func TestQueuedAcrossAChange(t *testing.T) {
	x := winding(t)
	x.Hold().Send(enterKey)
	x.now = x.now.Add(2 * time.Second)
	x.Send(enterKey).Release()
	x.wound(t, 1)
}

// The characters of a number count whenever they come, the Enter behind them too.
func TestNumbersDoNotBounce(t *testing.T) {
	x := tick(loaded(t, real(t, nil)))
	for _, k := range "-0.012\r-0.013\r" {
		if k == '\r' {
			x.after(time.Millisecond, enterKey)
			continue
		}
		x.after(time.Millisecond, char(k))
	}
	x.Readings(-0.012, -0.013)
}

// A clock that is set back or forward, and a machine that slept, drop nothing that is pressed later.
func TestClockJumps(t *testing.T) {
	for _, jump := range []time.Duration{-48 * time.Hour, 48 * time.Hour} {
		x := winding(t).after(0, enterKey).wound(t, 1)
		x.after(jump, char('x')).after(time.Second, enterKey).after(time.Second, enterKey).wound(t, 2)
	}
}

func (d *driver) accepted() bool { s := d.state(); return s.Accepted() }

// What ends or sets aside something asks once more; another key drops the question, and / does nothing else.
func TestAsksOnceMore(t *testing.T) {
	settled := func() *driver {
		return (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 40, session.ForAccept)
	}
	if settled().Type("a").Expect(Line("Enter once more: accept")).accepted() {
		t.Error("a alone accepts")
	}
	if settled().Enter().Type("/").Enter().accepted() {
		t.Error("/ does not drop the question")
	}
	if !settled().Enter().Enter().accepted() || !settled().Type("*1").Enter().Enter().accepted() {
		t.Error("the keypad does not accept")
	}
	d := loaded(t, real(t, nil)).Type("0.1").Enter().Type("r").Expect(Line("Enter once more: sweep again", "set aside"))
	if d.Readings(0.1).Type("x").Enter().Readings(0.1).Esc(); d.state().Sweep.N != 1 {
		t.Error("another key does not drop the question")
	}
	if d := d.Type("r").Enter(); d.state().Sweep.N != 0 {
		t.Error("r Enter does not begin the sweep again")
	}
	if d := loaded(t, real(t, nil)).Type("0.1q"); d.quit || !d.Enter().quit {
		t.Error("q with something typed leaves at once, or not after Enter")
	}
	// A number that is mistyped is cleared, and nothing else is taken back.
	loaded(t, real(t, nil)).Type("0.1").Enter().Type("0.25/").Readings(0.1).Type("0.2").Enter().Readings(0.1, 0.2)
}

// Everything that takes figures takes them from the keypad, chosen from the list.
func TestListTakesFigures(t *testing.T) {
	line := func(d *driver, words string) string {
		t.Helper()
		d.Type("*")
		for _, l := range d.model.(tui.Model).Items() {
			if l.Words == words {
				return l.Number
			}
		}
		t.Fatalf("no line %q in\n%s", words, d.Screen())
		return ""
	}
	d := loaded(t, real(t, nil))
	d.Type(line(d, "scale: offset")).Enter().Type("42.35").Enter().Expect(Line("offset", "42.35"))
	d.Type(line(d, "the dial was set anew")).Enter().Type("-0.4").Enter().Type("0").Enter()
	if got := d.state().Sweep.N; got != 0 || d.prompt().Waits != session.ForReading {
		t.Errorf("%d entries, want none", got)
	}
	d.Type(line(d, "check the tip's sign")).Enter().Expect(Line("press the tip in")).Type("1").Enter()
	if all := d.state().Senses; len(all) != 1 || all[0].Went != session.Up {
		t.Errorf("signs %+v, want the tip's, up", all)
	}
	// / clears what was typed into the field, then closes it; * goes back to the list.
	d.Type(line(d, "scale: X")).Enter().Type("12/").Expect(Line("scale of the X slide shows")).Type("/").
		Expect(Nowhere("scale of the X slide"))
	d.Type(line(d, "scale: X")).Enter().Type("1*").Expect(Line("what can be done now"))
}
