package slide

import (
	"math"

	"example.org/trammel/indicator"
)

// NeedleDial is the indicator that a slide is tested with. Lengths are millimetres.
type NeedleDial struct {
	// Lever says that the tip stands on a lever, whose gain nobody knows: such a dial shows no travel.
	Lever      bool
	Graduation float64
	// Range is how far its tip goes in all.
	Range float64
}

// step is the finest that is read.
func (d NeedleDial) step() float64 { return indicator.DefaultReadsTo * d.Graduation }

// room is how far a slide may go from the middle of the dial's way, and part what that is of its range.
func (d NeedleDial) room() float64 { return d.part() * d.Range }

func (d NeedleDial) part() float64 {
	if d.Lever {
		return leverRoom
	}
	return needleRoom
}

// NeedleTest is a slide under test: the tip stands against a flat face of the work, square to the slide, and the handwheel is
// wound clockwise by a counted way and back by another.
type NeedleTest struct {
	// Slide is as it is stated: its divisions are counted by, its travel of a turn and its play are what the ways are planned with.
	Slide Slide
	// Unstated says that nobody has stated that travel, and it is a guess to plan with.
	Unstated bool
	Dial     NeedleDial
	// Grows says that the reading grows when a finger presses the tip from the work's side.
	Grows bool
	// Ahead says that the face lies, seen from the tip, where the slide's coordinate grows.
	Ahead bool
	// Common are the travels of a turn that are commonly found, and those that the marks of the collar come out round with,
	// millimetres.
	Common []float64
	Rounds []NeedleRound
}

const (
	// NeedleRounds have to show the play, and mostNeedleRounds are asked for where some do not.
	NeedleRounds, mostNeedleRounds = 3, 5
	// needleGuess is the play that is guessed where none is stated, millimetres, and needleMore what is wound back beyond it,
	// divisions (common practice, no source).
	needleGuess, needleMore = 0.3, 20
	// NeedleLeast is the least counted way that shows a travel, and NeedleSpread how far three rounds may differ, millimetres.
	NeedleLeast, NeedleSpread = 1.0, 0.01
	// needleRoom is what of the dial's range is wound on by, from a middle that was met by eye, and leverRoom that of a lever, whose
	// tip may go less than its needle shows.
	needleRoom, leverRoom = 0.4, 0.3
	// fewestOn are the divisions below which a way says nothing.
	fewestOn = 5
	// nearCommon is how far off a common travel may be found and is it still: a plunger that stands aslant by 17° is out by as much.
	nearCommon = 0.05
	// pitchKnown is how far the screw of a common pitch may be out, ±, relative (common practice, no source); see [Prior].
	pitchKnown = 0.003
	// slant is what a plunger shows too much or too little that was stood square by eye, to 5°: 1 − cos 5°, relative.
	slant = 0.004
	// needleScrew bounds the amplitude of the screw's error that comes back every turn, and needleTurns what a dial loses where
	// its needle turns back, millimetres (common practice, no source).
	needleScrew, needleTurns = 0.005, 0.003
	// leverUneven is what a lever's gain differs by between the way on and the way back, ±, relative (common practice, no source).
	leverUneven = 0.01
)

// NeedleWays are the ways of the next round, whole divisions of the collar.
type NeedleWays struct {
	// Before is wound clockwise at least, so that the play is shut before the first reading.
	Before float64
	// On is wound clockwise, and then Back anticlockwise.
	On, Back float64
}

// Ways plans the next round so that the needle, which begins about the middle, stays on the dial: on a whole turn where there is
// room for it, where the screw's error comes round, or as many as make [NeedleLeast]; back by the play that is guessed and twenty
// more, or as many as it was wound on. All rounds are alike, but where one has not shown the play. ok is false where the dial is
// too small for the collar.
func (n *NeedleTest) Ways() (w NeedleWays, ok bool) {
	div, room := n.Slide.Division(), n.Dial.room()
	turns := math.Ceil(NeedleLeast/n.Slide.TravelPerTurn - 1e-9)
	if w.On = turns * n.Slide.Divisions; w.On*div > room*(1+1e-9) {
		if w.On = math.Floor(room/div + 1e-9); w.On > 2*fewestOn {
			w.On -= math.Mod(w.On, fewestOn)
		}
	}
	guess := math.Ceil(n.guess()/div - 1e-9)
	w.Back = min(guess+min(needleMore, w.On), max(w.On, math.Floor(2*room/div)))
	w.Before = guess + min(needleMore/2, w.On)
	if play := n.shown(); play >= 0 {
		w.Before = math.Ceil(play/div-1e-9) + min(needleMore/2, w.On)
	} else if k := len(n.Rounds); k > 0 { // it is larger than what was wound back
		w.Before = n.Rounds[k-1].Back + math.Floor(0.8*room/div)
	}
	return w, w.On >= fewestOn
}

// LeastRange is the least that a dial has to go to show anything of the slide, millimetres.
func (n *NeedleTest) LeastRange() float64 { return fewestOn * n.Slide.Division() / n.Dial.part() }

// guess is the play to plan with, millimetres: the one that is stated, and at least what was wound back in vain.
func (n *NeedleTest) guess() float64 {
	guess := n.Slide.Backlash
	if guess <= 0 {
		guess = needleGuess
	}
	for _, r := range n.kept() {
		if !n.shows(r) {
			guess = max(guess, r.Back*n.Slide.Division())
		}
	}
	return guess
}

// shown is the largest play that the rounds have shown so far, by the travel that is stated, millimetres; −1 for none.
func (n *NeedleTest) shown() float64 {
	play := -1.0
	for _, r := range n.counted() {
		if p := r.Back - r.On*math.Abs(r.back()/r.forth()); p < r.Back {
			play = max(play, 0, p*n.Slide.Division())
		}
	}
	return play
}

// shows reports whether the needle came back far enough in a round to show the play.
func (n *NeedleTest) shows(r NeedleRound) bool {
	return math.Abs(r.back()) >= max(0.15*min(needleMore, r.On)*n.Slide.Division(), 5*n.Dial.step())
}

// counted are the rounds that show the play.
func (n *NeedleTest) counted() (all []NeedleRound) {
	for _, r := range n.kept() {
		if n.shows(r) {
			all = append(all, r)
		}
	}
	return all
}

// Done reports whether enough rounds were made, or none can be.
func (n *NeedleTest) Done() bool {
	_, ok := n.Ways()
	return !ok || len(n.counted()) >= n.wanted() || len(n.kept()) >= mostNeedleRounds+n.struck()
}

// NeedleNote is why a figure is missing, or what is to be known of one.
type NeedleNote string

// The notes, in the words that are said.
const (
	// NeedleWayward: no sense, no figure.
	NeedleWayward NeedleNote = "the needle did not go the same way in every round, and back the other: read its whole turns too"
	// NeedleStill: no sense, no figure.
	NeedleStill NeedleNote = "the needle hardly moved: the tip does not touch, the slide is locked, or another handle was wound"
	// NeedleOffScale: no sense, no figure.
	NeedleOffScale NeedleNote = "the needle went another way than the travel stated of a turn makes: a whole turn of the needle was missed, " +
		"the slide did not follow, or the statement is wrong: measure a turn by a rule"
	// NeedleDrags: no travel and no play.
	NeedleDrags NeedleNote = "gibs drag or lock half closed"
	// NeedleLost: no play.
	NeedleLost NeedleNote = "the needle did not come back: the backlash is larger than what was wound back"
	// NeedleLever: no travel.
	NeedleLever NeedleNote = "a lever dial shows sense and backlash only: what its needle makes of a way is not known"
	// NeedleShort: no travel.
	NeedleShort NeedleNote = "the dial's range leaves less than 1 mm to go: sense and backlash only"
	// NeedleCommon: the travel is a common one, and the needle's is out from it by more than its doubt.
	NeedleCommon NeedleNote = "the needle is out by less than 5 % from a common pitch, as it is where the plunger stands aslant: " +
		"the pitch is taken"
	// NeedleStated: the same of the one that is stated, which is no common one.
	NeedleStated NeedleNote = "the needle is out by less than 5 % from the travel stated, as it is where the plunger stands aslant: " +
		"that travel is taken"
	// NeedleAlone: the travel is as the needle shows it.
	NeedleAlone NeedleNote = "near no common pitch and not what is stated: the travel is what the needle went, " +
		"with the plunger square to the face within 5°"
)

// NeedleFound is what a test comes to. Uncertainties are expanded (95 %); what is not found is NaN.
type NeedleFound struct {
	// Sense reports whether Clockwise was found: what a clockwise turn does to the slide's coordinate.
	Sense     bool
	Clockwise Way
	// Travel is that of one turn, and ByNeedle what the needle made of it, where it shows one.
	Travel, ByNeedle indicator.Value
	// Backlash is the play, as travel of the slide.
	Backlash indicator.Value
	// Spread is the larger of what the rounds differ by in the way on and in the play, millimetres.
	Spread float64
	Notes  []NeedleNote
}

// Found judges the rounds. With the counted ways on and back, a and b turns of the collar, and the needle's ways f and g, the
// mean of the |Went − Stand| and each |Came − Went|:
//
//	travel of a turn   T = f/a, or what is nearest within 5 % of it, a common travel or the one stated
//	play               p = T·(b − a·g/f)
//
// so that the play is counted in turns of the collar, and neither a lever's gain nor a plunger that stands aslant is in it. It is
// made a length by the travel that is found, or else by the one stated. Expanded uncertainties are
//
//	U(T)² = ((t·s/√3)² + (1.96·√(2/3)·u)² + (1.96·2A·sin πa)²/6)/a² + (0.004·T)²
//	U(p)² = (t·s/√3)² + (1.96·√(2/3)·u)²·(1 + (g/f)²) + (1.96·2A·sin π(g/T))²/6 + (1.96·h)²/3 + (1.96·e·g)²/3
//
// with s the standard deviation of the three rounds and t Student's factor of two degrees of freedom, u that of rounding a
// reading, A the most that the amplitude of the screw's error may be that comes back every turn, h what the dial loses where its
// needle turns back, e what a lever's gain is uneven by (0 for a plunger), and 0.004 a plunger stood square by eye, to 5°. A
// common travel, or the one stated, is known to 0.3 %, as [Prior] has it.
//
// A spread above [NeedleSpread], beyond the step that rounding the readings makes of it, leaves the sense alone; and rounds that
// contradict themselves, or the stated travel by more than a plunger or a lever could, leave nothing.
func (n *NeedleTest) Found() NeedleFound {
	out := NeedleFound{Travel: unknown, ByNeedle: unknown, Backlash: unknown}
	if note := n.contradicts(); note != "" {
		out.Notes = []NeedleNote{note}
		return out
	}
	presses := (n.kept()[0].forth() > 0) == n.Grows // a clockwise turn does
	out.Sense, out.Clockwise = true, Decrease
	if presses == n.Ahead != Rides(n.Slide.Name) { // the work is carried against the tip, or the tip against the work
		out.Clockwise = Increase
	}
	counted := n.counted()
	judged := counted
	if len(counted) < n.wanted() { // no play will come of it, and perhaps a travel
		judged = n.kept()
	}
	on := spreadOf(judged, func(r NeedleRound) float64 { return math.Abs(r.forth()) })
	turn, shown := n.travel(&out, on)
	play := spreadOf(counted, func(r NeedleRound) float64 {
		return turn * (r.Back - r.On*math.Abs(r.back())/on.mean) / n.Slide.Divisions
	})
	if out.Spread = max(on.width, play.width); out.Spread > n.allowed()+1e-9 {
		out.Travel, out.ByNeedle, out.Notes = unknown, unknown, []NeedleNote{NeedleDrags}
		return out
	}
	if shown != "" {
		out.Notes = append(out.Notes, shown)
	}
	switch {
	case n.Unstated && !out.Travel.Known(): // the play is a part of a turn, and nobody knows of what
		return out
	case len(counted) < n.wanted():
		out.Notes = append(out.Notes, NeedleLost)
		return out
	}
	back := spreadOf(counted, func(r NeedleRound) float64 { return math.Abs(r.back()) }).mean
	part := back / on.mean
	turns := part * n.Rounds[0].On / n.Slide.Divisions // that the slide came back by
	out.Backlash = indicator.Value{V: max(0, play.mean), U: norm(play.doubt(), n.reading()*math.Sqrt(1+part*part), periodic(turns),
		coverage*indicator.FromLimit(needleTurns), coverage*indicator.FromLimit(n.uneven()*turns*turn))}
	return out
}

// contradicts is what leaves nothing to be found; empty where all is as it can be.
func (n *NeedleTest) contradicts() NeedleNote {
	way := 0.0 // the needle's, as the rounds have it
	for _, r := range n.kept() {
		f := r.forth()
		switch {
		case math.Abs(f) < max(0.05*r.On*n.Slide.Division(), 5*n.Dial.step()):
			return NeedleStill
		case f*way < 0, n.shows(r) && f*r.back() > 0:
			return NeedleWayward
		}
		way += f
		shown := math.Abs(f) / (r.On * n.Slide.Division())
		least, most := 0.7, 1.3 // beyond, no plunger stands so aslant, and a common travel is another
		if n.Dial.Lever {
			least, most = 0.4, 2.2 // a lever at up to 60°, or a tip of another length
		}
		if (shown < least || shown > most) && !n.Unstated {
			return NeedleOffScale
		}
		if back := math.Abs(r.back() / f * r.On); back > r.Back+max(1, 4*NeedleSpread/n.Slide.Division()) {
			return NeedleWayward // it came back farther than the collar went
		}
	}
	if way == 0 {
		return NeedleStill
	}
	return ""
}

// travel finds that of a turn, and returns the one to count the play with and what is to be said of it; empty for nothing.
func (n *NeedleTest) travel(out *NeedleFound, on spread) (turn float64, note NeedleNote) {
	turns := n.Rounds[0].On / n.Slide.Divisions
	switch {
	case n.Dial.Lever:
		return n.Slide.TravelPerTurn, NeedleLever
	case n.Rounds[0].On*n.Slide.Division() < NeedleLeast-1e-9, n.Unstated && on.mean < NeedleLeast/(1+nearCommon):
		return n.Slide.TravelPerTurn, NeedleShort
	}
	seen := on.mean / turns
	u := norm(on.doubt(), n.reading(), periodic(turns)) / turns
	out.ByNeedle = indicator.Value{V: seen, U: norm(u, slant*seen)}
	out.Travel, note = out.ByNeedle, NeedleAlone
	off := func(c float64) float64 { return math.Abs(seen/c - 1) }
	near := nearCommon
	for _, c := range n.Common {
		if off(c) <= near {
			out.Travel, note, near = indicator.Value{V: c, U: pitchKnown * c}, NeedleCommon, off(c)
		}
	}
	if stated := n.Slide.TravelPerTurn; off(stated) < near && !n.Unstated {
		out.Travel, note = indicator.Value{V: stated, U: pitchKnown * stated}, NeedleStated
	}
	if note != NeedleAlone && math.Abs(out.Travel.V-seen) <= out.ByNeedle.U {
		note = ""
	}
	return out.Travel.V, note
}

// uneven is what the needle's ways on and back differ by for the same way of the tip, ±, relative.
func (n *NeedleTest) uneven() float64 {
	if n.Dial.Lever {
		return leverUneven
	}
	return 0
}

// reading is what rounding brings to the mean of the needle's ways, expanded.
func (n *NeedleTest) reading() float64 {
	return coverage * n.readTo() / math.Sqrt(12) * math.Sqrt(2.0/NeedleRounds)
}

// periodic is what a way of so many turns is out by for the screw's error that comes back every turn, expanded: any amplitude
// up to its bound at any phase, of which the variance is a sixth of the largest square.
func periodic(turns float64) float64 {
	return coverage * 2 * needleScrew * math.Abs(math.Sin(math.Pi*turns)) / math.Sqrt(6)
}

func norm(all ...float64) float64 {
	sum := 0.0
	for _, x := range all {
		sum += float64(x * x)
	}
	return math.Sqrt(sum)
}
