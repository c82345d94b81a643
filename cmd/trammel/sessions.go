package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// listed is a journal of the data folder, with what its settings reached.
type listed struct {
	name, path string
	last       time.Time // when its last event was recorded; zero where there is none
	machine    string
	state      session.State // after the last line that could be read
	accepted   []kept
	torn       int
	wrong      string // what is wrong with the file; empty where nothing is
}

// kept is an accepted setting as its journal leaves it, with what was cut behind it.
type kept struct {
	state session.State
	at    time.Time // when it was accepted
}

// keep follows a step: a setting that is accepted is kept, its last state in the place of the ones before, and
// one that is taken back is not.
func keep(all []kept, st session.Step, at func(event int) time.Time) []kept {
	_, undone := st.Event.(session.Undone)
	was, is := st.Before.Accepted(), st.After.Accepted()
	switch {
	case is && !was:
		return append(all, kept{st.After, at(st.After.Events)})
	case is:
		all[len(all)-1].state = st.After
	case was && undone:
		return all[:len(all)-1]
	}
	return all
}

// open reports whether a setting waits to be gone on with.
func (l *listed) open() bool {
	return l.wrong == "" && l.state.Set != nil && !l.state.Accepted()
}

// look reads a journal without a lock, also one that is being written.
func look(path string) listed {
	l := listed{name: filepath.Base(path), path: path}
	j, err := journal.Read(path)
	var unread error
	at := func(event int) (when time.Time) {
		if r, err := session.Decode(event, j.Lines[event-1]); err == nil {
			when = r.T
		}
		return when
	}
	l.state, unread = session.Fold(j.Lines, func(st session.Step) { l.accepted = keep(l.accepted, st, at) })
	if n := l.state.Events; n > 0 {
		l.last = at(n)
	}
	if l.state.Set != nil {
		l.machine = l.state.Set.Machine.Name
	}
	l.torn = len(j.Torn)
	if err = cmp.Or(err, j.Err(), unread); err != nil {
		l.wrong = err.Error()
		if j.Damage != nil {
			l.wrong = fmt.Sprintf("line %d is damaged: %s", j.Damage.Line, j.Damage.Why)
		}
	}
	return l
}

// allSessions looks at every journal in the data folder, the one that was written last first.
// Without a folder there are none.
func allSessions(w world) (folder string, all []listed, err error) {
	if folder, err = dataFolder(w); err != nil {
		return folder, nil, err
	}
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return folder, nil, nil
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".jsonl") && !e.IsDir() {
			all = append(all, look(filepath.Join(folder, e.Name())))
		}
	}
	slices.SortStableFunc(all, func(a, b listed) int { return cmp.Or(b.last.Compare(a.last), cmp.Compare(b.name, a.name)) })
	return folder, all, err
}

// lastOpen is the session of the data folder that was worked on last and is not accepted.
func lastOpen(w world) (string, error) {
	folder, all, err := allSessions(w)
	if err != nil {
		return "", err
	}
	for i := range all {
		if all[i].open() {
			return all[i].path, nil
		}
	}
	return "", withHint(fmt.Errorf("no open session in %s, need one to resume", folder), "name its journal with --journal FILE; trammel sessions lists those in the folder")
}

// openOn names the newest open session that was begun from the same job file; empty where none was.
func openOn(w world, digest string) string {
	_, all, err := allSessions(w)
	if err != nil {
		return "" // then the journal's own place is refused in a moment, with a reason
	}
	for i := range all {
		if f := all[i].state.Set; all[i].open() && len(f.Files) > 0 && f.Files[0].SHA256 == digest {
			return all[i].path
		}
	}
	return ""
}

func newSessions(w world, c *common) *cobra.Command {
	return &cobra.Command{
		Use:   "sessions",
		Short: "list the sessions in the data folder, and what each has reached",
		Long: `sessions lists the journals in the data folder, the one that was worked on last first:
when, on which machine, and what each setting reached, or where it stands. A damaged
journal is listed with what is wrong. Nothing is changed.`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return sessionsVerb(w, c) },
	}
}

func sessionsVerb(w world, c *common) error {
	folder, all, err := allSessions(w)
	if err != nil {
		return err
	}
	if len(all) == 0 && !c.json {
		_, err := fmt.Fprintf(w.out, "no session in %s yet\n", printable(folder))
		return err
	}
	for i := range all {
		if err := say(w, c, sessionLine(c, &all[i])); err != nil {
			return err
		}
	}
	return nil
}

// sessionLine tells of a journal in the unit of its jobs, or the one that was asked for.
func sessionLine(c *common, l *listed) record.SessionLine {
	out := record.SessionLine{Say: "session", Name: l.name, Journal: l.path, Machine: l.machine, Open: l.open(),
		Events: l.state.Events, TornBytes: l.torn, Wrong: l.wrong, Accepted: []record.Reached{}}
	if !l.last.IsZero() {
		out.Last = l.last.Format(time.RFC3339)
	}
	for i := range l.accepted {
		s := &l.accepted[i].state
		out.Accepted = append(out.Accepted, record.ReachedBy(s, c.unit.or(s.Set.Job.Unit)))
	}
	if l.state.Set != nil && !l.state.Accepted() {
		stands := record.ReachedBy(&l.state, c.unit.or(l.state.Set.Job.Unit))
		out.Stands = &stands
	}
	return out
}
