package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// askedJob is a job as it was answered, with what was found on the way, and what keeps the answers until the session is open.
type askedJob struct {
	asked []byte     // what was answered of the job, where no file says it
	draft *job.Draft // the job as it was completed by answers; nil where none were wanted
	found []setup.Found
	kept  keepers
}

// complete asks for what the flags and the job file leave open: the machine where one alone is known, and the job; of a job for the
// arcs of a drawing what these share. leave says that the person has left the questions.
func (f *dialFlags) complete(w world, c *common) (leave bool, err error) {
	if f.again != nil {
		return false, nil
	}
	if f.machine, err = f.whichMachine(w); err != nil || f.resume {
		return false, err
	}
	if f.job, err = jobFile(w, f.job); err != nil {
		return false, err
	}
	m, _, err := readMachine(f.machine)
	if err != nil && f.job != "" {
		return false, nil // told together with what is wrong in the job
	}
	if err != nil {
		return false, mends(w, f.machine, err)
	}
	facts := job.Facts{Unit: c.unit.or(m.Unit), Machine: &m, Drawing: f.drawn(), Deep: f.inDrawing(c), AtHand: atHand(w),
		Reach: cutReach(w, &m)}
	f.asReseated(w, &facts)
	draft, err := f.begins(w, &facts)
	if err != nil && f.job != "" {
		return false, nil // it is refused in a moment, as any other file
	}
	if err != nil {
		return false, err
	}
	if draft == nil {
		keepable(w, &facts)
	}
	if f.arc > 0 || len(f.cutters) > 0 || draft != nil && len(draft.Cutters) > 0 {
		facts.AtHand[job.Cutters] = nil // for an arc that is named they stand beside it, or it is refused
	}
	q, err := questions(draft, facts)
	if err != nil {
		return false, nil
	}
	if _, open := q.Next(); open {
		if err := f.canBeSet(w, c, draft, facts.Unit); err != nil {
			return false, err
		}
	}
	about := ofMachineFile(f.machine)
	if draft != nil || f.drawn() {
		about = ofFiles(f.machine, f.job, f.drawing+f.points)
	}
	q, done, err := f.ask(w, c, about, "the job", q)
	if err != nil || !done {
		return true, err
	}
	if f.job == "" {
		f.asked = q.Text()
	}
	f.draft = q.Draft()
	keepHand(w, q)
	return false, keepJob(w, c, q)
}

// canBeSet reports what stands in the way of the arc that is named, or of the drawing, before anything is asked in vain.
func (f *dialFlags) canBeSet(w world, c *common, draft *job.Draft, u geom.Unit) error {
	if !f.drawn() {
		return nil
	}
	try := *f
	if try.draft = draft; f.job == "" {
		try.asked = []byte{}
	}
	if draft == nil {
		guess := setup.Job{Unit: u}
		if f.table.set {
			guess.Setup.Kind = indicator.Turned
		}
		try.draft = job.Shared(&guess)
	}
	if err := try.readDrawing(w, c); err != nil || f.arc == 0 {
		return err
	}
	_, err := part.Pick(try.planned.Part, f.arc, try.planned.Name)
	return err
}

// begins is what is stated of the job: by its file or, of a drawing's arcs, by the setting before; nil where nothing is.
func (f *dialFlags) begins(w world, facts *job.Facts) (*job.Draft, error) {
	if f.job != "" {
		draft, _, err := readJob(f.job)
		return draft, err
	}
	if !f.drawn() {
		return nil, nil
	}
	text, err := readPlain(f.drawing+f.points, drawing.MaxBytes)
	if err != nil {
		return nil, err
	}
	last := f.lastOf(w, &record.Drawn{SHA256: digest("", text).SHA256})
	if last == nil {
		return nil, nil
	}
	facts.Last = withoutDepth(last.State.Set)
	fmt.Fprintf(w.err, "trammel: the job goes on as in %s: dial, stations and stock; the set-up of each arc is asked for\n",
		printable(last.Name))
	return job.Shared(facts.Last), nil
}

// lastOf is the journal whose last setting is of an arc of a drawing: the one that is gone on with, else the newest in the data
// folder; nil for none.
func (f *dialFlags) lastOf(w world, d *record.Drawn) *record.Journal {
	_, all, _ := allSessions(w) // else what is to be opened says so
	if f.journal != "" {
		all = append([]record.Journal{look(f.journal)}, all...)
	}
	i := slices.IndexFunc(all, func(l record.Journal) bool { return l.State.Set != nil && d.Drew(l.State.Set) })
	if i < 0 {
		return nil
	}
	return &all[i]
}

// asReseated has the reach of a job that is kept asked anew, and proposes that of the last setting on the machine.
func (f *dialFlags) asReseated(w world, facts *job.Facts) {
	if facts.AsksReach = isKept(w, f.job); !facts.AsksReach {
		return
	}
	if last := lastOn(w, facts.Machine); last != nil {
		facts.Last = &last.State.Set.Job
	}
}

// lastOn is the newest journal of a setting on a machine; nil for none.
func lastOn(w world, m *setup.Machine) *record.Journal {
	_, all, _ := allSessions(w) // else what is to be opened says so
	i := slices.IndexFunc(all, func(l record.Journal) bool { return l.State.Set != nil && l.State.Set.Machine.Name == m.Name })
	if i < 0 {
		return nil
	}
	return &all[i]
}

// cutReach is what the trial cut of the setting before on a machine showed of the reach; nil where the last setting showed nothing:
// the indicator may have been seated anew since one before.
func cutReach(w world, m *setup.Machine) *indicator.Value {
	last := lastOn(w, m)
	if last == nil || !last.State.ByTrial() {
		return nil
	}
	found, ok := last.State.FoundReach()
	if !ok {
		return nil
	}
	return &found
}

// completeArc asks for what the job leaves open, or says so that it cannot serve, of the arc that is to be set. leave says that the
// person has left the questions.
func (f *dialFlags) completeArc(w world, c *common) (leave bool, err error) {
	if f.set == nil || f.resume {
		return false, nil
	}
	draft, _, wrongJob := f.readJob()
	m, _, wrongMachine := readMachine(f.machine)
	if wrongJob != nil || wrongMachine != nil {
		return false, nil // told as the setting is opened
	}
	f.takeDepth(w, draft.Deep())
	facts := job.Facts{Machine: &m, Drawing: true, Deep: f.set.Depth > 0, Arc: f.set.Figures(), AtHand: atHand(w), Reach: cutReach(w, &m)}
	f.asReseated(w, &facts)
	if last := f.lastOf(w, &f.planned.drawing); last != nil {
		facts.Last = &last.State.Set.Job
	}
	q, err := draft.Questions(facts)
	if err != nil {
		return false, nil
	}
	if _, open := q.Next(); open {
		var told setup.Job
		told.Unit = draft.Unit
		f.tellArc(w, &session.Opened{Arc: f.set, Job: told}, false)
	}
	about := ofFiles(f.machine, f.job, f.drawing+f.points, strconv.Itoa(f.set.N))
	q, done, err := f.ask(w, c, about, fmt.Sprintf("the set-up of arc %d", f.set.N), q)
	if err != nil || !done {
		return true, err
	}
	f.draft = q.Draft()
	keepHand(w, q)
	return false, nil
}

// questions ask for what a draft leaves open; for all of a job where there is none.
func questions(draft *job.Draft, facts job.Facts) (job.Asking, error) {
	if draft == nil {
		return job.JobQuestions(facts), nil
	}
	return draft.Questions(facts)
}

// ask asks what is open, if anything is, and keeps the answers under the name of what they are about: nothing is asked in vain for a
// journal that has an open setting.
func (f *dialFlags) ask(w world, c *common, about, title string, q job.Asking) (all job.Asking, done bool, err error) {
	if _, open := q.Next(); !open {
		return q, true, nil
	}
	if !f.screen && f.journal != "" { // a screen asks whether it goes on
		if l := look(f.journal); l.Open() {
			return q, false, stillOpen(f.journal)
		}
	}
	q, k := begin(w, about, q)
	f.kept = append(f.kept[:len(f.kept):len(f.kept)], k)
	all, done, err = askAll(w, c, &askFlags{lines: !f.screen, manner: f.manner}, title, q, k, noNews)
	f.found = append(f.found[:len(f.found):len(f.found)], all.Found()...)
	return all, done, err
}

// whichMachine is the machine's file: the one that is named, else that of the one machine that is known.
func (f *dialFlags) whichMachine(w world) (string, error) {
	if f.machine != "" || f.resume {
		return machineFile(w, f.machine)
	}
	folder, names, err := knownMachines(w)
	switch {
	case err != nil:
		return "", err
	case len(names) == 0:
		return "", withHint(misuse("dial without --machine, and no machine is known by name, need one"),
			"trammel machine new asks for it; or name its file")
	case len(names) > 1:
		return "", withHint(misuse("dial without --machine, need one of %s", strings.Join(names, ", ")),
			"--machine takes its name, or a file")
	}
	file := filepath.Join(folder, names[0]+ofMachine)
	fmt.Fprintf(w.err, "trammel: machine: %s\n", printable(file))
	return file, nil
}

// readJob reads the job, from its file or from the answers, and returns the text that either is.
func (f *dialFlags) readJob() (*job.Draft, []byte, error) {
	if f.asked != nil {
		return f.draft, f.asked, nil
	}
	draft, text, err := readJob(f.job)
	if f.draft != nil && text != nil {
		return f.draft, text, nil
	}
	return draft, text, err
}

// stillOpen refuses to begin a setting in a journal that has one.
func stillOpen(path string) error {
	return withHint(fmt.Errorf("%s: holds an open setting, need --resume to go on with it", path),
		"trammel dial --resume --journal %s goes on; or name another journal", quoted(path))
}
