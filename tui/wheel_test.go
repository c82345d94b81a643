package tui_test

import (
	"math"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
	"example.org/trammel/tui"
)

// simCable is the line of a simulated indicator on a clock of its own, which goes on by a sample with every moment.
type simCable struct {
	live   *practice.Live
	reader *gauge.Reader
	at     time.Time
	left   int // moments until the screen hears no more
}

func (c *simCable) now() time.Time { return c.at }

func (c *simCable) Name() string { return session.Practised }

func (c *simCable) Next() (gauge.Moment, bool) {
	if c.left == 0 {
		return gauge.Moment{}, false
	}
	c.left--
	c.at = c.at.Add(time.Second / practice.LiveRate)
	c.reader.Add(c.live.Line(c.at), c.at, nil)
	return c.reader.Moment(c.at), true
}

func (c *simCable) Take() (gauge.Mean, error) { return c.reader.Mean(c.at) }

func (c *simCable) Forget() int { return c.reader.Forget() }

// winder is a person at a simulated machine with a cable indicator: it sees the needle, and has arrow keys and Enter.
type winder struct {
	*driver
	cable *simCable

	station, wind, other worked
	turns                int // of a handle, by keys
}

// worked are the pages of one kind: how many there were, the Enters that they took, and those of the one that took most.
type worked struct{ n, enters, most int }

func newWinder(t *testing.T, s practice.Setup, seed uint64, change func(*session.Opened)) *winder {
	t.Helper()
	jobText, machineText := s.Files()
	set := testdata.Setting(t, jobText, machineText)
	if change != nil {
		change(&set)
	}
	d := &driver{t: t, mem: &session.Memory{}, bench: practice.New(s.Bench(seed), seed), seed: seed}
	d.live = session.NewLive(session.State{}, d.mem)
	reader, err := gauge.NewReader(gauge.Usual(), geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	c := &simCable{live: practice.Watch(d.bench, seed), reader: reader, at: begin}
	if _, err := d.live.Do(session.Open{Opened: set}, begin); err != nil {
		t.Fatal(err)
	}
	d.model = tui.NewModel(tui.Config{Live: d.live, Now: c.now, Bench: d.bench, Seed: seed, Wheel: c.live, Cable: c},
		colours(termenv.Ascii, false))
	w := &winder{driver: d, cable: c}
	w.Size(80, 24)
	w.looks(10)
	return w
}

// looks lets so many samples come.
func (w *winder) looks(n int) *winder {
	w.t.Helper()
	w.cable.left = n
	w.lay(w.model.Init())
	w.Release()
	return w
}

// needle is what the indicator shows now.
func (w *winder) needle() float64 {
	w.looks(1)
	m := w.cable.reader.Moment(w.cable.at)
	return m.Shown()
}

// stands waits until the needle stands still.
func (w *winder) stands() {
	w.t.Helper()
	for range 200 {
		if w.looks(1); w.cable.reader.Moment(w.cable.at).Steady {
			w.looks(8) // a person takes a third of a second to see it
			return
		}
	}
	w.t.Fatalf("the needle never stands still:\n%s", w.Screen())
}

// arrows turns the handle that is asked for one way until the needle has gone from one figure to another; where it is near, by the
// smallest steps.
func (w *winder) arrows(clockwise bool, from, to float64) {
	w.t.Helper()
	const near = 0.03 // mm
	coarse, fine := tea.KeyDown, tea.KeyLeft
	if clockwise {
		coarse, fine = tea.KeyUp, tea.KeyRight
	}
	for n := 0; ; n++ {
		left := to - w.needle()
		if to < from {
			left = -left
		}
		switch {
		case left <= 0.0005:
			return
		case left < near:
			w.Press(fine)
		default:
			w.Press(coarse)
		}
		w.turns++
		if n > 500 {
			w.t.Fatalf("the needle does not go to %.3f mm:\n%s", to, w.Screen())
		}
	}
}

// taps taps the work until the needle has gone from one figure to another.
func (w *winder) taps(towards bool, from, to float64) {
	w.t.Helper()
	key := tea.KeyLeft
	if towards {
		key = tea.KeyRight
	}
	for up, n := to > from, 0; (w.needle() < to) == up; n++ {
		w.Press(key)
		w.looks(12)
		if n > 100 {
			w.t.Fatalf("tapping does not bring the needle to %.3f mm:\n%s", to, w.Screen())
		}
	}
	w.stands()
}

// winds does the hand's part of a wind under the needle.
func (w *winder) winds(p session.Prompt) {
	w.t.Helper()
	park, moves := p.Wind.Told.Park, p.Wind.Moves
	w.stands()
	if tap := p.Wind.Told.Tap; tap != nil {
		w.taps(tap.Towards, park.Now, park.Goal)
		return
	}
	from := park.Now
	if park.Past != nil && len(moves) > 1 {
		from = *park.Past + math.Copysign(0.005, *park.Past-park.Goal) // past it, not just there
		w.arrows(moves[0].Turn == slide.Clockwise, park.Now, from)
	}
	w.arrows(moves[len(moves)-1].Turn == slide.Clockwise, from, park.Goal)
	w.stands()
}

// works answers what is asked as a person does, until the setting is accepted.
func (w *winder) works() {
	w.t.Helper()
	for range 100 {
		p := w.prompt()
		if w.accepted() {
			return
		}
		if w.Screen(); p.Waits == session.ForReading || p.Waits == session.ForChore && p.Needle() {
			w.stands()
		}
		if p.Waits == session.ForWind && p.Needle() {
			w.winds(p)
		}
		before, n := w.state().Events, 0
		for ; w.state().Events == before; n++ {
			if n > 9 {
				w.t.Fatalf("nothing comes of Enter:\n%s", w.Screen())
			}
			w.looks(15).Enter() // the page has been read
			w.Expect(Nowhere("is not taken", "the needle moves"))
		}
		of := &w.other
		switch p.Waits {
		case session.ForReading:
			of = &w.station
		case session.ForWind:
			of = &w.wind
		default:
		}
		*of = worked{of.n + 1, of.enters + n, max(of.most, n)}
	}
	w.t.Fatalf("not accepted:\n%s", w.Screen())
}

// A whole practice session by the cable indicator, from the first page to the accepted setting: a station takes one Enter, and so
// does a wind, whose handle is turned by the arrow keys. The setting is settled, and the machine truly stands where it should.
func TestPracticeByGauge(t *testing.T) {
	more := uint64(1)
	if os.Getenv("TRAMMEL_HANDS") != "" {
		more = 20
	}
	for _, c := range []struct {
		setup practice.Setup
		seeds uint64
	}{{practice.Carried, 1 + more}, {practice.Turned, more}, {practice.Taps, more}, {practice.SetOff, more}, {practice.About, more - 1},
		{practice.AboutTable, more - 1}} {
		for seed := uint64(1); seed <= c.seeds; seed++ {
			w := newWinder(t, c.setup, seed, func(o *session.Opened) { o.Steps = true })
			w.works()
			at := w.bench.Truth()
			swing, off := at.Swing, math.Hypot(at.CentreX, at.CentreY)
			if c.setup == practice.SetOff { // the spindle is carried off the table's axis
				swing, off = off, 0
			}
			t.Logf("%v %d: %d stations by %d Enters, %d winds by %d (and %d arrows), %d other pages by %d; trial %d; swing %.4f mm, "+
				"centre off %.4f mm", c.setup, seed, w.station.n, w.station.enters, w.wind.n, w.wind.enters, w.turns, w.other.n, w.other.enters,
				w.state().Trial, swing, off)
			if w.station.n < 5 || w.wind.n == 0 || w.station.most > 1 || w.wind.most > 1 {
				t.Errorf(
					"%v %d: stations %+v, winds %+v; want some of each, and at most 1 Enter for one",
					c.setup,
					seed,
					w.station,
					w.wind,
				)
			}
			if math.Abs(swing-42) > 0.02 || off > 0.02 {
				t.Errorf("%v %d: accepted where it truly stands at %+v, want swing radius 42 and centre, ± 0.02 mm", c.setup, seed, at)
			}
		}
	}
}

// The arrow keys are the hand where a handle is to be turned, and nowhere else: at a station the first of them says that Num Lock is
// off, and without a cable indicator they do nothing.
func TestArrowsAreTheHand(t *testing.T) {
	w := newWinder(t, practice.Carried, 7, nil)
	w.looks(15).Enter() // the set-up page
	w.looks(15).Waits(session.ForLoad)
	for _, c := range []struct {
		key  tea.KeyType
		says string
	}{
		{tea.KeyRight, "X handle: turned clockwise by 0.1 divisions in all"},
		{tea.KeyUp, "X handle: turned clockwise by 1.1 divisions in all"},
		{tea.KeyPgDown, "X handle: turned anticlockwise by 8.9 divisions in all"},
		{tea.KeyDown, "X handle: turned anticlockwise by 9.9 divisions in all"},
		{tea.KeyLeft, "X handle: turned anticlockwise by 10.0 divisions in all"},
		{tea.KeyPgUp, "X handle: back where it stood"},
	} {
		w.Press(c.key).Expect(Line(c.says))
	}
	w.Expect(Line("arrows wind, up clockwise"))
	w.looks(15).Type("*")
	for _, it := range w.model.(tui.Model).Items() {
		if it.Words == "which keys turn the simulated handle" {
			w.looks(15).Type(it.Number).Enter()
		}
	}
	w.Expect(Line("right, up, PgUp turn the handle clockwise by 0.1, 1, 10"))
	for _, page := range []string{"?", "i"} { // whoever reads a page does not see the handle turn
		w.looks(15).Type(page)
		before := w.needle()
		w.looks(15).Press(tea.KeyPgDown, tea.KeyPgUp, tea.KeyPgUp)
		if w.looks(15); strings.Contains(w.Screen(), "handle: turned") {
			t.Errorf("below %s the handle is turned:\n%s", page, w.Screen())
		}
		w.looks(15).Type(page)
		if after := w.needle(); math.Abs(after-before) > 0.02 {
			t.Errorf("below %s: the needle has gone from %v to %v mm", page, before, after)
		}
	}
	for i := 0; i < 5 && w.prompt().Waits == session.ForLoad; i++ {
		w.looks(15).Enter()
	}
	w.Waits(session.ForReading)
	w.looks(15).
		Press(tea.KeyUp).
		Expect(Line("✗ the head goes by itself; Enter once it stands still"), Nowhere("Num Lock", "arrows wind", "handle: turned"))

	d := loaded(t, options{opened: benchOpened(t), colour: termenv.Ascii, seed: 7})
	for d.prompt().Waits == session.ForReading {
		d.Enter()
	}
	d.Waits(session.ForWind)
	d.Press(tea.KeyUp).Expect(Line("up does nothing here"), Nowhere("arrows wind", "handle: turned"))
}

// A wind that is taken back is wound by hand once more, and nothing is wound by itself; and a note lets the handle be.
func TestWindTakenBackByGauge(t *testing.T) {
	w := newWinder(t, practice.Carried, 7, nil)
	for w.prompt().Waits != session.ForWind {
		if w.prompt().Waits == session.ForReading {
			w.stands()
		}
		w.looks(15).Enter()
	}
	w.winds(w.prompt())
	w.Enter()
	w.looks(15)
	stands := w.bench.Truth()
	w.Type("/").Waits(session.ForWind)
	w.looks(15)
	w.Press(tea.KeyRight)
	w.Type("n").Type("gib nipped").Enter().Waits(session.ForWind)
	w.Press(tea.KeyLeft).Expect(Line("X handle: back where it stood"))
	w.stands()
	w.Enter()
	if at := w.bench.Truth(); math.Abs(at.CentreX-stands.CentreX) > 0.003 ||
		math.Hypot(at.CentreY-stands.CentreY, at.Swing-stands.Swing) > 1e-9 {
		t.Errorf("confirmed once more, the machine stands at %+v, and stood at %+v", at, stands)
	}
}
