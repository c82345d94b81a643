package gauge

import "math"

// Wanted is what a wind under the needle asks for: readings, and lengths of them, millimetres.
type Wanted struct {
	// Start is where the needle stands before the wind, give or take Room.
	Start, Room float64
	// Parked says that the head stands where the wind begins already; else the needle is seen there only once it has moved since the
	// wind was told, or [Approach.Park] says so.
	Parked bool
	// Past is the turning point: the slide is wound off until the needle is past it, and comes up to its goal from there, so that
	// the play is taken up; nil where it comes up at once.
	Past *float64
	Goal float64
	// Rises says that the needle rises as the slide comes up.
	Rises bool
	// Band is how far beside its goal it has arrived, ±, and Near from how far before that it is said to come.
	Band, Near float64
	// Back is past where the slide is wound off again once it was wound too far; Past, where there is one.
	Back float64
	// Locks is how far beside its goal the lock may move the needle that arrived; 0 where nothing is locked.
	Locks float64
	// From and To are the ends of the dial; both 0 where it has none.
	From, To float64
	// Revolution is one turn of the needle; 0 where that is not known.
	Revolution float64
}

// Progress is how far such a wind has come.
type Progress uint8

const (
	// Unseen: the needle has not yet stood still where the wind begins.
	Unseen Progress = iota
	// Ready: it stands there.
	Ready
	// Astray: it goes the other way.
	Astray
	// Outward: on its way to the turning point.
	Outward
	// Turning: past it.
	Turning
	// Coming: on its way to the goal.
	Coming
	// Close: nearly there.
	Close
	// There: at the goal, and not known to stand still.
	There
	// Stands: at the goal, and standing still.
	Stands
	// Moved: it had stood there, and stands beside it now, as a lock moves it.
	Moved
	// Over: past the goal, by the hand or while the line was gone; the play has to be taken up anew.
	Over
	// Beyond: off the dial.
	Beyond
)

var progressWords = [...]string{
	Unseen:  "unseen",
	Ready:   "ready",
	Astray:  "astray",
	Outward: "outward",
	Turning: "turning",
	Coming:  "coming",
	Close:   "close",
	There:   "there",
	Stands:  "stands",
	Moved:   "moved",
	Over:    "over",
	Beyond:  "beyond",
}

func (p Progress) String() string { return progressWords[p] }

// Approach watches the needle through one wind. What it says holds still at the edges: a state is left farther out than it was
// entered, what a single sample shows neither passes the turning point nor overshoots, and each bell sounds once on each way up.
type Approach struct {
	Wanted
	// Progress is how far it has come, Value the needle's last figure, and Has says that one has come.
	Progress Progress
	Value    float64
	Has      bool

	came   float64 // the place that was seen first; NaN where none was
	swung  bool    // it has moved from there, or need not
	begun  bool    // the needle has stood where the wind begins, or has been past the turning point
	from   float64 // where it stood then
	turned bool    // it has been past the turning point, as often as it must
	over   bool    // it was past the goal since
	stood  bool    // it has stood at the goal, and what locks is locked now
	gone   bool    // the line was
	before float64 // the place at which it was seen last

	far       float64 // the place farthest off since it began, or had to turn back, and since it turned
	turns     int     // how many samples in a row are past the turning point,
	overs     int     // and past the goal
	rungNear  bool
	rungThere bool
	rungWrong Progress // it was heard for
}

// NewApproach begins with a wind.
func NewApproach(w Wanted) Approach {
	if w.Past != nil {
		w.Back = *w.Past
	}
	return Approach{Wanted: w, came: math.NaN(), from: math.NaN(), swung: w.Parked}
}

const (
	// leaves is how many times as far out a state is left as it was entered.
	leaves = 1.5
	// passing is how many samples in a row are past the turning point, and overshot past the goal, before that counts: a spike is
	// one.
	passing, overshot = 2, 3
)

// place is where a reading lies on the way up: 0 at the goal, negative before it.
func (a *Approach) place(v float64) float64 {
	if a.Rises {
		return v - a.Goal
	}
	return a.Goal - v
}

// near is from how far before the goal the needle is said to come: no more than half of its way up.
func (a *Approach) near() float64 {
	way := math.Abs(a.place(a.Start))
	if a.Past != nil || a.over {
		way = math.Abs(a.place(a.Back))
	}
	return max(2*a.Band, min(a.Near, way/2))
}

// astray is how far the needle may go the wrong way before that is said.
func (a *Approach) astray() float64 { return max(3*a.Band, a.Near/2) }

// Lose says that the line is gone: what the slide does until the next sample, nobody sees.
func (a *Approach) Lose() { a.gone = a.gone || a.Has }

// See takes in what the needle shows now; mean is where it stands still, nil where it does not. It returns how often the bell is due.
func (a *Approach) See(v float64, mean *float64) (rings int) {
	if math.IsNaN(v) {
		return 0
	}
	x, still := a.place(v), math.NaN()
	if mean != nil {
		still = a.place(*mean)
	}
	a.found(x)
	a.swings(x)
	a.Value, a.Has, a.before = v, true, x
	a.begins(still)
	a.passes(x)
	a.overshoots(x, still)
	if a.beyond(v) {
		a.Progress = Beyond
	} else {
		a.Progress = a.progress(x, still)
	}
	return a.bell(x)
}

// found judges what has happened while the line was gone: where the needle has moved, and stands where play could hide.
func (a *Approach) found(x float64) {
	if a.gone && a.begun && math.Abs(x-a.before) > a.Band && x > -2*a.Band && (a.turned || a.Past == nil) {
		a.overshoot(x)
	}
	a.gone = false
}

// beyond reports whether a reading lies off the dial.
func (a *Approach) beyond(v float64) bool {
	const slack = 1e-9
	return (a.From != 0 || a.To != 0) && (v < a.From-slack || v > a.To+slack)
}

// passes notes that the needle is past the turning point, or has come to it within the band.
func (a *Approach) passes(x float64) {
	if a.turns++; x > a.place(a.Back)+a.Band {
		a.turns = 0
	}
	switch {
	case a.turned && !a.over:
		a.far = min(a.far, x)
	case a.Past == nil && !a.over, a.turns < passing:
	default:
		a.turned, a.over, a.stood, a.far = true, false, false, x
		a.rungNear, a.rungThere = false, false
	}
}

// overshoots notes that the needle was past the goal: well past it in a row of samples, or a little as it stands still.
func (a *Approach) overshoots(x, still float64) {
	if a.overs++; x <= leaves*a.Band {
		a.overs = 0
	}
	comes := a.begun && (a.turned || a.Past == nil)
	switch {
	case !comes, a.stood && math.Abs(x) <= a.Locks:
		return
	case a.over:
		a.far = max(a.far, x)
	case a.overs >= overshot || still > a.edge():
		a.overshoot(x)
	}
}

// edge is how far beside its goal the needle may stand: a little farther where it stood there before.
func (a *Approach) edge() float64 {
	if a.stood {
		return leaves * a.Band
	}
	return a.Band
}

// overshoot has the play taken up anew.
func (a *Approach) overshoot(x float64) {
	a.over, a.stood, a.far = true, false, x
	a.rungNear, a.rungThere = false, false
}

// progress is how far the wind has come, with the needle at a place, where it stands still or not.
func (a *Approach) progress(x, still float64) Progress {
	out := a.Past != nil && !a.turned
	a.begun = a.begun || a.turned && math.Abs(still) <= a.Band
	switch {
	case !a.begun:
		return Unseen
	case a.over:
		return Over
	case a.stood && math.Abs(x) <= max(a.Locks, leaves*a.Band):
		return a.standing(still)
	case a.strays(x):
		return Astray
	case out && math.Abs(x-a.from) <= a.Band:
		return Ready
	case out:
		return Outward
	}
	a.stood = false
	return a.comes(x, still)
}

// comes is how far the needle has come of its way up.
func (a *Approach) comes(x, still float64) Progress {
	wide := func(band float64, as ...Progress) float64 { // than it was entered
		for _, p := range as {
			if a.Progress == p {
				return leaves * band
			}
		}
		return band
	}
	switch {
	case math.Abs(still) <= a.Band:
		a.stood = true
		return Stands
	case still < -a.Band && still >= -leaves*a.Band: // the hand is off it, and waits for nothing
		return Close
	case math.Abs(x) <= wide(a.Band, There, Stands, Moved) || x > 0:
		return There
	case a.Past == nil && !a.turned && math.Abs(x-a.from) <= a.Band:
		return Ready
	case x >= -wide(a.near(), Close, There, Stands, Moved):
		return Close
	case a.turned && x-a.far <= a.Band:
		return Turning
	}
	return Coming
}

// standing is what a needle does that has stood at the goal.
func (a *Approach) standing(still float64) Progress {
	switch {
	case math.IsNaN(still):
		return There
	case math.Abs(still) <= a.edge():
		return Stands
	case a.Locks > 0:
		return Moved
	}
	return Close
}

// bell is how often it is due: once as the needle comes near, or goes where it must not, twice as it stands at the goal.
func (a *Approach) bell(x float64) (rings int) {
	if x < -leaves*leaves*a.near() {
		a.rungNear = false
	}
	if math.Abs(x) > max(leaves*leaves*a.Band, a.Locks) {
		a.rungThere = false
	}
	switch a.Progress {
	case Close, There:
		if !a.rungNear {
			rings = 1
		}
		a.rungNear = true
	case Stands:
		if !a.rungThere {
			rings = 2
		}
		a.rungNear, a.rungThere = true, true
	case Astray, Over, Beyond:
		if a.rungWrong != a.Progress {
			rings = 1
		}
		a.rungWrong = a.Progress
		return rings
	case Unseen, Ready, Outward, Turning, Coming, Moved:
	}
	a.rungWrong = Unseen
	return rings
}

// Off reports whether the hand winds off now: to the turning point.
func (a *Approach) Off() bool { return a.over || a.Past != nil && !a.turned }

// Reach is the reading to wind to now: past the turning point, or to the goal.
func (a *Approach) Reach() float64 {
	if a.Off() {
		return a.Back
	}
	return a.Goal
}

// Left is how far the needle is from there; + where it has not yet come to it.
func (a *Approach) Left() float64 {
	if a.Off() {
		return a.place(a.Value) - a.place(a.Back)
	}
	return -a.place(a.Value)
}

// Beside is how far past the goal it was, where the play has to be taken up anew; else how far it is, + past it.
func (a *Approach) Beside() float64 {
	if a.over {
		return a.far
	}
	return a.place(a.Value)
}

// Part is how much of the way there is done, 0 to 1.
func (a *Approach) Part() float64 {
	from, to := a.far, 0.0
	switch {
	case !a.begun:
		from = a.place(a.Start)
	case !a.over && !a.turned:
		from = a.from
	}
	if a.Off() {
		to = a.place(a.Back)
	}
	if way := math.Abs(to - from); way > 0 {
		return min(max(0, 1-math.Abs(to-a.place(a.Value))/way), 1)
	}
	return 1
}

// Turns is how many whole turns of the needle it is from there.
func (a *Approach) Turns() int {
	if !(a.Revolution > 0) {
		return 0
	}
	return int(math.Abs(a.Value-a.Reach()) / a.Revolution)
}
