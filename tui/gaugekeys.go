package tui

import (
	"errors"
	"reflect"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// key takes a key by its name: to the list, to what is asked for once more, or for what it does. A digit opens the list.
func (m GaugeModel) key(name string) (GaugeModel, tea.Cmd) {
	b, ok := keys.Find(m.keys(), name)
	if name == "ctrl+c" {
		return m, tea.Quit
	}
	if why, soon := m.hand.tooSoon(name, ok && b.Action != keys.Suspend); soon || !m.drawn && ok {
		m.complain(why)
		return m, nil
	}
	m.complain("")
	switch {
	case ok && b.Action == keys.Suspend:
		return m, tea.Suspend
	case m.hand.listing:
		return m.listKey(name)
	case m.end != noEnd:
		return m.onceKey(name)
	case m.opening && !(ok && b.Action == keys.Quit):
		m.complain("the line is being opened: wait until it is")
	case len(name) == 1 && name[0] >= '1' && name[0] <= '9':
		m.openList("", m.ways())
		return m.listKey(name)
	case !ok && offPad[name]:
		m.complain("Num Lock seems to be off: the keypad sends arrows, not digits; switch it on")
	case !ok:
		m.complain(nothing(name, "* lists what can be changed"))
	case b.Action == keys.Enter && m.feed == nil:
		return m, m.reopen()
	case b.Action == keys.Enter:
		return m.keep()
	case b.Action == keys.List:
		m.openList("", m.ways())
	default:
		return m.leave()
	}
	return m, nil
}

// ways are all that can be done now.
func (m *GaugeModel) ways() (out []item[GaugeModel]) {
	x := m.cfg.Try
	for i := range gauge.Knobs {
		k := &gauge.Knobs[i]
		if !k.Acts(x) {
			continue
		}
		out = append(out, item[GaugeModel]{words: k.Words + ": " + k.Now(x), do: func(m GaugeModel) (GaugeModel, tea.Cmd) {
			m.openList(k.Words, m.values(k))
			return m, nil
		}})
	}
	return append(out,
		item[GaugeModel]{words: "another line, now " + x.Settings().Source, do: GaugeModel.lines},
		item[GaugeModel]{words: "open the line again", do: func(m GaugeModel) (GaugeModel, tea.Cmd) { return m, m.reopen() }},
		m.keeping(), item[GaugeModel]{words: "leave", do: GaugeModel.leave})
}

// values are those that a knob is commonly set to, with what the newest line would mean then.
func (m *GaugeModel) values(k *gauge.Knob) (out []item[GaugeModel]) {
	x := m.cfg.Try
	for _, v := range k.Values(x) {
		words, s := v.Words, x.Set(v)
		if by, was := x.By(s), x.Settings(); by != "" && s.Line() == was.Line() {
			words += "; now " + by
		}
		out = append(out, item[GaugeModel]{words: m.view.Num(words), do: func(m GaugeModel) (GaugeModel, tea.Cmd) { return m.change(v) }})
	}
	return out
}

// lines lists the serial lines that are there now.
func (m GaugeModel) lines() (GaugeModel, tea.Cmd) {
	var all []item[GaugeModel]
	for _, port := range m.cfg.Ports() {
		all = append(all, item[GaugeModel]{words: port, do: func(m GaugeModel) (GaugeModel, tea.Cmd) {
			s := m.cfg.Try.Settings()
			s.Source = string(gauge.SerialLine) + ":" + port
			return m.changed(s)
		}})
	}
	if len(all) == 0 {
		m.complain("no serial line is there: plug it in, then look again")
		return m, nil
	}
	m.openList("which serial line", all)
	return m, nil
}

// change sets a knob.
func (m GaugeModel) change(v gauge.Value) (GaugeModel, tea.Cmd) { return m.changed(m.cfg.Try.Set(v)) }

// changed goes on with other settings, and opens the line anew where it has to be.
func (m GaugeModel) changed(s gauge.Settings) (GaugeModel, tea.Cmd) {
	was := m.cfg.Try.Settings()
	if err := m.cfg.Try.Change(s); err != nil {
		m.complain(err.Error())
		return m, nil
	}
	var cmd tea.Cmd
	if s.Line() != was.Line() {
		cmd = m.reopen()
	}
	m.see()
	return m, cmd
}

// keeping is the line of the list that keeps it: as it is, where its figure was not seen to move and that is said.
func (m *GaugeModel) keeping() item[GaugeModel] {
	if e := (*gauge.UnmovedError)(nil); errors.As(m.cfg.Try.Unready(), &e) {
		return item[GaugeModel]{words: "keep it, though its figure was not seen to move",
			do: func(m GaugeModel) (GaugeModel, tea.Cmd) { return m.keeps(nil) }}
	}
	return item[GaugeModel]{words: "it is right: keep it", do: GaugeModel.keep}
}

// keep keeps it once all is seen that has to be.
func (m GaugeModel) keep() (GaugeModel, tea.Cmd) { return m.keeps(m.cfg.Try.Unready()) }

// keeps asks once more, with all that is written then; what is not ready yet is said.
func (m GaugeModel) keeps(unready error) (GaugeModel, tea.Cmd) {
	does, read, err := m.cfg.Changes(m.cfg.Try.Settings())
	wants := (interface{ Hint() string })(nil)
	switch {
	case err != nil:
		m.complain(err.Error())
	case does == "":
		m.complain("the machine's file says so already; / leaves")
	case errors.As(unready, &wants):
		m.complain(m.view.Num(unready.Error() + "; " + wants.Hint()))
	default:
		m.ask(keepEnd, does, read)
	}
	return m, nil
}

// leave asks once more where something was set.
func (m GaugeModel) leave() (GaugeModel, tea.Cmd) {
	if does, _, err := m.cfg.Changes(m.cfg.Try.Settings()); reflect.DeepEqual(m.cfg.Try.Settings(), m.began) || err == nil && does == "" {
		return m, tea.Quit
	}
	m.ask(leaveEnd, "leave, and nothing is written", nil)
	return m, nil
}

func (m *GaugeModel) ask(what gaugeEnd, does string, read []string) {
	m.end, m.view.Once, m.view.ToRead = what, does, read
	m.hand.turned()
}

// onceKey does what was asked for with Enter, and goes back with any other key.
func (m GaugeModel) onceKey(name string) (GaugeModel, tea.Cmd) {
	what := m.end
	m.ask(noEnd, "", nil)
	if !isEnter(name) {
		return m, nil
	}
	m.Kept = what == keepEnd
	return m, tea.Quit
}

// openList shows a list of lines, below what they answer.
func (m *GaugeModel) openList(asks string, all []item[GaugeModel]) {
	screen := pane.View{Theme: m.view.Theme}
	for i := range all {
		all[i].words = screen.Plain(all[i].words)
	}
	m.hand.showList(true)
	m.hand.question, m.listed = asks, all
}

// listKey takes a key while the list is shown.
func (m GaugeModel) listKey(name string) (GaugeModel, tea.Cmd) {
	all := m.listed
	n, why, told := m.hand.picks(name, len(all), m.list)
	if told {
		m.complain(why)
	}
	if n == 0 {
		return m, nil
	}
	if m.opening && !strings.HasPrefix(all[n-1].words, "leave") {
		m.complain("the line is being opened: wait until it is")
		return m, nil
	}
	return all[n-1].do(m)
}
