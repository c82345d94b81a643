package journal

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// TestTruncateAtEveryByte is the power cut: whatever the place, opening never fails, no line
// that was written to its line feed is lost, the rest is set aside byte for byte, and the
// session goes on.
func TestTruncateAtEveryByte(t *testing.T) {
	lines, whole := sixLines()
	payloads := sixPayloads()
	dir := t.TempDir()
	kept, start := 0, 0
	for cut := range len(whole) + 1 {
		if kept < len(lines) && cut == start+len(lines[kept]) {
			start += len(lines[kept])
			kept++
		}
		path := filepath.Join(dir, "plate.journal")
		put(t, path, whole[:cut])
		j, rec, err := Open(path)
		if err != nil {
			t.Fatalf("cut at byte %d: %v", cut, err)
		}
		wantLines(t, "opened", j.Lines(), payloads[:kept])
		torn := whole[start:cut]
		if rec.Torn != len(torn) || (rec.TornPath != "") != (len(torn) > 0) {
			t.Fatalf("cut at byte %d: %+v, want %d torn bytes", cut, rec, len(torn))
		}
		if rec.TornPath != "" {
			if got := content(t, rec.TornPath); !bytes.Equal(got, torn) {
				t.Fatalf("cut at byte %d: set aside %q, want %q", cut, got, torn)
			}
			if err := os.Remove(rec.TornPath); err != nil {
				t.Fatal(err)
			}
		}
		mustAppend(t, j, []byte(`{"n":7,"k":"resumed"}`))
		mustClose(t, j)
		wantOnly(t, path, "plate.journal")
		want := append(bytes.Clone(whole[:start]), encode([]byte(`{"n":7,"k":"resumed"}`))...)
		if got := content(t, path); !bytes.Equal(got, want) {
			t.Fatalf("cut at byte %d: file after one more line\n%q, want\n%q", cut, got, want)
		}
	}
	if kept != len(lines) {
		t.Fatalf("%d lines kept at the end, want %d", kept, len(lines))
	}
}

func TestTornFilesAreNotOverwritten(t *testing.T) {
	path := tempPath(t)
	mustClose(t, mustCreate(t, path))
	for i, want := range []string{".torn", ".torn.2", ".torn.3"} {
		torn := []byte(`{"n":` + string(rune('1'+i)))
		put(t, path, torn)
		j, rec := mustOpen(t, path)
		mustClose(t, j)
		if rec.TornPath != path+want || rec.Torn != len(torn) {
			t.Errorf("tear %d: %+v, want %d bytes in %s", i+1, rec, len(torn), path+want)
		}
	}
	for i, name := range []string{".torn", ".torn.2", ".torn.3"} {
		if got, want := string(content(t, path+name)), `{"n":`+string(rune('1'+i)); got != want {
			t.Errorf("%s holds %q, want %q", name, got, want)
		}
	}
}

// TestNoPlaceForTornBytes: when the torn bytes cannot be kept, they are not cut off either.
func TestNoPlaceForTornBytes(t *testing.T) {
	path := tempPath(t)
	torn := []byte(`{"n":1`)
	put(t, path, torn)
	for n := 1; n <= maxTornFiles; n++ {
		name := path + ".torn"
		if n > 1 {
			name += "." + strconv.Itoa(n)
		}
		put(t, name, nil)
	}
	if j, _, err := Open(path); err == nil {
		t.Fatalf("opened %v with every name for the torn bytes taken, want an error", j)
	}
	if got := content(t, path); !bytes.Equal(got, torn) {
		t.Errorf("journal is %q, want it unchanged %q", got, torn)
	}
}

func TestEmptyJournals(t *testing.T) {
	for _, c := range []struct {
		name, data string
		torn       int
	}{
		{"no byte", "", 0},
		{"an empty line", "\n", 1},
		{"a torn first line", `{"v":1,"n":1,"t":"20`, 20},
		{"a whole line without its line feed", `{"a":1,"c":"149cdbb2"}`, 22},
		{"zeroes, as some file systems leave them", "\x00\x00\x00\x00", 4},
	} {
		path := tempPath(t)
		put(t, path, []byte(c.data))
		before, err := Read(path)
		if err != nil || before.Err() != nil || len(before.Lines) != 0 || string(before.Torn) != c.data {
			t.Errorf("%s: read %+v, %v, want only a torn %q", c.name, before, err, c.data)
		}
		j, rec := mustOpen(t, path)
		if len(j.Lines()) != 0 || j.Len() != 0 || rec.Torn != c.torn {
			t.Errorf("%s: %d lines, %+v, want 0 lines, %d torn", c.name, j.Len(), rec, c.torn)
		}
		mustAppend(t, j, []byte(`{"a":1}`))
		mustClose(t, j)
		if got, want := string(content(t, path)), `{"a":1,"c":"149cdbb2"}`+"\n"; got != want {
			t.Errorf("%s: file %q, want %q", c.name, got, want)
		}
	}
}
