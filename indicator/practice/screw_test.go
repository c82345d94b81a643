package practice

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// wind turns a slide of 100 divisions and 1 mm a turn by so many millimetres of its collar.
func wind(t *testing.T, m *Machine, slide string, clockwise bool, mm float64) {
	t.Helper()
	if err := m.Turn(slide, Move{Clockwise: clockwise, Divisions: 100 * mm}); err != nil {
		t.Fatal(err)
	}
}

// playing is a plain machine whose slide x has play; on is how far that slide has gone.
func playing(backlash float64, seed uint64) (m *Machine, on func() float64) {
	w := plain(true, 30, 42, -12)
	w.X.Backlash = backlash
	m = New(w, seed)
	return m, func() float64 { return -m.Truth().CentreX }
}

func TestMonotoneLosesNothing(t *testing.T) {
	m, on := playing(0.15, 3)
	wind(t, m, "x", true, 0.2) // loads it
	begin := on()
	for i := 1; i <= 10; i++ {
		wind(t, m, "x", true, 0.01)
		wantNear(t, "slide", on(), begin+0.01*float64(i))
	}
}

func TestReversalLosesBacklash(t *testing.T) {
	m, on := playing(0.15, 3)
	wind(t, m, "x", true, 0.2)
	for _, clockwise := range []bool{false, true, false, true} {
		begin := on()
		wind(t, m, "x", clockwise, 0.4)
		wantNear(t, "slide after turning back", math.Abs(on()-begin), 0.25)
	}
	begin := on()
	wind(t, m, "x", false, 0.15)
	wantNear(t, "slide at the very end of the play", on(), begin)
	wind(t, m, "x", false, 0.01)
	wantNear(t, "slide beyond it", on(), begin-0.01)
}

func TestInsidePlayNothingMoves(t *testing.T) {
	m, on := playing(0.15, 3)
	wind(t, m, "x", true, 0.2)
	begin := on()
	for _, step := range []struct {
		clockwise bool
		mm        float64
	}{{false, 0.1}, {true, 0.05}, {false, 0.09}, {true, 0.13}} { // 0.10, 0.05, 0.14, 0.01 from the loaded side
		wind(t, m, "x", step.clockwise, step.mm)
		if got := on(); got != begin {
			t.Errorf("slide moved by %g inside the play", got-begin)
		}
	}
	wind(t, m, "x", true, 0.03)
	wantNear(t, "slide, loaded again where it was left", on(), begin+0.02)
}

// At the start the play lies anywhere: what a first wind loses one way, it gains the other way.
func TestPlayUnknownAtStart(t *testing.T) {
	least, most := math.Inf(1), math.Inf(-1)
	for seed := range uint64(200) {
		m, on := playing(0.2, seed)
		if on() != 0 {
			t.Fatalf("seed %d: slide begins at %g, want 0", seed, on())
		}
		wind(t, m, "x", true, 1)
		lost := 1 - on()
		m, on = playing(0.2, seed)
		wind(t, m, "x", false, 1)
		wantNear(t, "lost both ways together", lost+1+on(), 0.2)
		least, most = min(least, lost), max(most, lost)
	}
	// 200 even draws leave one of the outer twentieths empty once in 14 000 such tests (0.95²⁰⁰).
	if least < 0 || most > 0.2 || least > 0.01 || most < 0.19 {
		t.Errorf("first winds lose %g to %g, want all the play from 0 to 0.2", least, most)
	}
}

// The slide depends on where the nut turned back and on nothing between (it forgets how fast and
// in how many pieces): any walk, cut in pieces, ends where the same walk does uncut; and it is
// never farther from the nut than half the play.
func TestPlayForgetsPieces(t *testing.T) {
	chance := rand.New(rand.NewPCG(5, 5))
	whole, onWhole := playing(0.15, 9)
	cut, onCut := playing(0.15, 9)
	for range 200 {
		clockwise, mm := chance.IntN(2) == 0, 0.3*chance.Float64()
		wind(t, whole, "x", clockwise, mm)
		for range 8 {
			wind(t, cut, "x", clockwise, mm/8)
		}
		wantNear(t, "slide of the cut walk", onCut(), onWhole())
		collar, err := whole.collar("x")
		if err != nil {
			t.Fatal(err)
		}
		if apart := math.Abs(collar/100 + whole.x.first - onWhole()); apart > 0.075+near {
			t.Fatalf("slide %g from the nut, want at most 0.075", apart)
		}
	}
}

// Senses, pitches and divisions belong to each slide: a left-hand y of 4 mm and 200 divisions
// goes back by 4·(1 + 50/200) = 5 for one turn and 50 divisions clockwise.
func TestTurnSensePitchAndGain(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.Y = Slide{TravelPerTurn: 4, Divisions: 200, ClockwiseIncreases: false, Gain: 1}
	w.Offset = Slide{TravelPerTurn: 2, Divisions: 100, ClockwiseIncreases: true, Gain: 1.01}
	m := New(w, 1)
	for _, slide := range []string{"y", "offset"} {
		if err := m.Turn(slide, Move{Clockwise: true, Turns: 1, Divisions: 50}); err != nil {
			t.Fatal(err)
		}
	}
	wantNear(t, "centre, head gone back by 5", m.Truth().CentreY, 5)
	wantNear(t, "swing, 3 of a collar 1 % short", m.Truth().Swing, 42+3.03)
	for slide, want := range map[string]float64{"y": 250, "offset": 150, "x": 0} {
		got, err := m.collar(slide)
		if err != nil {
			t.Fatal(err)
		}
		wantNear(t, "collar of "+slide, got, want)
	}
}

// The wind of a slide of 2 mm and 100 divisions, loaded upwards, that is to go −0.231: 61.55
// anticlockwise and 50 clockwise leave it there, whatever its play, as long as that is overshot.
func TestWindThatClosesPlay(t *testing.T) {
	for _, backlash := range []float64{0, 0.05, 0.15, 0.9} {
		w := plain(true, 30, 42, -12)
		w.X = Slide{TravelPerTurn: 2, Divisions: 100, ClockwiseIncreases: true, Gain: 1, Backlash: backlash}
		m := New(w, 1)
		if err := m.Turn("x", Move{Turns: 1}, Move{Clockwise: true, Turns: 1}); err != nil {
			t.Fatal(err)
		}
		begin := m.Truth().CentreX
		if err := m.Turn("x", Move{Divisions: 61.55}, Move{Clockwise: true, Divisions: 50}); err != nil {
			t.Fatal(err)
		}
		wantNear(t, "travel", begin-m.Truth().CentreX, -0.231)
	}
}

func TestTurnRefusesAndStays(t *testing.T) {
	good := Move{Clockwise: true, Divisions: 30}
	spoil := func(change func(*Slide)) World {
		w := plain(true, 30, 42, -12)
		change(&w.X)
		return w
	}
	sound := spoil(func(*Slide) {})
	for _, c := range []struct {
		name  string
		world World
		slide string
		move  Move
		want  string
	}{
		{"unknown slide", sound, "z", good, `slide "z", need offset, x or y`},
		{"no slide", sound, "", good, `slide "", need`},
		{"negative turns", sound, "x", Move{Turns: -1}, `slide "x": move 2: -1 turns, need 0 or more`},
		{"negative divisions", sound, "x", Move{Divisions: -0.1}, "-0.1 divisions, need"},
		{"no number", sound, "x", Move{Divisions: math.NaN()}, "NaN divisions, need"},
		{"infinite", sound, "x", Move{Divisions: math.Inf(1)}, "+Inf divisions, need"},
		{"endless", sound, "x", Move{Turns: 2000}, "2000 turns in one movement, need at most 1000"},
		{"no pitch", spoil(func(s *Slide) { s.TravelPerTurn = 0 }), "x", good, "travel per turn 0, need"},
		{"no divisions", spoil(func(s *Slide) { s.Divisions = math.NaN() }), "x", good, "divisions NaN, need"},
		{"no gain", spoil(func(s *Slide) { s.Gain = 0 }), "x", good, "gain 0, need a number above 0"},
		{"backlash", spoil(func(s *Slide) { s.Backlash = -1 }), "x", good, "backlash -1, need"},
	} {
		m := New(c.world, 1)
		err := m.Turn(c.slide, good, c.move)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q in it", c.name, err, c.want)
		}
		if got := m.Truth(); got != c.world.Start {
			t.Errorf("%s: moved to %+v", c.name, got)
		}
	}
}

// Watching the needle needs neither collar nor play: it stops at the figure from either side.
func TestWatchStopsAtFigure(t *testing.T) {
	w := Bench(4)
	w.Noise, w.AngleNoise = 0, 0
	w.Start = Truth{Swing: 42, CentreX: 0.3}
	m := New(w, 4)
	m.Swing(0) // the wall is 0.3 farther than the tip: −0.3, and 0 once the head has followed
	seen := 0
	err := m.watch("x", true, 1, func(n Needle) bool { seen++; return n.Off == "" && n.Reading >= 0 })
	if err != nil {
		t.Fatal(err)
	}
	// A step is a tenth of a division, 2 µm, and the dial is read to 2 µm: at most 1 + 2 µm off.
	if off := m.Truth().CentreX; math.Abs(off) > 0.003 || m.Dial().Reading != 0 {
		t.Errorf("stopped at %+v, centre off by %g, want 0 to 0.003", m.Dial(), off)
	}
	if seen < 100 {
		t.Errorf("needle seen %d times on the way of 0.3, want more than 100", seen)
	}
	before := m.Truth()
	if err := m.watch("x", true, 1, func(n Needle) bool { return n.Reading >= 0 }); err != nil || m.Truth() != before {
		t.Errorf("watched for what was there: %v, moved from %+v to %+v", err, before, m.Truth())
	}
	err = m.watch("x", false, 0.5, func(n Needle) bool { return n.Reading > 0.1 })
	if !errors.Is(err, errNotReached) {
		t.Errorf("wound the wrong way: error %v, want errNotReached", err)
	}
	lost := w.X.Backlash // the play, and half a turn of 2 mm for the rest
	wantNear(t, "gone while watching in vain", m.Truth().CentreX-before.CentreX, w.X.Gain*1-lost)
}

// The tip stays in touch, so under the eye the needle runs one way in spite of its noise, and the
// next watch has noise of its own.
func TestWatchIsOneTouch(t *testing.T) {
	w := plain(true, 30, 42, -12)
	w.Noise = 0.003
	m := New(w, 6)
	m.Swing(0)
	var offs []float64
	for range 2 {
		last := math.Inf(-1)
		err := m.watch("x", true, 0.2, func(n Needle) bool {
			if n.Reading <= last {
				t.Fatalf("needle went from %g to %g while wound one way", last, n.Reading)
			}
			last = n.Reading
			return false
		})
		if !errors.Is(err, errNotReached) {
			t.Fatalf("error %v, want errNotReached", err)
		}
		offs = append(offs, last-m.quiet())
	}
	if offs[0] == 0 || math.Abs(offs[0]-offs[1]) < near {
		t.Errorf("noise of two watches %g and %g, want two that differ", offs[0], offs[1])
	}
}

func TestWatchRefuses(t *testing.T) {
	stop := func(Needle) bool { return true }
	for _, c := range []struct {
		slide string
		turns float64
		stop  func(Needle) bool
	}{{"z", 1, stop}, {"x", 0, stop}, {"x", math.NaN(), stop}, {"x", 1e6, stop}, {"x", 1, nil}} {
		m := New(Bench(1), 1)
		if err := m.watch(c.slide, true, c.turns, c.stop); err == nil || errors.Is(err, errNotReached) {
			t.Errorf("watch %q for %g turns: error %v, want a refusal", c.slide, c.turns, err)
		}
	}
	if _, err := New(Bench(1), 1).collar("z"); err == nil {
		t.Error("collar of no slide: no error")
	}
}
