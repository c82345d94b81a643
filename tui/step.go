package tui

import (
	"errors"
	"slices"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// steppedMsg brings back what a step caused.
type steppedMsg struct {
	command session.Command
	steps   []session.Step
	state   session.State
	asked   session.Prompt
	err     error
	needle  *practice.Needle // practice: what the dial shows now
}

// gate keeps a step and the end of the screen apart: the terminal library leaves commands that
// are in flight to themselves when it ends.
type gate struct {
	mu   sync.Mutex
	shut bool
}

// close waits for the step in flight and lets no other begin.
func (g *gate) close() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.shut = true
}

// start sets a step going. Keys that arrive until it is done wait in the queue: commands of the
// terminal library run side by side, and two appends could land swapped.
func (m Model) start(c session.Command) (Model, tea.Cmd) {
	m.view.Entry = ""
	m.busy = true
	return m, m.run(c)
}

// run returns the command that carries a step out: in practice the simulated hands turn first,
// then the session decides, appends, syncs and applies.
func (m Model) run(c session.Command) tea.Cmd {
	live, now := m.cfg.Live, m.cfg.Now
	return m.gated(func() (session.Command, []session.Step, error) {
		answer, err := byHands(m.cfg.hands(), live.State(), c)
		if err != nil {
			return c, nil, err
		}
		steps, err := live.Do(answer, now())
		return answer, steps, err
	})
}

// retry returns the command that records again what could not be, once the disk is mended.
func (m Model) retry() tea.Cmd {
	return m.gated(func() (session.Command, []session.Step, error) {
		steps, err := m.cfg.Live.Retry(m.cfg.Now())
		return nil, steps, err
	})
}

// byHands is a command as the simulated hands give it, where there are some: they do what is confirmed, and
// look at the needle.
func byHands(b hands, s session.State, c session.Command) (session.Command, error) {
	if b == nil {
		return c, nil
	}
	switch c := c.(type) {
	case session.Confirm:
		if p := s.Prompt(); p.Waits == session.ForLoad || p.Waits == session.ForWind || p.Reading.Touch && p.Waits == session.ForReading ||
			p.Waits == session.ForCheck && p.Check.Plan.Slide != "" {
			// Under the needle the hand answers with what it sees, as a person would type it.
			answer, _, err := b.Do(p)
			return answer, err
		}
	case session.Sense:
		if c.Went == "" {
			return b.Sense(&s, c.Slide)
		}
	}
	return c, nil
}

// gated returns the command that does something to the session, unless the screen has ended by then: do
// tells what was answered, nil for nothing, and what came of it.
func (m Model) gated(do func() (session.Command, []session.Step, error)) tea.Cmd {
	cfg, g := m.cfg, m.gate
	return func() tea.Msg {
		g.mu.Lock()
		defer g.mu.Unlock()
		if g.shut {
			return nil
		}
		c, steps, err := do()
		msg := steppedMsg{command: c, steps: steps, state: cfg.Live.State(), asked: cfg.Live.Asked(), err: err}
		if cfg.Bench == nil {
			return msg
		}
		cfg.hands().Raise(msg.state.Above())
		if _, note := c.(session.Note); len(steps) > 0 && !note { // which does not touch the head
			msg.needle = cfg.faces(msg.asked)
		}
		return msg
	}
}

// readNeedle swings the simulated head, or turns the table, to the station that is asked for and looks at the dial.
func readNeedle(b *practice.Machine, p session.Prompt) practice.Needle {
	if p.Reading.Touch {
		return practice.Needle{Off: practice.Free} // there is no dial
	}
	b.Stand(p)
	return b.Dial()
}

// stepped takes in what a step caused, and goes on with the keys that wait.
func (m Model) stepped(msg steppedMsg) (Model, tea.Cmd) {
	m.busy = false
	m.rings = max(m.rings, ringsFor(msg.steps))
	m.lost, m.view.Lost = nil, false
	station := m.view.Prompt.Station()
	_, m.unsure = msg.command.(session.Undo)
	m.see(msg.state, msg.asked)
	if len(msg.steps) > 0 {
		if t, ok := msg.command.(session.Take); !ok || t.Gauge.Samples == 0 {
			station = 0
		}
		m.swings.Entered(station, msg.state.Sweep.N == 0)
		m.view.Piece = 0
		m.turned()
		m.forget()
	}
	if msg.needle != nil {
		m.needle(*msg.needle)
	}
	var refusal *session.Refusal
	var lost *session.RecordError
	switch {
	case errors.As(msg.err, &lost):
		m.lose(msg.err)
		return m, nil
	case errors.As(msg.err, &refusal):
		m.complain(refusal.Because, m.hint(msg.command, refusal))
	case msg.err != nil:
		m.complain(msg.err.Error(), "")
	default:
		m.say(m.lastWords(msg.steps))
		if m.cfg.Remind != nil {
			m.remind()
		}
	}
	m.reached(msg.steps)
	if m.unsaid.became || m.unsaid.behind && len(m.queue) == 0 {
		m.unsaid.behind = false
		m.tells()
	}
	return m.next()
}

// remind says what else is to be done at what is asked now.
func (m *Model) remind() {
	if words := m.cfg.Remind(&m.view.State); words != "" {
		m.say(words)
	}
}

// lose stops the work: what was entered last is not on record, so it has not happened. The
// screen says so and stays there.
func (m *Model) lose(err error) {
	m.complain(err.Error(), "")
	m.lost, m.view.Lost = err, true
	m.rings = wanted
	m.queue, m.burst, m.page = nil, nil, noPage
}

// hint says what to do about a refusal, in keys where the session says it in words to type.
func (m *Model) hint(c session.Command, r *session.Refusal) string {
	if t, ok := c.(session.Take); ok && m.readsDial() && m.view.State.Set.Job.Dial.Check(t.Reading) != nil {
		return "* lists off the dial"
	}
	if r.Pressed != "" {
		return r.Pressed
	}
	return r.Hint
}

// readsDial reports whether a needle is asked for that can be said to be off the dial.
func (m *Model) readsDial() bool {
	s := m.situation()
	return s.Parked || s.Waits == session.ForReading && !m.view.Prompt.Reading.Touch
}

// lastWords is what the status row says of a step: the first thing it caused, for the next
// question stands in large letters below. Where a doubt has come up, nothing: the row is left to
// what can be done about it.
func (m *Model) lastWords(steps []session.Step) string {
	for _, st := range steps {
		if _, doubted := st.Event.(session.Doubted); doubted {
			return ""
		}
	}
	i := slices.IndexFunc(steps, func(st session.Step) bool { _, ok := st.Event.(session.Suspected); return ok })
	for _, st := range steps[max(0, i):] { // why a check is asked for goes before what led to it
		if text, signed := lines.Status(st, st.After.Set.Job.Unit); signed {
			return m.view.Num(text)
		} else if text != "" {
			return text
		}
	}
	return ""
}
