//go:build unix

package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.org/trammel/indicator/session"
)

// coloured is a sequence that sets a colour: of 8 or 16 (ECMA-48, SGR 30 to 37 and 40 to 47; 90 and on by common
// practice), of 256 or of all (ITU-T T.416, 38 and 48).
var coloured = regexp.MustCompile(`\x1b\[(?:[0-9;]*;)?(?:[39][0-7]|[34]8;[25];[0-9;]+|4[0-7])m`)

// The screen in surroundings of each kind: which signs it is drawn with, and with how many colours at most.
func TestSurroundings(t *testing.T) {
	t.Parallel()
	const none, few, many = 0, 16, 256
	for _, c := range []struct {
		vars    []string
		flags   []string
		plain   bool
		colours int
	}{
		{[]string{"TERM=xterm-256color"}, nil, false, many},
		{[]string{"TERM=xterm-256color", "NO_COLOR=1"}, nil, false, none},
		{[]string{"TERM=xterm-256color", "NO_COLOR="}, nil, false, many},
		{[]string{"TERM=xterm-256color", "LC_ALL=C.UTF-8"}, nil, false, many},
		{[]string{"TERM=xterm-256color", "LC_ALL=C"}, nil, true, many},
		{[]string{"TERM=xterm-256color", "LANG=POSIX"}, []string{"--plain=false"}, false, many},
		{[]string{"TERM=xterm-256color"}, []string{"--plain"}, true, many},
		{[]string{"TERM=xterm-256color", "TRAMMEL_COLOURS=none"}, nil, false, none},
		{[]string{"TERM=xterm-256color", "TRAMMEL_PLAIN=true"}, nil, true, many},
		{[]string{"TERM=xterm-256color", "TRAMMEL_PLAIN=true"}, []string{"--plain=false"}, false, many},
		{[]string{"TERM=xterm-256color", "LC_ALL=C", "TRAMMEL_PLAIN=false"}, nil, false, many},
		{[]string{"TERM=linux", "LANG=de_DE.UTF-8"}, nil, true, few},
		{[]string{"TERM=vt100"}, nil, false, none},
		{[]string{"TERM=dumb"}, nil, true, none},
	} {
		t.Run(strings.Join(append(c.vars, c.flags...), " "), func(t *testing.T) {
			t.Parallel()
			cmd := program(t, t.TempDir(), append([]string{"practice", "--steps=false", "--seed", "7"}, c.flags...)...)
			cmd.Args[0] = quickly
			cmd.Env = append(slices.DeleteFunc(cmd.Env, func(v string) bool { return strings.HasPrefix(v, "TERM=") }), c.vars...)
			x := on(t, cmd, 80, 24)
			x.shows("practice 7", "Enter goes on")
			x.answers("\r")
			x.shows("take up the backlash: 1 of 3")
			screen := strings.Join(x.screen(), "\n")
			x.types("q")
			x.ends(exitDone)
			if plain := !strings.ContainsFunc(screen, func(r rune) bool { return r > unicode.MaxASCII }); plain != c.plain {
				t.Errorf("drawn plainly %v, want %v:\n%s", plain, c.plain, screen)
			}
			seen := none
			for _, s := range coloured.FindAllString(x.written(), -1) {
				if seen = max(seen, few); strings.Contains(s, "8;5;") {
					seen = max(seen, many)
				} else if strings.Contains(s, "8;2;") {
					seen = 1 << 24
				}
			}
			if seen != c.colours {
				t.Errorf("drawn with colours of %d, want of %d", seen, c.colours)
			}
		})
	}
}

// The bell is heard for what is refused, and twice for the page behind a closed sweep; and not by who asks for quiet.
func TestBellOnATerminal(t *testing.T) {
	t.Parallel()
	for _, quiet := range []string{"", "TRAMMEL_QUIET=1"} {
		home := t.TempDir()
		if err := copyBench(home); err != nil {
			t.Fatal(err)
		}
		cmd := program(t, home, "dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl")
		cmd.Args[0] = quickly
		cmd.Env = append(cmd.Env, quiet)
		x := on(t, cmd, 80, 24)
		x.shows("Enter goes on")
		x.answers("\r")
		for range 3 {
			x.shows("take up ")
			x.answers("\r")
		}
		x.shows("station 1 of 6")
		x.types("abc\r")
		x.shows("is not a number")
		want := map[bool]int{true: 1}[quiet == ""]
		x.until("a bell for a refusal", func([]string) bool { return strings.Count(x.written(), "\a") == want })
		for i, r := range []string{"0.08", "0.14", "0.26", "0.32", "0.26", "0.14"} {
			x.shows(fmt.Sprintf("station %d of 6", i+1))
			x.types(r + "\r")
		}
		x.shows("wind 1 of 2")
		want *= 3
		x.until("two bells for the page behind the sweep", func([]string) bool { return strings.Count(x.written(), "\a") == want })
		x.types("q")
		x.ends(exitDone)
		if got := strings.Count(x.written(), "\a"); got != want {
			t.Errorf("%q: the bell sounds %d times, want %d", quiet, got, want)
		}
	}
}

// What a real terminal sends, through the kernel's own line: a cable that ends in CR LF, a keypad in application mode, Esc
// alone, mice, a paste of 100 kB. Nothing of it is taken for anything else.
func TestWhatTerminalsSend(t *testing.T) {
	t.Parallel()
	x, _, file := dialOn(t, 80, 24)
	x.takes(1, "0.08\r\n", "+0.080")
	x.takes(2, "\x1bOp\x1bOn\x1bOq\x1bOt\x1bOM", "+0.140")
	x.shows("station 3 of 6")
	x.types("\x1b[200~" + strings.Repeat("0.26\r", 20_000) + "\x1b[201~")
	x.shows("100000 bytes pasted, need at most 65536; nothing of it is taken")
	x.types("7\x1b") // which clears the 7, though nothing comes behind it
	x.until("an entry that is cleared", func(rows []string) bool {
		return strings.Contains(strings.Join(rows, "\n"), "station 3 of 6") && !strings.Contains(strings.Join(rows, "\n"), "bytes pasted")
	})
	x.takes(3, "0.2\x1b[<35;10;10M\x1b[I6\x1b[O\r", "+0.260")
	x.shows("station 4 of 6")
	x.types("\x1b[A")
	x.shows("Num Lock seems to be off")
	x.takes(4, "0.32\n", "+0.320")
	x.types("q")
	x.ends(exitDone)
	if s := whole(t, file, 8); s.Sweep.Readings() != 4 {
		t.Errorf("%d readings on record, want 4", s.Sweep.Readings())
	}
}

// A cable that ends its readings in CR LF, LF CR, or either alone, is taken once a reading; behind the last of a sweep the page of
// the first wind stands, and nothing of it is confirmed.
func TestCableEndings(t *testing.T) {
	t.Parallel()
	for _, ends := range []string{"\r\n", "\n\r", "\r", "\n"} {
		x, _, file := dialOn(t, 80, 24)
		for i, r := range []string{"0.08", "0.14", "0.26", "0.32", "0.26", "0.14"} {
			x.shows(fmt.Sprintf("station %d of 6", i+1))
			x.types(r + ends)
		}
		x.shows("wind 1 of 2")
		x.types("q") // which comes behind whatever the last ending does
		x.ends(exitDone)
		if ends != "\n\r" && strings.Contains(x.written(), "is not taken") {
			t.Errorf("%q: the second character is taken for a key", ends)
		}
		s := whole(t, file, 12)
		if p := s.Prompt(); s.Sweep.Readings() != 6 || p.Waits != session.ForWind || p.Wind.Told.Step != 1 {
			t.Errorf("%q: %d readings, it waits for %v, wind %d; want 6, and wind 1 to be made", ends, s.Sweep.Readings(), p.Waits,
				p.Wind.Told.Step)
		}
	}
}
