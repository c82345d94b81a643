package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// taught is the file of what a machine has taught: a cache of its journals, which hold all of it.
// The machine's own file is the person's and is never written.
type taught struct {
	Machine string         `json:"machine"`
	Lessons []setup.Taught `json:"lessons"`
}

// taughtFile is where a machine's lessons are kept.
func taughtFile(w world, machine string) (string, error) {
	folder, err := dataFolder(w)
	return filepath.Join(folder, "taught-"+plainName(machine)+".json"), err
}

// readTaught returns what a machine has taught; nothing where there is no file yet. Lessons of a
// slide that has another handwheel now are left out, and named in gone.
func readTaught(w world, m *setup.Machine) (lessons []setup.Taught, gone []string, err error) {
	if m.Name == "" {
		return nil, nil, nil // a machine without a name cannot be known again
	}
	path, err := taughtFile(w, m.Name)
	if err != nil {
		return nil, nil, nil // no folder, so nothing has been kept in it
	}
	text, err := readPlain(path, mostKept)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, err
	}
	var t taught
	if err := json.Unmarshal(text, &t); err != nil || t.Machine != m.Name {
		return nil, nil, withHint(fmt.Errorf("%s: not what is learnt of machine %q (%v)", path, m.Name, err),
			"trammel learnt --machine FILE --from JOURNAL builds it anew from the last journal")
	}
	for _, l := range t.Lessons {
		sl, ok := m.Slide(l.Slide)
		if ok && sl.TravelPerTurn == l.Lesson.Assumed.TravelPerTurn {
			lessons = append(lessons, l)
		} else {
			gone = append(gone, l.Slide)
		}
	}
	return lessons, gone, nil
}

// writeTaught keeps what a machine has taught.
func writeTaught(w world, machine string, lessons []setup.Taught) error {
	path, err := taughtFile(w, machine)
	if err != nil {
		return err
	}
	text, err := json.MarshalIndent(taught{machine, lessons}, "", " ")
	if err != nil {
		return err
	}
	return replaceFile(path, append(text, '\n'))
}

// keepTaught writes what an accepted setting has taught, with the journal that it came from. That
// it cannot be written loses nothing: the journal holds it.
func keepTaught(w world, s session.State, path string) {
	if !s.Accepted() || s.Set.Machine.Name == "" || len(s.Lessons) == 0 {
		return
	}
	lessons := slices.Clone(s.Lessons)
	for i := range lessons {
		if name := filepath.Base(path); !slices.Contains(lessons[i].From, name) {
			lessons[i].From = append(slices.Clone(lessons[i].From), name)
		}
	}
	if err := writeTaught(w, s.Set.Machine.Name, lessons); err != nil {
		fmt.Fprintf(w.err, "trammel: what was learnt of the machine is in the journal only: %s\n", printable(err.Error()))
	}
}

type taughtFlags struct {
	machine, forget, from string
}

func newTaught(w world, c *common) *cobra.Command {
	var f taughtFlags
	cmd := &cobra.Command{
		Use:     "learnt --machine MACHINE.toml",
		Aliases: []string{"taught"},
		Short:   "what is learnt of a machine: its screws' errors, backlash, what locks move, the offset slide's origin",
		Long: `learnt says what is learnt of a machine's slides from the sessions on it, each value
with its uncertainty and the journals it comes from. The machine's own file is never changed.

--forget SLIDE (or all) drops it; --from JOURNAL takes it anew from what that journal ended with.`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return taughtVerb(w, c, f) },
	}
	cmd.Flags().StringVar(&f.machine, "machine", "", "machine, by its name or its file")
	cmd.Flags().StringVar(&f.forget, "forget", "", "forget a slide, or all")
	cmd.Flags().StringVar(&f.from, "from", "", "journal to take it anew from")
	return cmd
}

func taughtVerb(w world, c *common, f taughtFlags) error {
	switch f.machine = w.orMachine(f.machine); {
	case f.machine == "":
		return misuse("learnt needs --machine FILE")
	case f.forget != "" && f.from != "":
		return misuse("--forget together with --from, need one or the other")
	}
	m, err := readNamed(w, f.machine)
	if err != nil {
		return err
	}
	if m.Name == "" {
		return withHint(fmt.Errorf("%s: the machine has no name, need one to know it again", f.machine), `add name = "…" to it`)
	}
	lessons, gone, err := readTaught(w, &m)
	if f.from != "" {
		lessons, err = lessonsOf(f.from, &m)
	}
	if err != nil {
		return err
	}
	for _, name := range gone {
		fmt.Fprintf(w.err, "trammel: slide %s: its handwheel is another now, what was learnt of it is left out\n", printable(name))
	}
	if f.forget != "" {
		if lessons, err = forget(lessons, f.forget); err != nil {
			return err
		}
	}
	if f.forget != "" || f.from != "" {
		if err := writeTaught(w, m.Name, lessons); err != nil {
			return err
		}
	}
	out := record.Taught(lessons, c.unit.or(m.Unit))
	if len(out) == 0 && !c.json {
		_, err := fmt.Fprintf(w.out, "machine %s: nothing learnt yet\n", printable(m.Name))
		return err
	}
	for _, l := range out {
		if err := say(w, c, l); err != nil {
			return err
		}
	}
	return nil
}

// forget drops what is known of one slide, or of all.
func forget(lessons []setup.Taught, name string) ([]setup.Taught, error) {
	left := slices.DeleteFunc(slices.Clone(lessons), func(l setup.Taught) bool { return name == "all" || l.Slide == name })
	if len(left) == len(lessons) && name != "all" {
		return nil, withHint(fmt.Errorf("slide %q: nothing is known of it, need one of the slides that were learnt", name),
			"trammel learnt --machine FILE lists them")
	}
	return left, nil
}

// lessonsOf returns what the machine had taught when a journal ended.
func lessonsOf(path string, m *setup.Machine) ([]setup.Taught, error) {
	j, err := journal.Read(path)
	if err = errors.Join(err, j.Err()); err != nil {
		return nil, err
	}
	s, err := session.Fold(j.Lines, nil)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	if s.Set == nil || s.Set.Machine.Name != m.Name {
		return nil, withHint(fmt.Errorf("%s: no session on machine %q, need one", path, m.Name),
			"name a journal of this machine, or the other machine's file")
	}
	lessons := slices.Clone(s.Lessons)
	for i := range lessons {
		if name := filepath.Base(path); !slices.Contains(lessons[i].From, name) {
			lessons[i].From = append(slices.Clone(lessons[i].From), name)
		}
	}
	return lessons, nil
}

// learntSetting adds to a setting what its machine has taught. A store that cannot be read is told, and
// the session begins without it: the journals hold it all.
func learntSetting(w world, set *session.Opened) {
	lessons, gone, err := readTaught(w, &set.Machine)
	if err != nil {
		fmt.Fprintf(w.err, "trammel: the session begins without what was learnt of the machine: %s\n", printable(err.Error()))
		if h := hint(err); h != "" {
			fmt.Fprintf(w.err, "trammel: hint: %s\n", printable(h))
		}
	}
	for _, name := range gone {
		fmt.Fprintf(w.err, "trammel: slide %s: its handwheel is another now, what was learnt of it is left out\n", printable(name))
	}
	set.Lessons = lessons
}
