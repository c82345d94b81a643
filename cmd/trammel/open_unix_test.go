//go:build unix

package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"example.org/trammel/indicator/journal"
)

// openHome is a home with sessions on the bench's job in the data folder, each with the answers that were given in it.
func openHome(t *testing.T, given ...[2]string) (home string) {
	t.Helper()
	home = t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(home, "data", "trammel"), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, g := range given {
		cmd := program(t, home, benchDial("--lines", "--journal", filepath.Join("data", "trammel", g[0]))...)
		cmd.Stdin = strings.NewReader(g[1])
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
	}
	return home
}

func benchDial(more ...string) []string {
	return append([]string{"dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1]}, more...)
}

// threeRead is what a session is told that has loaded its slides and taken three readings (dial_session.txtar).
const threeRead = "\n\n\n0.08\n0.14\n0.26\n"

// kept is what every file below a home holds, by its name.
func kept(t *testing.T, home string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(home, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), "race.") {
			return err
		}
		text, err := os.ReadFile(path)
		name, _ := filepath.Rel(home, path)
		out[name] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// journals are the names of the journals in the data folder.
func journals(t *testing.T, home string) (names []string) {
	t.Helper()
	for name := range kept(t, home) {
		if strings.HasSuffix(name, ".jsonl") && strings.HasPrefix(name, "data") {
			names = append(names, filepath.Base(name))
		}
	}
	slices.Sort(names)
	return names
}

// A session on the job is open: the screen asks first, in a window of 40 × 10, and until it is answered nothing is locked, made
// or written. Left, nothing has been; Enter alone goes on with it; 2 begins another and leaves it alone.
func TestAsksAboutAnOpenSession(t *testing.T) {
	t.Parallel()
	home := openHome(t, [2]string{"worked.jsonl", threeRead})
	before := kept(t, home)
	ask := func() *terminal {
		x := on(t, program(t, home, benchDial()...), 40, 10)
		x.shows("a session on this job is open", "1  go on with it: trial 1, 3 stations", "worked.jsonl, practice mill",
			"2  begin anew; worked.jsonl stays as it", "Enter go on with 1")
		return x
	}
	x := ask()
	x.raws()
	if _, writes, err := journal.Writer(filepath.Join(home, "data", "trammel", "worked.jsonl")); writes || err != nil {
		t.Errorf("the journal is locked (%v, %v) while it is asked about", writes, err)
	}
	x.types("7\r")
	x.shows("\"7\" is no answer here, need 1 to 2")
	x.types("2")
	x.shows("answer 2_")
	x.types("/") // clears it
	x.shows("leave")
	x.answers("/")
	if end := x.ends(exitDone); !strings.Contains(end, "nothing is begun, and what is open stays") {
		t.Errorf("the last words are %q, want that nothing is begun", end)
	}
	x = ask()
	x.signals(syscall.SIGTERM)
	x.ends(128 + int(syscall.SIGTERM))
	if after := kept(t, home); !maps.Equal(before, after) {
		t.Errorf("files before %q, after %q: want them the same", slices.Collect(maps.Keys(before)), slices.Collect(maps.Keys(after)))
	}

	x = ask()
	x.types("2\r")
	x.shows("Enter goes on")
	x.types("q")
	x.ends(exitDone)
	if got := journals(t, home); len(got) != 2 || kept(t, home)["data/trammel/worked.jsonl"] != before["data/trammel/worked.jsonl"] {
		t.Errorf("the journals %q, want a new one beside the old one, which stays as it was", got)
	}
	// The new one is empty, and so goes behind the one that is begun.
	x = on(t, program(t, home, benchDial()...), 80, 24)
	x.shows("2 sessions on this job are open", "1  go on: trial 1, 3 stations read", "2  go on: only opened, nothing is entered",
		"3  begin anew; these stay as they are")
	x.answers("\r")
	x.shows("station 4 of 6")
	x.types("0.32\r")
	x.shows("station 5 of 6")
	x.types("q")
	end := strings.ReplaceAll(x.ends(exitDone), "\n", "") // a name is longer than a row
	if _, on, ok := strings.Cut(end, "go on with: trammel dial --resume --journal "); !ok || !strings.HasSuffix(on, "worked.jsonl") {
		t.Errorf("the last words are %q, want how that journal goes on", end)
	}
	if s := whole(t, filepath.Join(home, "data", "trammel", "worked.jsonl"), 8); s.Sweep.Readings() != 4 {
		t.Errorf("%d readings on record, want 4", s.Sweep.Readings())
	}
}

// A journal that is named and holds an open setting is asked about too, begun or not, whatever else is open; and anew means a new
// file, for a journal has one open setting at most.
func TestAsksAboutANamedJournal(t *testing.T) {
	t.Parallel()
	home := openHome(t, [2]string{"other.jsonl", threeRead}, [2]string{"../../j.jsonl", ""})
	before := kept(t, home)
	x := on(t, program(t, home, benchDial("--journal", "j.jsonl", "--by", "AB")...), 80, 24)
	x.shows("j.jsonl holds a setting that is open", "1  go on with it: only opened, nothing is entered",
		"2  begin anew, in a new journal in", "j.jsonl stays as")
	x.answers("\r")
	x.shows("swing to 42.000", "Enter goes on")
	x.types("q")
	if end := x.ends(exitDone); !strings.Contains(end, "--by is not used") || !maps.Equal(before, kept(t, home)) {
		t.Errorf("the last words are %q, want that --by is not used, and the files as they were", end)
	}
	x = on(t, program(t, home, benchDial("--journal", "j.jsonl")...), 80, 24)
	x.shows("2  begin anew")
	x.types("2\r")
	x.shows("Enter goes on")
	x.types("q")
	x.ends(exitDone)
	if got := journals(t, home); len(got) != 2 || kept(t, home)["j.jsonl"] != before["j.jsonl"] {
		t.Errorf("the journals %q, want a new one in the data folder, and j.jsonl as it was", got)
	}
}

// Empty sessions are not asked about: they are told when the screen has gone, and left as they are.
func TestDoesNotAskAboutEmptyOnes(t *testing.T) {
	t.Parallel()
	home := openHome(t, [2]string{"empty.jsonl", ""})
	x := on(t, program(t, home, benchDial()...), 80, 24)
	x.shows("Enter goes on")
	x.types("q")
	if end := x.ends(exitDone); !strings.Contains(end, "passed over, for nothing is entered there: empty.jsonl; left as found") {
		t.Errorf("the last words are %q, want which session was passed over", end)
	}
}
