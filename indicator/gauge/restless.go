package gauge

import (
	"fmt"
	"math"
	"time"

	"example.org/trammel/geom"
)

// restless finds a needle that goes nowhere and never comes to rest, by how much it trembles: a machine beside that runs, or a range that
// is stated too narrow. It is told once.
type restless struct {
	since      time.Time // it goes nowhere; zero where nobody knows
	mean       float64   // where it was then, millimetres
	over, need float64   // the sums of what the windows since then range over, and of the range that each wants to stand still in
	windows    int
	told       bool
}

// restlessAfter is for how long it has to go nowhere (common practice, no source: nobody holds a handle so still for as long).
const restlessAfter = 10 * time.Second

// look takes in a window behind a sample.
func (r *restless) look(w *window, still bool, within float64, at time.Time) {
	switch {
	case still:
		*r = restless{told: r.told}
		return
	case r.since.IsZero() || math.Abs(w.mean-r.mean) > max(within, w.over):
		*r = restless{since: at, mean: w.mean, told: r.told}
	}
	r.over, r.need, r.windows = r.over+w.over, r.need+w.over+tremble*w.trembling, r.windows+1
}

// Restless is told of a needle that goes nowhere and does not come to rest; millimetres.
type Restless struct {
	By     float64 // it trembles, on an average
	Within float64 // the range that is stated
	Wants  float64 // one in which it would stand still half of the time at least
	Most   float64 // the widest that the dial lets stand
}

// tell returns what is to be told; nil for nothing.
func (r *restless) tell(within, most float64, now time.Time) *Restless {
	if r.told || r.since.IsZero() || now.Sub(r.since) < restlessAfter {
		return nil
	}
	n := float64(r.windows)
	if r.need/n <= within { // it is just about to
		return nil
	}
	r.told = true
	return &Restless{r.over / n, within, r.need / n, most}
}

// In says it with lengths in a unit, and what to do. What is to be stated is rounded up to one figure.
func (r *Restless) In(u geom.Unit) (because, hint string) {
	wants := u.From(r.Wants)
	step := math.Pow(10, math.Floor(math.Log10(wants)))
	wants = math.Ceil(wants/step-rounding) * step
	hint = fmt.Sprintf("state within = %.2g (trammel gauge, or [gauge] in the machine file), or type the reading", wants)
	if u.MM(wants) > r.Most+rounding {
		hint = "see what shakes it, or type the reading"
	}
	return fmt.Sprintf("it trembles by %.2g %v and goes nowhere, more than within = %.4g", u.From(r.By), u, u.From(r.Within)), hint
}

// Restless returns once what is to be told of a needle that does not come to rest; nil for nothing.
func (r *Reader) Restless(now time.Time) *Restless {
	if r.Mode != Stream {
		return nil
	}
	return r.restless.tell(r.means.Within, mostWithin(r.means.Division, r.means.Most), now)
}
