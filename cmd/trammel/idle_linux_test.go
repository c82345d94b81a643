package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A screen at rest takes less than 2 % of a core, the terminal library's frame clock included, and writes nothing: at a station,
// in practice where the dial is drawn, and beside a cable indicator whose needle stands still. One run on two shared cores: 0.4 % of
// one, 1 % beside the indicator.
func TestIdle(t *testing.T) {
	t.Parallel()
	x, _, _ := dialOn(t, 80, 24)
	x.takes(1, "0.08\r", "+0.080")
	x.shows("station 2 of 6")
	cmd := program(t, t.TempDir(), "practice", "--steps=false", "--seed", "7")
	cmd.Args[0] = quickly
	y := on(t, cmd, 80, 24)
	y.shows("Enter goes on")
	for i := range 3 {
		y.answers("\r")
		y.shows(fmt.Sprintf("take up the backlash: %d of 3", i+1))
	}
	y.answers("\r")
	y.shows("station 1 of 6", "^ needle")
	home := t.TempDir()
	pipe := filepath.Join(home, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	z, _ := gaugedOn(t, home, "stable = 5\n", "fifo:"+pipe, 80, 24)
	w, err := os.OpenFile(pipe, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	go func() { // its last figure trembles, and what is shown does not
		for i := 0; ; i++ {
			if _, err := fmt.Fprintf(w, "%.4f\n", 0.118+0.0001*float64(i%3-1)); err != nil {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
	}()
	z.shows("✓ still")
	rest(t, x, y, z)
	for _, x := range []*terminal{x, y, z} {
		x.types("q")
		x.ends(exitDone)
	}
}

// rest leaves programs alone for a while, side by side.
func rest(t *testing.T, all ...*terminal) {
	t.Helper()
	const rest, most, tries = 2 * time.Second, 0.02, 3
	for try := 1; ; try++ { // a program may still be on its way to rest at the first
		var written []string
		var used []time.Duration
		for _, x := range all {
			written, used = append(written, x.written()), append(used, -processorTime(t, x.cmd.Process.Pid))
		}
		time.Sleep(rest)
		restless := 0
		for i, x := range all {
			used[i] += processorTime(t, x.cmd.Process.Pid)
			t.Logf("%q: %v in %v", x.cmd.Args[1], used[i], rest)
			more := strings.TrimPrefix(x.written(), written[i])
			if share := used[i].Seconds() / rest.Seconds(); share >= most || more != "" {
				restless++
				if try == tries {
					t.Errorf("at rest %q takes %.2f %% of a core and writes %q, want less than %g %% and nothing", x.cmd.Args[1], share*100,
						more, most*100)
				}
			}
		}
		if restless == 0 || try == tries {
			return
		}
	}
}

// processorTime is what all threads of a process have run: the first figure of each one's schedstat, in ns
// (Linux, Documentation/scheduler/sched-stats).
func processorTime(t *testing.T, pid int) (sum time.Duration) {
	t.Helper()
	names, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", pid))
	if err != nil || len(names) == 0 {
		t.Fatalf("process %d: %d threads, %v", pid, len(names), err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			continue // a thread that has just ended
		}
		var ran int64
		if _, err := fmt.Sscan(string(text), &ran); err != nil {
			t.Fatalf("%s: %q, %v", name, text, err)
		}
		sum += time.Duration(ran)
	}
	return sum
}
