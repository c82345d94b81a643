//go:build unix

package main

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"testing"
	"time"
)

// pieces is a line that sends one piece after the other, and then fails.
type pieces struct {
	all    []string
	fails  error
	closed chan struct{}
}

func (p *pieces) Read(b []byte) (int, error) {
	if len(p.all) == 0 {
		return 0, p.fails
	}
	n := copy(b, p.all[0])
	p.all = p.all[1:]
	return n, nil
}

func (p *pieces) Close() error {
	close(p.closed)
	return nil
}

// feedOf begins to read a line.
func feedOf(t *testing.T, r io.ReadCloser) *feed {
	t.Helper()
	g := &feed{source: gaugeSource{open: func() (io.ReadCloser, error) { return r, nil }, because: func(err error) error { return err }}}
	if err := g.begin(world{now: time.Now, err: io.Discard}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(g.end)
	return g
}

// next is what happens on a line next.
func next(t *testing.T, g *feed) fed {
	t.Helper()
	select {
	case f := <-g.in:
		return f
	case <-time.After(patience):
		t.Fatal("nothing happens")
		return fed{}
	}
}

// A program that has ended is let go of before that is said, and not at the session's end, hours later.
func TestFeedLetsGoOfWhatIsDone(t *testing.T) {
	t.Parallel()
	p := &pieces{fails: errDone, closed: make(chan struct{})}
	if f := next(t, feedOf(t, p)); !errors.Is(f.lost, errDone) {
		t.Fatalf("%+v, want that it is done", f)
	}
	select {
	case <-p.closed:
	default:
		t.Error("it is still held")
	}
}

// Nothing is sent to the number of a program of which nothing is left: another may have it. One that is there by that number stands in
// for that one.
func TestSenderThatHasEndedIsSentNothing(t *testing.T) {
	t.Parallel()
	out, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	other := exec.Command("cat")
	ownGroup(other)
	stdin, err := other.StdinPipe()
	if err == nil {
		err = other.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	p := &sender{out: out, cmd: other, ended: make(chan struct{})}
	close(p.ended)
	in.Close()
	if _, err := p.Read(make([]byte, 1)); !errors.Is(err, errDone) {
		t.Fatalf("%v, want that it is done", err)
	}
	if err := p.Close(); err != nil {
		t.Fatal(err)
	}
	stdin.Close()
	if err := other.Wait(); err != nil {
		t.Errorf("the other program: %v", err)
	}
}
