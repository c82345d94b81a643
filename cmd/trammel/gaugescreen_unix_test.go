//go:build unix

package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// gaugedOn opens the practice bench's job on a screen beside a cable indicator of which more is stated, and loads the slides.
func gaugedOn(t testing.TB, home, stated, spec string, columns, rows int) (x *terminal, file string) {
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
	cmd := program(t, home, "dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl")
	if spec != "" {
		cmd.Args = append(cmd.Args, "--gauge", spec)
	}
	cmd.Args[0] = quickly
	x = on(t, cmd, columns, rows)
	x.shows("Enter goes on")
	x.answers("\r")
	for i := range 3 {
		x.shows(fmt.Sprintf("take up the backlash: %d of 3", i+1))
		x.answers("\r")
	}
	x.shows("station 1 of 6")
	return x, filepath.Join(home, "j.jsonl")
}

// tookIn are the readings that a journal holds.
func tookIn(t testing.TB, file string) (took []session.Took) {
	t.Helper()
	j, err := journal.Read(file)
	if err != nil || j.Err() != nil {
		t.Fatal(err, j.Err())
	}
	for i, line := range j.Lines {
		r, err := session.Decode(i+1, line)
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := r.Event.(session.Took); ok {
			took = append(took, e)
		}
	}
	return took
}

// takesStill has the needle stand still at a figure, and takes it by Enter.
func (x *terminal) takesStill(c *cable, station int, v float64) {
	x.t.Helper()
	c.shows(v)
	x.shows("needle "+asListed(v)+" mm  ✓ still", "take needle") // of a window that has no room for the dial
	x.answers("\r")
	x.stands(station, asListed(v))
}

// mostStalled is far more than a key takes on a machine that does something else too, and far less than waiting for a line to be silent:
// see BenchmarkKeyBesideAGauge.
const mostStalled = 2 * time.Second

// A thousand lines a second over a serial line beside a screen, and no key waits for them: see TestGaugeOnASerialLine, whose story this is.
func TestScreenOnASerialLine(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	c := &cable{t: t, name: filepath.Join(home, "line")}
	c.plug()
	x, file := gaugedOn(t, home, "stable = 12\nwithin = 0.004\nbaud = 115200\n", "serial:"+c.name, 70, 24)
	x.takesStill(c, 1, 0.118)
	x.takesStill(c, 2, 0.121)
	for _, key := range "0.117" {
		x.types(string(key))
	}
	x.types("\r")
	x.stands(3, "+0.117")
	x.resize(80, 24)
	x.shows("station 4 of 6")
	n := 5
	if os.Getenv("TRAMMEL_HANDS") != "" {
		n = 250
	}
	if all := x.echoes(c, n); all[len(all)*99/100] > mostStalled {
		t.Errorf("1 key of 100 takes more than %v to be seen while the line sends", all[len(all)*99/100])
	}
	x.resize(70, 24)
	x.until("word of the noise", func([]string) bool { return strings.Contains(x.written(), "are no readings") })
	c.pull()
	x.shows("✗ lost", "the cable indicator is lost: ")
	x.answers("\r")
	x.shows("is lost: ", "type the reading")
	x.types("0.116\r")
	x.stands(4, "+0.116")
	c.shows(0.119)
	c.plug()
	x.until("the needle", func(rows []string) bool { return !hasAll(strings.Join(rows, "\n"), []string{"✗ lost"}) })
	long := bytes.Repeat([]byte("7"), 1<<20)
	c.mu.Lock()
	_, err := c.master.Write(long)
	c.mu.Unlock()
	if err != nil {
		t.Fatal(err)
	}
	x.takesStill(c, 5, 0.119)
	x.types("q")
	x.ends(exitDone)
	want := []string{"0.118 of 12 serial", "0.121 of 12 serial", "0.117 of 0 ", "0.116 of 0 ", "0.119 of 12 serial"}
	if got := figures(tookIn(t, file)); !reflect.DeepEqual(got, want) {
		t.Errorf("on record are %q, want %q", got, want)
	}
}

// What a button sends is taken once each, in its order, beside what is typed; while no reading is asked for it is said.
func TestScreenBesideAButton(t *testing.T) {
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
	x, file := gaugedOn(t, home, "mode = \"button\"\nsource = \"fifo:pipe\"\n", "", 80, 24)
	x.shows("by its own button")
	send("0.118\n")
	x.stands(1, "+0.118")
	x.types("?")
	x.shows("Enter goes on")
	time.Sleep(gauge.HandAgain)
	send("0.121\n")
	x.stands(2, "+0.121")
	time.Sleep(gauge.HandAgain)
	send("0.117\n0.5\n") // of which no hand sends the second
	x.stands(3, "+0.117")
	x.shows("no hand presses its button so soon")
	time.Sleep(gauge.HandAgain)
	for _, key := range "0.116" {
		x.pressed(string(key))
	}
	send("0.5\n")
	x.shows("from the cable indicator is not taken: 0.116 is typed")
	x.types("\r")
	x.stands(4, "+0.116")
	time.Sleep(gauge.HandAgain)
	send("99\n")
	x.shows("99 mm is off the dial")
	time.Sleep(gauge.HandAgain)
	send("0.119\n")
	x.stands(5, "+0.119")
	x.types("q")
	x.ends(exitDone)
	want := []string{"0.118 of 1 fifo", "0.121 of 1 fifo", "0.117 of 1 fifo", "0.116 of 0 ", "0.119 of 1 fifo"}
	if got := figures(tookIn(t, file)); !reflect.DeepEqual(got, want) {
		t.Errorf("on record are %q, want %q", got, want)
	}
}

// A program that reads the indicator complains in the status row, where it can drive no terminal, and ends with the screen, which
// puts its terminal back whatever ends it.
func TestScreenOfAProgram(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		leave func(*terminal)
		code  int
	}{
		"q":       {func(x *terminal) { x.types("q") }, exitDone},
		"SIGTERM": {func(x *terminal) { x.signals(syscall.SIGTERM) }, 143},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			home := t.TempDir()
			sender, pipe := sendsAt(t, home), filepath.Join(home, "pipe")
			if err := syscall.Mkfifo(pipe, 0o600); err != nil {
				t.Fatal(err)
			}
			x, _ := gaugedOn(t, home, "stable = 5\n", "exec:"+sender+" ~0.118 @"+pipe, 120, 24)
			x.shows("✓ still")
			x.answers("\r")
			x.stands(1, "+0.118")
			w, err := os.OpenFile(pipe, os.O_WRONLY, 0) // once the sender reads it
			if err != nil {
				t.Fatal(err)
			}
			defer w.Close()
			x.raws()
			c.leave(x)
			x.ends(c.code)
			if !strings.Contains(x.written(), "cable \ufffd[31mworn") {
				t.Error("what the program complains of has not been shown")
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

// An indicator that is not there keeps a session from being opened, and says what to do.
func TestScreenWithoutItsLine(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	x := on(t, program(t, home, "dial", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl", "--gauge",
		"serial:"+filepath.Join(home, "line")), 80, 24)
	if end := x.ends(exitNo); !strings.Contains(end, "trammel: hint: plug it in") {
		t.Errorf("the last words are %q, want what to do", end)
	}
	if _, err := os.Stat(filepath.Join(home, "j.jsonl")); err == nil {
		t.Error("there is a journal all the same")
	}
}

// From a key that is written to a pseudo-terminal to the screen that shows what it did, at a station, while a serial line sends a
// thousand figures a second of a needle that moves, and beside a line that is silent: see BenchmarkKeyToTerminal, whose clock of 60
// frames a second is in both.
// What the program itself takes of it BenchmarkKeyToPageBesideAGauge says. At 120 frames a second, the library's most, the median fell
// from 11 to 6 ms, and what the screen takes at rest beside an indicator rose from 1 to 1.75 % of a core, of the 2 % that it may take:
// it stays at 60, which no hand feels.
func BenchmarkKeyBesideAGauge(b *testing.B) {
	for _, sends := range []bool{false, true} {
		b.Run(fmt.Sprintf("sends=%v", sends), func(b *testing.B) {
			home := b.TempDir()
			c := &cable{t: b, name: filepath.Join(home, "line"), silent: !sends}
			c.plug()
			x, _ := gaugedOn(b, home, "stable = 12\nwithin = 0.004\n", "serial:"+c.name, 80, 24)
			b.ResetTimer()
			all := x.echoes(c, b.N)
			b.ReportMetric(float64(all[len(all)/2].Microseconds())/1e3, "median-ms")
			b.ReportMetric(float64(all[len(all)*99/100].Microseconds())/1e3, "p99-ms")
			b.ReportMetric(float64(all[len(all)-1].Microseconds())/1e3, "most-ms")
		})
	}
}

// echoes types digits and clears them while the needle moves, n times at times by chance, and returns how long the bottom zone took to
// show that, the shortest first. Where the needle is drawn it stands above that zone.
func (x *terminal) echoes(c *cable, n int) (all []time.Duration) {
	x.t.Helper()
	chance := rand.New(rand.NewPCG(4, 8))
	for range n {
		for _, key := range []string{"1", "/"} {
			c.shows(0.3 * chance.Float64())
			time.Sleep(20*time.Millisecond + time.Duration(chance.IntN(20_000))*time.Microsecond)
			all = append(all, x.echo(key))
		}
	}
	slices.Sort(all)
	return all
}

func (x *terminal) echo(key string) time.Duration {
	x.t.Helper()
	bottom := func(rows []string) string {
		for i := len(rows) - 1; i >= 0; i-- {
			if strings.HasPrefix(rows[i], "───") {
				return strings.Join(rows[i:], "\n")
			}
		}
		return ""
	}
	before := bottom(x.screen())
	begun := time.Now()
	x.types(key)
	x.until("what the key does", func(rows []string) bool { return bottom(rows) != before })
	return time.Since(begun)
}
