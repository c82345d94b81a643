//go:build unix

package main

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
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

// presses are the readings that a button's bytes are, mm.
func presses(t *testing.T, came string) (out []float64) {
	t.Helper()
	s := gauge.Usual()
	s.Mode = gauge.Button
	r, err := gauge.NewReader(s, geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	r.Add([]byte(came), time.Now(), func(mm float64) { out = append(out, mm) })
	return out
}

// What waits in a line when it is opened was sent before anything was asked: it is thrown away, and the rest of a line whose beginning
// was is none.
func TestWhatWaitsInALineIsThrownAway(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	name := filepath.Join(home, "pipe")
	if err := syscall.Mkfifo(name, 0o600); err != nil {
		t.Fatal(err)
	}
	pipe, err := os.OpenFile(name, os.O_RDWR, 0) // and somebody holds it
	if err != nil {
		t.Fatal(err)
	}
	defer pipe.Close()
	master, slave, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer master.Close()
	defer slave.Close()
	if _, err := term.MakeRaw(int(slave.Fd())); err != nil {
		t.Fatal(err)
	}
	set := gauge.Usual()
	for _, c := range []struct {
		what         string
		source       gaugeSource
		into         *os.File
		before, then string
	}{
		{"pipe", pipeSource(world{}, name, nil), pipe, "0.118\n", "0.2\n"},
		{"pipe, in a line", pipeSource(world{}, name, nil), pipe, "0.118\n-0.1", "18\n0.2\n"},
		{"serial line", serialSource(world{}, slave.Name(), &set), master, "0.118\n", "0.2\n"},
	} {
		writeTo(t, c.into, c.before)
		line, err := c.source.open()
		if err != nil {
			t.Fatal(c.what, err)
		}
		writeTo(t, c.into, c.then)
		came, b := "", make([]byte, 100)
		for !strings.HasSuffix(came, "0.2\n") {
			n, err := line.Read(b)
			if err != nil {
				t.Fatal(c.what, err)
			}
			came += string(b[:n])
		}
		if got := presses(t, came); !slices.Equal(got, []float64{0.2}) {
			t.Errorf("%s: %q is read as %v, want 0.2 alone", c.what, came, got)
		}
		if err := line.Close(); err != nil {
			t.Fatal(c.what, err)
		}
	}
}

// What was sent while the program stood still is not taken, and that is said once; the rest of a line whose beginning was is none, and
// what comes then is another stream.
func TestFeedTakesNothingFromWhileItStoodStill(t *testing.T) {
	t.Parallel()
	out, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	writeTo(t, in, "0.118\n-0.1")
	said := make(asides, mostAsides)
	g := &feed{source: gaugeSource{keeps: true, open: func() (io.ReadCloser, error) { return out, nil },
		because: func(err error) error { return err }}}
	g.still.beat = time.Now().Add(-time.Hour)
	if err := g.begin(world{now: time.Now, err: said}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(g.end)
	select {
	case got := <-said:
		if got != "what the cable indicator sent while the program stood still is not taken" {
			t.Errorf("it said %q", got)
		}
	case <-time.After(patience):
		t.Fatal("nothing is said")
	}
	for came := ""; came == ""; {
		writeTo(t, in, "18")
		select {
		case f := <-g.in:
			if came = string(f.bytes); !strings.HasPrefix(came, "\xff18") || !f.begins() {
				t.Errorf("%+v came, want another stream, and no line", f)
			}
		case <-time.After(10 * time.Millisecond):
		}
	}
	writeTo(t, in, "\n0.2\n")
	for came := ""; !strings.HasSuffix(came, "\n0.2\n"); {
		f := next(t, g)
		if came += string(f.bytes); f.begins() {
			t.Errorf("%+v came then", f)
		}
	}
	if len(said) > 0 {
		t.Errorf("it said besides %q", <-said)
	}
}

// A machine that is busy keeps the program waiting, and that is no standing still.
func TestStillness(t *testing.T) {
	now := time.Now()
	var s stillness
	for _, c := range []struct {
		later  time.Duration
		waited bool
	}{{0, false}, {stoodStill, false}, {stoodStill + 1, true}, {emptied - 1, true}, {1, false}, {time.Second, false}} {
		now = now.Add(c.later)
		if got := s.passed(now); got != c.waited {
			t.Errorf("%v later: %v", c.later, got)
		}
	}
}

// A line that is gone at once each time is tried ever more seldom, up to a minute apart, and one that has stayed at once again.
func TestPauseBehindALine(t *testing.T) {
	pause := time.Duration(0)
	for i, want := range []time.Duration{1, 2, 4, 8, 16, 32, 60, 60} {
		if pause = pauseBehind(pause, time.Second); pause != want*time.Second {
			t.Errorf("%v behind try %d, want %v", pause, i+1, want*time.Second)
		}
	}
	if pause = pauseBehind(pause, time.Hour); pause != time.Second {
		t.Errorf("%v behind an hour", pause)
	}
}

// A program that sends one line and fails is found and lost again at its own pace, and not every second.
func TestFeedLeavesAFailingLineAlone(t *testing.T) {
	t.Parallel()
	opened := make(chan time.Time, 3)
	g := &feed{source: gaugeSource{bySending: true, because: func(err error) error { return err }}}
	g.source.open = func() (io.ReadCloser, error) {
		opened <- time.Now()
		return &pieces{all: []string{"0.1\n"}, fails: errors.New("it fails"), closed: make(chan struct{})}, nil
	}
	if err := g.begin(world{now: time.Now, err: io.Discard}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(g.end)
	go func() {
		for {
			select {
			case <-g.in:
			case <-g.done:
				return
			}
		}
	}()
	<-opened
	second := <-opened
	if third := <-opened; third.Sub(second) < 2*reopenWait {
		t.Errorf("it is opened again %v behind the time before", third.Sub(second))
	}
}
