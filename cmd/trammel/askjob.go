package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.org/trammel/indicator/job"
)

// askedJob is a job as it was answered, where no file says it, and what keeps the answers until the session is open.
type askedJob struct {
	asked []byte
	kept  *keeper
}

// complete asks for what the flags leave open: the machine where one alone is known, and the job. leave says that the person
// has left the questions.
func (f *dialFlags) complete(w world, c *common) (leave bool, err error) {
	if f.machine, err = f.whichMachine(w); err != nil || f.resume || f.job != "" {
		return false, err
	}
	if f.drawing != "" || f.points != "" {
		return false, misuse("--drawing without --job, need the file that says how its arcs are set")
	}
	if !f.screen && f.journal != "" {
		if l := look(f.journal); l.Open() { // before anything is asked in vain; a screen asks whether it goes on
			return false, stillOpen(f.journal)
		}
	}
	m, _, err := readMachine(f.machine)
	if err != nil {
		return false, err
	}
	q, kept := begin(w, ofMachineFile(f.machine), job.JobQuestions(job.Facts{Unit: c.unit.or(m.Unit), Machine: &m}))
	q, done, err := askAll(w, c, &askFlags{lines: !f.screen, manner: f.manner}, "the job", q, kept, noNews)
	f.asked, f.kept = q.Text(), kept
	return !done, err
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

// readJob reads the job, from its file or from the answers.
func (f *dialFlags) readJob() (*job.Draft, []byte, error) {
	if f.asked == nil {
		return readJob(f.job)
	}
	draft, err := job.ReadJob("the answers", f.asked)
	return draft, f.asked, err
}

// stillOpen refuses to begin a setting in a journal that has one.
func stillOpen(path string) error {
	return withHint(fmt.Errorf("%s: holds an open setting, need --resume to go on with it", path),
		"trammel dial --resume --journal %s goes on; or name another journal", quoted(path))
}
