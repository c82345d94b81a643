package main

import (
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// arcFlags name the arc of a drawing that a setting is for.
type arcFlags struct {
	drawing string
	arc     int
	planFlags
	planned *planned     // nil where the job stands alone
	set     *part.Picked // the arc that is to be set
}

func newArcFlags() arcFlags { return arcFlags{planFlags: newPlanFlags()} }

func (f *arcFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.drawing, "drawing", "", "drawing whose arcs are to be set")
	cmd.Flags().IntVar(&f.arc, "arc", 0, "arc to set, by its number in the plan")
	f.planFlags.add(cmd)
}

// fromDrawing plans the drawing that is named, and takes the arc that is named. choose says that no arc is:
// the whole plate is worked off.
func (f *dialFlags) fromDrawing(w world, c *common) (choose bool, err error) {
	if err := f.arcsFit(); err != nil || !f.drawn() || f.resume {
		return false, err
	}
	if err := f.readDrawing(w, c); err != nil {
		return false, err
	}
	if f.arc == 0 {
		return true, nil
	}
	if f.set, err = part.Pick(f.planned.Part, f.arc, f.planned.Name); err == nil {
		f.planned.tellSide(w, f.arc)
	}
	return false, err
}

// drawn says that the target is an arc of a drawing, or of touched points.
func (f *arcFlags) drawn() bool { return f.drawing != "" || f.points != "" }

// arcsFit refuses flags of a drawing that do not go together.
func (f *dialFlags) arcsFit() error {
	given := f.drawn()
	switch {
	case f.drawing != "" && f.points != "":
		return misuse("--drawing together with --points, need one or the other")
	case !given && f.arc != 0:
		return misuse("--arc %d without --drawing, need both", f.arc)
	case !given && len(f.metal) > 0:
		return misuse("--metal %s without --drawing, need both (the job file says it of its own arc)", f.metal[0])
	case !given && f.deep.given() != "":
		return misuse("%s without --drawing, need both (the job file says it of its own arc)", f.deep.given())
	case f.resume && f.arc != 0:
		return misuse("--arc %d with --resume, which goes on with the arc that the journal names", f.arc)
	case f.drawing == "-" || f.points == "-":
		return misuse("the drawing on standard input, which the answers come from; need a file")
	}
	return nil
}

// readDrawing plans the drawing for the job's setup, with flags in the job's unit.
func (f *dialFlags) readDrawing(w world, c *common) error {
	if err := isPlain(f.drawing+f.points, drawing.MaxBytes); err != nil {
		return err
	}
	draft, _, err := f.readJob()
	if _, _, machine := readMachine(f.machine); err != nil || machine != nil {
		return together(err, machine)
	}
	f.typed = &draft.Unit
	turned := draft.SetUp().Under().Table
	if f.table.set && !turned {
		return misuse("--table with a job of setup %v, need turned", draft.SetUp().Name)
	}
	if turned && !f.table.set {
		f.table.v, f.table.set = draft.Setup.IndicatorBearing.Degrees(), true
	}
	if len(f.cutters) == 0 {
		for _, d := range draft.Cutters {
			f.cutters = append(f.cutters, strconv.FormatFloat(draft.Unit.From(d), 'g', -1, 64))
		}
	}
	if t := draft.Tolerance(); !f.letPass.set && t > 0 { // what may stand proud or be gouged at an end is half of it
		f.letPass.v, f.letPass.set = draft.Unit.From(t/2), true
	}
	f.deep.cut = draft.Deep()
	f.planFlags.machine = f.machine
	var args []string
	if f.drawing != "" {
		args = []string{f.drawing}
	}
	f.planned, err = readPlan(w, c, &f.planFlags, args)
	return err
}

// nameOfArc is the arc as a part of a file name: "-arc3", or empty.
func (f *arcFlags) nameOfArc() string {
	if f.set == nil {
		return ""
	}
	return fmt.Sprintf("-arc%d", f.set.N)
}

// tellArc says what is to be set: before the questions which arc it is, and behind them, which may turn the drawing, how it is cut.
func (f *dialFlags) tellArc(w world, set *session.Opened, cut bool) {
	a := set.Arc
	if a == nil {
		return
	}
	lie := setup.LieOf(&set.Job, &set.Machine)
	text := record.ArcWords(a, set.Job.Unit, lie.Turned != 0 || a.Lone && !cut)
	if f.told {
		text = fmt.Sprintf("arc %d", a.N)
	}
	if cut {
		ring, turned := &set.Machine.Head, setup.Of(&set.Job).Under().Table
		if turned {
			ring = &set.Machine.Table
		}
		run := record.RunOf(a, turned, ring, lie)
		text += "; to cut, " + run.Words()
		if lies := run.Lies(); lies != "" {
			text += "; " + lies
		}
	}
	f.told = true
	fmt.Fprintf(w.err, "trammel: %s\n", printable(text))
	if set.Job.Target.Trial && cut {
		fmt.Fprintf(w.err, "trammel: %s\n", lines.TrialOpened)
	}
	if where := lines.SweptWords(set, set.Job.Unit); cut && where != "" {
		fmt.Fprintf(w.err, "trammel: %s\n", printable(where))
	}
}
