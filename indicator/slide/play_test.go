package slide_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/indicator/slide"
)

// bench is a slide as it stands on a machine: a screw, a nut that runs on it with play, and a
// collar on the screw. The nut rides on the slide, and between the screw's flanks it is loose by
// play: turning the screw moves the flanks, and a flank moves the nut only once it touches it.
type bench struct {
	pitch     float64 // what the flanks move in one turn
	rightHand bool    // a clockwise turn moves the flanks towards larger coordinates
	play      float64
	low       float64 // where the flank stands that pushes the slide up
	slide     float64 // where the slide stands: never below low, never above low + play
	turned    float64 // turns, clockwise counted plus
}

// turn carries out one movement of the hand.
func (b *bench) turn(clockwise bool, turns float64) {
	if !clockwise {
		turns = -turns
	}
	b.turned += turns
	if !b.rightHand {
		turns = -turns
	}
	b.low += turns * b.pitch
	if b.slide < b.low {
		b.slide = b.low // the lower flank has caught it and pushes up
	}
	if high := b.low + b.play; b.slide > high {
		b.slide = high // the upper flank has caught it and pushes down
	}
}

// obey carries out movements, each of which must be a real count: no turn below zero, and fewer
// divisions than the collar has.
func (b *bench) obey(t *testing.T, moves []slide.Move, divisions float64) {
	t.Helper()
	for _, m := range moves {
		if m.Turns < 0 || m.Divisions < 0 || m.Divisions >= divisions {
			t.Fatalf("move %+v, want turns ≥ 0 and divisions from 0 to below %v", m, divisions)
		}
		b.turn(m.Turn == slide.Clockwise, float64(m.Turns)+m.Divisions/divisions)
	}
}

// After loading and winding the slide has gone exactly the travel, for every sense of screw,
// take-up, collar and travel, whatever its play really is up to the stated one, and wherever in
// its play it stood at first.
func TestWindOnABench(t *testing.T) {
	const stated = 0.15
	ways := []slide.Way{slide.Increase, slide.Decrease}
	turns := []slide.Turn{slide.Clockwise, slide.Anticlockwise}
	for _, clockwise := range ways {
		for _, takeUp := range ways {
			for _, figures := range turns {
				for _, sign := range []float64{1, -1} {
					s := slide.Slide{Name: "x", TravelPerTurn: 2, Divisions: 100, Clockwise: clockwise, TakeUp: takeUp, Figures: figures,
						Backlash: stated}
					name := fmt.Sprintf("clockwise %vs, take-up %vs, collar figured %v, travel %+v", clockwise, takeUp, figures, sign)
					t.Run(name, func(t *testing.T) { windOnABench(t, s, sign, stated) })
				}
			}
		}
	}
}

func windOnABench(t *testing.T, s slide.Slide, sign, stated float64) {
	for _, size := range []float64{0, 0.004, 0.02, 0.14, 0.16, 0.231, 1, 2, 3.7, 6} {
		for _, play := range []float64{0, 0.01, 0.075, stated} {
			for _, stood := range []float64{0, 0.3, 1} {
				b := bench{pitch: s.TravelPerTurn, rightHand: s.Clockwise == slide.Increase, play: play, low: 17.3}
				b.slide = b.low + stood*play
				before := b.slide
				b.obey(t, s.Load(), s.Divisions)
				if moved := math.Abs(b.slide - before); moved > play+1e-12 {
					t.Errorf("play %v: loading moved the slide by %v, want at most the play", play, moved)
				}
				loaded, collar := b.slide, b.turned
				w := s.Wind(sign * size)
				b.obey(t, w.Moves, s.Divisions)
				if got := b.slide - loaded; math.Abs(got-sign*size) > 1e-12 {
					t.Errorf("play %v: told to go %+v, the slide went %+v by %+v", play, sign*size, got, w.Moves)
				}
				last := w.Moves[len(w.Moves)-1]
				if up := (last.Turn == slide.Clockwise) == (s.Clockwise == slide.Increase); up != (s.TakeUp == slide.Increase) {
					t.Errorf("travel %+v: last move %v, not the take-up way", sign*size, last.Turn)
				}
				checkCollar(t, s, w.CollarTo, b.turned-collar, 1e-9)
			}
		}
	}
}

// checkCollar compares the figure that a wind foretells with the one on a collar that was set to
// zero before it and has gone round by turned (clockwise counted plus); rounding is in divisions.
func checkCollar(t *testing.T, s slide.Slide, told, turned, rounding float64) {
	t.Helper()
	if s.Figures == slide.Anticlockwise {
		turned = -turned
	}
	_, part := math.Modf(turned)
	shows := part * s.Divisions
	off := math.Abs(shows - told)
	off = math.Min(off, math.Abs(off-s.Divisions)) // 100 and 0 are one mark
	if off > rounding {
		t.Errorf("the collar shows %.9f, told %.9f", shows, told)
	}
}

// A whole trial and more: many winds one after the other, none loaded anew, stay exact, for the
// play is on the known side after each.
func TestWindsInARow(t *testing.T) {
	rng := rand.New(rand.NewPCG(42, 30))
	s := slide.Slide{Name: "offset", TravelPerTurn: 1.5, Divisions: 75, Clockwise: slide.Decrease, TakeUp: slide.Decrease,
		Figures: slide.Clockwise, Backlash: 0.4, Overshoot: 0.45}
	b := bench{pitch: 1.5, play: 0.4, low: -3}
	b.slide = b.low + 0.2
	b.obey(t, s.Load(), s.Divisions)
	want := b.slide
	for i := range 200 {
		travel := 2 * rng.NormFloat64()
		b.obey(t, s.Wind(travel).Moves, s.Divisions)
		want += travel
		if math.Abs(b.slide-want) > 1e-9 {
			t.Fatalf("wind %d by %+.3f: the slide stands at %.9f, want %.9f", i+1, travel, b.slide, want)
		}
	}
}

// What the rules are for: the bench does lose its play when a wind is not brought up, and when
// there is more play than was stated. (Without this the bench above would prove nothing.)
func TestBenchLosesPlay(t *testing.T) {
	s := metric()
	b := bench{pitch: 2, rightHand: true, play: 0.15}
	b.obey(t, s.Load(), s.Divisions)
	before := b.slide
	b.turn(false, 0.231/2) // straight to the goal, nothing past it
	if got := b.slide - before; math.Abs(got+0.231-0.15) > 1e-12 {
		t.Errorf("wound straight back by 0.231 with a play of 0.15 the slide went %+v, want -0.081", got)
	}
	b = bench{pitch: 2, rightHand: true, play: 1.4}
	b.obey(t, s.Load(), s.Divisions)
	b.turn(true, 2) // up against the flank for certain
	before = b.slide
	b.obey(t, s.Wind(-0.231).Moves, s.Divisions)
	if got := b.slide - before; math.Abs(got+0.231) < 1e-3 {
		t.Errorf("with a play of 1.4 and 1 mm wound past, the slide still went %+v", got)
	}
}
