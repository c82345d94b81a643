package record

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
)

// Finished is the record of a finished arc that was measured.
type Finished struct {
	Unit    geom.Unit `json:"unit"`
	Way     string    `json:"way"`
	Formula string    `json:"formula"`
	// Radius is null where gauges gave no more than bounds; Error is it less the target.
	Radius  *Value            `json:"radius"`
	Bounds  *Bounds           `json:"bounds"`
	Error   Number            `json:"error"`
	Verdict indicator.Verdict `json:"verdict"`
	Cutter  *CutterFound      `json:"cutter"`
	Learnt  *Learnt           `json:"learnt"`
	// Travel is what the last wind of the offset slide has to do, where stock was left on.
	Travel *Value  `json:"travel"`
	Budget []Term  `json:"budget"`
	Limits *string `json:"limits"`
	Assumed
	Notes []string `json:"notes"`
	on    indicator.Assumed
}

// Bounds are what gauges say of a radius; null where they say nothing.
type Bounds struct {
	Above Number `json:"above"`
	Below Number `json:"below"`
}

// CutterFound is the diameter that the cutter must have cut, the swing radius taken as it was set.
type CutterFound struct {
	Effective Value `json:"effective_diameter"`
	// Nominal is what it was taken to be, null where that is not said.
	Nominal Number `json:"nominal"`
}

// Learnt is what the arc teaches: what the next swing radius is to be set larger by on the same side of
// the metal and, where it may be said, on the other; and the two errors that make it, as far as they
// are told apart.
type Learnt struct {
	SameSide    *Value `json:"same_side"`
	OtherSide   *Value `json:"other_side"`
	SwingError  Value  `json:"swing_error"`
	CutterError Value  `json:"cutter_error"`
	// Fits says that the arc agrees with the limits that were stated; what does not is not learnt from.
	Fits bool `json:"fits"`
}

// Notes of a checked arc.
const (
	noteAtRest  = "spindle off and isolated before a hand or a gauge goes near the work"
	noteNoDoubt = "no uncertainty is known, so no verdict is given: state what the work was measured to (--error, --resolution or " +
		"--repeatability)"
	noteSameSide = "the cutter's figure carries the swing radius's error: it serves arcs with the metal on the same side only"
	noteApart    = "one arc cannot tell the swing radius's error from the cutter's: for the other side of the metal check an arc there, " +
		"fed back as the wrong one it comes out double"
	noteStocked  = "stock is still on: no verdict"
	noteNoFigure = "a gauge against the light says larger or smaller, and no figure"
)

// NewFinished puts a measured arc into unit u.
func NewFinished(a *check.Arc, u geom.Unit) Finished {
	x := Finished{Unit: u, Way: a.Way, Formula: a.Formula, Radius: ValueOf(u, a.Radius.Value()), Error: Number(nan), Notes: []string{}}
	x.Budget, x.Limits = budgetOf(a.Radius, u)
	x.leanOn(a.Assumed)
	if w := LimitsAssumed(x.on, text(x.Limits)); w != "" {
		x.Limits = &w
	}
	x.remark(a.Remarks)
	if a.Radius.Open {
		x.Notes = append(x.Notes, noteNoDoubt)
	}
	return x
}

// text is what a pointer points to, empty for nil.
func text(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

// leanOn adds figures that nobody has stated to those that the answer leans on.
func (x *Finished) leanOn(on indicator.Assumed) {
	x.on = append(x.on[:len(x.on):len(x.on)], on...)
	x.Exact, x.Room = x.on.Names(), Room{Number(nan), Number(nan)}
}

// judged says what the verdict leaves for them, millimetres.
func (x *Finished) judged(room float64) {
	l := Leans{x.on, indicator.Room{Radius: room, Centre: nan}}
	x.Assumed = AssumedOf(l, indicator.Verdicts{Radius: x.Verdict}, x.Unit)
}

// Unsaid adds a figure that the cutter's size or the last wind leans on and that nobody has stated.
func (x Finished) Unsaid(on indicator.Assumed) Finished {
	room := x.Room
	x.leanOn(on)
	x.Room = room
	x.Notes = append(x.Notes, unsaid(on)...)
	return x
}

// unsaid are notes of figures that nobody has stated.
func unsaid(on indicator.Assumed) (notes []string) {
	for i := range on {
		notes = append(notes, nobody(on[i:i+1])+": state its limit ("+on[i].Key+")")
	}
	return notes
}

func (x *Finished) remark(all []check.Remark) {
	for _, r := range all {
		x.Notes = append(x.Notes, r.In(x.Unit))
	}
}

// NewGauged puts what gauges say into unit u. A tolerance of 0 asks for no verdict.
func NewGauged(b check.Bounds, target, tolerance float64, u geom.Unit) Finished {
	x := Finished{Unit: u, Way: "gauge", Formula: b.In(u), Bounds: &Bounds{Number(u.From(b.Above)), Number(u.From(b.Below))},
		Error: Number(nan), Budget: []Term{}, Notes: []string{noteNoFigure}}
	if tolerance > 0 {
		x.Verdict = b.Judge(target, tolerance)
	}
	x.leanOn(b.Assumed)
	if tolerance > 0 {
		x.judged(b.Room(target, tolerance))
	}
	return x
}

// Against judges the arc by a target, all millimetres.
func (x Finished) Against(a *check.Arc, target, tolerance float64) Finished {
	off, verdict, why := a.Judge(target, tolerance)
	x.Error, x.Verdict = Number(x.Unit.From(off.V)), verdict
	x.judged(a.Room(target, tolerance))
	x.remark(why)
	return x
}

// Cut adds the cutter's effective diameter; nominal is 0 where it is not said. Millimetres.
func (x Finished) Cut(effective indicator.Measure, nominal float64) Finished {
	x.Cutter = &CutterFound{*ValueOf(x.Unit, effective.Value()), Number(nan)}
	if nominal > 0 {
		x.Cutter.Nominal = Number(x.Unit.From(nominal))
	}
	x.Notes = append(x.Notes, noteSameSide)
	return x
}

// Teach adds what was learnt from the arc, with the metal on side s.
func (x Finished) Teach(l *check.Learnt, f check.Fits, s check.Side) Finished {
	value := func(v indicator.Value) Value { return *ValueOf(x.Unit, v) }
	t := Learnt{SwingError: value(l.SwingError()), CutterError: value(l.CutterError()), Fits: f.Taken}
	side := func(s check.Side) *Value {
		if c, ok := l.Correction(s); ok {
			return ValueOf(x.Unit, c)
		}
		return nil
	}
	t.SameSide, t.OtherSide = side(s), side(s.Other())
	x.Learnt = &t
	switch {
	case !f.Taken:
		x.Notes = append(x.Notes, check.Remark{Form: "the arc lies %s from what swing radius and cutter make, more than the %s that all " +
			"doubts allow: measured wrong, or a limit stated too tight; nothing is learnt from it",
			Lengths: []float64{f.Off, f.Band}}.In(x.Unit))
	case t.OtherSide == nil:
		x.Notes = append(x.Notes, noteApart)
	}
	return x
}

// Left says that stock is still on, and what the last wind has to do.
func (x Finished) Left(travel indicator.Measure) Finished {
	x.Travel, x.Verdict = ValueOf(x.Unit, travel.Value()), indicator.NoVerdict
	x.Notes = append(x.Notes, noteStocked)
	return x
}

// Say adds notes; the safety words come last.
func (x Finished) Say(notes ...string) Finished {
	x.Notes = append(append(x.Notes, notes...), noteAtRest)
	return x
}

// Text spells the record for a person.
func (x Finished) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", x.Way, x.Formula)
	if x.Radius != nil {
		fmt.Fprintf(&b, "\nradius %s", x.Radius.Text(x.Unit))
	}
	if !x.Error.Unknown() {
		places := geom.Places(float64(x.Radius.U95), x.Unit)
		fmt.Fprintf(&b, "\noff the target by %s %v", geom.FormatSigned(float64(x.Error), places), x.Unit)
	}
	if x.Verdict != indicator.NoVerdict {
		b.WriteString("\n" + x.RadiusWords())
	}
	if x.Travel != nil {
		fmt.Fprintf(&b, "\nlast wind: swing radius %s", signedIn(x.Unit, *x.Travel))
	}
	if x.Cutter != nil {
		fmt.Fprintf(&b, "\ncutter: cuts as %s", x.Cutter.Effective.Text(x.Unit))
		if !x.Cutter.Nominal.Unknown() {
			fmt.Fprintf(&b, ", taken as %s %v", plain(x.Cutter.Nominal, x.Unit), x.Unit)
		}
	}
	if x.Learnt != nil {
		b.WriteString(x.Learnt.text(x.Unit))
	}
	writeBudget(&b, x.Budget, x.Unit)
	if x.Limits != nil {
		fmt.Fprintf(&b, "\n%s", *x.Limits)
	}
	return b.String() + noteLines(x.Notes)
}

func (l Learnt) text(u geom.Unit) string {
	var b strings.Builder
	for _, s := range []struct {
		name string
		v    *Value
	}{{"on this side of the metal", l.SameSide}, {"on the other side of the metal", l.OtherSide}} {
		if s.v != nil {
			fmt.Fprintf(&b, "\nnext swing radius %s: set it other by %s", s.name, signedIn(u, *s.v))
		}
	}
	return b.String()
}

// signedIn is measuredIn with a sign on either kind of number.
func signedIn(u geom.Unit, v Value) string {
	s := v.Text(u)
	if math.Signbit(float64(v.Value)) || strings.HasPrefix(s, "-") {
		return s
	}
	return "+" + s
}

// Roughing is what to rough an arc at.
type Roughing struct {
	Unit   geom.Unit `json:"unit"`
	Way    string    `json:"way"`
	Swing  Number    `json:"swing"`
	Radius Value     `json:"radius"`
	Stock  Value     `json:"stock"`
	Assumed
	Notes []string `json:"notes"`
}

// NewRoughing puts a plan into unit u; on are the figures that it leans on and nobody has stated.
func NewRoughing(p check.Plan, on indicator.Assumed, u geom.Unit) Roughing {
	leans := AssumedOf(Leans{on, indicator.NoRoom}, indicator.Verdicts{}, u)
	return Roughing{u, "rough", Number(u.From(p.Swing)), *ValueOf(u, p.Radius), *ValueOf(u, p.Stock), leans, append(unsaid(on),
		"then measure the arc, and check it again with --stock: it says the last wind",
		"lock all but the offset slide, and wind it in its take-up way: the last wind counts from where it stands",
		noteAtRest,
	)}
}

// Text spells the record for a person.
func (x Roughing) Text() string {
	return fmt.Sprintf("rough at swing radius %s %v\nradius to be measured then %s\nstock left on %s",
		plain(x.Swing, x.Unit), x.Unit, x.Radius.Text(x.Unit), x.Stock.Text(x.Unit)) + noteLines(x.Notes)
}
