package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// blendsFlags are those of a plan, and what is believed.
type blendsFlags struct {
	planFlags
	cutterError, measuredError, tolerance, centreTolerance number
	turnError, slideError                                  number
}

func newBlends(w world, c *common) *cobra.Command {
	f := blendsFlags{planFlags: newPlanFlags(), cutterError: notNegative(), measuredError: notNegative(), tolerance: positive(),
		centreTolerance: positive(), turnError: degrees(0, 10), slideError: inLength(notNegative())}
	cmd := &cobra.Command{
		Use:   "blends DRAWING [JOURNAL]... | blends --points FILE [JOURNAL]...",
		Short: "by how much neighbouring arcs will miss each other, and how to aim the next",
		Long: `blends plans a drawing as plan does, reads from the journals which settings of its arcs
have been accepted, and says of each blend the step that is foretold there, how sure
that is, and which element will stand proud of the other; which blend to worry about
most; and by how much, which way and inside which tolerance to aim the settings to
come so that the steps get smaller. Of several settings of one arc the newest counts.
Without a journal it reads those in the data folder.

Give the flags that the settings were made with, --cutter above all: a setting is
known by its drawing or the same outline, and by its arc's centre, radius, ends and
swing radius.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if f.points == "" && len(args) == 0 {
				return withHint(misuse("blends takes a drawing or --points, seen neither"),
					"name a file that ends in .dxf or .toml, and the journals behind it")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return blendsVerb(w, c, &f, args) },
	}
	f.add(cmd)
	fl := cmd.Flags()
	fl.Var(&f.cutterError, "cutter-error", "limit of error of each cutter's diameter (default: as the newest setting's job says, "+
		"else 0.01 mm)")
	fl.Var(&f.measuredError, "measured-error", "standard uncertainty of a checked arc's radius (default: as the newest setting's job "+
		"says, else 0.005 mm)")
	fl.Var(&f.turnError, "turn-error", "limit of error of the angle that straights are laid at, degrees (default: taken as exact)")
	fl.Var(&f.slideError, "slide-error", "limit of error of the slide that is locked across a straight, with the datum found again "+
		"(default: taken as exact)")
	areLengths(cmd, "slide-error")
	fl.Var(&f.tolerance, "tolerance", "on the swing radius of settings to come (default: as of the newest setting, else 0.02 mm)")
	fl.Var(&f.centreTolerance, "centre-tolerance", "on the centre of settings to come (default: as of the newest setting, else 0.02 mm)")
	return cmd
}

func blendsVerb(w world, c *common, f *blendsFlags, args []string) error {
	var names []string
	if f.points == "" {
		args, names = args[:1], args[1:]
	} else {
		args, names = nil, args
	}
	if slices.Contains(names, "-") && (f.points == "-" || slices.Contains(args, "-")) {
		return misuse("a drawing and a journal on one standard input, need a file for one of them")
	}
	p, err := readPlan(w, c, &f.planFlags, args)
	if err != nil {
		return err
	}
	if len(p.Part.Groups) == 0 {
		return withHint(fmt.Errorf("%s: no arc has a swing radius, need one at least", p.Name),
			"name the cutters at hand with --cutter; trammel plan says what stands in the way")
	}
	var all []record.Journal
	if len(names) > 0 {
		all, err = p.named(w, names)
	} else {
		_, all, err = allSessions(w)
	}
	if err != nil {
		return err
	}
	made, notes := record.Newest(p.Part, &p.drawing, all)
	u := p.line.Unit
	x, err := record.NewBlends(p.Planned, made, f.doubts(made, u), u, notes...)
	if err != nil {
		return withHint(fmt.Errorf("the journals: %w", err), "leave out the journal whose figures are none")
	}
	return say(w, c, x)
}

// doubts are what is believed of what no journal tells.
func (f *blendsFlags) doubts(made []record.Made, u geom.Unit) part.Doubts {
	d := record.DoubtsOf(made)
	for _, v := range []struct {
		flag *number
		at   *float64
	}{
		{&f.cutterError, &d.Cutter}, {&f.measuredError, &d.Measured}, {&f.tolerance, &d.Tolerance},
		{&f.centreTolerance, &d.CentreTolerance},
	} {
		if v.flag.set {
			*v.at = u.MM(v.flag.v)
		}
	}
	d.Angle, d.AngleSaid = float64(geom.FromDegrees(f.turnError.v)), f.turnError.set
	d.Slide, d.SlideSaid = u.MM(f.slideError.v), f.slideError.set
	return d
}

// named reads the journals that are named: each must be whole, and have something to say of the plan.
func (p *planned) named(w world, names []string) (all []record.Journal, err error) {
	for _, name := range names {
		r, err := readRecord(w, name)
		if err != nil {
			return nil, err
		}
		if r.broken != nil {
			return nil, withHint(r.broken, "leave this journal out, or take its copy; the file was left as it is")
		}
		l := record.Journal{Name: filepath.Base(r.name), Path: name}
		at := func(event int) time.Time { return r.events[event-1].T }
		session.HistoryOf(r.events, func(st session.Step) { l.Follow(st, at) })
		if err := p.belongs(&l, r.name); err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
}

// belongs refuses a journal that no setting of the plan's arcs is accepted in.
func (p *planned) belongs(l *record.Journal, name string) error {
	var other *session.Opened // of another drawing, or of none
	var arc *part.Picked      // of this drawing, and not in the plan
	for i := range l.Accepted {
		switch set := l.Accepted[i].State.Set; {
		case !p.drawing.Drew(set):
			other = set
		case len(p.Part.Numbers(set.Arc)) > 0:
			return nil
		default:
			arc = set.Arc
		}
	}
	if arc != nil {
		u := p.line.Unit
		return withHint(fmt.Errorf("%s: a setting of arc %d of %s at swing radius %.6g %v, need one that is in the plan", name, arc.N,
			arc.Part, u.From(arc.Swing), u),
			"give the flags that it was made with, like --layer and --cutter %.6g", u.From(arc.Cutter))
	}
	need := fmt.Errorf("need one of %s (sha256 %.12s…)", filepath.Base(p.name), p.drawing.SHA256)
	elsewhere := "name the drawing that it was made from, or leave the journal out"
	switch {
	case other == nil && l.Open():
		return withHint(fmt.Errorf("%s: its setting is not accepted yet, %w", name, need),
			"trammel dial --resume --journal %s goes on with it", quoted(name))
	case other == nil:
		return withHint(fmt.Errorf("%s: no accepted setting, %w", name, need), "%s", elsewhere)
	case other.Arc == nil:
		return withHint(fmt.Errorf("%s: a setting that is of no drawing's arc, %w", name, need),
			"trammel dial --drawing FILE --arc N sets one")
	}
	seen := session.File{Name: "another drawing", SHA256: "?"}
	if n := len(other.Files); n > 0 { // the drawing is the last of them
		seen = other.Files[n-1]
	}
	err := fmt.Errorf("%s: a setting of arc %d of %s (%s, sha256 %.12s…), %w", name, other.Arc.N, other.Arc.Part, filepath.Base(seen.Name),
		seen.SHA256, need)
	return withHint(err, "%s", elsewhere)
}
