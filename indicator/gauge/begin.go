package gauge

import "math"

// swings notes that the needle has moved since the wind was told, as it does while the head is swung to where it is parked.
func (a *Approach) swings(x float64) {
	if math.IsNaN(a.came) {
		a.came = x
	}
	a.swung = a.swung || math.Abs(x-a.came) > 2*a.Band
}

// Before says what the needle showed as the wind was told.
func (a *Approach) Before(v float64) { a.came = a.place(v) }

// AtStart reports whether the needle shows what it should where the wind begins.
func (a *Approach) AtStart() bool { return math.Abs(a.Value-a.Start) <= a.Room }

// Park says that the head is parked. Where the needle does not show what it should there, nobody knows how the slide came to where it
// stands, and the play has to be taken up anew.
func (a *Approach) Park() {
	if a.swung = true; !a.AtStart() {
		a.begun, a.from, a.rungWrong = true, a.place(a.Value), Over
		a.overshoot(a.from)
		a.Progress = Over
	}
}

// Began is the reading at which the needle was seen to stand as the wind began; NaN where it was not.
func (a *Approach) Began() float64 {
	if a.Rises {
		return a.Goal + a.from
	}
	return a.Goal - a.from
}

// begins notes where the needle stands still as the wind begins. While the head is swung to where it is parked the needle passes
// anything, so that what was seen before counts for nothing.
func (a *Approach) begins(still float64) {
	out := a.Past != nil && !a.turned && !a.over
	switch {
	case !a.swung, !(math.Abs(still-a.place(a.Start)) <= a.Room):
		return
	case !a.begun, out, a.Past == nil && !a.over && still < -a.near():
		a.begun, a.from, a.far = true, still, still
		a.turned, a.over, a.stood = false, false, false
	}
}

// strays reports whether the needle goes the other way from where the wind begins.
func (a *Approach) strays(x float64) bool {
	from, begin, far := a.from, a.place(a.Start), a.astray()
	if a.Progress == Astray { // left farther in than it was entered
		far /= leaves
	}
	if a.Past == nil {
		x, from, begin = -x, -from, -begin
	}
	return !a.turned && x > max(from+far, begin+a.Room-(a.astray()-far))
}
