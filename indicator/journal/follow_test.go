package journal

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"testing"
)

// more takes what is new, and wants it to be these lines.
func more(t *testing.T, what string, f *Follower, anew bool, want ...[]byte) {
	t.Helper()
	got, again, err := f.More()
	if err != nil || again != anew {
		t.Fatalf("%s: anew %v, %v; want anew %v", what, again, err, anew)
	}
	wantLines(t, what, got, want)
}

// TestFollow: lines come once each, in order, and the one that is being written when it is whole, at
// whatever byte the writer was seen.
func TestFollow(t *testing.T) {
	path := tempPath(t)
	payloads := sixPayloads()
	j := mustCreate(t, path)
	f := Follow(path)
	more(t, "an empty journal", f, false)
	mustAppend(t, j, payloads[:2]...)
	more(t, "two lines", f, false, payloads[:2]...)
	more(t, "nothing new", f, false)
	mustAppend(t, j, payloads[2])
	more(t, "one more", f, false, payloads[2])
	mustClose(t, j)

	before, line := content(t, path), encode(payloads[3])
	for n := 1; n < len(line); n++ {
		put(t, path, append(bytes.Clone(before), line[:n]...))
		more(t, "a line that is being written", f, false)
	}
	put(t, path, append(bytes.Clone(before), line...))
	more(t, "the line when it is whole", f, false, payloads[3])
}

// TestFollowTakenBack: a line that the writer's disk has failed on is taken back; what stands in its
// place is told from the first line on, even where it is as long, and where it is none.
func TestFollowTakenBack(t *testing.T) {
	path := tempPath(t)
	a, b, c := []byte(`{"n":1}`), []byte(`{"n":2,"t":"09:12"}`), []byte(`{"n":2,"t":"09:13"}`)
	file := func(lines ...[]byte) (all []byte) {
		for _, l := range lines {
			all = append(all, encode(l)...)
		}
		return all
	}
	put(t, path, file(a, b))
	f := Follow(path)
	more(t, "first", f, false, a, b)
	put(t, path, file(a, c))
	more(t, "another as long", f, true, a, c)
	put(t, path, file(a))
	more(t, "taken back", f, true, a)
	put(t, path, file(a, b))
	more(t, "written again", f, false, b)
}

// TestFollowDamage: the lines before a damaged one come, then its place in the whole file, every time.
func TestFollowDamage(t *testing.T) {
	path := tempPath(t)
	payloads := sixPayloads()
	lines, _ := sixLines()
	put(t, path, bytes.Join(lines[:2], nil))
	f := Follow(path)
	more(t, "good", f, false, payloads[:2]...)
	bad := bytes.Replace(lines[3], []byte("spring"), []byte("sprung"), 1)
	put(t, path, bytes.Join([][]byte{lines[0], lines[1], lines[2], bad}, nil))
	got, anew, err := f.More()
	wantLines(t, "before the damage", got, payloads[2:3])
	for range 2 {
		var damage *DamageError
		if !errors.As(err, &damage) || damage.Line != 4 || anew {
			t.Fatalf("anew %v, %v; want damage at line 4", anew, err)
		}
		if got, anew, err = f.More(); len(got) > 0 {
			t.Fatalf("%d lines behind the damage", len(got))
		}
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.More(); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("without a file: %v, want one that matches fs.ErrNotExist", err)
	}
}

// TestWriter: who writes is told while it does, and asking hinders neither the writer nor another that asks.
func TestWriter(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	asks := func(by string, writes bool) {
		t.Helper()
		if got, w, err := Writer(path); got != by || w != writes || err != nil {
			t.Fatalf("writer %q, %v, %v; want %q, %v", got, w, err, by, writes)
		}
	}
	asks("", true)
	if err := j.Sign("process 4711 since 09:12"); err != nil {
		t.Fatal(err)
	}
	asks("process 4711 since 09:12", true)
	mustAppend(t, j, []byte(`{"n":1}`))
	mustClose(t, j)
	asks("", false)

	put(t, path+".writer", []byte("process 4711, which was killed\n"))
	asks("", false)
	if err := os.Remove(path + ".writer"); err != nil {
		t.Fatal(err)
	}
	second, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	if err := share(second); err != nil {
		t.Fatal(err)
	}
	asks("", false) // two that ask at one time
	if _, _, err = Open(path); err == nil {
		t.Fatal("opened for writing while somebody asks: then asking would not see a writer either")
	}
	if err := unlock(second); err != nil {
		t.Fatal(err)
	}
	j, _ = mustOpen(t, path)
	mustClose(t, j)
}
