// Package report makes the record of a session for people who were not there: text, one page of HTML with
// its pictures in it, and rows for a spreadsheet. It works on events alone, and prints figures by the
// code that the lines are printed by.
//
// The pages were looked at in light and dark in a browser (Chromium 156, no message on its console), which no test
// does. Printed they take 2 pages for two trials with steps, 2 to 5 for the journals of testdata: several settings,
// or up to six sweeps. What their pictures show, a test measures.
package report

import (
	"slices"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
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
	// left are the acceptances that parts have begun behind, oldest first.
	left   []left
	opened int // the event that opens it
	// Steps are the steps of the order at the machine that stand, in words.
	Steps []string
}

// Sweep is a sweep that was closed, and the winds that followed it.
type Sweep struct {
	Event, Part, Trial int
	Unit               geom.Unit
	State              session.State // in which it was closed
	Found              indicator.Estimate
	Err                error // why no circle fits
	Bearings           []geom.Bearing
	Readings           []float64
	Station            []int
	Winds              []Wind
}

// Wind is a wind as it was told; Event is where it was done, 0 where it was not.
type Wind struct {
	Told, Event int
	What        session.Told
	Text        string
	Reading     *float64
	Gauge       session.Gauged // where Reading comes from
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
	Kind   string // reading, read again, look, moved, skipped, wind, step, bias, note, accepted, part
	Part   int
	Trial  int // counted anew in every part
	Number int // of the station or the wind
	Name   string
	// Bearing is set for a station.
	Bearing *geom.Bearing
	Value   indicator.Value // millimetres; unknown where there is none
	Text    string
	// Overtaken says that a reading which was a surprise as it was entered fits the sweep as it ended.
	Overtaken bool
	Stands    bool // it was not taken back, nor replaced by another reading
	gone      int  // the event that replaced it, or its own where it was taken back; 0 where it stands
}

// maker folds a journal into a report.
type maker struct {
	r    Report
	unit func(geom.Unit) geom.Unit
	s    session.State
}

// New makes the report of a journal's events; unit says in which unit a setting is shown whose job has the
// given one. Events in front of the first opening belong to nothing and are passed over.
func New(source string, events []session.Record, unit func(geom.Unit) geom.Unit) Report {
	m := maker{r: Report{Source: geom.PrintableLine(source)}, unit: unit}
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
	set.State = m.s
	for i := range set.Entries {
		e := &set.Entries[i]
		if e.Stands = e.gone == 0; e.Stands && (e.Kind == "step" || e.Kind == "moved") {
			set.Steps = append(set.Steps, e.Text)
		}
	}
}

func (m *maker) event(r session.Record) {
	if o, opens := r.Event.(session.Opened); opens {
		m.finish()
		m.r.Settings = append(m.r.Settings, Setting{N: len(m.r.Settings) + 1, By: o.By, Machine: o.Machine.Name, Program: o.Program,
			Unit: m.unit(o.Job.Unit), Begun: r.T, opened: r.N})
	}
	set := m.setting()
	if set == nil {
		return
	}
	set.Last = r.T
	st := session.Step{Before: m.s, Event: r.Event, After: m.s.Apply(r.Event)}
	m.s = st.After
	if take, ok := rows[session.Kind(r.Event)]; ok {
		take(m, r, st)
	}
}

// back takes back all from event n on.
func (s *Setting) back(n int) {
	s.Sweeps = slices.DeleteFunc(s.Sweeps, func(w Sweep) bool { return w.Event >= n })
	for i := range s.Sweeps {
		w := &s.Sweeps[i]
		w.Winds = slices.DeleteFunc(w.Winds, func(x Wind) bool { return x.Told >= n })
		for k := range w.Winds {
			if x := &w.Winds[k]; x.Event >= n {
				x.Event, x.Reading = 0, nil
			}
		}
	}
	for i := range s.Entries {
		switch e := &s.Entries[i]; {
		case e.Event >= n:
			e.gone = e.Event
		case e.gone >= n: // what replaced it is gone itself
			e.gone = 0
		}
	}
	s.rejoin(n)
	if s.Accepted >= n { // and so it is open again
		s.Accepted, s.stood = 0, session.State{}
	}
}
