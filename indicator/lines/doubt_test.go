package lines_test

import (
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// What is said of a reading that does not fit: a surprise when it is entered, the doubt with its
// question, and the station asked for once more.
func TestDoubtSaid(t *testing.T) {
	for _, c := range []struct {
		slip            float64
		surprise, doubt string
	}{
		{0.1, "station 5, 240°: 0.300 mm, off by +0.100 mm: ten divisions? then it would be 0.200 mm",
			"station 5 does not fit the others: ten divisions? then it would be 0.200 mm; read it once more, or keep, or skip"},
		{-1, "station 5, 240°: -0.800 mm, off by -1.000 mm: one revolution of the needle? then it would be 0.200 mm",
			"station 5 does not fit the others: one revolution of the needle? then it would be 0.200 mm; read it once more, or " +
				"keep, or skip"},
		{-0.4, "station 5, 240°: -0.200 mm, off by -0.400 mm: plus for minus? then it would be 0.200 mm",
			"station 5 does not fit the others: plus for minus? then it would be 0.200 mm; read it once more, or keep, or skip"},
		{0.237, "station 5, 240°: 0.437 mm, off by +0.237 mm: more than chance allows",
			"station 5 does not fit the others: more than chance allows; read it once more, or keep, or skip"},
	} {
		s := begin(t, bench(t, nil)).loaded().read(0.2, 0.2, 0.2, 0.2, 0.2+c.slip)
		if got := s.said[0].Text(); got != c.surprise {
			t.Errorf("%q, want %q", got, c.surprise)
		}
		s.read(0.2)
		if s.kinds() != "reading doubt ask" {
			t.Fatalf("said %q, want reading doubt ask", s.kinds())
		}
		if got := s.said[1].Text(); got != c.doubt {
			t.Errorf("%q, want %q", got, c.doubt)
		}
		ask := s.said[2].(lines.Ask)
		if !ask.Again || ask.Station != 5 || ask.Of != 6 || math.Abs(float64(ask.Bearing)-240) > 1e-9 || ask.Expected == nil ||
			math.Abs(float64(ask.Expected.Value)-0.2) > 1e-9 {
			t.Errorf("asks %+v, want station 5 of 6 once more, expecting 0.2", ask)
		}
		s.do(session.Keep{})
		if s.said[0].Text() != "station 5: kept as it is" {
			t.Errorf("%q", s.said[0].Text())
		}
		// However it goes on, the fit that closes the sweep names the reading that was kept.
		for st := s.live.State(); st.Sweep.Closed == ""; st = s.live.State() {
			s.do(session.Take{Reading: 0.2})
		}
		fit := fitOf(t, s.said)
		// The exact model bends by e²/2ρ, e about a third of the slip.
		if len(fit.Suspects) != 1 || fit.Suspects[0].Reading != 5 ||
			math.Abs(float64(fit.Suspects[0].Residual)-c.slip) > 2.5e-3*c.slip*c.slip {
			t.Errorf("suspects %+v, want reading 5 off by %v", fit.Suspects, c.slip)
		}
		if !strings.Contains(fit.Text(), "\nreading 5 is off by ") {
			t.Errorf("%q does not name the reading", fit.Text())
		}
	}
}

// fitOf returns the fit that was said.
func fitOf(t testing.TB, said []lines.Line) record.Fit {
	t.Helper()
	for _, l := range said {
		if f, ok := l.(lines.FitLine); ok {
			return f.Fit
		}
	}
	t.Fatal("no fit was said")
	return record.Fit{}
}

// Suspects are counted by their stations, those left out before them included; skipping the doubted
// one leaves none.
func TestSuspectIsCountedByStation(t *testing.T) {
	s := begin(t, bench(t, nil)).loaded().do(session.Skip{}).read(0.2, 0.2, 0.3, 0.2, 0.2)
	if d, ok := s.said[1].(lines.DoubtLine); !ok || d.Station != 4 {
		t.Fatalf("said %+v, want a doubt of station 4", s.said[1])
	}
	s.do(session.Keep{})
	if f := fitOf(t, s.said); len(f.Suspects) != 1 || f.Suspects[0].Reading != 4 {
		t.Errorf("suspects %+v, want station 4", f.Suspects)
	}
	s.do(session.Undo{}, session.Skip{})
	if got := s.said[0].Text(); got != "station 4, 180°: left out" {
		t.Errorf("%q", got)
	}
	if f := fitOf(t, s.said); len(f.Suspects) != 0 || f.Readings != 4 {
		t.Errorf("%d readings, suspects %+v, want 4 and none", f.Readings, f.Suspects)
	}
}

// What limits the radius, in words.
func TestLimitsSaid(t *testing.T) {
	at := make([]geom.Bearing, 6)
	for i := range at {
		at[i] = geom.FromDegrees(60 * float64(i))
	}
	for _, c := range []struct {
		change func(*indicator.Dial, *indicator.Setup)
		want   string
	}{
		{func(*indicator.Dial, *indicator.Setup) {}, "largest error: the readings' spread; take further stations, or a finer dial"},
		{func(_ *indicator.Dial, s *indicator.Setup) { s.ReachLimit = 0.01 },
			"largest error: the reach; more readings cannot help: measure the reach"},
		{func(_ *indicator.Dial, s *indicator.Setup) { s.ReferenceLimit = 0.01 },
			"largest error: the reference radius; more readings cannot help: measure the reference"},
		{func(d *indicator.Dial, _ *indicator.Setup) { d.ErrorLimit = 0.01 },
			"largest error: the dial error; more readings cannot help: bring the readings near zero, or have the dial checked"},
		{func(d *indicator.Dial, _ *indicator.Setup) { d.LeverAngle, d.LeverLimit = 0.5, 0.2 },
			"largest error: the lever angle; more readings cannot help: lay the lever along the surface, or bring the readings near zero"},
		{func(_ *indicator.Dial, s *indicator.Setup) { s.ReachKnown, s.ReachLimit = false, 0.01 }, ""},
	} {
		d := indicator.Dial{Repeatability: 0.003}
		s := indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true}
		c.change(&d, &s)
		f, err := indicator.Fit(d, s, at, []float64{0.3, 0.3, 0.3, 0.3, 0.3, 0.3})
		if err != nil {
			t.Fatal(err)
		}
		if got := record.LimitWords(&f, nil); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
