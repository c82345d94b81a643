package tui

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// Cable is a cable indicator's line. What it sends is read whether the screen listens or not, and nothing here waits but Next.
type Cable interface {
	// Name is the source, as it was stated.
	Name() string
	// Next waits for something that the screen does not show yet, but at most 20 times a second; false once it is ended.
	Next() (gauge.Moment, bool)
	// Take returns what the needle stands still at now; the error is a *[gauge.MovingError], or [gauge.ErrButton].
	Take() (gauge.Mean, error)
	// Forget has what comes from now on count alone: what came before was made for another question. It returns how often it was
	// told to, for a moment of before may be on its way.
	Forget() int
}

// momentMsg is what the cable indicator shows now.
type momentMsg struct{ gauge.Moment }

// Init listens to the cable indicator, where there is one. The size comes by itself.
func (m Model) Init() tea.Cmd { return m.listens() }

// listens returns the command that waits for what the cable indicator shows next; nil where there is none.
func (m *Model) listens() tea.Cmd {
	c := m.cfg.Cable
	if c == nil {
		return nil
	}
	return func() tea.Msg {
		if now, ok := c.Next(); ok {
			return momentMsg{now}
		}
		return nil
	}
}

// unsaid is what is to be said of the cable indicator as soon as nothing else stands in the way.
type unsaid struct {
	became  bool   // lost, or found again
	lost    string // what was said of its being lost
	behind  bool   // only behind what readings that were sent with it cause
	lines   int    // that were no readings
	because error
	says    []string
	sent    string    // what was said last of readings that were not taken
	why     string    // ... for that reason
	times   int       // how many they are
	at      time.Time // when the bell was heard for them
}

// shows takes in what the cable indicator shows, and listens on. Readings that it has sent wait in the queue like keys.
func (m Model) shows(now gauge.Moment) (Model, tea.Cmd) {
	before := m.view.Moment
	stale := now.Forgets < m.forgets
	if stale { // it was on its way: what stands still is to be seen for this question
		now.Value, now.Steady = now.Shown(), false
	}
	m.view.Moment = now
	m.watch(&now, stale)
	m.overtaken()
	for _, mm := range now.Pressed {
		m.queue = append(m.queue, pressed{at: m.cfg.Now(), sent: true, reading: mm})
	}
	m.unsaid.lines += now.Unread
	if now.Unread > 0 {
		m.unsaid.because = now.UnreadWhy
	}
	m.unsaid.says = append(m.unsaid.says, now.Says...)
	m.unsaid.became = m.unsaid.became || now.Lost != before.Lost
	if m.unsaid.behind = len(now.Pressed) > 0; !m.unsaid.behind || m.unsaid.became {
		m.tells()
	}
	next, cmd := m.next()
	return next, tea.Batch(cmd, next.listens())
}

// tells says what is to be said of the cable indicator. A refusal, a question, and what a step is about to say stand before it.
func (m *Model) tells() {
	u, now := &m.unsaid, &m.view.Moment
	switch {
	case m.lost != nil || m.busy:
	case u.became && now.Lost != "":
		u.became = false
		m.complain(m.view.Plain(lines.GaugeLost(errors.New(now.Lost), now.ForGood).Text()), m.onceWords())
		u.lost = m.view.Status
	case m.once != nil || m.view.Alarm && m.view.Status != u.lost:
	case u.became:
		u.became = false
		m.say(lines.GaugeFound().Text())
	case m.view.Alarm: // which is to be read
	case u.lines > 0:
		m.say(m.view.Plain(lines.GaugeUnread(u.lines, u.because).Text()))
		u.lines = 0
	case len(u.says) > 0:
		m.say(m.view.Plain(strings.Join(u.says, "; ")))
		u.says = nil
	}
}

// forget has the needle looked at anew for what is asked next.
func (m *Model) forget() {
	if m.cfg.Cable == nil {
		return
	}
	m.forgets = m.cfg.Cable.Forget()
	m.view.Moment.Value, m.view.Moment.Steady = m.view.Moment.Shown(), false
}

// takeNeedle enters what the cable indicator stands still at, or says why nothing is taken. One that has not moved since the station before
// is taken where a person insists.
func (m Model) takeNeedle(insists bool) (Model, tea.Cmd) {
	if why := m.view.Moment.Lost; why != "" {
		m.complain(m.view.Plain("the cable indicator is lost: "+why), "type the reading")
		m.until(seen)
		return m, nil
	}
	mean, err := m.cfg.Cable.Take()
	switch {
	case errors.Is(err, gauge.ErrButton):
		m.complain(err.Error(), "press that, or type the reading")
		return m, nil
	case err != nil:
		m.complain(m.view.Plain(m.moving(err)), "Enter once it stands still, or type the reading")
		m.until(still)
		return m, nil
	}
	if since, doubts := m.swings.Doubts(m.view.Prompt.Station(), mean); doubts && !insists {
		return m.asksOnce(once{words: "take it as it is; " + lines.NotMoved(since), does: func(m Model) (Model, tea.Cmd) { return m.takeNeedle(true) }})
	} else if doubts {
		m.swings.Insisted()
	}
	return m.start(session.Take{Reading: mean.Value, Gauge: m.gauged(mean.N, mean.Spread)})
}

// belies says that the needle stands still at something else than a figure that was typed, by more than a division and the dial's
// repeatability; empty where it does not, or nobody sees it.
func (m *Model) belies(c session.Command) string {
	t, typed := c.(session.Take)
	now := &m.view.Moment
	if !typed || !m.view.Cabled || !m.view.Prompt.Needle() || !now.Steady || now.Lost != "" || now.Silent {
		return ""
	}
	if d := &m.view.State.Set.Job.Dial; math.Abs(now.Mean.Value-t.Reading) <= d.Graduation+d.Repeatability {
		return ""
	}
	return fmt.Sprintf("%s is taken, though the cable indicator stands still at %s", m.view.Sent(t.Reading), m.view.Sent(now.Mean.Value))
}

// moving says why no mean can be taken.
func (m *Model) moving(err error) string {
	if moving := (*gauge.MovingError)(nil); errors.As(err, &moving) {
		return moving.In(m.view.State.Set.Job.Unit)
	}
	return err.Error()
}

// gauged is where a reading comes from that nobody typed.
func (m *Model) gauged(samples int, spread float64) session.Gauged {
	return session.Gauged{Source: m.cfg.Cable.Name(), Samples: samples, Spread: spread}
}

// takeSent enters a reading that the cable indicator's button has sent, as if a cable had typed it: pages that lie there make room
// for it. Where it is not asked for it is said, with those behind it.
func (m Model) takeSent(mm float64) (Model, tea.Cmd) {
	why := m.unasked()
	if why == "" {
		if m.page == listPage {
			m.closeList()
		}
		m.page, m.once = noPage, nil
		return m.start(session.Take{Reading: mm, Gauge: m.gauged(1, 0)})
	}
	n := 1
	for len(m.queue) > 0 && m.queue[0].sent {
		n, mm, m.queue = n+1, m.queue[0].reading, m.queue[1:]
	}
	m.notTaken(n, mm, why)
	return m, nil
}

// unasked says why a reading that the cable indicator has sent is not taken; empty where it is.
func (m *Model) unasked() string {
	switch {
	case m.lost != nil:
		return "nothing more is taken"
	case m.mode == typing:
		return "a text is being typed"
	case m.view.Entry != "":
		return m.view.Entry + " is typed; / clears it"
	case !m.view.Prompt.Needle():
		return "none is asked for now"
	}
	return ""
}

// notTaken says that n readings that the cable indicator has sent are not taken: where one comes behind the other, once, with their
// number.
func (m *Model) notTaken(n int, last float64, why string) {
	u, now := &m.unsaid, m.cfg.Now()
	if m.lost != nil {
		return // which says so already
	}
	if u.sent == "" || m.view.Status != u.sent || why != u.why {
		u.times = 0
	}
	u.times += n
	words := fmt.Sprintf("%s from the cable indicator is not taken: %s", m.view.Sent(last), why)
	if u.times > 1 {
		words = fmt.Sprintf("%d readings from the cable indicator are not taken, the last %s: %s", u.times, m.view.Sent(last), why)
	}
	if m.mode == typing { // the status row is the field's
		m.field.Prompt = words + "; " + m.question.prompt
		fitField(&m.field, m.width)
	}
	if u.times == n || !within(now, u.at, time.Second) {
		u.at = now
		m.complain(words, m.onceWords())
	} else {
		m.view.Status = words
	}
	u.sent, u.why = m.view.Status, why
}
