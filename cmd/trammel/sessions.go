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

// look reads a journal without a lock, also one that is being written.
func look(path string) record.Journal {
	l := record.Journal{Name: filepath.Base(path), Path: path}
	j, err := journal.Read(path)
	var unread error
	at := func(event int) (when time.Time) {
		if r, err := session.Decode(event, j.Lines[event-1]); err == nil {
			when = r.T
		}
		return when
	}
	l.State, unread = session.Fold(j.Lines, func(st session.Step) { l.Follow(st, at) })
	if n := l.State.Events; n > 0 {
		l.Last = at(n)
	}
	l.Torn = len(j.Torn)
	if err = cmp.Or(err, j.Err(), unread); err != nil {
		l.Wrong = err.Error()
		if j.Damage != nil {
			l.Wrong = fmt.Sprintf("line %d is damaged: %s", j.Damage.Line, j.Damage.Why)
		}
	}
	return l
}

// allSessions looks at every journal in the data folder, the one that was written last first.
// Without a folder there are none.
func allSessions(w world) (folder string, all []record.Journal, err error) {
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
	slices.SortStableFunc(all, func(a, b record.Journal) int { return cmp.Or(b.Last.Compare(a.Last), cmp.Compare(b.Name, a.Name)) })
	return folder, all, err
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
		if err := say(w, c, record.NewSession(&all[i], c.unit.or)); err != nil {
			return err
		}
	}
	return nil
}
