package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
)

// setting is what the flags, the files and the answers say, or that of the part before: with the machine as its file is now.
func (f *dialFlags) setting() (session.Opened, error) {
	if f.again == nil {
		return readSetting(f)
	}
	set := *f.again
	set.Program, set.By, set.Steps, set.Loaded, set.Lessons = programName(), f.by, f.steps.or(f.screen), nil, nil
	if len(set.Files) > 1 {
		m, text, err := readMachine(set.Files[1].Name)
		if err == nil && m.Name == set.Machine.Name && job.Match(&set.Job, &m, "") == nil {
			set.Files = slices.Clone(set.Files)
			set.Machine, set.Files[1] = m, digest(set.Files[1].Name, text)
		}
	}
	return set, nil
}

// toOpen is the setting that is to be opened. leave says that nothing is to be done, and f.resume, once it is asked, that one
// that is open goes on.
func (f *dialFlags) toOpen(w world, c *common) (set session.Opened, leave bool, err error) {
	if set, err = f.setting(); err != nil {
		return set, true, mends(w, f.machine, err)
	}
	if by, ok := w.settings.text("operator"); ok && set.By == "" {
		set.By = by
	}
	if err = f.unitFits(c, &set); err != nil {
		return set, true, err
	}
	if leave, err = f.goesOn(w, set.Files[0].SHA256); err != nil || leave || f.resume {
		return set, leave, err
	}
	f.jobSum, f.target = set.Files[0].SHA256, f.nameOfArc()+targetName(&set.Job)
	f.tellArc(w, &set, true)
	learntSetting(w, &set)
	return set, false, learntArcs(f, &set)
}

// goesOn asks on the screen, where sessions are open that a new one would stand beside, which is gone on with. Nothing is
// locked, made or written before that is answered; leave says that nothing is to be done.
func (f *dialFlags) goesOn(w world, digest string) (leave bool, err error) {
	if !f.screen {
		return false, nil
	}
	all, title := f.inTheWay(w, digest)
	if len(all) == 0 {
		return false, nil
	}
	t := w.screen
	n, err := tui.AskOpen(t.ctx, tui.OpenConfig{Title: title, Answers: f.answers(w, all), Now: w.now, Plain: f.plainly(w),
		In: t.in, Out: t.out, Shell: t.shell, Topics: helpTopics()})
	switch {
	case err != nil:
		return true, err
	case n == 0:
		if t.ctx.Err() == nil {
			fmt.Fprintln(w.out, "nothing is begun, and what is open stays as it is")
		}
		return true, nil
	case n > len(all):
		f.journal, f.anew = "", true
		return false, nil
	}
	f.journal, f.resume = all[n-1].Path, true
	fmt.Fprintf(w.err, "trammel: journal: %s\n", printable(f.journal))
	for _, unused := range []struct {
		flag  string
		given bool
	}{{"--by", f.by != ""}, {"--learnt-from", f.learntFrom != ""}} {
		if unused.given {
			fmt.Fprintf(w.err, "trammel: %s is not used: the setting that goes on was opened without it\n", unused.flag)
		}
	}
	return false, nil
}

// inTheWay are the sessions that are asked about, in the order of the answers, and what is said of them: the one of a journal
// that is named, else those on the job, where one of them at least is begun. One that another program writes is looked on at,
// where it is named, and nothing is asked.
func (f *dialFlags) inTheWay(w world, digest string) (all []record.Journal, title string) {
	if f.journal != "" {
		l := look(f.journal)
		if !l.Open() {
			return nil, ""
		}
		if _, writes, err := journal.Writer(f.journal); err != nil || writes {
			return nil, ""
		}
		return []record.Journal{l}, l.Name + " holds a setting that is open"
	}
	switch all = f.onJob(w, digest); {
	case len(all) == 0 || !all[0].Begun():
		return nil, ""
	case len(all) == 1:
		return all, "a session on this job is open"
	}
	return all, fmt.Sprintf("%d sessions on this job are open", len(all))
}

// answers are a line for each session, and one for a new one.
func (f *dialFlags) answers(w world, all []record.Journal) (out []string) {
	for i := range all {
		l, what := &all[i], "go on with it"
		if len(all) > 1 {
			what = "go on"
		}
		if by, writes, err := journal.Writer(l.Path); err == nil && writes {
			what = "only look on, another program writes it"
			if by != "" {
				what = "only look on, " + by + " writes it"
			}
		}
		far := "only opened, nothing is entered"
		if l.Begun() {
			far = record.StandsWords(&l.State)
		}
		out = append(out, fmt.Sprintf("%s: %s, last entry %s; %s, %s", what, far, l.Last.In(w.now().Location()).Format("2006-01-02 15:04"),
			l.Name, l.State.Set.Machine.Name))
	}
	stays := "these stay as they are"
	if len(all) == 1 {
		stays = all[0].Name + " stays as it is"
	}
	if f.journal != "" {
		folder, err := dataFolder(w)
		if err != nil {
			folder = "the data folder" // which is refused, with a reason, once it is to be used
		}
		return append(out, "begin anew, in a new journal in "+strings.TrimSuffix(folder, string(filepath.Separator))+"; "+stays)
	}
	return append(out, "begin anew; "+stays)
}
