package main

import (
	"strings"
	"sync"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// gaugedScreen is an indicator's line as a screen hears it. It reads whatever the line sends, whether the screen listens or not, and
// hands over what has come of it, seldom.
type gaugedScreen struct {
	feed   *feed
	now    func() time.Time
	unit   geom.Unit
	places int // of a figure on the screen
	wake   chan struct{}

	mu      sync.Mutex // of the feed's reader too
	became  []became   // of the line, and not handed over yet
	stands  became     // as it was handed over last
	pressed []float64
	says    []string
	last    gauge.Moment // handed over last
	handed  time.Time    // when that was, by the machine's own clock
}

// became is what has become of a line: it is lost for a reason, or is there.
type became struct {
	lost    string
	forGood bool
}

const (
	// mostOften is the time between two moments: 20 a second reach the screen.
	mostOften = time.Second / 20
	// nextLook is when a line is looked at that has sent nothing more, for it may have fallen silent.
	nextLook = time.Second
)

// forScreen has a feed heard by a screen; nil where there is none.
func (g *feed) forScreen(w world, set *session.Opened) *gaugedScreen {
	s := &gaugedScreen{feed: g, now: w.now, unit: set.Job.Unit, places: record.ReadingPlaces(set.Job.Dial, set.Job.Unit),
		wake: make(chan struct{}, 1)}
	s.wakes() // how it sends is told from the first
	g.over.Go(s.run)
	return s
}

// run takes in what comes, until the feed is ended.
func (g *gaugedScreen) run() {
	for {
		select {
		case f := <-g.feed.in:
			g.hear(f)
		case text := <-g.feed.asides:
			g.mu.Lock()
			g.says = append(g.says, text)
			g.mu.Unlock()
		case <-g.feed.done:
			return
		}
		g.wakes()
	}
}

// wakes has Next look at what is new.
func (g *gaugedScreen) wakes() {
	select {
	case g.wake <- struct{}{}:
	default:
	}
}

// hear takes in what has happened on the line.
func (g *gaugedScreen) hear(f fed) {
	g.mu.Lock()
	defer g.mu.Unlock()
	r := g.feed.reader
	if f.begins() {
		r.Begin(g.feed.source.midway)
	}
	if f.found {
		g.became = append(g.became, became{})
	}
	if f.lost != nil {
		g.became = append(g.became, became{geom.PrintableLine(f.lost.Error()), f.forGood()})
	}
	r.Add(f.bytes, f.at, func(mm float64) {
		if r.Mode == gauge.Button {
			g.pressed = append(g.pressed, mm)
		}
	})
}

// Name is the source as it was stated.
func (g *gaugedScreen) Name() string { return g.feed.name }

// Next waits for something that the screen does not show yet, but at most so often; false once the feed is ended.
func (g *gaugedScreen) Next() (gauge.Moment, bool) {
	for {
		select {
		case <-g.wake:
		case <-g.look():
		case <-g.feed.done:
			return gauge.Moment{}, false
		}
		g.mu.Lock()
		wait := mostOften - time.Since(g.handed)
		g.mu.Unlock()
		select {
		case <-time.After(wait):
		case <-g.feed.done:
			return gauge.Moment{}, false
		}
		if m, news := g.moment(); news {
			return m, true
		}
	}
}

// look is when to look though nothing comes; never where nothing can have changed by then.
func (g *gaugedScreen) look() <-chan time.Time {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.last.Has && !g.last.Silent || g.feed.reader.Untold() || g.stands.lost == "" && g.feed.reader.Listening() {
		return time.After(nextLook)
	}
	return nil
}

// moment is what is shown now; news is false where the screen shows just that.
func (g *gaugedScreen) moment() (m gauge.Moment, news bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	m = g.feed.reader.Moment(g.now())
	if len(g.became) > 0 { // each for itself, so that none is passed over
		g.stands, g.became = g.became[0], g.became[1:]
	}
	if len(g.became) > 0 {
		g.wakes()
	}
	m.Lost, m.ForGood = g.stands.lost, g.stands.forGood
	g.listen()
	m.Pressed, g.pressed = g.pressed, nil
	m.Says, g.says = g.says, nil
	if !g.handed.IsZero() && g.same(&m) {
		return m, false
	}
	g.last, g.handed = m, time.Now()
	return m, true
}

// listen has it said once that the needle does not come to rest, that a line which is there sends nothing any more, and that it does
// again. The mark beside the needle tells so sooner, but not what to do.
func (g *gaugedScreen) listen() {
	if g.stands.lost != "" {
		return
	}
	for _, line := range g.feed.ails(g.now(), g.unit) {
		g.says = append(g.says, line.Text())
	}
}

// same reports whether the screen shows a moment already.
func (g *gaugedScreen) same(m *gauge.Moment) bool {
	figure := func(m *gauge.Moment) string {
		if !m.Has {
			return ""
		}
		return geom.FormatSigned(g.unit.From(m.Shown()), g.places)
	}
	last := &g.last
	return m.Unread == 0 && len(m.Pressed) == 0 && len(m.Says) == 0 && m.Steady == last.Steady &&
		m.Silent == last.Silent && m.Beyond == last.Beyond && m.Lost == last.Lost && m.ForGood == last.ForGood && figure(m) == figure(last)
}

// Take returns what the needle stands still at now.
func (g *gaugedScreen) Take() (gauge.Mean, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.feed.reader.Mean(g.now())
}

// Forget has what comes from now on count alone. The screen knows that nothing stands still then.
func (g *gaugedScreen) Forget() int {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.last.Steady, g.last.Value = false, g.last.Shown()
	return g.feed.reader.Forget()
}

// asides are what is said of an indicator while a screen is up, where it cannot be written: line by line.
type asides chan string

const mostAsides = 16

// Write takes a line; one too many is dropped, for nobody could read them all.
func (a asides) Write(b []byte) (int, error) {
	select {
	case a <- strings.TrimPrefix(strings.TrimSuffix(string(b), "\n"), "trammel: "):
	default:
	}
	return len(b), nil
}
