package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"sync/atomic"
	"time"

	"example.org/trammel/indicator/gauge"
)

// programSource is what a program writes. The command is split at spaces, and no shell sees it.
func programSource(w world, command string, _ *gauge.Settings) gaugeSource {
	words := strings.Fields(command)
	return gaugeSource{
		bySending: true, ends: true, keeps: true,
		open: func() (io.ReadCloser, error) {
			p, err := startSender(w, words)
			if err != nil {
				return nil, withHint(fmt.Errorf("cable indicator's program %s: %w", words[0], err),
					"see whether it is there and may be run; it is split at spaces, and no shell sees it")
			}
			return p, nil
		},
		because: func(err error) error { return fmt.Errorf("cable indicator's program %s: %w", words[0], err) },
	}
}

// sender is a program that sends what an indicator shows.
type sender struct {
	out   *os.File
	cmd   *exec.Cmd
	ended chan struct{}
	how   error       // what it ended with, once it has
	dry   atomic.Bool // nobody has its output any more: neither it nor what it has started
}

// errDone: a program has said all that it had to say. It is not started anew: it would say it again.
var errDone = errors.New("it has ended")

// Until a program is ended by force after it was asked to, and until what it has started lets go of its complaints.
const (
	programGrace = 300 * time.Millisecond
	programDelay = time.Second
)

func startSender(w world, words []string) (*sender, error) {
	out, in, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	complaints := &complaints{w: w, of: words[0]}
	p := &sender{out: out, cmd: exec.Command(words[0], words[1:]...), ended: make(chan struct{})}
	p.cmd.Stdout, p.cmd.Stderr, p.cmd.WaitDelay = in, complaints, programDelay
	ownGroup(p.cmd)
	endsWithUs(p.cmd)
	started := make(chan error)
	go func() {
		// Where it ends with us, it does so with the thread that started it: that one is kept until it has ended.
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		err := p.cmd.Start()
		if started <- err; err != nil {
			return
		}
		defer close(p.ended)
		p.how = p.cmd.Wait()
		complaints.close()
	}()
	err = <-started
	_ = in.Close() // the program has its own
	if err != nil {
		_ = out.Close()
		return nil, err
	}
	return p, nil
}

// Read reads what it writes; at its end the error says what it ended with.
func (p *sender) Read(b []byte) (int, error) {
	n, err := p.out.Read(b)
	if !errors.Is(err, io.EOF) {
		return n, err
	}
	p.dry.Store(true)
	select {
	case <-p.ended:
	case <-time.After(programGrace):
		return n, errors.New("it has closed its output")
	}
	if p.how == nil {
		return n, errDone
	}
	return n, fmt.Errorf("it has ended: %w", p.how)
}

// Close ends it, and all that it has started. Where nothing of it is left, its number may be another's by now.
func (p *sender) Close() error {
	select {
	case <-p.ended:
		if p.dry.Load() {
			return p.out.Close()
		}
	default:
	}
	endGroup(p.cmd, false)
	select {
	case <-p.ended:
	case <-time.After(programGrace):
	}
	endGroup(p.cmd, true)
	<-p.ended
	return p.out.Close()
}

// mostComplaints is how many of a program's complaints are shown in a second; the others are counted.
const mostComplaints = 5

// complaints shows what a program complains of, line by line.
type complaints struct {
	w       world
	of      string
	lines   gauge.Splitter
	since   time.Time
	shown   int
	omitted int
}

// Write shows the lines that b ends.
func (c *complaints) Write(b []byte) (int, error) {
	c.lines.Add(b, c.show)
	return len(b), nil
}

func (c *complaints) show(l gauge.Line) {
	if now := c.w.now(); now.Sub(c.since) >= time.Second {
		c.tellOmitted()
		c.since, c.shown = now, 0
	}
	if c.shown++; c.shown > mostComplaints {
		c.omitted++
		return
	}
	text := l.Text
	if !l.Whole {
		text = fmt.Sprintf("a line of more than %d bytes", gauge.MaxLine)
	}
	fmt.Fprintf(c.w.err, "trammel: %s: %s\n", printable(c.of), printable(text))
}

func (c *complaints) tellOmitted() {
	if c.omitted > 0 {
		fmt.Fprintf(c.w.err, "trammel: %s: and %d more lines\n", printable(c.of), c.omitted)
		c.omitted = 0
	}
}

// close shows what is left, once nothing more comes.
func (c *complaints) close() {
	c.lines.Add([]byte("\n"), c.show)
	c.tellOmitted()
}
