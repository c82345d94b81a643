package record_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Numbers are rounded to 1e-12, what cannot be known is null, and zero has no sign.
func TestNumber(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0.1 + 0.2, "0.3"},
		{1.0 / 3, "0.333333333333"},
		{-2.0 / 3, "-0.666666666667"},
		{42, "42"},
		{1 / 25.4, "0.03937007874"},
		{25.4 * (1 / 25.4), "1"},
		{359.9999999999999, "360"},
		{math.NaN(), "null"},
		{math.Inf(1), "null"},
		{math.Inf(-1), "null"},
		{0, "0"},
		{math.Copysign(0, -1), "0"},
		{-1e-13, "0"},
		{4.9e-13, "0"},
		{5.1e-13, "1e-12"},
		{1.33324e-7, "1.33324e-7"},
		{999.9999999999999, "1000"},
		{1000.0000000000001, "1000"},
		{8000.123456789012, "8000.123456789012"},
		{9007199254740993.0, "9007199254740992"},
		{-1e300, "-1e+300"},
	} {
		got, err := json.Marshal(record.Number(c.x))
		if err != nil || string(got) != c.want {
			t.Errorf("%v is written %s (%v), want %s", c.x, got, err, c.want)
		}
	}
}

// What a person reads of lengths, hand movements and angles.
func TestSpelling(t *testing.T) {
	unsure := indicator.Value{V: 42.0131, U: math.NaN()}
	for _, c := range []struct{ got, want string }{
		{record.Measured(geom.Millimetre, indicator.Value{V: 42.0131, U: 0.0051}), "42.013 ±0.005 mm"},
		{record.Measured(geom.Inch, indicator.Value{V: 42.0131, U: 0.0051}), "1.6541 ±0.0002 in"},
		{record.Measured(geom.Millimetre, indicator.Value{V: 41.931, U: 0.0164}), "41.931 ±0.016 mm"},
		{record.Measured(geom.Millimetre, unsure), "42.013 ±? mm"},
		{record.Measured(geom.Millimetre, indicator.Value{V: math.NaN(), U: math.NaN()}), "not known"},
		{record.HandTurn(slide.Move{Turn: slide.Clockwise, Turns: 1, Divisions: 16.6}), "clockwise 1 turn 16.6 div"},
		{record.HandTurn(slide.Move{Turn: slide.Anticlockwise, Turns: 0, Divisions: 61.55}), "anticlockwise 61.5 div"},
		{record.HandTurn(slide.Move{Turn: slide.Anticlockwise, Turns: 2, Divisions: 0}), "anticlockwise 2 turns 0.0 div"},
		{record.Amount(slide.Move{Turns: 0, Divisions: 12.8}), "12.8 div"},
		{record.Degrees(120), "120°"},
		{record.Degrees(37.5), "37.5°"},
		{record.Degrees(22.503), "22.5°"},
		{record.Divisions(96.90017), "96.9"},
		{record.Divisions(-0.01), "0.0"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// A reading is shown to the place that it is read to.
func TestReadingPlaces(t *testing.T) {
	for _, c := range []struct {
		graduation, readsTo float64
		unit                geom.Unit
		places              int
		want                string // of 0.123456 in that unit
	}{
		{0.01, 0.2, geom.Millimetre, 3, "0.123"},
		{0.01, 1, geom.Millimetre, 2, "0.12"},
		{0.01, 0.5, geom.Millimetre, 3, "0.123"},
		{0.002, 0.5, geom.Millimetre, 3, "0.123"},
		{0.002, 0.25, geom.Millimetre, 4, "0.1235"},
		{1, 1, geom.Millimetre, 0, "0"},
		{0.0005 * 25.4, 0.2, geom.Inch, 4, "0.1235"},
		{0.001 * 25.4, 0.5, geom.Inch, 4, "0.1235"},
		{0.01, 0.2, geom.Inch, 6, "0.123456"},
		{0, 0.2, geom.Millimetre, 3, "0.123"},
	} {
		d := indicator.Dial{Graduation: c.graduation, ReadsTo: c.readsTo}
		if got := record.ReadingPlaces(d, c.unit); got != c.places {
			t.Errorf("graduation %v mm, read to %v, in %v: %d places, want %d", c.graduation, c.readsTo, c.unit, got, c.places)
		}
		if got := record.Reading(d, c.unit, c.unit.MM(0.123456)); got != c.want {
			t.Errorf("graduation %v mm, read to %v: 0.123456 %v is shown %s, want %s", c.graduation, c.readsTo, c.unit, got, c.want)
		}
	}
}

// A coordinate is told to the step of the readout that shows it: of a slide that is sent there to its own, of a point that is touched
// to that of the job's readouts.
func TestCoordinatePlaces(t *testing.T) {
	job := setup.Job{Unit: geom.Millimetre, Setup: indicator.Setup{Touch: indicator.Bore},
		Dial: indicator.Dial{Graduation: 0.01, ReadsTo: 1}}
	for _, c := range []struct {
		step float64 // of the slide's readout, mm
		unit geom.Unit
		want int
	}{
		{0.001, geom.Millimetre, 3},
		{0.005, geom.Millimetre, 3},
		{0.1, geom.Millimetre, 1},
		{0.0005 * 25.4, geom.Inch, 4},
	} {
		s := session.State{Set: &session.Opened{Job: job, Machine: setup.Machine{Slides: []slide.Slide{
			{Name: "x", Readout: true, Step: c.step}, {Name: "y", Readout: true, Step: 1},
		}}}}
		s.Told = &session.Told{Wind: slide.Wind{Slide: "x"}}
		if got := record.CoordinatePlaces(&s, c.unit); got != c.want {
			t.Errorf("a slide whose readout steps by %v mm, in %v: %d places, want %d", c.step, c.unit, got, c.want)
		}
		s.Told = nil
		if got := record.CoordinatePlaces(&s, geom.Millimetre); got != 2 {
			t.Errorf("a touched point, readouts of 0.01 mm: %d places, want 2", got)
		}
	}
}

// What a machine has taught is told in the unit that is asked for: locks that move a slide by a thousandth of an inch each time, 0.0254 mm.
func TestTaughtInInches(t *testing.T) {
	b := slide.Prior(slide.Slide{Name: "x", TravelPerTurn: 2.54, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase,
		Figures: slide.Clockwise, Backlash: 0.1})
	for range 40 {
		b.Locks = append(b.Locks, slide.LockSeen{Moved: 0.0254, U: 0.0001})
	}
	for u, want := range map[geom.Unit]float64{geom.Millimetre: 0.0254, geom.Inch: 0.001} {
		all := record.Taught([]setup.Taught{{Slide: "x", Lesson: b}}, u)
		if len(all) != 1 || all[0].Lock == nil || math.Abs(float64(all[0].Lock.Value)/want-1) > 0.01 {
			t.Errorf("%v: %+v, want locks that move it by %v", u, all, want)
		}
	}
}

// A number is written as the standard library writes it, alone and among many.
func TestNumbersAsInJSON(t *testing.T) {
	rng := rand.New(rand.NewPCG(22, 7))
	var all record.Many
	var want []any
	for _, v := range []float64{0, math.Copysign(0, -1), 1e-12, -1e-12, 1e-7, 9.99999e-7, 1e-6, 1e-5, 0.5e-12, 123.456, 1 << 13, 1e20,
		1e21, -2.5e22, 1e100, 1e300, 1e-300, 1.5e9} {
		all, want = append(all, record.Number(v), record.Number(-v)), append(want, rounded(v), rounded(-v))
	}
	for range 20_000 {
		v := rng.NormFloat64() * math.Pow10(rng.IntN(32)-12)
		all, want = append(all, record.Number(v)), append(want, rounded(v))
	}
	all, want = append(all, record.Number(math.NaN()), record.Number(math.Inf(1))), append(want, nil, nil)
	got, err := json.Marshal(all)
	expected, err2 := json.Marshal(want)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	if string(got) != string(expected) {
		for i := range all {
			g, _ := json.Marshal(all[i])
			if w, _ := json.Marshal(want[i]); string(g) != string(w) {
				t.Fatalf("%v is written %s, want %s", float64(all[i]), g, w)
			}
		}
		t.Fatal("many are not written as each of them is")
	}
}

// rounded is a number to 1e-12, where a float64 is finer than that, and never a negative zero.
func rounded(v float64) float64 {
	if math.Abs(v) < 1<<13 {
		v = math.Round(v*1e12) / 1e12
	}
	return v + 0
}
