package record

import (
	"slices"
	"strings"

	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// Care is what the cautions of a cut go by: what is known of the arc and of how it is cut. The zero value is a cut of which nobody
// has said anything.
type Care struct {
	// Slot says that the cutter's axis runs along the arc: there is metal on both sides of it.
	Slot bool
	// Table says that the work is turned under the cutter, and Left that the cutter turns anticlockwise seen from above.
	Table, Left bool
	// Way is where the job has the cutter go down.
	Way setup.WayIn
	// Shallow says that a deeper pass is to come, Later that it is not the first at its radius.
	Shallow, Later bool
	// Drawn says that a plan has told the arc, and so whether it Frees the part.
	Drawn, Frees bool
}

// CareOf is what is known of the cut in a setting.
func CareOf(s *session.State) Care {
	c := Care{Table: s.SetUp().Under().Table}
	if s.Set.Job.Cut != nil {
		c.Way = s.Set.Job.Cut.Entry
	}
	_, now := s.Chores()
	if p, ok := s.PassAt(len(now)); ok {
		c.Shallow, c.Later = p.N < p.Of, !p.First
		c.Way = s.Entry()
	}
	if a := s.Set.Arc; a != nil {
		c.Drawn, c.Frees, c.Slot = true, a.Frees, a.Side == part.On.String()
	}
	return c
}

// Care is what a plan knows of the cut of one of its arcs.
func (x *Plan) Care(a *PlanArc) Care {
	return Care{Slot: a.Side == part.On.String(), Table: x.Table, Left: x.Hand == "left"}
}

// StillHolds says what still holds the part behind a place of the order, from 0; nothing while its outline is whole, or is all cut.
func (x *Plan) StillHolds(place int) []string {
	still := x.made.Holding(place)
	if len(still) == 0 {
		return nil
	}
	return []string{"after this setting the part is still held by elements " + Numbers(still)}
}

// Paper is where cautions stand that are read before the machine is gone to.
type Paper int

const (
	OnSheet  Paper = iota // the setting sheet, ahead of the first setting
	OnArc                 // with an arc of the sheet
	OnReport              // behind a session's report, whatever has been cut
	OnHelp                // the page of help, likewise
)

// caution is one row: in which case it is said, how, and where: at which steps of the order at the machine, and on which papers.
type caution struct {
	when  func(*Care) bool
	says  func(*Care) string
	steps []session.Chore
	on    []Paper
}

// Where the cutter is in the metal, and where it is let down into it.
var (
	inTheCut = []session.Chore{session.RoughCut, session.Cut, session.Pass}
	goesDown = []session.Chore{session.Power}
	deepest  = []session.Chore{session.Power, session.Pass}
	measures = []session.Chore{session.Measure, session.CheckArc, session.PartIn}
	goesDry  = []session.Chore{session.DrySwing, session.DryTurn}
)

// cautionRows are all cautions about the cut itself, each where it matters and nowhere else; those about the change-over stand in
// its steps. Common practice, no source.
var cautionRows = []caution{
	{goesIn(setup.WayInUnsaid), same("Never plunge a cutter that does not cut to its centre: enter in the waste, off the part, or in a " +
		"drilled hole"), goesDown, []Paper{OnSheet, OnReport, OnHelp}},
	{goesIn(setup.WayInWaste), same("Never plunge a cutter that does not cut to its centre, in the waste neither: drill a hole there first"),
		goesDown, nil},
	{unless(shallow), same("Where it cuts right through: no deeper than the work and a little, into a board, never into the table"),
		deepest, []Paper{OnSheet, OnReport, OnHelp}},
	{unless(later), same("Hands at the handle only, away from cutter and work"), inTheCut, []Paper{OnSheet, OnReport, OnHelp}},
	{unless(later), same("Chips: a brush, spindle stopped; never a hand, never air towards a face"),
		append([]session.Chore{session.LiftOut}, inTheCut...), []Paper{OnSheet, OnReport, OnHelp}},
	{always, same("Brush the chips off before you measure, and before the next part is seated"),
		measures, []Paper{OnSheet, OnReport, OnHelp}},
	{always, same("Thin work bows under its clamps: packing under each, no tighter than it holds"),
		[]session.Chore{session.RoughIn}, []Paper{OnSheet, OnReport, OnHelp}},
	{always, same("The flutes lift thin or soft work: a clamp near the cut, a board beneath it"), goesDry,
		[]Paper{OnSheet, OnReport, OnHelp}},
	{func(c *Care) bool { return c.Slot }, climbs, inTheCut, []Paper{OnArc}},
	{unless(drawn), same("A cutter as wide as its slot climbs on one wall: the outer where it is swung anticlockwise from above round " +
		"the arc's centre, the inner clockwise (a left-hand cutter: the other)"), nil, []Paper{OnReport, OnHelp}},
	{func(c *Care) bool { return c.Frees && !c.Shallow }, same("This cut lets the part go: hold the part itself first, or leave bridges and saw them " +
		"through afterwards"), inTheCut, nil},
	{unless(drawn), same("Know what still holds the part: what lets it go is cut last, the part itself held first, or bridges left that " +
		"are sawn through afterwards"), goesDry, []Paper{OnSheet, OnReport, OnHelp}},
}

func goesIn(way setup.WayIn) func(*Care) bool { return func(c *Care) bool { return c.Way == way } }

func always(*Care) bool    { return true }
func drawn(c *Care) bool   { return c.Drawn }
func later(c *Care) bool   { return c.Later }
func shallow(c *Care) bool { return c.Shallow }

func unless(is func(*Care) bool) func(*Care) bool { return func(c *Care) bool { return !is(c) } }

func same(words string) func(*Care) string { return func(*Care) string { return words } }

// climbs says on which wall of a full slot the cutter climbs. A cutter that turns clockwise from above cuts conventionally what lies
// on the left of its way, and climbs on the right: going anticlockwise round a centre, that is the outer wall. A table that is turned
// takes the work along, so the cutter goes the other way round it.
func climbs(c *Care) string {
	outer, inner := "anticlockwise", "clockwise"
	if c.Table != c.Left {
		outer, inner = inner, outer
	}
	words := "In metal on both sides the cutter climbs on one wall: on the outer " + turned(c) + " " + outer +
		" from above, on the inner " + inner
	if !c.Left {
		words += " (a cutter that turns clockwise from above)"
	}
	return words + "; hold the handle against it"
}

func turned(c *Care) string {
	if c.Table {
		return "with the table turned"
	}
	return "swung"
}

// Cautions are what has to be minded at a step of the order at the machine.
func Cautions(c Care, at session.Chore) (out []string) {
	for _, r := range cautionRows {
		if slices.Contains(r.steps, at) && r.when(&c) {
			out = append(out, r.says(&c))
		}
	}
	return out
}

// CautionsOn are what stands on a paper, as sentences.
func CautionsOn(c Care, p Paper) (out []string) {
	for _, r := range cautionRows {
		if slices.Contains(r.on, p) && r.when(&c) {
			out = append(out, strings.TrimSuffix(r.says(&c), ".")+".")
		}
	}
	return out
}
