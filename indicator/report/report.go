// Package report makes the record of a session for people who were not there: text, one page of HTML with
// its pictures in it, and rows for a spreadsheet. It works on events alone, and prints figures by the
// code that the lines are printed by.
package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// Report is a journal as a list of settings.
type Report struct {
	Source   string // the journal's name
	Settings []Setting
}

// Setting is one setting of a journal: the sweeps and winds that stand, and all that was entered.
type Setting struct {
	N       int // from 1
	By      string
	Machine string
	Program string
	Unit    geom.Unit
	Begun   time.Time
	Last    time.Time
	State   session.State // at its end
	Sweeps  []Sweep
	Entries []Entry // in the order of the journal, taken back or not
	Notes   []Note
	// Accepted is the event of the acceptance, 0 where the setting is open; stood is what was accepted.
	Accepted int
	stood    session.State
	opened   int // the event that opens it
	// Steps are the steps of the order at the machine that stand, in words.
	Steps []string
}

// Sweep is a sweep that was closed, and the winds that followed it.
type Sweep struct {
	Event, Trial int
	Unit         geom.Unit
	State        session.State // in which it was closed
	Found        indicator.Found
	Err          error // why no circle fits
	Bearings     []geom.Bearing
	Readings     []float64
	Station      []int
	Winds        []Wind
}

// Wind is a wind as it was told; Event is where it was done, 0 where it was not.
type Wind struct {
	Told, Event int
	What        session.Told
	Text        string
	Reading     *float64
}

// Note is a remark, with the event that it is; About is the event that it is about, 0 where it was not
// written later.
type Note struct {
	Event int
	About int
	At    time.Time
	Text  string
}

// Entry is something that a person entered or was told, for the rows of a spreadsheet.
type Entry struct {
	Event  int
	At     time.Time
	Kind   string // reading, skipped, wind, step, bias, note, accepted
	Trial  int
	Number int // of the station or the wind
	Name   string
	// Bearing is set for a station.
	Bearing *geom.Bearing
	Value   indicator.Value // millimetres; unknown where there is none
	Text    string
	Stands  bool // it was not taken back, nor replaced by another reading
}

// progress is what stands of a setting after an event; undo goes back to an older one.
type progress struct {
	sweeps []Sweep
	stands []int // entries (indices) that stand
}

// maker folds a journal into a report.
type maker struct {
	r    Report
	unit func(geom.Unit) geom.Unit
	s    session.State
	now  progress
	undo []progress
}

// New makes the report of a journal's events; unit says in which unit a setting is shown whose job has the
// given one. Events in front of the first opening belong to nothing and are passed over.
func New(source string, events []session.Record, unit func(geom.Unit) geom.Unit) Report {
	m := maker{r: Report{Source: source}, unit: unit}
	for _, e := range events {
		m.event(e)
	}
	m.finish()
	return m.r
}

func (m *maker) setting() *Setting {
	if n := len(m.r.Settings); n > 0 {
		return &m.r.Settings[n-1]
	}
	return nil
}

// settingOf is the setting that an event is of; the present one for 0.
func (m *maker) settingOf(event int) *Setting {
	for i := range m.r.Settings[:len(m.r.Settings)-1] {
		if event > 0 && event < m.r.Settings[i+1].opened {
			return &m.r.Settings[i]
		}
	}
	return m.setting()
}

// finish puts what stands into the setting that ends.
func (m *maker) finish() {
	set := m.setting()
	if set == nil {
		return
	}
	set.State, set.Sweeps = m.s, m.now.sweeps
	for _, i := range m.now.stands {
		set.Entries[i].Stands = true
		if e := &set.Entries[i]; e.Kind == "step" {
			set.Steps = append(set.Steps, e.Text)
		}
	}
}

func (m *maker) event(r session.Record) {
	if o, opens := r.Event.(session.Opened); opens {
		m.finish()
		m.now, m.undo = progress{}, nil
		m.r.Settings = append(m.r.Settings, Setting{N: len(m.r.Settings) + 1, By: o.By, Machine: o.Machine.Name, Program: o.Program, Unit: m.unit(o.Job.Unit), Begun: r.T, opened: r.N})
	}
	set := m.setting()
	if set == nil {
		return
	}
	set.Last = r.T
	st := session.Step{Before: m.s, Event: r.Event, After: m.s.Apply(r.Event)}
	m.s = st.After
	was := m.now
	switch e := r.Event.(type) {
	case session.Undone:
		if n := len(m.undo); n > 0 {
			m.now, m.undo = m.undo[n-1], m.undo[:n-1]
		}
	case session.Swept:
		m.now.sweeps = append(slices.Clip(m.now.sweeps), closed(r.N, st.After, set.Unit))
	case session.Told:
		m.told(r.N, e, st)
	case session.Wound:
		m.wound(r, e, st)
	case session.Took, session.Skipped, session.Noted, session.Accepted, session.Worked, session.Biased:
		m.entry(r, st)
	}
	if session.IsEntry(r.Event) {
		m.undo = append(m.undo, was)
	}
}

// closed is the sweep that stands in a state.
func closed(n int, s session.State, u geom.Unit) Sweep {
	w := Sweep{Event: n, Trial: s.Trial, Unit: u, State: s}
	if w.Found, w.Err = s.Fit(); w.Err == nil {
		w.Bearings, w.Readings, w.Station = s.Readings(&w.Found)
	}
	return w
}

// told puts a wind to the last sweep; older progress keeps its own.
func (m *maker) told(n int, e session.Told, st session.Step) {
	if len(m.now.sweeps) == 0 {
		return
	}
	w := Wind{Told: n, What: e}
	for _, l := range lines.Of(st, m.setting().Unit) {
		w.Text = l.Text()
	}
	m.change(func(s *Sweep) { s.Winds = append(slices.Clip(s.Winds), w) })
}

// change changes the last sweep in a copy.
func (m *maker) change(do func(*Sweep)) {
	m.now.sweeps = slices.Clone(m.now.sweeps)
	do(&m.now.sweeps[len(m.now.sweeps)-1])
}

func (m *maker) wound(r session.Record, e session.Wound, st session.Step) {
	if n := len(m.now.sweeps); n == 0 || len(m.now.sweeps[n-1].Winds) == 0 {
		return
	}
	var done Wind
	m.change(func(s *Sweep) {
		s.Winds = slices.Clone(s.Winds)
		last := &s.Winds[len(s.Winds)-1]
		last.Event, last.Reading = r.N, e.Reading
		done = *last
	})
	m.keep(Entry{Event: r.N, At: r.T, Kind: "wind", Trial: st.Before.Trial, Number: done.What.Step, Name: e.Slide,
		Value: indicator.Value{V: done.What.Wind.Travel, U: nan}, Text: done.Text})
}

func (m *maker) keep(e Entry) {
	set := m.setting()
	set.Entries = append(set.Entries, e)
	m.now.stands = append(slices.Clip(m.now.stands), len(set.Entries)-1)
}

// entry keeps what was entered for the rows. A reading that replaces another takes its place.
func (m *maker) entry(r session.Record, st session.Step) {
	x := Entry{Event: r.N, At: r.T, Trial: st.After.Trial, Value: indicator.Value{V: nan, U: nan}}
	again := 0
	switch e := r.Event.(type) {
	case session.Took:
		b := e.Bearing
		x.Kind, x.Bearing, x.Value.V, again = "reading", &b, e.Reading, e.Again
		if e.At != nil {
			x.Kind, x.Value.V, x.Text = "point", nan, lines.PlaceWords(st.After.Set.Job.Dial, geom.Point(*e.At), m.setting().Unit)
		}
		if e.Corrected {
			x.Text = strings.TrimPrefix(x.Text+", as proposed", ", ")
		}
	case session.Skipped:
		b := e.Bearing
		x.Kind, x.Bearing, x.Text, again = "skipped", &b, string(e.Off), e.Again
	case session.Noted:
		x.Kind, x.Text = "note", e.Text
		if e.About > 0 {
			x.Text = fmt.Sprintf("of event %d: %s", e.About, e.Text)
		}
		set := m.settingOf(e.About)
		set.Notes = append(set.Notes, Note{r.N, e.About, r.T, e.Text})
	case session.Worked:
		x.Kind, x.Name = "step", ""
		if all := lines.Of(st, m.setting().Unit); len(all) > 0 {
			x.Text = all[0].Text()
		}
		if e.Value != nil {
			x.Value.V = *e.Value
		}
	case session.Biased:
		x.Kind, x.Value.V, x.Text = "bias", e.By, lines.Of(st, m.setting().Unit)[0].Text()
	case session.Accepted:
		x.Kind = "accepted"
		m.setting().Accepted, m.setting().stood = r.N, st.Before
		if f, err := st.Before.Fit(); err == nil {
			x.Value, _ = st.Before.Swing(&f)
			if t, err := st.Before.Located(); err == nil && st.Before.Set.Job.Setup.Kind == indicator.Points {
				x.Text = "centre at " + lines.PlaceWords(st.Before.Set.Job.Dial, t.Centre, m.setting().Unit)
				break
			}
			x.Text = fmt.Sprintf("centre x %s, y %s", lines.Measured(m.setting().Unit, f.CentreX()), lines.Measured(m.setting().Unit, f.CentreY()))
		}
	}
	if x.Bearing != nil {
		if x.Number = st.After.Sweep.N; again > 0 {
			x.Number = again
			m.replace(again, x.Trial)
		}
	}
	m.keep(x)
}

// replace takes a station's earlier reading out of what stands.
func (m *maker) replace(station, trial int) {
	set := m.setting()
	for i := len(m.now.stands) - 1; i >= 0; i-- {
		if e := &set.Entries[m.now.stands[i]]; e.Bearing != nil && e.Number == station && e.Trial == trial {
			m.now.stands = slices.Delete(slices.Clone(m.now.stands), i, i+1)
			return
		}
	}
}
