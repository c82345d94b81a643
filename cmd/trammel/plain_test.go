package main

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// environment is a set of variables, NAME=value.
func environment(vars ...string) func(string) string {
	return func(name string) string {
		for _, v := range vars {
			if value, ok := strings.CutPrefix(v, name+"="); ok {
				return value
			}
		}
		return ""
	}
}

// What draws plainly by itself. Which variable decides: POSIX, 8.2, "Internationalization Variables": LC_ALL, else
// LC_CTYPE, else LANG, of those that are set and not empty.
func TestDrawsPlainly(t *testing.T) {
	cases := []struct {
		vars   string
		system string
		want   bool
	}{
		{"", "linux", false},
		{"TERM=xterm-256color", "linux", false},
		{"TERM=linux", "linux", true},
		{"TERM=linux LC_ALL=de_DE.UTF-8", "linux", true}, // the font lacks the signs all the same
		{"TERM=dumb", "darwin", true},
		{"TERM=linux-16color", "linux", false},
		{"LC_ALL=C", "linux", true},
		{"LC_ALL=POSIX", "linux", true},
		{"LC_ALL=C.UTF-8", "linux", false},
		{"LC_ALL=C.utf8 LC_CTYPE=C LANG=C", "linux", false},
		{"LC_CTYPE=C LANG=de_DE.UTF-8", "freebsd", true},
		{"LC_CTYPE=de_DE.UTF-8 LANG=C", "linux", false},
		{"LANG=C", "linux", true},
		{"LC_ALL= LANG=C", "linux", true},
		{"LC_NUMERIC=C LC_MESSAGES=C", "linux", false},
		{"LANG=C", "windows", false},
		{"TERM=dumb", "windows", true},
	}
	for _, c := range cases {
		if got := drawsPlainly(environment(strings.Fields(c.vars)...), c.system); got != c.want {
			t.Errorf("%q on %s: plainly %v, want %v", c.vars, c.system, got, c.want)
		}
	}
}

// A flag goes before its variable, and what is no yes or no is refused.
func TestQuiet(t *testing.T) {
	cases := []struct {
		flag, set string
		want      bool
		refused   string
	}{
		{"", "", false, ""},
		{"true", "", true, ""},
		{"", "1", true, ""},
		{"", "True", true, ""},
		{"", "0", false, ""},
		{"false", "true", false, ""},
		{"", "maybe", false, `TRAMMEL_QUIET="maybe", need true or false`},
	}
	for _, c := range cases {
		var m manner
		cmd := &cobra.Command{}
		m.add(cmd)
		if c.flag != "" {
			if err := cmd.Flags().Set("quiet", c.flag); err != nil {
				t.Fatal(err)
			}
		}
		home := "XDG_CONFIG_HOME=" + t.TempDir() // in which there is no file
		w := world{getenv: environment("TRAMMEL_QUIET="+c.set, home), settings: &settings{}}
		err := w.settings.read(w, cmd)
		got := w.quiet(&m.quiet)
		if got != c.want || (err != nil) != (c.refused != "") || err != nil && err.Error() != c.refused {
			t.Errorf("--quiet=%s, TRAMMEL_QUIET=%s: %v, %v; want %v, %q", c.flag, c.set, got, err, c.want, c.refused)
		}
	}
}
