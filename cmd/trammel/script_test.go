package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets this test binary stand in for the program: started under the name trammel it is
// the program, in a process of its own, and under the second name one whose clock breaks.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"trammel": main, "trammel-breaks": breaks, quickly: quick, sends: send})
}

// breaks is main with a clock that panics when a step of the screen looks at it for the fifth time: three slides are loaded
// and one reading is taken by then.
func breaks() {
	looks := 0
	now := func() time.Time {
		if strings.Contains(string(debug.Stack()), "gated.func") {
			looks++
		}
		if looks > 4 {
			panic("the clock is broken")
		}
		return time.Now()
	}
	mainBy(now)
}

// quickly is the name of a program that is main by a clock which runs pace times as fast: what waits until a page can have
// been read waits the less, and all else is as it is.
const (
	quickly = "trammel-quick"
	pace    = 5
)

func quick() {
	begun := time.Now()
	practiceEvery /= pace
	mainBy(func() time.Time { return begun.Add(pace * time.Since(begun)) })
}

// mainBy is main by a clock.
func mainBy(now func() time.Time) {
	os.Exit(run(os.Args[1:], world{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, now: now, getenv: os.Getenv,
		terminal: isTerminal(os.Stdin) && isTerminal(os.Stdout),
	}))
}

// Every script of testdata/script is one story told to the program without a terminal. Figures
// in them are worked out by hand beside the line that checks them.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		Setup:               scriptSetup,
		Cmds:                scriptCommands,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}

// noLinger keeps a program that is built with -race from sleeping a second before it ends.
const noLinger = "GORACE=atexit_sleep_ms=0"

// benchFiles are the job and the machine of the practice bench.
var benchFiles = []string{"bench-job.toml", "bench-machine.toml"}

// plateFiles are the drawings that the scripts plan.
var plateFiles = []string{"quadrant-plate.dxf", "quadrant-plate.toml", "tensioner-two-levels.toml", "mixed-r12-mm.dxf"}

// scriptSetup puts the practice bench's files and the drawings into the script's folder, and a home that is not
// the person's own.
func scriptSetup(e *testscript.Env) error {
	if err := copyBench(e.WorkDir); err != nil {
		return err
	}
	for _, name := range plateFiles {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "drawing", name))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(e.WorkDir, name), text, 0o600); err != nil {
			return err
		}
	}
	home := filepath.Join(e.WorkDir, "home")
	e.Setenv("HOME", home)
	e.Setenv("USERPROFILE", home)
	e.Setenv("LOCALAPPDATA", filepath.Join(home, "local"))
	e.Setenv("APPDATA", filepath.Join(home, "config"))
	e.Setenv("XDG_DATA_HOME", "")
	e.Setenv("XDG_CONFIG_HOME", "")
	e.Setenv("NO_COLOR", "")
	e.Vars = append(e.Vars, noLinger)
	return os.Mkdir(home, 0o700)
}

// copyBench copies the practice bench's files into a folder.
//
// Its sweeps take every planned station: the figures of the scripts are worked out for six.
func copyBench(folder string) error {
	for _, name := range benchFiles {
		text, err := os.ReadFile(filepath.Join("..", "..", "indicator", "practice", name))
		if err != nil {
			return fmt.Errorf("practice bench: %w", err)
		}
		text = bytes.ReplaceAll(text, []byte("stations = 6\n"), []byte("stations = 6\nat_least = 6\n"))
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
			return err
		}
	}
	return nil
}
