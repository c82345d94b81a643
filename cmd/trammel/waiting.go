package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// waiting are the sessions of the data folder that wait to be gone on with, in the order in which one is taken: those that
// are begun before those that were only opened, each the one worked on last first.
func waiting(w world, is func(*record.Journal) bool) (folder string, out []record.Journal, err error) {
	folder, all, err := allSessions(w)
	return folder, inTurn(all, is), err
}

// inTurn are those of some sessions that wait, in that order.
func inTurn(all []record.Journal, is func(*record.Journal) bool) (out []record.Journal) {
	for i := range all {
		if is(&all[i]) {
			out = append(out, all[i])
		}
	}
	record.InTurn(out)
	return out
}

// lastOpen is the session of the data folder that is gone on with where none is named; what becomes of the others is told.
func lastOpen(w world) (string, error) {
	folder, all, err := waiting(w, (*record.Journal).Unfinished)
	if err != nil {
		return "", err
	}
	if len(all) == 0 {
		return "", withHint(fmt.Errorf("no open session in %s, need one to resume", folder),
			"name its journal with --journal FILE; trammel sessions lists those in the folder")
	}
	fmt.Fprintf(w.err, "trammel: journal: %s\n", printable(all[0].Path))
	tellOthers(w, &all[0], all[1:])
	return all[0].Path, nil
}

// onJob are the open sessions that were begun from the same job file, for the same arc where it is one of a drawing's.
func (f *dialFlags) onJob(w world, digest string) []record.Journal {
	_, all, err := waiting(w, func(l *record.Journal) bool {
		set := l.State.Set
		return l.Open() && len(set.Files) > 0 && set.Files[0].SHA256 == digest && f.sameArc(set)
	})
	if err != nil {
		return nil // then the journal's own place is refused in a moment, with a reason
	}
	return all
}

// sameArc reports whether a setting is for the arc that is to be set, or like it for none.
func (f *dialFlags) sameArc(set *session.Opened) bool {
	if f.set == nil || set.Arc == nil {
		return f.set == nil && set.Arc == nil
	}
	return f.planned.drawing.Drew(set) && slices.Contains(f.planned.Part.Numbers(set.Arc), f.set.N)
}

// mostNamed bounds how many files a line names.
const mostNamed = 5

// tellOthers says which sessions wait beside the one that is gone on with, and which were passed over for it, though they
// were opened later, for nothing is entered in them. All are left as they are.
func tellOthers(w world, taken *record.Journal, others []record.Journal) {
	var open, passed []string
	for i := range others {
		switch o := &others[i]; {
		case o.Begun() || !taken.Begun():
			open = append(open, o.Name)
		case o.Last.After(taken.Last):
			passed = append(passed, o.Name)
		}
	}
	tellPassed(w, passed)
	if len(open) > 0 {
		fmt.Fprintf(w.err, "trammel: open too, worked on before it: %s; --resume --journal FILE goes on with another\n", namesOf(open))
	}
}

// tellPassed says which sessions were passed over because nothing is entered in them.
func tellPassed(w world, names []string) {
	if len(names) > 0 {
		fmt.Fprintf(w.err, "trammel: passed over, for nothing is entered there: %s; left as found\n", namesOf(names))
	}
}

// tellOpen says that sessions on the job are open while a new one is opened, and how to go on with the one that is begun: a screen has
// asked about it, and is told of those that nothing is entered in.
func (f *dialFlags) tellOpen(w world, all []record.Journal) {
	if f.screen {
		var names []string
		for i := range all {
			names = append(names, all[i].Name)
		}
		tellPassed(w, names)
		return
	}
	fmt.Fprintf(w.err, "trammel: hint: a session on this job is open; trammel dial --resume --journal %s goes on with it\n",
		printable(quoted(all[0].Path)))
	tellOthers(w, &all[0], all[1:])
}

// namesOf lists names of files, not more than a line takes.
func namesOf(names []string) string {
	more := ""
	if n := len(names) - mostNamed; n > 0 {
		names, more = names[:mostNamed], fmt.Sprintf(" and %d more, which trammel sessions lists", n)
	}
	return printable(strings.Join(names, ", ")) + more
}

// sameFile reports whether two names are of one file.
func sameFile(a, b string) bool {
	x, errA := os.Stat(a)
	y, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(x, y)
}
