package tui

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// OpenConfig is what a page of numbered answers is opened with: the one that asks what is to become of sessions that are open,
// the start page, and those behind it.
type OpenConfig struct {
	// Title says what is open, or asked. Answers are the answers, the one that Enter alone takes first.
	Title   string
	Answers []string
	// Takes says in large letters what Enter alone does, Leaves what / does; empty: go on, and leave.
	Takes, Leaves string
	// Names says that what is no number is the name of a file.
	Names bool
	// Said is what was said of what was done before, line by line; Alarm that it went wrong.
	Said  []string
	Alarm bool
	// Topics are the pages of help that belong to no step.
	Topics []pane.Topic
	Now    func() time.Time
	Plain  bool
	In     io.Reader
	Out    io.Writer
	Shell  Shell
}

// OpenModel is that page.
type OpenModel struct {
	view  pane.OpenView
	shell Shell
	window
	leaf   int // of the answers, from 0
	hand   hand
	topics topics
	read   int // the leaf of the page of help, from 0
	keys   keys.Menu
	names  bool
	// Taken is the number of the answer, from 1; 0 where the page was left without. Named is a name that was typed in its place.
	Taken int
	Named string
}

// NewOpenModel returns the page.
func NewOpenModel(c OpenConfig, t theme.Theme) OpenModel {
	m := OpenModel{view: pane.OpenView{Theme: t, Title: c.Title, Answers: c.Answers, Takes: c.Takes, Said: c.Said, Wrong: c.Alarm},
		hand: hand{bounce: bounce{now: c.Now}}, topics: topics{all: c.Topics}, shell: c.Shell, names: c.Names,
		keys: keys.Menu{Takes: "go on with 1", Leaves: "leave", Help: len(c.Topics) > 0}}
	if c.Takes != "" {
		m.keys.Takes = "1, " + c.Takes
	}
	if c.Leaves != "" {
		m.keys.Leaves = c.Leaves
	}
	return m
}

// AskOpen asks what is to become of sessions that are open, and returns the number of the answer; 0 where the page was left.
func AskOpen(ctx context.Context, c OpenConfig) (int, error) {
	n, _, err := Pick(ctx, c)
	return n, err
}

// Pick asks for one of some answers, and returns its number, or the name that was typed in its place; 0 and none where the page was
// left.
func Pick(ctx context.Context, c OpenConfig) (n int, name string, err error) {
	last, err := show(ctx, NewOpenModel(c, styles(c.Out, c.Plain, c.Shell)), c.In, c.Out, c.Shell)
	if end, ok := last.(OpenModel); ok && err == nil && ctx.Err() == nil {
		return end.Taken, end.Named, nil
	}
	return 0, "", err
}

// Init asks for nothing: the size comes by itself.
func (m OpenModel) Init() tea.Cmd { return nil }

// Update routes a message, and has a refusal heard.
func (m OpenModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := m.route(msg)
	return next, m.shell.sounds(said{next.view.Status, next.view.Alarm}.ringsBehind(said{m.view.Status, m.view.Alarm}), cmd)
}

func (m OpenModel) route(msg tea.Msg) (OpenModel, tea.Cmd) {
	if cmd, ok := m.common(msg, m.hand.turned, m.complain); ok {
		return m, cmd
	}
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if m.Taken == 0 && m.Named == "" {
			return m.key(msg)
		}
	}
	return m, nil
}

// complain puts a refusal into the status row.
func (m *OpenModel) complain(words string) { m.view.Status, m.view.Alarm = words, true }

// key takes a key. What a cable types is typed too, and so is refused as a whole: the Enter behind it must answer nothing.
func (m OpenModel) key(k tea.KeyMsg) (OpenModel, tea.Cmd) {
	name := k.String()
	b, ok := keys.Find(m.bindings(), name)
	if leaves := ok && b.Action == keys.Quit && name != "/"; leaves {
		return m, tea.Quit
	}
	bare := m.view.Entry == "" && ok && !m.hand.listing && (b.Action == keys.Enter || b.Action == keys.Quit || b.Action == keys.List)
	if m.hand.bounce.tooSoon(m.hand.now(), name, bare) || !m.drawn {
		m.complain(soonWords(name))
		return m, nil
	}
	m.view.Status, m.view.Alarm = "", false
	switch {
	case m.hand.listing && !(ok && b.Action == keys.Suspend):
		return m.listKey(name)
	case ok:
		return m.act(b.Action, name)
	case m.topics.at > 0:
		m.complain(nothing(name, "Enter goes on"))
	case k.Type == tea.KeySpace && m.names, k.Type == tea.KeyRunes && !k.Alt && (k.Paste || len(k.Runes) > 1 || numeric(name) || m.names):
		most := maxEntry
		if m.names {
			most = maxPath
		}
		if room := most - len([]rune(m.view.Entry)); room > 0 {
			m.view.Entry += string(k.Runes[:min(room, len(k.Runes))])
		}
	default:
		m.complain(nothing(name, "type a number, Enter takes it"))
	}
	return m, nil
}

// bindings are the keys of this moment.
func (m *OpenModel) bindings() []keys.Binding {
	if m.hand.listing || m.topics.at > 0 {
		return keys.ForAskPage(m.hand.listing, true)
	}
	k := m.keys
	k.Typed = m.view.Entry != ""
	k.Name = m.names && strings.ContainsFunc(m.view.Entry, func(r rune) bool { return r < '0' || r > '9' })
	return keys.ForMenu(k)
}

// maxPath bounds the name of a file.
const maxPath = 400

// act does what a key is for.
func (m OpenModel) act(a keys.Action, name string) (OpenModel, tea.Cmd) {
	switch a {
	case keys.Enter:
		if m.topics.at > 0 {
			m.turnTopic()
			return m, nil
		}
		return m.enter()
	case keys.List:
		m.showList(m.topics.at > 0)
	case keys.Help:
		m.showList(true)
	case keys.Clear:
		if m.topics.at > 0 {
			m.closeTopic()
			return m, nil
		}
		if m.view.Entry = strings.TrimSuffix(m.view.Entry, lastRune(m.view.Entry)); !m.names || name == "/" || name == "esc" {
			m.view.Entry = ""
		}
	case keys.Suspend:
		return m, tea.Suspend
	case keys.Quit:
		return m, tea.Quit
	default:
	}
	return m, nil
}

// enter takes the answer whose number was typed, else the first; 0 turns to the next leaf.
func (m OpenModel) enter() (OpenModel, tea.Cmd) {
	typed, n, all := m.view.Entry, 1, len(m.view.Answers)
	m.view.Entry = ""
	if m.names && typed != "" && strings.Trim(typed, "0123456789") != "" {
		m.Named = strings.TrimSpace(typed)
		return m, tea.Quit
	}
	if typed != "" {
		var err error
		if n, err = strconv.Atoi(typed); err != nil || strings.ContainsAny(typed, "+-") || n < 0 || n > all {
			m.complain(fmt.Sprintf("%q is no answer here, need 1 to %d", typed, all))
			return m, nil
		}
	}
	if n == 0 {
		m.hand.turned()
		m.leaf, _ = m.page().Next(m.leaf)
		return m, nil
	}
	m.Taken = n
	return m, tea.Quit
}

// View draws the page.
func (m OpenModel) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	switch {
	case m.hand.listing:
		return m.list().Draw(m.hand.listLeaf)
	case m.topics.at > 0:
		return m.topicPage().Draw(m.read)
	}
	return m.page().Draw(m.leaf)
}

// page is the page in this window.
func (m *OpenModel) page() pane.Leaves {
	return pane.Open(&m.view, m.bindings(), m.width, m.height)
}

// lastRune is the last character of a text.
func lastRune(s string) string {
	_, n := utf8.DecodeLastRuneInString(s)
	return s[len(s)-n:]
}
