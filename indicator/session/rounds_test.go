package session_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// lobedBore is a reference of our own: its wall runs at 30 + a·cos(kφ + φ0) about (x, y), and is met by following the ray from the
// axis until it is through. The arm of 42 and a reach of −12 put the dial's zero 30 away.
type lobedBore struct {
	a, phase, x, y float64
	k              int
}

func (l lobedBore) reading(at geom.Bearing) float64 {
	s, c := math.Sincos(float64(at))
	near, far := 0.0, 60.0
	for range 60 {
		d := (near + far) / 2
		x, y := d*c-l.x, d*s-l.y
		if math.Hypot(x, y) < 30+l.a*math.Cos(float64(l.k)*math.Atan2(y, x)+l.phase) {
			near = d
		} else {
			far = d
		}
	}
	return 30 - near
}

// sweepOf takes a sweep of it until the program closes it; blamed counts the slips that a reader is accused of.
func sweepOf(t *testing.T, o session.Opened, l lobedBore, rng *rand.Rand) (s session.State, v indicator.Verdicts, blamed int) {
	t.Helper()
	s = session.State{}.Apply(o)
	for range o.Job.Needs() {
		s = s.Apply(session.Loaded{})
	}
	accused := func(c indicator.Cause) {
		if c != indicator.NoCause && c != indicator.FormCause {
			blamed++
		}
	}
	for range 200 {
		if e, due := session.Follow(s); due {
			if d, ok := e.(session.Doubted); ok {
				accused(d.Because)
			}
			if s = s.Apply(e); s.Sweep.Closed != "" {
				f, err := s.Fit()
				if err != nil {
					t.Fatal(err)
				}
				return s, s.Judge(&f), blamed
			}
			continue
		}
		b, ok := s.NextBearing()
		if !ok {
			t.Fatalf("no station is asked for after %d", s.Sweep.N)
		}
		e, err := session.Decide(s, session.Take{Reading: l.reading(b) + 0.001*rng.NormFloat64()})
		if err != nil {
			t.Fatal(err)
		}
		s = s.Apply(e)
		for i := range s.Sweep.Stations[:s.Sweep.N] {
			if st := &s.Sweep.Stations[i]; st.Surprise {
				accused(st.Because)
			}
		}
	}
	t.Fatal("the sweep does not end")
	return s, v, 0
}

// ruled is the bench with so many stations, a repeatability of 0.001, and the rules of today or of old.
func ruled(t *testing.T, stations, rules int) session.Opened {
	o := benchOpened(t)
	o.Job.Sweep = wholeRound(stations)
	o.Job.Setup.Touch, o.Job.Setup.ReferenceRadius, o.Job.Setup.Reach = indicator.Bore, 30, -12
	o.Job.Dial.Repeatability, o.Rules = 0.001, rules
	return o
}

// Ovals and three lobes of 0.010 in any phase, the centre a tenth beyond its tolerance in any direction: however many stations the job
// asks for, nothing is called inside and nobody is blamed. By the rules of old four stations are fooled, and so are readers.
func TestLobesAreNotCalledInside(t *testing.T) {
	fooled, blamedOfOld := 0, 0
	for _, rules := range []int{0, 1} {
		for _, n := range []int{4, 5, 6, 7, 8, 12} {
			for _, k := range []int{2, 3} {
				rng := rand.New(rand.NewPCG(uint64(n), uint64(k)))
				for i := range 60 {
					o := ruled(t, n, rules)
					out, way := 1.1*o.Job.Target.CentreTolerance, 2*math.Pi*float64(i)/12
					l := lobedBore{a: 0.010, k: k, phase: 2 * math.Pi * float64(i) / 60, x: out * math.Cos(way), y: out * math.Sin(way)}
					s, v, blamed := sweepOf(t, o, l, rng)
					switch inside := v.Centre == indicator.Inside; {
					case rules == 0 && inside:
						fooled++
					case inside:
						t.Errorf("%d stations, %d lobes, %d: %v out and inside after %d entries", n, k, i, out, s.Sweep.N)
					}
					switch {
					case rules == 0:
						blamedOfOld += blamed
					case blamed > 0:
						t.Errorf("%d stations, %d lobes, %d: a reader is blamed", n, k, i)
					}
				}
			}
		}
	}
	if fooled == 0 || blamedOfOld == 0 {
		t.Errorf("by the rules of old %d called inside and %d blamed: nothing is tried", fooled, blamedOfOld)
	}
}

// What lies at a limit is called inside in at most 2.5 % of sweeps of whole rounds too; the allowance is three binomial standard
// deviations.
func TestFalseInsideOfRounds(t *testing.T) {
	const runs = 500
	for _, stated := range []bool{true, false} {
		for _, n := range []int{5, 6, 8} {
			t.Run(fmt.Sprintf("%d stations, stated %v", n, stated), func(t *testing.T) {
				base := ruled(t, n, 1)
				lim, rng := base.Job.Target, rand.New(rand.NewPCG(91, uint64(n)))
				d := drawing{sweep: wholeRound(n), sigma: 0.003, step: 0.002, stated: stated}
				var radius, centre share
				for range runs {
					d.dr, d.e, d.at = lim.Tolerance, lim.CentreTolerance, 2*math.Pi*rng.Float64()
					l := d.run(t, rng, base, nil)
					radius.add(l.v.Radius == indicator.Inside)
					centre.add(l.v.Centre == indicator.Inside)
				}
				t.Logf("called inside at the limit: radius %.2f %%, centre %.2f %%", 100*radius.of(), 100*centre.of())
				for what, s := range map[string]share{"radius": radius, "centre": centre} {
					if float64(s.yes) > s.most(indicator.FixedTail) {
						t.Errorf("%s: %d of %d at the limit called inside, want at most 2.5 %%", what, s.yes, s.all)
					}
				}
			})
		}
	}
}

// Whatever the job says, a whole round is planned as five to eight even stations, and as five after a wind; a part of a round, an
// obstacle, and a setting of old are planned as the job says.
func TestRoundsArePlannedEvenly(t *testing.T) {
	for _, c := range []struct{ stated, first int }{{3, 5}, {4, 5}, {5, 5}, {6, 6}, {7, 7}, {8, 8}, {9, 8}, {24, 8}} {
		o := ruled(t, c.stated, 1)
		p := open(t, o, practice.New(practice.Bench(7), 7)).until(session.ForReading)
		if got := p.prompt().Reading.Of; got != c.first {
			t.Errorf("%d stations: first planned as %d, want %d", c.stated, got, c.first)
		}
		for p.state().Trial == 1 {
			p.answer(1)
		}
		p.until(session.ForReading)
		if got := p.prompt().Reading.Of; got != 5 {
			t.Errorf("%d stations: after a wind planned as %d, want 5", c.stated, got)
		}
	}
	old := session.State{}.Apply(ruled(t, 12, 0))
	if got := old.Plan().Stations; got != 12 {
		t.Errorf("a setting of old plans %d of 12", got)
	}
	arc := ruled(t, 12, 1)
	arc.Job.Sweep = part200(12)
	if s := (session.State{}).Apply(arc); s.Plan().Stations != 12 {
		t.Errorf("a part of a round plans %d of 12", s.Plan().Stations)
	}
}

// Five stations that leave it open are followed by the five between them, and "inside" waits for the last of these.
func TestFurtherStationsStandBetween(t *testing.T) {
	o := ruled(t, 5, 1)
	o.Job.Dial.Repeatability = 0.006
	found := false
	for i := range 40 {
		rng := rand.New(rand.NewPCG(17, uint64(i)))
		l := lobedBore{x: 0.011}
		s, v, _ := sweepOf(t, o, l, rng)
		if v.Centre != indicator.Inside || s.Sweep.N == 5 {
			continue
		}
		found = true
		if s.Sweep.N != 10 {
			t.Fatalf("inside after %d stations, want 5 or 10", s.Sweep.N)
		}
		for j, st := range s.Sweep.Stations {
			want := 72 * float64(j)
			if j >= 5 {
				want = 36 + 72*float64(j-5)
			}
			if math.Abs(st.Bearing.Degrees360()-want) > 1e-9 {
				t.Fatalf("station %d at %v°, want %v°", j+1, st.Bearing.Degrees360(), want)
			}
		}
	}
	if !found {
		t.Error("no sweep went on to a second round and was inside")
	}
}
