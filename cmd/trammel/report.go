package main

import (
	"fmt"
	"math"
	"path/filepath"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	reports "example.org/trammel/indicator/report"
)

type reportFlags struct {
	out, machine string
	csv          bool
}

func newReport(w world, c *common) *cobra.Command {
	var f reportFlags
	cmd := &cobra.Command{
		Use:   "report JOURNAL...",
		Short: "a session's report, or what several tell of a machine",
		Long: `report says what a session measured, wound and accepted, trial by trial, with its
budget, notes and cautions: as text, with -o FILE.html as one page with its pictures
in it, with --csv as rows for a spreadsheet. JOURNAL may be - for standard input.

Of several journals, or with --machine MACHINE.toml, it says what was learnt
of the machine over time: backlash, screw error and lock of each slide, with the journal and the
event that it comes from. Without a journal, --machine takes those in the data folder.`,
		RunE: func(_ *cobra.Command, args []string) error { return reportVerb(w, c, &f, args) },
	}
	cmd.Flags().StringVarP(&f.out, "out", "o", "", "write to a file: HTML, or with --csv rows (default: text on standard output)")
	cmd.Flags().StringVar(&f.machine, "machine", "", "machine, by its name or its file: what is learnt of it")
	cmd.Flags().BoolVar(&f.csv, "csv", false, "rows for a spreadsheet, one for everything entered")
	return cmd
}

func reportVerb(w world, c *common, f *reportFlags, paths []string) error {
	switch {
	case len(paths) == 0 && f.machine == "":
		return misuse("report needs a journal, or --machine FILE")
	case c.json:
		return misuse("report has no --json; replay --json says a session as objects")
	case f.csv && (f.machine != "" || len(paths) > 1):
		return misuse("--csv of a machine's history, need one journal")
	}
	if f.machine != "" || len(paths) > 1 {
		return historyVerb(w, c, f, paths)
	}
	r, err := readRecord(w, paths[0])
	if err != nil {
		return err
	}
	events, err := r.upTo(0)
	if err != nil {
		return err
	}
	rep := reports.New(filepath.Base(r.name), events, c.unit.or)
	switch {
	case f.csv:
		return writeOut(w, f.out, rep.CSV)
	case f.out != "":
		return writeOut(w, f.out, rep.HTML)
	}
	return writeText(w, "", rep.Text())
}

// historyVerb reports what a machine has taught. A journal that is damaged counts up to the damage, which
// is told.
func historyVerb(w world, c *common, f *reportFlags, paths []string) error {
	name, u := "", geom.Millimetre
	if f.machine != "" {
		m, err := readNamed(w, f.machine)
		if err != nil {
			return err
		}
		name, u = m.Name, m.Unit
	}
	named := len(paths)
	if named == 0 {
		folder, err := dataFolder(w)
		if err != nil {
			return err
		}
		found, err := filepath.Glob(filepath.Join(folder, "*.jsonl"))
		if err != nil {
			return err
		}
		for _, p := range found { // who names one may name a pipe, too; in the folder it would be waited for
			if err := isPlain(p, math.MaxInt64); err != nil {
				leftOut(w, err)
				continue
			}
			paths = append(paths, p)
		}
	}
	var all []reports.Journal
	for _, p := range paths {
		r, err := readRecord(w, p)
		if err != nil && named == 0 {
			leftOut(w, err)
			continue
		}
		if err != nil {
			return err
		}
		if r.broken != nil {
			fmt.Fprintf(w.err, "trammel: %s; what stands before it counts\n", printable(r.broken.Error()))
		}
		all = append(all, reports.Journal{Name: filepath.Base(r.name), Events: r.events})
	}
	h := reports.HistoryOf(name, all, c.unit.or(u))
	if f.out != "" {
		return writeOut(w, f.out, h.HTML)
	}
	return writeText(w, "", h.Text())
}

// leftOut says why a journal of the data folder does not count; the others do.
func leftOut(w world, err error) {
	fmt.Fprintf(w.err, "trammel: %s; it is left out\n", printable(err.Error()))
}
