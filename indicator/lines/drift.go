package lines

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// DriftLine says that the readings drifted, and what either answer to it would give.
	DriftLine struct {
		Say   string `json:"say"`
		Trial int    `json:"trial"`
		// Change is from the first reading to the last.
		Change record.Value `json:"change"`
		AsIs   Result       `json:"as_is"`
		Evened Result       `json:"evened"`
		unit   geom.Unit
	}
	// Result is what a fit gives.
	Result struct {
		Swing  *record.Value  `json:"swing"`
		Centre *record.Centre `json:"centre"`
	}
	// EvenedLine says that the drift is taken out.
	EvenedLine struct {
		Say   string `json:"say"`
		Trial int    `json:"trial"`
	}
)

var closingAsked = told[session.ClosingAsked]{happened: func(session.ClosingAsked) string {
	return "the first station is asked for once more, to close the sweep"
}}.row()

var drifted = told[session.Drifted]{happened: func(session.Drifted) string { return "the readings drifted" }}.row()

var evened = told[session.Evened]{status: asText, lines: func(st session.Step, _ session.Evened, _ geom.Unit) []Line {
	return []Line{EvenedLine{Say: "evened", Trial: st.After.Trial}}
}}.row()

// drift says what the readings' drift would do to the result.
func drift(s *session.State, e session.Drifted, u geom.Unit) Line {
	l := DriftLine{Say: "drift", Trial: s.Trial, Change: record.Value{Value: record.Number(u.From(e.Change)), U95: record.Number(nan)},
		unit: u}
	if f, err := s.Fit(); err == nil {
		l.AsIs = result(&f, u)
	}
	if f, err := s.Drifting(); err == nil {
		l.Change, l.Evened = *record.ValueOf(u, f.Change), result(&f, u)
	}
	return l
}

func result(f *indicator.Estimate, u geom.Unit) Result {
	return Result{record.ValueOf(u, f.Swing()), record.CentreOf(u, f)}
}

// Text: see [Line].
func (l DriftLine) Text() string {
	x := record.Fit{Unit: l.unit}
	return fmt.Sprintf("the readings drifted by %s from the first to the last; as they are: %s; drift taken out: %s; even takes it out, "+
		"keep leaves it in, again sweeps anew",
		l.Change.Text(x.Unit), l.AsIs.text(x), l.Evened.text(x))
}

func (r Result) text(x record.Fit) string {
	t := ""
	if r.Swing != nil {
		t = "swing radius " + r.Swing.Text(x.Unit) + ", "
	}
	if r.Centre == nil {
		return t + "no circle"
	}
	return t + fmt.Sprintf("centre x %s, y %s", r.Centre.X.Text(x.Unit), r.Centre.Y.Text(x.Unit))
}

// Text: see [Line].
func (l EvenedLine) Text() string {
	return "the drift is taken out; the result is that of the middle of the sweep"
}
