package main

import (
	"errors"
	"fmt"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// learntArcs brings the arcs that were checked in another journal into a setting that is to be opened.
func learntArcs(f *dialFlags, set *session.Opened) error {
	if f.learntFrom == "" {
		return nil
	}
	j, err := journal.Read(f.learntFrom)
	if err = errors.Join(err, j.Err()); err != nil {
		return err
	}
	s, err := session.Fold(j.Lines, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", f.learntFrom, err)
	}
	if len(s.Arcs) == 0 {
		return withHint(fmt.Errorf("%s: no checked arc in it, need one to learn from", f.learntFrom),
			"dial --steps asks for the arc's radius at the end of a setting")
	}
	set.Arcs = s.Arcs
	return nil
}

// bringsArcs refuses arcs of another journal for one that has settings of its own: those teach it already.
func bringsArcs(f *dialFlags, s *session.State) error {
	if f.learntFrom != "" && s.Phase != session.Unopened {
		return withHint(fmt.Errorf("%s: holds settings already, need a new journal for --learnt-from", f.journal),
			"leave out --learnt-from, or name another journal")
	}
	return nil
}
