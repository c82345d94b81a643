//go:build unix

package main

import (
	"encoding/json"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A hang-up in the middle of the questions, told by a signal, and as a terminal that is gone, on pages and in lines: the program ends,
// everything that was answered is kept, nothing of the machine is written, and the next time it is asked on from there.
func TestHangupAmongQuestions(t *testing.T) {
	t.Parallel()
	// A child keeps a signal that is ignored here, as under nohup; one that is caught it gets back.
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, syscall.SIGHUP)
	t.Cleanup(func() { signal.Stop(caught) })
	told := func(x *terminal) { x.signals(syscall.SIGHUP) }
	gone := func(x *terminal) {
		x.release()
		x.master.Close()
	}
	for _, c := range []struct {
		name  string
		lines bool
		hang  func(*terminal)
	}{{"told", false, told}, {"gone", false, gone}, {"told in lines", true, told}, {"gone in lines", true, gone}} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			home := t.TempDir()
			args := []string{"machine", "new"}
			if c.lines {
				args = append(args, "--lines")
			}
			begin := func() *presser {
				cmd := program(t, home, args...)
				cmd.Args[0] = byTheWatch()
				return &presser{on(t, cmd, 80, 24), keypads[0]}
			}
			enter := func(p *presser, text string) {
				if c.lines {
					p.types(text + "\r")
				} else {
					p.presses(text + "\r")
				}
			}
			p := begin()
			p.shows("what the machine is called")
			enter(p, "")
			p.shows("in which unit its figures are")
			enter(p, "2")
			p.shows("which slides it has")
			p.types("off") // an answer that is begun is none
			c.hang(p.terminal)
			select {
			case err := <-p.exited:
				p.exited <- err
			case <-afterPatience():
				t.Fatalf("the program has not ended within %v", patience)
			}
			wantAnswered(t, home)

			p = begin()
			p.shows("these questions were begun before, and 2 of them are answered")
			enter(p, "1")
			p.shows("which slides it has")
			if c.lines {
				p.types("\x04")
			} else {
				p.answers("q")
				p.shows("what is answered is kept")
				p.answers("\r")
			}
			p.ends(exitDone)
			wantAnswered(t, home)
		})
	}
}

// wantAnswered holds the two answers before the hang-up to be kept, and nothing else to be written.
func wantAnswered(t *testing.T, home string) {
	t.Helper()
	all := kept(t, home)
	const file = "data/trammel/asked/machine-.json"
	var q struct{ Answers []struct{ Key, Typed string } }
	if err := json.Unmarshal([]byte(all[file]), &q); err != nil || len(all) != 1 {
		t.Fatalf("files %v are there (%v), want %s alone", all, err, file)
	}
	if len(q.Answers) != 2 || q.Answers[1].Key != "unit" || !strings.Contains(q.Answers[1].Typed, "2") && q.Answers[1].Typed != "in" {
		t.Errorf("%+v is kept in %s, want two answers, the unit the second", q.Answers, filepath.Base(file))
	}
}
