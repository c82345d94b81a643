package main

import (
	"errors"
	"fmt"

	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/session"
)

// tellChanges says which of the setting's files have changed since it was opened; the journal
// alone is used. Files named on the command line count, else those the journal names, as far as
// they are there: their names belong to the folder that the setting was opened from.
func tellChanges(w world, then *session.Opened, f *dialFlags) {
	named := []string{f.job, f.machine, f.drawing + f.points}
	for i, file := range then.Files {
		name, given := file.Name, i < len(named) && named[i] != ""
		if given {
			name = named[i]
		}
		why := "has changed since the setting was opened"
		text, err := readPlain(name, drawing.MaxBytes)
		switch {
		case err == nil && digest(name, text).SHA256 == file.SHA256, err != nil && !given:
			continue
		case err != nil:
			why = "cannot be read any more"
		}
		fmt.Fprintf(w.err, "trammel: %s %s; the session goes on with what the journal holds\n", printable(name), why)
	}
}

// differing puts on record what of the files on the command line, or else of those that the journal names, differs from the
// open setting and can be put right in it, and says the rest by key: that needs a setting of its own.
func (o *opened) differing(w world, f *dialFlags) error {
	s := o.live.State()
	named := *f
	if len(s.Set.Files) >= 2 {
		if named.job == "" {
			named.job = s.Set.Files[0].Name
		}
		if named.machine == "" {
			named.machine = s.Set.Files[1].Name
		}
	}
	if named.job == "" || named.machine == "" {
		return nil
	}
	draft, _, err := readJob(named.job)
	if err != nil {
		return nil // told with the files' changes
	}
	now := session.Opened{}
	if now.Job, err = draft.For(s.Set.Arc.Figures()); err != nil {
		return nil
	}
	if now.Machine, _, err = readMachine(named.machine); err != nil {
		return nil
	}
	for _, c := range s.OthersFrom(&now) {
		fmt.Fprintf(w.err, "trammel: the files: %s was %s, is %s; that needs a new setting\n", printable(c.Key),
			printable(orNothing(c.Was)), printable(orNothing(c.Is)))
	}
	changes := s.DifferencesFrom(&now)
	if len(changes) == 0 || s.Accepted() {
		return nil
	}
	steps, err := o.live.Do(session.Differ{Causes: changes}, w.now())
	o.steps = append(o.steps, steps...)
	if refusal := (*session.Refusal)(nil); errors.As(err, &refusal) {
		return nil
	}
	return err
}

// orNothing is a value that is stated, or the word for one that is not.
func orNothing(v string) string {
	if v == "" {
		return "not stated"
	}
	return v
}
