package main

import (
	"io"
	"os"
	"time"
)

// Exit codes: done; the data or the machine says no; wrong use.
const (
	exitDone = 0
	exitNo   = 1
	exitUse  = 2
)

// world is what the program touches outside itself, so that a test can stand in for it.
type world struct {
	in       io.Reader
	out, err io.Writer
	now      func() time.Time
	getenv   func(string) string
	terminal bool     // both standard input and standard output are terminals
	screen   *console // where a screen may be opened: see onScreen
	environ  func() []string
	settings *settings // filled in before a verb runs
}

func main() {
	w := world{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now, getenv: os.Getenv, environ: os.Environ,
		terminal: isTerminal(os.Stdin) && isTerminal(os.Stdout),
	}
	if completing(os.Args[1:]) {
		w = silently(w)
	}
	os.Exit(run(os.Args[1:], w))
}

// run is the whole program but for the exit.
func run(args []string, w world) int {
	w.settings = &settings{}
	root := newRoot(w)
	root.SetArgs(args)
	root.SetIn(w.in)
	root.SetOut(w.out)
	root.SetErr(w.err)
	return report(w, root.Execute())
}
