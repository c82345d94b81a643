package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

var nan = math.NaN()

// cautions stand in every report: those of the change-over, which are common practice, no source, those of the cut, and who goes first.
var cautions = slices.Concat([]string{
	"Spindle off and isolated before hands or an indicator go near it.",
	"Indicator out, cutter in, spindle free again; work and head clamped.",
	"One " + record.DryRun + " through the whole arc before the cut.",
}, record.CautionsOn(record.Care{}, record.OnReport), []string{
	"The machine's manual, local rules and trained supervision go first.",
})

// Row is a name and what stands behind it.
type Row struct{ Name, Value string }

// Head says what was to be set, on what, when and by whom.
func (s *Setting) Head() []Row {
	j, u := &s.State.Set.Job, s.Unit
	rows := []Row{{"begun", s.Begun.Format("2006-01-02 15:04 MST")}, {"last entry", s.Last.Format("2006-01-02 15:04 MST")}}
	if s.By != "" {
		rows = append(rows, Row{"by", s.By})
	}
	if s.Machine != "" {
		rows = append(rows, Row{"machine", s.Machine})
	}
	length := func(mm float64) string { return geom.FormatFixed(u.From(mm), geom.Places(0, u)) + " " + u.String() }
	touched := fmt.Sprintf("%s, %v", s.State.SetUp().Name, j.Setup.Touch)
	if j.Setup.ReferenceRadius > 0 {
		touched += " of radius " + length(j.Setup.ReferenceRadius)
	}
	rows = append(rows, Row{"set-up", touched})
	if j.Setup.ReachKnown {
		rows = append(rows, Row{"reach", length(j.Setup.Reach) + ", spindle axis to tip"})
	}
	rows = append(rows, s.about()...)
	rows = append(rows, s.found()...)
	if t := s.State.Trembling; t.Readings > 0 {
		rows = append(
			rows,
			Row{"needle trembles", fmt.Sprintf("%.2g %v while it stands still, by the samples of %d readings", u.From(t.Spread()),
				u, t.Readings)},
		)
	}
	if j.Target.WantsSwing() {
		rows = append(rows, Row{"swing radius to", fmt.Sprintf("%s ±%s", strings.TrimSuffix(length(j.Target.SwingRadius), " "+u.String()),
			length(j.Target.Tolerance))})
	}
	if cut := lines.DeepWords(&s.State, u); cut != "" {
		rows = append(rows, Row{"cut", cut})
	}
	if b := lines.BiasWords(&s.State, u); b != "" {
		rows = append(rows, Row{"corrected, by arcs checked", b + " " + u.String()})
	}
	return append(rows, Row{"centre within", length(j.Target.CentreTolerance)}, Row{"program", s.Program})
}

// Outcome says how the setting ended: the figures that were accepted, or where it stands.
func (s *Setting) Outcome() []Row {
	word, at := "open", &s.State
	if s.Accepted > 0 {
		at = &s.stood
		word = fmt.Sprintf("accepted in trial %d", at.Trial)
	}
	if s.State.Part > 1 {
		word = fmt.Sprintf("part %d: %s", s.State.Part, word)
		if s.State.Unswept {
			word = fmt.Sprintf("part %d: not swept, behind part %d that was accepted", s.State.Part, at.Part)
		}
	}
	rows := []Row{{"outcome", word}}
	f, err := at.Fit()
	if err != nil {
		return rows
	}
	radius, centre := record.LeansOf(at, &f).VerdictWords(at.Verdicts(&f), s.Unit)
	if r, ok := at.Swing(&f); ok {
		rows = append(rows, Row{"swing radius", record.Measured(s.Unit, r) + ", " + radius})
	}
	away, off := lines.AboutWords(at, &f, s.Unit), f.Offset()
	if len(away) > 0 { // where it stands is worked out to hardly anything: that way has no direction
		f, _ = at.Standing(&f)
		off = f.Away()
	} else if g, ok := at.Standing(&f); ok { // from where the spindle stands, and not from the circle's own middle
		f, off = g, g.Offset()
	}
	rows = append(rows, Row{"centre x", record.Measured(s.Unit, f.CentreX())}, Row{"centre y", record.Measured(s.Unit, f.CentreY())},
		Row{"centre off", record.Measured(s.Unit, off) + ", " + centre})
	if len(away) > 0 {
		rows = append(rows, Row{"how it came there", strings.Join(away, "; ")})
	}
	return rows
}

// about says where the reference stands that was swept, and the arc that has nothing round its own centre.
func (s *Setting) about() []Row {
	j, u := &s.State.Set.Job, s.Unit
	c, ok := setup.CourseOf(j, &s.State.Set.Machine)
	if !ok {
		return nil
	}
	at := func(p geom.Point) string {
		return fmt.Sprintf("x %s, y %s %v of the drawing", geom.FormatFixed(u.From(p.X), geom.Places(0, u)),
			geom.FormatFixed(u.From(p.Y), geom.Places(0, u)), u)
	}
	turned := fmt.Sprintf("%s°", geom.FormatSigned(c.Angle.Degrees(), 3))
	if j.Stated.Has(indicator.OfAngle) {
		turned += fmt.Sprintf(", within %s°", geom.FormatFixed(geom.Bearing(c.AngleLimit).Degrees(), 4))
	}
	goes := func(i int) string {
		return fmt.Sprintf("%s %s %v", c.Names[i], geom.FormatSigned(u.From(c.Travel[i]), geom.Places(0, u)), u)
	}
	return []Row{{"reference at", at(c.Reference)}, {"arc's centre at", at(c.Centre)},
		{"the drawing's X", turned + " from the way of " + c.Names[0] + ", anticlockwise"},
		{"the way between them", goes(0) + ", " + goes(1)}}
}

// Taught says what the machine has taught by the setting's end, and what was odd.
func (s *Setting) Taught() (out []string) {
	for _, l := range record.Taught(s.State.Lessons, s.Unit) {
		out = append(out, l.Text())
	}
	for _, o := range s.State.Odd {
		out = append(out, fmt.Sprintf("trial %d: %s", o.Trial, lines.OddText(o, s.Unit)))
	}
	return out
}

// Stops are where the swing of the setting's arc begins and ends, and how near to that; none where no drawing says.
func (s *Setting) Stops() []string {
	stops, ok := lines.StopsOf(&s.State, s.Unit)
	if !ok {
		return nil
	}
	return stops.Words()
}

// touched are the figures of a sweep whose points have coordinates: where the circle lies by the readouts, and how large it is.
func (w *Sweep) touched() []Row {
	t, err := w.State.Located()
	if err != nil {
		return []Row{{"no circle", err.Error()}}
	}
	rows := []Row{{"centre by the readouts", "X " + record.Measured(w.Unit, t.CentreX())},
		{"", "Y " + record.Measured(w.Unit, t.CentreY())},
		{"radius touched", record.Measured(w.Unit, t.Radius())}}
	if w.Found.Dof > 0 {
		rows = append(rows, w.spread(w.Found.Sigma))
	}
	return rows
}

// spread says how far readings lie apart.
func (w *Sweep) spread(sigma float64) Row {
	return Row{"spread of one reading", fmt.Sprintf("%s %v", geom.FormatFixed(w.Unit.From(sigma), geom.Places(w.Unit.From(sigma), w.Unit)),
		w.Unit)}
}

// Figures are what a sweep says, each with its uncertainty and verdict.
func (w *Sweep) Figures() []Row {
	if w.Err != nil {
		return []Row{{"no circle", w.Err.Error()}}
	}
	if w.State.SetUp().Under().Pair {
		return w.touched()
	}
	u, f := w.Unit, &w.Found
	leans := record.LeansOf(&w.State, f)
	radius, centre := leans.VerdictWords(w.State.Judge(f), u)
	var rows []Row
	if r := f.Swing(); r.Known() {
		rows = append(rows, Row{"swing radius", record.Measured(u, r) + ", " + radius})
	}
	rows = append(rows, Row{"centre x", record.Measured(u, f.CentreX())}, Row{"centre y", record.Measured(u, f.CentreY())},
		Row{"centre off", record.Measured(u, f.Offset()) + ", " + centre})
	if f.Dof > 0 {
		rows = append(rows, w.spread(f.Sigma))
	}
	if l := record.LimitWords(f, leans.On); l != "" {
		rows = append(rows, Row{"limit", l})
	}
	return rows
}

// Why says in words why the sweep was closed.
func (w *Sweep) Why() string { return lines.WhyClosed(w.State.Sweep.Closed).Report }

// StationRow is one reading of a sweep, printed.
type StationRow struct{ Station, Bearing, Reading, Residual, Word string }

// Table lists a sweep's stations, those left out too.
func (w *Sweep) Table() (out []StationRow) {
	u, d := w.Unit, w.State.Set.Job.Dial
	places := record.ReadingPlaces(d, u)
	res := map[int]string{}
	for i, n := range w.Station {
		res[n] = geom.FormatSigned(u.From(w.Found.Residual(w.Bearings[i], w.Readings[i])), max(places, geom.Places(0, u)))
	}
	for i := range w.State.Sweep.Stations[:w.State.Sweep.N] {
		st := &w.State.Sweep.Stations[i]
		r := StationRow{Station: fmt.Sprint(i + 1), Bearing: record.Degrees(st.Bearing.Degrees360()), Residual: res[i+1]}
		switch {
		case st.Off != session.NotOff:
			r.Word = "off the dial: " + st.Off.Words()
		case st.Skipped:
			r.Word = "left out"
		default:
			r.Reading = record.Reading(d, u, st.Reading)
			if w.State.SetUp().Under().Pair {
				r.Reading = record.PlaceWords(d, st.At, u)
			}
		}
		switch {
		case st.Kept:
			r.Word = "kept"
		case st.Asked:
			r.Word = "read again"
		case st.Surprise && st.Overtaken:
			r.Word = lines.OvertakenWords
		case st.Surprise:
			r.Word = record.SlipWords(st.Because)
		case st.Closing:
			r.Word = "closing reading"
		}
		r.Word = strings.TrimPrefix(r.Word+lines.GaugedWords(st.Gauge, u), ", ")
		out = append(out, r)
	}
	return out
}

// Budget lists the standard uncertainties of the radius.
func (w *Sweep) Budget() (out []Row) {
	if w.Err != nil {
		return nil
	}
	u := w.Unit
	for _, p := range w.Found.Budget() {
		from := "from a limit"
		if !math.IsInf(p.Dof, 0) && !math.IsNaN(p.Dof) {
			from = "from readings"
		}
		out = append(out, Row{p.Name, fmt.Sprintf("%s %v, %s", geom.FormatFixed(u.From(p.U), geom.Places(u.From(p.U), u)), u, from)})
	}
	return out
}

// Did says how a wind ended.
func (s *Setting) Did(w Wind) string {
	switch {
	case w.Event == 0:
		return "not done"
	case w.Reading == nil:
		return "done"
	}
	t := "done, needle at " + record.Reading(s.State.Set.Job.Dial, s.Unit, *w.Reading) + " " + s.Unit.String()
	if p := w.What.Park; p != nil {
		t += ", goal " + record.Reading(s.State.Set.Job.Dial, s.Unit, p.Goal+p.Shift*p.Act)
	}
	return t + lines.GaugedWords(w.Gauge, s.Unit)
}

// radiusError is the swing radius's error of a sweep against the job, for the picture of how it converged.
func (w *Sweep) radiusError() (indicator.Value, bool) {
	r := w.Found.Swing()
	t := w.State.Target()
	return indicator.Value{V: r.V - t.SwingRadius, U: r.U}, w.Err == nil && t.WantsSwing() && r.Known()
}

// Text is the report for a terminal or a file of plain text.
func (r *Report) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "session report: %s\n", r.Source)
	rows := func(in string, all []Row) {
		for _, x := range all {
			fmt.Fprintf(&b, "%s%-22s %s\n", in, x.Name, x.Value)
		}
	}
	for i := range r.Settings {
		s := &r.Settings[i]
		fmt.Fprintf(&b, "\nsetting %d of %d\n", s.N, len(r.Settings))
		rows("  ", s.Head())
		rows("  ", s.Outcome())
		s.partsText(&b)
		for k := range s.Sweeps {
			w := &s.Sweeps[k]
			fmt.Fprintf(&b, "\n  %s, %d readings (event %d), %s\n", w.Name(), w.State.Sweep.Readings(), w.Event, w.Why())
			rows("    ", w.Figures())
			fmt.Fprintf(&b, "    %-7s %9s %10s %10s\n", "station", "bearing", "read "+s.Unit.String(), "residual")
			for _, x := range w.Table() {
				fmt.Fprintln(&b, strings.TrimRight(fmt.Sprintf("    %-7s %9s %10s %10s  %s", x.Station, x.Bearing, x.Reading, x.Residual,
					x.Word), " "))
			}
			if len(w.Budget()) > 1 {
				b.WriteString("    radius, standard uncertainties\n")
				rows("      ", w.Budget())
			}
			for _, x := range w.Winds {
				fmt.Fprintf(&b, "    %s\n      %s\n", x.Text, s.Did(x))
			}
		}
		section := func(name string, all []string) {
			if len(all) > 0 {
				fmt.Fprintf(&b, "\n  %s\n    %s\n", name, strings.Join(all, "\n    "))
			}
		}
		section("stops", s.Stops())
		section("order at the machine", s.Steps)
		section("what was learnt of the machine", s.Taught())
		var notes []string
		for _, n := range s.Notes {
			notes = append(notes, fmt.Sprintf("%s  %s%s", n.At.Format("15:04"), n.of(), n.Text))
		}
		section("notes", notes)
	}
	fmt.Fprintf(&b, "\ncautions\n  %s\n", strings.Join(cautions, "\n  "))
	return b.String()
}

// of says which event a later note is about.
func (n *Note) of() string {
	if n.About == 0 {
		return ""
	}
	return fmt.Sprintf("of event %d: ", n.About)
}
