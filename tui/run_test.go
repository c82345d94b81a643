package tui_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// safeBuffer is what the terminal library may write to from any goroutine.
type safeBuffer struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (b *safeBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.Write(p)
}

func (b *safeBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.buf.String()
}

// run opens the screen as the program does, with the slides loaded, on a terminal of pipes, and types into it; the last of
// what is typed again and again, until the screen is left.
func run(t *testing.T, ctx context.Context, out session.Appender, typed ...string) (session.State, string, error) {
	t.Helper()
	live := session.NewLive(session.State{}, out)
	if _, err := live.Do(session.Open{Opened: opened(t, nil)}, begin); err != nil {
		t.Fatal(err)
	}
	for range 3 { // slides
		if _, err := live.Do(session.Confirm{}, begin); err != nil {
			t.Fatal(err)
		}
	}
	ctx, cancel := context.WithTimeout(ctx, deadline)
	defer cancel()
	r, w := io.Pipe()
	var screen safeBuffer
	go func() {
		for i := 0; ; i = min(i+1, len(typed)-1) {
			if _, err := io.WriteString(w, typed[i]); err != nil {
				return // the screen has been left
			}
		}
	}()
	s, err := tui.Run(ctx, tui.Config{Live: live, Now: clock(), In: r, Out: &screen})
	w.Close()
	return s, screen.String(), err
}

// Keys come in, the state comes back, and the keypad is put into numeric mode first.
func TestRun(t *testing.T) {
	mem := &session.Memory{}
	s, screen, err := run(t, t.Context(), mem, "\r", "0.12\r0.13\r", "q")
	if err != nil {
		t.Fatal(err)
	}
	if s.Sweep.N != 2 || len(mem.Lines) != 6 || s.Events != 6 {
		t.Errorf("%d readings, %d lines, %d events; want 2, 6, 6", s.Sweep.N, len(mem.Lines), s.Events)
	}
	if !strings.HasPrefix(screen, "\x1b>") {
		t.Errorf("the first that is written is %.20q, want the numeric keypad", screen)
	}
	if strings.Contains(screen, "\x1b]11") || strings.Contains(screen, "\x1b[6n") {
		t.Errorf("the terminal is asked something: %q", screen)
	}
}

// What could not be recorded is what the program ends with.
func TestRunNotRecorded(t *testing.T) {
	s, _, err := run(t, t.Context(), &failing{left: 5}, "\r", "0.12\r", "0.13\r", "q")
	var lost *session.RecordError
	if !errors.As(err, &lost) || s.Events != 5 {
		t.Errorf("%d events, error %v; want 5, a *session.RecordError", s.Events, err)
	}
}

// When the program is told to end while a line is on its way to the disk, the screen waits for it,
// and nothing begins afterwards: what Run returns is what is on record.
func TestRunWaitsForTheStep(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	mem := &session.Memory{}
	slow := appender(func(line []byte) error {
		if strings.Contains(string(line), `"k":"reading"`) {
			cancel()
			time.Sleep(100 * time.Millisecond) // the screen has ended by then
		}
		return mem.Append(line)
	})
	s, _, err := run(t, ctx, slow, "\r", "0.12\r0.13\r", "0.14\r")
	if err != nil {
		t.Fatal(err)
	}
	if s.Sweep.N != 1 || s.Events != 5 {
		t.Errorf("%d readings, %d events; want the one that was on its way, 5", s.Sweep.N, s.Events)
	}
	time.Sleep(50 * time.Millisecond)
	if len(mem.Lines) != 5 {
		t.Errorf("%d lines after the screen has ended, want 5", len(mem.Lines))
	}
}
