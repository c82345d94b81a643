package tui

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
)

const (
	// escapeWait is how long the rest of a sequence may take: the Esc key sends its first byte alone.
	escapeWait = 50 * time.Millisecond
	// pasteWait is how long a paste may be silent before it is taken for one without its end.
	pasteWait = time.Second
	// mostPasted bounds a paste, in bytes.
	mostPasted = 64 << 10
)

// Keyboard is an input that can be waited for. Of one that cannot, what is unfinished at the end of a read is taken
// as it stands.
type Keyboard interface {
	io.Reader
	// More reports whether something can be read within so long a time.
	More(within time.Duration) bool
	// Leave ends a Read that waits, with ErrLeft, as every one that follows until Return.
	Leave()
	Return()
}

// ErrLeft is what a keyboard that is left reads.
var ErrLeft = errors.New("the keyboard is left")

// inside is what bytes belong to.
type inside uint8

const (
	keyed  inside = iota
	pasted        // a paste
	strung        // a string that a terminal answers something with
)

// input is what all that is typed comes in through: it puts sequences together again that a slow line has cut, reads
// those of the keypad, which the terminal library does not know, and drops what no key has sent. What it passes on,
// the library reads; what it reads itself it sends, in the order in which it came.
type input struct {
	from   io.Reader
	send   func(tea.Msg)
	buf    [4096]byte
	held   []byte // not read yet
	lost   []byte // a sequence whose rest did not come in time
	inside inside
	paste  int   // bytes of the paste that have been let go, for it is too long
	due    []any // what is to be handed over: []byte, or a message
}

// file is what the terminal library sets to raw mode and back.
type file interface {
	io.ReadWriteCloser
	Fd() uintptr
}

// fileInput is the input where it comes from a terminal.
type fileInput struct {
	file
	in *input
}

func (f fileInput) Read(p []byte) (int, error) { return f.in.Read(p) }

// filtered returns what the terminal library is to read from.
func filtered(from io.Reader, send func(tea.Msg)) io.Reader {
	in := &input{from: from, send: send}
	if f, ok := from.(file); ok {
		return fileInput{f, in}
	}
	return in
}

// Read returns bytes for the terminal library, and sends the messages that came before them. When the input ends, so
// does the screen.
func (in *input) Read(p []byte) (int, error) {
	for {
		for len(in.due) > 0 {
			b, ok := in.due[0].([]byte)
			if ok {
				return in.hand(p, b), nil
			}
			msg := in.due[0]
			in.due = in.due[1:]
			in.send(msg)
		}
		if err := in.more(); err != nil {
			return 0, err
		}
	}
}

// hand copies what is due into p. The library waits for more where p is full, so it never is by the last of it.
func (in *input) hand(p, b []byte) int {
	n := min(len(p), len(b))
	if n == len(p) && n == len(b) && n > 1 {
		for n--; n > 1 && !utf8.RuneStart(b[n]); n-- {
		}
	}
	copy(p, b[:n])
	if n == len(b) {
		in.due = in.due[1:]
	} else {
		in.due[0] = b[n:]
	}
	return n
}

// more reads on: what waits for its end for a while only.
func (in *input) more() error {
	if wait := in.waits(); wait > 0 {
		k, ok := in.from.(Keyboard)
		if ok && !k.More(wait) || !ok && in.inside != pasted {
			in.late()
			return nil
		}
	}
	n, err := in.from.Read(in.buf[:])
	if n > 0 {
		in.take(in.buf[:n])
		return nil
	}
	switch {
	case err == nil:
		return nil
	case errors.Is(err, ErrLeft):
		return io.EOF
	}
	in.send(tea.QuitMsg{}) // the terminal has gone
	return io.EOF
}

// waits is how long what is unfinished may wait for its end.
func (in *input) waits() time.Duration {
	switch {
	case in.inside == pasted:
		return pasteWait
	case in.inside == strung || len(in.held) > 0:
		return escapeWait
	}
	return 0
}

// take reads what has come.
func (in *input) take(b []byte) {
	if lost := in.lost; len(lost) > 0 {
		in.lost = nil
		if rest := append(lost, b...); len(rest) > 2 && (rest[1] == '[' || rest[1] == 'O') && first(rest).n == len(rest) {
			return // it came too late, all of it, and what was in front of it is gone
		}
	}
	in.held = append(in.held, b...)
	for len(in.held) > 0 && in.one() {
	}
}

// one takes what stands first in what is held; false where it is not all there.
func (in *input) one() bool {
	switch in.inside {
	case strung:
		n := stringEnds(in.held)
		if n < 0 {
			in.held = in.held[max(0, len(in.held)-1):] // which may be half of its end
			return false
		}
		in.inside, in.held = keyed, in.held[n:]
		return true
	case pasted:
		return in.pasting()
	case keyed:
	}
	t := first(in.held)
	if t.n == 0 {
		return false
	}
	if t.pass {
		in.pass(in.held[:t.n])
	}
	in.held = in.held[t.n:]
	for _, msg := range t.keys {
		in.due = append(in.due, msg)
	}
	in.inside = t.opens
	return true
}

// pass hands bytes over, with what is due already right before them.
func (in *input) pass(b []byte) {
	if n := len(in.due); n > 0 {
		if last, ok := in.due[n-1].([]byte); ok {
			in.due[n-1] = append(last, b...)
			return
		}
	}
	in.due = append(in.due, bytes.Clone(b))
}

// pasting takes a paste once its end is there; of one that is too long it keeps count only.
func (in *input) pasting() bool {
	n := bytes.Index(in.held, []byte(pasteEnds))
	if n < 0 {
		if keep := len(pasteEnds) - 1; in.paste+len(in.held)-keep > mostPasted {
			in.paste += len(in.held) - keep
			in.held = bytes.Clone(in.held[len(in.held)-keep:])
		}
		return false
	}
	if in.paste += n; in.paste > mostPasted {
		in.due = append(in.due, refusedPaste{bytes: in.paste, whole: true})
	} else {
		in.due = append(in.due, tea.KeyMsg{Type: tea.KeyRunes, Runes: bytes.Runes(in.held[:n]), Paste: true})
	}
	in.held = in.held[n+len(pasteEnds):]
	in.inside, in.paste = keyed, 0
	return true
}

// late deals with what has no end when it should have.
func (in *input) late() {
	held, where := in.held, in.inside
	in.held, in.inside = nil, keyed
	switch {
	case where == pasted:
		in.due = append(in.due, refusedPaste{bytes: in.paste + len(held)})
		in.paste = 0
	case where == strung:
	case held[0] != esc:
		in.due = append(in.due, unreadable())
	case len(held) == 1:
		in.due = append(in.due, key(tea.KeyEsc))
		in.lost = held
	case held[1] == '[' || held[1] == 'O':
		in.lost = held
	default:
		in.pass(held)
	}
}

// refusedPaste is a paste that is not taken.
type refusedPaste struct {
	bytes int
	whole bool // its end has come
}

// words say why a paste is not taken, and what to do.
func (p refusedPaste) words() string {
	if p.whole {
		return fmt.Sprintf("%d bytes pasted, need at most %d; nothing of it is taken", p.bytes, mostPasted)
	}
	return "a paste without its end; nothing of it is taken, paste it once more"
}
