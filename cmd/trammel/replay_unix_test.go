//go:build unix

package main

import (
	"os"
	"path/filepath"
	"testing"
)

// A replay on a terminal: the session's zones at an event, by keys, and the terminal as it was
// afterwards. The journal is not touched.
func TestReplayOnAScreen(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	from, err := os.ReadFile(filepath.Join("..", "..", "testdata", "journal", "v1-misread.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(home, "j.jsonl")
	if err := os.WriteFile(path, from, 0o600); err != nil {
		t.Fatal(err)
	}
	x := on(t, program(t, home, "replay", "j.jsonl", "--to", "7"), 80, 24)
	x.shows("event 7 of 58", "station 3, 120°: −0.488 mm")
	x.raws()
	x.types("\x1b[C")
	x.shows("event 8 of 58", "more than chance allows")
	x.types("\x1b[D")
	x.shows("event 7 of 58")
	x.types("c")
	x.shows("it read, in truth (mm)")
	x.types("-0.588\r")
	x.shows("as it would have gone", "the sweep would be closed after 5 of its 7 entries")
	x.answers("q")
	x.ends(exitDone)
	if now, err := os.ReadFile(path); err != nil || string(now) != string(from) {
		t.Errorf("the journal has changed (%v)", err)
	}
}
