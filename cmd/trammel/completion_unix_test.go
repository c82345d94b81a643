//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// A bash that has loaded nothing, as a person types: the topic is completed, a name behind = too, nothing is complained of, and what
// stands behind a redirection is not written to. Where there is no bash there is nobody to ask; where CI is set that is a failure.
func TestBashCompletesByItself(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		if t.Logf("no bash here: %v", err); os.Getenv("CI") != "" {
			t.Fail()
		}
		return
	}
	home := t.TempDir()
	script, complaints, code := asks("completion", "bash")
	if code != exitDone {
		t.Fatal(complaints)
	}
	if err := os.WriteFile(filepath.Join(home, "script"), []byte(script), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "--norc", "--noprofile", "-i")
	cmd.Path, cmd.Args[0] = bash, "bash"
	cmd.Env = append(cmd.Env, "PS1=ready> ", "HISTFILE=", "INPUTRC=/dev/null", "LC_ALL=C.UTF-8")
	x := on(t, cmd, 100, 30)
	x.shows("ready>")
	x.types("source ./script && echo loaded $((1 + 1))\r")
	x.shows("loaded 2")
	// Each line is typed behind a prompt of its own: what is typed before bash reads keys is echoed by the terminal and spoils the line.
	for i, c := range []struct{ typed, want string }{
		{"trammel help saf", "trammel help safety"},
		{"trammel --unit=i", "trammel --unit=in"},
		{"trammel fit --unit i", "trammel fit --unit in"},
	} {
		prompt := fmt.Sprintf("line %d>", i)
		x.types("\x15PS1='line '" + strconv.Itoa(i) + "'> '\r")
		x.shows(prompt)
		x.types(c.typed + "\t")
		x.shows(prompt + " " + c.want)
	}
	x.types("\x15PS1=last'> '\r")
	x.shows("last>")
	x.types("trammel help > saf\t")
	x.shows("last> trammel help > saf")
	x.types("\x15exit\r")
	x.ends(exitDone)
	if out := x.written(); strings.Contains(out, "not found") || strings.Contains(out, "bash:") {
		t.Errorf("bash complains:\n%s", out)
	}
	if files, err := os.ReadDir(home); err != nil || len(files) != 1 {
		t.Errorf("completing has made %v (%v)", files, err)
	}
}
