package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A screen at rest takes less than 2 % of a core, the terminal library's frame clock included, and writes nothing. One
// run on two shared cores: 0.2 %.
func TestIdle(t *testing.T) {
	t.Parallel()
	const rest, most = 2 * time.Second, 0.02
	x, _, _ := dialOn(t, 80, 24)
	x.takes(1, "0.08\r", "+0.080")
	x.shows("station 2 of 6")
	written := ""
	least := 1.0
	for try := range 3 { // the program may still be on its way to rest at the first
		written = x.written()
		before := processorTime(t, x.cmd.Process.Pid)
		time.Sleep(rest)
		used := processorTime(t, x.cmd.Process.Pid) - before
		least = min(least, used.Seconds()/rest.Seconds())
		if least < most && x.written() == written {
			break
		}
		t.Logf("try %d: %v in %v", try+1, used, rest)
	}
	if least >= most || x.written() != written {
		t.Errorf("at rest the program takes %.2f %% of a core and writes %q, want less than %g %% and nothing", least*100,
			strings.TrimPrefix(x.written(), written), most*100)
	}
	x.types("q")
	x.ends(exitDone)
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
