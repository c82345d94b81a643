package tui

import (
	"regexp"

	tea "github.com/charmbracelet/bubbletea"
)

// keypad puts key sequences together again that the terminal library hands over in pieces: an
// application keypad sends ESC O and a letter, which arrives as alt+O and the letter on its own;
// and over a slow line the end of a read may split any sequence behind its ESC.
type keypad struct{ last half }

// half is the piece of a sequence that has been seen.
type half uint8

const (
	whole   half = iota
	escape       // ESC alone: the key, or the first byte of a sequence
	single       // ESC O
	control      // ESC [
)

// keypadKeys are the letters of the VT100's application keypad (VT100 User Guide, table 3-8,
// from memory; j, k, o, the keys that it lacked, as xterm's ctlseqs lists them).
var keypadKeys = map[rune]string{
	'p': "0", 'q': "1", 'r': "2", 's': "3", 't': "4", 'u': "5", 'v': "6", 'w': "7", 'x': "8", 'y': "9",
	'n': ".", 'l': ",", 'm': "-", 'k': "+", 'j': "*", 'o': "/", 'M': "enter",
}

// debris is a control sequence that has lost its ESC: an arrow, a function key.
var debris = regexp.MustCompile(`^\[[0-9;]*[A-Za-z~]$`)

// translate returns the keys that a message stands for: none for the first half of a sequence and
// for what no key sends.
func (k *keypad) translate(msg tea.KeyMsg) []tea.KeyMsg {
	last := k.last
	k.last = whole
	switch {
	case msg.Type == tea.KeyEsc:
		k.last = escape
		return []tea.KeyMsg{msg}
	case msg.Type != tea.KeyRunes || len(msg.Runes) == 0 || msg.Paste:
		return []tea.KeyMsg{msg}
	case msg.Alt && string(msg.Runes) == "O":
		k.last = single
		return nil
	case msg.Alt && string(msg.Runes) == "[":
		k.last = control
		return nil
	case msg.Alt:
		return []tea.KeyMsg{msg}
	}
	switch text := string(msg.Runes); {
	case last == control, debris.MatchString(text):
		return nil
	case last == escape && len(msg.Runes) == 2 && msg.Runes[0] == 'O':
		// The Esc has been carried out already and what was typed is gone: the rest of a number
		// would be worse than none.
		return nil
	case last == single:
		return second(msg.Runes)
	}
	return []tea.KeyMsg{msg}
}

// second returns the key of the letter behind ESC O, and what was typed right behind it.
func second(runes []rune) []tea.KeyMsg {
	var out []tea.KeyMsg
	switch name := keypadKeys[runes[0]]; name {
	case "":
	case "enter":
		out = append(out, tea.KeyMsg{Type: tea.KeyEnter})
	default:
		out = append(out, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)})
	}
	if len(runes) > 1 {
		out = append(out, tea.KeyMsg{Type: tea.KeyRunes, Runes: runes[1:]})
	}
	return out
}
