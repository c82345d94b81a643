package session_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// sweepTo answers until the sweep has n entries or is closed.
func (p *player) sweepTo(n int) *player {
	p.t.Helper()
	p.until(session.ForReading)
	for s := p.state(); s.Phase == session.Sweeping && s.Sweep.N < n; s = p.state() {
		p.answer(1)
	}
	return p
}

// sweptBy returns why the sweeps were closed, in order.
func (p *player) sweptBy() (why []session.Why) {
	for _, st := range p.steps {
		if e, ok := st.Event.(session.Swept); ok {
			why = append(why, e.Why)
		}
	}
	return why
}

// While a verdict is undecided and stations can decide it, further ones are asked for: one by
// one, inside the job's sweep, each where it helps most, and the number that is told grows.
func TestUndecidedAsksOn(t *testing.T) {
	full, part := setup.Sweep{Stations: 6, To: 2 * math.Pi}, setup.Sweep{Stations: 5, From: 30 * geom.Degree, To: 150 * geom.Degree}
	for _, c := range []struct {
		name   string
		sweep  setup.Sweep
		radius bool // the radius is undecided, else the centre
		first  float64
	}{
		// Once round, every bearing helps alike, and the clear place nearest to the start is taken.
		{"radius, full circle", full, true, 30},
		{"centre, full circle", full, false, 30},
		// On an arc radius and centre are told apart as by a sagitta, the middle against the ends: an
		// end helps the radius most (variance 2.20 against 2.49), the middle the centre (3.73
		// against 3.97).
		{"radius, part circle", part, true, 30},
		{"centre, part circle", part, false, 90},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := with(t, func(j *setup.Job) { j.Sweep, j.Dial.AngleError = c.sweep, 0 })
			p := open(t, o, straddling(&o.Job, c.radius)).sweepTo(c.sweep.Stations)
			_, v := verdicts(t, p.state())
			if (v.Radius == indicator.Undecided) != c.radius || (v.Centre == indicator.Undecided) == c.radius {
				t.Fatalf("verdicts %v, %v are not what this test is about", v.Radius, v.Centre)
			}
			if got := p.prompt().Reading.Bearing.Degrees360(); math.Abs(got-c.first) > 1e-9 {
				t.Errorf("first further station at %v°, want %v°", got, c.first)
			}
			further := askOn(t, p, &c.sweep, c.radius)
			if further == 0 || further > c.sweep.Stations {
				t.Errorf("%d further stations, want 1 to %d", further, c.sweep.Stations)
			}
			if why := p.sweptBy(); !slices.Equal(why, []session.Why{session.ByVerdict}) || p.prompt().Waits != session.ForAccept {
				t.Errorf("swept by %v, then waits for %d, want one sweep closed by its verdict, and acceptance", why, p.prompt().Waits)
			}
		})
	}
}

// askOn answers further stations, holds each to the oracle, and counts them.
func askOn(t *testing.T, p *player, sweep *setup.Sweep, radius bool) (n int) {
	t.Helper()
	for q := p.prompt(); q.Waits == session.ForReading; q = p.prompt() {
		n++
		s := p.state()
		want := sweep.Stations + n
		of := want
		if sweep.Full() { // a second round, between the stations of the first and in their order
			of = 2 * sweep.Stations
			if at, clear := q.Reading.Bearing.Degrees360(), 360*(float64(n)-0.5)/float64(sweep.Stations); math.Abs(at-clear) > 1e-9 {
				t.Errorf("station %d at %v°, want %v°", want, at, clear)
			}
		}
		if q.Reading.Station != want || q.Reading.Of != of {
			t.Fatalf("station %d of %d, want %d of %d", q.Reading.Station, q.Reading.Of, want, of)
		}
		if q.Reading.Bearing < sweep.From-1e-9 || q.Reading.Bearing > sweep.To+1e-9 {
			t.Fatalf("station at %v°, want %v° to %v°", q.Reading.Bearing.Degrees(), sweep.From.Degrees(), sweep.To.Degrees())
		}
		var have []float64
		for _, st := range s.Sweep.Stations[:s.Sweep.N] {
			have = append(have, float64(st.Bearing))
		}
		got, best := deciding(append(slices.Clone(have), float64(q.Reading.Bearing)), radius), math.Inf(1)
		for b := sweep.From; b <= sweep.To+1e-9; b += 15 * geom.Degree { // marks that a person finds
			best = min(best, deciding(append(slices.Clone(have), float64(b)), radius))
		}
		// The preference for a clear place may cost a thousandth of the deviation, and the exact
		// model is not quite the oracle's linear one: 1 % of the variance for both.
		if got > best*1.01 && !sweep.Full() {
			t.Errorf("station %d at %v° leaves a variance of %.4f, best is %.4f", q.Reading.Station, q.Reading.Bearing.Degrees(), got, best)
		}
		p.answer(1)
	}
	return n
}

// straddling is a machine that stands so near to a limit that its doubt after the planned stations
// reaches across, by the share of the risk that this look may take: inside by 0.98 of what is
// needed. Twice the stations, to which 0.005 is left, need no more than 0.87 of it on
// the full circle (t(0.995, 17)/√12 against t(0.981, 11)/√6), so they are asked for. For the
// centre, whose error lies along the long axis, a half plane along it holds all but a little of
// what is beyond.
func straddling(j *setup.Job, radius bool) *ideal {
	var at []float64
	for i := range j.Sweep.Stations {
		at = append(at, float64(j.Sweep.Bearing(i)))
	}
	// Exact readings add nothing to the sum of squares, so the prior is spread over ν₀ + n − 3.
	nu := float64(8 + len(at) - 3)
	s := math.Sqrt(8/nu) * math.Hypot(0.003, 0.2*0.01/math.Sqrt(12))
	if radius {
		j.Target.CentreTolerance = 1
		return near42(j.Target.Tolerance-0.98*planned(j, nu)*s*math.Sqrt(deciding(at, true)), 0, 0)
	}
	j.Target.Tolerance = 0.5
	u := planned(j, nu) * math.Sqrt(deciding(at, false)) * s
	// The long axis of the ellipse lies along the arc's middle, or anywhere on a full circle.
	j.Target.CentreTolerance = max(0.02, 4*u)
	mid := float64(j.Sweep.From+j.Sweep.To) / 2
	e := j.Target.CentreTolerance - 0.98*u
	return near42(0, e*math.Cos(mid), e*math.Sin(mid))
}

// planned is the quantile of Student's t that the look after the planned stations needs: 0.012 on
// one side, and 0.019 of a whole round.
func planned(j *setup.Job, nu float64) float64 {
	share := 0.012
	if j.Sweep.Full() {
		share = 0.019
	}
	return distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile(1 - share)
}

// Winding is the sooner cure where no number of stations could decide, or where the sweep is
// outside already.
func TestWindsWhenThatIsSooner(t *testing.T) {
	for _, c := range []struct {
		name string
		from *ideal
		want indicator.Verdict // of the radius, when the sweep is closed
		n    int
	}{
		// Outside, and every wind known to a quarter of its tolerance: U of the radius is 3.3 µm, that
		// of the centre 4.2 µm, a quarter of either tolerance 5 µm. The sixth station is spared.
		{"outside", near42(0.1, 0, 0), indicator.Outside, 5},
		{"at the limit, where no number of stations decides", near42(0.02, 0, 0), indicator.Undecided, 6},
		{"at the other limit", near42(-0.0199, 0, 0), indicator.Undecided, 6},
	} {
		p := open(t, benchOpened(t), c.from).until(session.ForWind)
		s := p.state()
		if _, v := verdicts(t, s); v.Radius != c.want {
			t.Fatalf("%s: radius %v, want %v", c.name, v.Radius, c.want)
		}
		if s.Sweep.Closed != session.ByWind || s.Sweep.N != c.n {
			t.Errorf("%s: closed by %q with %d stations, want wind with %d", c.name, s.Sweep.Closed, s.Sweep.N, c.n)
		}
		p.until(session.ForAccept)
		if math.Abs(c.from.swing-42) > 1e-9 || !slices.Equal(c.from.turned, []string{"offset"}) {
			t.Errorf("%s: swing %v after winding %v, want 42 by the offset slide", c.name, c.from.swing, c.from.turned)
		}
	}
}

// A tolerance that the sweep cannot prove: it goes on to twice its stations, and then says so.
func TestLimit(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Target.Tolerance, j.Dial.Repeatability = 0.002, 0.01 })
	p := open(t, o, near42(0.003, 0, 0)).until(session.ForAccept)
	s := p.state()
	if s.Sweep.N != 12 || s.Sweep.Closed != session.ByLimit || s.Trial != 1 {
		t.Errorf("%d stations, closed by %q in trial %d, want 12, limit, 1", s.Sweep.N, s.Sweep.Closed, s.Trial)
	}
	if got := p.steps[len(p.steps)-1].Event; got != (session.Settled{Radius: indicator.Undecided, Centre: indicator.Inside}) {
		t.Errorf("%+v, want the radius undecided: 3 µm are less than their doubt, so the way to wind is not known", got)
	}
	p.do(session.Accept{}) // it is the person's to say

	// 5 µm become known sooner or later, and are then wound, for stations cannot cure them.
	w := near42(0.005, 0, 0)
	p = open(t, o, w).until(session.ForWind)
	f, _ := verdicts(t, p.state())
	n := p.state().Sweep.N
	if r := f.Swing(); n <= 6 || n > 12 || r.V-42 <= r.U || p.state().Sweep.Closed != session.ByWind {
		t.Errorf("%d stations, swing %+v, closed by %q, want a wind as soon as 5 µm are more than the doubt", n, r, p.state().Sweep.Closed)
	}

	// All 64 stations of the largest sweep are planned: there is no room for another.
	o = with(t, func(j *setup.Job) {
		j.Target.Tolerance, j.Dial.Repeatability, j.Sweep = 1e-4, 0.01, part200(indicator.MaxStations)
	})
	p = open(t, o, near42(0, 0, 0)).until(session.ForAccept)
	if s := p.state(); s.Sweep.N != indicator.MaxStations || s.Sweep.Closed != session.ByLimit {
		t.Errorf("%d stations, closed by %q, want 64, limit", s.Sweep.N, s.Sweep.Closed)
	}
}

// Where what limits is the reach and not the readings, the planned stations are all there is: more
// cannot help. A reach good to ±0.02 leaves U = 1.96·0.02/√3 = 0.0226, more than the tolerance of
// 0.02, and with ±0.001 the verdict is the readings'.
func TestMoreReadingsCannotHelp(t *testing.T) {
	for _, c := range []struct {
		limit  float64
		why    session.Why
		n      int
		radius indicator.Verdict
	}{{0.02, session.ByLimit, 6, indicator.Undecided}, {0.001, session.ByVerdict, 6, indicator.Inside}} {
		p := open(t, with(t, func(j *setup.Job) { j.Setup.ReachLimit = c.limit }), near42(0.003, 0, 0)).until(session.ForAccept)
		s := p.state()
		if _, v := verdicts(t, s); s.Sweep.N != c.n || s.Sweep.Closed != c.why || s.Trial != 1 || v.Radius != c.radius {
			t.Errorf("reach ±%v: %d stations, closed by %q in trial %d, radius %v, want %d, %s, 1, %v", c.limit, s.Sweep.N, s.Sweep.Closed,
				s.Trial, v.Radius, c.n, c.why, c.radius)
		}
	}
}

// Three readings without a stated repeatability know no doubt: a fourth is asked for before
// anything is wound or settled.
func TestThreeReadingsAskForAFourth(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Sweep, j.Dial.Repeatability = setup.Sweep{Stations: 3, To: 240 * geom.Degree}, 0 })
	for _, w := range []*ideal{near42(0, 0, 0), near42(0.005, 0, 0), near42(0.3, 0.1, 0)} {
		p := open(t, o, w).sweepTo(3)
		q := p.prompt()
		if q.Waits != session.ForReading || q.Reading.Station != 4 || q.Reading.Of != 4 || q.Reading.Expected.Known() {
			t.Fatalf("after three readings: %+v, want station 4 of 4, nothing expected", q)
		}
		p.until(session.ForNothing)
		if p.state().Trial > 2 {
			t.Errorf("%d trials on a machine without error, want at most 2", p.state().Trial)
		}
	}
}

// Which slides are wound, in which order and how far. The first travel of each is what the
// design says: +e for the cross slides, target − swing for the offset slide.
func TestWindsTold(t *testing.T) {
	for _, c := range []struct {
		name       string
		dr, ex, ey float64
		want       []string
	}{
		{"all three", 0.1, 0.15, -0.12, []string{"x", "y", "offset"}},
		{"y inside half of its tolerance", 0.1, 0.15, 0.003, []string{"x", "offset"}},
		{"y beyond half of its tolerance", 0.1, 0.15, 0.008, []string{"x", "y", "offset"}},
		{"swing inside half of its tolerance", 0.004, 0.15, -0.12, []string{"x", "y"}},
		{"swing beyond half of its tolerance", 0.009, 0.15, -0.12, []string{"x", "y", "offset"}},
		{"swing only", -0.2, 0, 0, []string{"offset"}},
		{"x only", 0, -0.05, 0, []string{"x"}},
		{"nothing", 0.005, 0.005, 0.005, nil},
	} {
		w := near42(c.dr, c.ex, c.ey)
		p := open(t, benchOpened(t), w).until(session.ForAccept)
		if !slices.Equal(w.turned, c.want) {
			t.Errorf("%s: wound %v, want %v", c.name, w.turned, c.want)
		}
		for _, st := range p.steps {
			told, ok := st.Event.(session.Told)
			if !ok {
				continue
			}
			want := map[string]float64{"x": c.ex, "y": c.ey, "offset": -c.dr}[told.Wind.Slide]
			if math.Abs(told.Wind.Travel-want) > 1e-9 || told.Of != len(c.want) || c.want[told.Step-1] != told.Wind.Slide {
				t.Errorf("%s: %+v, want travel %v as step of %v", c.name, told, want, c.want)
			}
		}
	}
}

// The design's own example, by collar: 0.231 is one movement of 11.55
// divisions; −0.231 is 61.55 the other way and 50 back.
func TestDesignExample(t *testing.T) {
	for _, c := range []struct {
		ex   float64
		want []float64 // divisions, + clockwise
	}{{0.231, []float64{11.55}}, {-0.231, []float64{-61.55, 50}}} {
		p := open(t, byCollar(t), near42(0, c.ex, 0)).until(session.ForWind)
		var got []float64
		for _, m := range p.prompt().Wind.Moves {
			got = append(got, float64(m.Turn)*(100*float64(m.Turns)+m.Divisions))
		}
		same := len(got) == len(c.want)
		for i := range min(len(got), len(c.want)) {
			same = same && math.Abs(got[i]-c.want[i]) < 1e-6
		}
		if p.prompt().Wind.Slide.Name != "x" || !same {
			t.Errorf("x out by %v: slide %s, divisions %v, want x, %v", c.ex, p.prompt().Wind.Slide.Name, got, c.want)
		}
	}
}

// Readings that no circle fits: the sweep goes on to its end, then asks for a new beginning, and
// an honest sweep after it settles.
func TestNoCircleFits(t *testing.T) {
	p := absurd(t).until(session.ForAgain)
	s := p.state()
	if _, err := s.Fit(); err == nil || s.Sweep.N != 12 || s.Sweep.Closed != "" {
		t.Fatalf("fit error %v, %d stations, closed by %q, want an error, 12, open", err, s.Sweep.N, s.Sweep.Closed)
	}
	p.refused(session.Enough{})
	p.refused(session.Accept{})
	p.do(session.Undo{})
	if q := p.prompt(); q.Waits != session.ForReading || q.Reading.Station != 12 {
		t.Errorf("after undo: %+v, want station 12", q)
	}
	p.answer(1)
	p.do(session.Restart{})
	p.hands = near42(0.1, 0.1, 0.1)
	p.until(session.ForNothing)

	// Nor does a sweep without readings.
	p = bench(t, 7).until(session.ForReading)
	for n := range 12 {
		if q := p.prompt(); q.Waits != session.ForReading || q.Reading.Station != n+1 || q.Reading.Of != max(6, n+1) {
			t.Fatalf("after %d skipped: %+v", n, q)
		}
		p.do(session.Skip{})
	}
	if q := p.prompt(); q.Waits != session.ForAgain {
		t.Errorf("every station skipped: %+v, want again", q)
	}
}

// Without a swing radius only the cross slides are loaded and wound, and nothing is said of it.
func TestCentreOnly(t *testing.T) {
	w := near42(0.3, 0.2, -0.1)
	p := open(t, with(t, func(j *setup.Job) { j.Target.SwingRadius, j.Target.Tolerance = 0, 0 }), w)
	if q := p.prompt(); q.Waits != session.ForLoad || q.Load.Slide.Name != "x" || q.Load.Of != 2 {
		t.Errorf("begins with %+v, want load x, 1 of 2", q)
	}
	p.until(session.ForAccept)
	if !slices.Equal(w.turned, []string{"x", "y"}) || w.swing != 42.3 || math.Hypot(w.ex, w.ey) > 1e-9 {
		t.Errorf("wound %v, swing %v, centre off %v, want x and y, swing left alone", w.turned, w.swing, math.Hypot(w.ex, w.ey))
	}
	if got := p.steps[len(p.steps)-1].Event; got != (session.Settled{Radius: indicator.NoVerdict, Centre: indicator.Inside}) {
		t.Errorf("%+v, want no verdict on the radius", got)
	}
	p.until(session.ForNothing)
}

// What a reading is expected to be: from the last sweep and the winds since, then from this one.
func TestExpected(t *testing.T) {
	w := near42(0.1, 0.15, -0.12)
	p := open(t, benchOpened(t), w).until(session.ForReading)
	for s := p.state(); s.Trial < 3 && s.Phase != session.SettledDown; s = p.state() {
		q := p.prompt()
		if q.Waits == session.ForReading {
			known := s.Trial > 1 || s.Sweep.N >= 3
			if q.Reading.Expected.Known() != known {
				t.Fatalf("trial %d, station %d: expected %v, want known %v", s.Trial, q.Reading.Station, q.Reading.Expected, known)
			}
			if got := w.reading(q.Reading.Bearing); known && math.Abs(got-q.Reading.Expected.V) > 1e-9 {
				t.Errorf("trial %d, station %d: expected %v, the machine shows %v", s.Trial, q.Reading.Station, q.Reading.Expected.V, got)
			}
			// 0.15 mm by collar are in doubt by 3 µm and more: a fiftieth.
			if known && s.Trial > 1 && s.Sweep.N < 3 && q.Reading.Expected.U < 0.15/50 {
				t.Errorf("trial %d, station %d: doubt %v after winding, want the winds' in it", s.Trial, q.Reading.Station,
					q.Reading.Expected.U)
			}
		}
		p.answer(1)
	}
}
