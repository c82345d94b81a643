package tui

import (
	"fmt"
	"io"
	"time"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// ReplayConfig is what a replay is opened with.
type ReplayConfig struct {
	Events []session.Record // the first opens a setting
	// At is the event to begin with; 0 stands for the first.
	At int
	// After is a clock that sends once, when so long has passed: the screen has none of its own.
	After func(time.Duration) <-chan time.Time
	// Now is the clock that tells a key that is pressed from one that bounces; nil where none does.
	Now func() time.Time
	// Watch looks at the journal of a session that goes on, every so often; nil where the journal rests.
	Watch func() Seen
	// Writer says who writes that journal, as far as it is known when the screen opens.
	Writer string
	// Warn is told in the status row at first: damage behind the last event.
	Warn string
	// Topics are the pages of help that belong to no step.
	Topics []pane.Topic
	Plain  bool
	In     io.Reader
	Out    io.Writer
	Shell  Shell
}

// Replay is the root of the replay's screen. It looks at events; nothing that is done on it reaches
// the journal.
type Replay struct {
	cfg    ReplayConfig
	line   *timeline
	at     int // the present event, from 1
	view   pane.View
	moment pane.Moment
	window
	page     replayPage
	leaf     int // of the page, from 0
	topics   topics
	playing  bool
	speed    int // index into speeds
	ticket   int // of the wait whose end counts
	surprise int // which surprise was jumped to last, from 1
	typing   bool
	hand     hand
	field    textinput.Model
	changes  []session.Change
	tried    session.WhatIf
	writer   string // who writes the journal, while somebody does
	written  bool   // somebody does
	broken   string // why the journal is not looked at any more
}

// replayPage lies over the work of a replay.
type replayPage uint8

const (
	noReplayPage replayPage = iota
	whatIfPage
	notesPage
	replayHelp
	replayTrials
	replayForm
	replaySetup
	replayTaught
)

// speeds are how many times faster than it was a replay may play.
var speeds = []int{1, 10, 60}

// tickMsg is the end of a wait between two events.
type tickMsg struct{ ticket int }

// NewReplay returns the screen of a journal.
func NewReplay(c ReplayConfig, t theme.Theme) Replay {
	m := Replay{cfg: c, line: newTimeline(c.Events), view: pane.View{Theme: t}, field: newField(t), speed: 1,
		topics: topics{all: c.Topics}, writer: c.Writer, written: c.Watch != nil, hand: newHand(c.Now)}
	m.jump(max(1, min(c.At, len(c.Events))))
	m.view.Status = c.Warn
	m.view.Alarm = c.Warn != ""
	m.stand()
	return m
}

// jump shows event n; a page stays, but for the what-if's.
func (m *Replay) jump(n int) {
	m.at = max(1, min(n, m.line.Len()))
	m.view.Status, m.view.Alarm = "", false
	m.show()
	m.stand()
}

// show makes anew what is drawn of the present event.
func (m *Replay) show() {
	_, st, _ := m.line.Step(m.at)
	look(&m.view, st.After, st.After.Prompt())
	m.moment = m.line.moment(m.at, st)
	m.moment.Speed, m.moment.Playing = speeds[m.speed], m.playing
	for _, c := range m.changes {
		m.moment.Changed = append(m.moment.Changed, c.Event)
	}
}

// Init asks for what is new in a journal that is being written; the size comes by itself.
func (m Replay) Init() tea.Cmd { return m.watch() }

// Update routes a message to the part it concerns, and has a refusal heard.
func (m Replay) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := m.route(msg)
	return next, m.cfg.Shell.sounds(said{next.view.Status, next.view.Alarm}.ringsBehind(said{m.view.Status, m.view.Alarm}), cmd)
}

func (m Replay) route(msg tea.Msg) (Replay, tea.Cmd) {
	if cmd, ok := m.common(msg, func() {}, m.complain); ok {
		fitField(&m.field, m.width)
		return m, cmd
	}
	switch msg := msg.(type) {
	case tickMsg:
		if m.playing && msg.ticket == m.ticket {
			m.jump(m.at + 1)
			return m.wait()
		}
	case seenMsg:
		return m.seen(msg)
	case tea.KeyMsg:
		if m.typing {
			return m.typed(msg)
		}
		var cmd tea.Cmd
		for _, name := range pressedKeys(msg) {
			m, cmd = m.key(name)
		}
		return m, cmd
	}
	return m, nil
}

// complain puts a refusal into the status row.
func (m *Replay) complain(why string) { m.view.Status, m.view.Alarm = why, true }

// wait asks the clock for the time until the next event, real or quickened; at the last one the play
// is over.
func (m Replay) wait() (Replay, tea.Cmd) {
	if m.at >= m.line.Len() {
		m.playing = false
		m.moment.Playing = false
		return m, nil
	}
	m.ticket++
	gap := m.line.since(m.at+1) / time.Duration(speeds[m.speed])
	after, ticket := m.cfg.After, m.ticket
	return m, func() tea.Msg {
		<-after(gap)
		return tickMsg{ticket}
	}
}

// bindings are the keys of this moment.
func (m *Replay) bindings() []keys.Binding {
	if m.page == replayHelp {
		return m.topics.named(keys.ForReplay(m.situation()))
	}
	return keys.ForReplay(m.situation())
}

// situation is what they depend on.
func (m *Replay) situation() keys.Replayed {
	why := ""
	if m.view.FormErr != nil {
		why = m.view.FormErr.Error()
	}
	_, reading := m.cfg.Events[m.at-1].Event.(session.Took)
	return keys.Replayed{
		First: m.at == 1, Last: m.at == m.line.Len(), Page: m.page != noReplayPage, Playing: m.playing,
		Reading: reading, Changed: len(m.changes) > 0, Surprises: len(m.line.surprises) > 0,
		Settings: len(m.line.accepted) > 0, HasNotes: len(m.line.notes) > 0, NoForm: why, Watched: m.cfg.Watch != nil,
	}
}

// key carries out a key by its name: on the list, for the number that is typed, or for what it does.
func (m Replay) key(name string) (Replay, tea.Cmd) {
	// Looking is no answer, and a key is held to run on: only what opens the list or leaves is.
	if why, soon := m.hand.tooSoon(name, name == "q" || name == "*"); soon {
		m.complain(why)
		return m, nil
	}
	if m.page == replayHelp && (name == "/" || name == "esc") {
		m.page, m.view.Status, m.view.Alarm = noReplayPage, "", false
		m.stand()
		return m, nil
	}
	b, ok := keys.Find(m.bindings(), name)
	switch {
	case m.hand.listing:
		return m.listKey(name)
	case m.cfg.Watch == nil && m.hand.digit(name):
		m.typingNumber()
		return m, nil
	case isEnter(name) && m.hand.number != "":
		return m.goTo()
	case name == "esc":
		m.page, m.view.Status, m.view.Alarm = noReplayPage, "", false
		m.hand.turned()
		m.stand()
		return m, nil
	case !ok:
		m.untaken(name)
		return m, nil
	}
	m.hand.number = ""
	return m.do(b)
}

// do carries out a key, or says why it cannot.
func (m Replay) do(b keys.Binding) (Replay, tea.Cmd) {
	switch {
	case b.Action == keys.Enter && m.page == replayHelp:
		m.turnPage(replayHelp)
		return m, nil
	case b.Action == keys.Enter:
		m.page = noReplayPage
		m.hand.turned()
		return m, nil
	case b.Why != "":
		m.complain(b.Help().Desc + ": " + b.Why)
		return m, nil
	}
	return m.act(b.Action)
}

// target is the event that an action goes to.
func (m *Replay) target(a keys.Action) (n int, ok bool) {
	l := m.line
	switch a {
	case keys.Forward:
		return m.at + 1, true
	case keys.Back:
		return m.at - 1, true
	case keys.NextTrial:
		return next(l.trials, m.at, l.Len()), true
	case keys.LastTrial:
		return before(l.trials, m.at, 1), true
	case keys.NextSetting:
		return next(l.accepted, m.at, m.at), true
	case keys.LastSetting:
		return before(l.accepted, m.at, m.at), true
	case keys.Home:
		return 1, true
	case keys.End:
		return l.Len(), true
	default: // a key that goes nowhere
		return 0, false
	}
}

// act carries out what a key is for.
func (m Replay) act(a keys.Action) (Replay, tea.Cmd) {
	if n, ok := m.target(a); ok {
		m.playing = false
		m.jump(n)
		return m, nil
	}
	switch a {
	case keys.Play:
		m.playing = !m.playing
		m.moment.Playing = m.playing
		if m.playing {
			return m.wait()
		}
	case keys.Faster:
		m.speed = (m.speed + 1) % len(speeds)
		m.moment.Speed = speeds[m.speed]
		if m.playing {
			return m.wait()
		}
	case keys.Surprise:
		m.playing = false
		m.surprise = m.surprise%len(m.line.surprises) + 1
		s := m.line.surprises[m.surprise-1]
		m.jump(s.event)
		m.view.Status = fmt.Sprintf("surprise %d of %d: %.1f times what 95 %% of readings stay within", m.surprise, len(m.line.surprises),
			s.times)
		if s.overtaken {
			m.view.Status += "; overtaken: it fits the sweep as that ended"
		}
	case keys.LeaveOut:
		m.change(session.Change{Event: m.at, Out: true})
	case keys.PutRight:
		m.typing, m.playing, m.moment.Playing = true, false, false
		return m, openField(&m.field, fmt.Sprintf("it read, in truth (%s): ", lines.DialWords(&m.view.State, m.view.State.Set.Job.Unit)), m.width)
	case keys.NoChange:
		m.changes, m.page = nil, noReplayPage
		m.jump(m.at)
		m.view.Status = "as it was"
	case keys.List:
		m.hand.showList(true)
		m.hand.question = m.topics.heading(m.page == replayHelp)
		m.playing, m.moment.Playing = false, false
		m.typingNumber()
	case keys.Suspend:
		return m, tea.Suspend
	case keys.Quit:
		return m, tea.Quit
	default:
		m.turnPage(pageOf(a))
	}
	return m, nil
}

// pageOf is the page that a key opens.
func pageOf(a keys.Action) replayPage {
	switch a {
	case keys.WhatIf:
		return whatIfPage
	case keys.Notes:
		return notesPage
	case keys.Trials:
		return replayTrials
	case keys.Form:
		return replayForm
	case keys.Setup:
		return replaySetup
	case keys.Taught:
		return replayTaught
	case keys.Help:
		return replayHelp
	default: // one that opens none closes what is open
		return noReplayPage
	}
}
