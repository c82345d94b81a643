package indicator

import "math"

// NullReference returns the radius of the reference on which the dial reads zero at a swing radius,
// bore and boss alike: ρ = R + t. There the errors of the lever and of the dial's scale vanish.
func NullReference(swing, reach float64) float64 { return swing + reach }

// NullReach returns the reach with which the dial reads zero on a reference at a swing radius:
// t = ρ − R.
func NullReach(swing, reference float64) float64 { return reference - swing }

// Gauge is what the dial would show on a reference at hand.
type Gauge struct {
	// Radius is the reference's, Reading the reading at the target, Reach the reach to set for zero
	// there; all millimetres.
	Radius, Reading, Reach float64
	// Off says that the dial cannot show the reading.
	Off bool
}

// Gauges returns what the dial shows at the target swing radius on each of the references at hand, in
// their order, and which of those it can show stands nearest to zero: −1 where it can show none.
//
//	bore:  m = (R + t − ρ)/g        boss:  m = (ρ − R − t)/g
func (d Dial) Gauges(t Touch, swing, reach float64, radii []float64) (all []Gauge, best int) {
	best = -1
	for i, rho := range radii {
		g := Gauge{Radius: rho, Reading: t.sign() * (rho - NullReference(swing, reach)) / d.Gain(), Reach: NullReach(swing, rho)}
		g.Off = d.Check(g.Reading) != nil
		if all = append(all, g); !g.Off && (best < 0 || math.Abs(g.Reading) < math.Abs(all[best].Reading)) {
			best = i
		}
	}
	return all, best
}
