package setup_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// worm is a table on its worm: the handle turns the worm, and the table goes only once the play is taken up. All is degrees of the
// table, counter-clockwise from above; it shares nothing with what it tests.
type worm struct{ table, handle, play float64 }

// crank turns the handle, which carries the table along at either end of the play.
func (w *worm) crank(by float64) {
	w.handle += by
	w.table = max(w.handle, min(w.table, w.handle+w.play))
}

// Told as turns of the handle, the table comes to where it is sent, whatever its play, its senses and its collar; and it comes there
// the way up.
func TestHandwheelComesUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 5))
	for range 400 {
		turn, play := []float64{3, 4, 6}[rng.IntN(3)], 2*rng.Float64()
		marks := []float64{0, 80, 100}[rng.IntN(3)]
		clockwise := []slide.Way{slide.Increase, slide.Decrease}[rng.IntN(2)]
		figures := []slide.Turn{slide.Clockwise, slide.Anticlockwise}[rng.IntN(2)]
		h := setup.Handwheel{
			Turn:      float64(geom.FromDegrees(turn)),
			Divisions: marks,
			Clockwise: clockwise,
			Play:      float64(geom.FromDegrees(play)),
		}
		ring := setup.Ring{Figures: figures}
		up := []float64{1, -1}[rng.IntN(2)]
		from, to := 360*rng.Float64(), 360*rng.Float64()
		// It stands where it was brought up before: going counter-clockwise the worm pushes from behind.
		w := worm{table: from, handle: from, play: play}
		if up < 0 {
			w.handle = from - play
		}
		last := 0.0
		for _, c := range h.To(ring, geom.FromDegrees(from), geom.FromDegrees(to), up) {
			whole := turn
			if marks > 0 {
				whole = marks
			}
			by := (float64(c.Turns) + c.Rest/whole) * turn
			// Facing the handle, clockwise lets the figures grow or fall; they grow the way that the ring says.
			if (c.Turn == slide.Clockwise) != (clockwise == slide.Increase) {
				by = -by
			}
			if figures == slide.Clockwise {
				by = -by
			}
			w.crank(by)
			last = by
		}
		if off := math.Remainder(w.table-to, 360); math.Abs(off) > 1e-6 || last*up < 0 {
			t.Errorf(
				"%+v, figures %v: from %.3f° to %.3f° it stands %.4f° off, last movement %.3f°, up %+v",
				h,
				figures,
				from,
				to,
				off,
				last,
				up,
			)
		}
	}
}

// What is no handwheel is refused with what is needed, however it came here: a journal may hold anything.
func TestHandwheelCheck(t *testing.T) {
	degree := float64(geom.FromDegrees(1))
	for want, h := range map[string]setup.Handwheel{
		"the table's handwheel turns it by 0°, need above 0":          {Play: degree},
		"a worm play of -1°, need 0 to one turn of the handwheel, 4°": {Turn: 4 * degree, Play: -degree},
		"a worm play of 5°, need 0 to one turn of the handwheel, 4°":  {Turn: 4 * degree, Play: 5 * degree},
		"-3 divisions of the table's handwheel, need 0 or above":      {Turn: 4 * degree, Divisions: -3},
	} {
		if err := h.Check(); err == nil || err.Error() != want {
			t.Errorf("%+v: %v, want %s", h, err, want)
		}
	}
	if err := (setup.Handwheel{}).Check(); err != nil {
		t.Errorf("none at all: %v", err)
	}
}

// A table goes the shorter way round, over its zero too: from 350 to 10 it goes 20 on, from 10 to 350 it goes 20 back and as far beyond
// as the play asks, a tenth of a turn of the handle more, which it comes back by. A turn is 4 degrees, and each figure degrees.
func TestHandwheelGoesTheShorterWay(t *testing.T) {
	h := setup.Handwheel{Turn: float64(4 * geom.Degree), Clockwise: slide.Increase, Play: float64(geom.Degree)}
	ring := setup.Ring{Figures: slide.Anticlockwise}
	for _, c := range []struct {
		from, to float64
		want     []float64 // degrees of the table, + counter-clockwise
	}{{350, 10, []float64{20}}, {-10, 370, []float64{20}}, {10, 350, []float64{-21.4, 1.4}}, {0, 179, []float64{179}},
		{181, 0, []float64{179}}, {90, 90 + 720, nil}} {
		var got []float64
		for _, m := range h.To(ring, geom.FromDegrees(c.from), geom.FromDegrees(c.to), 1) {
			got = append(got, float64(m.Turn)*(4*float64(m.Turns)+m.Rest))
		}
		same := len(got) == len(c.want)
		for i := range c.want {
			same = same && math.Abs(got[i]-c.want[i]) < 1e-9
		}
		if !same {
			t.Errorf("from %v to %v degrees: by %v, want %v", c.from, c.to, got, c.want)
		}
	}
}
