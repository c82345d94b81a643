package session_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// TestGoldenCutAtEveryByte is the power cut in a whole session: wherever it comes, the journal opens,
// tells what was torn, folds to the state after the last whole line, and goes on with a remark.
func TestGoldenCutAtEveryByte(t *testing.T) {
	file, lines := golden(t, "v1-practice-7.jsonl")
	var after []session.State
	if _, err := session.Fold(lines, func(st session.Step) { after = append(after, st.After) }); err != nil {
		t.Fatal(err)
	}
	folded := -1
	dir := t.TempDir()
	if quick, err := os.MkdirTemp("/dev/shm", "cut"); err == nil { // five syncs a cut take a disk a minute
		dir = quick
		defer os.RemoveAll(quick)
	}
	path := filepath.Join(dir, "cut.jsonl")
	for cut := range len(file) + 1 {
		put(t, path, file[:cut])
		whole := bytes.Count(file[:cut], []byte("\n"))
		torn := cut - (bytes.LastIndexByte(file[:cut], '\n') + 1)
		j, rec, err := journal.Open(path)
		if err != nil || rec.Torn != torn {
			t.Fatalf("cut at byte %d: %v, %d bytes torn, want %d", cut, err, rec.Torn, torn)
		}
		wantLines(t, "opened", j.Lines(), lines[:whole])
		s, err := session.Fold(j.Lines(), nil)
		if err != nil || s.Events != whole {
			t.Fatalf("cut at byte %d: %v, %d events, want the state after %d", cut, err, s.Events, whole)
		}
		if whole > 0 && whole != folded { // the same lines fold to the same state
			folded = whole
			wantSame(t, "folded", s, after[whole-1])
		}
		if 0 < whole && whole < len(lines) {
			if _, err := session.NewLive(s, j).Do(session.Note{Text: "the light is back"}, begin); err != nil {
				t.Fatalf("cut at byte %d: %v", cut, err)
			}
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		if torn > 0 {
			remove(t, rec.TornPath)
		}
	}
}

// breaking is a journal that fails once and can be opened again.
type breaking struct {
	session.Memory
	at, calls int
	broken    bool
	opened    int
}

func (b *breaking) Append(line []byte) error {
	if b.calls++; b.calls == b.at {
		b.broken = true
	}
	if b.broken {
		return errFull
	}
	return b.Memory.Append(line)
}

func (b *breaking) Reopen() error {
	b.opened++
	if b.opened%2 == 1 {
		return errFull // still full
	}
	b.broken = false
	return nil
}

// TestRetry: whichever line fails, a retry while the fault lasts changes nothing, and the next one
// records what was lost and what follows: the journal is the one of a session without a fault.
func TestRetry(t *testing.T) {
	whole := bench(t, 7).until(session.ForNothing)
	uncut := records(t, whole.mem.Lines)
	for at := 2; at <= len(uncut); at++ {
		b := &breaking{at: at}
		l := session.NewLive(session.State{}, b)
		if err := goOn(t, l, uncut); err == nil {
			t.Fatalf("append %d did not fail", at)
		}
		before := digest(l.State())
		if _, err := l.Retry(uncut[at-1].T); err == nil || digest(l.State()) != before || len(b.Lines) != at-1 {
			t.Fatalf("line %d: retried on a full disk: %v, %d lines", at, err, len(b.Lines))
		}
		steps, err := l.Retry(uncut[at-1].T)
		if err != nil || len(steps) == 0 {
			t.Fatalf("line %d: retried: %v, %d steps", at, err, len(steps))
		}
		lines := len(b.Lines)
		_, _ = l.Retry(uncut[at-1].T) // whether the disk can be opened again or not, nothing is lost any more
		if steps, err := l.Retry(uncut[at-1].T); err != nil || len(steps) > 0 || len(b.Lines) != lines {
			t.Fatalf("line %d: retried once more: %v, %d steps, %d lines more", at, err, len(steps), len(b.Lines)-lines)
		}
		if err := goOn(t, l, uncut); err != nil {
			t.Fatal(err)
		}
		wantLines(t, "after the retry", b.Lines, whole.mem.Lines)
		wantSame(t, "state after the retry", l.State(), whole.state())
	}
}

func put(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func remove(t *testing.T, path string) {
	t.Helper()
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
}
