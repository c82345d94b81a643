package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Fit is the one record of a fit: of the verb fit, and of every closed sweep.
type Fit struct {
	Unit     geom.Unit       `json:"unit"`
	Setup    indicator.Kind  `json:"setup"`
	Touch    indicator.Touch `json:"touch"`
	Readings int             `json:"readings"`
	Radius   *Value          `json:"radius"`
	Swing    *Value          `json:"swing"`
	Centre   *Centre         `json:"centre"`
	Offset   Number          `json:"offset"`
	Bearing  Number          `json:"bearing"`
	// Along is the centre's part along one line, all that two opposite readings say; nil where the centre is found.
	Along *Along `json:"along,omitempty"`
	// Table is the table angle, degrees, at which a centre that is off lies towards the indicator; nil
	// where no table is turned.
	Table *Number `json:"table,omitempty"`
	// Ring is what the ring shows, degrees, towards a centre that is off, where it shows something else than the bearing or
	// places are told by it; else nil.
	Ring      *Number       `json:"ring,omitempty"`
	Sigma     Number        `json:"sigma"`
	Dof       Number        `json:"dof"`
	Residuals Many          `json:"residuals"`
	Suspects  []Outlier     `json:"suspects"`
	Shape     *Shape        `json:"shape"`
	Drift     *Value        `json:"drift,omitempty"`
	Collinear *Collinearity `json:"tangled,omitempty"`
	Roundness *Roundness    `json:"roundness"`
	Budget    []Part        `json:"budget"`
	Limits    *string       `json:"limits"`
	Verdict   Verdict       `json:"verdict"`
	Assumed
	Notes []string `json:"notes"`
}

// Centre is the centre error e = C − A.
type Centre struct {
	X Value `json:"x"`
	Y Value `json:"y"`
}

// CentreOf is a centre in unit u: a sweep's, or one in the frame of the readouts; nil where it is not known.
func CentreOf(u geom.Unit, c interface {
	CentreX() indicator.Value
	CentreY() indicator.Value
}) *Centre {
	x, y := ValueOf(u, c.CentreX()), ValueOf(u, c.CentreY())
	if x == nil || y == nil {
		return nil
	}
	return &Centre{*x, *y}
}

// towards prints one to a tenth of a degree; a full turn is 0.
func towards(deg Number) string { return Degrees(math.Mod(RoundTo(float64(deg), 1), 360)) }

// way says towards where a centre that is off lies, by the ring where one is known: the hand finds nothing by the rest.
func (x Fit) way() string {
	switch {
	case x.Ring != nil && x.Table != nil:
		return fmt.Sprintf(": towards the indicator with the table at ring %s", towards(*x.Ring))
	case x.Ring != nil:
		return fmt.Sprintf(" towards %s (ring %s)", towards(x.Bearing), towards(*x.Ring))
	case x.Table != nil:
		return fmt.Sprintf(" towards %s of the table: towards the indicator at table angle %s", towards(x.Bearing), towards(*x.Table))
	}
	return " towards " + towards(x.Bearing)
}

// Outlier is a reading that does not fit the others.
type Outlier struct {
	Reading  int             `json:"reading"`
	Residual Number          `json:"residual"`
	Because  indicator.Cause `json:"because"`
	WouldBe  Number          `json:"would_be"`
}

// Shape is what the reference itself departs from a circle by.
type Shape struct {
	TwoLobe     Number `json:"two_lobe"`
	ThreeLobe   Number `json:"three_lobe"`
	Significant bool   `json:"significant"`
}

// Part is one line of the radius budget: a standard uncertainty, and its degrees of freedom, null
// where it comes from a stated limit.
type Part struct {
	Part string `json:"part"`
	U    Number `json:"u"`
	Dof  Number `json:"dof"`
}

// Verdict is the pair of verdicts.
type Verdict struct {
	Radius indicator.Verdict `json:"radius"`
	Centre indicator.Verdict `json:"centre"`
}

// Notes that a record may carry.
const (
	noteNoSpread = "three readings leave nothing to judge the spread by, so no uncertainty is known: take a fourth, or state the dial's " +
		"repeatability"
	noteTrembling = "how much the needle trembles while it stands still does not say how well a place is found again: state repeatability, " +
		"or take a fourth reading"
	noteTrembles = "the readings lie closer to the circle than the needle trembles, so their spread is taken to be that of the cable " +
		"indicator's samples, %.2g %v; what it really is, swing and hand included, repeatability states"
	noteNoSwing  = "no radius is claimed: that needs the reference's radius and the reach, or the zero radius"
	noteNoReach  = "no swing radius is claimed: that needs the reach"
	noteNoOffset = "the centre error is zero and points nowhere"
	noteNoShape  = "too few stations to show the reference's form: oval needs 6 spread round it, three-lobed needs 8"
	noteMany     = "more than %d readings are not searched for misreads or for the reference's form: suspects is empty and shape null"
	noteNoThree  = "too few stations to show a three-lobed reference: that needs 8 spread round it"
	noteOval     = "the reference looks out of round: oval by %s %v"
	noteThree    = "the reference looks squeezed by three jaws: three-lobed by %s %v"
)

// NewFit puts a fitted sweep and what it proves into unit u. bearings and readings are those that
// were fitted, and l what they lean on.
func NewFit(f *indicator.Estimate, bearings []geom.Bearing, readings []float64, v indicator.Verdicts, l Leans, u geom.Unit) Fit {
	x := Fit{
		Unit: u, Setup: f.Setup.Kind, Touch: f.Setup.Touch, Readings: len(readings),
		Radius: ValueOf(u, f.Radius()), Swing: ValueOf(u, f.Swing()),
		Centre:    CentreOf(u, f),
		Offset:    Number(u.From(f.Offset().V)),
		Bearing:   Number(f.Circle.Centre.Bearing().Degrees360()),
		Sigma:     Number(u.From(f.Sigma)),
		Dof:       Number(f.Dof),
		Residuals: make(Many, len(readings)),
		Suspects:  []Outlier{},
		Budget:    []Part{},
		Verdict:   Verdict{v.Radius, v.Centre},
		Assumed:   AssumedOf(l, v, u),
		Notes:     []string{},
	}
	for i, b := range bearings {
		x.Residuals[i] = Number(u.From(f.Residual(b, readings[i])))
	}
	switch {
	case x.Swing == nil && x.Radius == nil && f.Setup.ReferenceRadius == 0:
		x.Notes = append(x.Notes, noteNoSwing)
	case x.Swing == nil && x.Radius == nil:
		x.Notes = append(x.Notes, noteNoReach)
	}
	if f.Dof <= 0 {
		x.Notes = append(x.Notes, noteNoSpread)
		if f.Dial.Trembling > 0 {
			x.Notes = append(x.Notes, noteTrembling)
		}
	}
	if f.Trembles() {
		x.Notes = append(x.Notes, fmt.Sprintf(noteTrembles, u.From(f.Dial.Trembling), u))
	}
	x.driftNote(f)
	x.arcNotes(f, bearings, readings)
	// Below what is written the offset is zero, and where it points is noise.
	if math.Abs(float64(x.Offset)) < smallest/2 {
		x.Offset, x.Bearing = 0, Number(nan)
		x.Notes = append(x.Notes, noteNoOffset)
	}
	if f.Setup.Kind.Turns() && !x.Bearing.Unknown() {
		at := Degrees360(f.Setup.Stands(f.Circle.Centre.Bearing()))
		x.Table = &at
	}
	if w := indicator.Aliases(bearings); w != "" {
		x.Notes = append(x.Notes, w)
	}
	x.budget(f, l.On)
	if len(readings) > fit.MaxScreen {
		x.Notes = append(x.Notes, fmt.Sprintf(noteMany, fit.MaxScreen))
		return x
	}
	x.suspects(f, bearings, readings)
	x.shape(f, bearings, readings)
	return x
}

// budget lists what the radius's uncertainty is made of, and what limits it now.
func (x *Fit) budget(f *indicator.Estimate, on indicator.Assumed) {
	for _, p := range f.Budget() {
		x.Budget = append(x.Budget, Part{Part: p.Name, U: Number(x.Unit.From(p.U)), Dof: Number(p.Dof)})
	}
	if w := LimitWords(f, on); w != "" {
		x.Limits = &w
	}
}

// Largest names the largest error, and what would lessen it.
func Largest(what, cure string) string { return largest + what + "; " + cure }

const largest = "largest error: "

// LimitWords names the largest error of the radius, and the cheapest cure; empty where no radius is claimed. What it leans on
// that nobody has stated stands first.
func LimitWords(f *indicator.Estimate, on indicator.Assumed) string {
	p, beyond, ok := f.Limiting()
	w := ""
	switch {
	case !ok:
		return ""
	case beyond:
		w = Largest("the "+p.Name, "more readings cannot help: "+p.Cure)
	default:
		w = Largest("the readings' spread", p.Cure)
	}
	return LimitsAssumed(on, w)
}

// suspects lists the readings that do not fit the others.
func (x *Fit) suspects(f *indicator.Estimate, bearings []geom.Bearing, readings []float64) {
	for _, s := range f.Suspects(bearings, readings) {
		x.Suspects = append(x.Suspects, Outlier{s.Index + 1, Number(x.Unit.From(s.Residual)), s.Because, Number(x.Unit.From(s.WouldBe))})
	}
}

// shape says what the reference departs from a circle by, where the stations can show it.
func (x *Fit) shape(f *indicator.Estimate, bearings []geom.Bearing, readings []float64) {
	s := f.Shape(bearings, readings)
	if math.IsNaN(s.Two) {
		x.Notes = append(x.Notes, noteNoShape)
		return
	}
	x.Shape = &Shape{Number(x.Unit.From(s.Two)), Number(x.Unit.From(s.Three)), s.TwoIs || s.ThreeIs}
	note := func(is bool, form string, v Number) {
		if is {
			x.Notes = append(x.Notes, fmt.Sprintf(form, x.fixed(v, v), x.Unit))
		}
	}
	if math.IsNaN(s.Three) {
		x.Notes = append(x.Notes, noteNoThree)
	}
	note(s.TwoIs, noteOval, x.Shape.TwoLobe)
	note(s.ThreeIs, noteThree, x.Shape.ThreeLobe)
}

// FailedFit is the record of a sweep that no circle fits.
func FailedFit(s indicator.Setup, n int, err error, u geom.Unit) Fit {
	notes := []string{}
	if err != nil {
		notes = append(notes, err.Error())
	}
	return Fit{Unit: u, Setup: s.Kind, Touch: s.Touch, Readings: n, Offset: Number(nan), Bearing: Number(nan), Sigma: Number(nan),
		Residuals: Many{}, Suspects: []Outlier{}, Budget: []Part{}, Verdict: Verdict{indicator.Undecided, indicator.Undecided},
		Assumed: AssumedOf(NoLeans, indicator.Verdicts{}, u), Notes: notes}
}

// CarriedOver puts what is said of a radius that the sweep need not show in the place of what is needed to see one.
func (x *Fit) CarriedOver(words []string) {
	if i := slices.Index(x.Notes, noteNoReach); i >= 0 {
		x.Notes = slices.Replace(x.Notes, i, i+1, words...)
	}
}

// Text spells the record for a person.
func (x Fit) Text() string {
	var b strings.Builder
	names := [...]string{"surface radius", "spread of one reading"}
	if x.Setup.Pair() {
		names = [...]string{"radius", "spread of one point"}
		fmt.Fprintf(&b, "%d points", x.Readings)
	} else {
		fmt.Fprintf(&b, "%d readings, %v", x.Readings, x.Touch)
	}
	value := func(name string, v *Value) {
		if v != nil {
			fmt.Fprintf(&b, "\n%s %s", name, v.Text(x.Unit))
		}
	}
	if x.Along != nil {
		fmt.Fprintf(&b, "\ncentre along %s: %s; across not known", Degrees(RoundTo(float64(x.Along.Bearing), 1)),
			Value{x.Along.Value, x.Along.U95}.Text(x.Unit))
	}
	value(names[0], x.Radius)
	value("swing radius", x.Swing)
	if x.Centre != nil {
		value("centre x", &x.Centre.X)
		value("centre y", &x.Centre.Y)
	}
	if x.Centre != nil && !x.Setup.Pair() { // coordinates have no axis to be off
		fmt.Fprintf(&b, "\ncentre off by %s %v", x.fixed(x.Offset, x.Centre.X.U95), x.Unit)
		if !x.Bearing.Unknown() {
			b.WriteString(x.way())
		}
	}
	if !x.Sigma.Unknown() {
		fmt.Fprintf(&b, "\n%s %s %v", names[1], x.fixed(x.Sigma, x.Sigma), x.Unit)
	}
	if x.Verdict.Radius != indicator.NoVerdict || x.Verdict.Centre != indicator.NoVerdict {
		fmt.Fprintf(&b, "\nradius %s, centre %s", x.Verdict.Radius.Words(), x.Verdict.Centre.Words())
		for _, w := range x.ifs {
			b.WriteString("\n" + w)
		}
	}
	if len(x.Budget) > 1 {
		b.WriteString("\nradius, standard uncertainties:")
		for _, p := range x.Budget {
			fmt.Fprintf(&b, " %s %s,", p.Part, x.fixed(p.U, p.U))
		}
		fmt.Fprintf(&b, " in %v", x.Unit)
	}
	if x.Limits != nil {
		fmt.Fprintf(&b, "\n%s", *x.Limits)
	}
	for _, s := range x.Suspects {
		fmt.Fprintf(&b, "\nreading %d is off by %s %v: %s", s.Reading, x.fixed(s.Residual, 0), x.Unit, SlipWords(s.Because))
		if s.Because == indicator.FormCause {
			b.WriteString(": read it again")
		}
		if !s.WouldBe.Unknown() {
			fmt.Fprintf(&b, " then it would be %s %v", x.fixed(s.WouldBe, 0), x.Unit)
		}
	}
	if x.Roundness != nil {
		b.WriteString(x.Roundness.text(x.Unit))
	}
	for _, n := range x.Notes {
		fmt.Fprintf(&b, "\nnote: %s", n)
	}
	return b.String()
}

// fixed prints a number to the places that an uncertainty in the same unit allows.
func (x Fit) fixed(v, u Number) string {
	return geom.FormatFixed(float64(v), geom.Places(float64(u), x.Unit))
}

// SlipWords asks whether a reading came from the slip that is named.
func SlipWords(c indicator.Cause) string {
	switch c {
	case indicator.Revolution:
		return "one revolution of the needle?"
	case indicator.TenDivisions:
		return "ten divisions?"
	case indicator.SignTurned:
		return "plus for minus?"
	case indicator.Swapped:
		return "entered in its neighbour's place?"
	case indicator.FormCause:
		return "a reading or the ring"
	case indicator.UnknownCause, indicator.NoCause:
	}
	return "more than chance allows"
}

// driftNote says in a fit's record that a drift is taken out of it.
func (x *Fit) driftNote(f *indicator.Estimate) {
	if f.Change.Known() && !math.IsNaN(f.Dof) {
		x.Drift = ValueOf(x.Unit, f.Change)
		x.Notes = append(x.Notes, fmt.Sprintf("a steady drift of %s from the first reading to the last is taken out", x.Drift.Text(x.Unit)))
	}
}
