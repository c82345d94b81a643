package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Term is one line of a reach's budget: the input's standard uncertainty, what it is multiplied with,
// and what it makes of the result.
type Term struct {
	Part        string `json:"part"`
	Input       Number `json:"input_u"`
	Sensitivity Number `json:"sensitivity"`
	U           Number `json:"u"`
	Dof         Number `json:"dof"`
}

// Swept is what a sweep that went into a reach looked like.
type Swept struct {
	Of       string    `json:"of"`
	Readings int       `json:"readings"`
	Offset   Number    `json:"offset"`
	Sigma    Number    `json:"sigma"`
	Dof      Number    `json:"dof"`
	Suspects []Outlier `json:"suspects"`
}

// Reach is the record of a way to find the reach, or the swing radius without it.
type Reach struct {
	Unit    geom.Unit        `json:"unit"`
	Method  string           `json:"method"`
	Formula string           `json:"formula"`
	Touch   *indicator.Touch `json:"touch"`
	Way     *indicator.Way   `json:"way"`
	Reach   *Value           `json:"reach"`
	Swing   *Value           `json:"swing"`
	// ReachError is the limit that stands for the reach's u95 in a job file; null where that is not known.
	ReachError Number   `json:"reach_error"`
	Sweeps     []Swept  `json:"sweeps"`
	Budget     []Term   `json:"budget"`
	Limits     *string  `json:"limits"`
	Notes      []string `json:"notes"`
}

// Notes of the reach's records.
const (
	noteSafe = "spindle off and isolated before a hand goes near it; spin and swing by hand only"
	noteOpen = "no uncertainty is known: state one for everything that was measured (--repeatability, --graduation, or the errors of " +
		"what was typed)"
	noteNoTip = "no reach is claimed: that needs the reference that the tip was swept over"
)

// NewReach puts a reach into unit u. Either length may be unknown; the budget is the reach's, or else
// the swing radius's.
func NewReach(method, formula string, touch indicator.Touch, reach, swing indicator.Measure, u geom.Unit) Reach {
	x := Reach{Unit: u, Method: method, Formula: formula, Reach: ValueOf(u, reach.Value()), Swing: ValueOf(u, swing.Value()),
		ReachError: Number(u.From(reach.Limit())), Sweeps: []Swept{}, Budget: []Term{}, Notes: []string{}}
	told := reach
	if x.Reach == nil {
		told = swing
		x.Notes = append(x.Notes, noteNoTip)
	} else {
		way := indicator.WayOf(reach.V)
		x.Touch, x.Way = &touch, &way
	}
	x.Budget, x.Limits = budgetOf(told, u)
	if told.Open {
		x.Notes = append(x.Notes, noteOpen)
	}
	return x
}

func budgetOf(m indicator.Measure, u geom.Unit) (terms []Term, limits *string) {
	terms = []Term{}
	for _, t := range m.Terms {
		terms = append(terms, Term{Part: t.Name, Input: Number(u.From(t.Input)), Sensitivity: Number(t.Sensitivity),
			U: Number(u.From(t.U)), Dof: Number(t.Dof)})
	}
	if t, ok := m.Limiting(); ok {
		w := Largest("the "+t.Name, t.Cure)
		limits = &w
	}
	return terms, limits
}

// Sweep adds what a fitted sweep looked like, and doubts what does not fit in it.
func (x Reach) Sweep(of string, f *indicator.Estimate, bearings []geom.Bearing, readings []float64) Reach {
	s, notes := newSwept(of, f, bearings, readings, x.Unit)
	x.Sweeps, x.Notes = append(x.Sweeps, s), append(x.Notes, notes...)
	return x
}

// Say adds notes; the safety words come last.
func (x Reach) Say(notes ...string) Reach {
	x.Notes = append(append(x.Notes, notes...), noteSafe)
	return x
}

// newSwept is what a sweep looked like, with the notes that it is worth.
func newSwept(of string, f *indicator.Estimate, bearings []geom.Bearing, readings []float64, u geom.Unit) (Swept, []string) {
	rec := Fit{Unit: u, Suspects: []Outlier{}}
	rec.suspects(f, bearings, readings)
	rec.shape(f, bearings, readings)
	s := Swept{of, len(readings), Number(u.From(f.Offset().V)), Number(u.From(f.Sigma)), Number(f.Dof), rec.Suspects}
	var notes []string
	for _, q := range rec.Suspects {
		n := fmt.Sprintf("%s: reading %d is off by %s %v: %s", of, q.Reading, rec.fixed(q.Residual, 0), u, SlipWords(q.Because))
		if !q.WouldBe.Unknown() {
			n += fmt.Sprintf(" then it would be %s %v", rec.fixed(q.WouldBe, 0), u)
		}
		notes = append(notes, n)
	}
	if rec.Shape != nil && rec.Shape.Significant {
		for _, n := range rec.Notes {
			notes = append(notes, of+": "+n)
		}
	}
	if w := indicator.Aliases(bearings); w != "" {
		notes = append(notes, of+": "+w)
	}
	return s, notes
}

// Text spells the record for a person.
func (x Reach) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", x.Method, x.Formula)
	if x.Reach != nil {
		fmt.Fprintf(&b, "\nreach (spindle axis to tip) %s, tip %s", x.Reach.Text(x.Unit), wayWords(x.Reach.Value))
	}
	if x.Swing != nil {
		fmt.Fprintf(&b, "\nswing radius %s, where the slide stands", x.Swing.Text(x.Unit))
	}
	writeSwept(&b, x.Sweeps, x.Unit)
	writeBudget(&b, x.Budget, x.Unit)
	if x.Limits != nil {
		fmt.Fprintf(&b, "\n%s", *x.Limits)
	}
	if x.Reach != nil {
		fmt.Fprintf(&b, "\nfor the job file, under [setup]:\n%s", x.Lines())
		var z float64
		if x.Swing != nil {
			z = float64(x.Swing.Value)
		}
		fmt.Fprintf(&b, "\n%s", Drawing(*x.Touch, float64(x.Reach.Value), z, x.Unit))
	}
	for _, n := range x.Notes {
		fmt.Fprintf(&b, "\nnote: %s", n)
	}
	return b.String()
}

// Lines are what goes into a job file in the same unit; the error is rounded up.
func (x Reach) Lines() string {
	places := geom.Places(float64(x.Reach.U95), x.Unit) + 1
	s := fmt.Sprintf("  touch = %q\n  reach = %s", x.Touch, geom.FormatFixed(float64(x.Reach.Value), places))
	if x.ReachError.Unknown() {
		return s
	}
	step := math.Pow10(-places)
	return s + "\n  reach_error = " + geom.FormatFixed(math.Ceil(float64(x.ReachError)/step-1e-6)*step, places)
}

func writeSwept(b *strings.Builder, sweeps []Swept, u geom.Unit) {
	for _, s := range sweeps {
		fmt.Fprintf(b, "\n%s: %d readings, off the axis of rotation by %s %v", s.Of, s.Readings, plain(s.Offset, u), u)
		if !s.Sigma.Unknown() {
			fmt.Fprintf(b, ", spread of one reading %s %v", plain(s.Sigma, u), u)
		}
	}
}

func writeBudget(b *strings.Builder, terms []Term, u geom.Unit) {
	if len(terms) == 0 {
		return
	}
	wide := len("standard uncertainties")
	for _, t := range terms {
		wide = max(wide, len(t.Part)+2)
	}
	fmt.Fprintf(b, "\n%-*s  input %v × factor = part %v", wide, "standard uncertainties", u, u)
	for _, t := range terms {
		fmt.Fprintf(b, "\n  %-*s  %8s × %6.3g = %7s", wide-2, t.Part, fine(t.Input, u), float64(t.Sensitivity), fine(t.U, u))
	}
}

// fine prints a standard uncertainty: tenths of a micrometre, or about the same in inches.
func fine(v Number, u geom.Unit) string {
	if u == geom.Inch {
		return geom.FormatFixed(float64(v), 6)
	}
	return geom.FormatFixed(float64(v), 5)
}

// plain prints a length that comes with no uncertainty.
func plain(v Number, u geom.Unit) string { return Fit{Unit: u}.fixed(v, 0) }

func wayWords(reach Number) string {
	switch {
	case reach > 0:
		return "away from the head axis (+)"
	case reach < 0:
		return "towards the head axis (-)"
	}
	return "under the spindle's axis"
}
