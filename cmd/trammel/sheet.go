package main

import (
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	reports "example.org/trammel/indicator/report"
)

// sheetFlags are those of a plan, and where the sheet goes.
type sheetFlags struct {
	planFlags
	out string
}

func newSheet(w world, c *common) *cobra.Command {
	f := sheetFlags{planFlags: newPlanFlags()}
	cmd := &cobra.Command{
		Use:   "sheet DRAWING | sheet --points FILE",
		Short: "the setting sheet of a drawing, to hang at the machine",
		Long: `sheet plans a drawing as plan does and writes the settings in the order in which they
are made: for each the swing radius and its arcs, with cutter, centre, where to start,
which way to swing and where to stop, the cautions in their place, and blanks for what is measured and by whom.

With -o FILE.html it is one page with the numbered outline in it, to be printed; with
-o FILE.txt, or without -o, plain text. With --machine the head's ring, or the table's,
stands with the bearings.`,
		Args: oneDrawing(&f.planFlags),
		RunE: func(_ *cobra.Command, args []string) error { return sheetVerb(w, c, &f, args) },
	}
	f.add(cmd)
	cmd.Flags().StringVarP(&f.out, "out", "o", "", "write to a file: HTML, or text where its name ends in .txt")
	f.addMachine(cmd)
	return cmd
}

func sheetVerb(w world, c *common, f *sheetFlags, args []string) error {
	if c.json {
		return misuse("sheet has no --json; plan --json says the same figures")
	}
	p, err := readPlan(w, c, &f.planFlags, args)
	if err != nil {
		return err
	}
	s := reports.NewSheet(&p.line)
	if f.out == "" || strings.EqualFold(filepath.Ext(f.out), ".txt") {
		return writeText(w, f.out, s.Text())
	}
	return writeOut(w, f.out, s.HTML)
}
