package session_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// doubts returns the doubts that were raised, in order.
func (p *player) doubts() (out []session.Doubted) {
	for _, st := range p.steps {
		if d, ok := st.Event.(session.Doubted); ok {
			out = append(out, d)
		}
	}
	return out
}

// misread is a session on an ideal machine, whose stations (from 1) are misread in the first sweep.
func misread(t testing.TB, o session.Opened, w *ideal, slips map[int]func(float64) float64) *player {
	t.Helper()
	p := open(t, o, w).until(session.ForReading)
	for s := p.state(); s.Doubt == nil; s = p.state() {
		if s.Sweep.Closed != "" {
			t.Fatalf("closed by %q with a misread in it", s.Sweep.Closed)
		}
		if slip := slips[s.Sweep.N+1]; slip != nil {
			p.slip(slip)
			continue
		}
		p.answer(1)
	}
	return p
}

// slips are the four that have a name and one that has none. Readings lie about −0.3, so that a
// revolution stays on the dial.
var slips = []struct {
	because indicator.Cause
	change  func(float64) float64
}{
	{indicator.Revolution, func(r float64) float64 { return r + 1 }},
	{indicator.TenDivisions, func(r float64) float64 { return r + 0.1 }},
	{indicator.TenDivisions, func(r float64) float64 { return r - 0.1 }},
	{indicator.SignTurned, func(r float64) float64 { return -r }},
	{indicator.UnknownCause, func(r float64) float64 { return r + 0.237 }},
}

// A gross misread at any station leads to a doubt of that station with its cause, and to no other;
// read once more, it is as if it had not been; and both readings stay in the journal.
func TestMisreadIsReadAgain(t *testing.T) {
	for _, stations := range []int{6, 8} {
		o := with(t, func(j *setup.Job) { j.Sweep.Stations = stations })
		for _, slip := range slips {
			for station := 1; station <= stations; station++ {
				// Five readings without it would close the sweep: the last station is not even read.
				if station > 5 {
					o.Job.Target.Tolerance, o.Job.Target.CentreTolerance = 0.01, 0.01
				} else {
					o.Job.Target.Tolerance, o.Job.Target.CentreTolerance = 0.02, 0.02
				}
				name := fmt.Sprintf("%d stations, %s at %d", stations, slip.because, station)
				w := near42(-0.3, 0.02, -0.01)
				p := misread(t, o, w, map[int]func(float64) float64{station: slip.change})
				s := p.state()
				right := w.reading(s.Sweep.Stations[station-1].Bearing)
				d := *s.Doubt
				if d.Station != station || d.Because != slip.because || (d.WouldBe != nil) != (slip.because != indicator.UnknownCause) {
					t.Fatalf("%s: doubted %+v", name, d)
				}
				if d.WouldBe != nil && math.Abs(*d.WouldBe-right) > 1e-9 {
					t.Errorf("%s: would be %v, the needle stood at %v", name, *d.WouldBe, right)
				}
				q := p.prompt()
				if !q.Reading.Again || q.Waits != session.ForReading || q.Reading.Station != station ||
					q.Reading.Bearing != s.Sweep.Stations[station-1].Bearing || math.Abs(q.Reading.Expected.V-right) > 1e-9 {
					t.Errorf("%s: asks %+v, want the station once more, expecting %v", name, q, right)
				}
				n := s.Sweep.N
				p.answer(1)
				s = p.state()
				st := s.Sweep.Stations[station-1]
				if s.Sweep.N != n || st.Reading != right || !st.Asked || st.Surprise || s.Doubt != nil {
					t.Errorf("%s: after reading again %d entries, station %+v, doubt %v", name, s.Sweep.N, st, s.Doubt)
				}
				if s.Sweep.Closed != session.ByWind || len(p.doubts()) != 1 {
					t.Errorf("%s: closed by %q after %d doubts, want wind after one", name, s.Sweep.Closed, len(p.doubts()))
				}
				p.until(session.ForNothing)
				if math.Abs(w.swing-42) > 1e-9 {
					t.Errorf("%s: swing %v in the end", name, w.swing)
				}
				both := readingsOf(t, p, q.Reading.Bearing)
				if !slices.Contains(both, right) || !slices.Contains(both, slip.change(right)) {
					t.Errorf("%s: the journal has %v of the station, want %v and %v", name, both, slip.change(right), right)
				}
			}
		}
	}
}

// readingsOf lists what the journal has of one bearing.
func readingsOf(t testing.TB, p *player, b geom.Bearing) (out []float64) {
	t.Helper()
	for _, e := range events(t, p.mem.Lines) {
		if took, ok := e.(session.Took); ok && took.Bearing == b {
			out = append(out, took.Reading)
		}
	}
	return out
}

// keep keeps the reading, silences the doubt, and the reading stays a suspect of the fit; skip leaves
// it out; each is taken back by undo, and both stay in the journal.
func TestMisreadKeptOrSkipped(t *testing.T) {
	slip := map[int]func(float64) float64{3: func(r float64) float64 { return r + 0.1 }}
	begin := func() *player { return misread(t, benchOpened(t), near42(-0.3, 0.02, -0.01), slip) }
	read := func(p *player) session.Station { s := p.state(); return s.Sweep.Stations[2] }

	p := begin()
	doubt := p.state()
	for _, c := range []session.Command{session.Keep{}, session.Skip{}, session.Skip{Off: session.Free}, session.Take{Reading: -0.25}} {
		p.do(c)
		if s := p.state(); s.Doubt != nil {
			t.Errorf("%T: still in doubt", c)
		}
		p.do(session.Undo{})
		wantSame(t, fmt.Sprintf("%T taken back", c), timeless(p.state()), timeless(doubt))
	}
	// Undo once more takes back the last reading, and with it the doubt it raised.
	n := p.state().Sweep.N
	p.do(session.Undo{})
	if s := p.state(); s.Doubt != nil || s.Sweep.N != n-1 || read(p).Asked {
		t.Errorf("the reading before the doubt taken back: %d entries, doubt %v", s.Sweep.N, s.Doubt)
	}

	p = begin()
	wrong := read(p).Reading
	p.do(session.Keep{})
	for s := p.state(); s.Phase == session.Sweeping && s.Sweep.Closed == ""; s = p.state() {
		p.answer(1)
	}
	s := p.state()
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	suspects := s.Suspects(&f)
	if st := read(p); !st.Kept || st.Reading != wrong || len(p.doubts()) != 1 {
		t.Errorf("kept: station %+v, %d doubts", st, len(p.doubts()))
	}
	if len(suspects) != 1 || suspects[0].Index != 2 || suspects[0].Because != indicator.TenDivisions {
		t.Errorf("kept: suspects of the closed sweep are %+v, want station 3, ten divisions", suspects)
	}
	if all := readingsOf(t, p, read(p).Bearing); !slices.Contains(all, wrong) {
		t.Errorf("kept: the journal has %v", all)
	}

	p = begin()
	at := read(p).Bearing
	p.do(session.Skip{})
	s = p.state()
	if st := read(p); !st.Skipped || s.Sweep.N != 6 || s.Sweep.Readings() != 5 || s.Sweep.Closed != session.ByWind {
		t.Errorf("skipped: station %+v, %d readings of %d, closed by %q", st, s.Sweep.Readings(), s.Sweep.N, s.Sweep.Closed)
	}
	if all := readingsOf(t, p, at); !slices.Equal(all, []float64{wrong}) {
		t.Errorf("skipped: the journal has %v, want %v", all, wrong)
	}
	p.until(session.ForNothing)

	// Without a doubt there is nothing to keep.
	if r := bench(t, 7).until(session.ForReading).refused(session.Keep{}); r.Because != "no reading is in doubt" {
		t.Errorf("%q", r.Because)
	}
	// enough and again end the doubt too.
	p = begin()
	p.do(session.Enough{})
	if s := p.state(); s.Doubt != nil || s.Sweep.Closed != session.ByPerson {
		t.Errorf("enough: doubt %v, closed by %q", s.Doubt, s.Sweep.Closed)
	}
	p = begin()
	p.do(session.Restart{})
	if s := p.state(); s.Doubt != nil || s.Sweep.N != 0 || p.prompt().Reading.Again {
		t.Errorf("again: doubt %v, %d entries", s.Doubt, s.Sweep.N)
	}
}

// A proposed value that is taken and the same value read again are two things: one hand looked at the
// dial, the other did not. The journal tells them apart, and the state is the same.
func TestCorrectedIsNotReadAgain(t *testing.T) {
	begin := func(slip float64) *player {
		return misread(t, benchOpened(t), near42(-0.3, 0.02, -0.01),
			map[int]func(float64) float64{3: func(r float64) float64 { return r + slip }})
	}
	took := func(p *player) session.Took {
		for _, e := range slices.Backward(events(t, p.mem.Lines)) {
			if x, ok := e.(session.Took); ok {
				return x
			}
		}
		return session.Took{}
	}
	p, q := begin(0.1), begin(0.1)
	would := *p.prompt().Reading.Doubt.WouldBe
	p.do(session.Correct{})
	q.do(session.Take{Reading: would})
	if a, b := took(p), took(q); !a.Corrected || b.Corrected || a.Again != 3 || b.Again != 3 || a.Reading != would {
		t.Errorf("corrected %+v, read again %+v; want station 3 at %v in both, the first one corrected", a, b, would)
	}
	wantSame(t, "corrected, and read again", shown(p.state()), shown(q.state()))

	if r := begin(0.237).refused(session.Correct{}); r.Because != "no value is proposed for station 3" {
		t.Errorf("without a cause: %q", r.Because)
	}
}

// What is wrong the second time too is not asked for a third time, and stays a suspect.
func TestMisreadTwiceAtOneStation(t *testing.T) {
	p := misread(t, benchOpened(t), near42(-0.3, 0.02, -0.01), map[int]func(float64) float64{3: func(r float64) float64 { return r + 0.1 }})
	p.slip(func(r float64) float64 { return r + 0.1 })
	for s := p.state(); s.Phase == session.Sweeping && s.Sweep.Closed == ""; s = p.state() {
		if s.Doubt != nil {
			t.Fatalf("station %d is doubted", s.Doubt.Station)
		}
		p.answer(1)
	}
	s := p.state()
	f, _ := verdicts(t, s)
	if x := s.Suspects(&f); len(x) != 1 || x[0].Index != 2 {
		t.Errorf("suspects %+v, want station 3", x)
	}
}

// Two misreads in eight stations are doubted one after the other; so are two neighbours entered in
// each other's place, which are called swapped as long as both are.
func TestTwoMisreads(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Sweep.Stations = 8 })
	for i := 1; i <= 8; i++ {
		for j := i + 1; j <= 8; j++ {
			w := near42(-0.3, 0.02, -0.01)
			// Eight stations round with less than the five first readings can settle.
			o.Job.Target.Tolerance, o.Job.Target.CentreTolerance = 0.008, 0.008
			p := misread(t, o, w, map[int]func(float64) float64{i: slips[1].change, j: slips[0].change})
			p.answer(2)
			d := p.doubts()
			if len(d) != 2 || d[0].Station != i || d[1].Station != j || d[0].Because != indicator.TenDivisions ||
				d[1].Because != indicator.Revolution {
				t.Errorf("ten divisions at %d, a revolution at %d: doubted %+v", i, j, d)
			}
			if s := p.state(); s.Sweep.Closed != session.ByWind {
				t.Errorf("ten divisions at %d, a revolution at %d: closed by %q", i, j, s.Sweep.Closed)
			}
		}
	}
	for i := 1; i <= 7; i++ {
		w := near42(-0.3, 0.2, -0.15)
		at := func(station int) float64 { return w.reading(o.Job.Sweep.Bearing(station - 1)) }
		if math.Abs(at(i)-at(i+1)) < 0.05 {
			continue
		}
		swap := map[int]func(float64) float64{i: func(float64) float64 { return at(i + 1) }, i + 1: func(float64) float64 { return at(i) }}
		p := misread(t, o, w, swap)
		if d := p.state().Doubt; d.Station != i || d.Because != indicator.Swapped || d.WouldBe == nil || math.Abs(*d.WouldBe-at(i)) > 1e-9 {
			t.Errorf("%d and %d swapped: doubted %+v", i, i+1, d)
		}
		p.answer(2)
		if d := p.doubts(); len(d) != 2 || d[1].Station != i+1 {
			t.Errorf("%d and %d swapped: doubted %+v", i, i+1, d)
		}
		if s := p.state(); s.Sweep.Closed != session.ByWind {
			t.Errorf("%d and %d swapped: closed by %q", i, i+1, s.Sweep.Closed)
		}
	}
}

// A reading that is off by more than chance is a surprise when it is entered, with the slip that
// would explain it; one that is not, is none.
func TestSurprise(t *testing.T) {
	for _, slip := range slips {
		for _, station := range []int{4, 5} {
			w := near42(-0.3, 0.02, -0.01)
			p := open(t, benchOpened(t), w).sweepTo(station - 1)
			for i := range station - 1 {
				if s := p.state(); s.Sweep.Stations[i].Surprise {
					t.Errorf("station %d of a machine without error is a surprise", i+1)
				}
			}
			p.slip(slip.change)
			s := p.state()
			st := s.Sweep.Stations[station-1]
			right := w.reading(st.Bearing)
			if !st.Surprise || st.Because != slip.because || math.Abs(st.OffBy.V-(slip.change(right)-right)) > 1e-9 {
				t.Errorf("%s at %d: %+v", slip.because, station, st)
			}
			if known := !math.IsNaN(st.WouldBe); known != (slip.because != indicator.UnknownCause) || known &&
				math.Abs(st.WouldBe-right) > 1e-9 {
				t.Errorf("%s at %d: would be %v, the needle stood at %v", slip.because, station, st.WouldBe, right)
			}
		}
	}
	// After winds too, from the last sweep and what was wound.
	w := near42(-0.3, 0.02, -0.01)
	p := open(t, benchOpened(t), w).until(session.ForWind).until(session.ForReading)
	p.slip(slips[1].change)
	if s := p.state(); s.Trial != 2 || !s.Sweep.Stations[0].Surprise || s.Sweep.Stations[0].Because != indicator.TenDivisions {
		t.Errorf("first reading of trial %d: %+v", s.Trial, s.Sweep.Stations[0])
	}
}

// A clean sweep raises a doubt in at most one of a hundred, and a clean reading is a surprise in
// fewer than one of a thousand (surpriseAlarm is half of that). Seeds are fixed: no allowance.
func TestCleanSweepsAreNotDoubted(t *testing.T) {
	base := benchOpened(t)
	for _, stated := range []bool{true, false} {
		for _, sweep := range []setup.Sweep{wholeRound(6), wholeRound(12), part200(8)} {
			sigma := 0.003
			if sweep.Stations == 6 {
				sigma = 0.006 // or most sweeps are over after five, before anything is doubted
			}
			rng := rand.New(rand.NewPCG(71, uint64(sweep.Stations)))
			d := drawing{sweep: sweep, sigma: sigma, step: 0.002, stated: stated}
			var doubted, surprised share
			for range 2000 {
				d.dr, d.e, d.at = 0.05*rng.NormFloat64(), 0.05*rng.Float64(), 2*math.Pi*rng.Float64()
				l := d.run(t, rng, base, nil)
				asked := false
				for _, st := range l.state.Sweep.Stations[:l.state.Sweep.N] {
					asked = asked || st.Asked
					surprised.add(st.Surprise)
				}
				doubted.add(asked)
			}
			t.Logf("stated %v, %d stations: doubts in %.2f %% of sweeps, %.3f %% of readings a surprise", stated, sweep.Stations,
				100*doubted.of(), 100*surprised.of())
			if doubted.of() > 0.01 {
				t.Errorf("stated %v, %d stations: doubts in %d of %d clean sweeps, want at most one of a hundred", stated, sweep.Stations,
					doubted.yes, doubted.all)
			}
			if float64(surprised.yes) > surprised.most(0.001) {
				t.Errorf("stated %v, %d stations: %d of %d clean readings were a surprise", stated, sweep.Stations, surprised.yes,
					surprised.all)
			}
		}
	}
}
