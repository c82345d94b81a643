package gauge

import (
	"bytes"
	"unicode/utf8"
)

// MaxLine is the longest line that is read, bytes; no indicator sends one as long.
const MaxLine = 1024

// Splitter makes lines of bytes as they come: CR, LF or both end one. The zero Splitter begins at a line's beginning.
type Splitter struct {
	// Midway says that the stream was joined anywhere: what comes before its first line end may be half a figure, and is no line.
	Midway bool

	part []byte // of the line whose end has not come yet
	over bool   // it is too long, and the rest of it is passed over
	open int    // how many bytes came since the last line end
}

// Line is one line without its end. Whole is false for one that was too long; then Text is empty.
type Line struct {
	Text  string
	Whole bool
}

// Add takes bytes in, and calls each for every line that they end; there is none between two line ends.
func (s *Splitter) Add(b []byte, each func(Line)) {
	for len(b) > 0 {
		end := bytes.IndexAny(b, "\r\n")
		if end < 0 {
			s.keep(b)
			return
		}
		s.keep(b[:end])
		b, s.open = b[end+1:], 0
		if len(s.part) == 0 && !s.over {
			s.Midway = false // whatever comes now is a line's beginning
			continue
		}
		if s.Midway { // whoever listens from anywhere on hears half a line first, and nothing is wrong with that
			s.part, s.over, s.Midway = s.part[:0], false, false
			continue
		}
		l := Line{Whole: !s.over}
		if l.Whole {
			l.Text = string(s.part)
		}
		s.part, s.over = s.part[:0], false
		each(l)
	}
}

func (s *Splitter) keep(b []byte) {
	s.open = min(s.open+len(b), MaxLine)
	if len(s.part)+len(b) > MaxLine {
		s.part, s.over = s.part[:0], true
	}
	if !s.over {
		s.part = append(s.part, b...)
	}
}

// plain is a line without the control characters that some instruments frame their lines with. ok is false of a line with
// bytes in it that are no text: of a figure that the wire has spoiled, what is left may be a figure too. ESC frames none: what stands
// behind it is what it does, and may hold figures.
func plain(line string) (text string, ok bool) {
	from, to := 0, len(line)
	for from < to && framing(line[from]) {
		from++
	}
	for from < to && framing(line[to-1]) {
		to--
	}
	text = line[from:to]
	for i := range len(text) {
		if control(text[i]) && text[i] != '\t' {
			return "", false
		}
	}
	return text, utf8.ValidString(text)
}

func framing(b byte) bool { return control(b) && b != 0x1b }

func control(b byte) bool { return b < ' ' || b == 0x7f }
