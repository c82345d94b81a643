package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom/toml"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/setup"
)

// configFolder is where machines are kept: the XDG base directory for configuration, which platforms without one have a
// customary place for.
func configFolder(w world) (string, error) {
	base := w.getenv("XDG_CONFIG_HOME")
	if !filepath.IsAbs(base) { // as for data: a relative one is to be ignored
		base = ""
	}
	if base == "" && runtime.GOOS == "windows" {
		base = w.getenv("APPDATA")
	}
	if base == "" {
		home, err := os.UserHomeDir()
		if err != nil {
			return "", withHint(fmt.Errorf("no place for machines: %w", err), "name a machine's file with --machine FILE")
		}
		base = filepath.Join(home, ".config")
	}
	return filepath.Join(base, "trammel"), nil
}

const ofMachine = ".toml"

// knownMachines are the names of the machines that are kept, in their order, and the folder that they are in, which need
// not be there.
func knownMachines(w world) (folder string, names []string, err error) { return namesIn(w, "machines") }

// namesIn are the names of what is kept in a folder of the configuration folder.
func namesIn(w world, in string) (folder string, names []string, err error) {
	if folder, err = configFolder(w); err != nil {
		return "", nil, err
	}
	folder = filepath.Join(folder, in)
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return folder, nil, nil
	}
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ofMachine); ok && name != "" && name[0] != '.' && !e.IsDir() {
			names = append(names, name)
		}
	}
	return folder, names, err
}

// fileOf is the file that an argument means: a file that is there, else what is known by that name. What can be no name is a file.
// Where found is false, names are those that are known.
func fileOf(w world, arg string, known func(world) (folder string, names []string, err error)) (file string, found bool,
	names []string, err error) {
	if info, err := os.Stat(arg); arg == "" || err == nil && !info.IsDir() || strings.HasSuffix(arg, ofMachine) ||
		job.NameFits(arg, nil) != nil {
		return arg, true, nil, nil
	}
	folder, names, err := known(w)
	if err == nil && slices.Contains(names, arg) {
		return filepath.Join(folder, arg+ofMachine), true, nil, nil
	}
	return "", false, names, err
}

// machineFile is the file that --machine means.
func machineFile(w world, arg string) (string, error) {
	file, found, names, err := fileOf(w, arg, knownMachines)
	switch {
	case err != nil || found:
		return file, err
	case len(names) == 0:
		return "", withHint(fmt.Errorf("%s: neither a file nor a machine's name, and no machine is known yet", arg),
			"trammel machine new %s asks for it", quoted(arg))
	}
	return "", withHint(fmt.Errorf("%s: neither a file nor a machine's name, need one of %s", arg, strings.Join(names, ", ")),
		"trammel machine lists those that are known, trammel machine new %s asks for it", quoted(arg))
}

// readNamed is readMachine of what --machine means.
func readNamed(w world, arg string) (setup.Machine, error) {
	file, err := machineFile(w, arg)
	if err != nil {
		return setup.Machine{}, err
	}
	m, _, err := readMachine(file)
	return m, mends(w, file, err)
}

func newMachine(w world, c *common) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "machine",
		Short: "list the machines known by name; machine new asks for one, show tells of one, test finds its figures",
		Long: `machine lists the machines that are known by name: the TOML files in the folder machines of
the configuration folder. Wherever --machine is taken, their names are.`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error { return machinesVerb(w, c) },
	}
	var asked askFlags
	add := &cobra.Command{
		Use:   "new [NAME]",
		Short: "ask for a machine, question by question, and keep it under its name",
		Long: `new asks for a machine, one figure at a time, and writes its file when all are answered.
On a terminal each question has a page, and a numeric keypad is enough. With --lines (or
where there is no terminal) an empty line takes what is proposed, ? explains, back goes to
the question before, and unknown leaves out what may be left out. The end of the input
writes nothing.`,
		Args: atMostOne,
		RunE: func(_ *cobra.Command, args []string) error {
			_, err := machineNewVerb(w, c, &asked, strings.Join(args, ""))
			return err
		},
	}
	asked.add(add)
	show := &cobra.Command{
		Use:   "show NAME",
		Short: "tell what is stated of a machine",
		Args:  atMostOne,
		RunE:  func(_ *cobra.Command, args []string) error { return machineShowVerb(w, c, strings.Join(args, "")) },
	}
	cmd.AddCommand(add, show, newMachineTest(w, c), newMachineMend(w, c))
	return cmd
}

// atMostOne refuses more than one name.
func atMostOne(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return misuse("machine %s takes one name, seen %q; a name with spaces stands in quotes", cmd.Name(), args)
	}
	return nil
}

func machinesVerb(w world, c *common) error {
	folder, names, err := knownMachines(w)
	if err != nil {
		return err
	}
	if len(names) == 0 && !c.json {
		_, err := fmt.Fprintf(w.out, "no machine in %s yet; trammel machine new asks for one\n", printable(folder))
		return err
	}
	first := map[string]string{} // by the name that stands in the file
	for _, name := range names {
		file := filepath.Join(folder, name+ofMachine)
		m, text, err := readMachine(file)
		wrong := ""
		switch other := first[m.Name]; {
		case err != nil:
			wrong = err.Error()
		case m.Name != "" && other != "":
			wrong = fmt.Sprintf("%s:%d: name: %q is the name in %s too, need one of its own: what is learnt is kept by it", file,
				lineOf(text, "name"), m.Name, other)
		default:
			first[m.Name] = file
		}
		if err := say(w, c, record.Machine(name, file, &m, wrong, false)); err != nil {
			return err
		}
	}
	return nil
}

// lineOf is the line of a key without a table.
func lineOf(text []byte, key string) int {
	return toml.LinesOf(text, func(path []toml.Part) string {
		if len(path) > 1 {
			return ""
		}
		return path[0].Name
	})[key]
}

func machineShowVerb(w world, c *common, name string) error {
	if name == "" {
		return misuse("machine show without a name, need one; trammel machine lists them")
	}
	file, err := machineFile(w, name)
	if err != nil {
		return err
	}
	m, text, err := readMachine(file)
	if err != nil {
		return mends(w, file, err)
	}
	s, err := job.ParseGauge(file, text)
	if err != nil {
		return mends(w, file, err)
	}
	l := record.Machine(name, file, &m, "", true)
	l.Gauge = record.CabledOf(s, m.Unit)
	return say(w, c, l)
}

// nameFree refuses a name that is no good, or taken; the file of one that is taken may be nonsense, which can be mended.
func nameFree(folder, name string, names []string) error {
	err := job.NameFits(name, names)
	if slices.Contains(names, name) {
		file := filepath.Join(folder, name+ofMachine)
		if _, _, wrong := readMachine(file); wrong != nil {
			return withHint(fmt.Errorf("%w; and that one cannot be read: %s", err, wrong), "%s", mendHint(name))
		}
	}
	return err
}

// machineNewVerb asks for a machine, and returns its name; empty where none is written.
func machineNewVerb(w world, c *common, f *askFlags, name string) (string, error) {
	folder, names, err := knownMachines(w)
	if err != nil {
		return "", err
	}
	if name != "" {
		if err := nameFree(folder, name, names); err != nil {
			return "", err
		}
	}
	if err := canHold(folder); err != nil {
		return "", err
	}
	q, kept := begin(w, "machine-"+name, job.MachineQuestions(job.Facts{Name: name, Taken: names, Unit: c.unit.or(0), Ports: serialPorts()}))
	return keepMachine(w, c, f, q, kept)
}

// keepMachine asks what is open and writes the machine. Where another has been kept under its name meanwhile, the name is asked for
// again: nobody answers everything twice.
func keepMachine(w world, c *common, f *askFlags, q job.Asking, kept *keeper) (string, error) {
	q, done, err := askAll(w, c, f, cmp.Or(f.title, "a new machine"), q, kept, needleNews())
	if err != nil || !done {
		return "", err
	}
	name := q.Name()
	folder, names, err := knownMachines(w)
	file := filepath.Join(folder, name+ofMachine)
	if err == nil {
		err = writeNew(file, q.Text())
	}
	switch {
	case errors.Is(err, errThere):
		fmt.Fprintf(w.err, "trammel: %s; the answers stand, and the name is asked for again\n", printable(err.Error()))
		return keepMachine(w, c, f, q.Renamed(append(names, name)), kept)
	case err != nil:
		return "", err
	}
	kept.done()
	if err := say(w, c, record.Written(file, name)); err != nil {
		return name, err
	}
	return name, cabled(w, c, f, name, q.Text())
}
