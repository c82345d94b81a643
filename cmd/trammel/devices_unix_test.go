//go:build unix

package main

import (
	"bytes"
	"errors"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/trammel/testdata"
)

// noFiles are what a name can stand for that is no file to be read: how each is made, and what is said of it. The kinds are those of
// POSIX, Base Definitions, 4.7 and <sys/stat.h> (from memory).
var noFiles = map[string]struct {
	make func(path string) error
	said string
}{
	"pipe":   {func(path string) error { return syscall.Mkfifo(path, 0o600) }, "a named pipe, need a regular file"},
	"folder": {func(path string) error { return os.Mkdir(path, 0o700) }, "a folder, need a regular file"},
	"socket": {socketAt, "a socket, need a regular file"},
	"device": {func(path string) error { return os.Symlink("/dev/zero", path) }, "need a regular file"},
	"linked pipe": {func(path string) error {
		return errors.Join(syscall.Mkfifo(path+".far", 0o600), os.Symlink(path+".far", path))
	}, "need a regular file"},
	"endless": {func(path string) error {
		return errors.Join(os.WriteFile(path, nil, 0o600), os.Truncate(path, 1<<36))
	}, ""},
	"link to nothing": {func(path string) error { return os.Symlink("nowhere", path) }, ""},
	"link to itself":  {func(path string) error { return os.Symlink(filepath.Base(path), path) }, ""},
}

func socketAt(path string) error {
	l, err := net.ListenUnix("unix", &net.UnixAddr{Name: path})
	if err != nil {
		return err
	}
	l.SetUnlinkOnClose(false)
	return l.Close()
}

// shop is a home with a machine, a job and a journal in it, and a run of the program there that must end.
type shop struct {
	*testing.T
	home string
}

func newShop(t *testing.T) shop {
	t.Helper()
	home, err := os.MkdirTemp("", "shop") // short: the name of a socket has few characters
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(home) })
	s := shop{t, home}
	for at, from := range map[string]string{
		"trammel/machines/mill.toml": "../../indicator/practice/bench-machine.toml",
		"trammel/jobs/ring.toml":     "../../indicator/practice/bench-job.toml",
		"trammel/good.jsonl":         "../../testdata/journal/v1-practice-7.jsonl",
		"plate.toml":                 "../../testdata/drawing/quadrant-plate.toml",
		"trammel/asked/other":        "../../testdata/drawing/quadrant-plate.toml",
	} {
		text, err := os.ReadFile(from)
		if err == nil {
			err = errors.Join(os.MkdirAll(filepath.Dir(s.at(at)), 0o700), os.WriteFile(s.at(at), text, 0o600))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return s
}

func (s shop) at(name string) string { return filepath.Join(s.home, filepath.FromSlash(name)) }

// run is what the program says, and what it ends with; one that waits is none.
func (s shop) run(args ...string) (said string, code int) {
	s.Helper()
	var out, complaints bytes.Buffer
	done := make(chan int, 1)
	go func() {
		done <- run(args, world{in: strings.NewReader(""), out: &out, err: &complaints, now: time.Now,
			getenv: environment("XDG_DATA_HOME="+s.home, "XDG_CONFIG_HOME="+s.home)})
	}()
	select {
	case code = <-done:
	case <-time.After(time.Minute):
		s.Fatalf("trammel %s: still waiting", strings.Join(args, " "))
	}
	said = out.String() + complaints.String()
	if bad := testdata.Drives(said); bad != "" {
		s.Errorf("trammel %s says %s", strings.Join(args, " "), bad)
	}
	return said, code
}

// Whatever stands in the place of a file of the program's folders, nothing waits for it, what is wrong is said, and what else is there
// can be used.
func TestFoldersHoldFilesOnly(t *testing.T) {
	t.Parallel()
	for kind, no := range noFiles {
		s := newShop(t)
		for _, place := range []struct {
			at   string
			uses [][]string // what comes upon it
			ends int
			mute bool // a folder there, or nothing, is passed over in silence
		}{
			{"trammel/x.jsonl", [][]string{{"sessions"}, {"report", "--machine", "mill"}}, exitDone, true},
			{"trammel/machines/x.toml", [][]string{{"machine"}}, exitDone, true},
			{"trammel/machines/x.toml", [][]string{{"machine", "show", "x"}, {"machine", "mend", "x"},
				{"dial", "--lines", "--machine", "x"}}, exitNo, true},
			{"trammel/jobs/x.toml", [][]string{{"dial", "--lines", "--machine", "mill", "--job", "x"}}, exitNo, true},
			{"trammel/taught-practice-mill-with-offset-head.json", [][]string{{"learnt", "--machine", "mill"}}, exitNo, false},
			{"trammel/config.toml", [][]string{{"machine"}}, exitNo, false},
			{"trammel/asked/machine-.json", [][]string{{"machine", "new", "--lines"}}, exitDone, true},
		} {
			if err := os.RemoveAll(s.at(place.at) + ".far"); err != nil {
				t.Fatal(err)
			}
			if err := no.make(s.at(place.at)); err != nil {
				t.Fatal(kind, err)
			}
			for _, args := range place.uses {
				said, code := s.run(args...)
				nothing := kind == "link to nothing" && !place.mute
				if code != place.ends && !nothing || !place.mute && !nothing && !strings.Contains(said, filepath.Base(place.at)) {
					t.Errorf("%s at %s: trammel %s ends with %d: %s", kind, place.at, strings.Join(args, " "), code, said)
				}
				if kind != "folder" && !nothing && !strings.Contains(said, no.said) {
					t.Errorf("%s at %s: trammel %s: %s\nwant %q", kind, place.at, strings.Join(args, " "), said, no.said)
				}
			}
			if place.at == "trammel/config.toml" { // that is in the way of everything but of help
				if said, code := s.run("help"); code != exitDone {
					t.Error(kind, said)
				}
			} else {
				sessions, _ := s.run("sessions")
				machines, _ := s.run("machine")
				if !strings.Contains(sessions, "good.jsonl, last") || !strings.Contains(machines, "mill: slides") {
					t.Errorf("%s at %s: the rest is not there any more: %s%s", kind, place.at, sessions, machines)
				}
			}
			if err := os.RemoveAll(s.at(place.at)); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// What a person names to be read is a file, or a pipe that ends; a folder, a socket and what has no end are refused with what they are.
func TestInputsEnd(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	said := map[string]string{} // of each name what is said, where it is looked at before it is read
	for _, kind := range []string{"folder", "socket", "device", "link to nothing"} {
		name := s.at(strings.ReplaceAll(kind, " ", "-"))
		if err := noFiles[kind].make(name); err != nil {
			t.Fatal(err)
		}
		said[name] = map[string]string{"folder": noFiles["folder"].said, "socket": noFiles["socket"].said}[kind]
	}
	for name, want := range said {
		for _, args := range []string{"fit", "fit --points", "replay", "report", "plan", "machine show", "dial --lines --resume --journal",
			"learnt --machine mill --from", "check --points", "dial --lines --machine mill --cutter 6 --arc 1 --drawing"} {
			said, code := s.run(append(strings.Fields(args), name)...)
			if lines := strings.Count(said, "\n"); code != exitNo || !strings.HasPrefix(said, "trammel: error: ") || lines > 2 ||
				!strings.Contains(said, filepath.Base(name)) || !strings.Contains(said, want) {
				t.Errorf("trammel %s %s: %d: %s", args, filepath.Base(name), code, said)
			}
		}
	}
	pipe := s.at("pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	go os.WriteFile(pipe, []byte("0 0.1\n90 0.2\n180 0.1\n270 0.0\n"), 0) //nolint:errcheck // the reader tells
	if said, code := s.run("fit", pipe); code != exitDone || !strings.Contains(said, "4 readings") {
		t.Errorf("of a pipe: %d: %s", code, said)
	}
}

// A page is never written over a journal, under whatever name, over what it is made from, or over what is no page by its name.
func TestPagesSpareWhatWasEntered(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	good, plate, mill := s.at("trammel/good.jsonl"), s.at("plate.toml"), s.at("trammel/machines/mill.toml")
	odd, link := s.at("odd.html"), s.at("link.html")
	text, err := os.ReadFile(good)
	if err = errors.Join(err, os.WriteFile(odd, text, 0o600), os.Symlink("odd.html", link)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		out  string
		why  string
	}{
		{[]string{"report", good}, good, "a journal is there"}, {[]string{"report", "--csv", good}, odd, "a journal is there"},
		{[]string{"report", good}, link, "a journal is there"}, {[]string{"report", good, odd}, odd, "a journal is there"},
		{[]string{"report", "--machine", "mill"}, good, "a journal is there"},
		{[]string{"sheet", plate, "--cutter", "6"}, plate, "it is read for this"},
		{[]string{"sheet", plate, "--cutter", "6"}, mill, "a file of that kind is there"},
	} {
		was, err := os.ReadFile(c.out)
		if err != nil {
			t.Fatal(err)
		}
		said, code := s.run(append(c.args, "-o", c.out)...)
		now, err := os.ReadFile(c.out)
		if code != exitNo || !strings.Contains(said, c.out+": "+c.why) || err != nil || !bytes.Equal(now, was) {
			t.Errorf("trammel %s -o %s: %d: %s; %v, it is as it was: %v", strings.Join(c.args, " "), c.out, code, said, err,
				bytes.Equal(now, was))
		}
	}
	page := s.at("page.html")
	if said, code := s.run("report", good, "-o", page); code != exitDone || said != "" {
		t.Fatal(code, said)
	}
	if said, code := s.run("report", good, "-o", page); code != exitDone || said != "" {
		t.Errorf("once more: %d, %s", code, said)
	}
	want, err := os.ReadFile(page)
	if said, code := s.run("report", good, "-o", "-"); err != nil || code != exitDone || said != string(want) {
		t.Errorf("to standard output: %d, %v, %.80q", code, err, said)
	}
}

// Where a page cannot be written one line says why and another what to do, by the kind of what is wrong, and nothing is left beside it.
func TestPagesThatCannotBe(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	good := s.at("trammel/good.jsonl")
	for out, todo := range map[string]string{
		s.home: "it is a folder: name a file in it", s.at("no/page.html"): "see whether the name is right",
		s.at("plate.toml/page.html"):                           "what stands before its last / is no folder",
		s.at(strings.Repeat("a", 300) + ".html"):               "the name is too long",
		s.at(strings.Repeat("a", 254)):                         "",
		s.at("a\x1b[2J\u202e\n/page.html"):                     "see whether the name is right",
		filepath.Join(s.home, strings.Repeat("d/", 3000), "x"): "the name is too long",
	} {
		said, code := s.run("report", good, "-o", out)
		if todo == "" && code == exitDone {
			continue
		}
		if code != exitNo || strings.Count(said, "\n") != 2 || !strings.Contains(said, "\ntrammel: hint: "+todo) {
			t.Errorf("-o %.60q: %d: %.300s", out, code, said)
		}
	}
	left, err := filepath.Glob(s.at(".new-*"))
	if err != nil || len(left) != 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// A file that no room is left for keeps what it holds: the system's limit of a file's size stands in for a full disk.
func TestPagesKeepTheOldOneWhereThereIsNoRoom(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	page := s.at("page.html")
	if err := os.WriteFile(page, []byte("old"), 0o640); err != nil {
		t.Fatal(err)
	}
	cmd := program(t, s.home, "report", s.at("trammel/good.jsonl"), "-o", page)
	cmd.Args = append([]string{"sh", "-c", `ulimit -f 1; self=$1; shift; exec -a trammel "$self" "$@" 2>/dev/stderr`, "sh", cmd.Path}, cmd.Args[1:]...)
	if shell, err := exec.LookPath("bash"); err == nil {
		cmd.Path = shell
	} else {
		t.Fatal("need bash to limit a file's size")
	}
	out, err := cmd.CombinedOutput()
	text, read := os.ReadFile(page)
	left, _ := filepath.Glob(s.at(".new-*"))
	if err == nil || read != nil || string(text) != "old" || len(left) > 0 ||
		!strings.Contains(string(out), "no file may be that large there") {
		t.Errorf("%v: %s; it holds %q, %v, beside it %v", err, out, text, read, left)
	}
}

// Where standard output leads nowhere that is said on standard error, with what a shell closes; not where a shell sends it to nothing
// on purpose. A pipe that nobody reads any more ends the program by the signal for that, without a word.
func TestOutputThatIsClosed(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	for how, told := range map[string]bool{">&-": true, ">/dev/null": false} {
		for _, args := range []string{"--help", "--version", "help", "help gauge", "config"} {
			cmd := program(t, home)
			cmd.Args = []string{"bash", "-c", `exec -a trammel "$0" ` + args + " " + how, cmd.Path}
			shell, err := exec.LookPath("bash")
			if err != nil {
				t.Fatal(err)
			}
			cmd.Path = shell
			out, err := cmd.CombinedOutput()
			if err != nil || strings.HasPrefix(string(out), "trammel: hint: standard output is closed") != told || !told && len(out) > 0 {
				t.Errorf("trammel %s %s: %v: %s", args, how, err, out)
			}
		}
	}
	in, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "help", "gauge")
	var complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = out, &complaints
	if err := in.Close(); err != nil {
		t.Fatal(err)
	}
	err = cmd.Run()
	var ended *exec.ExitError
	if status, ok := syscall.WaitStatus(0), errors.As(err, &ended); ok {
		status, _ = ended.Sys().(syscall.WaitStatus)
		if status.Signal() != syscall.SIGPIPE {
			t.Errorf("ended by %v", status)
		}
	} else {
		t.Errorf("a pipe that nobody reads: %v", err)
	}
	if err := out.Close(); err != nil || complaints.Len() > 0 {
		t.Errorf("%v, %s", err, complaints.String())
	}
}

// A full device takes nothing: whatever is to be said, the program ends with 1 and says why.
func TestOutputIntoAFullDevice(t *testing.T) {
	t.Parallel()
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if errors.Is(err, os.ErrNotExist) {
		return // a system without one
	}
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	s := newShop(t)
	good, plate := s.at("trammel/good.jsonl"), s.at("plate.toml")
	for _, args := range [][]string{{"--help"}, {"--version"}, {"help"}, {"help", "words"}, {"dial", "--help"}, {"completion", "bash"},
		{"completion", "zsh"}, {"completion", "fish"}, {"completion", "powershell"}, {"man", s.at("pages")}, {"config"}, {"machine"},
		{"machine", "show", "mill"}, {"sessions"}, {"replay", good}, {"replay", "--json", good}, {"report", good},
		{"report", "--csv", good},
		{"report", good, "-o", "/dev/full"}, {"report", good, "-o", "-"}, {"plan", plate, "--cutter", "6"},
		{"sheet", plate, "--cutter", "6"}, {"blends", plate, "--cutter", "6"}, {"check", "--diameter", "78.04"},
		{"practice", "--runs", "1"},
		{"dial", "--lines", "--machine", "mill"}, {"learnt", "--machine", "mill"}} {
		var complaints bytes.Buffer
		code := run(args, world{in: strings.NewReader(""), out: full, err: &complaints, now: time.Now,
			getenv: environment("XDG_DATA_HOME="+s.home, "XDG_CONFIG_HOME="+s.home)})
		said := complaints.String()
		if code != exitNo || !strings.Contains(said, "trammel: error: write /dev/full: no space left on device\n") ||
			testdata.Drives(said) != "" {
			t.Errorf("trammel %s: %d: %s", strings.Join(args, " "), code, said)
		}
	}
}
