package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/record"
)

func newMachineMend(w world, c *common) *cobra.Command {
	var asked askFlags
	cmd := &cobra.Command{
		Use:   "mend NAME",
		Short: "ask for what is wrong, or missing, in a machine's file",
		Long: `mend reads the file of a machine that is known by name, says what is wrong with it, and asks
for that alone. What can be read stays as it is, byte for byte; what nobody can read stays
as a comment, and is told. The old file is set aside before the new one takes its place.`,
		Args: atMostOne,
		RunE: func(_ *cobra.Command, args []string) error {
			return machineMendVerb(w, c, &asked, strings.Join(args, ""))
		},
	}
	asked.add(cmd)
	return cmd
}

// mendHint says what mends the file of a machine.
func mendHint(name string) string {
	return fmt.Sprintf("trammel machine mend %s asks for what is wrong, and keeps the rest", quoted(name))
}

// mends says, of a machine's file that cannot be read and is known by name, that the questions mend it.
func mends(w world, file string, err error) error {
	folder, names, unknown := knownMachines(w)
	name := strings.TrimSuffix(filepath.Base(file), ofMachine)
	if err == nil || unknown != nil || filepath.Dir(file) != folder || !slices.Contains(names, name) {
		return err
	}
	hint := mendHint(name)
	all := apart(err)
	for _, e := range all {
		var in *job.Error
		if errors.As(e, &in) && in.File == file {
			if in.Hint == "" || len(all) > 1 {
				in.Hint = hint
			} else {
				in.Hint += "; or " + hint
			}
		}
	}
	return err
}

func machineMendVerb(w world, c *common, f *askFlags, name string) error {
	if name == "" {
		return misuse("machine mend without a name, need one; trammel machine lists them")
	}
	folder, names, err := knownMachines(w)
	if err != nil {
		return err
	}
	if !slices.Contains(names, name) {
		return withHint(fmt.Errorf("%s: no machine's name", name), "trammel machine lists those that are known")
	}
	file := filepath.Join(folder, name+ofMachine)
	text, err := readOwn(file)
	if err != nil {
		return unread(file, err)
	}
	_, wrong := job.ParseMachine(file, text)
	taken, twin := otherNames(folder, names, name, text)
	if twin != "" {
		wrong = together(wrong, &job.Error{File: file, Line: lineOf(text, "name"), Key: "name", Why: "is the name in " + twin +
			" too, need one of its own"})
	}
	if wrong == nil {
		fmt.Fprintf(w.err, "trammel: nothing is wrong with %s\n", printable(file))
		return nil
	}
	if err := canHold(folder); err != nil {
		return err
	}
	for _, e := range apart(wrong) {
		fmt.Fprintf(w.err, "trammel: %s\n", printable(e.Error()))
	}
	q, lost := job.MendMachine(job.Facts{Taken: taken}, text, twin != "")
	for _, l := range lost {
		told := "not taken over, it stays as a comment"
		if l.Comment {
			told = "a comment with bytes that no such file may hold, each becomes U+FFFD"
		}
		fmt.Fprintf(w.err, "trammel: %s:%d: %s: %s\n", printable(file), l.Line, told, printable(l.Text))
	}
	q, kept := begin(w, "mend-"+name, q)
	q, done, err := askAll(w, c, f, "mending "+name, q, kept, noNews)
	if err != nil || !done {
		return err
	}
	return mended(w, c, file, name, text, q, kept)
}

// unread says which file cannot be read to be mended, where the system did not.
func unread(file string, err error) error {
	if named := (*fs.PathError)(nil); errors.As(err, &named) {
		return err
	}
	return withHint(fmt.Errorf("%s: %w", file, err), "put a machine's file there: what a link leads to is never changed")
}

// otherNames are the names that stand in the files of other machines, and the file of the one that has this one's; empty for none.
func otherNames(folder string, names []string, name string, text []byte) (taken []string, twin string) {
	own, _ := job.ParseMachine("", text)
	for _, other := range names {
		if other == name {
			continue
		}
		file := filepath.Join(folder, other+ofMachine)
		m, _, err := readMachine(file)
		taken = append(taken, other)
		if err != nil || m.Name == "" {
			continue
		}
		if taken = append(taken, m.Name); m.Name == own.Name {
			twin = file
		}
	}
	return taken, twin
}

// mended writes the file that was put right. The old one is whole, under another name, before the new one takes its place; one that
// has changed meanwhile stays.
func mended(w world, c *common, file, name string, was []byte, q job.Asking, kept *keeper) error {
	// Another program may be writing what it has found into the same file: between the look and the change nobody else does.
	if err := alone(file, func() error { return changed(w, file, was, q) }); err != nil {
		return err
	}
	kept.done()
	return say(w, c, record.Written(file, name))
}

// changed puts what was answered in the place of the file as it was asked about.
func changed(w world, file string, was []byte, q job.Asking) error {
	now, err := readOwn(file)
	if err != nil {
		return unread(file, err)
	}
	if !bytes.Equal(now, was) {
		return withHint(fmt.Errorf("%s: changed while it was asked about, need it as it was", file),
			"mend it again: what was answered is kept")
	}
	aside, err := freeAside(file)
	if err != nil {
		return err
	}
	if err := writeNew(aside, was); err != nil {
		return err
	}
	fmt.Fprintf(w.err, "trammel: the file as it was is set aside as %s\n", printable(aside))
	return replaceSame(file, q.Text())
}
