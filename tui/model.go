package tui

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// page lies over the work zones until it is closed.
type page uint8

const (
	noPage page = iota
	setupPage
	helpPage
	trialsPage
	taughtPage
	formPage
	listPage
)

// mode is what the keys mean.
type mode uint8

const (
	working mode = iota
	typing       // a text is being typed into the field
)

// Model is the root of the screen.
type Model struct {
	cfg  Config
	view pane.View // what the panes see; rebuilt after every step
	window
	page     page
	leaf     int // of the page, from 0
	topics   topics
	mode     mode
	question question // that the field asks
	field    textinput.Model
	once     *once         // what Enter does if it is pressed once more
	list                   // of all that can be done now, or of answers
	answers  []item[Model] // to what is asked by a list; nil for all that can be done now
	ending   bool          // the page of what was reached lies there until it is left, and whatever is opened closes onto it
	endLeaf  int           // of that page, from 0
	bounce
	swapped bool      // practice: the picture in place of the dial
	queue   []pressed // keys that wait for their turn
	burst   []rune    // the characters of a key in its turn that have not been looked at
	busy    bool      // a step is in flight
	leaving bool      // the screen is about to end
	idle    idleKeys  // what was said of keys that do nothing
	rings   int       // how often the bell is due
	rang    time.Time // when a refusal was last heard
	lost    error     // an entry could not be put on record; nothing more is taken
	unsaid  unsaid
	forgets int // how often the cable indicator was told to
	swings  gauge.Swings
	watched
	gate *gate
}

// NewModel returns the screen of a session that has been opened.
func NewModel(c Config, t theme.Theme) Model {
	m := Model{cfg: c, topics: topics{all: c.Topics}, bounce: bounce{now: c.Now}, field: newField(t), gate: &gate{}}
	m.view = pane.View{Theme: t, Practice: c.Bench != nil, Cabled: c.Cable != nil, Seed: c.Seed,
		End: pane.End{Journal: c.Journal, Plan: c.Plan}}
	m.unsure = true
	m.see(c.Live.State(), c.Live.Asked())
	if s := m.view.State; s.Set != nil {
		m.view.Bearings = s.Set.Bearings
	}
	if s := m.view.State; s.Trial == 1 && s.Sweep.N == 0 && !s.Accepted() {
		m.page = setupPage
	}
	if s := m.view.State; s.Bias.By == 0 && s.Set != nil && !s.Accepted() {
		m.say(m.view.Num(m.view.Plain(lines.FeedbackWords(&s, s.Set.Job.Unit))))
	}
	if s := m.view.State; s.Set != nil && s.Events > 1 {
		if w := lines.ResumedWords(&s); w != "" {
			m.say(w)
		}
	}
	if n := c.faces(m.view.Prompt); n != nil {
		m.needle(*n)
	}
	return m
}

// newField returns the field that a text is typed into. Its cursor does not blink: a screen at rest
// draws nothing.
func newField(t theme.Theme) textinput.Model {
	n := textinput.New()
	n.CharLimit = 500
	n.PromptStyle, n.TextStyle, n.Cursor.Style, n.Cursor.TextStyle = t.Text, t.Text, t.Text, t.Text
	n.Cursor.SetMode(cursor.CursorStatic)
	return n
}

// see takes a new state in, and what it waits for.
func (m *Model) see(s session.State, asked session.Prompt) {
	look(&m.view, s, asked)
	m.follow()
}

// look computes what every pane needs to know of a state, once.
func look(v *pane.View, s session.State, asked session.Prompt) {
	v.Prompt = asked
	v.Fitted, v.FitErr = false, nil
	if s.Set != nil && s.Sweep.Readings() >= fit.MinStations {
		v.Found, v.FitErr = s.Fit()
		v.Fitted = v.FitErr == nil
	}
	v.State = s // its fit with it
	v.Form, v.FormErr = v.State.Form()
}

// noForm says why the form cannot be judged, and what would help once the sweep is closed.
func (m *Model) noForm() string {
	if m.view.FormErr == nil {
		return ""
	}
	why := m.view.FormErr.Error()
	if s := &m.view.State; s.Phase != session.Sweeping && s.Sweep.N > 0 && s.Sweep.Readings() < indicator.MinProfile {
		why += fmt.Sprintf("; at_least = %d in the job", indicator.MinProfile)
	}
	return why
}

func (m *Model) needle(n practice.Needle) {
	m.view.Needle, m.view.NeedleOn = n.Reading, n.Off == ""
}

// Update routes a message to the part it concerns, and has what came of it heard.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := m.route(msg)
	return next.heard(cmd)
}

func (m Model) route(msg tea.Msg) (Model, tea.Cmd) {
	if cmd, ok := m.common(msg, m.turned, func(why string) { m.complain(why, "") }); ok {
		fitField(&m.field, m.width)
		return m, cmd
	}
	switch msg := msg.(type) {
	case steppedMsg:
		return m.stepped(msg)
	case tea.KeyMsg:
		return m.key(msg)
	case momentMsg:
		return m.shows(msg.Moment)
	}
	return m, nil
}

// bindings are the keys of this moment.
func (m *Model) bindings() []keys.Binding {
	all := keys.For(m.situation())
	if m.page == helpPage {
		return m.topics.named(whileHelp(all))
	}
	return all
}

// situation is what they depend on.
func (m *Model) situation() keys.Situation {
	s := keys.Situation{Now: m.view.State.Now(&m.view.Prompt), Practice: m.cfg.Bench != nil, Page: m.page != noPage,
		Needle: m.view.Takes(), Typed: m.view.Entry != "", More: m.more(), Part: m.page == noPage && m.view.Piece > 0, NoForm: m.noForm(),
		Lost: m.lost != nil}
	s.Hand = m.byHand()
	if m.ending {
		s.Now, s.End, s.Over = s.Now.Over(), m.endKey(), m.view.State.Phase == session.Ended
	}
	return s
}

// say puts a line into the status row.
func (m *Model) say(text string) { m.view.Status, m.view.Alarm = text, false }

// calm takes a refusal out of the status row: the key behind it was taken.
func (m *Model) calm() {
	if m.view.Alarm && m.lost == nil {
		m.say("")
	}
}

// complain puts a refusal into the status row, with what to do about it.
func (m *Model) complain(text, hint string) {
	if hint != "" {
		text += "; " + hint
	}
	if now := m.cfg.Now(); !m.view.Alarm || m.view.Status != text || !within(now, m.rang, time.Second) {
		m.rings, m.rang = max(m.rings, refused), now
	}
	m.view.Status, m.view.Alarm = text, true
}
