package tui

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
)

// hand is what a keypad has begun on a screen beside the session's: the list of all that can be done there, a number that is
// typed, and what keys are too soon.
type hand struct {
	list
	listing bool
	number  string // of what is to be gone to
	bounce
}

// newHand is a hand at a page that is new.
func newHand(now func() time.Time) hand {
	h := hand{bounce: bounce{now: now}}
	h.turned()
	return h
}

// tooSoon reports whether a key that answers by itself came before its page can have been read, or is held, and says so.
func (h *hand) tooSoon(name string, answers bool) (why string, soon bool) {
	if h.now == nil || !h.bounce.tooSoon(h.now(), name, answers && !h.listing && h.number == "") {
		return "", false
	}
	return soonWords(name), true
}

// showList shows the list of all that can be done now, or closes it.
func (h *hand) showList(on bool) {
	h.list, h.listing, h.number = list{}, on, ""
	h.turned()
}

// digit takes a key that types the number, or clears it; ok is false for any other.
func (h *hand) digit(name string) (ok bool) {
	switch {
	case len(name) == 1 && name[0] >= '0' && name[0] <= '9':
		if len(h.number) < longestNumber {
			h.number += name
		}
	case h.number == "":
		return false
	case name == "/" || name == "esc":
		h.number = ""
	case name == "backspace" || name == "ctrl+h" || name == "delete":
		h.number = h.number[:len(h.number)-1]
	default:
		return false
	}
	return true
}

// longestNumber is more than a journal has events.
const longestNumber = 9

// pressedKeys are the names of the keys of a message: signs and digits that were pressed fast, or held, may come in one.
func pressedKeys(k tea.KeyMsg) []string {
	if k.Type != tea.KeyRunes || k.Alt || k.Paste || len(k.Runes) < 2 {
		return []string{k.String()}
	}
	var out []string
	for _, r := range k.Runes {
		if !strings.ContainsRune("0123456789+-*/", r) {
			return []string{k.String()}
		}
		out = append(out, string(r))
	}
	return out
}

// listedKeys are lines for what can be done now by the keys of a screen; act carries one out.
func listedKeys[M any](all []keys.Binding, act func(M, keys.Binding) (M, tea.Cmd)) (out []item[M]) {
	for _, b := range keys.Acting(all) {
		out = append(out, item[M]{words: b.Words(), do: func(m M) (M, tea.Cmd) { return act(m, b) }})
	}
	return out
}

// listKeys says how a line of the list is chosen.
const listKeys = "type a number, then Enter; * or / closes the list"

// picks takes a key while a list of so many lines is shown, and returns the number of the line that is chosen, which closes the list;
// 0 where none is, and where that is to be told, why.
func (h *hand) picks(name string, lines int, shown func() pane.Leaves) (n int, why string, told bool) {
	switch h.listKey(name) {
	case typedOn:
		return 0, "", false
	case closed:
		h.showList(false)
		return 0, "", false
	case passed:
		return 0, nothing(name, listKeys), true
	case picked:
	}
	if n, why = h.list.number(lines, shown()); n == 0 {
		return 0, why, true
	}
	h.showList(false)
	return n, "", false
}
