package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/trammel/indicator/job"
)

// Whoever answers all of a machine's questions while another is kept under its name is asked for the name again, and for nothing else:
// both are there in the end, each as it was answered.
func TestMachineKeptMeanwhile(t *testing.T) {
	home := t.TempDir()
	say := map[string]string{"slides": "offset", "slide.offset.travel_per_turn": "2.5", "slide.offset.divisions": "125",
		"slide.offset.clockwise": "towards", "slide.offset.travel": "0 60"}
	q := job.MachineQuestions(job.Facts{Name: "m"})
	for now, more := q.Next(); more; now, more = q.Next() {
		var err error
		if q, err = q.Answer(say[now.Key]); err != nil {
			t.Fatalf("%s: %v", now.Key, err)
		}
	}
	first := filepath.Join(home, "trammel", "machines", "m.toml")
	if err := writeNew(first, []byte("theirs")); err != nil {
		t.Fatal(err)
	}
	var out, complaints bytes.Buffer
	w := world{in: strings.NewReader("m\nm 2\n"), out: &out, err: &complaints,
		getenv: func(name string) string { return map[string]string{"XDG_CONFIG_HOME": home}[name] }}
	name, err := keepMachine(w, &common{}, &askFlags{lines: true}, q, &keeper{})
	if err != nil || name != "m 2" || !strings.Contains(complaints.String(), "the name is asked for again") {
		t.Fatalf("kept as %q (%v): %s%s", name, err, complaints.String(), out.String())
	}
	if text, err := os.ReadFile(first); err != nil || string(text) != "theirs" {
		t.Errorf("the other is %q (%v)", text, err)
	}
	m, _, err := readMachine(filepath.Join(filepath.Dir(first), "m 2.toml"))
	if err != nil || m.Name != "m 2" || len(m.Slides) != 1 || m.Slides[0].Divisions != 125 {
		t.Errorf("ours is %+v (%v)", m, err)
	}
}

// A file that is there stays, whichever way the name is taken, and nothing half written is left beside it.
func TestNewFilesStay(t *testing.T) {
	folder := t.TempDir()
	path, temp := filepath.Join(folder, "a"), filepath.Join(folder, "b")
	if err := writeNew(path, []byte("first")); err != nil {
		t.Fatal(err)
	}
	if err := writeNew(path, []byte("second")); !errors.Is(err, errThere) {
		t.Errorf("written twice: %v, want refused", err)
	}
	if err := os.WriteFile(temp, []byte("third"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := takeName(temp, path); !errors.Is(err, os.ErrExist) {
		t.Errorf("taken twice: %v, want refused", err)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "first" {
		t.Errorf("the file is %q (%v)", text, err)
	}
	if err := takeName(temp, filepath.Join(folder, "c")); err != nil {
		t.Errorf("taken: %v", err)
	}
	all, err := os.ReadDir(folder)
	if err != nil || len(all) != 2 {
		t.Errorf("%v (%v), want a and c", all, err)
	}
}

// Programs that change one machine's file at once lose nothing of one another's; one that was killed on the way holds nobody up.
func TestMachineChangedByManyAtOnce(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	machine := filepath.Join(home, benchFiles[1])
	killed := machine + beingWritten
	long := time.Now().Add(-2 * aloneStale)
	if err := errors.Join(os.WriteFile(killed, nil, 0o600), os.Chtimes(killed, long, long)); err != nil {
		t.Fatal(err)
	}
	const many = 20
	var all sync.WaitGroup
	for i := range many {
		all.Go(func() {
			w := world{out: io.Discard, err: io.Discard}
			if err := rewriteMachine(w, &common{}, machine, func(_ string, text []byte) ([]byte, []job.Change, error) {
				return fmt.Appendf(text, "\n# written by %d", i), []job.Change{{Key: "a"}}, nil
			}); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	text, err := os.ReadFile(machine)
	if err != nil {
		t.Fatal(err)
	}
	for i := range many {
		if !strings.Contains(string(text)+"\n", fmt.Sprintf("\n# written by %d\n", i)) {
			t.Errorf("what %d has written is lost", i)
		}
	}
	if _, err := os.Lstat(killed); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the word that it is written is left: %v", err)
	}
}

// A file that is written is on the disk before it has its name, whole and with its rights: a power cut leaves the old one or the new
// one. One that cannot be brought to the disk has no name, and nothing is left of it.
func TestFilesAreOnTheDiskBeforeTheyAreNamed(t *testing.T) {
	was := toDisk
	defer func() { toDisk = was }()
	full := errors.New("the disk says no")
	for name, write := range map[string]func(path string) error{
		"new":   func(path string) error { return writeNew(path, []byte("text")) },
		"kept":  func(path string) error { return replaceFile(path, []byte("text")) },
		"named": func(path string) error { return putOut(path, []byte("text")) },
	} {
		path := filepath.Join(t.TempDir(), "file")
		calls := 0
		toDisk = func(f *os.File) error {
			calls++
			text, err := os.ReadFile(f.Name())
			if _, there := os.Lstat(path); err != nil || string(text) != "text" || !errors.Is(there, fs.ErrNotExist) {
				t.Errorf("%s: as it is brought to the disk it holds %q (%v), and its name: %v", name, text, err, there)
			}
			return full
		}
		if err := write(path); !errors.Is(err, full) || calls != 1 {
			t.Errorf("%s: %v, brought to the disk %d times; want what the disk says, once", name, err, calls)
		}
		if left, err := os.ReadDir(filepath.Dir(path)); err != nil || len(left) != 0 {
			t.Errorf("%s: %v is left (%v)", name, left, err)
		}
		toDisk = was
		if err := write(path); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A machine's file that is mended while another program writes into it waits for that, and is then found changed: what the other has
// written is not lost.
func TestMendWaitsForWhoeverWrites(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	machine := filepath.Join(home, benchFiles[1])
	was, err := os.ReadFile(machine)
	if err != nil {
		t.Fatal(err)
	}
	q, _ := job.MendMachine(job.Facts{}, was, false)
	mend := make(chan error, 1)
	found := fmt.Appendf(was[:len(was):len(was)], "\n# found meanwhile\n")
	if err := alone(machine, func() error {
		go func() {
			mend <- mended(world{out: io.Discard, err: io.Discard}, &common{}, machine, "bench", was, q, &keeper{})
		}()
		select {
		case err := <-mend:
			t.Errorf("mended while another program writes: %v", err)
			mend <- err
		case <-time.After(20 * aloneLook): // it waits
		}
		return os.WriteFile(machine, found, 0o600)
	}); err != nil {
		t.Fatal(err)
	}
	if err := <-mend; err == nil || !strings.Contains(err.Error(), "changed while it was asked about") {
		t.Errorf("%v, want it found changed", err)
	}
	if text, err := os.ReadFile(machine); err != nil || string(text) != string(found) {
		t.Errorf("the file is not what was written last (%v)", err)
	}
}
