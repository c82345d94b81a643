package practice

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// felt is a slide at work with an indicator against a flat face: what a needle test has to do with. The tip is carried by the
// slide past the work, or the work past the tip.
type felt struct {
	draw
	*screw
	name   string
	unit   geom.Unit
	drag   float64    // the slide may stop short of where it is pushed to, by up to so much, mm
	stood  float64    // where it stopped, mm
	toward geom.Point // where the coordinate is meant to grow to; along is where it does, both unit vectors
	along  geom.Point
	rides  bool // the slide carries the work
	side   int  // the face lies there, seen from the tip: +1 towards toward, −1 away from it

	square  geom.Point // unit vector from the tip to the face, square to it
	plunger geom.Point // the way the tip comes out
	lever   bool
	scale   float64 // of a lever: what the needle makes of its tip's way
	counts  float64 // +1: a pressed tip makes the reading grow
	begins  float64 // how far the tip is pressed where the slide stood when it was brought to the middle, mm
	zero    float64 // where the slide stood then, mm
	loose   float64 // what the dial loses where its needle turns back, mm
	shows   float64 // where its needle stands, mm
	noise   float64 // standard deviation of a reading, mm
	mark    float64 // of the dial, mm
	whole   bool    // it is read to whole marks, and not to a fifth
	reach   float64 // how far its tip goes in all, mm
	off     bool    // the needle was driven off the dial

	another bool // the travel that is stated is another screw's

	patience int // how often rounds are made again, where that is proposed

	wrong string // what the hand answers wrong: "eye", "pressing", "side", "turns" (it never counts the needle's), or nothing
}

// markHand is the standard deviation of a collar that is brought to a mark, divisions: a mark that meets its line is set better than
// the tenth that is guessed between two (common practice, no source).
const markHand = 0.04

// drawnScrews are what collars of bench machines are commonly like, and some that are not: travel of a turn in the unit, marks.
var drawnScrews = [...][][2]float64{
	geom.Millimetre: {{2, 100}, {2.5, 50}, {2.5, 125}, {4, 200}, {5, 100}, {6, 120}, {1.5, 75}, {1, 50}, {3, 60}, {1.25, 50}, {4, 80}},
	geom.Inch:       {{0.1, 100}, {0.125, 125}, {0.2, 200}, {0.25, 250}, {0.05, 50}, {0.1, 50}},
}

// drawFelt draws one of a thousand: sound and dragging slides, locks half closed, dials of both kinds, a plunger aslant.
func drawFelt(seed uint64) (f *felt, stated setup.Machine) {
	d := draw{stream(seed, streamTrap)}
	f = &felt{draw: d, patience: 2,
		unit: geom.Unit(d.chance.IntN(2)), counts: 1, side: 1, loose: d.between(0, 0.003), noise: d.between(0.0005, 0.002)}
	common := drawnScrews[f.unit]
	kind := common[d.chance.IntN(len(common))]
	travel, marks := f.unit.MM(kind[0]), kind[1]
	if d.chance.IntN(7) == 0 { // no common screw, and marks that come out odd
		travel, marks = d.between(1, 6), 100
	}
	f.screw = newScrew(Slide{TravelPerTurn: travel, Divisions: marks, ClockwiseIncreases: d.chance.IntN(2) == 0,
		Backlash: d.between(0, 0.6), Gain: 1 + d.either(drawGain), Wobble: d.between(0, drawWobble), WobbleAt: d.either(math.Pi)}, d.chance)
	f.aim()
	switch n := d.chance.IntN(20); {
	case n < 6:
		f.drag = d.between(0, 0.06) // gibs
	case n < 9:
		f.drag = d.between(0.05, 0.4) // a lock half closed
	}
	for _, is := range []struct {
		what string
		of   int
	}{{"eye", 30}, {"pressing", 30}, {"side", 30}, {"turns", 20}} {
		if d.chance.IntN(is.of) == 0 {
			f.wrong = is.what
		}
	}
	says := slide.Slide{Name: f.name, TravelPerTurn: travel, Divisions: marks, Clockwise: slide.Increase, TakeUp: slide.Increase,
		Figures: slide.Clockwise, Backlash: []float64{0.3, max(0.02, f.Backlash*(1+d.either(0.5))), 0.05}[d.chance.IntN(3)]}
	if d.chance.IntN(2) == 0 {
		says.Clockwise = slide.Decrease
	}
	switch d.chance.IntN(30) { // the travel is stated wrong: another screw's, or measured by a rule
	case 0:
		says.TravelPerTurn = f.unit.MM(common[d.chance.IntN(len(common))][0])
		f.another = says.TravelPerTurn != travel
	case 1, 2:
		says.TravelPerTurn *= 1 + d.either(0.05)
	}
	f.whole = seed%4 == 1
	return f, setup.Machine{Name: "felt", Unit: f.unit, Slides: []slide.Slide{says}}
}

// aim draws where the slide goes, where the face lies, and how the indicator stands against it.
func (f *felt) aim() {
	i := f.chance.IntN(5)
	f.name = []string{"x", "y", "table_x", "table_y", "offset"}[i]
	f.toward = []geom.Point{{X: 1}, {Y: 1}, {X: 1}, {Y: 1}, geom.Bearing(f.either(math.Pi)).Unit()}[i]
	f.rides = i == 2 || i == 3
	f.along = rotated(f.toward, f.either(0.01))
	if f.chance.IntN(2) == 0 {
		f.side = -1
	}
	if f.chance.IntN(5) == 0 {
		f.counts = -1
	}
	at := scaled(f.toward, float64(f.side))
	f.square = rotated(at, f.either(0.02))
	f.plunger = rotated(at, f.either(15*math.Pi/180))
	marks := []float64{0.01, 0.002, 0.001}
	if f.unit == geom.Inch {
		marks = []float64{0.0127, 0.00254}
	}
	f.mark, f.reach = marks[f.chance.IntN(len(marks))], []float64{10, 10, 5, 3}[f.chance.IntN(4)]
	if f.chance.IntN(4) == 0 {
		f.lever, f.scale, f.mark, f.reach = true, f.between(0.8, 1.3), marks[0], []float64{0.8, 1, 1.6}[f.chance.IntN(3)]
	}
}

// wind carries out a movement by the collar, and the slide follows as late as it drags.
func (f *felt) wind(m slide.Move) {
	way := f.way(m.Turn == slide.Clockwise)
	division := f.TravelPerTurn / f.Divisions
	before := f.at
	f.carry(f.collar + way*(float64(m.Turns)*f.TravelPerTurn+m.Divisions*division) + float64(markHand*division*f.chance.NormFloat64()))
	if f.at != before {
		if stops := f.at - float64(way*f.between(0, f.drag)); (stops-f.stood)*way > 0 {
			f.stood = stops
		}
	}
	if f.zero != 0 || f.begins != 0 {
		f.follow()
	}
}

// lost is what a hand loses in the mean where it turns back: the play, and what the slide stops short by before and after.
func (f *felt) lost() float64 { return f.Backlash + f.drag }

// pressed is how far the tip is pressed in: the face is met along the plunger, farther out or nearer than it was.
func (f *felt) pressed() float64 {
	tip := scaled(f.along, f.stood-f.zero)
	if f.rides {
		tip = scaled(tip, -1)
	}
	in := f.square.Dot(tip) / f.square.Dot(f.plunger)
	if f.lever {
		in = float64(f.scale*in) * (1 + 0.02*in) // a lever's gain is not the same all the way
	}
	return f.begins + in
}

// follow has the needle follow the tip, but for what the dial is loose by.
func (f *felt) follow() {
	at := f.pressed()
	f.off = f.off || math.Abs(at) > f.reach/2
	f.shows = min(max(f.shows, at-f.loose/2), at+f.loose/2)
}

// middle brings the tip to about the middle of its way where the slide stands.
func (f *felt) middle() {
	f.zero, f.begins = f.stood, f.either(f.reach/20)
	f.shows = f.begins
	f.follow()
}

// reads is what the hand reads, in the unit.
func (f *felt) reads() string {
	step := f.mark * 0.2
	if f.whole {
		step = f.mark
	}
	v := float64(math.Round((f.counts*f.shows+float64(f.noise*f.chance.NormFloat64()))/step) * step)
	if turn := 100 * f.mark; f.wrong == "turns" {
		v = math.Mod(math.Mod(v, turn)+turn, turn)
	}
	return strconv.FormatFloat(f.unit.From(v), 'f', 5, 64)
}

// answer does as a question says, and answers what a hand at the machine sees.
func (f *felt) answer(q *job.Question) string {
	if strings.Contains(q.Key, ".read_") {
		if strings.HasSuffix(q.Key, ".round_1.read_1") {
			f.zero, f.begins = 0, 0 // the tip is clear
		}
		for i, m := range q.Moves {
			if i == 0 && strings.HasSuffix(q.Key, ".round_1.read_1") {
				m.Divisions += float64(f.chance.IntN(10)) // at least
			}
			f.wind(m)
		}
		if strings.HasSuffix(q.Key, ".round_1.read_1") {
			f.middle()
		}
		return f.reads()
	}
	if answer, of := f.describes(q); of {
		return answer
	}
	grows := 0 // +1 where the answer means that the coordinate grows there, else −1
	switch last := q.Key[strings.LastIndex(q.Key, ".")+1:]; last {
	case "unit":
		return f.unit.String()
	case "kind":
		return map[bool]string{true: "lever", false: "plunger"}[f.lever]
	case "graduation":
		return fmt.Sprintf("%.5f", f.unit.From(f.mark))
	case "range":
		return fmt.Sprintf("%.5f", f.unit.From(f.reach))
	case "pressing":
		if (f.counts > 0) == (f.wrong == "pressing") {
			return "shrinks"
		}
		return "grows"
	case "side":
		grows = f.side
	case "eye":
		grows = int(f.way(true))
	case "again":
		if f.patience--; f.patience < 0 {
			return q.Choices[len(q.Choices)-1] // leave it
		}
		return ""
	default:
		return "" // what is proposed
	}
	if strings.HasSuffix(q.Key, "."+f.wrong) {
		grows = -grows
	}
	return q.Choices[(1-grows)/2]
}

// describes answers what is asked of a machine that is being described: of the slide under test nothing is known but its marks.
func (f *felt) describes(q *job.Question) (answer string, of bool) {
	other := strings.HasPrefix(q.Key, "slide.") && !strings.HasPrefix(q.Key, "slide."+f.name+".")
	switch last := q.Key[strings.LastIndex(q.Key, ".")+1:]; {
	case last == "name":
		return "felt", true
	case last == "slides":
		return map[byte]string{'x': "x y", 'y': "x y", 't': "table_x table_y", 'o': "offset"}[f.name[0]], true
	case last == "divisions" && !other:
		return fmt.Sprintf("%.0f", f.Divisions), true
	case last == "divisions":
		return "100", true
	case slices.Contains(q.Choices, job.FindIt) && !other:
		return job.FindIt, true
	case last == "clockwise" && q.Default == "":
		return q.Choices[0], true
	}
	return "", !strings.HasPrefix(q.Key, "needle.") && q.Key != "unit"
}

// needleRuns is on how many machines the needle is tried. A few are for every run; TRAMMEL_TRAPS=200 has a thousand.
func needleRuns(t *testing.T) uint64 {
	if os.Getenv("TRAMMEL_TRAPS") == "" {
		return 300
	}
	return 5 * trapRuns(t)
}

// figures counts those that are given, those that are right, and those whose doubt covers what is so.
type figures struct{ given, right, covered int }

func (y *figures) count(miss, most, doubt float64) {
	y.given++
	if miss <= most {
		y.right++
	}
	if miss <= doubt {
		y.covered++
	}
}

// needleTally is what came of many tests.
type needleTally struct {
	sense, travel, play figures
	bare                figures // the play as it would be of a slide that never stops short
	sound, differ       int
	why                 map[slide.NeedleNote]int
}

// needled lets a hand answer all questions of a test, by itself or of a machine that is being described.
func needled(t *testing.T, seed uint64) (*felt, job.Asking) {
	f, stated := drawFelt(seed)
	q := job.NeedleQuestions(job.Facts{Unit: f.unit, Machine: &stated})
	if seed%3 == 0 {
		q, f.another = job.MachineQuestions(job.Facts{}), false
	}
	for range 80 {
		now, more := q.Next()
		if !more {
			break
		}
		next, err := q.Answer(f.answer(&now))
		switch {
		case err == nil:
			q = next
		case strings.HasSuffix(now.Key, ".range"): // the hand takes another dial
			f.reach *= 2
		case f.wrong == "turns" || f.drag > 0.05 || f.another: // and gives up where the needle runs off
			return f, q
		default:
			t.Fatalf("machine %d: %s: %v", seed, now.Key, err)
		}
	}
	if f.off && f.drag == 0 && f.wrong != "turns" && !f.another {
		t.Errorf("machine %d: the needle was driven off a dial of %g mm: %+v", seed, f.reach, *f)
	}
	return f, q
}

// judge compares what a test found with how the slide is.
func (y *needleTally) judge(t *testing.T, seed uint64, f *felt, n *job.Needle) {
	for _, note := range n.Found.Notes {
		y.why[note]++
	}
	if n.Differ {
		if y.differ++; f.wrong == "" {
			t.Errorf("machine %d: the needle contradicts an eye that sees right: %+v", seed, *f)
		}
		return
	}
	if n.Found.Sense {
		miss := 0.0
		if (n.Found.Clockwise == slide.Increase) != f.ClockwiseIncreases {
			t.Errorf("machine %d: a clockwise turn is said to %v, wrongly: %+v", seed, n.Found.Clockwise, *f)
			miss = 1
		}
		y.sense.count(miss, 0, 0)
	}
	if v := n.Found.Travel; v.Known() {
		is := f.TravelPerTurn * f.Gain
		y.travel.count(math.Abs(v.V-is), 0.02*is, v.U)
	}
	if v := n.Found.Backlash; v.Known() {
		y.play.count(math.Abs(v.V-f.lost()), 0.01, v.U)
		y.bare.count(math.Abs(v.V-f.Backlash), 0.01, v.U)
	}
}

// On drawn machines, by hands that do what the questions tell them, the needle never says a wrong sense where the eye agrees, and
// its travels are within 2 % and its plays within 0.01 mm in 95 of 100 of those where it gives a figure. The needle never leaves
// the dial, unless the slide follows late or the travel that is stated is another screw's.
func TestTrapNeedle(t *testing.T) {
	runs := needleRuns(t)
	y := needleTally{why: make(map[slide.NeedleNote]int)}
	for seed := uint64(1); seed <= runs; seed++ {
		f, q := needled(t, seed)
		if f.drag == 0 && f.wrong == "" {
			y.sound++
		}
		for _, n := range q.Needle() {
			y.judge(t, seed, f, &n)
		}
	}
	t.Logf("of %d machines, %d sound: sense %+v, %d differ from the eye; travel %+v; play %+v, bare %+v", runs, y.sound, y.sense, y.differ,
		y.travel, y.play, y.bare)
	for note, n := range y.why {
		t.Logf("%4d %s", n, note)
	}
	for what, figure := range map[string]figures{"travel": y.travel, "play": y.play} {
		if figure.right*100 < figure.given*95 {
			t.Errorf("%s: %d of %d right, need 95 of 100", what, figure.right, figure.given)
		}
	}
	if y.sense.given < y.sound*9/10 || y.play.given < y.sound*6/10 || y.travel.given < y.sound*4/10 {
		t.Errorf("sense %d, play %d and travel %d given of %d sound machines, which is too few to show anything", y.sense.given, y.play.given,
			y.travel.given, y.sound)
	}
}
