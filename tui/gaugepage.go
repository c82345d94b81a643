package tui

import (
	"context"
	"io"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// GaugeFeed is a cable indicator's line as its bytes come, for the page that sets it up.
type GaugeFeed interface {
	// Next waits for something new, and comes back 20 times a second at the most; false once another is opened, or all is ended.
	Next() ([]GaugeNews, bool)
}

// GaugeNews is one thing that has happened on the line.
type GaugeNews struct {
	Bytes []byte
	At    time.Time
	Found bool   // it is there again
	Lost  string // why it is gone; empty where it is not
	Said  string // what the program that reads it complains of
}

// GaugeConfig is what the page that sets a cable indicator up is opened with.
type GaugeConfig struct {
	Try *gauge.Trying // the page's alone, from now on
	// Open opens the line, in the place of the one that was opened before; midway says that it may be sending already. It takes
	// its time, and is called off the loop.
	Open func(gauge.Settings) (f GaugeFeed, midway bool, err error)
	// Ports are the serial lines that are there.
	Ports func() []string
	// Changes says what keeping it does, in words, and the lines to read before; none where there is nothing to do.
	Changes func(gauge.Settings) (does string, read []string, err error)
	Now     func() time.Time
	Plain   bool
	In      io.Reader
	Out     io.Writer
	Shell   Shell
}

// GaugeModel is the page.
type GaugeModel struct {
	cfg     GaugeConfig
	began   gauge.Settings
	feed    GaugeFeed // nil where none is open
	opening bool
	view    pane.GaugeView
	hand    hand
	listed  []item[GaugeModel] // the lines of the list, while it is shown
	end     gaugeEnd
	window
	// Kept says that what is set is to be kept.
	Kept bool
}

// gaugeEnd is what ends the page, which was asked for and is asked for once more.
type gaugeEnd uint8

const (
	noEnd gaugeEnd = iota
	keepEnd
	leaveEnd
)

// NewGaugeModel returns the page.
func NewGaugeModel(c GaugeConfig, t theme.Theme) GaugeModel {
	m := GaugeModel{cfg: c, began: c.Try.Settings(), hand: newHand(c.Now), view: pane.GaugeView{Theme: t}, opening: true}
	m.see()
	return m
}

// SetUpGauge shows the page until it is left; kept says that what is set then is to be kept.
func SetUpGauge(ctx context.Context, c GaugeConfig) (s gauge.Settings, kept bool, err error) {
	last, err := show(ctx, NewGaugeModel(c, styles(c.Out, c.Plain, c.Shell)), c.In, c.Out, c.Shell)
	end, ok := last.(GaugeModel)
	return c.Try.Settings(), ok && end.Kept && err == nil && ctx.Err() == nil, err
}

// gaugeOpenedMsg is a line that is open now, or why it is not.
type gaugeOpenedMsg struct {
	feed   GaugeFeed
	midway bool
	err    error
}

// gaugeNewsMsg is what has happened on a line.
type gaugeNewsMsg struct {
	of   GaugeFeed
	news []GaugeNews
}

// Init opens the line.
func (m GaugeModel) Init() tea.Cmd { return m.open() }

func (m *GaugeModel) open() tea.Cmd {
	open, s := m.cfg.Open, m.cfg.Try.Settings()
	return func() tea.Msg {
		f, midway, err := open(s)
		return gaugeOpenedMsg{f, midway, err}
	}
}

// reopen opens the line anew.
func (m *GaugeModel) reopen() tea.Cmd {
	m.opening, m.feed, m.view.Gone = true, nil, ""
	return m.open()
}

// listen waits for what comes then.
func listen(f GaugeFeed) tea.Cmd {
	return func() tea.Msg {
		news, more := f.Next()
		if !more {
			return nil
		}
		return gaugeNewsMsg{f, news}
	}
}

// Update routes a message, and has a refusal heard.
func (m GaugeModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := m.route(msg)
	return next, m.cfg.Shell.sounds(said{next.view.Status, next.view.Alarm}.ringsBehind(said{m.view.Status, m.view.Alarm}), cmd)
}

func (m GaugeModel) route(msg tea.Msg) (GaugeModel, tea.Cmd) {
	if cmd, ok := m.common(msg, m.hand.turned, m.complain); ok {
		return m, cmd
	}
	switch msg := msg.(type) {
	case gaugeOpenedMsg:
		return m.opened(msg)
	case gaugeNewsMsg:
		if msg.of != m.feed {
			return m, nil // of a line that was left
		}
		m.hear(msg.news)
		return m, listen(m.feed)
	case tea.KeyMsg:
		var cmd tea.Cmd
		for _, name := range pressedKeys(msg) {
			if m, cmd = m.key(name); cmd != nil {
				break
			}
		}
		return m, cmd
	}
	return m, nil
}

// complain puts a refusal into the status row; of nothing it takes one away.
func (m *GaugeModel) complain(why string) { m.view.Status, m.view.Alarm = why, why != "" }

// opened takes in a line that is open, or says why there is none.
func (m GaugeModel) opened(msg gaugeOpenedMsg) (GaugeModel, tea.Cmd) {
	m.opening = false
	m.cfg.Try.Begin(msg.midway)
	if m.view.Gone = ""; msg.err != nil {
		m.view.Gone = msg.err.Error()
		m.see()
		return m, nil
	}
	m.feed = msg.feed
	m.see()
	return m, listen(m.feed)
}

// hear takes in what has happened on the line.
func (m *GaugeModel) hear(news []GaugeNews) {
	for _, n := range news {
		switch {
		case n.Lost != "":
			m.view.Gone = n.Lost
			m.cfg.Try.Begin(true)
		case n.Said != "":
			m.view.Status, m.view.Alarm = n.Said, false
		case n.Found:
			m.view.Gone = ""
		}
		if len(n.Bytes) > 0 {
			m.cfg.Try.Add(n.Bytes, n.At)
		}
	}
	m.see()
}

// mostShown is how many lines are shown at most, in the largest window.
const mostShown = 40

// see takes in what has come, and how it is set.
func (m *GaugeModel) see() {
	x, v := m.cfg.Try, &m.view
	v.Source, v.Tail, v.Advice, v.Heard, v.Set = x.Settings().Source, x.Tail(), x.Advice(), nil, nil
	v.Came, v.Read = x.Lines()
	for _, h := range x.Heard(mostShown) {
		row := pane.GaugeHeard{Raw: h.Raw, Means: x.Length(h.MM)}
		if h.Why != nil {
			row.Means, row.Bad = h.Because(), true
		}
		v.Heard = append(v.Heard, row)
	}
	v.Now = ""
	if mm, ok := x.Now(); ok {
		if v.Now = x.Length(mm); mm > 0 {
			v.Now = "+" + v.Now
		}
	}
	v.Steady = false
	if m.cfg.Now != nil {
		_, moves := x.Steady(m.cfg.Now())
		v.Steady = moves == nil
	}
	for i := range gauge.Knobs {
		if k := &gauge.Knobs[i]; k.Acts(x) {
			v.Set = append(v.Set, pane.GaugeSet{Words: k.Words, Is: k.Now(x)})
		}
	}
}

// keys are the bindings of what is shown.
func (m *GaugeModel) keys() []keys.Binding {
	return keys.ForGauge(keys.Gauged{List: m.hand.listing, Once: m.end != noEnd, Gone: m.feed == nil})
}

// View draws the page.
func (m GaugeModel) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	if m.hand.listing {
		return m.list().Draw(m.hand.listLeaf)
	}
	return pane.Gauge(&m.view, m.keys(), m.width, m.height)
}

// list is the list as it is shown.
func (m *GaugeModel) list() pane.Leaves {
	return pane.GaugeList(&m.view, m.keys(), m.hand.question, wordsOf(m.listed), m.hand.list.listed, m.width, m.height)
}
