package tui

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/record"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// PlanConfig is what the plan's screen is opened with.
type PlanConfig struct {
	Plan *record.Plan
	// Reach says how far arcs are, by number.
	Reach map[int]pane.Standing
	// Worry is the blend to worry about most, in words with its figure; empty where there is none.
	Worry string
	// Wrong is what went wrong with what was done last; empty for nothing.
	Wrong string
	// Turn turns the side of the metal of the closed element that arc or straight n belongs to, and returns the plan
	// as it is then with what was done; or, without a plan, why it cannot. It may write to a disk, so it is called off the loop.
	Turn func(n int) (p *record.Plan, why string)
	// Cutters says that the screen may be left to name the cutters at hand.
	Cutters bool
	// Check says why an arc cannot be set as the files are now, and what to do; nothing where it can.
	Check func(n int) (why, hint string)
	// Where is where one is with the whole part; nil where nobody asks.
	Where *record.Where
	// Now is the clock that tells a key that is pressed from one that bounces; nil where none does.
	Now func() time.Time
	// Topics are the pages of help that belong to no step.
	Topics []pane.Topic
	Plain  bool
	In     io.Reader
	Out    io.Writer
	Shell  Shell
}

// PlanModel is the screen of a plan: the outline, and the arc that is to be set.
type PlanModel struct {
	view    pane.PlanView
	check   func(n int) (why, hint string)
	turn    func(n int) (*record.Plan, string)
	turning bool // until the plan is there again
	names   bool // cutters can be named
	window
	help   bool
	hand   hand
	leaf   int // of the help page, from 0
	again  int // the arc that is set already, and is asked for once more; 0 for none
	topics topics
	shell  Shell
	// Taken is the number of the arc that was chosen, 0 where the screen was left without.
	Taken int
	// Cutters says that it was left to name the cutters at hand.
	Cutters bool
	// Ticked is the number of the element that was ticked off.
	Ticked int
}

// NewPlanModel returns the screen of a plan.
func NewPlanModel(c PlanConfig, t theme.Theme) PlanModel {
	v := pane.NewPlanView(t, c.Plan, c.Reach)
	v.Worry, v.Status, v.Alarm, v.Where = c.Worry, c.Wrong, c.Wrong != "", c.Where
	m := PlanModel{view: v, check: c.Check, turn: c.Turn, names: c.Cutters, hand: newHand(c.Now), shell: c.Shell,
		topics: topics{all: c.Topics}}
	if c.Where != nil {
		// Every arc is set, and something is left for the slides; or they mill off ahead of the next one.
		if next := c.Where.Next; next != nil && (m.view.None() || m.view.Plan.Mill(next.N) != nil) {
			m.view.Chosen = slices.Index(m.view.Rows, c.Where.Next.N)
		}
		m.topics.all = append(m.topics.all[:len(m.topics.all):len(m.topics.all)], wherePage(c.Where))
	}
	return m
}

// Init asks for nothing: the size comes by itself.
func (m PlanModel) Init() tea.Cmd { return nil }

// Update routes a message, and has a refusal heard.
func (m PlanModel) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := m.route(msg)
	return next, m.shell.sounds(said{next.view.Status, next.view.Alarm}.ringsBehind(said{m.view.Status, m.view.Alarm}), cmd)
}

func (m PlanModel) route(msg tea.Msg) (PlanModel, tea.Cmd) {
	if cmd, ok := m.common(msg, m.hand.turned, m.complain); ok {
		return m, cmd
	}
	switch msg := msg.(type) {
	case turnedMsg:
		m.turning = false
		m.view.Turned(msg.plan, msg.why)
		m.hand.turned()
	case tea.KeyMsg:
		var cmd tea.Cmd
		for _, name := range pressedKeys(msg) {
			if m.turning {
				break
			}
			m, cmd = m.key(name)
		}
		return m, cmd
	}
	return m, nil
}

// key takes a key by its name: to the list, to the number that is typed, or for what it does.
func (m PlanModel) key(name string) (PlanModel, tea.Cmd) {
	b, ok := keys.Find(m.keys(), name)
	answers := ok && (b.Action == keys.Enter || b.Action == keys.TurnSide || b.Action == keys.List || name == "q" || name == "/")
	if why, soon := m.hand.tooSoon(name, answers); soon {
		m.complain(why)
		return m, nil
	}
	m.complain("")
	again := m.again
	m.again = 0
	switch {
	case m.hand.listing:
		return m.listKey(name)
	case again > 0 && (name == "/" || name == "esc"):
		m.hand.turned()
		return m, nil
	case again > 0 && isEnter(name):
		return m.take(again)
	case m.help && (name == "/" || name == "esc"):
		m.help, m.view.Page = false, false
		m.hand.turned()
		return m, nil
	case m.hand.digit(name):
		return m, nil
	case isEnter(name) && m.hand.number != "":
		return m.goTo()
	case !ok && name != "esc":
		m.complain(nothing(name, seeKeys))
		return m, nil
	case !ok:
		m.help, m.view.Page = false, false
		return m, nil
	}
	m.hand.number = ""
	return m.act(b)
}

// complain says why something is refused; nothing takes back what was said last.
func (m *PlanModel) complain(why string) { m.view.Status, m.view.Alarm = why, why != "" }

// items are the lines of the list.
func (m *PlanModel) items() []item[PlanModel] {
	if m.help && m.topics.lists() {
		return topicItems(m.topics.all, PlanModel.openTopic)
	}
	return listedKeys(m.keys(), PlanModel.act)
}

// listKey takes a key while the list is shown.
func (m PlanModel) listKey(name string) (PlanModel, tea.Cmd) {
	switch m.hand.listKey(name) {
	case typedOn:
		return m, nil
	case closed:
		m.hand.showList(false)
		return m, nil
	case passed:
		m.hand.showList(false)
		return m.key(name)
	case picked:
	}
	all := m.items()
	n, why := m.hand.list.number(len(all), m.hand.leaves(m.view.Theme, wordsOf(all), m.width, m.body()))
	if n == 0 {
		m.complain(why)
		return m, nil
	}
	m.hand.showList(false)
	return all[n-1].do(m)
}

// goTo chooses the element whose number was typed.
func (m PlanModel) goTo() (PlanModel, tea.Cmd) {
	n, _ := strconv.Atoi(m.hand.number)
	m.hand.number = ""
	i := slices.Index(m.view.Rows, n)
	if i < 0 {
		m.complain(fmt.Sprintf("there is no element %d in the order of cutting", n))
		return m, nil
	}
	m.view.Chosen, m.help, m.view.Page = i, false, false
	m.hand.turned()
	return m, nil
}

// turnedMsg is the plan with a side turned, or why it is not.
type turnedMsg struct {
	plan *record.Plan
	why  string
}

// keys are the bindings that act now.
func (m *PlanModel) keys() []keys.Binding {
	all := keys.ForPlan(m.planned(m.help))
	if m.help {
		return m.topics.named(all)
	}
	return all
}

// planned is what they depend on; page says that a page lies over the plan.
func (m *PlanModel) planned(page bool) keys.Planned {
	v := &m.view
	return keys.Planned{Page: page, Why: v.Why(), Turns: m.turn != nil, Names: m.names, None: v.None(), Again: v.IsSet(v.N()),
		Set: v.AnySet(), Where: v.Where != nil, Ticks: v.Ticks()}
}

// turnSide has the side of the chosen element turned.
func (m PlanModel) turnSide() (PlanModel, tea.Cmd) {
	turn, n := m.turn, m.view.N()
	m.turning = true
	return m, func() tea.Msg {
		p, why := turn(n)
		return turnedMsg{p, why}
	}
}

// act does what a key is for.
func (m PlanModel) act(b keys.Binding) (PlanModel, tea.Cmd) {
	m.view.Status, m.view.Alarm = "", false
	if b.Why != "" {
		m.complain(b.Why)
		return m, nil
	}
	switch b.Action {
	case keys.Up:
		m.view.Before()
	case keys.Down:
		m.view.Chosen = min(len(m.view.Rows)-1, m.view.Chosen+1)
	case keys.List:
		m.hand.showList(true)
		m.hand.question = m.topics.heading(m.help)
	case keys.Help:
		m.turnHelp()
	case keys.Enter:
		return m.enter()
	case keys.TurnSide:
		return m.turnSide()
	case keys.Where:
		return m.openTopic(len(m.topics.all)), nil
	case keys.Cutters:
		m.Cutters = true
		return m, tea.Quit
	case keys.Suspend:
		return m, tea.Suspend
	case keys.Quit:
		return m, tea.Quit
	default:
	}
	m.view.Page = m.help
	return m, nil
}

// enter closes the page, leaves where nothing is left to do, or takes the chosen arc: one that is set already is asked for once more.
func (m PlanModel) enter() (PlanModel, tea.Cmd) {
	if m.help {
		m.turnHelp()
		return m, nil
	}
	if m.view.None() {
		return m, tea.Quit
	}
	if m.view.Ticks() {
		m.Ticked = m.view.N()
		return m, tea.Quit
	}
	if n := m.view.N(); m.view.IsSet(n) {
		m.again = n
		m.view.Status = fmt.Sprintf("arc %d is set already: Enter once more sets it again, / leaves it as it is", n)
		m.hand.turned()
		return m, nil
	}
	return m.take(m.view.N())
}

// take takes an arc, unless it cannot be set as the files are.
func (m PlanModel) take(n int) (PlanModel, tea.Cmd) {
	if m.check != nil {
		if why, hint := m.check(n); why != "" {
			if hint != "" { // which is the shorter, and says what to do
				why = hint + "; " + why
			}
			m.complain(why)
			return m, nil
		}
	}
	m.Taken = n
	return m, tea.Quit
}

// View draws the zones.
func (m PlanModel) View() string {
	if m.width <= 0 || m.height <= 0 {
		return "trammel"
	}
	v, w, t := &m.view, m.width, m.view.Theme
	m.typing(v)
	shown := keys.ForPlan(m.planned(m.help || m.hand.listing))
	if m.help {
		shown = m.topics.named(shown)
	}
	last := pane.Box(t, pane.Keys(&pane.View{Theme: t}, shown, w), w, 1)
	if pane.Small(w, m.height) && m.height > 1 {
		top := pane.PlanSmall(v, w, m.height-1)
		switch {
		case m.hand.listing && m.height >= 4:
			top = m.zones(w, m.body()) + "\n" + pane.Box(t, pane.Clip(t, listKeys, w), w, 1)
		case m.help:
			top = m.zones(w, m.body())
		}
		return top + "\n" + last
	}
	next := pane.PlanNext(v, w, m.height)
	if m.height == 1 {
		return next.Draw(t, w, 1)
	}
	return pane.Frame(t, w, pane.PlanAim(v, w), m.zones(w, m.height-pane.Framed-next.Height()), next.Draw(t, w, next.Height()), last)
}

// typing says what is being typed, where a status has not been said since.
func (m *PlanModel) typing(v *pane.PlanView) {
	switch {
	case m.hand.listing:
		v.Listing = m.hand.listed + "_"
	case m.hand.number != "":
		v.Typed = m.hand.number + "_"
	}
}

// body is the height of the page that lies over the zones, or would.
func (m *PlanModel) body() int {
	switch {
	case pane.Small(m.width, m.height) && m.hand.listing:
		return max(1, m.height-2)
	case pane.Small(m.width, m.height):
		return max(1, m.height-1)
	}
	v := m.view
	v.Page = true
	return m.height - pane.Framed - pane.PlanNext(&v, m.width, m.height).Height()
}

// zones is the list with the picture beside it, or the page that lies over both.
func (m *PlanModel) zones(w, h int) string {
	switch {
	case m.hand.listing:
		return m.hand.leaves(m.view.Theme, wordsOf(m.items()), w, h).Draw(m.hand.listLeaf)
	case m.help:
		return m.helpPage(w, h).Draw(m.leaf)
	}
	right := w - leftWidth
	if right < 16 { // no picture fits beside the list
		return pane.PlanWork(&m.view, w, h)
	}
	return pane.Beside(pane.PlanWork(&m.view, leftWidth, h), pane.PlanPicture(&m.view, right, h))
}
