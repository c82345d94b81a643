package main

import (
	"runtime"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// surrounding is one thing in the surroundings that decides whether more than ASCII can be drawn.
type surrounding struct {
	names   []string            // variables; the first that is set decides
	plainly func(v string) bool // whether ASCII only
	windows bool                // counts there too
}

// surroundings are asked in order; the first that says plainly is enough. The Linux console's font has 256 or 512
// characters, and none of those that the pictures are drawn with (console_codes(4), setfont(8), from memory); a dumb
// terminal promises nothing. The order of the variables: POSIX, 8.2, LC_ALL, LC_CTYPE, LANG; C and POSIX are its one
// portable character set, and C.UTF-8 is neither. On Windows no locale is told in variables.
var surroundings = []surrounding{
	{names: []string{"TERM"}, plainly: oneOf("linux", "dumb"), windows: true},
	{names: []string{"LC_ALL", "LC_CTYPE", "LANG"}, plainly: oneOf("C", "POSIX")},
}

func oneOf(words ...string) func(string) bool {
	return func(v string) bool { return slices.Contains(words, v) }
}

// drawsPlainly reports whether the screen is drawn with ASCII only where nobody has said.
func drawsPlainly(getenv func(string) string, system string) bool {
	for _, d := range surroundings {
		if system == "windows" && !d.windows {
			continue
		}
		for _, name := range d.names {
			if v := getenv(name); v != "" {
				if d.plainly(v) {
					return true
				}
				break
			}
		}
	}
	return false
}

// manner is how a screen looks and sounds.
type manner struct {
	plain value[bool]
	quiet value[bool]
}

// add puts the flags on a verb.
func (m *manner) add(cmd *cobra.Command) {
	for _, f := range []struct {
		flag      *value[bool]
		name, use string
	}{
		{&m.plain, "plain", "draw with ASCII only (default: as the settings say, else where TERM or the locale has no more)"},
		{&m.quiet, "quiet", "no bell (default: as the settings say, else it sounds)"},
	} {
		*f.flag = value[bool]{kind: "bool", name: f.name, read: readBool}
		cmd.Flags().Var(f.flag, f.name, f.use)
		cmd.Flags().Lookup(f.name).NoOptDefVal = "true"
	}
}

func readBool(s string) (bool, error) { return strconv.ParseBool(strings.ToLower(s)) }

// plainly reports whether a screen is drawn with ASCII only.
func (m *manner) plainly(w world) bool {
	if text, ok := w.settings.text("plain"); ok {
		return m.plain.or(text == "true")
	}
	return m.plain.or(drawsPlainly(w.getenv, runtime.GOOS))
}
