package practice

import (
	"bytes"
	"math"
	"slices"
	"sync"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// watchedBench is the bench of a seed, with its play as stated here, and a clock that each look moves on.
type watchedBench struct {
	*Live
	m   *Machine
	now time.Time
}

func newWatched(seed uint64, change func(*World)) *watchedBench {
	w := Bench(seed)
	w.AngleNoise, w.Noise = 0, 0
	if change != nil {
		change(&w)
	}
	m := New(w, seed)
	return &watchedBench{Watch(m, seed), m, time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
}

func (b *watchedBench) look() float64 {
	b.now = b.now.Add(time.Second / LiveRate)
	return b.Needle(b.now)
}

// looks is the mean of n samples, and the largest way of one from the next.
func (b *watchedBench) looks(n int) (mean, step float64) {
	was := b.look()
	for range n {
		v := b.look()
		mean += v / float64(n)
		step = math.Max(step, math.Abs(v-was))
		was = v
	}
	return mean, step
}

// turn turns a handle by so many divisions, clockwise positive, in efforts of one kind.
func (b *watchedBench) turn(t *testing.T, slideName string, e Effort, n int) (done Handled) {
	t.Helper()
	p := session.Prompt{Waits: session.ForLoad, Load: session.LoadAsked{Slide: slide.Slide{Name: slideName}}}
	for range max(n, -n) {
		var err error
		if done, err = b.Hand(p, e, n > 0); err != nil {
			t.Fatal(err)
		}
	}
	return done
}

func station(deg float64) session.Prompt {
	b := geom.FromDegrees(deg)
	return session.Prompt{Waits: session.ForReading, Reading: session.ReadingAsked{Position: session.Position{Set: true, Ring: deg},
		Bearing: b}}
}

// A head takes its time from one station to the next; once there, the needle stands where the
// geometry has it (a bore of radius ρ is met along the unit vector u from the axis at e·u + √(ρ² − (e·v)²), by Pythagoras), and
// trembles in its last figures only.
func TestLiveSwing(t *testing.T) {
	b := newWatched(5, nil)
	w := Bench(5)
	for _, deg := range []float64{120, 300, 30} {
		b.Ask(station(deg))
		n := 0
		for ; b.going; n++ {
			if n > 100 {
				t.Fatalf("at %v° after %d samples it is still on its way", deg, n)
			}
			b.look()
		}
		if deg == 300 && (n < 35 || n > 39) { // half a turn, at 120° and 25 samples a second
			t.Errorf("half a turn takes %d samples, want about 37", n)
		}
		e, u, v := geom.Point{X: w.Start.CentreX, Y: w.Start.CentreY}, geom.FromDegrees(deg).Unit(), geom.FromDegrees(deg+90).Unit()
		want := w.Start.Swing + w.Reach - e.Dot(u) - math.Sqrt(w.ReferenceRadius*w.ReferenceRadius-e.Dot(v)*e.Dot(v))
		mean, step := b.looks(50)
		if math.Abs(mean-want) > 0.0005 || step > 0.004 {
			t.Errorf("at %v°: the needle stands at %.4f mm and steps by %.4f mm, want %.4f, and at most 0.004", deg, mean, step, want)
		}
	}
}

// While a head is swung the needle shakes, so that it stands nowhere still for ten samples together, even where the bore is centred
// and it would show the same all the way round.
func TestLiveShakesOnItsWay(t *testing.T) {
	b := newWatched(5, func(w *World) { w.Start.CentreX, w.Start.CentreY = 0, 0 })
	b.Ask(station(170))
	var seen []float64
	for b.look(); b.going; {
		seen = append(seen, b.look())
	}
	seen = seen[:len(seen)-1] // which stands there
	for i := 10; i <= len(seen); i++ {
		if last := seen[i-10 : i]; slices.Max(last)-slices.Min(last) < 0.02 {
			t.Errorf("ten samples on the way lie within 0.02 mm: %v", last)
		}
	}
	if len(seen) < 34 {
		t.Errorf("170° take %d samples, want 35", len(seen))
	}
}

// A handle that turns back takes up the play first: the needle stands still for as long. From there on it goes one way, and
// divisions after that are travel of the slide.
func TestLivePlayIsFelt(t *testing.T) {
	const play = 0.12 // mm: 6 divisions of 0.02 mm
	b := newWatched(3, func(w *World) { w.X.Backlash, w.X.Gain = play, 1 })
	b.Ask(station(0))
	b.looks(60)
	b.turn(t, "x", Little, 12) // clockwise, the take-up way: whatever the play was, it is out
	was, _ := b.looks(30)
	moved := 0.0
	for n := 1; n <= 100; n++ {
		if done, want := b.turn(t, "x", Touch, -1), 12-0.1*float64(n); !done.Turned || math.Abs(done.Divisions-want) > 1e-9 {
			t.Fatalf("the handle is said to have been turned: %+v, want %v divisions", done, want)
		}
		v, _ := b.looks(30)
		taken := float64(n) * 0.1 * 0.02
		switch moves := math.Abs(v - was); {
		case taken < play-0.001 && moves > 0.0006:
			t.Errorf("%.3f mm of a play of %.3f mm taken up, and the needle has gone %.4f mm", taken, play, moves)
		case taken > play+liveStick+0.001 && math.Abs(moves-(taken-play)) > liveStick+0.0008:
			t.Errorf("%.3f mm behind the play the needle has gone %.4f mm", taken-play, moves)
		case moves < moved-0.0006:
			t.Errorf("the needle goes back, from %.4f mm to %.4f, as the handle goes on", moved, moves)
		default:
			moved = moves
		}
	}
	if moved < 0.07 {
		t.Errorf("in all the needle has gone %.4f mm, want 0.08", moved)
	}
}

// What the person has wound is what the machine has: the answer to a wind under the needle winds nothing more, nor does that to
// one by the collar or to a load which a hand has turned; one that nobody has touched is done by the simulated hand.
func TestLiveWindsNothingTwice(t *testing.T) {
	b := newWatched(4, nil)
	told := session.Told{Park: &advice.Park{Goal: 0.3}}
	told.Wind.Slide = "x"
	by := []slide.Move{{Turn: slide.Clockwise, Divisions: 20}}
	needle := session.Prompt{Waits: session.ForWind, Wind: session.WindAsked{How: session.UnderNeedle, Told: told, Moves: by}}
	blind := told
	blind.Park = nil
	collar := session.Prompt{Waits: session.ForWind, Wind: session.WindAsked{Told: blind, Moves: by}}
	load := session.Prompt{Waits: session.ForLoad, Load: session.LoadAsked{Slide: slide.Slide{Name: "x"}, Moves: by}}
	for _, c := range []struct {
		name  string
		p     session.Prompt
		by    int
		wound bool
	}{
		{"under the needle, untouched", needle, 0, false},
		{"under the needle, turned", needle, 3, false},
		{"by the collar, turned", collar, 3, false},
		{"by the collar, untouched", collar, 0, true},
		{"load, turned", load, 3, false},
		{"load, untouched", load, 0, true},
	} {
		b.Ask(c.p)
		if c.by != 0 {
			if done := b.turn(t, "x", Little, c.by); done.Divisions != float64(c.by) {
				t.Fatalf("%s: turned by %v divisions in all, want %v since it was asked", c.name, done.Divisions, c.by)
			}
		}
		before, _ := b.m.collar("x")
		answer, ok, err := b.Do(c.p)
		if _, confirms := answer.(session.Confirm); !ok || err != nil || !confirms {
			t.Errorf("%s: answered by %#v, %v, %v, want a confirmation", c.name, answer, ok, err)
		}
		after, _ := b.m.collar("x")
		if wound := math.Abs(after-before) > 1; wound != c.wound {
			t.Errorf("%s: its collar goes from %.2f to %.2f as it is confirmed", c.name, before, after)
		}
	}
}

// An indicator driven beyond its range stands at its stop, outside of it; and what it sends is text with a sign and three places.
func TestLiveLine(t *testing.T) {
	b := newWatched(2, nil)
	b.Ask(station(0))
	b.looks(60)
	b.turn(t, "offset", Lot, 30) // 6 mm outwards, into the bore's wall
	if v := b.look(); v != 0.9 {
		t.Errorf("6 mm beyond its range the needle shows %v mm, want 0.9: 0.8 and its last travel", v)
	}
	if got := b.Line(b.now); !bytes.Equal(got, []byte("+0.900\r\n")) {
		t.Errorf("it sends %q", got)
	}
	b.turn(t, "offset", Lot, -60)
	if got := b.Line(b.now); !bytes.Equal(got, []byte("-0.900\r\n")) {
		t.Errorf("it sends %q", got)
	}
	none := session.Prompt{Waits: session.ForLoad, Load: session.LoadAsked{Slide: slide.Slide{Name: "z"}}}
	if _, err := b.Hand(none, Lot, true); err == nil {
		t.Error("a slide that is not there is turned")
	}
}

// The needle is read while a person works the machine. Run with -race.
func TestLiveTogether(t *testing.T) {
	b := newWatched(1, nil)
	var together sync.WaitGroup
	together.Go(func() {
		for i := range 200 {
			b.Line(time.Unix(0, int64(i)*int64(time.Second/LiveRate)))
		}
	})
	for i := range 200 {
		b.Ask(station(float64(i)))
		b.turn(t, "y", Little, 1)
		b.Raise(0)
		if _, _, err := b.Do(station(float64(i))); err != nil {
			t.Error(err)
		}
	}
	together.Wait()
}

// On a table whose work lies loose the hand taps instead, towards the indicator or away from it, and the needle goes as it does: a
// bore's wall that comes nearer presses it in. The answer to a tap under the needle taps no more.
func TestLiveTaps(t *testing.T) {
	w := BenchTaps(6)
	w.Noise = 0
	b := &watchedBench{Live: Watch(New(w, 6), 6), now: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	tap := session.Prompt{Waits: session.ForWind, Wind: session.WindAsked{How: session.ByTap}}
	b.Ask(tap)
	was, _ := b.looks(20)
	for n, c := range []struct {
		e       Effort
		towards bool
	}{{Little, true}, {Lot, false}} {
		done, err := b.Hand(tap, c.e, c.towards)
		if err != nil || done.Taps != n+1 || done.Turned {
			t.Fatalf("tap %d: %+v, %v", n+1, done, err)
		}
		is, _ := b.looks(20)
		// The tip stands within a bore and presses outwards: towards the indicator the wall goes away from the tip.
		if went := is - was; (went < 0) != c.towards || math.Abs(went) < 0.01 {
			t.Errorf("tap %d, towards the indicator %v: the needle goes by %.4f mm", n+1, c.towards, went)
		}
		was = is
	}
	if answer, ok, err := b.Do(tap); !ok || err != nil || answer != (session.Confirm{}) {
		t.Errorf("the taps are answered by %#v, %v, %v", answer, ok, err)
	}
	if is, _ := b.looks(20); math.Abs(is-was) > 0.0005 {
		t.Errorf("the answer moves the needle by %.4f mm", is-was)
	}
}
