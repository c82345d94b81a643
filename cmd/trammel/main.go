package main

import (
	"cmp"
	"fmt"
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
	bare     io.Writer // out as the system has it: see careful
	nowhere  bool      // out leads nowhere: see leadsNowhere
	now      func() time.Time
	getenv   func(string) string
	terminal bool     // both standard input and standard output are terminals
	screen   *console // where a screen may be opened: see onScreen
	environ  func() []string
	settings *settings // filled in before a verb runs
	inputs   *inputs   // what it has opened to be read
}

func main() {
	w := world{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now, getenv: os.Getenv, environ: os.Environ,
		terminal: isTerminal(os.Stdin) && isTerminal(os.Stdout), nowhere: leadsNowhere(os.Stdout),
	}
	if completing(os.Args[1:]) {
		w = silently(w)
	}
	os.Exit(run(os.Args[1:], w))
}

// run is the whole program but for the exit.
func run(args []string, w world) int {
	w.settings, w.inputs = &settings{}, &inputs{}
	w, said, complained := careful(w)
	err := execute(args, w)
	if err == nil {
		err = said.end()
	}
	code := report(w, err)
	if w.nowhere && said.wrote {
		fmt.Fprintln(w.err, "trammel: hint: standard output is closed, or the null device opened to read and write: what was said is lost")
	}
	_ = complained.end() // there is nobody to tell
	return code
}

// execute carries out the verb that is named.
func execute(args []string, w world) error {
	if len(args) == 1 && args[0] == "--version" { // what is asked most by scripts, and needs no verb
		_, err := fmt.Fprintln(w.out, wholeVersion())
		return err
	}
	root := newRoot(w)
	root.SetArgs(args)
	root.SetIn(w.in)
	out := helpOut{to: w.out}
	if completing(args) {
		out.to = w.uncareful() // a tab stands between a word and what it means
	}
	root.SetOut(&out)
	root.SetErr(w.err)
	return cmp.Or(root.Execute(), out.err)
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
