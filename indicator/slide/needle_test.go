package slide_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/indicator/slide"
)

// tested is a slide of 2 mm a turn and 100 divisions under a plunger dial of 0.01, read to 0.002, with 10 mm to go: its tip
// presses towards the side that the coordinate grows to, and so a reading that grows as it is wound clockwise says increase.
func tested(rounds ...slide.NeedleRound) *slide.NeedleTest {
	return &slide.NeedleTest{
		Slide: slide.Slide{Name: "x", TravelPerTurn: 2, Divisions: 100, Backlash: 0.3},
		Dial:  slide.NeedleDial{Graduation: 0.01, Range: 10},
		Grows: true, Ahead: true, Common: []float64{2, 2.5, 4, 5}, Rounds: rounds}
}

// sound are three rounds: a turn on is 2.002, 2.000 and 2.000 by the needle, and of 35 divisions back, 0.7 by the collar, it
// goes 0.556, 0.558 and 0.556.
func sound() []slide.NeedleRound {
	return []slide.NeedleRound{
		{On: 100, Back: 35, Stand: 0.100, Went: 2.102, Came: 1.546},
		{On: 100, Back: 35, Stand: 0.104, Went: 2.104, Came: 1.546},
		{On: 100, Back: 35, Stand: 0.100, Went: 2.100, Came: 1.544},
	}
}

// By hand, from the rounds above: the way on has a mean of 2.000667, which is the common 2; the play is 0.7 − 2 × the way back /
// 2.000667, that is 0.144185, 0.142186, 0.144185, and in the mean 0.143519. Its doubt: t(2) = 4.3027 (any table of Student's t)
// times the standard deviation 0.001154 / √3 is 0.002868; rounding 1.96 × 0.002/√12 × √(2/3) × √(1 + 0.2782²) is 0.000959; the
// screw 1.96 × 0.01 × sin(π × 0.2782) / √6 is 0.006137; the dial 1.96 × 0.003/√3 is 0.003395; in all 0.00764.
func TestNeedleByHand(t *testing.T) {
	f := tested(sound()...).Found()
	if !f.Sense || f.Clockwise != slide.Increase {
		t.Errorf("sense %v, %v, want increase", f.Sense, f.Clockwise)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"travel", f.Travel.V, 2}, {"its doubt", f.Travel.U, 0.006}, {"by the needle", f.ByNeedle.V, 2.000667},
		{"backlash", f.Backlash.V, 0.143519}, {"its doubt", f.Backlash.U, 0.00764}, {"spread", f.Spread, 0.002},
	} {
		if math.Abs(c.got-c.want) > 5e-6 {
			t.Errorf("%s: %.6f, want %.6f", c.what, c.got, c.want)
		}
	}
	if len(f.Notes) > 0 {
		t.Errorf("notes %q, want none: the needle agrees with the pitch", f.Notes)
	}
}

// What a clockwise turn does, thought out at the bench: the coordinate of x grows as the spindle, and the tip with it, goes to the
// right over the work; that of table_x as the work goes to the right, past a tip that stands still.
func TestNeedleSenses(t *testing.T) {
	for _, c := range []struct {
		slide        string
		grows, ahead bool // pressed by a finger the reading grows; the face lies to the right of the tip
		rises        bool // as it is wound clockwise
		want         slide.Way
	}{
		{"x", true, true, true, slide.Increase},    // pressed: the tip goes to the right, against the face
		{"x", true, true, false, slide.Decrease},   // freed: to the left
		{"x", true, false, true, slide.Decrease},   // pressed against a face on its left: to the left
		{"x", false, true, true, slide.Decrease},   // a dial that counts the other way: freed, to the left
		{"x", false, false, false, slide.Decrease}, // pressed against a face on its left
		{"table_x", true, true, true, slide.Decrease},
		{"table_x", true, false, true, slide.Increase},
		{"table_x", false, true, true, slide.Increase},
		{"offset", true, true, true, slide.Increase}, // away from the axis, against a face that lies farther out
	} {
		n := tested(sound()...)
		n.Slide.Name, n.Grows, n.Ahead = c.slide, c.grows, c.ahead
		if !c.rises {
			for i, r := range n.Rounds {
				n.Rounds[i].Stand, n.Rounds[i].Went, n.Rounds[i].Came = -r.Stand, -r.Went, -r.Came
			}
		}
		f := n.Found()
		if !f.Sense || f.Clockwise != c.want {
			t.Errorf("%+v: %v, %v", c, f.Sense, f.Clockwise)
		}
		if math.Abs(f.Backlash.V-0.143519) > 5e-6 || f.Travel.V != 2 {
			t.Errorf("%+v: travel %v and play %v, which have no sign", c, f.Travel.V, f.Backlash.V)
		}
	}
}

// A needle that shows all ways larger by 1/cos 15° = 1.0353, as of a plunger that stands aslant by that, or by a lever's gain,
// gives the same play, for that is counted in turns of the collar; and an uncommon travel stays what the needle went.
func TestNeedleScales(t *testing.T) {
	scaled := func(k float64) *slide.NeedleTest {
		n := tested(sound()...)
		for i, r := range n.Rounds {
			n.Rounds[i].Stand, n.Rounds[i].Went, n.Rounds[i].Came = k*r.Stand, k*r.Went, k*r.Came
		}
		return n
	}
	if f := scaled(1.0353).Found(); f.Travel.V != 2 || math.Abs(f.Backlash.V-0.1435) > 1e-4 ||
		!slices.Equal(f.Notes, []slide.NeedleNote{slide.NeedleCommon}) {
		t.Errorf("aslant: travel %v, play %v, notes %q, want 2 and 0.1435", f.Travel.V, f.Backlash.V, f.Notes)
	}
	n := scaled(0.7)
	n.Dial.Lever = true
	f := n.Found()
	if f.Travel.Known() || !f.Sense || math.Abs(f.Backlash.V-0.1435) > 1e-4 || !slices.Contains(f.Notes, slide.NeedleLever) {
		t.Errorf("lever: %+v, want sense and play only", f)
	}
	n = scaled(1.0353)
	n.Common = []float64{4}
	if f := n.Found(); f.Travel.V != 2 || !slices.Contains(f.Notes, slide.NeedleStated) {
		t.Errorf("uncommon, as stated: %+v, want 2", f)
	}
	n = scaled(1)
	n.Common, n.Slide.TravelPerTurn = []float64{4}, 1.8
	if f := n.Found(); math.Abs(f.Travel.V-2.000667) > 1e-6 || !slices.Contains(f.Notes, slide.NeedleAlone) {
		t.Errorf("uncommon: %+v, want what the needle went", f)
	}
}

// What leaves figures out, or everything, and why.
func TestNeedleRefuses(t *testing.T) {
	for _, c := range []struct {
		what          string
		change        func(r []slide.NeedleRound)
		note          slide.NeedleNote
		sense, figure bool
	}{
		{"the way on differs by 0.014", func(r []slide.NeedleRound) { r[1].Stand -= 0.014 }, slide.NeedleDrags, true, false},
		{"the way back differs by 0.014", func(r []slide.NeedleRound) { r[2].Came += 0.014 }, slide.NeedleDrags, true, false},
		{"one goes the other way", func(r []slide.NeedleRound) { r[1].Went = -1.9; r[1].Came = -1.3 }, slide.NeedleWayward, false, false},
		{"on again instead of back", func(r []slide.NeedleRound) { r[0].Came = 2.6 }, slide.NeedleWayward, false, false},
		{"farther back than the collar", func(r []slide.NeedleRound) { r[0].Came = 1.2 }, slide.NeedleWayward, false, false},
		{"a whole turn of the needle missed", func(r []slide.NeedleRound) {
			for i := range r {
				r[i].Went, r[i].Came = r[i].Went-1, r[i].Came-1
			}
		}, slide.NeedleOffScale, false, false},
		{"nothing moves", func(r []slide.NeedleRound) { r[2].Went, r[2].Came = 0.1, 0.1 }, slide.NeedleStill, false, false},
		{"never comes back", func(r []slide.NeedleRound) {
			for i := range r {
				r[i].Came = r[i].Went
			}
		}, slide.NeedleLost, true, true},
	} {
		rounds := sound()
		c.change(rounds)
		f := tested(rounds...).Found()
		if f.Sense != c.sense || f.Travel.Known() != c.figure || f.Backlash.Known() || !slices.Contains(f.Notes, c.note) {
			t.Errorf("%s: %+v, want sense %v, travel %v, no play, and %q", c.what, f, c.sense, c.figure, c.note)
		}
	}
}

// The ways: a turn where the dial has room, else what it has; back by the play and twenty more, as far as the dial goes.
func TestNeedleWays(t *testing.T) {
	for _, c := range []struct {
		what                string
		travel, divisions   float64
		backlash, dialRange float64
		lever               bool
		before, on, back    float64
	}{
		{"a turn", 2, 100, 0.3, 10, false, 25, 100, 35}, // 0.3 is 15 divisions
		{"no play stated: 0.3 is guessed", 2, 100, 0, 10, false, 25, 100, 35},
		{"two turns make a millimetre", 0.5, 50, 0.1, 10, false, 20, 100, 30}, // 0.1 is 10 divisions of 0.01
		{"less than a turn", 6, 120, 0.3, 10, false, 16, 80, 26},              // 4 mm are 80 divisions of 0.05
		{"a lever", 2, 100, 0.3, 0.8, true, 25, 10, 24},                       // 0.24 mm are 12 divisions, and twice that is the most back
	} {
		n := tested()
		n.Slide.TravelPerTurn, n.Slide.Divisions, n.Slide.Backlash = c.travel, c.divisions, c.backlash
		n.Dial.Range, n.Dial.Lever = c.dialRange, c.lever
		w, ok := n.Ways()
		if want := (slide.NeedleWays{Before: c.before, On: c.on, Back: c.back}); !ok || w != want {
			t.Errorf("%s: %+v, %v, want %+v", c.what, w, ok, want)
		}
	}
	n := tested()
	n.Dial.Range = 0.2 // 0.08 mm are 4 divisions
	if w, ok := n.Ways(); ok {
		t.Errorf("a dial of 0.2: %+v, want none", w)
	}
}

// A round that comes back by nothing has not shown the play: what it wound back is guessed next, and it is not counted. After
// five there is an end.
func TestNeedleGuessesMore(t *testing.T) {
	n := tested()
	n.Slide.Backlash = 0.02                              // truly 0.6
	for round, back := range []float64{21, 41, 41, 41} { // 1 + 20, which shows nothing, and then 21 + 20
		w, ok := n.Ways()
		if !ok || w.Back != back {
			t.Fatalf("round %d: %+v, want %v back", round+1, w, back)
		}
		if n.Done() {
			t.Fatalf("done before round %d", round+1)
		}
		n.Rounds = append(n.Rounds, slide.NeedleRound{On: 100, Back: back, Stand: 0, Went: 2, Came: 2 - max(0, back*0.02-0.6)})
	}
	if f := n.Found(); !n.Done() || math.Abs(f.Backlash.V-0.6) > 1e-9 {
		t.Errorf("done %v, play %v, want 0.6", n.Done(), f.Backlash)
	}
	n.Rounds = nil
	for range 5 {
		if n.Done() {
			t.Fatal("done before the fifth")
		}
		n.Rounds = append(n.Rounds, slide.NeedleRound{On: 100, Back: 35, Stand: 0, Went: 2, Came: 2})
	}
	if !n.Done() {
		t.Error("no end after five")
	}
}

// A backlash that is stated with its limit is believed by that, a rectangular one: 0.006/√3. Without it, by half of itself.
func TestPriorOfFoundBacklash(t *testing.T) {
	for _, c := range []struct{ limit, u float64 }{{0, 0.15}, {0.006, 0.0034641}} {
		a := slide.Prior(slide.Slide{Name: "x", TravelPerTurn: 2, Divisions: 100, Backlash: 0.3, BacklashLimit: c.limit}).Assumed
		if a.Backlash != 0.3 || math.Abs(a.BacklashU-c.u) > 1e-7 {
			t.Errorf("limit %v: %v ± %v, want 0.3 and %v", c.limit, a.Backlash, a.BacklashU, c.u)
		}
	}
}

// What the needle shows of a turn of 2.1 mm, read exactly and every time, is known as the plunger was stood square by eye, to 5°: 0.4 %
// of it, and the rounding of 0.002 in each of two readings of three rounds. Near no common travel, that is the travel.
func TestNeedleStandsAslant(t *testing.T) {
	n := slide.NeedleTest{Slide: slide.Slide{Name: "x", TravelPerTurn: 2.1, Divisions: 100, Backlash: 0.1}, Unstated: true,
		Dial: slide.NeedleDial{Graduation: 0.01, Range: 10}, Grows: true, Ahead: true, Common: []float64{5}}
	for range 3 {
		n.Rounds = append(n.Rounds, slide.NeedleRound{On: 100, Back: 30, Stand: 0.012, Went: 2.112, Came: 1.582})
	}
	f := n.Found()
	want := math.Hypot(0.004*2.1, 1.959963985*0.002/math.Sqrt(12)*math.Sqrt(2.0/3))
	if math.Abs(f.ByNeedle.V-2.1) > 1e-9 || math.Abs(f.ByNeedle.U-want) > 1e-9 || f.Travel != f.ByNeedle {
		t.Errorf("%+v, want 2.1 ± %v", f, want)
	}
}
