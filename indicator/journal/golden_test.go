package journal

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// goldenFiles are the journals of whole sessions.
func goldenFiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/journal/*.jsonl")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d golden journals, %v", len(files), err)
	}
	return files
}

// TestEveryFlipInGoldens flips a bit in every byte of every golden session. It is found in the line
// where it stands, and the lines before it are read. Only the very last line feed makes a tear
// instead. (TestEveryBitFlip flips every bit of a line.)
func TestEveryFlipInGoldens(t *testing.T) {
	for _, name := range goldenFiles(t) {
		whole := content(t, name)
		line := 1
		for i, b := range whole {
			whole[i] = b ^ 1<<(i%8)
			got, err := ReadFrom(bytes.NewReader(whole), "flipped")
			switch {
			case err != nil:
				t.Fatal(err)
			case i == len(whole)-1:
				if got.Damage != nil || len(got.Torn) == 0 || len(got.Lines) != line-1 {
					t.Fatalf("%s: last line feed made %q: %v, want a tear", name, whole[i], got.Damage)
				}
			case got.Damage == nil || got.Damage.Line != line || len(got.Lines) != line-1:
				t.Fatalf("%s: byte %d in line %d made %q: damage %v, %d lines read", name, i, line, whole[i], got.Damage, len(got.Lines))
			}
			if whole[i] = b; b == '\n' {
				line++
			}
		}
	}
}

// TestRealFullDisk fills a real file system, a small one in memory, where the system lets the test
// mount one: what was acknowledged is there, and the journal goes on when there is room again.
func TestRealFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := mountSmall(dir); err != nil {
		t.Logf("NOT RUN: a full disk for real; no small file system can be mounted here: %v", err)
		return
	}
	defer func() {
		if err := unmount(dir); err != nil {
			t.Error(err)
		}
	}()
	ballast := filepath.Join(dir, "ballast")
	put(t, ballast, make([]byte, 32<<10))
	path := filepath.Join(dir, "plate.journal")
	j := mustCreate(t, path)
	payload := []byte(`{"k":"note","d":{"text":"` + string(bytes.Repeat([]byte("x"), 900)) + `"}}`)
	good := 0
	for ; good < 1000; good++ {
		if err := j.Append(payload); err != nil {
			t.Logf("full after %d lines: %v", good, err)
			break
		}
	}
	if good == 0 || good == 1000 {
		t.Fatalf("%d lines fit on a disk of 128 KB", good)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	if err := j.Reopen(); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, j, payload)
	mustClose(t, j)
	if got, err := Read(path); err != nil || got.Err() != nil || len(got.Torn) != 0 || len(got.Lines) != good+1 {
		t.Fatalf("%d lines, %v, %v, %d torn, want %d whole ones", len(got.Lines), err, got.Err(), len(got.Torn), good+1)
	}
}
