package main

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// roff writes a page in the macros of man pages (groff_man(7)): few of them, and every text as it is read in a terminal.
type roff struct{ b bytes.Buffer }

func (r *roff) line(s string) { r.b.WriteString(s + "\n") }

func (r *roff) section(title string) { fmt.Fprintf(&r.b, ".SH %s\n", inQuotes(title)) }

// item is a name, and what it is below it.
func (r *roff) item(name, what string) {
	fmt.Fprintf(&r.b, ".TP\n%s\n%s\n", name, startOf(escaped(what)))
}

// text writes paragraphs: lines that are indented stay as they stand, all others may be broken anew; one that begins with a dash
// begins a point of a list.
func (r *roff) text(s string) {
	for para := range strings.SplitSeq(strings.Trim(s, "\n"), "\n\n") {
		lines := strings.Split(strings.Trim(para, "\n"), "\n")
		for len(lines) > 0 {
			n := 0
			indented := strings.HasPrefix(lines[0], " ")
			for n < len(lines) && strings.HasPrefix(lines[n], " ") == indented {
				n++
			}
			if r.line(".PP"); indented {
				r.literal(lines[:n])
			} else {
				for _, l := range lines[:n] {
					point, ok := strings.CutPrefix(l, "- ")
					if ok {
						r.line(`.IP \- 2`)
					}
					r.line(startOf(escaped(point)))
				}
			}
			lines = lines[n:]
		}
	}
}

// literal writes lines as they stand. Where one is wider than a terminal of 80 columns has room for behind a page's edge, all go
// nearer to the left.
func (r *roff) literal(lines []string) {
	edge := ".in 7n"
	for _, l := range lines {
		if utf8.RuneCountInString(l) > 80-7 {
			edge = ".in 0"
		}
	}
	r.line(".nf\n" + edge)
	for _, l := range lines {
		r.line(startOf(escaped(l)))
	}
	r.line(".in\n.fi")
}

// startOf keeps a line that has been escaped from being taken for a request: one that begins with a point is none behind \&.
func startOf(s string) string {
	if strings.HasPrefix(s, ".") {
		return `\&` + s
	}
	return s
}

// escaped is a text of one line in which nothing means anything to roff. A hyphen is written as the character that is typed, so that
// what is copied from a page works; what is not ASCII goes by its number, whatever the page is taken to be written in.
func escaped(s string) string {
	var b strings.Builder
	for _, c := range s {
		switch {
		case c == '\\':
			b.WriteString(`\e`)
		case c == '-':
			b.WriteString(`\-`)
		case c == '^':
			b.WriteString(`\(ha`)
		case c == '~':
			b.WriteString(`\(ti`)
		case c == '`':
			b.WriteString(`\(ga`)
		case c == '\'':
			b.WriteString(`\(aq`)
		case c > '~':
			fmt.Fprintf(&b, `\[u%04X]`, c)
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}

// inQuotes is an argument of a macro; a quote in it is written twice.
func inQuotes(s string) string { return `"` + strings.ReplaceAll(escaped(s), `"`, `""`) + `"` }
