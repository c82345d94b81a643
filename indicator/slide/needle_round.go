package slide

import (
	"math"
	"slices"

	"example.org/trammel/geom/fit"
)

// NeedleRound is a round of the test: the counted ways of the collar, divisions, and what the dial showed, millimetres.
type NeedleRound struct {
	On, Back          float64 // clockwise, and then anticlockwise
	Stand, Went, Came float64 // wound up, play shut; after On; after Back
	// Struck says that the hand has left it out. It says where the collar stands, and nothing else.
	Struck bool
}

// forth and back are what the needle went.
func (r NeedleRound) forth() float64 { return r.Went - r.Stand }
func (r NeedleRound) back() float64  { return r.Came - r.Went }

// kept are the rounds that are judged.
func (n *NeedleTest) kept() (all []NeedleRound) {
	for _, r := range n.Rounds {
		if !r.Struck {
			all = append(all, r)
		}
	}
	return all
}

// struck is how many rounds were left out, and wanted how many have to show the play: one more for each of those, for of a slide that
// drags some three rounds agree sooner or later.
func (n *NeedleTest) struck() int { return len(n.Rounds) - len(n.kept()) }
func (n *NeedleTest) wanted() int { return NeedleRounds + n.struck() }

// readTo is what the readings were rounded to: to whole marks or to half ones where all of them are such, which by chance is so in
// none of a thousand tests read finer, else to the part of a mark that is commonly read.
func (n *NeedleTest) readTo() float64 {
	for _, step := range []float64{n.Dial.Graduation, n.Dial.Graduation / 2} {
		whole := func(v float64) bool { return math.Abs(v-math.Round(v/step)*step) < 1e-6*step }
		if step > 0 && !slices.ContainsFunc(n.kept(), func(r NeedleRound) bool {
			return !whole(r.Stand) || !whole(r.Went) || !whole(r.Came)
		}) {
			return step
		}
	}
	return n.Dial.step()
}

// allowed is how far rounds may differ that agree: of one and the same way two rounded readings differ by the way rounded up or
// down, and so rounds by a step, whatever the slide does. The part of a mark that is commonly read is in [NeedleSpread].
func (n *NeedleTest) allowed() float64 {
	if to := n.readTo(); to > n.Dial.step() {
		return NeedleSpread + to
	}
	return NeedleSpread
}

// NeedleMisread is a reading that does not go with those of the other rounds. Both count from 1; Round 0 is none.
type NeedleMisread struct {
	Round, Reading int
	Near           float64 // where the other rounds would have it, millimetres
}

// Misread names the one reading with which a round differs from the others where those agree, and so many that they outvote it: a
// first one makes the way on another, a last one the way back, and the one between them both.
func (n *NeedleTest) Misread() (m NeedleMisread) {
	for i, r := range n.Rounds {
		if r.Struck {
			continue
		}
		var on, back []float64
		for k, other := range n.Rounds {
			if k != i && !other.Struck && other.On == r.On && other.Back == r.Back {
				on, back = append(on, other.forth()), append(back, other.back())
			}
		}
		if len(on) < NeedleRounds-1 || width(on) > n.allowed() || width(back) > n.allowed() {
			continue
		}
		forth, came := middle(on), middle(back)
		offOn, offBack := math.Abs(r.forth()-forth) > n.allowed(), math.Abs(r.back()-came) > n.allowed()
		switch {
		case offOn && offBack:
			m = NeedleMisread{i + 1, 2, r.Stand + forth}
		case offOn:
			m = NeedleMisread{i + 1, 1, r.Went - forth}
		case offBack:
			m = NeedleMisread{i + 1, 3, r.Went + came}
		}
	}
	return m
}

func width(all []float64) float64  { return slices.Max(all) - slices.Min(all) }
func middle(all []float64) float64 { return (slices.Max(all) + slices.Min(all)) / 2 }

// spread is what rounds come to: their mean, standard deviation and whole width.
type spread struct {
	mean, sd, width float64
	of              int
}

func spreadOf(all []NeedleRound, value func(NeedleRound) float64) (s spread) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range all {
		v := value(r)
		low, high, s.mean = min(low, v), max(high, v), s.mean+v/float64(len(all))
	}
	for _, r := range all {
		off := value(r) - s.mean
		s.sd += float64(off * off)
	}
	if s.of = len(all); s.of > 1 {
		s.sd, s.width = math.Sqrt(s.sd/float64(s.of-1)), high-low
	}
	return s
}

// doubt is that of the mean, expanded by Student's factor.
func (s spread) doubt() float64 {
	if s.of < 2 {
		return 0
	}
	return fit.Coverage(float64(s.of-1)) * s.sd / math.Sqrt(float64(s.of))
}
