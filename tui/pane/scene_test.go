package pane

import (
	"io"
	"math"
	"os"
	"testing"
	"time"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/theme"
)

// opened reads the setting that the screens are tested on, the pivot bore of a belt tensioner's
// plate; change may alter it.
func opened(t testing.TB, change func(*session.Opened)) session.Opened {
	t.Helper()
	read := func(name string) []byte {
		text, err := os.ReadFile("../testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	o := testdata.Setting(t, read("plate.toml"), read("mill.toml"))
	if change != nil {
		change(&o)
	}
	return o
}

// bench carries a session on, on a machine without error whose readings stray a little: those of
// the exact model of a carried bore (m = R + t − d, d = e·u + √(ρ² − (e·v)²)), read to 2 µm.
type bench struct {
	t             testing.TB
	live          *session.Live
	swing, ex, ey float64
}

var scatter = []float64{0.002, -0.002, 0, 0.004, -0.004, 0.002, 0, -0.002}

// begin opens a session on a bench whose slides are loaded; half a millimetre and more is to be
// wound.
func begin(t testing.TB, change func(*session.Opened)) *bench {
	t.Helper()
	b := &bench{t: t, live: session.NewLive(session.State{}, &session.Memory{}), swing: 41.7, ex: -0.11, ey: 0.15}
	b.do(session.Open{Opened: opened(t, change)})
	return b
}

func (b *bench) do(commands ...session.Command) *bench {
	b.t.Helper()
	for _, c := range commands {
		if _, err := b.live.Do(c, time.Unix(1741078800, 0)); err != nil {
			b.t.Fatalf("%T: %v", c, err)
		}
	}
	return b
}

func (b *bench) prompt() session.Prompt {
	s := b.live.State()
	return s.Prompt()
}

// answer answers up to n questions, or until the session waits for w.
func (b *bench) answer(n int, w session.Waits) *bench {
	b.t.Helper()
	for range n {
		p := b.prompt()
		if p.Waits == w {
			break
		}
		switch p.Waits {
		case session.ForReading:
			s, c := math.Sincos(float64(p.Reading.Bearing))
			across := -b.ex*s + b.ey*c
			m := b.swing - 12 - (b.ex*c + b.ey*s + math.Sqrt(30*30-across*across)) + scatter[(p.Reading.Station-1)%len(scatter)]
			b.do(session.Take{Reading: math.Round(m/0.002) * 2 / 1000})
		case session.ForLoad, session.ForWind:
			switch travel := p.Wind.Told.Wind.Travel; p.Wind.Slide.Name {
			case "x":
				b.ex -= travel
			case "y":
				b.ey -= travel
			case "table_x": // these two carry the work
				b.ex += travel
			case "table_y":
				b.ey += travel
			case "offset":
				b.swing += travel
			}
			b.do(session.Confirm{})
		case session.ForAccept:
			b.do(session.Accept{})
		case session.ForDrift, session.ForChore, session.ForAgain, session.ForNothing, session.ForCheck, session.ForBack,
			session.ForMoved, session.ForSize:
		}
	}
	return b
}

// never is nothing that a session waits for.
const never = session.Waits(255)

// sees is what the panes see of it.
func (b *bench) sees(plain bool) *View {
	return look(b.live.State(), plain)
}

func look(s session.State, plain bool) *View {
	v := &View{Theme: colourless(plain), State: s, Prompt: s.Prompt()}
	if s.Sweep.Readings() >= 3 {
		v.Found, v.FitErr = s.Fit()
		v.Fitted = v.FitErr == nil
	}
	v.Form, v.FormErr = s.Form()
	return v
}

func colourless(plain bool) theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	return theme.New(r, plain)
}

// bindings are the keys of what is seen.
func bindings(v *View) []keys.Binding {
	noForm := ""
	if v.FormErr != nil {
		noForm = v.FormErr.Error()
	}
	return keys.For(keys.Situation{Now: v.State.Now(&v.Prompt), NoForm: noForm, Practice: v.Practice, Page: v.Page, Lost: v.Lost,
		Typed: v.Entry != ""})
}

// scene is one state of the job.
type scene struct {
	name string
	make func(testing.TB) *bench
	with func(*View) // what the root adds
}

// scenes are the states of the job, in its order.
func scenes() []scene {
	after := func(n int) func(testing.TB) *bench {
		return func(t testing.TB) *bench { return begin(t, nil).answer(3+n, never) }
	}
	tight := func(o *session.Opened) { o.Job.Target.Tolerance, o.Job.Target.CentreTolerance = 0.003, 0.003 }
	return []scene{
		{name: "load-1", make: func(t testing.TB) *bench { return begin(t, nil) }},
		{name: "load-3", make: func(t testing.TB) *bench { return begin(t, nil).answer(2, never) }},
		{name: "stations-0", make: after(0)},
		{name: "stations-1", make: after(1), with: func(v *View) { v.Entry = "-0.1" }},
		{name: "stations-3", make: after(3), with: func(v *View) {
			v.Status,
				v.Alarm = "reading 5 mm is off the dial; * lists off the dial", true
		}},
		{name: "stations-5", make: after(5), with: func(v *View) { v.Status = "station 5, 240°: −0.228 mm, off by −0.010 mm" }},
		{name: "stations-left-out", make: func(t testing.TB) *bench {
			return after(2)(t).do(session.Skip{}, session.Skip{Off: session.Pressed}, session.Skip{Off: session.Free})
		}},
		{name: "stations-further", make: func(t testing.TB) *bench {
			b := begin(t, tight)
			b.swing, b.ex, b.ey = 42, 0, 0
			return b.answer(3+8, never)
		}},
		{name: "stations-ring", make: func(t testing.TB) *bench { // the head's ring has its zero away from X, and is figured backwards
			return begin(t, func(o *session.Opened) { o.Machine.Head.Zero, o.Machine.Head.Figures = 90*geom.Degree, -1 }).answer(3+4, never)
		}},
		{name: "wind-two", make: collar(6)},
		{name: "wind-one", make: collar(8)},
		{name: "parked-two", make: after(6)},
		{name: "parked-typing", make: after(6), with: func(v *View) { v.Entry = "-0.3" }},
		{name: "parked-one", make: after(8)},
		{name: "parked-locked", make: func(t testing.TB) *bench { // the head's ring has its zero away from X
			return begin(t, func(o *session.Opened) {
				o.Machine.Head.Zero = 90 * geom.Degree
				for i := range o.Machine.Slides {
					o.Machine.Slides[i].Lock = true
				}
			}).answer(3+6, never)
		}},
		{name: "short-arc", make: func(t testing.TB) *bench {
			return begin(t, func(o *session.Opened) { o.Job.Sweep.From, o.Job.Sweep.To = 0.3, 1.3 }).answer(3+4, never)
		}},
		{name: "limited", make: func(t testing.TB) *bench {
			return begin(t, func(o *session.Opened) { o.Job.Setup.ReachLimit = 0.02 }).answer(3+4, never)
		}},
		{name: "closing", make: func(t testing.TB) *bench { return closing(t, 6) }},
		{name: "drifted", make: func(t testing.TB) *bench { return closing(t, 7) }},
		{name: "wind-far", make: func(t testing.TB) *bench {
			b := begin(t, func(o *session.Opened) { o.Job.Dial.From, o.Job.Dial.To = -9, 9 })
			b.swing, b.ex = 37.17, 3.3
			return b.answer(3+6, never)
		}},
		{name: "trial-2", make: after(11)},
		{name: "settled", make: func(t testing.TB) *bench { return after(0)(t).answer(40, session.ForAccept) }},
		{name: "undecided", make: func(t testing.TB) *bench {
			b := begin(t, tight)
			b.swing, b.ex, b.ey = 42, 0, 0
			return b.answer(40, session.ForAccept)
		}},
		{name: "stuck", make: stuck},
		{name: "doubt", make: misread(0.2)},
		{name: "doubt-typing", make: misread(0.2), with: func(v *View) { v.Entry = "0.10" }},
		{name: "doubt-unknown", make: misread(0.243)},
		{name: "accepted", make: func(t testing.TB) *bench { return after(0)(t).answer(40, session.ForNothing) }},
		{name: "lost", make: after(4), with: func(v *View) {
			v.Lost, v.Alarm, v.Status = true, true, "not recorded: write plate.jsonl: no space left on device"
		}},
		{name: "noting", make: after(4), with: func(v *View) { v.Note = "note: jaws greased" }},
		{name: "page", make: after(4), with: func(v *View) { v.Page = true }},
	}
}

// byCollar makes every slide one that is wound by its collar.
func byCollar(o *session.Opened) {
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].ByCollar = true
	}
}

func collar(n int) func(testing.TB) *bench {
	return func(t testing.TB) *bench { return begin(t, byCollar).answer(3+n, never) }
}

// closing is a sweep that is closed by its first station's second reading, and crept by 6 µm from
// each reading to the next; n readings are in.
func closing(t testing.TB, n int) *bench {
	b := begin(t, func(o *session.Opened) { o.Job.Sweep.Closing, o.Job.Sweep.AtLeast = true, 6 }).answer(3, never)
	for _, m := range []float64{-0.1, 0, 0.105, 0.118, 0.031, -0.063, -0.064}[:n] {
		b.do(session.Take{Reading: m})
	}
	return b
}

// misread is a sweep of six on a concentric ring, whose fifth station was misread: every station reads 0.100.
func misread(fifth float64) func(testing.TB) *bench {
	return func(t testing.TB) *bench {
		b := begin(t, nil).answer(3, never)
		for _, m := range []float64{0.1, 0.1, 0.1, 0.1, fifth, 0.1} {
			b.do(session.Take{Reading: m})
		}
		if !b.prompt().Reading.Again {
			t.Fatal("nothing is in doubt")
		}
		return b
	}
}

// stuck is a sweep that no circle fits: its centre would lie beyond the wall of the bore.
func stuck(t testing.TB) *bench {
	b := begin(t, func(o *session.Opened) { o.Job.Dial.From, o.Job.Dial.To = 0, 0 }).answer(3, never)
	for b.prompt().Waits == session.ForReading {
		b.do(session.Take{Reading: math.Round(120000*math.Cos(float64(b.prompt().Reading.Bearing))) / 1000})
	}
	if b.prompt().Waits != session.ForAgain {
		t.Fatalf("the session waits for %d, want %d: these readings are to give no circle", b.prompt().Waits, session.ForAgain)
	}
	return b
}

// see makes a scene and what the panes see of it.
func (s scene) see(t testing.TB, plain bool) *View {
	t.Helper()
	v := s.make(t).sees(plain)
	if s.with != nil {
		s.with(v)
	}
	return v
}

// setups are the four ways to touch, each with a swing at which the needle is on the dial.
func setups() map[string]func(*session.Opened) {
	way := func(touch indicator.Touch, reach float64) func(*session.Opened) {
		return func(o *session.Opened) {
			o.Job.Setup.Touch, o.Job.Setup.Reach = touch, reach
			o.Job.Target.SwingRadius = o.Job.Setup.ReferenceRadius - reach
		}
	}
	return map[string]func(*session.Opened){
		"bore-out": way(indicator.Bore, 12), "bore-in": way(indicator.Bore, -12),
		"boss-out": way(indicator.Boss, 12), "boss-in": way(indicator.Boss, -12),
		"reach-unknown": func(o *session.Opened) {
			o.Job.Setup.Reach, o.Job.Setup.ReachKnown = 0, false
			o.Job.Target.SwingRadius, o.Job.Target.Tolerance = 0, 0
		},
		"centre-only": func(o *session.Opened) { o.Job.Target.SwingRadius, o.Job.Target.Tolerance = 0, 0 },
		"obstacles": func(o *session.Opened) {
			o.Job.Sweep.Obstacles = []setup.Obstacle{
				{From: geom.FromDegrees(80), To: geom.FromDegrees(130)}, {From: geom.FromDegrees(350), To: geom.FromDegrees(380)},
			}
		},
		"turned": onTable,
		"inch":   func(o *session.Opened) { o.Job.Unit, o.Job.Dial.Graduation = geom.Inch, 0.0005*25.4 },
	}
}

// nextAt draws the bottom zone of a window.
func nextAt(v *View, w, h int) string {
	b := Next(v, w, h)
	return b.Draw(v.Theme, w, b.Height())
}

// nextIn draws it into as many rows as are given.
func nextIn(v *View, w, h int) string { return Next(v, w, h+1).Draw(v.Theme, w, h) }
