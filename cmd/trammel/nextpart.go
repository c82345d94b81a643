package main

import (
	"errors"
	"fmt"

	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// asDue is the word for a next part that is swept where that is due.
const asDue = "due"

// partFlag says how the next part begins on a setting that was accepted before the program was left.
func partFlag() value[session.PartHow] {
	return value[session.PartHow]{kind: "way", read: func(s string) (session.PartHow, error) {
		switch how := session.PartHow(s); how {
		case asDue:
			return session.PartAsDue, nil
		case session.PartSwept, session.PartBracketed, session.PartUnswept:
			return how, nil
		case session.PartAsDue:
		}
		return "", fmt.Errorf("%q, need --part alone, or --part=sweep, --part=bracket or --part=unswept", s)
	}}
}

// lastDone is the journal of the data folder whose setting was accepted and finished last.
func lastDone(w world) (string, error) {
	folder, all, err := allSessions(w)
	if err != nil {
		return "", err
	}
	for i := range all {
		if l := &all[i]; l.Wrong == "" && l.State.Phase == session.Ended {
			fmt.Fprintf(w.err, "trammel: journal: %s\n", printable(l.Path))
			return l.Path, nil
		}
	}
	return "", withHint(fmt.Errorf("no accepted setting in %s, need one for the next part", folder),
		"name its journal with --journal FILE; trammel sessions lists those in the folder")
}

// takesPart refuses a next part where the journal's setting is not accepted, or a newer one stands on its machine.
func (o *opened) takesPart(w world, s *session.State) error {
	switch {
	case s.Set == nil:
		return withHint(fmt.Errorf("%s: no setting in it, need an accepted one for the next part", o.path), "leave out --resume and --part")
	case s.Phase != session.Cutting && !s.Accepted():
		return withHint(fmt.Errorf("%s: a setting is open in it, %s; need it accepted before the next part", o.path, record.StandsWords(s)),
			"leave out --part to go on with it")
	}
	if l := o.newer(w); l != nil {
		return withHint(fmt.Errorf("%s: a newer setting stands on %s, in %s, last entry %s: its slides are not where this one left them",
			o.path, s.Set.Machine.Name, l.Path, l.Last.In(w.now().Location()).Format("2006-01-02 15:04")),
			"begin a new setting: leave out --resume and --part")
	}
	return nil
}

// beginPart begins the next part on the accepted setting, and what that says comes first.
func (o *opened) beginPart(w world, f *dialFlags) error {
	steps, err := o.live.Do(session.Part{How: f.part.v}, w.now())
	o.steps, o.resumed = append(o.steps, steps...), false
	if r := (*session.Refusal)(nil); errors.As(err, &r) {
		return withHint(fmt.Errorf("%s: %s", o.path, r.Because), "leave out --part to go on with it")
	}
	return err
}

// newer is a session of the data folder that the same machine was set in behind this one; nil for none.
func (o *opened) newer(w world) *record.Journal {
	this := look(o.path)
	_, all, err := allSessions(w)
	if err != nil {
		return nil // there is no folder that another one could be in
	}
	for i := range all {
		l := &all[i]
		if l.Path != o.path && l.State.Set != nil && l.State.Set.Machine.Name == this.State.Set.Machine.Name && l.Begun() &&
			l.Last.After(this.Last) {
			return l
		}
	}
	return nil
}
