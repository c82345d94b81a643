package tui_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
)

// benchOpened is the setting of the practice bench.
func benchOpened(t testing.TB) session.Opened {
	t.Helper()
	return testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
}

// played is the session of a bench as its own hands play it through, without a screen.
func played(t testing.TB, seed uint64) (*practice.Machine, [][]byte) {
	t.Helper()
	mem, now := &session.Memory{}, clock()
	live := session.NewLive(session.State{}, mem)
	if _, err := live.Do(session.Open{Opened: benchOpened(t)}, now()); err != nil {
		t.Fatal(err)
	}
	m := practice.New(practice.Bench(seed), seed)
	if err := m.Play(live, now, func(session.Step) {}); err != nil {
		t.Fatal(err)
	}
	return m, mem.Lines
}

// untimed is a journal's line without its time: a screen looks at the clock more often than hands do.
func untimed(line []byte) string { return timeOf.ReplaceAllString(string(line), "") }

var timeOf = regexp.MustCompile(`"t":"[^"]*",`)

// sameLines holds a journal to another, byte for byte but for the time; the state is the fold of the journal, so it
// is the same too.
func sameLines(t *testing.T, what string, got, want [][]byte) {
	t.Helper()
	for i := range min(len(got), len(want)) {
		if untimed(got[i]) != untimed(want[i]) {
			t.Fatalf("%s: line %d is %s, want %s", what, i+1, got[i], want[i])
		}
	}
	if len(got) != len(want) {
		t.Fatalf("%s: %d lines, want %d", what, len(got), len(want))
	}
}

// Where a handle turns the other way than stated, Enter has the hands of practice check a sign and answer with what the needle did,
// and what is to be put right stays a decision: the same journal as the hands' own.
func TestSignCheckedByPractice(t *testing.T) {
	const seed = 2
	trapped := func() *practice.Machine {
		w := practice.Bench(seed)
		practice.XHandleTrap.Lay(seed, &w, practice.BenchJob)
		return practice.New(w, seed)
	}
	mem, now := &session.Memory{}, clock()
	live := session.NewLive(session.State{}, mem)
	if _, err := live.Do(session.Open{Opened: benchOpened(t)}, now()); err != nil {
		t.Fatal(err)
	}
	if err := trapped().Play(live, now, func(session.Step) {}); err != nil {
		t.Fatal(err)
	}
	d := screen(t, options{opened: benchOpened(t), colour: termenv.Ascii, seed: seed, bench: trapped()})
	checks := 0
	for range 200 {
		switch p := d.prompt(); p.Waits {
		case session.ForReading:
			d.Type("d")
		case session.ForCheck:
			if checks++; p.Check.Plan.Slide == "" {
				events := len(d.mem.Lines)
				if d.Enter(); len(d.mem.Lines) != events {
					t.Fatalf("Enter alone put a statement right:\n%s", d.Screen())
				}
				d.Type("1")
			}
			d.Enter()
		case session.ForAccept:
			d.Type("a").Enter()
		case session.ForLoad, session.ForWind, session.ForNothing:
			d.Enter()
		// none comes here
		case session.ForAgain, session.ForDrift, session.ForChore, session.ForBack, session.ForMoved, session.ForSize:
		}
		if d.quit {
			break
		}
	}
	if !d.quit || checks == 0 {
		t.Fatalf("left: %v, %d checks; the screen:\n%s", d.quit, checks, d.Screen())
	}
	sameLines(t, "by keys", d.mem.Lines, mem.Lines)
}

// A practice session worked with keys alone (d takes what the dial shows) is the one that the
// simulated hands play: the same journal, and the machine truly stands where it stands then.
func TestPracticeByKeys(t *testing.T) {
	for seed := uint64(1); seed <= 12; seed++ {
		d := screen(t, options{opened: benchOpened(t), colour: termenv.Ascii, seed: seed})
		for range 200 {
			switch d.prompt().Waits {
			case session.ForLoad, session.ForWind:
				d.Enter()
			case session.ForReading:
				d.Type("d")
			case session.ForAccept:
				d.Type("a").Enter()
			case session.ForAgain:
				d.Type("r")
			case session.ForNothing: // the page of what was reached, which stays until it is left
				d.Expect(Line("practice machine", "accepted in trial"), Line("this was practice")).Enter()
			// none comes on these benches
			case session.ForDrift, session.ForChore, session.ForCheck, session.ForBack, session.ForMoved, session.ForSize:
			}
			if d.quit {
				break
			}
		}
		if !d.quit || d.state().Phase != session.Ended {
			t.Fatalf("bench %d: phase %d, left %v; want accepted and left\n%s", seed, d.state().Phase, d.quit, d.Screen())
		}
		_, want := played(t, seed)
		sameLines(t, "bench "+strconv.FormatUint(seed, 10), d.mem.Lines, want)
	}
}

// The first radius of practice as it comes, from the first page to the accepted setting: how many keys it takes at 80 × 24, none
// of which a numeric keypad lacks; by Enter alone, which does what stands on the page. Counted: 27 on machine 7, 25 to 28 on the
// others here.
func TestKeysOfTheFirstRadius(t *testing.T) {
	const most = 33
	for seed := uint64(1); seed <= 20; seed++ {
		o := options{opened: benchOpened(t), colour: termenv.Ascii, seed: seed}
		o.opened.Steps = true
		d := screen(t, o)
		pressed := 0
		for ; pressed <= most && !d.accepted(); pressed++ {
			d.pad(t, "\r").Expect(Nowhere("is not taken"))
		}
		if !d.accepted() {
			t.Errorf("machine %d: not accepted after %d keys:\n%s", seed, pressed, d.Screen())
		}
		if seed == 7 && pressed != 27 {
			t.Errorf("machine 7: %d keys; 27 were counted when this was written: see which page wants more, or say fewer here", pressed)
		}
		if got := d.bench.Truth(); math.Abs(got.Swing-42) > 0.02 || math.Hypot(got.CentreX, got.CentreY) > 0.02 {
			t.Errorf("machine %d: accepted where it truly stands at %+v, want swing radius 42 and centre, ± 0.02", seed, got)
		}
	}
}

// The same session at a real machine: the needle's numbers are typed, and a twin of the bench does
// what the hands do.
func TestTypedByHand(t *testing.T) {
	const seed = 7
	d := screen(t, options{opened: benchOpened(t), colour: termenv.Ascii})
	twin := practice.New(practice.Bench(seed), seed)
	for range 200 {
		p := d.prompt()
		c, _, err := twin.Do(p)
		if err != nil {
			t.Fatal(err)
		}
		switch c := c.(type) {
		case session.Take:
			typed := strconv.FormatFloat(c.Reading, 'f', 3, 64)
			d.Type(typed).Enter()
		case session.Confirm:
			d.Enter()
		case session.Accept:
			d.Type("a").Enter().Enter() // and leaves the page of what was reached
		default:
			t.Fatalf("the twin wants %T", c)
		}
		if d.quit {
			break
		}
	}
	want, lines := played(t, seed)
	sameLines(t, "typed", d.mem.Lines, lines)
	if got := twin.Truth(); got != want.Truth() {
		t.Errorf("the machine truly stands at %+v, want %+v", got, want.Truth())
	}
	if d.state().Trial != 2 {
		t.Errorf("accepted in trial %d, want 2, as when this bench was chosen", d.state().Trial)
	}
}

// The needle stands still while a person looks, whatever else they do, and is another one after the
// head has been swung.
func TestNeedleStandsStill(t *testing.T) {
	o := options{opened: benchOpened(t), colour: termenv.Ascii, seed: 7}
	d := loaded(t, o).Size(100, 30).Type("v")
	before := body(d.Screen())
	d.Type("?").Enter().Type("njaws greased").Enter().Type("5").Enter().Type("0.1").Esc().Size(80, 24).Size(100, 30)
	if got := body(d.Screen()); got != before {
		t.Errorf("the needle has moved:\n%s\nwant\n%s", got, before)
	}
	if d.Type("d"); body(d.Screen()) == before {
		t.Error("the next station shows the same needle")
	}
}

// Where Enter takes what the dial shows, two of them with nothing typed are two readings, and never mean that there are enough:
// not at a station, not where the needle is off the dial and there is nothing to take.
func TestTwoEntersTakeTwoReadings(t *testing.T) {
	d := loaded(t, options{opened: benchOpened(t), colour: termenv.Ascii, seed: 7})
	for n := 1; n <= 3; n++ {
		if d.Enter(); d.state().Sweep.N != n {
			t.Fatalf("%d readings behind %d Enters\n%s", d.state().Sweep.N, n, d.Screen())
		}
		d.Expect(Nowhere("once more", "enough"))
	}
	w := practice.Bench(7)
	w.RangeFrom, w.RangeTo = -0.01, 0.01
	d = loaded(t, options{opened: benchOpened(t), colour: termenv.Ascii, seed: 7, bench: practice.New(w, 7)})
	d.Type("0.1").Enter().Type("0.1").Enter().Type("0.1").Enter()
	for range 4 {
		d.Enter().Expect(Line("✗ the needle is off the dial"), Nowhere("once more"))
	}
	if s := d.state(); s.Sweep.N != 3 || s.Sweep.Closed != "" {
		t.Errorf("%d readings, closed by %q; want 3, and the sweep open", s.Sweep.N, s.Sweep.Closed)
	}
	// At a real machine, where nothing shows the screen what the dial does, they do.
	d = loaded(t, real(t, nil))
	d.Type("0.1").Enter().Type("0.1").Enter().Type("0.1").Enter().Enter().Expect(Line("Enter once more: enough stations"))
}

// Where the needle is off the dial there is nothing to take.
func TestNeedleOffTheDial(t *testing.T) {
	w := practice.Bench(7)
	w.RangeFrom, w.RangeTo = -0.01, 0.01
	o := options{opened: benchOpened(t), colour: termenv.Ascii, seed: 7, bench: practice.New(w, 7)}
	d := loaded(t, o).Type("d").Readings().Expect(Line("✗ the needle is off the dial; say so with *"))
	d.Type("v").Expect(Line("the needle is off the dial")).Type("of").Expect(Line("1", "0°", "not touching"))

	// A needle that the job's dial could not show is refused like a number that is typed.
	o = options{opened: benchOpened(t), colour: termenv.Ascii, seed: 7}
	o.opened.Job.Dial.From, o.opened.Job.Dial.To = -0.01, 0.01
	loaded(t, o).Type("d").Readings().Expect(Line("✗ reading -0.35 mm is off the dial"))
}

// The lesson that asks for a misread says so at the station where it belongs, once the one before is read, and nowhere else; the row is
// left to the misread once it is in doubt.
func TestLessonRemindsOfItsMisread(t *testing.T) {
	const words = "now misread it: type ten divisions too much"
	d := loaded(t, real(t, nil))
	d.model = tui.NewModel(tui.Config{Live: d.live, Now: clock(), Remind: practice.Lesson(2).Reminder}, colours(termenv.Ascii, false))
	d.Size(80, 24)
	for n := 1; n <= 5; n++ {
		if has := strings.Contains(d.Screen(), words); has != (n == 4) || d.prompt().Reading.Station != n {
			t.Errorf("station %d: it is reminded: %v\n%s", n, has, d.Screen())
		}
		d.Type("0.1").Enter()
	}
	if practice.Lesson(1).Reminder(&session.State{}) != "" || practice.Lesson(3).Reminder(&session.State{}) != "" {
		t.Error("a lesson without a misread reminds of one")
	}
}
