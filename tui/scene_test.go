package tui_test

import (
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"sync/atomic"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
	"example.org/trammel/tui/theme"
)

// opened reads the setting that a test works on, the pivot bore of a belt tensioner's plate; change
// may alter it.
func opened(t testing.TB, change func(*session.Opened)) session.Opened {
	t.Helper()
	o := testdata.Setting(t, file(t, "plate.toml"), file(t, "mill.toml"))
	if change != nil {
		change(&o)
	}
	return o
}

func file(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// begin is when the sessions of these tests begin; every step comes 20 s after the last.
var begin = time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)

func clock() func() time.Time {
	var n atomic.Int64 // a screen looks at it on its loop, and its steps beside that
	return func() time.Time { return begin.Add(time.Duration(n.Add(1)) * 20 * time.Second) }
}

// options are how a screen is opened.
type options struct {
	opened session.Opened
	seed   uint64            // not 0: a practice machine
	bench  *practice.Machine // nil: that of the seed
	append session.Appender  // nil: memory
	plain  bool
	colour termenv.Profile // the zero value is true colour: set it
	events []session.Command
	cable  tui.Cable     // nil for none
	tick   time.Duration // from one look at the clock to the next; 0: 20 s
	ring   func(int)     // nil: quiet
}

// screen opens a session and a screen of 80 × 24 on it, with the setup page closed.
func screen(t testing.TB, o options) *driver {
	t.Helper()
	d := &driver{t: t, mem: &session.Memory{}}
	if o.append == nil {
		o.append = d.mem
	}
	d.live = session.NewLive(session.State{}, o.append)
	now := clock()
	if o.tick != 0 {
		at := begin
		now = func() time.Time { at = at.Add(o.tick); return at }
	}
	for _, c := range append([]session.Command{session.Open{Opened: o.opened}}, o.events...) {
		if _, err := d.live.Do(c, now()); err != nil {
			t.Fatalf("%T: %v", c, err)
		}
	}
	bench := o.bench
	if o.seed != 0 && bench == nil {
		bench = practice.New(practice.Bench(o.seed), o.seed)
	}
	d.bench, d.seed = bench, o.seed
	d.model = tui.NewModel(tui.Config{Live: d.live, Now: now, Bench: bench, Seed: o.seed, Plain: o.plain, Cable: o.cable,
		Shell: tui.Shell{Ring: o.ring}}, colours(o.colour, o.plain))
	d.Size(80, 24)
	if p := d.prompt(); p.Waits == session.ForLoad {
		d.Enter() // close the setup page
	}
	return d
}

func colours(p termenv.Profile, plain bool) theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(p)
	return theme.New(r, plain)
}

// loaded is a screen whose slides are loaded: it asks for the first reading.
func loaded(t testing.TB, o options) *driver {
	t.Helper()
	d := screen(t, o)
	for range 10 {
		if d.prompt().Waits != session.ForLoad {
			return d.Waits(session.ForReading)
		}
		d.Enter()
	}
	t.Fatal("the slides are never loaded")
	return d
}

// real is a screen at a real machine with no colours.
func real(t testing.TB, change func(*session.Opened)) options {
	return options{opened: opened(t, change), colour: termenv.Ascii}
}

// stand is where a machine without error stands: its readings are those of the exact model of a
// carried bore (m = R + t − d, d = e·u + √(ρ² − (e·v)²)), read to 2 µm, and its slides go where
// they are told. The reading of station n strays by scatter.
type stand struct{ swing, ex, ey float64 }

// scatter is how far readings stray, mm, in the order they are taken.
var scatter = []float64{0.002, -0.002, 0, 0.004, -0.004, 0.002, 0, -0.002}

func (w *stand) reading(b geom.Bearing, n int) float64 {
	s, c := math.Sincos(float64(b))
	across := -w.ex*s + w.ey*c
	d := w.ex*c + w.ey*s + math.Sqrt(30*30-across*across)
	m := w.swing - 12 - d + scatter[n%len(scatter)]
	return math.Round(m/0.002) * 2 / 1000
}

// work answers what the screen asks for with keys, up to n times or until the session waits for w.
func (w *stand) work(d *driver, n int, until session.Waits) *driver {
	d.t.Helper()
	for range n {
		p := d.prompt()
		if p.Waits == until {
			break
		}
		switch p.Waits {
		case session.ForReading:
			d.Type(strconv.FormatFloat(w.reading(p.Reading.Bearing, d.state().Sweep.N), 'f', 3, 64))
		case session.ForWind:
			t := p.Wind.Told.Wind.Travel
			switch p.Wind.Slide.Name {
			case "x":
				w.ex -= t
			case "y":
				w.ey -= t
			case "offset":
				w.swing += t
			}
		case session.ForAccept:
			d.Type("a").Enter()
			continue
		case session.ForChore:
			if p.TakesReading() {
				d.Type("38.31")
			}
		case session.ForLoad, session.ForDrift, session.ForAgain, session.ForNothing, session.ForCheck, session.ForBack,
			session.ForMoved, session.ForSize:
		}
		d.Confirm()
	}
	return d
}

// nothing is no phase that work would wait for.
const nothing = session.Waits(255)

// scene is a screen in one state of the job.
type scene struct {
	name string
	open func(testing.TB, options) *driver
}

// scenes are the states of the job, in its order.
func scenes() []scene {
	at := func(n int, until session.Waits) func(testing.TB, options) *driver {
		return func(t testing.TB, o options) *driver {
			return (&stand{41.7, -0.11, 0.15}).work(loaded(t, o), n, until)
		}
	}
	then := func(n int, keys string) func(testing.TB, options) *driver {
		return func(t testing.TB, o options) *driver { return at(n, nothing)(t, o).Type(keys) }
	}
	return []scene{
		{"load", screen},
		{"station", loaded},
		{"stations-1", at(1, nothing)},
		{"stations-3", at(3, nothing)},
		{"stations-5", at(5, nothing)},
		{"typing", then(4, "-0.1")},
		{"off", then(2, "sopo")},
		{"noting", then(4, "nplate ø60, jaws greased")},
		{"refused", func(t testing.TB, o options) *driver { return then(4, "5")(t, o).Enter() }},
		{"enough", func(t testing.TB, o options) *driver { return at(4, nothing)(t, o).Enter() }},
		{"wind-two", func(t testing.TB, o options) *driver { return at(6, nothing)(t, collar(o)) }},
		{"wind-one", func(t testing.TB, o options) *driver { return at(8, nothing)(t, collar(o)) }},
		{"parked-two", at(6, nothing)},
		{"parked-typing", then(6, "-0.3")},
		{"parked-one", at(8, nothing)},
		{"closing", func(t testing.TB, o options) *driver { return closing(t, o, 6) }},
		{"drifted", func(t testing.TB, o options) *driver { return closing(t, o, 7) }},
		{"holding", then(4, "h42.1 0.002")},
		{"trial-2", at(11, nothing)},
		{"settled", at(40, session.ForAccept)},
		{"undecided", undecided},
		{"assumed", func(t testing.TB, o options) *driver { // nobody says how right reach and reference are
			o.opened.Job.Stated = nil
			return at(40, session.ForAccept)(t, o)
		}},
		{"unsaid", func(t testing.TB, o options) *driver { // and the tolerance leaves no room for it
			o.opened.Job.Stated, o.opened.Job.Target.Tolerance = nil, 0.006
			return at(40, session.ForAccept)(t, o)
		}},
		{"stuck", stuck},
		{"doubt", doubted("0.2")},
		{"doubt-typing", func(t testing.TB, o options) *driver { return doubted("0.2")(t, o).Type("0.10") }},
		{"doubt-unknown", doubted("0.243")},
		{"accepted", at(40, session.ForNothing)},
		{"step", func(t testing.TB, o options) *driver { return (&stand{}).work(screen(t, stepwise(o)), 2, nothing) }},
		{"pass-1", inPasses(1)},
		{"pass-2", inPasses(2)},
		{"stock", behind(session.LeaveStock)},
		{"measuring", behind(session.Measure)},
		{"last-wind", behind(session.LastWind)},
		{"check", behind(session.CheckArc)},
		{"lost", func(t testing.TB, o options) *driver {
			o.append = &failing{left: 7}
			return at(4, nothing)(t, o)
		}},
	}
}

// stepwise asks for the order at the machine, for a rim cut with stock left on.
func stepwise(o options) options {
	o.opened.Steps = true
	o.opened.Job.Cut = &setup.Cut{Cutter: 8, Stock: 0.3}
	return o
}

// behind is the accepted setting at one of the steps that follow it.
func behind(c session.Chore) func(testing.TB, options) *driver {
	return func(t testing.TB, o options) *driver {
		w, d := stand{41.7, -0.11, 0.15}, screen(t, stepwise(o))
		for d.prompt().Chore.Step != c {
			w.work(d, 1, nothing)
		}
		return d
	}
}

// inPasses is the accepted setting at the nth pass of its cut, whose ends a drawing tells.
func inPasses(n int) func(testing.TB, options) *driver {
	return func(t testing.TB, o options) *driver {
		o = stepwise(o)
		o.opened.Job.Cut.Depth, o.opened.Job.Cut.Step, o.opened.Job.Cut.Spring, o.opened.Job.Cut.Entry = 6, 2, true, setup.WayInOff
		o.opened.Arc = &part.Picked{Part: "plate", N: 3, Radius: 38, From: geom.FromDegrees(20), To: geom.FromDegrees(250), Side: "inside",
			Cutter: 8, Swing: 42, Sense: "anticlockwise"}
		w, d := stand{41.7, -0.11, 0.15}, screen(t, o)
		for d.prompt().Chore.Step != session.Pass {
			w.work(d, 1, nothing)
		}
		w.work(d, n-1, nothing)
		return d
	}
}

// collar makes every slide one that is wound by its collar.
func collar(o options) options {
	o.opened.Machine.Slides = slices.Clone(o.opened.Machine.Slides)
	for i := range o.opened.Machine.Slides {
		o.opened.Machine.Slides[i].ByCollar = true
	}
	return o
}

// closing is a sweep that is closed by its first station's second reading, and crept by 6 µm from
// each reading to the next; n readings are in.
func closing(t testing.TB, o options, n int) *driver {
	o.opened.Job.Sweep.Closing, o.opened.Job.Sweep.AtLeast = true, 6
	d := loaded(t, o)
	for _, m := range []string{"-0.1", "0", "0.105", "0.118", "0.031", "-0.063", "-0.064"}[:n] {
		d.Type(m).Enter()
	}
	return d
}

// undecided is a sweep whose scatter is as large as the tolerance, and which stands well: no wind
// would help.
func undecided(t testing.TB, o options) *driver {
	o.opened.Job.Target.Tolerance, o.opened.Job.Target.CentreTolerance = 0.003, 0.003
	d := (&stand{42, 0, 0}).work(loaded(t, o), 40, session.ForAccept)
	return d.Waits(session.ForAccept)
}

// doubted is a sweep of six on a concentric ring, whose fifth station was misread: every station reads 0.100.
func doubted(fifth string) func(testing.TB, options) *driver {
	return func(t testing.TB, o options) *driver {
		d := loaded(t, o)
		for _, m := range []string{"0.1", "0.1", "0.1", "0.1", fifth, "0.1"} {
			d.Type(m).Enter()
		}
		return d.Waits(session.ForReading)
	}
}

// stuck is a sweep that no circle fits: its centre would lie beyond the wall of the bore.
func stuck(t testing.TB, o options) *driver {
	o.opened.Job.Dial.From, o.opened.Job.Dial.To = 0, 0
	d := loaded(t, o)
	for range 40 {
		p := d.prompt()
		if p.Waits != session.ForReading {
			break
		}
		d.Type(strconv.FormatFloat(120*math.Cos(float64(p.Reading.Bearing)), 'f', 3, 64)).Enter()
	}
	return d.Waits(session.ForAgain)
}

// failing is an appender whose disk is full after so many lines.
type failing struct {
	left  int
	lines [][]byte
}

// errFull is what it says then.
var errFull = fmt.Errorf("write plate.jsonl: no space left on device")

func (f *failing) Append(line []byte) error {
	if f.left == 0 {
		return errFull
	}
	f.left--
	f.lines = append(f.lines, append([]byte(nil), line...))
	return nil
}

// pages are the keys of what may lie over the work.
var pages = map[string]tea.KeyMsg{
	"none": {Type: tea.KeyF12}, "help": char('?'), "setup": char('i'), "trials": char('t'), "form": char('f'),
}
