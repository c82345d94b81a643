package slide_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/slide"
)

// read are three rounds of a turn on and 35 divisions back, which begin at 0: what the needle went to, and came back to.
func read(ends ...[2]float64) (all []slide.NeedleRound) {
	for _, e := range ends {
		all = append(all, slide.NeedleRound{On: 100, Back: 35, Went: e[0], Came: e[1]})
	}
	return all
}

// A way of 2.005 that is read to whole marks of 0.01 comes out as 2.00 or 2.01, as the marks lie: by arithmetic a step more or less,
// beside what the rounds truly differ by. So 2.00, 1.99 and 2.01 are no drag to whole marks, and are to a fifth of a mark.
func TestNeedleWholeMarks(t *testing.T) {
	for _, c := range []struct {
		what  string
		ends  [][2]float64
		drags bool
		u     float64 // of the play
	}{
		// By hand: s of the plays 0.15, 0.14 and 0.16 is 0.01, less what the mean of the ways on makes of them, nothing; 4.3027 × 0.01/√3
		// is 0.024842; rounding 1.96 × 0.01/√12 × √(2/3) × √(1 + 0.275²) is 0.004791; the screw 1.96 × 0.01 × sin(π × 0.275)/√6 is
		// 0.006084; the dial 0.003395; in all 0.026244.
		{"whole marks", [][2]float64{{2, 1.45}, {1.99, 1.43}, {2.01, 1.47}}, false, 0.026244},
		{"whole marks that drag", [][2]float64{{2, 1.45}, {1.98, 1.43}, {2.01, 1.46}}, true, 0},
		{"one of them read finer", [][2]float64{{2, 1.45}, {1.99, 1.444}, {2.01, 1.46}}, true, 0},
		{"half marks", [][2]float64{{2, 1.45}, {1.995, 1.445}, {2.01, 1.46}}, false, -1},
	} {
		f := tested(read(c.ends...)...).Found()
		if drags := len(f.Notes) > 0 && f.Notes[0] == slide.NeedleDrags; drags != c.drags || f.Backlash.Known() == drags {
			t.Errorf("%s: %+v, want drags %v", c.what, f, c.drags)
		}
		if c.u > 0 && math.Abs(f.Backlash.U-c.u) > 5e-6 {
			t.Errorf("%s: play %v, want ±%v", c.what, f.Backlash, c.u)
		}
	}
}

// The reading that is out is named with its round, where the others outvote it: and what they would have it.
func TestNeedleMisread(t *testing.T) {
	for _, c := range []struct {
		what           string
		change         func(r []slide.NeedleRound)
		round, reading int
		near           float64
	}{
		{"none", func([]slide.NeedleRound) {}, 0, 0, 0},
		{"a first", func(r []slide.NeedleRound) { r[1].Stand += 0.1 }, 2, 1, 0.103},
		{"a second, a whole turn of the needle less", func(r []slide.NeedleRound) { r[0].Went-- }, 1, 2, 2.102},
		{"a third", func(r []slide.NeedleRound) { r[2].Came = 3.2 }, 3, 3, 1.543},
		{"two of three", func(r []slide.NeedleRound) { r[0].Went, r[2].Went = 1, 1.5 }, 0, 0, 0},
	} {
		rounds := sound()
		c.change(rounds)
		m := tested(rounds...).Misread()
		if m.Round != c.round || m.Reading != c.reading || math.Abs(m.Near-c.near) > 0.0021 {
			t.Errorf("%s: %+v, want reading %d of round %d, near %v", c.what, m, c.reading, c.round, c.near)
		}
	}
}

// A round that is struck counts no more, and two others are asked for in its place: four have to agree.
func TestNeedleStruck(t *testing.T) {
	n := tested(sound()...)
	n.Rounds[1].Went, n.Rounds[1].Came = 0.1, 3
	if f := n.Found(); f.Sense || !n.Done() {
		t.Fatalf("%+v, want nothing found, and the end", f)
	}
	n.Rounds[1].Struck = true
	if n.Done() {
		t.Fatal("done with two rounds")
	}
	n.Rounds = append(n.Rounds, sound()[1])
	if n.Done() {
		t.Fatal("done with three rounds of four")
	}
	n.Rounds = append(n.Rounds, sound()[0])
	if f := n.Found(); !n.Done() || math.Abs(f.Backlash.V-0.143519) > 5e-4 || f.Spread > 0.0021 {
		t.Errorf("%+v, want the play of sound rounds", f)
	}
}
