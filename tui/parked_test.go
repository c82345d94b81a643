package tui_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/session"
)

// A wind under the needle takes the reading where it stopped as its confirmation; a number that
// is far beside the goal is refused, and Enter alone confirms without one.
func TestParkedWind(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 20, session.ForWind)
	d.Expect(Line("park at 0°"), Line("needle now −0.190"), Line("come up clockwise to −0.299"))
	d.Type("0.12").Enter().Waits(session.ForCheck).Expect(Line("X", "clockwise")).Type("/").Waits(session.ForWind)
	if n := d.prompt().Wind.Told.Step; n != 1 {
		t.Fatalf("wind %d after a number that was refused, want 1", n)
	}
	d.Type("-0.301").Enter().Waits(session.ForWind).Expect(Line("x slide: needle at −0.301 mm, off by −0.002 mm"),
		Line("wind 2 of 3"))
	if w := d.state().Winds; w == nil || w.Reading == nil || math.Abs(*w.Reading+0.301) > 1e-12 {
		t.Errorf("the wind is kept as %+v, want the reading with it", w)
	}
	d.Enter().Waits(session.ForWind).Expect(Line("Y slide wound"), Line("wind 3 of 3"))
	d.Type("/").Waits(session.ForWind).Expect(Line("wind 2 of 3"))
}

// What drifted is taken out, left in or swept again by a key; a number is not a reading then.
func TestDriftKeys(t *testing.T) {
	d := closing(t, real(t, nil), 7).Waits(session.ForDrift).Expect(Line("left in"), Line("taken out"))
	d.Type("0.1").Enter().Waits(session.ForDrift).Expect(Line("0.1 is not taken"))
	d.Enter().Waits(session.ForDrift)
	d.Type("e").Waits(session.ForWind).Expect(Line("the drift is taken out"))
	if s := d.state(); !s.Sweep.Even {
		t.Error("e does not take the drift out")
	}
	d = closing(t, real(t, nil), 7).Type("k").Waits(session.ForWind)
	if s := d.state(); s.Sweep.Even || !s.Sweep.Stations[6].Kept {
		t.Error("k does not leave the drift in")
	}
	closing(t, real(t, nil), 7).Type("r").Enter().Waits(session.ForReading).Expect(Line("station 1 of 6"))
}

// l asks for the first station once more, from the fifth on.
func TestClosingKey(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 3, nothing)
	d.Type("l").Expect(Line("3 readings, need at least 4"))
	d = (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing)
	d.Type("l").Waits(session.ForReading).Expect(Line("closing reading: swing to 0° once more"))
}

// h holds a radius that is typed with its error, and lets it go where nothing is typed.
func TestHoldKey(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 4, nothing)
	d.Type("h").Expect(Line("swing radius to hold, its error (mm; empty: none)"))
	d.Type("41,7 0.002").Enter().Waits(session.ForReading).Expect(Line("the swing radius is held at 41.700 ±0.002 mm"))
	if h := d.state().Hold; h == nil || h.Radius != 41.7 || h.Limit != 0.002 {
		t.Errorf("held %+v, want 41.7 and 0.002", h)
	}
	d.Type("h").Enter().Expect(Line("found from the readings again"))
	if h := d.state().Hold; h == nil || h.Radius != 0 {
		t.Errorf("held %+v after it was let go", h)
	}
	d.Type("habc").Enter().Enter().Expect(Line("h, then like 42.003 0.004"))
	d.Type("h42").Esc().Type("h").Enter().Expect(Line("no sweep stands that a held radius serves"))
}

// w tells where a slide's scale stands; m shows what the machine has taught.
func TestTaughtKeys(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 2, nothing)
	d.Type("w").Expect(Line("slide and its scale (mm), like offset 42.35"))
	d.Type("offset 42,35").Enter().Expect(Line("offset slide: now at 42.3500 mm"))
	s := d.state()
	if at := s.Stand("offset"); !at.Known || at.At != 42.35 {
		t.Errorf("offset at %+v, want 42.35", at)
	}
	d.Type("wz 1").Enter().Expect(Line("need one of"))
	d.Type("w1").Enter().Expect(Line("w, then like offset 42.35"))
	d.Type("m").Expect(Line("what is learnt of this machine"), Line("nothing yet")).Type("m").
		Expect(Nowhere("what is learnt of this machine"))

	o := collar(real(t, nil))
	d = (&stand{41.7, -0.11, 0.15}).work(loaded(t, o), 40, session.ForAccept)
	d.Type("m").Expect(Line("X slide, by 1 trial"), Line("screw error +0.0"), Line("offset slide, by 1 trial"))
}

// b sets the dial anew in the middle of a sweep: what has been read stands in the new figures.
func TestBezelKey(t *testing.T) {
	d := (&stand{41.7, -0.11, 0.15}).work(loaded(t, real(t, nil)), 2, nothing)
	first := d.state().Sweep.Stations[0].Reading
	d.Type("b").Expect(Line("the needle showed, and shows now (mm)"))
	d.Type("-0.4 0").Enter().Expect(Line("the dial is set anew: what showed -0.400 mm shows 0.000 now"))
	if got := d.state().Sweep.Stations[0].Reading; math.Abs(got-first-0.4) > 1e-12 {
		t.Errorf("the first reading stands at %v, was %v, want 0.4 more", got, first)
	}
	d.Type("b1").Enter().Enter().Expect(Line("b, then like -0.412 0"))
}
