package main

import (
	"fmt"
	"path/filepath"

	"example.org/trammel/indicator/job"
)

// begun are the lines of the questions that were begun, and left or killed, before the last answer: those after a job on each machine
// that is known by name, and those after a new machine. What cannot be read is told where the questions begin again.
func (s *start) begun() (out []startRow) {
	folder, err := askedFolder(s.w)
	if err != nil {
		return nil
	}
	add := func(what, which string, q job.Asking, do func(*start) error) {
		text, err := readOwn(filepath.Join(folder, which+".json"))
		if err != nil {
			return
		}
		if now, err := q.Offer(text); err == nil {
			out = append(out, startRow{words: fmt.Sprintf("go on with the questions for %s, %d answered", what, now.Offered()),
				takes: "go on", do: do})
		}
	}
	machines, names, _ := knownMachines(s.w) // a folder that cannot be read is refused where it is used
	for _, name := range names {
		add("a job on "+name, ofMachineFile(filepath.Join(machines, name+ofMachine)), job.JobQuestions(job.Facts{}),
			func(s *start) error {
				return dialVerb(s.w, s.c, &dialFlags{machine: name, manner: s.m, arcFlags: newArcFlags()})
			})
	}
	add("a new machine", "machine-", job.MachineQuestions(job.Facts{}), func(s *start) error {
		_, err := s.newMachine("a new machine")
		return err
	})
	return out
}
