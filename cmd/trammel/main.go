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
	out := helpOut{to: w.out}
	root.SetOut(&out)
	root.SetErr(w.err)
	err := root.Execute()
	if err == nil {
		err = out.err
	}
	return report(w, err)
}

// helpOut is where the library prints help, which tells nobody that it could not: the first error is kept.
type helpOut struct {
	to  io.Writer
	err error
}

func (o *helpOut) Write(b []byte) (int, error) {
	n, err := o.to.Write(b)
	if o.err == nil {
		o.err = err
	}
	return n, err
}
