package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// shownCommand is one command of a session, with what is typed at it and printed by it.
type shownCommand struct {
	line    int // in the block, from 0
	text    string
	typed   string
	printed []string
}

// commands are those of a session.
func (b *shownBlock) commands() (all []shownCommand) {
	goesOn := false
	for i, l := range b.lines {
		command, is := strings.CutPrefix(l, "$ ")
		switch {
		case is:
			all = append(all, shownCommand{line: i, text: command})
		case len(all) == 0:
			all = append(all, shownCommand{line: i, printed: []string{l}}) // printed by nobody: play says so
			continue
		case goesOn:
			command = strings.TrimSpace(l)
			all[len(all)-1].text += " " + command
		default:
			c := &all[len(all)-1]
			if typed, is := strings.CutPrefix(l, "> "); is {
				c.typed += typed + "\n"
			} else {
				c.printed = append(c.printed, l)
			}
			continue
		}
		last := &all[len(all)-1]
		goesOn = strings.HasSuffix(last.text, "|") || strings.HasSuffix(last.text, `\`)
		last.text = strings.TrimSuffix(last.text, `\`)
	}
	return all
}

// play types a session's commands, each in the folder, and holds what is printed to what is shown.
func (b *shownBlock) play(t *testing.T, folder string) {
	t.Helper()
	for _, c := range b.commands() {
		where := fmt.Sprintf("%s:%d", b.page, b.line+c.line)
		text, marked := c.text, false
		for _, m := range marks {
			if rest, is := strings.CutSuffix(text, m); is {
				text, marked = rest, true
			}
		}
		line, err := parseShell(text)
		switch {
		case err != nil:
			t.Errorf("%s: %s: %v", where, c.text, err)
		case marked:
			line.looks(t, where)
		default:
			got := line.run(t, folder, c.typed)
			if at, why := printedAs(c.printed, strings.Split(strings.TrimSuffix(got, "\n"), "\n")); why != "" {
				t.Errorf("%s:%d: $ %s\nshown   %q\nprinted %s\nin all:\n%s", b.page, b.line+c.line+1+at, c.text, shownAt(c.printed, at), why, got)
			}
		}
	}
}

// shownAt is a shown line, or that there is none.
func shownAt(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "nothing more"
}

// printedAs holds printed lines to shown ones. It returns the first shown line that does not fit, and what is printed in its place.
func printedAs(shown, printed []string) (at int, why string) {
	next, any := 0, false
	for i, s := range shown {
		if s == "…" {
			any = true
			continue
		}
		fits := shownLine(s)
		for any && next < len(printed) && !fits.MatchString(printed[next]) {
			next++
		}
		if next >= len(printed) {
			return i, "nothing more"
		}
		if !fits.MatchString(printed[next]) {
			return i, fmt.Sprintf("%q", printed[next])
		}
		next, any = next+1, false
	}
	if !any && next < len(printed) && printed[next] != "" {
		return len(shown), fmt.Sprintf("%q", printed[next])
	}
	return 0, ""
}

// shownLine is a line in which … stands for any text.
func shownLine(s string) *regexp.Regexp {
	parts := strings.Split(s, "…")
	for i, p := range parts {
		parts[i] = regexp.QuoteMeta(p)
	}
	return regexp.MustCompile("^" + strings.Join(parts, ".*") + "$")
}

// shellLine is a command of a page, as far as pages need a shell: trammel with its words, what is fed to it by printf or from a
// file, and the file that it prints into.
type shellLine struct {
	words     []string
	fed       string
	from, to  string
	fails     bool // "# exit 1" stands behind it
	inProgram bool // something is fed to it
}

// parseShell reads a command.
func parseShell(text string) (line shellLine, err error) {
	if rest, is := strings.CutSuffix(text, "# exit 1"); is {
		text, line.fails = rest, true
	}
	words, err := shellWords(text)
	if err != nil {
		return line, err
	}
	if i := slices.Index(words, "|"); i >= 0 {
		if i != 2 || words[0] != "printf" {
			return line, errors.New("need printf 'TEXT' in front of the bar")
		}
		line.fed, line.inProgram = strings.ReplaceAll(words[1], `\n`, "\n"), true
		words = words[i+1:]
	}
	for len(words) > 0 {
		switch w := words[0]; {
		case (w == "<" || w == ">") && len(words) > 1:
			if w == "<" {
				line.from = words[1]
			} else {
				line.to = words[1]
			}
			words = words[2:]
		default:
			line.words, words = append(line.words, w), words[1:]
		}
	}
	if len(line.words) == 0 || line.words[0] != "trammel" {
		return line, errors.New("need trammel with a verb")
	}
	line.words = line.words[1:]
	return line, nil
}

// shellWords are the words of a command, without their quotes.
func shellWords(text string) (words []string, err error) {
	word, in, is := "", rune(0), false
	for _, r := range text {
		switch {
		case in != 0 && r == in:
			in = 0
		case in != 0:
			word += string(r)
		case r == '\'' || r == '"':
			in, is = r, true
		case r == ' ':
			if is {
				words = append(words, word)
			}
			word, is = "", false
		default:
			word, is = word+string(r), true
		}
	}
	if in != 0 {
		return nil, errors.New("a quote is not closed")
	}
	if is {
		words = append(words, word)
	}
	return words, nil
}

// shownNow is when a page's commands are typed.
var shownNow = time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)

// run carries a command out in a folder, and returns what it prints.
func (l *shellLine) run(t *testing.T, folder, typed string) string {
	t.Helper()
	back, err := os.Getwd()
	if err == nil {
		err = os.Chdir(folder)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := os.Chdir(back); err != nil {
			t.Fatal(err)
		}
	}()
	in := io.Reader(strings.NewReader(typed + l.fed))
	if l.from != "" {
		b, err := os.ReadFile(l.from)
		if err != nil {
			t.Error(err)
		}
		in = strings.NewReader(string(b))
	}
	homes := map[string]string{"HOME": folder, "XDG_DATA_HOME": filepath.Join(folder, "data"),
		"XDG_CONFIG_HOME": filepath.Join(folder, "config")}
	var out strings.Builder
	code := run(l.words, world{in: in, out: &out, err: &out, now: func() time.Time { return shownNow },
		getenv: func(name string) string { return homes[name] }})
	if want := map[bool]int{false: exitDone, true: exitNo}[l.fails]; code != want {
		t.Errorf("trammel %s: exit %d, want %d:\n%s", strings.Join(l.words, " "), code, want, out.String())
	}
	if l.to == "" {
		return out.String()
	}
	if err := os.WriteFile(l.to, []byte(out.String()), 0o600); err != nil {
		t.Error(err)
	}
	return ""
}

// looks looks at a command that no test can run: there is such a verb, and it has these flags.
func (l *shellLine) looks(t *testing.T, where string) {
	t.Helper()
	c, rest, err := newRoot(world{}).Find(l.words)
	if err == nil {
		err = c.ParseFlags(rest)
	}
	if err != nil || !c.HasParent() && len(l.words) > 0 {
		t.Errorf("%s: trammel %s: %v", where, strings.Join(l.words, " "), err)
	}
}

// A shown text that is not what is printed is found at its line.
func TestPrintedAs(t *testing.T) {
	printed := []string{"one 1.0 mm", "two 2.0 mm", "three 3.0 mm"}
	for _, c := range []struct {
		shown []string
		at    int
		why   string
	}{
		{printed, 0, ""},
		{[]string{"one …", "…", "three 3.0 mm"}, 0, ""},
		{[]string{"…"}, 0, ""},
		{[]string{"…", "t…e 3… mm"}, 0, ""},
		{[]string{"one 1.0 mm", "…"}, 0, ""},
		{[]string{"one 1.0 mm"}, 1, `"two 2.0 mm"`}, // more is printed, and nothing says so
		{[]string{"one 1.1 mm", "…"}, 0, `"one 1.0 mm"`},
		{[]string{"one 1.0 mm", "three 3.0 mm"}, 1, `"two 2.0 mm"`},
		{[]string{"…", "three 3.0 mm", "two 2.0 mm"}, 2, "nothing more"},
		{[]string{"…", "one 1x0 mm", "…"}, 1, "nothing more"}, // a point is a point
	} {
		if at, why := printedAs(c.shown, printed); at != c.at || why != c.why {
			t.Errorf("%q: line %d, %s; want %d, %s", c.shown, at, why, c.at, c.why)
		}
	}
}

// What of a page is a block, and which file it is.
func TestBlocksOf(t *testing.T) {
	got := blocksOf("p.md", "A word, in `a.toml`:\n\n      x = 1\n\n    [y]\n\nmore\n    no block\n\n"+
		"```\n$ trammel\nout\n```\n- a b.txt:\n\n    1 2\n")
	want := []shownBlock{
		{page: "p.md", line: 3, before: "`a.toml`:", lines: []string{"  x = 1", "", "[y]"}},
		{page: "p.md", line: 11, before: "block", lines: []string{"$ trammel", "out"}},
		{page: "p.md", line: 16, before: "b.txt:", lines: []string{"1 2"}},
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("blocks\n%v, want\n%v", got, want)
	}
	if got[0].named() != "a.toml" || got[1].named() != "" || got[2].named() != "b.txt" {
		t.Errorf("files %q, %q, %q", got[0].named(), got[1].named(), got[2].named())
	}
}
