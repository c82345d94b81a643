//go:build unix

package main

import "testing"

// A lesson on a terminal: its aim first, the machine, and what was learnt last, with what is left; then the same or the next one.
func TestLessonOnAScreen(t *testing.T) {
	t.Parallel()
	cmd := program(t, t.TempDir(), "practice", "--lesson", "3", "--seed", "4")
	cmd.Args[0] = byTheWatch()
	p := &presser{on(t, cmd, 80, 24), keypads[0]}
	p.shows("practice, lesson 3: a plate from its drawing", "Choose an arc and set it", "1  begin")
	p.presses("\r")
	p.shows("link", "1 setting ", "arc 2") // the plan
	p.presses("\r")
	p.shows("arc 2", "Enter goes on", "reach")
	p.presses("\r")
	p.shows("step 1 of ", "isolated") // the order at the machine is asked for, and so are the passes
	p.types("q")
	p.shows("begun")
	p.reads("q")
	p.types("q")
	p.shows("1  lesson 3: a plate from its drawing, again", "2  leave", "learnt: The plan turns an arc's radius",
		"not yet: no arc was accepted", "not yet: not both arcs are set", "not yet: no pass was cut", "practice machine 6: left open")
	p.presses("/")
	p.ends(exitDone)
}
