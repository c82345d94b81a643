//go:build unix

package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// talk is the program in lines with a cable indicator, its answers and what it says.
type talk struct {
	t    *testing.T
	home string
	cmd  *exec.Cmd
	in   io.WriteCloser
	rows *bufio.Scanner
	stop func() bool
}

// gaugedTalk starts a new session with more stated of the machine, as far as its first station.
func gaugedTalk(t *testing.T, home, stated, spec string) *talk {
	t.Helper()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	machine := filepath.Join(home, benchFiles[1])
	text, err := os.ReadFile(machine)
	if err == nil {
		err = os.WriteFile(machine, append(text, "\n[gauge]\n"+stated...), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	x := startTalk(t, home, "dial", "--lines", "--json", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl",
		"--gauge", spec)
	x.says(sayLine{"say": "load"})
	x.types("done", "done", "done")
	x.says(sayLine{"say": "ask", "station": 1.0})
	return x
}

// startTalk starts the program.
func startTalk(t *testing.T, home string, args ...string) *talk {
	t.Helper()
	x := &talk{t: t, home: home, cmd: program(t, home, args...)}
	var err error
	if x.in, err = x.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := x.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	complaints, err := os.Create(filepath.Join(home, "complaints"))
	if err != nil {
		t.Fatal(err)
	}
	defer complaints.Close()
	x.cmd.Stderr = complaints
	x.rows = bufio.NewScanner(out)
	if err := x.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	x.stop = time.AfterFunc(patience, func() { _ = x.cmd.Process.Kill() }).Stop
	return x
}

func (x *talk) types(texts ...string) {
	x.t.Helper()
	for _, text := range texts {
		if _, err := fmt.Fprintln(x.in, text); err != nil {
			x.t.Fatal(err)
		}
	}
}

// says waits for a line that has all of these fields.
func (x *talk) says(want sayLine) sayLine {
	x.t.Helper()
	var seen []string
	for x.rows.Scan() {
		var l sayLine
		if err := json.Unmarshal(x.rows.Bytes(), &l); err != nil {
			x.t.Fatalf("%q: %v", x.rows.Text(), err)
		}
		all := true
		for k, v := range want {
			all = all && reflect.DeepEqual(l[k], v)
		}
		if all {
			return l
		}
		seen = append(seen, x.rows.Text())
	}
	x.t.Fatalf("ended without %v; it said %s, and complained %q", want, strings.Join(seen, "\n"), x.complained())
	return nil
}

func (x *talk) complained() string {
	x.t.Helper()
	text, err := os.ReadFile(filepath.Join(x.home, "complaints"))
	if err != nil {
		x.t.Fatal(err)
	}
	return string(text)
}

// ends quits, and returns the readings on record.
func (x *talk) ends() (took []session.Took) {
	x.t.Helper()
	x.types("quit")
	x.says(sayLine{"say": "paused"})
	if err := x.cmd.Wait(); err != nil || !x.stop() {
		x.t.Fatalf("the program ended with %v", err)
	}
	j, err := journal.Read(filepath.Join(x.home, "j.jsonl"))
	if err != nil || j.Err() != nil {
		x.t.Fatal(err, j.Err())
	}
	for i, line := range j.Lines {
		r, err := session.Decode(i+1, line)
		if err != nil {
			x.t.Fatal(err)
		}
		if e, ok := r.Event.(session.Took); ok {
			took = append(took, e)
		}
	}
	return took
}

// cable is one end of a serial line, the other end of which has a name of its own.
type cable struct {
	t      testing.TB
	name   string
	silent bool // it sends nothing
	mu     sync.Mutex
	master *os.File
	value  float64
	done   chan struct{}
}

// plug puts a new line in under the name.
func (c *cable) plug() {
	c.t.Helper()
	master, slave, err := pty.Open()
	if err != nil {
		c.t.Fatal(err)
	}
	c.t.Cleanup(func() { slave.Close() })
	if _, err := term.MakeRaw(int(slave.Fd())); err != nil {
		c.t.Fatal(err)
	}
	if err := os.Symlink(slave.Name(), c.name+".new"); err != nil {
		c.t.Fatal(err)
	}
	if err := os.Rename(c.name+".new", c.name); err != nil {
		c.t.Fatal(err)
	}
	c.mu.Lock()
	c.master, c.done = master, make(chan struct{})
	done := c.done
	c.mu.Unlock()
	if !c.silent {
		go c.stream(master, done)
	}
}

// pull takes the line out.
func (c *cable) pull() {
	c.mu.Lock()
	defer c.mu.Unlock()
	close(c.done)
	c.master.Close()
}

func (c *cable) shows(v float64) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.value = v
}

// stream sends a thousand figures a second: some end so and some so, some come in halves, and noise is among them.
func (c *cable) stream(out *os.File, done <-chan struct{}) {
	ends := []string{"\r", "\n", "\r\n"}
	for i := 0; ; i++ {
		c.mu.Lock()
		text := fmt.Sprintf("%+.3f mm%s", c.value, ends[i%len(ends)])
		c.mu.Unlock()
		switch {
		case i%50 == 7:
			text = "\xff\x00\x1b[2J" + text
		case i%50 == 9:
			text = "ERR\r" + text
		}
		if _, err := io.WriteString(out, text[:3]); err != nil {
			return
		}
		if i%4 == 0 {
			time.Sleep(4 * time.Millisecond)
		}
		if _, err := io.WriteString(out, text[3:]); err != nil {
			return
		}
		select {
		case <-done:
			return
		default:
		}
	}
}

// takes has the needle stand still at a figure, and takes it.
func (x *talk) takes(c *cable, station int, v float64) {
	x.t.Helper()
	c.shows(v)
	for { // it may still be said to stand where it stood
		l := x.says(sayLine{"say": "needle", "stable": true})
		if got := l["value"].(float64); got == v {
			break
		}
	}
	x.types("take")
	x.says(sayLine{"say": "reading", "station": float64(station), "value": v})
}

// figures are readings as they were entered, and how many samples each is made of; 0 for one that was typed.
func figures(took []session.Took) (out []string) {
	for _, e := range took {
		out = append(out, fmt.Sprintf("%.3f of %d %s", e.Reading, e.Gauge.Samples, strings.SplitN(e.Gauge.Source, ":", 2)[0]))
	}
	return out
}

// A thousand lines a second over a serial line, with every kind of line end, halves, noise and a line of a megabyte among them:
// what is taken is what the needle shows when it stands still, each once, whatever else is typed, and a line that is pulled out
// is lost and found again.
func TestGaugeOnASerialLine(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	c := &cable{t: t, name: filepath.Join(home, "line")}
	c.plug()
	x := gaugedTalk(t, home, "stable = 12\nwithin = 0.004\nbaud = 115200\n", "serial:"+c.name)
	x.takes(c, 1, 0.118)
	x.takes(c, 2, 0.121)
	x.types("0.117")
	x.says(sayLine{"say": "reading", "station": 3.0, "value": 0.117})

	c.pull()
	x.says(sayLine{"say": "gauge", "state": "lost"})
	x.types("take")
	x.says(sayLine{"say": "refused", "input": "take"})
	x.types("0.116")
	x.says(sayLine{"say": "reading", "station": 4.0, "value": 0.116})
	c.shows(0.119)
	c.plug()
	x.says(sayLine{"say": "gauge", "state": "found"})
	long := bytes.Repeat([]byte("7"), 1<<20)
	c.mu.Lock()
	_, err := c.master.Write(long)
	c.mu.Unlock()
	if err != nil {
		t.Fatal(err)
	}
	x.takes(c, 5, 0.119)
	got := figures(x.ends())
	want := []string{"0.118 of 12 serial", "0.121 of 12 serial", "0.117 of 0 ", "0.116 of 0 ", "0.119 of 12 serial"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("on record are %q, want %q", got, want)
	}
}

// What an indicator's button sends through a named pipe, at a hand's pace, is entered as it comes, in its order, each once, whoever
// writes it; the half line of one who has gone is nothing, neither is another unit, nor what comes sooner than a hand presses again.
// What is typed goes between.
func TestGaugeButtonOnAPipe(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	pipe := filepath.Join(home, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	send := func(text string) {
		t.Helper()
		if err := os.WriteFile(pipe, []byte(text), 0); err != nil {
			t.Fatal(err)
		}
	}
	x := gaugedTalk(t, home, "mode = \"button\"\nunit = \"mm\"\n", "fifo:pipe")
	send("0.118\n")
	x.says(sayLine{"say": "reading", "station": 1.0, "value": 0.118})
	send("0.1")
	x.says(sayLine{"say": "gauge", "state": "unread", "lines": 1.0})
	time.Sleep(gauge.HandAgain)
	send("0.121\n")
	x.says(sayLine{"say": "reading", "station": 2.0, "value": 0.121})
	time.Sleep(gauge.HandAgain)
	send("0,117 mm\r\n0.2 in\n0.5\n0.6\n") // which no hand sends
	x.says(sayLine{"say": "reading", "station": 3.0, "value": 0.117})
	x.says(sayLine{"say": "gauge", "state": "unread", "lines": 1.0, "because": "it sends \"in\", need mm"})
	x.types("0.116", "take")
	x.says(sayLine{"say": "refused", "input": "take"})
	time.Sleep(gauge.HandAgain)
	send("99\n")
	x.says(sayLine{"say": "refused", "input": "99"})
	time.Sleep(gauge.HandAgain)
	send("0.119\n")
	x.says(sayLine{"say": "reading", "station": 5.0, "value": 0.119})
	if err := os.Remove(pipe); err != nil {
		t.Fatal(err)
	}
	x.says(sayLine{"say": "gauge", "state": "lost"})
	got := figures(x.ends())
	want := []string{"0.118 of 1 fifo", "0.121 of 1 fifo", "0.117 of 1 fifo", "0.116 of 0 ", "0.119 of 1 fifo"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("on record are %q, want %q", got, want)
	}
}

// sendsAt is the name of a program that stands in for one that reads an indicator.
func sendsAt(t *testing.T, home string) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(home, sends)
	if err := os.Symlink(self, name); err != nil {
		t.Fatal(err)
	}
	return name
}

// A program's complaints are shown and harmless, and it ends with ours, however that ends.
func TestGaugeOfAProgram(t *testing.T) {
	t.Parallel()
	for name, end := range map[string]func(*talk){
		"quit": func(x *talk) { x.ends() },
		"told to end": func(x *talk) {
			_ = x.cmd.Process.Signal(syscall.SIGTERM)
			_ = x.cmd.Wait()
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			home := t.TempDir()
			sender, pipe := sendsAt(t, home), filepath.Join(home, "pipe")
			if err := syscall.Mkfifo(pipe, 0o600); err != nil {
				t.Fatal(err)
			}
			x := gaugedTalk(t, home, "stable = 5\n", "exec:"+sender+" ~0.118 @"+pipe)
			x.says(sayLine{"say": "needle", "stable": true, "value": 0.118})
			x.types("take")
			x.says(sayLine{"say": "reading", "station": 1.0, "value": 0.118})
			w, err := os.OpenFile(pipe, os.O_WRONLY, 0) // once the sender reads it
			if err != nil {
				t.Fatal(err)
			}
			defer w.Close()
			end(x)
			if got := x.complained(); !strings.Contains(got, "trammel: "+sender+": cable \ufffd[31mworn\n") {
				t.Errorf("it complained %q", got)
			}
			for begun := time.Now(); time.Since(begun) < patience; time.Sleep(5 * time.Millisecond) {
				if _, err := w.Write([]byte("\n")); err != nil {
					return // nobody reads it any more
				}
			}
			t.Error("the program is still there")
		})
	}
}

// A program that has ended by itself has said all that it had to say: it is not started anew, to say it once more.
func TestGaugeOfAProgramThatEnds(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	pipe := filepath.Join(home, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	x := gaugedTalk(t, home, "mode = \"button\"\n", "exec:"+sendsAt(t, home)+" @"+pipe+" 0.118 end")
	if err := os.WriteFile(pipe, nil, 0); err != nil {
		t.Fatal(err)
	}
	x.says(sayLine{"say": "reading", "station": 1.0, "value": 0.118})
	x.says(sayLine{"say": "gauge", "state": "lost", "hint": "typing goes on"})
	if got := figures(x.ends()); !reflect.DeepEqual(got, []string{"0.118 of 1 exec"}) {
		t.Errorf("on record are %q", got)
	}
}

// Who may not use a device is told by which group he could.
func TestNotAllowedNamesTheGroup(t *testing.T) {
	device := filepath.Join(t.TempDir(), "line")
	if err := os.WriteFile(device, nil, 0o660); err != nil {
		t.Fatal(err)
	}
	group, err := user.LookupGroupId(fmt.Sprint(os.Getgid()))
	if err != nil {
		t.Fatal(err)
	}
	if got := notAllowed(device); !strings.HasPrefix(got, "the group "+group.Name+" may use it: have yourself put into that group") {
		t.Errorf("%s, want the group %s", got, group.Name)
	}
	if err := os.Chmod(device, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := notAllowed(device); got != "nobody but its owner may use it: have that changed" {
		t.Error(got)
	}
	if got := notAllowed(device + "s"); got != "see who may use it" {
		t.Error(got)
	}
}
