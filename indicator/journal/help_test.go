package journal

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// sixPayloads are the events of a short session on a belt-tensioner plate. One line holds
// text outside ASCII, one a "c" of its own.
func sixPayloads() [][]byte {
	return [][]byte{
		[]byte(`{"v":1,"n":1,"t":"2025-03-04T09:12:00Z","k":"opened","d":{"job":"tensioner plate, rim Ø84 ±0.02"}}`),
		[]byte(`{"v":1,"n":2,"t":"2025-03-04T09:12:31Z","k":"reading","d":{"station":1,"value":-0.326}}`),
		[]byte(`{"v":1,"n":3,"k":"reading","c":"00000000"}`),
		[]byte(`{"v":1,"n":4,"k":"note","d":{"text":"spring side up; {\"c\":\"b2fdfdd6\"}"}}`),
		[]byte(`{"v":1,"n":5,"k":"wound","d":{"slide":"x","moves":[{"turn":"clockwise","divisions":11.55}]}}`),
		[]byte(`{"v":1,"n":6,"k":"accepted","d":{}}`),
	}
}

// sixLines are the same as they stand in a file.
func sixLines() (lines [][]byte, whole []byte) {
	for _, p := range sixPayloads() {
		line := encode(p)
		lines = append(lines, line)
		whole = append(whole, line...)
	}
	return lines, whole
}

func tempPath(t testing.TB) string {
	t.Helper()
	return filepath.Join(t.TempDir(), "plate.journal")
}

func put(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func content(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func mustCreate(t testing.TB, path string) *Journal {
	t.Helper()
	j, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func mustOpen(t testing.TB, path string) (*Journal, Recovery) {
	t.Helper()
	j, rec, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return j, rec
}

func mustAppend(t testing.TB, j *Journal, payloads ...[]byte) {
	t.Helper()
	for _, p := range payloads {
		if err := j.Append(p); err != nil {
			t.Fatal(err)
		}
	}
}

func mustClose(t testing.TB, j *Journal) {
	t.Helper()
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
}

func wantLines(t testing.TB, what string, got, want [][]byte) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d lines, want %d", what, len(got), len(want))
	}
	for i := range want {
		if !bytes.Equal(got[i], want[i]) {
			t.Fatalf("%s: line %d is %q, want %q", what, i+1, got[i], want[i])
		}
	}
}

// wantOnly holds the folder of path to these files and no others.
func wantOnly(t testing.TB, path string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if len(got) != len(names) {
		t.Fatalf("folder holds %q, want %q", got, names)
	}
	for i := range names {
		if got[i] != names[i] {
			t.Fatalf("folder holds %q, want %q", got, names)
		}
	}
}
