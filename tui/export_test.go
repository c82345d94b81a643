package tui

import (
	"io"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/indicator/gauge"
)

// At returns the replay at event n, as a jump leaves it, for benchmarks of any place: keys jump to few.
func (m Replay) At(n int) Replay {
	m.jump(n)
	return m
}

// Filtered returns the input that the terminal library reads from, and the filter that its messages go through, for
// tests that decode bytes as the program does.
func Filtered(from io.Reader, send func(tea.Msg)) (io.Reader, func(tea.Model, tea.Msg) tea.Msg) {
	s := &stage{}
	return filtered(from, send), s.filter
}

// MomentMsg is the message of what the cable indicator shows.
func MomentMsg(m gauge.Moment) tea.Msg { return momentMsg{m} }

// RefusedPaste is the message of a paste that is not taken.
func RefusedPaste(bytes int, whole bool) tea.Msg { return refusedPaste{bytes, whole} }

// Item is a line of the list, and the number to type for it.
type Item struct{ Number, Words string }

// Items are the lines of the list.
func (m Model) Items() []Item { return numbered(m.items()) }

// Items are the lines of the plan's list.
func (m PlanModel) Items() []Item { return numbered(m.items()) }

// Items are the lines of the replay's list.
func (m Replay) Items() []Item { return numbered(m.items()) }

func numbered[M any](all []item[M]) (out []Item) {
	for i, it := range all {
		out = append(out, Item{strconv.Itoa(i + 1), it.words})
	}
	return out
}
