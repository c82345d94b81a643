package check

import (
	"math"

	"example.org/trammel/indicator"
)

// Rough is an arc that is first cut with stock left on, then measured, then finished by one wind of
// the offset slide. What was unknown of swing radius and cutter is in the measured radius, and drops out
// of the wind.
type Rough struct {
	// Target is the finished radius, Stock what is to be left on it: added to a boss, taken from a hollow.
	Target, Stock float64
	Side          Side
	// Cutter is the cutter's diameter with its doubt; of Swing only the doubt counts, that of the swing radius.
	Cutter, Swing Figure
	// Learnt is what earlier arcs teach, nil for nothing. Where it talks of this side it corrects the swing
	// radius, and its doubt stands in the place of those that were stated.
	Learnt *Learnt
}

// Plan is what to rough at, and what should be found then.
type Plan struct {
	// Swing is the swing radius to set: larger than the finishing one for a boss, smaller for a hollow.
	Swing float64
	// Radius is the one to measure then, and Stock what it leaves, both with the doubt of swing and cutter.
	Radius, Stock indicator.Value
}

// Plan returns the roughing. It refuses a stock that is less than its own doubt, with a *[ShapeError]:
// the first cut could already be the last one, or worse.
func (r Rough) Plan() (Plan, error) {
	target, stock := input{name: "target radius", Figure: Figure{V: r.Target}}, input{name: "stock", Figure: Figure{V: r.Stock}}
	cutter := input{name: "cutter", Figure: r.Cutter, slope: -r.Side.sign() / 2, known: true}
	swing := input{name: "swing radius", Figure: r.Swing, slope: 1, known: true}
	if err := above(target, stock, cutter); err != nil {
		return Plan{}, err
	}
	if err := finite(swing); err != nil {
		return Plan{}, err
	}
	left := r.Target + float64(r.Side.sign()*r.Stock)
	p := Plan{Swing: left + float64(r.Side.sign()*r.Cutter.V/2)}
	if !(p.Swing > 0) {
		return p, &ShapeError{Remark{Form: "swing radius %s to rough a hollow of %s with a cutter of %s and %s left on, need above 0",
			Lengths: []float64{p.Swing, r.Target, r.Cutter.V, r.Stock}}, "take a smaller cutter, or leave less"}
	}
	a, err := arc("", "", left, cutter, swing)
	if err != nil {
		return p, err
	}
	doubt := a.Radius.Value().U
	known := cutter.doubted() || swing.doubted()
	if r.Learnt != nil {
		if c, ok := r.Learnt.Correction(r.Side); ok {
			p.Swing += c.V
			doubt, known = c.U, true
		}
	}
	switch {
	case !known:
		return p, &ShapeError{Remark{Form: "nothing is stated of how well swing radius and cutter are known, need it to see whether a " +
			"stock of %s is enough", Lengths: []float64{r.Stock}}, "state the limits of their errors"}
	case !(r.Stock > doubt):
		return p, &ShapeError{Remark{Form: "stock %s, need more than its own doubt of %s", Lengths: []float64{r.Stock, doubt}},
			"leave more on"}
	}
	p.Radius, p.Stock = indicator.Value{V: left, U: doubt}, indicator.Value{V: r.Stock, U: doubt}
	return p, nil
}

// Finish returns the change of the swing radius, and so the travel of an offset slide whose line passes
// the head axis, that the last wind has to make: the target less the measured radius, on either side of
// the metal, − for a boss and + for a hollow. wind holds the doubt of the wind itself (its V is not
// used); the uncertainty of the sum is that of the finished radius.
//
// A *[ShapeError] is returned where nothing is left to take off, or less than what is left is known to.
func (r Rough) Finish(measured indicator.Measure, wind Figure) (indicator.Measure, error) {
	w := input{name: "last wind", Figure: Figure{Limit: wind.Limit, Resolution: wind.Resolution, Repeat: wind.Repeat,
		RepeatDof: wind.RepeatDof}, slope: 1, known: true}
	if err := above(input{name: "target radius", Figure: Figure{V: r.Target}}, input{name: "measured radius",
		Figure: Figure{V: measured.V}}); err != nil {
		return indicator.Measure{}, err
	}
	if err := finite(w); err != nil {
		return indicator.Measure{}, err
	}
	own, err := arc("", "", r.Target, w)
	if err != nil {
		return indicator.Measure{}, err
	}
	travel := own.Radius.Plus(measured.Times(-1))
	left, doubt := r.Side.sign()*-travel.V, measured.Value().U
	switch {
	case !(left > 0):
		return travel, &ShapeError{Remark{Form: "measured radius %s for a target of %s with the metal " + r.Side.String() +
			": %s is left to take off, need above 0", Lengths: []float64{measured.V, r.Target, left}},
			"check the side of the metal; what is gone cannot be put back"}
	case math.IsNaN(doubt):
		return travel, &ShapeError{Remark{Form: "the uncertainty of the measured radius %s is not known, need it to see whether %s is left",
			Lengths: []float64{measured.V, left}}, "state how finely it was measured"}
	case !(left > doubt):
		return travel, &ShapeError{Remark{Form: "%s is left to take off, need more than its own doubt of %s",
			Lengths: []float64{left, doubt}}, "measure it better, by another way or a finer tool"}
	}
	return travel, nil
}
