package tui_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// watched is a screen beside a cable indicator whose needle a test moves.
type watched struct {
	*driver
	wire
}

// shows has the screen shown what the indicator shows.
func (c *watched) shows(m gauge.Moment) *watched {
	c.t.Helper()
	c.Send(tui.MomentMsg(m))
	return c
}

// moves has the needle pass some figures, millimetres, and stands has it stand still at one.
func (c *watched) moves(all ...float64) *watched {
	c.t.Helper()
	for _, mm := range all {
		c.wire.moving(c.driver, mm)
	}
	return c
}

func (c *watched) stands(mm float64) *watched {
	c.t.Helper()
	c.wire.still(c.driver, mm)
	return c
}

// onWind is a screen with a cable indicator at the first wind of a setting.
func onWind(t testing.TB, o options) *watched {
	c := &watched{}
	o.cable = &c.wire
	c.driver = loaded(t, o)
	(&stand{41.7, -0.11, 0.15}).work(c.driver, 20, session.ForWind)
	c.Waits(session.ForWind)
	return c.moves(0.05) // as the head is swung to where it is parked
}

// A wind by the needle in every window: on the way off, past the turning point, nearly there, there, and past it. What is to be
// done is whole everywhere, and the two figures stand below one another.
func TestWatchedScreens(t *testing.T) {
	for _, s := range []struct {
		name string
		do   func(*watched)
	}{
		{"unseen", func(c *watched) { c.moves(0.1) }},
		{"outward", func(c *watched) { c.stands(-0.19).moves(-0.25) }},
		{"turning", func(c *watched) { c.stands(-0.19).moves(-0.3, -0.4, -0.402) }},
		{"close", func(c *watched) { c.stands(-0.19).moves(-0.4, -0.401, -0.35, -0.32) }},
		{"stands", func(c *watched) { c.stands(-0.19).moves(-0.4, -0.401, -0.35, -0.32).stands(-0.3) }},
		{"astray", func(c *watched) { c.stands(-0.19).moves(-0.15, -0.1, -0.05) }},
		{"over", func(c *watched) { c.stands(-0.19).moves(-0.4, -0.401, -0.35, -0.32).stands(-0.28) }},
	} {
		for _, plain := range []bool{false, true} {
			o, look := real(t, nil), ""
			if o.colour, o.plain = termenv.Ascii, plain; plain {
				look = ".plain"
			}
			c := onWind(t, o)
			s.do(c)
			for _, size := range [][2]int{{80, 24}, {60, 18}, {40, 10}, {200, 50}} {
				c.Size(size[0], size[1]).Fits(size[0], size[1])
				golden(t, fmt.Sprintf("%dx%d/watched-%s%s", size[0], size[1], s.name, look), c.Screen())
			}
		}
	}
}

// The needle of the first wind begins at −0.190, turns back past −0.399, and has come to its goal at −0.299, give or take 0.006.
var (
	turned  = []float64{-0.25, -0.35, -0.4, -0.401}
	arrived = append(append([]float64{}, turned...), -0.35, -0.31, -0.3)
)

// What is not taken up, too far, short or astray is not confirmed, and said with what to do; a typed reading is taken as ever.
func TestWatchedWindIsNotConfirmed(t *testing.T) {
	for _, tt := range []struct {
		name string
		do   func(*watched)
		says []string
	}{
		{"at the beginning", func(c *watched) { c.stands(-0.19) },
			[]string{"not past the turning point, −0.399 mm", "anticlockwise past −0.399, then clockwise to −0.299; or type the reading"}},
		{"straight to the goal", func(c *watched) { c.stands(-0.19).moves(-0.25).stands(-0.299) }, []string{"not past the turning point"}},
		{"short", func(c *watched) { c.stands(-0.19).moves(turned...).stands(-0.31) },
			[]string{"0.011 mm short of −0.299 mm", "clockwise to −0.299; or type the reading"}},
		{"too far", func(c *watched) { c.stands(-0.19).moves(arrived...).stands(-0.285) },
			[]string{"0.014 mm too far", "takes up the backlash; anticlockwise past −0.399, then clockwise to −0.299"}},
		{"nudged back", func(c *watched) { c.stands(-0.19).moves(arrived...).stands(-0.285).stands(-0.299) },
			[]string{"0.014 mm too far"}},
		{"astray", func(c *watched) { c.stands(-0.19).moves(-0.1, -0.05) }, []string{"the needle goes the other way", "its sign"}},
		{"moving", func(c *watched) { c.stands(-0.19).moves(arrived...) }, []string{"the needle moves", "once it stands still"}},
	} {
		c := onWind(t, real(t, nil))
		tt.do(c)
		before := c.state().Events
		c.Size(120, 40).Confirm().Expect(Line("✗"))
		for _, s := range tt.says {
			if said := strings.Join(strings.Fields(c.Screen()), " "); !strings.Contains(said, s) {
				t.Errorf("%s: %q is not said:\n%s", tt.name, s, c.Screen())
			}
		}
		if c.state().Events != before {
			t.Errorf("%s: it is confirmed", tt.name)
		}
		c.Type("-0.3").Enter()
		if strings.Contains(c.Screen(), "Enter once more: −0.300 mm is taken, though") { // it stands elsewhere
			c.Enter()
		}
		if w := c.state().Winds; w == nil || *w.Reading != -0.3 {
			t.Errorf("%s: a typed reading is kept as %+v", tt.name, w)
		}
	}
}

// What stands at its goal is confirmed by one Enter, with the mean that is read and where that comes from. A refusal goes as the
// needle goes on.
func TestWatchedWindIsConfirmed(t *testing.T) {
	c := onWind(t, real(t, nil))
	c.stands(-0.19).Enter().Expect(Line("✗ the needle was not past"))
	c.moves(turned...).Expect(Nowhere("was not past"), Line("far enough"))
	c.moves(arrived...).stands(-0.3004).Enter()
	last := string(c.mem.Lines[len(c.mem.Lines)-2]) // behind it the next wind is told
	if want := `"reading":-0.3004,"gauge":{"source":"fifo:needle","samples":10,"spread":0.0004}}`; !strings.Contains(last, want) {
		t.Errorf("on record is %s, want %s", last, want)
	}
	if w := c.state().Winds; w == nil || *w.Reading != -0.3004 {
		t.Errorf("the wind is kept as %+v, want at −0.3004", w)
	}
}

// A reading behind the lock is the one that counts, wherever the lock has moved it.
func TestWatchedWindIsLocked(t *testing.T) {
	c := onWind(t, real(t, func(o *session.Opened) {
		o.Machine.Slides = slices.Clone(o.Machine.Slides)
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].Lock = true
		}
	}))
	c.stands(-0.19).moves(arrived...).stands(-0.3).Expect(Line("lock it under the needle, then Enter"))
	c.moves(-0.29, -0.28).stands(-0.279).Expect(Line("it stood there, and is off by 0.020 mm: by the lock?")).Enter()
	if w := c.state().Winds; w == nil || *w.Reading != -0.279 {
		t.Errorf("the wind is kept as %+v, want at −0.279", w)
	}
}

// The bell: once as the needle comes near, twice as it stands at its goal; what trembles at an edge is heard once.
func TestWatchedBells(t *testing.T) {
	rings := 0
	o := real(t, nil)
	o.ring = func(n int) { rings += n }
	c := onWind(t, o)
	heard := func(where string, want int) {
		t.Helper()
		if rings != want {
			t.Errorf("%s: %d rings, want %d", where, rings, want)
		}
		rings = 0
	}
	rings = 0
	c.stands(-0.19).moves(-0.25, -0.299, -0.35, -0.4, -0.401, -0.37)
	heard("off, and back", 0)
	c.moves(-0.34, -0.33, -0.345, -0.335, -0.345)
	heard("near", 1)
	c.moves(-0.3, -0.306, -0.304, -0.306)
	heard("at its goal", 0)
	c.stands(-0.3).moves(-0.302).stands(-0.3)
	heard("standing there", 2)
	c.moves(-0.28, -0.27, -0.26, -0.25)
	heard("too far", 1)
	c.stands(-0.19)
	heard("still too far", 0)
}

// by is a cable indicator on a simulated machine, whose samples come as the test has time go by.
type by struct {
	*driver
	live   *practice.Live
	reader *gauge.Reader
	now    time.Time
	new    bool
}

func (b *by) Name() string              { return session.Practised }
func (b *by) Take() (gauge.Mean, error) { return b.reader.Mean(b.now) }
func (b *by) Forget() int               { return b.reader.Forget() }
func (b *by) Next() (gauge.Moment, bool) {
	if !b.new {
		return gauge.Moment{}, false
	}
	b.new = false
	return b.reader.Moment(b.now), true
}

// passes lets samples go by, two at least, and those that come until the needle stands still where that is awaited; each third and the
// last are shown.
func (b *by) passes(till bool) {
	for i := 0; i < 2 || till && i < 500; i++ {
		b.now = b.now.Add(time.Second / practice.LiveRate)
		b.reader.Add(b.live.Line(b.now), b.now, nil)
		if _, err := b.Take(); till && err == nil {
			break
		}
		if i%3 == 2 {
			b.shown()
		}
	}
	b.shown()
}

func (b *by) shown() {
	b.new = true
	b.lay(b.model.Init())
	b.Release()
}

// turns turns the handwheel of a wind.
func (b *by) turns(p session.Prompt, e practice.Effort, clockwise bool) {
	b.t.Helper()
	if _, err := b.live.Hand(p, e, clockwise); err != nil {
		b.t.Fatal(err)
	}
}

// winds turns the handwheel by what the page says, and nothing else, until it says Enter; a clumsy hand is fast.
func (b *by) winds(clumsy float64) {
	b.t.Helper()
	s := b.state()
	p := s.Prompt()
	b.passes(true)
	for range 1000 {
		said, left := "", 0.0
		for _, l := range strings.Split(b.Screen(), "\n") {
			if strings.Contains(l, " slide: ") {
				said = l
			}
			if _, err := fmt.Sscanf(l, "%f mm", &left); err == nil {
				break
			}
		}
		effort := practice.Touch
		for _, e := range []practice.Effort{practice.Little, practice.Lot} {
			if left/p.Wind.Slide.Division()*clumsy >= e.Divisions() {
				effort = e
			}
		}
		switch clock, anti := strings.Index(said, " clockwise"), strings.Index(said, "anticlockwise"); {
		case strings.Contains(said, "park at"), strings.Contains(said, "stop"):
		case strings.Contains(said, "Enter"):
			return
		case anti >= 0 && (clock < 0 || anti < clock):
			b.turns(p, effort, false)
		case clock >= 0:
			b.turns(p, effort, true)
		}
		b.passes(strings.Contains(said, "stop"))
	}
	b.t.Fatalf("the wind does not come to its end:\n%s", b.Screen())
}

// A whole setting by the needle, on simulated machines with play, whose slides stick and slip: one key a station, and one key a wind
// that the needle is watched through, by nothing but what the page says. Every slide comes to stand where it should.
func TestSettingByTheNeedle(t *testing.T) {
	winds, seeds := 0, uint64(2)
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		seeds = 40
	}
	for seed := range seeds {
		m := practice.New(practice.Bench(seed), seed)
		b := &by{live: practice.Watch(m, seed), now: begin}
		var err error
		if b.reader, err = gauge.NewReader(gauge.Usual(), geom.Millimetre); err != nil {
			t.Fatal(err)
		}
		o := real(t, nil)
		o.cable = b
		b.driver = screen(t, o)
		for range 60 {
			s := b.state()
			p := s.Prompt()
			if p.Waits == session.ForAccept {
				break
			}
			b.live.Ask(p)
			switch {
			case p.Waits == session.ForWind && p.Wind.How == session.UnderNeedle:
				b.winds(0.4 + 0.3*float64(seed%3))
				w, _ := s.Wanted()
				b.Enter()
				after := b.state()
				done := after.Winds
				if done == nil && after.Past != nil { // it was the last one of its trial
					done = after.Past.Winds
				}
				if after.Events == s.Events || math.Abs(*done.Reading-w.Goal) > w.Band {
					t.Fatalf("seed %d: one key does not confirm:\n%s", seed, b.Screen())
				}
				winds++
			case p.Waits == session.ForReading:
				b.passes(true)
				if b.Enter(); b.state().Events == s.Events {
					t.Fatalf("seed %d: one key does not take a station:\n%s", seed, b.Screen())
				}
			default:
				if _, _, err := b.live.Do(p); err != nil {
					t.Fatal(err)
				}
				b.Confirm()
			}
		}
		b.Waits(session.ForAccept)
	}
	if winds < 2*int(seeds) {
		t.Errorf("%d winds under the needle, want two a setting at least", winds)
	}
}

// Behind a tap one Enter takes what the needle stands still at, wherever that is.
func TestTapByTheNeedle(t *testing.T) {
	w := newWinder(t, practice.Taps, 3, nil)
	for w.prompt().Wind.How != session.ByTap {
		w.stands()
		w.Enter()
	}
	w.stands()
	w.Press(tea.KeyUp)
	w.stands()
	before := w.needle()
	w.Size(120, 40).Expect(Line("Enter after every tap"))
	w.Enter().Expect(Line("tap 1: needle at"))
	if s := w.state(); s.Winds == nil || math.Abs(*s.Winds.Reading-before) > 0.005 {
		t.Errorf("the tap is kept as %+v, want at %.3f mm", s.Winds, before)
	}
}

// A line that fell silent saw nothing of what the slide did meanwhile: what it finds elsewhere has no play taken up; and while it is
// silent Enter asks once more, and takes no reading.
func TestWatchedWindBehindASilence(t *testing.T) {
	for name, gone := range map[string]gauge.Moment{"silent": {Has: true, Value: -0.35, Silent: true}, "lost": {Lost: "no such device"}} {
		c := onWind(t, real(t, nil))
		c.Size(120, 40)
		c.stands(-0.19).moves(turned...).moves(-0.35)
		gone.Forgets = c.forgot
		takes := c.takes
		c.shows(gone).Enter().Expect(Line("no needle is seen"))
		if c.state().Winds != nil || c.takes != takes {
			t.Errorf("%s: it is confirmed, or the needle is looked at", name)
		}
		c.Type("/")
		c.shows(gauge.Moment{Has: true, Value: -0.299, Forgets: c.forgot}).stands(-0.299).Enter()
		if c.state().Winds != nil {
			t.Errorf("%s: it is confirmed with a needle that went to its goal unseen:\n%s", name, c.Screen())
		}
	}
}

// What is confirmed is judged by the mean that is taken, which may be newer than what the screen shows.
func TestWatchedWindByTheNewerMean(t *testing.T) {
	c := onWind(t, real(t, nil))
	c.stands(-0.19).moves(arrived...).stands(-0.299)
	c.mean.Value = -0.28 // and the screen was not shown that
	if c.Enter(); c.state().Winds != nil {
		t.Errorf("it is confirmed at −0.28, too far:\n%s", c.Screen())
	}
	c.Expect(Line("too far"))
}
