package tui

import (
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
)

const (
	esc = '\x1b'
	// longest bounds a control sequence: what is longer is none of a key.
	longest = 64
	// pasteBegins and pasteEnds stand round a paste (xterm, "Control Sequences", bracketed paste mode).
	pasteBegins, pasteEnds = "\x1b[200~", "\x1b[201~"
)

// token is what stands first in the bytes of a terminal.
type token struct {
	n     int       // its length; 0 where more has to come
	pass  bool      // the terminal library reads it
	keys  []tea.Msg // else what it stands for; nothing where it is dropped
	opens inside    // what follows belongs to
}

// key returns a key without a character.
func key(k tea.KeyType) tea.Msg { return tea.KeyMsg{Type: k} }

// unreadable is what no character is made of. It is a character of the entry, which is refused then: the rest
// of a number would be another number.
func unreadable() tea.Msg {
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{utf8.RuneError}, Paste: true}
}

// first reads what stands first in b, which is not empty.
func first(b []byte) token {
	if b[0] != esc {
		return text(b)
	}
	if len(b) == 1 {
		return token{}
	}
	switch c := b[1]; {
	case c == '[':
		return control(b)
	case c == 'O':
		return single(b)
	case strings.IndexByte("]PX^_", c) >= 0: // operating system command, device control and other strings (ECMA-48)
		if len(b) == 2 {
			return token{}
		}
		return token{n: 2, opens: strung}
	case c < ' ', c == 0x7f, strings.IndexByte("0123456789+-.,", c) >= 0:
		return token{n: 1, keys: []tea.Msg{key(tea.KeyEsc)}} // over a slow line Esc arrives with what was typed behind it
	case c < utf8.RuneSelf:
		return token{n: 2, pass: true}
	case !utf8.FullRune(b[1:]):
		return token{}
	}
	_, n := utf8.DecodeRune(b[1:])
	return token{n: 1 + n, pass: true}
}

// text reads characters up to the next escape, or one that cannot be read.
func text(b []byte) token {
	n := 0
	for n < len(b) && b[n] != esc {
		r, size := utf8.DecodeRune(b[n:])
		if r == utf8.RuneError {
			break
		}
		n += size
	}
	switch {
	case n > 0:
		return token{n: n, pass: true}
	case !utf8.FullRune(b):
		return token{}
	}
	_, n = utf8.DecodeRune(b)
	return token{n: n, keys: []tea.Msg{unreadable()}}
}

// padKeys are the keys of a keypad in application mode: ESC O and these (VT100 User Guide, table 3-8, from memory;
// j, k, o, X, I and blank, as xterm's "Control Sequences" lists them). E is the 5 of a keypad whose Num Lock is off,
// which the library has no name for: it stands for what the 0 sends then.
var padKeys = func() map[byte]tea.Msg {
	out := map[byte]tea.Msg{
		'M': key(tea.KeyEnter), 'I': key(tea.KeyTab), 'H': key(tea.KeyHome), 'F': key(tea.KeyEnd), 'E': key(tea.KeyInsert),
		' ': tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}},
	}
	for i, c := range []byte("pqrstuvwxynlmkjoX") {
		out[c] = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{rune("0123456789.,-+*/="[i])}}
	}
	return out
}()

// single reads ESC O and a letter.
func single(b []byte) token {
	n := 2
	for n < len(b) && n < longest && (b[n] >= '0' && b[n] <= '9' || b[n] == ';') {
		n++ // older terminals put what is held down beside a key here
	}
	if n == len(b) {
		return token{}
	}
	c := b[n]
	switch known, ok := padKeys[c]; {
	case n > 2:
		return token{n: n + 1}
	case ok:
		return token{n: 3, keys: []tea.Msg{known}}
	case strings.IndexByte("ABCDPQRS", c) >= 0: // arrows, F1 to F4
		return token{n: 3, pass: true}
	case c >= ' ' && c < 0x7f:
		return token{n: 3}
	}
	return token{n: 2}
}

// control reads ESC [ and what belongs to it (ECMA-48, 5.4: parameters, intermediates, a final byte).
func control(b []byte) token {
	if len(b) == 2 {
		return token{}
	}
	switch b[2] {
	case 'M': // a mouse: three bytes more
		return counted(b, 6, false)
	case '[': // the Linux console's F1 to F5
		return counted(b, 4, true)
	case 'O': // a window that is left; or with a letter an arrow of some terminals
		if len(b) > 3 && strings.IndexByte("ABCDabcd", b[3]) < 0 {
			return token{n: 3}
		}
		return counted(b, 4, true)
	}
	for i := 2; i < len(b) && i < longest; i++ {
		switch c := b[i]; {
		case c == '$' && rxvt().Match(b[2:i]):
			return token{n: i + 1, pass: true}
		case c >= 0x40 && c <= 0x7e:
			return complete(b[:i+1])
		case c < 0x20 || c > 0x7e:
			return token{n: i} // broken off
		}
	}
	if len(b) >= longest {
		return token{n: longest}
	}
	return token{}
}

func counted(b []byte, n int, pass bool) token {
	if len(b) < n {
		return token{}
	}
	return token{n: n, pass: pass}
}

var (
	// rxvt ends a key that is pressed with Shift in a byte that ends nothing elsewhere.
	rxvt = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[0-9]+$`) })
	// named are the control sequences of keys that the library knows or may know; the rest are reports: of a mouse, of
	// the window, of what the terminal is and can.
	named = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(1;[2-8])?[A-DFHP-S]$|^[a-dZ]$|^([1-8]|1[1-57-9]|2[013-689]|3[1-4])(;[2-8])?[~^@]$`)
	})
)

// complete says what a whole control sequence stands for.
func complete(b []byte) token {
	t := token{n: len(b)}
	switch {
	case string(b) == pasteBegins:
		t.opens = pasted
	case string(b[2:]) == "E":
		t.keys = []tea.Msg{key(tea.KeyInsert)} // see padKeys
	default:
		t.pass = named().Match(b[2:])
	}
	return t
}

// stringEnds returns the length of what belongs to a string, its end included: BEL, ST, or a character that breaks
// it off; -1 where it goes on.
func stringEnds(b []byte) int {
	for i, c := range b {
		switch {
		case c == '\a' || c == 0x18 || c == 0x1a:
			return i + 1
		case c == esc && i+1 < len(b):
			if b[i+1] == '\\' {
				return i + 2
			}
			return i
		}
	}
	return -1
}
