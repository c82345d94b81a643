package tui

import (
	"errors"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/session"
)

// watched is what is remembered of the wind that the cable indicator watches.
type watched struct {
	unsure bool // where the head stands: the screen has just begun, or something was taken back
	told   *session.Told
	caused caused
}

// follow has the wind in hand watched through the cable indicator, each from its beginning.
func (m *Model) follow() {
	if m.cfg.Cable == nil {
		return
	}
	w, ok := m.view.State.Wanted()
	switch told := m.view.State.Told; {
	case !ok:
		m.view.Watch, m.told = nil, nil
	case m.told != told:
		w.Parked = w.Parked && !m.unsure
		a := gauge.NewApproach(w)
		if m.view.Moment.Has {
			a.Before(m.view.Moment.Shown())
		}
		m.view.Watch, m.told = &a, told
	}
}

// watch shows the wind in hand what the needle shows now, and has the bell sounded for it. What is stale it showed before the wind.
func (m *Model) watch(now *gauge.Moment, stale bool) {
	if m.view.Watch == nil || m.lost != nil {
		return
	}
	a := *m.view.Watch // older models keep theirs
	switch {
	case now.Lost != "" || now.Silent:
		a.Lose()
	case stale:
		return
	case now.Has && now.Steady:
		m.rings = max(m.rings, a.See(now.Value, &now.Mean.Value))
	case now.Has:
		m.rings = max(m.rings, a.See(now.Value, nil))
	}
	m.view.Watch = &a
}

// takeWind confirms the wind in hand with what the needle stands still at, or says what it still wants.
func (m Model) takeWind() (Model, tea.Cmd) {
	if now := m.view.Moment; now.Lost != "" || now.Silent {
		m, cmd := m.askOnce("the wind is done, and nothing is read: no needle is seen", session.Confirm{})
		m.until(seen)
		return m, cmd
	}
	mean, err := m.cfg.Cable.Take()
	if errors.Is(err, gauge.ErrButton) {
		return m.start(session.Confirm{})
	}
	a := *m.view.Watch
	if err == nil {
		a.See(mean.Value, &mean.Value) // which may be newer than what the screen shows
	}
	m.view.Watch = &a
	take := session.Take{Reading: mean.Value, Gauge: m.gauged(mean.N, mean.Spread)}
	if err == nil && a.Progress == gauge.Unseen {
		return m.takeUnseen(take)
	}
	switch because, hint := m.view.WatchRefuses(); {
	case because != "":
		m.complain(because, hint)
		m.until(m.goneOn())
	case err != nil:
		m.complain(m.view.Plain(m.moving(err)), "Enter once it stands still, or type the reading")
		m.until(still)
	default:
		return m.start(take)
	}
	return m, nil
}

// takeUnseen is what Enter does where the needle stands still and was not seen where the wind begins: it says that the head is
// parked, or that the wind is done.
func (m Model) takeUnseen(take session.Take) (Model, tea.Cmd) {
	a := m.view.Watch
	o := once{warns: "the needle stands at " + m.view.Sent(a.Value) + ", not near " + m.view.Sent(a.Start),
		words: "if it is at " + m.view.Parked() + ": then " + m.view.ParkedWays(), does: Model.parked}
	switch off := math.Abs(a.Value - a.Goal); {
	case off <= max(a.Locks, a.Band):
		o = once{warns: "the backlash may not be taken up: the needle was not seen where the wind begins, at " + m.view.Sent(a.Start),
			words: "takes it all the same", command: take}
	case a.AtStart():
		return m.parked()
	}
	m, cmd := m.asksOnce(o)
	m.until(m.goneOn())
	return m, cmd
}

// parked goes on with the wind in hand from where the needle stands.
func (m Model) parked() (Model, tea.Cmd) {
	a := *m.view.Watch
	a.Park()
	if now := m.view.Moment; now.Steady {
		m.rings = max(m.rings, a.See(a.Value, &a.Value))
	}
	m.view.Watch = &a
	m.say("parked, the needle at " + m.view.Sent(a.Value))
	return m, nil
}
