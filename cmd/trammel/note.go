package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/session"
)

func newNote(w world, c *common) *cobra.Command {
	about := eventNumber()
	cmd := &cobra.Command{
		Use:   "note JOURNAL TEXT...",
		Short: "write a remark behind a session, about any event of it",
		Long: `note writes a remark into a journal whose session is over, or paused, about the event that
--event names (replay shows their numbers), else about how it stands. Replay and report
show it with that event. In a session that goes on, note TEXT does it.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return misuse("note needs a journal and a text, seen %d of them", len(args))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			return noteVerb(w, c, args[0], session.Note{Text: strings.Join(args[1:], " "), About: int(about.v)})
		},
	}
	cmd.Flags().Var(&about, "event", "the event that it is about")
	return cmd
}

func noteVerb(w world, c *common, path string, n session.Note) (err error) {
	o := opened{path: path}
	s, err := o.open(w, &dialFlags{journal: path, resume: true})
	if err != nil {
		return err
	}
	defer o.journal.Close()
	if s.Set == nil {
		return withHint(fmt.Errorf("%s: holds no event, need a journal with a setting", path), "trammel dial writes one")
	}
	_ = o.journal.Sign(signature(w)) // that no word can be left of who writes does no harm
	l := session.NewLive(s, o.journal)
	steps, err := l.Do(n, w.now())
	if serr := saySteps(w, c, c.unitAt(&s), steps); err == nil {
		err = serr
	}
	return err
}
