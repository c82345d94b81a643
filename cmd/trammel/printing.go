package main

import (
	"io"
	"sync"
	"unicode"
	"unicode/utf8"

	"example.org/trammel/geom"
)

// printing is the one door through which text leaves the program, to standard output, to standard error and into a file that is named:
// nothing comes through that does not print ([geom.Prints]), but line feeds. What stands in for it is U+FFFD. A screen draws on the
// terminal itself, and has the same rule at its own door.
type printing struct {
	to io.Writer

	mu    sync.Mutex
	wrote bool
	half  []byte // of a character that was written in two pieces, what has come
}

// careful is a world whose ways out are such doors; its screens, and the scripts for shells, which have tabs, keep the bare one.
func careful(w world) (_ world, out, complaints *printing) {
	w.bare = w.out
	out, complaints = &printing{to: w.out}, &printing{to: w.err}
	w.out, w.err = out, complaints
	return w, out, complaints
}

func (p *printing) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.wrote = p.wrote || len(b) > 0
	text := append(p.half, b...)
	whole := len(text)
	for i := 1; i < utf8.UTFMax && i <= len(text); i++ { // a character may be parted between two pieces
		if last := text[len(text)-i:]; utf8.RuneStart(last[0]) {
			if !utf8.FullRune(last) {
				whole -= i
			}
			break
		}
	}
	_, err := io.WriteString(p.to, geom.Printable(string(text[:whole]), unicode.ReplacementChar, '\n'))
	p.half = append([]byte(nil), text[whole:]...)
	if err != nil {
		return 0, err
	}
	return len(b), nil
}

// end writes what is left of a character that has never become whole.
func (p *printing) end() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.half) == 0 {
		return nil
	}
	left := geom.Printable(string(p.half), unicode.ReplacementChar)
	p.half = nil
	_, err := io.WriteString(p.to, left)
	return err
}

// uncareful is standard output itself, for a screen and for what a shell reads.
func (w world) uncareful() io.Writer {
	if w.bare == nil {
		return w.out
	}
	return w.bare
}
