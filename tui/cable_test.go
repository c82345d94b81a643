package tui_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// wire stands in for a cable indicator's line: what Take finds there, and how often it was asked to forget.
type wire struct {
	mean          gauge.Mean
	moves         error // else
	takes, forgot int
}

func (*wire) Name() string                    { return "fifo:needle" }
func (*wire) Next() (m gauge.Moment, ok bool) { return m, false }
func (c *wire) Forget() int                   { c.forgot++; return c.forgot }
func (c *wire) Take() (gauge.Mean, error) {
	c.takes++
	return c.mean, c.moves
}

// still has the needle stand still at a figure; moving has it move there.
func (c *wire) still(d *driver, mm float64) *driver {
	c.mean, c.moves = gauge.Mean{Value: mm, Spread: 0.0004, N: 10}, nil
	return d.Send(tui.MomentMsg(gauge.Moment{Has: true, Value: mm, Steady: true, Mean: c.mean, Forgets: c.forgot}))
}

func (c *wire) moving(d *driver, mm float64) *driver {
	c.moves = &gauge.MovingError{Have: 10, Need: 10, Range: 0.034, Within: 0.01}
	return d.Send(tui.MomentMsg(gauge.Moment{Has: true, Value: mm, Why: c.moves, Forgets: c.forgot}))
}

// button is the message of an indicator whose own button has sent these readings.
func button(sent ...float64) gauge.Moment { return gauge.Moment{Why: gauge.ErrButton, Pressed: sent} }

// gauged is where the last reading of the sweep comes from.
func gauged(d *driver) session.Gauged {
	d.t.Helper()
	n := len(d.mem.Lines)
	for ; n > 0; n-- {
		r, err := session.Decode(n, d.mem.Lines[n-1])
		if err != nil {
			d.t.Fatal(err)
		}
		if e, ok := r.Event.(session.Took); ok {
			return e.Gauge
		}
	}
	d.t.Fatal("no reading is on record")
	return session.Gauged{}
}

// cabled is a screen at its first station, beside a cable indicator.
func cabled(t testing.TB, c *wire) *driver {
	t.Helper()
	o := real(t, nil)
	o.cable = c
	return loaded(t, o)
}

// One key a station: Enter takes what the needle stands still at, and what moves is refused with the reason, however often.
func TestEnterTakesTheNeedle(t *testing.T) {
	c := &wire{}
	d := cabled(t, c).Size(70, 24)
	c.moving(d, -0.31).Expect(Line("−0.310"), Line("moves"), Line("Enter take needle"))
	d.Enter().Enter().Readings()
	d.Expect(Line("the needle moves: the last 10 samples range over 0.034 mm, need"), Nowhere("Enter once more"))
	if c.forgot == 0 {
		t.Error("what came before the slides were loaded counts for the first station")
	}
	before := c.forgot
	c.still(d, -0.326).Expect(Line("−0.326"), Line("✓ still")).Enter().Readings(-0.326)
	if got, want := gauged(d), (session.Gauged{Source: "fifo:needle", Samples: 10, Spread: 0.0004}); got != want {
		t.Errorf("on record it comes from %+v, want %+v", got, want)
	}
	if d.Expect(Line("station 1, 0°: −0.326 mm"), Nowhere("✓ still", "samples", "spread")); c.forgot == before {
		t.Error("the samples of one reading count for the next")
	}
	takes := c.takes
	c.still(d, 0.5)
	d.Type("-0.312").Enter().Readings(-0.326).Expect(Line("Enter once more: −0.312 mm is taken, though the cable indicator stands"))
	d.Enter().Readings(-0.326, -0.312)
	if got := gauged(d); got != (session.Gauged{}) || c.takes != takes {
		t.Errorf("a typed reading comes from %+v, and the needle was looked at %d times", got, c.takes-takes)
	}
}

// A moment that was on its way as an entry was made is about the question before: nothing stands still by it, and a wind is not
// watched by it.
func TestStaleMoment(t *testing.T) {
	c := &wire{}
	d := cabled(t, c)
	late := gauge.Moment{Has: true, Value: -0.3262, Steady: true, Mean: gauge.Mean{Value: -0.326, N: 10}, Forgets: c.forgot}
	c.still(d, -0.326).Enter().Readings(-0.326)
	d.Send(tui.MomentMsg(late)).Expect(Line("−0.326"), Nowhere("✓ still"))
	c.still(d, -0.326).Expect(Line("✓ still"))

	w := onWind(t, real(t, nil))
	late = gauge.Moment{Has: true, Value: -0.19, Steady: true, Mean: gauge.Mean{Value: -0.19, N: 10}, Forgets: w.forgot - 1}
	w.shows(late).moves(-0.299).stands(-0.299).Enter().Expect(Line("the needle was not seen"))
	w.Type("/")
	late.Forgets = w.forgot
	w.shows(late).Expect(Line("wind 1 of 3, facing the handle, park at 0°"))
}

// A reading in doubt is asked for again, and Enter takes the needle again; what may be kept stands on the list.
func TestEnterReadsTheDoubtfulAgain(t *testing.T) {
	c := &wire{}
	o := options{opened: benchOpened(t), colour: termenv.Ascii, cable: c}
	d := doubted("0.2")(t, o).Expect(Line("Enter take needle"), Line("Enter takes it again, or type it; * 1 takes +0.100, * lists keep"))
	c.still(d, 0.1).Enter()
	if s := d.state(); s.Sweep.Stations[4].Reading != 0.1 || gauged(d).Samples != 10 {
		t.Errorf("station 5 stands at %+v, taken from %+v; want 0.1 of 10 samples", s.Sweep.Stations[4], gauged(d))
	}
}

// Of an indicator that sends by its own button Enter takes nothing: it means what it means without one.
func TestEnterBesideAButton(t *testing.T) {
	c := &wire{moves: gauge.ErrButton}
	d := cabled(t, c).Send(tui.MomentMsg(button()))
	d.Expect(Line("by its own button"), Line("read the dial")).Enter().Expect(Line("nothing waits to be confirmed"))
	if c.takes > 0 {
		t.Error("the needle was looked at")
	}
}

// What the indicator's button sends is a reading where one is asked for, whatever lies over that, and is said where none is.
func TestSentReadings(t *testing.T) {
	at := func(d *driver) *driver { return d.Send(tui.MomentMsg(button(-0.326))) }
	taken := map[string]func(*driver) *driver{
		"at a station":     func(d *driver) *driver { return d },
		"below help":       func(d *driver) *driver { return d.Type("?") },
		"below the list":   func(d *driver) *driver { return d.Type("*1") },
		"below the set-up": func(d *driver) *driver { return d.Type("i") },
		"asked once more":  func(d *driver) *driver { return d.Type("r").Expect(Line("Enter once more")) },
		"behind a key":     func(d *driver) *driver { return d.Type("0.1/") },
	}
	for name, lay := range taken {
		d := at(lay(cabled(t, &wire{})))
		d.t = named{t, name}
		d.Readings(-0.326).Expect(Line("station 2 of 6"), Nowhere("Enter once more"))
		if got, want := gauged(d), (session.Gauged{Source: "fifo:needle", Samples: 1}); got != want {
			t.Errorf("%s: on record it comes from %+v, want %+v", name, got, want)
		}
	}
	d := cabled(t, &wire{}).Send(tui.MomentMsg(button(-0.326, -0.311))).Readings(-0.326, -0.311)

	d.Type("0.1")
	at(d).Readings(-0.326, -0.311).Expect(Line("−0.326 mm from the cable indicator is not taken: 0.1 is typed; / clears it"))
	d.Type("/n")
	at(d).Readings(-0.326, -0.311).Expect(Line("−0.326 mm from the cable indicator is not taken: a text is being typed"))
	d.Type("so").Enter()
	if lines := d.mem.Lines; !strings.Contains(string(lines[len(lines)-1]), `"so"`) {
		t.Errorf("the note is %s", lines[len(lines)-1])
	}

	o := real(t, nil)
	o.cable = &wire{}
	d = screen(t, o).Waits(session.ForLoad)
	before := len(d.mem.Lines)
	at(d).Expect(Line("−0.326 mm from the cable indicator is not taken: none is asked for now"))
	d.Send(tui.MomentMsg(button(make([]float64, 29)...))).Expect(Line("30 readings from the cable indicator are not taken, the last +0.000 mm: none"))
	if d.Waits(session.ForLoad); len(d.mem.Lines) != before {
		t.Error("a reading that was not asked for is on record")
	}
}

// A reading that comes while a step is being recorded waits for its turn, like a key, and is taken once.
func TestSentReadingWaitsForItsTurn(t *testing.T) {
	d := cabled(t, &wire{}).Hold().Type("-0.326").Enter()
	d.Send(tui.MomentMsg(button(-0.311))).Type("-0.055").Enter()
	d.Release().Readings(-0.326, -0.311, -0.055)
}

// What becomes of the line is said, once, and takes no question away that is open; typing goes on.
func TestLineIsLostAndFound(t *testing.T) {
	c := &wire{}
	d := cabled(t, c)
	lost := gauge.Moment{Lost: "serial line COM3: nothing is plugged in there any more"}
	d.Type("r").Send(tui.MomentMsg(lost)).Expect(Line("✗ lost"), Line("lost: serial line COM3"), Line("Enter once more: sweep again"))
	d.Type("/").Send(tui.MomentMsg(lost)).Expect(Nowhere("COM3")).Enter().Readings()
	if d.Expect(Line("lost: serial line COM3"), Line("type the reading")); c.takes > 0 {
		t.Error("the needle of a lost indicator was looked at")
	}
	d.Type("-0.326").Enter().Readings(-0.326)
	d.Send(tui.MomentMsg(gauge.Moment{})).Expect(Line("the cable indicator is found"), Nowhere("✗ lost"))
	d.Send(tui.MomentMsg(lost)).Expect(Line("COM3")).Send(tui.MomentMsg(gauge.Moment{})).Expect(Line("is found"), Nowhere("COM3"))
	d.Hold().Type("/").Send(tui.MomentMsg(lost)).Release().Expect(Line("lost: serial line COM3")).Readings() // while a step is recorded
	d.Type("-0.326").Enter().Send(tui.MomentMsg(gauge.Moment{}))

	noise := gauge.Moment{Unread: 2, UnreadWhy: &gauge.LineError{Line: "ERR\x1b[2J", Why: "does not fit the pattern"}}
	d.Type("0.1.2").Enter().Expect(Line("0.1.2")).Send(tui.MomentMsg(noise)).Expect(Nowhere("are no readings"))
	d.Type("-0.312").Enter().Send(tui.MomentMsg(noise))
	d.Expect(Line("4 of the cable indicator's lines are no readings", `"ERR\x1b[2J"`))
	clean(d)
	d.Send(tui.MomentMsg(gauge.Moment{Says: []string{"reader: cable \x1b[31mworn"}})).Expect(Line("reader: cable ?[31mworn"))
	clean(d)
}

// Whatever the needle does, the page fits into every window, says what the needle does, and shows its figure.
func TestNeedleAtEverySize(t *testing.T) {
	for name, m := range map[string]gauge.Moment{
		"nothing": {}, "still": {Has: true, Value: 0.118, Steady: true, Mean: gauge.Mean{Value: 0.118, N: 5}},
		"moves": {Has: true, Value: -12.345, Why: &gauge.MovingError{}}, "silent": {Has: true, Value: 0.118, Silent: true},
		"off the dial": {Beyond: true, Why: &gauge.MovingError{}},
		"lost":         {Lost: "it has gone"}, "button": {Why: gauge.ErrButton},
	} {
		for _, size := range [][2]int{{20, 4}, {30, 6}, {40, 12}, {44, 14}, {60, 18}, {72, 24}, {80, 24}, {81, 15}, {134, 30}, {200, 50}} {
			c := &wire{}
			d := cabled(t, c).Size(size[0], size[1])
			m.Forgets = c.forgot
			d.Send(tui.MomentMsg(m))
			d.t = named{t, fmt.Sprint(name, size)}
			d.Fits(size[0], size[1])
			if size[0] >= 40 {
				d.Expect(Line(name))
			}
			if size[0] == 60 && m.Has {
				d.Expect(Line("needle", strings.Replace(fmt.Sprintf("%+.3f mm", m.Value), "-", "−", 1)))
			}
		}
	}
}

// What a moment costs the screen, its page drawn: a key that comes behind it waits so long, up to 20 times a second. One run on two
// shared cores: 0.9 ms and 2.9 ms.
func BenchmarkMoment(b *testing.B) {
	for _, size := range [][2]int{{80, 24}, {200, 50}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			d := cabled(b, &wire{}).Size(size[0], size[1])
			for i := 0; b.Loop(); i++ {
				d.Send(tui.MomentMsg(gauge.Moment{Has: true, Value: 0.001 * float64(i%300), Why: &gauge.MovingError{}}))
				if d.model.View() == "" {
					b.Fatal("nothing is drawn")
				}
			}
		})
	}
}

// A line that is lost for another reason than before has been found in between, though no moment said so: that is said too.
func TestLineIsLostTwice(t *testing.T) {
	d := cabled(t, &wire{})
	d.Send(tui.MomentMsg(gauge.Moment{Lost: "serial line COM3: nothing is plugged in"})).Expect(Line("COM3"))
	d.Send(tui.MomentMsg(gauge.Moment{Lost: "serial line COM4: it is in use"})).Expect(Line("COM4"))
}

// Readings that are not taken are heard with one bell where they come together.
func TestSentReadingsRingOnce(t *testing.T) {
	rings := 0
	o := real(t, nil)
	o.cable, o.ring = &wire{}, func(n int) { rings += n }
	d := screen(t, o).Waits(session.ForLoad)
	rings = 0
	d.Send(tui.MomentMsg(button(0.1, 0.2, 0.3)))
	d.Expect(Line("3 readings from the cable indicator are not taken, the last +0.300 mm: none"))
	if rings != 1 {
		t.Errorf("%d rings for three readings that nobody asked for, want 1", rings)
	}
}

// A question that is asked once more goes as a reading is sent: Enter does not answer it behind that.
func TestSentReadingTakesTheQuestionAway(t *testing.T) {
	d := cabled(t, &wire{moves: gauge.ErrButton}).Type("-0.326").Enter().Type("r").Expect(Line("Enter once more: sweep again"))
	d.Send(tui.MomentMsg(button(-0.311))).Expect(Nowhere("Enter once more")).Readings(-0.326, -0.311)
	d.Enter().Readings(-0.326, -0.311)
}
