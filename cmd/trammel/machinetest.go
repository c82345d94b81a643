package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

func newMachineTest(w world, c *common) *cobra.Command {
	var f askFlags
	cmd := &cobra.Command{
		Use:   "test NAME",
		Short: "find a slide's sense, travel and backlash by the needle, and put the machine's file right",
		Long: `test asks for the needle test of a machine's slides: an indicator stands against a flat face
that is square to the slide, and the handwheel is wound by counted ways. What was found is
told with what the file states, and goes into the file where you say so, with its doubt.
The end of the input writes nothing.`,
		Args: atMostOne,
		RunE: func(_ *cobra.Command, args []string) error { return machineTestVerb(w, c, &f, strings.Join(args, "")) },
	}
	f.add(cmd)
	return cmd
}

// machineTestVerb tests slides of the machine of that name, or of that file.
func machineTestVerb(w world, c *common, f *askFlags, name string) error {
	if name == "" {
		return misuse("machine test without a name, need one; trammel machine lists them")
	}
	file, err := machineFile(w, name)
	if err != nil {
		return err
	}
	m, _, err := readMachine(file)
	if err != nil {
		return err
	}
	q, kept := begin(w, "needle-"+ofMachineFile(file), job.NeedleQuestions(job.Facts{Unit: c.unit.or(m.Unit), Machine: &m}))
	q, done, err := askAll(w, c, f, "needle test of "+name, q, kept, needleNews())
	if err != nil || !done {
		return err
	}
	if err := changeMachine(w, c, file, q.Changes()); err != nil {
		return err
	}
	kept.done()
	return nil
}

// needleNews tells of each needle test that is done by then, once; one that was gone back on is told again.
func needleNews() news {
	told := 0
	return func(q job.Asking) (out []lines.Line) {
		all := q.Needle()
		for told = min(told, len(all)); told < len(all); told++ {
			out = append(out, record.NeedleTest(&all[told]))
		}
		return out
	}
}

// changeMachine puts keys of a machine's file right.
func changeMachine(w world, c *common, file string, changes []job.Change) error {
	if len(changes) == 0 {
		return staysAsItIs(w, file)
	}
	return rewriteMachine(w, c, file, func(name string, text []byte) ([]byte, []job.Change, error) {
		text, err := job.EditMachine(name, text, changes)
		return text, changes, err
	})
}

func staysAsItIs(w world, file string) error {
	fmt.Fprintf(w.err, "trammel: %s stays as it is\n", printable(file))
	return nil
}

// rewriteMachine edits a machine's file: as it is now, whole or not at all, with the mode that it has. What was changed is told.
func rewriteMachine(w world, c *common, file string, edit func(name string, text []byte) ([]byte, []job.Change, error)) error {
	at, err := filepath.EvalSymlinks(file)
	if err != nil {
		return err
	}
	var changes []job.Change
	if err := alone(at, func() (err error) {
		changes, err = editMachine(at, edit)
		return err
	}); err != nil {
		return err
	}
	if len(changes) == 0 {
		return staysAsItIs(w, file)
	}
	for _, one := range changes {
		if err := say(w, c, record.Changed(file, one)); err != nil {
			return err
		}
	}
	return nil
}

// editMachine reads a machine's file, and puts an edited one in its place where there is anything to change.
func editMachine(at string, edit func(name string, text []byte) ([]byte, []job.Change, error)) ([]job.Change, error) {
	_, text, err := readMachine(at)
	if err != nil {
		return nil, err
	}
	text, changes, err := edit(at, text)
	if err != nil || len(changes) == 0 {
		return nil, err
	}
	return changes, replaceSame(at, text)
}
