package indicator

import "math"

// Term is one line of a [Measure]'s budget: Part.U is what the input's standard uncertainty Input
// makes of the result, |Sensitivity| times it. All lengths are millimetres, and sensitivities
// millimetres per millimetre.
type Term struct {
	Part
	Input, Sensitivity float64
}

// Measure is a length with its budget, millimetres.
type Measure struct {
	V     float64
	Terms []Term
	// Open says that the uncertainty of something measured is not known, and so neither is that of V.
	Open bool
}

// unmeasured is a length that is not known.
var unmeasured = Measure{V: math.NaN(), Open: true}

// Input is something that a [Measure] is worked out from.
type Input struct {
	Name string
	// U is the standard uncertainty of the input, millimetres, and Dof how well it is known; +Inf for what
	// comes from a stated limit.
	U, Dof float64
	// Sensitivity is the result's derivative by the input.
	Sensitivity float64
	// Cure says what would make U smaller.
	Cure string
}

// Add appends a line to the budget, unless its input is exact.
func (m *Measure) Add(x Input) {
	if x.U > 0 {
		part := Part{Name: x.Name, U: math.Abs(x.Sensitivity) * x.U, Dof: x.Dof, Cure: x.Cure}
		m.Terms = append(m.Terms, Term{Part: part, Input: x.U, Sensitivity: x.Sensitivity})
	}
}

// Times returns c·m.
func (m Measure) Times(c float64) Measure {
	out := Measure{V: c * m.V, Open: m.Open}
	for _, t := range m.Terms {
		t.U, t.Sensitivity = math.Abs(c)*t.U, c*t.Sensitivity
		out.Terms = append(out.Terms, t)
	}
	return out
}

// Plus returns the sum of lengths that share no input.
func (m Measure) Plus(n Measure) Measure {
	out := Measure{V: m.V + n.V, Open: m.Open || n.Open}
	out.Terms = append(append(out.Terms, m.Terms...), n.Terms...)
	return out
}

// Known reports whether there is a number at all.
func (m Measure) Known() bool { return !math.IsNaN(m.V) }

// Value returns the length with its expanded uncertainty (95 %).
func (m Measure) Value() Value {
	if m.Open || !m.Known() {
		return Value{m.V, math.NaN()}
	}
	return Value{m.V, m.budget().expanded()}
}

func (m Measure) budget() Budget {
	out := make(Budget, len(m.Terms))
	for i, t := range m.Terms {
		out[i] = t.Part
	}
	return out
}

// Limit returns the limit of error that stands for the expanded uncertainty where a file asks for a
// limit: taken as the half-width of a rectangular distribution it leads back to the same U, whatever
// the degrees of freedom: U·√3/1.96. NaN where U is not known. A single rectangular part is held always, for its U is
// 1.96/√3 of its limit; the 95 % of a reach are proven where several parts are of one size.
func (m Measure) Limit() float64 {
	return m.Value().U / Budget{{U: FromLimit(1), Dof: math.Inf(1)}}.expanded()
}

// Limiting returns the largest line of the budget: what is worth working on.
func (m Measure) Limiting() (t Term, ok bool) {
	for _, x := range m.Terms {
		if x.U > t.U {
			t, ok = x, true
		}
	}
	return t, ok
}
