package main

import (
	"bufio"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// openTries bounds how often a journal is tried that only a looker-on has hold of, for an instant.
const openTries = 20

// openJournal opens a journal for writing. Where a *journal.LockedError comes back, a program writes it.
func openJournal(path string) (*journal.Journal, journal.Recovery, error) {
	for try := 1; ; try++ {
		j, torn, err := journal.Open(path)
		if !errors.As(err, new(*journal.LockedError)) || try == openTries {
			return j, torn, err
		}
		if _, writes, other := journal.Writer(path); writes || other != nil {
			return j, torn, err
		}
	}
}

// onlooker reads the events of a journal that another program writes.
type onlooker struct {
	path  string
	lines *journal.Follower
	had   int // events that were read
}

func lookOnAt(path string) *onlooker { return &onlooker{path: path, lines: journal.Follow(path)} }

// see returns what is new.
func (o *onlooker) see() (out tui.Seen) {
	// First who writes: of a program that ends behind this look, everything is read at the next.
	var gone error
	out.Writer, out.Writes, gone = journal.Writer(o.path)
	got, anew, err := o.lines.More()
	if out.Anew = anew; anew {
		o.had = 0
	}
	for _, line := range got {
		r, unread := session.Decode(o.had+1, line)
		if unread != nil {
			err = fmt.Errorf("%s: %w", o.path, unread)
			break
		}
		o.had++
		out.Events = append(out.Events, r)
	}
	out.Err = err
	if out.Err == nil {
		out.Err = gone
	}
	return out
}

// lookOn opens a journal that another program writes for looking only: on a screen its replay, which goes
// along; else what was said so far and what is said from then on. Lines end with the refusal, for what was
// to be taken down was not.
func lookOn(w world, c *common, f *dialFlags, who *journal.LockedError) error {
	first := lookOnAt(who.Path)
	seen := first.see()
	for try := 0; len(seen.Events) == 0 && seen.Err == nil && try < openTries; try++ {
		time.Sleep(lookPause / openTries) // a session that has only just begun
		seen = first.see()
	}
	if seen.Err != nil || len(seen.Events) == 0 {
		return who
	}
	if !f.screen {
		return followLines(w, c, first, seen, who)
	}
	if err := c.screen(unitOf(seen.Events)); err != nil {
		return err
	}
	t := w.screen
	return tui.RunReplay(t.ctx, tui.ReplayConfig{Events: seen.Events, At: len(seen.Events), After: time.After, Now: w.now, Watch: first.see,
		Writer: who.By, Plain: f.plainly(w), In: t.in, Out: t.out, Shell: t.shell, Topics: helpTopics()})
}

// lookPause is the time between two looks in line mode.
const lookPause = 500 * time.Millisecond

// followLines says what the other program's session says, until that ends or the input does.
func followLines(w world, c *common, o *onlooker, seen tui.Seen, who *journal.LockedError) error {
	by := who.By
	if by == "" {
		by = "another program"
	}
	fmt.Fprintf(w.err, "trammel: %s: written by %s; looking on, nothing is taken down here; quit or ^C leaves\n", printable(who.Path),
		printable(by))
	typed, done := make(chan string), make(chan struct{})
	defer close(done)
	go readLines(w, typed, done)
	var s session.State
	for {
		if seen.Anew {
			fmt.Fprintln(w.err, "trammel: its last line could not be put on record and is taken back; once more from the beginning")
			s = session.State{}
		}
		if err := sayFollowed(w, c, &s, seen.Events); err != nil {
			return err
		}
		switch {
		case seen.Err != nil:
			return seen.Err
		case !seen.Writes:
			return withHint(who, "the program that wrote it has ended; trammel dial --resume --journal %s goes on with it",
				quoted(who.Path))
		}
		select {
		case text, open := <-typed:
			if !open || strings.TrimSpace(text) == "quit" {
				return who
			}
			refusal := &session.Refusal{Because: by + " writes this journal; nothing is taken down here", Hint: who.Hint()}
			if err := say(w, c, lines.Refused(text, refusal)); err != nil {
				return err
			}
			seen = tui.Seen{Writes: true}
		case <-time.After(lookPause):
			seen = o.see()
		}
	}
}

// readLines hands over the lines of the input until it ends, or nobody takes them any more.
func readLines(w world, typed chan<- string, done <-chan struct{}) {
	defer close(typed)
	for in := bufio.NewScanner(w.in); in.Scan(); {
		select {
		case typed <- in.Text():
		case <-done:
			return
		}
	}
}

// sayFollowed says what events caused, each in the unit of its setting, and moves the state on.
func sayFollowed(w world, c *common, s *session.State, events []session.Record) error {
	for _, r := range events {
		st := session.Step{Before: *s, Event: r.Event, After: s.Apply(r.Event)}
		*s = st.After
		if err := saySteps(w, c, c.unitAt(s), []session.Step{st}); err != nil {
			return err
		}
	}
	return nil
}

// unitAt is the unit in which a state's lines are said.
func (c *common) unitAt(s *session.State) geom.Unit {
	if s.Set == nil {
		return c.typed()
	}
	return c.unit.or(s.Set.Job.Unit)
}
