package session_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// asking are the commands of the table below, in its order.
func asking(t testing.TB) []session.Command {
	return []session.Command{
		session.Open{Opened: benchOpened(t)}, session.Take{Reading: 0.1}, session.Skip{}, session.Skip{Off: session.Free},
		session.Confirm{}, session.Undo{}, session.Restart{}, session.Enough{}, session.Accept{}, session.Note{Text: "quill locked"},
		session.Keep{}, session.Correct{},
	}
}

// phases are the states of the table below.
var phases = []struct {
	name string
	make func(testing.TB) *player
	want []string // the event, or the words of the refusal
}{
	{"unopened", func(t testing.TB) *player {
		p := &player{t: t, mem: &session.Memory{}}
		p.live = session.NewLive(session.State{}, p.mem)
		return p
	}, []string{"Opened", "no setting is open", "no setting is open", "no setting is open",
		"no setting is open", "no setting is open", "no setting is open", "no setting is open", "no setting is open", "no setting is open",
		"no setting is open", "no setting is open"}},
	{"opened", func(t testing.TB) *player { return bench(t, 7) },
		[]string{"a setting is open already", "no reading is asked for", "no station is asked for", "no station is asked for",
			"Loaded", "there is no entry to take back", "the sweep has not begun", "no sweep is open", "nothing has settled yet", "Noted",
			"no reading is in doubt", "no reading is in doubt"}},
	{"loading", func(t testing.TB) *player { return bench(t, 7).answer(2) },
		[]string{"a setting is open already", "no reading is asked for", "no station is asked for", "no station is asked for",
			"Loaded", "Undone", "the sweep has not begun", "no sweep is open", "nothing has settled yet", "Noted", "no reading is in doubt",
			"no reading is in doubt"}},
	{"sweep begun", func(t testing.TB) *player { return bench(t, 7).until(session.ForReading) },
		[]string{"a setting is open already", "Took", "Skipped", "Skipped",
			"nothing waits to be confirmed", "Undone", "Restarted", "0 readings, need at least 3", "nothing has settled yet", "Noted",
			"no reading is in doubt", "no reading is in doubt"}},
	{"three readings in", func(t testing.TB) *player { return bench(t, 7).until(session.ForReading).answer(3) },
		[]string{"a setting is open already", "Took", "Skipped", "Skipped",
			"nothing waits to be confirmed", "Undone", "Restarted", "Swept", "nothing has settled yet", "Noted", "no reading is in doubt",
			"no reading is in doubt"}},
	{"every station skipped", func(t testing.TB) *player {
		p := bench(t, 7).until(session.ForReading)
		for p.prompt().Waits == session.ForReading {
			p.do(session.Skip{})
		}
		return p
	}, []string{"a setting is open already", "no reading is asked for", "no station is asked for", "no station is asked for",
		"nothing waits to be confirmed", "Undone", "Restarted", "0 readings, need at least 3", "nothing has settled yet", "Noted",
		"no reading is in doubt", "no reading is in doubt"}},
	{"a reading in doubt", doubted,
		[]string{"a setting is open already", "Took", "Skipped", "Skipped",
			"nothing waits to be confirmed", "Undone", "Restarted", "Swept", "nothing has settled yet", "Noted", "Kept", "Took"}},
	{"first wind", func(t testing.TB) *player { return bench(t, 7).until(session.ForWind) },
		[]string{"a setting is open already", "0.1 mm is off by 0.512 mm from the goal of -0.412 mm, need it within 0.060 mm",
			"no station is asked for", "Suspected",
			"Wound", "Undone", "Restarted", "no sweep is open", "nothing has settled yet", "Noted", "no reading is in doubt",
			"no reading is in doubt"}},
	{"second wind", func(t testing.TB) *player { return bench(t, 7).until(session.ForWind).answer(1) },
		[]string{"a setting is open already", "0.1 mm is off by 0.512 mm from the goal of -0.412 mm, need it within 0.060 mm",
			"no station is asked for", "Suspected",
			"Wound", "Undone", "Restarted", "no sweep is open", "nothing has settled yet", "Noted", "no reading is in doubt",
			"no reading is in doubt"}},
	{"settled", func(t testing.TB) *player { return bench(t, 7).until(session.ForAccept) },
		[]string{"a setting is open already", "no reading is asked for", "no station is asked for", "no station is asked for",
			"nothing waits to be confirmed", "Undone", "Restarted", "no sweep is open", "Accepted", "Noted", "no reading is in doubt",
			"no reading is in doubt"}},
	{"accepted", func(t testing.TB) *player { return bench(t, 7).until(session.ForNothing) },
		[]string{"Opened", ended, ended, ended, ended, "Undone", ended, ended, ended, "Noted", ended, ended}},
	{"wind by collar", func(t testing.TB) *player { return open(t, byCollar(t), near42(0.1, 0.2, 0)).until(session.ForWind) },
		[]string{"a setting is open already", "this wind goes by the collar, and no reading is asked for", "no station is asked for",
			"no station is asked for",
			"Wound", "Undone", "Restarted", "no sweep is open", "nothing has settled yet", "Noted", "no reading is in doubt",
			"no reading is in doubt"}},
}

const ended = "the setting is accepted and closed"

// doubted is the bench of the other phases with station 3 misread by ten divisions.
func doubted(t testing.TB) *player {
	p := bench(t, 7).until(session.ForReading).answer(2)
	p.slip(func(r float64) float64 { return r + 0.1 })
	for s := p.state(); s.Doubt == nil; s = p.state() {
		p.answer(1)
	}
	return p
}

// slip answers the next question with a reading that is changed.
func (p *player) slip(change func(float64) float64) {
	p.t.Helper()
	c, _, err := p.hands.Do(p.prompt())
	take, ok := c.(session.Take)
	if err != nil || !ok {
		p.t.Fatalf("hands: %T (%v), want a reading", c, err)
	}
	p.do(session.Take{Reading: change(take.Reading)})
}

// Every command in every phase: its event, or a refusal that says why and changes nothing.
func TestDecideTable(t *testing.T) {
	for _, ph := range phases {
		t.Run(ph.name, func(t *testing.T) {
			p := ph.make(t)
			if commands := asking(t); len(commands) != len(ph.want) {
				t.Fatalf("%d commands, %d answers", len(commands), len(ph.want))
			}
			for i, c := range asking(t) {
				before := digest(p.state())
				e, err := session.Decide(p.state(), c)
				if digest(p.state()) != before {
					t.Fatalf("%T: Decide changed the state", c)
				}
				if err == nil {
					if got := strings.TrimPrefix(fmt.Sprintf("%T", e), "session."); got != ph.want[i] {
						t.Errorf("%T: %s, want %s", c, got, ph.want[i])
					}
					continue
				}
				if e != nil {
					t.Errorf("%T: an event %+v together with %v", c, e, err)
				}
				if r := p.refused(c); r.Because != ph.want[i] {
					t.Errorf("%T: %q, want %s", c, r.Because, ph.want[i])
				} else if r.Hint == "" && !strings.Contains(r.Because, "need") && r.Because != "there is no entry to take back" {
					t.Errorf("%T: %q says not what to do", c, r.Because)
				}
			}
		})
	}
}

// A hint never sends to something that is not there.
func TestHints(t *testing.T) {
	for i, want := range []string{"open one with a job and a machine file", "take up the backlash of the slide that is named, then confirm",
		"take up the backlash of the slide that is named, then confirm",
		"take the reading that is asked for", "take the reading that is asked for", "undo what is wrong, or begin the sweep again",
		"read the station once more, or keep its reading, or skip it", "wind until the needle shows the goal, then type what it " +
			"shows, or confirm",
		"wind until the needle shows the goal, then type what it shows, or confirm", "accept, or begin the sweep again",
		"say part for the next part on it, or begin the next setting", "wind the slide, then confirm"} {
		p := phases[i].make(t)
		c := session.Command(session.Accept{})
		if phases[i].name == "settled" {
			c = session.Confirm{}
		}
		if r := p.refused(c); r.Hint != want {
			t.Errorf("%s: hint %q, want %q", phases[i].name, r.Hint, want)
		}
	}
}

func TestReadingsRefused(t *testing.T) {
	inch := with(t, func(j *setup.Job) { j.Unit = 1 })
	free := with(t, func(j *setup.Job) { j.Dial.From, j.Dial.To = 0, 0 })
	for _, c := range []struct {
		name    string
		set     session.Opened
		reading float64
		because string // empty where it is taken
	}{
		{"no number", benchOpened(t), math.NaN(), "reading NaN, need a finite number"},
		{"infinite", benchOpened(t), math.Inf(1), "reading +Inf, need a finite number"},
		{"minus infinite", benchOpened(t), math.Inf(-1), "reading -Inf, need a finite number"},
		{"infinite on a dial without end", free, math.Inf(1), "reading +Inf, need a finite number"},
		{"pressed too far", benchOpened(t), 0.802, "reading 0.802 mm is off the dial, need -0.8 to 0.8 mm"},
		{"free", benchOpened(t), -0.802, "reading -0.802 mm is off the dial, need -0.8 to 0.8 mm"},
		{"in the job's unit", inch, 1.27, "reading 0.05 in is off the dial, need -0.0314961 to 0.0314961 in"},
		{"at the upper end", benchOpened(t), 0.8, ""},
		{"at the lower end", benchOpened(t), -0.8, ""},
		{"at the end, typed in inches", inch, 25.4 * (0.8 / 25.4), ""},
		{"on a dial without end", free, 1e6, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := open(t, c.set, near42(0, 0, 0)).until(session.ForReading)
			if c.because == "" {
				p.do(session.Take{Reading: c.reading})
				s := p.state()
				if s.Sweep.N != 1 || s.Sweep.Stations[0].Reading != c.reading {
					t.Fatalf("%d entries, reading %v, want %v", s.Sweep.N, s.Sweep.Stations[0].Reading, c.reading)
				}
				return
			}
			r := p.refused(session.Take{Reading: c.reading})
			if r.Because != c.because {
				t.Errorf("%q, want %q", r.Because, c.because)
			}
			if strings.Contains(c.because, "beyond") && !strings.Contains(r.Hint, "off pressed, off free") {
				t.Errorf("hint %q, want the words for a needle beyond the dial", r.Hint)
			}
		})
	}
}

func TestNotes(t *testing.T) {
	const long = "the note has 2001 bytes, need at most 2000"
	const ugly = "the note has characters that cannot be printed"
	for _, c := range []struct{ name, text, kept, because string }{
		{"plain", "quill locked, Ø60 ±0.01", "quill locked, Ø60 ±0.01", ""},
		{"trimmed", " \tspring side up \n", "spring side up", ""},
		{"as long as may be", strings.Repeat("n", 2000), strings.Repeat("n", 2000), ""},
		{"too long", strings.Repeat("n", 2001), "", long},
		{"too long in bytes, not in letters", strings.Repeat("µ", 1000) + "n", "", long},
		{"empty", "", "", "the note is empty, need some text"},
		{"blank", " \t\r\n ", "", "the note is empty, need some text"},
		{"two lines", "spring\nside up", "", ugly},
		{"drives a terminal", "\x1b[2Jspring", "", ugly},
		{"bell", "spring\a", "", ugly},
		{"delete", "spring\x7f", "", ugly},
		{"turns the writing round", "spring\u202eside", "", ugly},
		{"line separator", "spring\u2028side", "", ugly},
		{"no UTF-8", "spring\xffside", "", ugly},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench(t, 7)
			if c.because != "" {
				if r := p.refused(session.Note{Text: c.text}); r.Because != c.because {
					t.Errorf("%q, want %q", r.Because, c.because)
				}
				return
			}
			p.do(session.Note{Text: c.text})
			if got := p.steps[len(p.steps)-1].Event; got != (session.Noted{Text: c.kept}) {
				t.Errorf("%+v, want %q", got, c.kept)
			}
		})
	}
}

// enough: three readings are the least, skipped stations are none, and a circle must fit.
func TestEnough(t *testing.T) {
	p := bench(t, 7).until(session.ForReading)
	for have := range 3 {
		if r := p.refused(session.Enough{}); r.Because != fmt.Sprintf("%d readings, need at least 3", have) {
			t.Errorf("%d readings: %q", have, r.Because)
		}
		if have == 0 {
			p.do(session.Skip{})
		}
		p.answer(1)
	}
	p.do(session.Enough{})
	if s := p.state(); s.Sweep.Closed != session.ByPerson || s.Sweep.Readings() != 3 || s.Sweep.N != 4 {
		t.Errorf("closed %q with %d readings of %d entries, want enough, 3 of 4", s.Sweep.Closed, s.Sweep.Readings(), s.Sweep.N)
	}

	p = absurd(t).until(session.ForReading).answer(3)
	if r := p.refused(session.Enough{}); r.Because != "no circle fits these readings with the axis inside it" {
		t.Errorf("no circle fits: %q", r.Because)
	}
}

func TestSkipAndOff(t *testing.T) {
	p := bench(t, 7).until(session.ForReading)
	for i, off := range []session.Off{session.NotOff, session.Pressed, session.Free} {
		asked := p.prompt().Reading.Bearing
		p.do(session.Skip{Off: off})
		s := p.state()
		st := s.Sweep.Stations[i]
		if s.Sweep.N != i+1 || s.Sweep.Readings() != 0 || !st.Skipped || st.Off != off || st.Bearing != asked {
			t.Errorf("skipped %q: %d entries, %d readings, station %+v", off, s.Sweep.N, s.Sweep.Readings(), st)
		}
	}
	if r := p.refused(session.Skip{Off: "sideways"}); r.Because != `off "sideways", need pressed or free` {
		t.Errorf("%q", r.Because)
	}
	p.until(session.ForAccept) // three of six are left, and the sweep goes on until it has enough
}

// After the acceptance nothing of the setting can be changed. The next one begins afresh, its slides with it, on the same machine
// as on another: between two settings the hand winds what nobody counts. One of old whose opening says that they stand loaded is
// swept at once, as it was.
func TestSettingsFollowEachOther(t *testing.T) {
	p := bench(t, 7).until(session.ForNothing)
	n := p.state().Events
	o := benchOpened(t)
	o.Loaded = o.Job.Needs()
	p.do(session.Open{Opened: o})
	s := p.state()
	if s.Trial != 1 || s.Past != nil || s.Predicted != nil || s.Sweep.N != 0 || s.Events != n+1 {
		t.Errorf("trial %d, %d entries, %d events, want a new setting and event %d", s.Trial, s.Sweep.N, s.Events, n+1)
	}
	if r := p.refused(session.Undo{}); r.Because != "there is no entry to take back" {
		t.Errorf("undo at the beginning of the second setting: %q", r.Because)
	}
	other := bench(t, 7).until(session.ForNothing)
	elsewhere := benchOpened(t)
	elsewhere.Machine.Name = "the mill next door"
	other.do(session.Open{Opened: elsewhere})
	for name, s := range map[string]session.State{"the same": s, "another": other.state()} {
		if s.Phase != session.Loading || s.Loads != 0 || len(s.Set.Loaded) > 0 {
			t.Errorf("on %s machine: phase %d with %d loads, %q told as loaded, want all to be loaded", name, s.Phase, s.Loads, s.Set.Loaded)
		}
	}
	if s := (session.State{}).Apply(o); s.Phase != session.Sweeping {
		t.Errorf("a setting of old with its slides loaded is in phase %d, want the sweep", s.Phase)
	}
}

// A setting needs the slides that it winds.
func TestOpenNeedsSlides(t *testing.T) {
	o := benchOpened(t)
	o.Machine.Slides = o.Machine.Slides[:2]
	if _, err := session.Decide(session.State{}, session.Open{Opened: o}); err == nil || !strings.Contains(err.Error(),
		"slide.offset: missing, needed to wind this job") {
		t.Errorf("error %v, want the slide that is missing", err)
	}
	o.Job.Target.SwingRadius = 0
	if _, err := session.Decide(session.State{}, session.Open{Opened: o}); err != nil {
		t.Errorf("centre only: %v", err)
	}
}

// No command at all is refused like a wrong one.
func TestUnknownCommand(t *testing.T) {
	p := bench(t, 7)
	var r *session.Refusal
	if e, err := session.Decide(p.state(), nil); !errors.As(err, &r) || e != nil || !strings.Contains(r.Because, "unknown command") {
		t.Errorf("%v, %v", e, err)
	}
}

// The acceptance carries what the screen showed: swing radius and centre of the last fit.
func TestAcceptedIsTheFit(t *testing.T) {
	p := bench(t, 7).until(session.ForAccept)
	f, _ := verdicts(t, p.state())
	p.answer(1)
	a := p.steps[len(p.steps)-1].Event.(session.Accepted)
	if a.Swing == nil || *a.Swing != f.Swing().V || a.Centre != [2]float64{f.CentreX().V, f.CentreY().V} || a.Program != "trammel test" {
		t.Errorf("accepted %+v, want swing %v, centre %v", a, f.Swing(), f.Circle.Centre)
	}
	p = open(t, with(t, func(j *setup.Job) { j.Target.SwingRadius = 0 }), near42(0, 0.1, 0)).until(session.ForNothing)
	if a := p.steps[len(p.steps)-1].Event.(session.Accepted); a.Swing == nil {
		t.Errorf("reach is known, so the swing radius is a witness too: %+v", a)
	}
	p = open(t, with(t, func(j *setup.Job) { j.Target.SwingRadius, j.Setup.ReachKnown = 0, false }),
		near42(0, 0.1, 0)).until(session.ForNothing)
	if a := p.steps[len(p.steps)-1].Event.(session.Accepted); a.Swing != nil {
		t.Errorf("swing radius %v without a reach, want null", *a.Swing)
	}
}
