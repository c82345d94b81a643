package main

import (
	"cmp"
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

// Believed where nobody says otherwise, millimetres (common practice, no source): the limit of a cutter's
// diameter by a micrometer over its teeth, the standard uncertainty of a radius measured over pins, and the
// tolerances of a setting to come.
const (
	cutterError   = 0.01
	measuredError = 0.005
	toleranceSet  = 0.02
)

// blendsFlags are those of a plan, and what is believed.
type blendsFlags struct {
	planFlags
	cutterError, measuredError, tolerance, centreTolerance number
}

func newBlends(w world, c *common) *cobra.Command {
	f := blendsFlags{planFlags: newPlanFlags(), cutterError: notNegative(), measuredError: notNegative(), tolerance: positive(), centreTolerance: positive()}
	cmd := &cobra.Command{
		Use:   "blends DRAWING [JOURNAL]... | blends --points FILE [JOURNAL]...",
		Short: "by how much neighbouring arcs will miss each other, and how to aim the next",
		Long: `blends plans a drawing as plan does, reads from the journals which settings of its arcs
have been accepted, and says of each blend the step that is foretold there, how sure
that is, and which element will stand prouder of the metal; which blend to worry about
most; and by how much, which way and inside which tolerance to aim the settings to
come so that the steps get smaller. Of several settings of one arc the newest counts.
Without a journal it reads those in the data folder.

Give the flags that the settings were made with, --cutter above all: a setting is
known by its drawing or the same outline, and by its arc's centre, radius, ends and
swing radius.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if f.points == "" && len(args) == 0 {
				return withHint(misuse("blends takes a drawing or --points, seen neither"), "name a file that ends in .dxf or .toml, and the journals behind it")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return blendsVerb(w, c, &f, args) },
	}
	f.add(cmd)
	fl := cmd.Flags()
	fl.Var(&f.cutterError, "cutter-error", "limit of error of each cutter's diameter (default: as the newest setting's job says, else 0.01 mm)")
	fl.Var(&f.measuredError, "measured-error", "standard uncertainty of a checked arc's radius (default: as the newest setting's job says, else 0.005 mm)")
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
		return withHint(fmt.Errorf("%s: no arc has a swing radius, need one at least", p.Name), "name the cutters at hand with --cutter; trammel plan says what stands in the way")
	}
	var all []listed
	if len(names) > 0 {
		all, err = p.named(w, names)
	} else {
		_, all, err = allSessions(w)
	}
	if err != nil {
		return err
	}
	made, notes := p.made(all)
	u := p.line.Unit
	x, err := record.NewBlends(p.Planned, settings(made), f.doubts(made, u), u, notes...)
	if err != nil {
		return withHint(fmt.Errorf("the journals: %w", err), "leave out the journal whose figures are none")
	}
	return say(w, c, x)
}

// doubts are what is believed of what no journal tells.
func (f *blendsFlags) doubts(made []newest, u geom.Unit) record.Doubts {
	d := believed(made)
	for _, v := range []struct {
		flag *number
		at   *float64
	}{
		{&f.cutterError, &d.Cutter}, {&f.measuredError, &d.Measured}, {&f.tolerance, &d.Tolerance}, {&f.centreTolerance, &d.CentreTolerance},
	} {
		if v.flag.set {
			*v.at = u.MM(v.flag.v)
		}
	}
	return d
}

// believed are the doubts where nobody says otherwise: each as of the newest setting that has it.
func believed(made []newest) record.Doubts {
	d := record.Doubts{Cutter: cutterError, Measured: measuredError, Tolerance: toleranceSet, CentreTolerance: toleranceSet}
	byTime := slices.SortedStableFunc(slices.Values(made), func(a, b newest) int { return a.at.Compare(b.at) })
	take := func(at *float64, v float64) {
		if v > 0 {
			*at = v
		}
	}
	for i := range byTime {
		j := &byTime[i].State.Set.Job
		take(&d.Tolerance, j.Target.Tolerance)
		take(&d.CentreTolerance, j.Target.CentreTolerance)
		if j.Cut != nil {
			take(&d.Cutter, j.Cut.CutterLimit)
			take(&d.Measured, j.Cut.MeasuredError)
		}
	}
	return d
}

// newest is the newest accepted setting of an arc.
type newest struct {
	record.Made
	at time.Time
}

func settings(made []newest) []record.Made {
	out := make([]record.Made, len(made))
	for i := range made {
		out[i] = made[i].Made
	}
	return out
}

// made finds the newest accepted setting of each arc, in the order of the arcs, and tells which journals are
// damaged: of those what stands before the damage counts.
func (p *planned) made(all []listed) (made []newest, notes []string) {
	for i := range all {
		l, used := &all[i], false
		for k := range l.accepted {
			s := &l.accepted[k]
			if !p.drew(s.state.Set) {
				continue
			}
			used = true
			for _, n := range p.Part.Numbers(s.state.Set.Arc) {
				one := newest{record.Made{N: n, Journal: printable(l.name), State: s.state}, s.at}
				at := slices.IndexFunc(made, func(m newest) bool { return m.N == n })
				switch {
				case at < 0:
					made = append(made, one)
				case made[at].at.Before(s.at) || (made[at].at.Equal(s.at) && made[at].Journal == one.Journal):
					made[at] = one
				}
			}
		}
		if used && l.wrong != "" {
			notes = append(notes, printable(fmt.Sprintf("%s: %s; what stands before it counts", l.name, l.wrong)))
		}
	}
	slices.SortFunc(made, func(a, b newest) int { return cmp.Compare(a.N, b.N) })
	return made, notes
}

// named reads the journals that are named: each must be whole, and have something to say of the plan.
func (p *planned) named(w world, names []string) (all []listed, err error) {
	for _, name := range names {
		r, err := readRecord(w, name)
		if err != nil {
			return nil, err
		}
		if r.broken != nil {
			return nil, withHint(r.broken, "leave this journal out, or take its copy; the file was left as it is")
		}
		l := listed{name: filepath.Base(r.name), path: name}
		at := func(event int) time.Time { return r.events[event-1].T }
		session.HistoryOf(r.events, func(st session.Step) {
			l.accepted = keep(l.accepted, st, at)
			l.state = st.After
		})
		if err := p.belongs(&l, r.name); err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	return all, nil
}

// belongs refuses a journal that no setting of the plan's arcs is accepted in.
func (p *planned) belongs(l *listed, name string) error {
	var other *session.Opened // of another drawing, or of none
	var arc *part.Picked      // of this drawing, and not in the plan
	for i := range l.accepted {
		switch set := l.accepted[i].state.Set; {
		case !p.drew(set):
			other = set
		case len(p.Part.Numbers(set.Arc)) > 0:
			return nil
		default:
			arc = set.Arc
		}
	}
	if arc != nil {
		u := p.line.Unit
		return withHint(fmt.Errorf("%s: a setting of arc %d of %s at swing radius %.6g %v, need one that is in the plan", name, arc.N, arc.Part, u.From(arc.Swing), u),
			"give the flags that it was made with, like --layer and --cutter %.6g", u.From(arc.Cutter))
	}
	need := fmt.Errorf("need one of %s (sha256 %.12s…)", filepath.Base(p.name), p.sum)
	elsewhere := "name the drawing that it was made from, or leave the journal out"
	switch {
	case other == nil && l.open():
		return withHint(fmt.Errorf("%s: its setting is not accepted yet, %w", name, need), "trammel dial --resume --journal %s goes on with it", quoted(name))
	case other == nil:
		return withHint(fmt.Errorf("%s: no accepted setting, %w", name, need), "%s", elsewhere)
	case other.Arc == nil:
		return withHint(fmt.Errorf("%s: a setting that is of no drawing's arc, %w", name, need), "trammel dial --drawing FILE --arc N sets one")
	}
	seen := session.File{Name: "another drawing", SHA256: "?"}
	if n := len(other.Files); n > 0 { // the drawing is the last of them
		seen = other.Files[n-1]
	}
	err := fmt.Errorf("%s: a setting of arc %d of %s (%s, sha256 %.12s…), %w", name, other.Arc.N, other.Arc.Part, filepath.Base(seen.Name), seen.SHA256, need)
	return withHint(err, "%s", elsewhere)
}
