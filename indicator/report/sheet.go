package report

import (
	"math"
	"slices"
	"strings"

	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
)

// SettingSheet is what hangs at the machine: the settings of a plan in the order in which they are made, with
// all that is set, swung and watched for each. Its figures are those that the plan says, printed alike.
type SettingSheet struct {
	Plan     *record.Plan
	Head     []string // what holds for the whole sheet
	Sections []SheetSection
}

// SheetSection is one setting of the swing radius and its arcs, or straights, or arcs that cannot be set.
type SheetSection struct {
	N     int    // the setting's, as the plan numbers it; 0 for what is none
	Again bool   // it has been cut at before, and is come back to
	Swing string // with unit; empty where none is set
	Title string
	Holds []string // what still holds the part once this setting is cut; nothing while it stands in the stock all round
	Arcs  []SheetArc
	Lines []SheetLine
}

// SheetArc is one arc, or the first pass of a slot. Begin, Way and End are how it is swung, with what the head's
// ring or the table's shows where that is known; Begin and End are empty for a full circle.
type SheetArc struct {
	N               int
	What            string // arc or slot
	Layer, Cutter   string
	Radius, Metal   string
	Readout, Cross  string // Cross is how far the cross slides are wound from the datum, empty without
	Begin, Way, End string
	Swung           string // all three in one sentence
	Ends            []string
	Cut             []string          // in which passes, and where the cutter goes down
	Stops           string            // what the stops are set to by the ring that is read; empty where it shows nothing
	Frees           string            // what to know where it lets the part go
	Care            []string          // what is amiss with it, or to be known first
	Places          []record.PlaceRow // where it is plunged, none where it is swung
	First           []string          // what is done ahead of it
}

// SheetLine is one straight: where the readout stands as its cut begins and as it stops.
type SheetLine struct {
	N             int
	Layer, Cutter string
	Run           string // how the slides cut it; on a table where the readout stands at its ends
	Slide, Table  string
	First         []string // what is done ahead of it
	Ring          string
	Ends          []string
	Cut           []string // as an arc's
	Frees         string
}

// Cautions of the sheet, where they matter. Common practice, no source.
const (
	SheetBeforeDial = "Spindle off and isolated before hands or an indicator go near it. Clamp work and head; lock what is not wound."
	SheetBeforeCut  = "Before the cut: indicator out, cutter in, spindle free again; one " + record.DryRun + " through each whole arc, " +
		"spindle stopped. Cut in the sense that stands with the arc: it is told for each."
	SheetAgain = "Spindle off and isolated before the indicator goes in; before the cut it is out, and one " + record.DryRun +
		" through each arc, spindle stopped."
	SheetStraights = "Lock the head or the table; the slide alone moves."
	SheetLast      = "Your machine's manual, local rules and trained supervision go before this sheet."
)

// NewSheet makes the sheet of a plan.
func NewSheet(p *record.Plan) SettingSheet {
	s := SettingSheet{Plan: p}
	s.Head = []string{
		"lengths in " + p.Unit.String() + "; bearings are the cutter's, seen from the arc's centre, anticlockwise from +X from above",
		"at ends " + p.Length(p.LetPass) + " " + p.Unit.String() + " is let pass",
		"for arcs the readout stands at zero with the head's axis over " + p.At(p.Datum) + " of the drawing",
	}
	if p.Table {
		s.Head[2] = "the readout stands at zero over " + p.At(p.Datum) + " of the drawing"
		s.Head = append(s.Head, "the table's angles are how far it is turned anticlockwise from its zero, from above; cross slides count "+
			"from the datum over the table's axis")
	}
	for _, q := range p.Problems {
		if p.Spoils(q.N) {
			s.Head = append(s.Head, "! "+q.Text)
		}
	}
	if len(p.Cutters) > 0 {
		s.Head = append(s.Head, "cutters "+p.Lengths(p.Choice.Cutters)+", "+p.Hand+"-hand")
	}
	frees := map[int]string{}
	for _, f := range p.Frees {
		frees[f.N] = p.FreesWords(&f) + ": hold it first"
		if len(f.Left) > 0 {
			frees[f.N] += ", and cut " + record.Numbers(f.Left) + " before"
		}
		if f.Depth > 0 {
			frees[f.N] += "; " + record.HoldWords
		}
	}
	m := sheetMaker{p, frees}
	settings := map[int]bool{}
	for i, step := range p.Steps {
		a, l := p.Arc(step.N), p.Line(step.N)
		open := len(s.Sections) - 1
		switch {
		case a != nil && a.Group > 0:
			if step.Sets || i == 0 {
				s.Sections = append(s.Sections, SheetSection{N: a.Group, Again: settings[a.Group],
					Swing: p.Length(a.Swing) + " " + p.Unit.String(), Title: "swing radius"})
				settings[a.Group] = true
				open++
			}
			arc := m.arc(a)
			arc.First = p.Before(i)
			if !sheetUnknown(step.Changes) {
				arc.Care = append([]string{"cutter " + p.Length(step.Changes) + " " + p.Unit.String() + " goes in"}, arc.Care...)
			}
			s.Sections[open].Arcs = append(s.Sections[open].Arcs, arc)
		case a != nil:
			title := sheetNoCutter
			if slices.Contains(step.Reasons, part.BeyondTravel.String()) {
				title = part.BeyondTravel.String()
			}
			if open < 0 || s.Sections[open].Title != title {
				s.Sections = append(s.Sections, SheetSection{Title: title})
				open++
			}
			arc := m.arc(a)
			arc.First = p.Before(i)
			s.Sections[open].Arcs = append(s.Sections[open].Arcs, arc)
		case l != nil:
			if open < 0 || len(s.Sections[open].Lines) == 0 {
				s.Sections = append(s.Sections, SheetSection{Title: sheetSlides})
				open++
			}
			line := m.line(l)
			line.First = p.Before(i)
			s.Sections[open].Lines = append(s.Sections[open].Lines, line)
		}
		if open >= 0 {
			s.Sections[open].Holds = p.StillHolds(i)
		}
	}
	return s
}

// Titles of what sets no swing radius.
const (
	sheetNoCutter = "no cutter at hand can do these"
	sheetSlides   = "straights"
)

// sheetMaker prints what a plan holds.
type sheetMaker struct {
	p     *record.Plan
	frees map[int]string
}

func (m *sheetMaker) arc(a *record.PlanArc) SheetArc {
	run := a.Run()
	out := SheetArc{N: a.N, What: "arc", Layer: a.Layer, Cutter: m.cutter(a), Radius: m.p.Length(a.Radius), Metal: a.Metal(),
		Readout: m.p.At(a.Readout), Begin: run.Begin(), Way: run.Way(), End: run.End(), Swung: run.Words(), Frees: m.frees[a.N]}
	if m.p.Slot(a.N) != nil {
		out.What, out.Metal = "slot", "its first pass, along the centre line"
	}
	if a.Table != nil {
		out.Cross = m.p.At(a.Wind)
	}
	if m.p.Gouges(a.N) {
		out.Begin, out.Way, out.End, out.Swung = "", record.GougesWords, "", record.GougesWords
		out.Care = m.p.ProblemsOf(a.N)
		return out
	}
	if out.Places = m.p.PlaceRows(a); out.Places != nil {
		out.Begin, out.Way, out.End, out.Swung = "", m.p.PlungeWords(a), "", m.p.PlungeWords(a)
	}
	for _, i := range a.InOrder() {
		out.Ends = append(out.Ends, a.EndAt(i)+": "+m.p.EndWords(&a.Ends[i], a.N, a.Swing))
	}
	out.Stops = a.StopWords()
	out.Care = append(out.Care, m.p.ProblemsOf(a.N)...)
	care := m.p.Care(a)
	out.Care = append(out.Care, record.CautionsOn(care, record.OnArc)...)
	if words := m.p.StepWords(a); words != "" {
		out.Care = append(out.Care, words)
	}
	out.Cut = m.p.CutWords(a.N)
	return out
}

// cutter is the diameter of an arc's cutter, or which one it needs where none at hand does it.
func (m *sheetMaker) cutter(a *record.PlanArc) string {
	if !a.Cutter.Unknown() {
		return m.p.Length(a.Cutter)
	}
	if a.PlanPlaces != nil {
		return m.p.Length(a.StepCutter)
	}
	for i := range m.p.Problems {
		if q := &m.p.Problems[i]; q.N == a.N && sheetNeeds[q.Kind] != nil {
			return sheetNeeds[q.Kind](m.p, a, q)
		}
	}
	if len(m.p.Cutters) == 0 {
		return "to be named (--cutter)"
	}
	return "another: no cutter at hand does it"
}

// sheetNeeds say by the problem which cutter an arc needs that has none.
var sheetNeeds = map[string]func(*record.Plan, *record.PlanArc, *record.PlanProblem) string{
	part.TooTight.String(): func(p *record.Plan, a *record.PlanArc, _ *record.PlanProblem) string {
		return "under " + p.Length(2*a.Radius)
	},
	part.TooWide.String(): func(p *record.Plan, _ *record.PlanArc, q *record.PlanProblem) string {
		return p.Length(q.Need) + " or less"
	},
	part.OtherCutter.String(): func(p *record.Plan, _ *record.PlanArc, q *record.PlanProblem) string {
		switch {
		case !(q.Need > 0):
			return "none swings it"
		case math.IsInf(float64(q.Need), 1):
			return p.Length(q.Size) + " or more"
		case q.Size == 0:
			return p.Length(q.Need) + " or less"
		}
		return p.Length(q.Size) + " to " + p.Length(q.Need)
	},
}

func (m *sheetMaker) line(l *record.PlanLine) SheetLine {
	out := SheetLine{N: l.N, Layer: l.Layer, Cutter: m.p.Length(l.Cutter), Frees: m.frees[l.N], Cut: m.p.CutWords(l.N),
		Run: m.p.RunWords(l)}
	switch {
	case out.Run != "":
	case len(l.Readout) == 2:
		out.Run = "readout " + m.p.At(l.Readout[0]) + " to " + m.p.At(l.Readout[1])
	default:
		out.Run = "?"
	}
	switch {
	case l.Cutter.Unknown():
		out.Slide = m.p.LayWords(l)
	case !sheetUnknown(l.Slide):
		out.Slide = "slide along " + record.Angle(l.Slide)
	}
	if !sheetUnknown(l.Table) {
		out.Table, out.Ring = record.Angle(l.Table), m.p.RingAt(l.Table)
	}
	for _, i := range l.InOrder() {
		out.Ends = append(out.Ends, m.p.EndAt(l, i)+": "+m.p.EndWords(&l.Ends[i], l.N, 0))
	}
	return out
}

func sheetUnknown(n record.Number) bool { return math.IsNaN(float64(n)) }

// Blanks that are filled in by hand.
const (
	sheetMeasured = "measured ________"
	sheetInitials = "initials ____"
)

// Text is the sheet as plain text.
func (s *SettingSheet) Text() string {
	var b strings.Builder
	put := func(all ...string) { b.WriteString(strings.Join(all, "") + "\n") }
	put("setting sheet: ", s.Plan.Part)
	for _, h := range s.Head {
		put(h)
	}
	for i := range s.Sections {
		c := &s.Sections[i]
		put()
		put(c.Name())
		for _, w := range c.Words() {
			put("  ! ", w)
		}
		for k := range c.Arcs {
			c.Arcs[k].text(put)
		}
		for k := range c.Lines {
			c.Lines[k].text(put)
		}
		if c.N > 0 {
			put("  swing radius ", sheetMeasured, "   ", sheetInitials)
		}
	}
	put()
	put("! ", SheetLast)
	for _, n := range s.Plan.Remarks() {
		put("note: ", n)
	}
	return b.String()
}
