package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync"
	"syscall"
	"time"

	"example.org/trammel/tui"
)

// signalled is a verb that a signal has ended.
type signalled struct {
	by  syscall.Signal
	err error // what else was wrong; nil for nothing
}

func (e *signalled) Error() string {
	if e.err != nil {
		return e.err.Error()
	}
	return fmt.Sprintf("ended by %v", e.by)
}

func (e *signalled) Unwrap() error { return e.err }

// code is what the program ends with, as shells tell it of what a signal has ended (POSIX, Shell Command Language, 2.8.2:
// above 128; common practice, no source: 128 and the number).
func (e *signalled) code() int { return 128 + int(e.by) }

// console is what a screen has to do with: its keys, its window, and what is sent to it from outside.
type console struct {
	ctx   context.Context // ends with the first signal that says so
	in    io.Reader
	out   io.Writer
	shell tui.Shell

	mu     sync.Mutex
	by     syscall.Signal
	onStop func()
}

// onScreen carries out what may open a screen. Signals are waited for before a byte is written, and until the last one
// has been: however the program is told to leave, the terminal is put back, and everything entered is on record. Whatever
// has no screen has no terminal to put back, and is ended by the signal itself. What is carried out on a screen already has it.
func onScreen(w world, m *manner, do func(world) error) error {
	if w.screen != nil {
		return do(w)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	t := &console{ctx: ctx, in: w.in, out: w.uncareful()}
	sent := make(chan os.Signal, 8)
	// Those too that are ignored where the program was started, as in a script's background: there is a terminal to put back.
	signal.Notify(sent, append(stopping, leaving...)...)
	defer signal.Stop(sent)
	t.attach()
	t.shell.OnStop = t.onStopping
	colours, _ := w.settings.text("colours")
	t.shell.Colourless = colours == "none"
	if !w.quiet(&m.quiet) {
		t.shell.Ring = t.ring
	}
	w.screen = t
	go t.watch(ctx, sent, cancel) // what came meanwhile waits in the channel
	err := do(w)
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.by != 0 {
		return &signalled{t.by, err}
	}
	return err
}

// leaving are the signals that end a screen.
var leaving = []os.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT}

// watch waits for signals.
func (t *console) watch(ctx context.Context, sent <-chan os.Signal, cancel func()) {
	for {
		select {
		case <-ctx.Done():
			return
		case s := <-sent:
			if t.stops(s) {
				continue
			}
			t.mu.Lock()
			t.by, _ = s.(syscall.Signal)
			t.mu.Unlock()
			cancel()
			return // what comes after it changes nothing
		}
	}
}

// stops reports whether a signal asks the program to stop, and has the screen do it, where there is one.
func (t *console) stops(s os.Signal) bool {
	for _, stop := range stopping {
		if s == stop {
			t.mu.Lock()
			do := t.onStop
			t.mu.Unlock()
			if do == nil {
				do = func() { t.shell.Stop(func() error { return nil }) }
			}
			go do() // it waits for the screen
			return true
		}
	}
	return false
}

func (t *console) onStopping(do func()) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.onStop = do
}

// bellPause is the time between two sounds of the bell.
const bellPause = 250 * time.Millisecond

func (t *console) ring(times int) {
	for i := range times {
		if i > 0 {
			time.Sleep(bellPause)
		}
		_, _ = io.WriteString(t.out, "\a") // a bell that is broken is no reason to end
	}
}

// quiet reports whether the bell is to be silent: by the flag, else by the settings.
func (w world) quiet(flag *value[bool]) bool {
	text, _ := w.settings.text("quiet")
	return flag.or(text == "true")
}

// endedBy returns the signal that has ended a verb.
func endedBy(err error) *signalled {
	var s *signalled
	if errors.As(err, &s) {
		return s
	}
	return nil
}
