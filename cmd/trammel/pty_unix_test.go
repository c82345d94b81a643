//go:build unix

package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
	"golang.org/x/term"
)

// patience bounds every wait for the screen or for the end of a program. Nothing but [terminal.answers] waits for a
// fixed time: this is only how long a loaded machine may take before a test gives up.
const patience = 20 * time.Second

func afterPatience() <-chan time.Time { return time.After(patience) }

// terminal is a pseudo-terminal with a program on it, and the screen that a person would see. It
// never answers a query: a program that asks would stall.
type terminal struct {
	t             testing.TB
	master, slave *os.File
	cmd           *exec.Cmd
	before, after *term.State   // the terminal's settings before the program came, and after it went
	changed       chan struct{} // holds something when more was written
	drained       chan struct{} // closed when nothing more will be
	exited        chan error

	mu  sync.Mutex
	emu *vt.Emulator
	raw bytes.Buffer

	drawn time.Time // when the program last wrote, or something was sent

	answered string        // what was sent last, where it was an answer by itself
	pace     time.Duration // how fast the program's clock runs
}

// program returns the command that starts the program: this test binary under its name (see
// TestMain), with nothing of the person's environment.
func program(t testing.TB, home string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return &exec.Cmd{Path: self, Args: append([]string{"trammel"}, args...), Dir: home,
		Env: []string{"TERM=xterm-256color", "PATH=" + os.Getenv("PATH"), "HOME=" + home, "XDG_DATA_HOME=" + filepath.Join(home, "data"),
			noLinger + " exitcode=0 log_path=" + filepath.Join(home, "race")}}
}

// on starts a command on a terminal of its own.
func on(t testing.TB, cmd *exec.Cmd, columns, rows int) *terminal {
	t.Helper()
	x := &terminal{t: t, cmd: cmd, emu: vt.NewEmulator(columns, rows), pace: 1,
		changed: make(chan struct{}, 1), drained: make(chan struct{}), exited: make(chan error, 1)}
	if cmd.Args[0] == quickly {
		x.pace = pace
	}
	var err error
	if x.master, x.slave, err = pty.Open(); err != nil {
		t.Fatal(err)
	}
	x.size(columns, rows)
	if x.before, err = x.settings(); err != nil {
		t.Fatal(err)
	}
	if cmd.Stdin == nil {
		cmd.Stdin = x.slave
	}
	if cmd.Stdout == nil {
		cmd.Stdout = x.slave
	}
	cmd.Stderr = x.slave
	ctty := 0
	if cmd.Stdin != io.Reader(x.slave) {
		ctty = 1
	}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true, Ctty: ctty}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go x.wait()
	go x.watch()
	go io.Copy(io.Discard, x.emu) // what the emulator would answer goes nowhere
	t.Cleanup(x.close)
	return x
}

// size sets the size that the terminal tells programs. Asking for the descriptor makes it block,
// and then a read that waits would keep the terminal from ever being closed.
func (x *terminal) size(columns, rows int) {
	x.t.Helper()
	err := pty.Setsize(x.master, &pty.Winsize{Cols: uint16(columns), Rows: uint16(rows)})
	if err == nil {
		err = syscall.SetNonblock(int(x.master.Fd()), true)
	}
	if err != nil {
		x.t.Fatal(err)
	}
}

// watch puts what the program writes onto the screen.
func (x *terminal) watch() {
	defer close(x.drained)
	buf := make([]byte, 4096)
	for {
		n, err := x.master.Read(buf)
		x.mu.Lock()
		x.raw.Write(buf[:n])
		x.emu.Write(buf[:n])
		x.drawn = time.Now()
		x.mu.Unlock()
		select {
		case x.changed <- struct{}{}:
		default:
		}
		if err != nil {
			return
		}
	}
}

// wait waits for the program's end, notes the terminal's settings, and lets go of it, so that
// reading what was written last comes to an end.
func (x *terminal) wait() {
	err := x.cmd.Wait()
	x.after, _ = x.settings()
	x.release()
	x.exited <- err
}

// settings are the terminal's now; an error once it has been let go of.
func (x *terminal) settings() (*term.State, error) {
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.slave == nil {
		return nil, os.ErrClosed
	}
	return term.GetState(int(x.slave.Fd()))
}

// release lets go of the program's side of the terminal.
func (x *terminal) release() {
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.slave != nil {
		x.slave.Close()
		x.slave = nil
	}
}

func (x *terminal) close() {
	x.cmd.Process.Kill()
	x.release()
	x.master.Close()
	<-x.drained
	if pw, ok := x.emu.InputPipe().(io.Closer); ok {
		pw.Close() // ends the reader of the answers
	}
}

// screen is what a person sees: one string a row, without the spaces at its end.
func (x *terminal) screen() []string {
	x.mu.Lock()
	defer x.mu.Unlock()
	rows := strings.Split(x.emu.String(), "\n")
	for i := range rows {
		rows[i] = strings.TrimRight(rows[i], " \r")
	}
	return rows
}

// written is everything the program has sent.
func (x *terminal) written() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.raw.String()
}

// until waits for the screen to be as ok wants it.
func (x *terminal) until(what string, ok func(rows []string) bool) {
	x.t.Helper()
	late := time.NewTimer(patience)
	defer late.Stop()
	for {
		if ok(x.screen()) {
			return
		}
		select {
		case <-x.changed:
		case <-late.C:
			x.t.Fatalf("no %s within %v; the screen:\n%s", what, patience, strings.Join(x.screen(), "\n"))
		case err := <-x.exited:
			x.exited <- err
			if x.settle(); !ok(x.screen()) {
				x.t.Fatalf("the program ended (%v) without %s; the screen:\n%s", err, what, strings.Join(x.screen(), "\n"))
			}
			return
		}
	}
}

// settle waits, after the program's end, for the last that it wrote.
func (x *terminal) settle() {
	x.t.Helper()
	select {
	case <-x.drained:
	case <-afterPatience():
		x.t.Fatalf("the terminal is not done within %v after the program's end", patience)
	}
}

// shows waits for every text to stand on the screen.
func (x *terminal) shows(texts ...string) {
	x.t.Helper()
	for _, text := range texts {
		x.until("\""+text+"\"", func(rows []string) bool { return strings.Contains(strings.Join(rows, "\n"), text) })
	}
}

// types sends keys.
func (x *terminal) types(keys string) {
	x.t.Helper()
	x.stamps()
	if _, err := io.WriteString(x.master, keys); err != nil {
		x.t.Fatal(err)
	}
}

// stamps notes that something is sent: what comes of it is still to be read.
func (x *terminal) stamps() {
	x.answered = ""
	x.mu.Lock()
	defer x.mu.Unlock()
	x.drawn = time.Now()
}

// toRead is how long a page has to have stood before an answer without a number is taken, and a little; toHold before the
// same key is, which else is one that is held.
const (
	toRead = 350 * time.Millisecond
	toHold = 550 * time.Millisecond
)

// answers sends a key that answers by itself, once the page has stood long enough to be read.
func (x *terminal) answers(key string) {
	x.t.Helper()
	x.reads(key)
	x.types(key)
	x.answered = key
}

// reads waits until the page has stood long enough for a key that answers by itself.
func (x *terminal) reads(key string) {
	x.t.Helper()
	stands := toRead
	if key == x.answered {
		stands = toHold
	}
	for {
		x.mu.Lock()
		left := stands/x.pace - time.Since(x.drawn)
		x.mu.Unlock()
		if left <= 0 {
			break
		}
		time.Sleep(left)
	}
}

// accepts accepts what has settled, asked once more, and its page stays.
func (x *terminal) accepts() {
	x.t.Helper()
	x.shows("Enter twice accepts")
	x.answers("\r")
	x.shows("Enter once more: accept")
	x.answers("\r")
	x.shows("accepted in trial", "takes back")
}

// raws holds the terminal to be in raw mode: else putting it back would prove nothing.
func (x *terminal) raws() {
	x.t.Helper()
	now, err := x.settings()
	if err != nil {
		x.t.Fatal(err)
	}
	if *now == *x.before {
		x.t.Error("the terminal is not in raw mode while the screen is up")
	}
}

// ends waits for the program's end, wants an exit code and the terminal as it was, and returns
// what stands on the screen.
func (x *terminal) ends(code int) string {
	x.t.Helper()
	var err error
	select {
	case err = <-x.exited:
		x.exited <- err
	case <-afterPatience():
		x.t.Fatalf("the program has not ended within %v; the screen:\n%s", patience, strings.Join(x.screen(), "\n"))
	}
	if x.after == nil || *x.after != *x.before {
		x.t.Errorf("the terminal is left with the settings %+v, want those from before, %+v", x.after, *x.before)
	}
	x.settle()
	rows := strings.Join(x.screen(), "\n")
	got := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	}
	if got != code {
		x.t.Errorf("exit code %d (%v), want %d; the screen:\n%s", got, err, code, rows)
	}
	x.tidy()
	x.races()
	return rows
}

// races reads, where the program was built with -race, what the race detector has reported. A
// race inside the terminal library is not ours to mend: stopped by a signal, it closes its reader
// without waiting for it (bubbletea v1.3.10, shutdown; cancelreader v0.2.2, Close).
func (x *terminal) races() {
	x.t.Helper()
	reports, err := filepath.Glob(filepath.Join(x.cmd.Dir, "race.*"))
	if err != nil {
		x.t.Fatal(err)
	}
	for _, name := range reports {
		text, err := os.ReadFile(name)
		if err != nil {
			x.t.Fatal(err)
		}
		if ownRace(string(text)) {
			x.t.Errorf("the race detector reports:\n%s", text)
		}
	}
}

// ownRace reports whether one of the accesses in a race report was made by our code: whether ours
// is the first of its frames that is not the standard library's.
func ownRace(report string) bool {
	access, ours := false, false
	for _, line := range strings.Split(report, "\n") {
		switch frame := strings.TrimPrefix(line, "  "); {
		case strings.Contains(line, "by goroutine") || strings.Contains(line, "by main goroutine"):
			access = true
		case !access || frame == line || strings.HasPrefix(frame, " "):
			// Not a frame of an access, or the file that the frame is in.
		case strings.HasPrefix(frame, module):
			access, ours = false, true
		case strings.HasPrefix(frame, "github.com/"), strings.HasPrefix(frame, "golang.org/"):
			access = false
		}
	}
	return ours
}

// modes are what a screen switches on and has to switch off again: alternate screen, bracketed
// paste; and the cursor, which it hides (xterm, "Control Sequences", DECSET 1049, 2004, 25).
var modes = []struct{ name, on, off string }{
	{"alternate screen", "\x1b[?1049h", "\x1b[?1049l"},
	{"bracketed paste", "\x1b[?2004h", "\x1b[?2004l"},
	{"hidden cursor", "\x1b[?25l", "\x1b[?25h"},
}

// queries are sequences that ask the terminal something: colours (OSC), status and cursor (CSI n),
// attributes (CSI c), modes (CSI $p), keyboard (CSI ? u), strings (DCS).
var queries = regexp.MustCompile(`\x1b\](1[0-9]|4);[^\x07\x1b]*\?|\x1b\[[0-9;?>=]*[cn]|\x1b\[\?[0-9;]*\$p|\x1b\[\?u|\x1bP`)

// tidy holds everything that was switched on to have been switched off, and nothing to have been
// asked.
func (x *terminal) tidy() {
	x.t.Helper()
	raw := x.written()
	for _, m := range modes {
		if on, off := strings.LastIndex(raw, m.on), strings.LastIndex(raw, m.off); on > off {
			x.t.Errorf("%s is left on", m.name)
		}
	}
	if q := queries.FindString(raw); q != "" {
		x.t.Errorf("the terminal was asked %q", q)
	}
}

// signals sends the program a signal.
func (x *terminal) signals(s syscall.Signal) {
	x.t.Helper()
	if err := x.cmd.Process.Signal(s); err != nil {
		x.t.Fatal(err)
	}
}
