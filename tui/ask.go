package tui

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/job"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// AskConfig is what the pages of some questions are opened with.
type AskConfig struct {
	Q job.Asking
	// Title says what is asked about.
	Title string
	// Keep keeps what is answered, after every answer that is taken or taken back; nil where nothing is kept. It may write to a
	// disk, so it is called off the loop.
	Keep func(job.Asking) error
	// Told is what there is to tell of the answers so far, each once, before the next question; nil for nothing.
	Told func(job.Asking) []string
	// Topics are the pages of help that belong to no step.
	Topics []pane.Topic
	// Now is the clock that tells a key that is pressed from one that bounces.
	Now   func() time.Time
	Plain bool
	In    io.Reader
	Out   io.Writer
	Shell Shell
}

// AskModel is a page for each of some questions.
type AskModel struct {
	q      job.Asking
	keep   func(job.Asking) error
	told   func(job.Asking) []string
	view   pane.AskView
	hand   hand
	topics topics
	shell  Shell
	window
	leaf    int  // of the question, or of its explanation, from 0
	help    bool // the explanation lies over the question
	leaving bool // that is asked for once more
	keeping bool // an answer is being kept: keys wait
	queue   []pressed
	slip    slip
	done    bool // all is answered, and that was confirmed
}

// NewAskModel returns the pages.
func NewAskModel(c AskConfig, t theme.Theme) AskModel {
	m := AskModel{q: c.Q, keep: c.Keep, told: c.Told, hand: newHand(c.Now), shell: c.Shell, topics: topics{all: c.Topics},
		view: pane.AskView{Theme: t, Title: c.Title}}
	m.see()
	return m
}

// Ask asks page by page, and returns what was answered; done is false where the pages were left before all was. Where nothing
// is to be asked no page is shown.
func Ask(ctx context.Context, c AskConfig) (q job.Asking, done bool, err error) {
	if _, more := c.Q.Next(); !more {
		return c.Q, true, nil
	}
	last, err := show(ctx, NewAskModel(c, styles(c.Out, c.Plain, c.Shell)), c.In, c.Out, c.Shell)
	end, ok := last.(AskModel)
	if !ok {
		return c.Q, false, err
	}
	return end.q, end.done && err == nil && ctx.Err() == nil, err
}

// Answers are what was answered so far, and whether all is and was confirmed.
func (m AskModel) Answers() (q job.Asking, done bool) { return m.q, m.done }

// see takes in what is asked now.
func (m *AskModel) see() {
	now, more := m.q.Next()
	m.view.Question, m.view.Over, m.view.About, m.view.Given = now, !more, m.q.About(), m.q.Answered()
	m.view.Cuts = m.q.Cuts()
	m.view.Entry, m.leaf, m.help, m.leaving, m.slip = "", 0, false, false, slip{}
	m.view.Told = nil
	if m.told != nil {
		m.view.Told = m.told(m.q)
	}
	m.hand.showList(false)
}

// Init asks for nothing: the size comes by itself.
func (m AskModel) Init() tea.Cmd { return nil }

// Update routes a message, and has a refusal heard.
func (m AskModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := m.route(msg)
	return next, m.shell.sounds(said{next.view.Status, next.view.Alarm}.ringsBehind(said{m.view.Status, m.view.Alarm}), cmd)
}

func (m AskModel) route(msg tea.Msg) (AskModel, tea.Cmd) {
	if cmd, ok := m.common(msg, m.hand.turned, m.complain); ok {
		return m, cmd
	}
	switch msg := msg.(type) {
	case keptMsg:
		return m.kept(msg)
	case tea.KeyMsg:
		m.queue = append(slices.Clip(m.queue), pressed{KeyMsg: msg, at: m.at()})
		return m.work()
	}
	return m, nil
}

// at is the time now; the zero time where no key is too soon.
func (m *AskModel) at() time.Time {
	if m.hand.now == nil {
		return time.Time{}
	}
	return m.hand.now()
}

// work takes the keys that wait, as long as no answer is being kept and the pages are not left.
func (m AskModel) work() (AskModel, tea.Cmd) {
	for len(m.queue) > 0 && !m.keeping && !m.done {
		k := m.queue[0]
		m.queue = m.queue[1:]
		var cmd tea.Cmd
		if m, cmd = m.key(k); cmd != nil {
			return m, cmd
		}
	}
	return m, nil
}

// complain puts a refusal into the status row; of nothing it takes one away.
func (m *AskModel) complain(why string) { m.view.Status, m.view.Alarm = why, why != "" }

// keys are the bindings of what is shown.
func (m *AskModel) keys() []keys.Binding {
	if m.hand.listing || m.help {
		return keys.ForAskPage(m.hand.listing, m.topics.lists())
	}
	a := keys.Asked{Typed: m.view.Entry != "", Text: m.isText(), Begun: m.q.Begun(), Takes: pane.Takes(&m.view.Question), Once: m.leaving,
		Part: m.leaf > 0, Path: m.view.Question.Path && !m.view.Over}
	if m.view.Over {
		a.Takes = "go on"
	}
	if m.width > 0 { // else nothing is drawn yet
		a.More = m.leaf < pane.Ask(&m.view, nil, m.width, m.height).N-1
	}
	return keys.ForAsk(a)
}

// isText reports whether the answer is a text, into which letters go.
func (m *AskModel) isText() bool {
	q := &m.view.Question
	return !m.view.Over && !q.Closed && !q.Numeral && !q.Two && (len(q.Choices) == 0 || q.Path)
}

// key takes a key. What a cable types is typed too, and judged as a whole.
func (m AskModel) key(k pressed) (AskModel, tea.Cmd) {
	name := k.String()
	b, ok := keys.Find(m.keys(), name)
	burst := k.Paste || len(k.Runes) > 1
	ok = ok && !burst
	if name == "ctrl+c" {
		if m.leaving {
			return m, tea.Quit
		}
		m.help = false
		m.hand.showList(false)
		return m.leave()
	}
	bare := ok && m.view.Entry == "" && m.hand.listed == "" && b.Action != keys.Suspend ||
		m.slip.asked != "" && isEnter(name) && !m.hand.listing // which confirms
	if m.hand.now != nil && m.hand.bounce.tooSoon(k.at, name, bare) || !m.drawn && bare {
		m.complain(soonWords(name))
		return m, nil
	}
	m.complain("")
	switch {
	case m.hand.listing:
		return m.listKey(name)
	case m.leaving:
		return m.leaveKey(name)
	case name == "/" && !m.help && m.bar():
	case ok && !(name == "q" && m.view.Entry != ""):
		return m.act(b.Action)
	case m.help, m.view.Over:
		m.complain(nothing(name, "Enter goes on"))
	case offPad[name]:
		m.complain("Num Lock seems to be off: the keypad sends arrows, not digits; switch it on")
	case k.Type == tea.KeySpace, k.Type == tea.KeyRunes && !k.Alt:
		m.types(k.Runes)
	default:
		m.complain(nothing(name, "* lists what can be done"))
	}
	return m, nil
}

// maxAnswer bounds what is typed for an answer; a machine's name may be 60 bytes.
const maxAnswer = 80

// types puts characters into the entry. Where the answer is no text its first one begins a number, or is the d of a diameter: a
// choice is answered by its words too.
func (m *AskModel) types(chars []rune) {
	most := maxAnswer
	if m.view.Question.Path {
		most = maxPath
	}
	if room := most - len([]rune(m.view.Entry)); room > 0 {
		m.view.Entry += string(chars[:min(room, len(chars))])
	}
}

// act does what a key is for.
func (m AskModel) act(a keys.Action) (AskModel, tea.Cmd) {
	switch a {
	case keys.Enter:
		return m.enter()
	case keys.Clear:
		if m.help {
			m.help, m.leaf = false, 0
			m.hand.turned()
			return m, nil
		}
		m.clear()
	case keys.Before:
		return m.back()
	case keys.List:
		m.hand.showList(true)
		m.hand.question = m.topics.heading(m.help)
	case keys.Help:
		m.help, m.leaf, m.topics.at = true, 0, 0
		m.hand.turned()
	case keys.Suspend:
		return m, tea.Suspend
	case keys.Quit:
		return m.leave()
	default:
	}
	return m, nil
}

// enter shows what comes then, or takes what is typed, or what is proposed.
func (m AskModel) enter() (AskModel, tea.Cmd) {
	entry := m.view.Entry
	switch {
	case m.help:
		if m.leaf, m.help = m.explanation().Next(m.leaf); !m.help {
			m.leaf = 0
		}
		m.hand.turned()
		return m, nil
	case entry == "":
		next, more := pane.Ask(&m.view, nil, m.width, m.height).Next(m.leaf)
		if more {
			m.leaf = next
			m.hand.turned()
			return m, nil
		}
	case m.view.Question.Two && len(strings.Fields(entry)) == 1 && !strings.HasSuffix(entry, " "):
		m.view.Entry += " "
		return m, nil
	}
	if m.view.Over {
		m.done = true
		return m, tea.Quit
	}
	if why := m.doubt(entry); why != "" {
		m.complain(why)
		return m, nil
	}
	return m.answer(entry)
}

// answer takes an answer, which is kept before the next question is shown.
func (m AskModel) answer(text string) (AskModel, tea.Cmd) {
	if strings.TrimSpace(text) == job.Back {
		return m.back()
	}
	next, err := m.q.Answer(text)
	return m.taken(next, err)
}

// back shows the leaf before, or goes to the question before.
func (m AskModel) back() (AskModel, tea.Cmd) {
	if m.leaf > 0 {
		m.leaf--
		m.hand.turned()
		return m, nil
	}
	next, err := m.q.Back()
	return m.taken(next, err)
}

// taken goes on with what is answered now, or says why it is refused.
func (m AskModel) taken(next job.Asking, err error) (AskModel, tea.Cmd) {
	if err != nil {
		why := onKeys.Replace(err.Error())
		var advice interface{ Hint() string }
		if errors.As(err, &advice) {
			if hint := onKeys.Replace(advice.Hint()); hint != "" && !strings.Contains(why, hint) {
				why += "; " + hint
			}
		}
		m.view.Entry = ""
		m.complain(why)
		m.hand.turned()
		return m, nil
	}
	if m.keep == nil {
		return m.kept(keptMsg{q: next})
	}
	m.keeping = true
	keep := m.keep
	return m, func() tea.Msg { return keptMsg{next, keep(next)} }
}

// onKeys are words for a person at a keypad: what is typed in lines has keys and a list here.
var onKeys = strings.NewReplacer("; "+job.LineWords, "", job.LineWords, "", job.Unknown+" leaves it out", "* lists don't know",
	"one of true, false", "yes or no")

// keptMsg is what is answered now, and why it could not be kept.
type keptMsg struct {
	q   job.Asking
	err error
}

// kept shows the next question. That an answer could not be kept is told, and it stands all the same.
func (m AskModel) kept(msg keptMsg) (AskModel, tea.Cmd) {
	m.q, m.keeping = msg.q, false
	m.see()
	if msg.err != nil {
		m.complain("not kept against a power cut: " + msg.err.Error())
	}
	return m.work()
}

// leave asks once more where something is answered.
func (m AskModel) leave() (AskModel, tea.Cmd) {
	if !m.q.Begun() {
		return m, tea.Quit
	}
	m.leaving, m.view.Entry = true, ""
	m.view.Once = "leave; nothing is written"
	if m.keep != nil {
		m.view.Once = "leave; what is answered is kept"
	}
	m.hand.turned()
	return m, nil
}

// leaveKey leaves with Enter, and stays with any other key.
func (m AskModel) leaveKey(name string) (AskModel, tea.Cmd) {
	if isEnter(name) {
		return m, tea.Quit
	}
	m.leaving, m.view.Once = false, ""
	m.hand.turned()
	return m, nil
}
