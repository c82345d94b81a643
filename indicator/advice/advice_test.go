package advice_test

import (
	"math"
	"slices"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// ring is a bore of 30 round which a tip runs at 30 where the dial reads zero: a swing radius of 42 with a reach of −12.
var (
	bore = indicator.Setup{Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true}
	dial = indicator.Dial{Graduation: 0.01, ReadsTo: 0.2, From: -0.8, To: 0.8, Repeatability: 0.002}
)

// wall is the wall's distance from the axis along a bearing, where the bore's centre lies at e: the positive root of
// |d·u − e| = ρ.
func wall(e geom.Point, b geom.Bearing) float64 {
	u := b.Unit()
	along, across := e.X*u.X+e.Y*u.Y, e.Y*u.X-e.X*u.Y
	return along + math.Sqrt(30*30-across*across)
}

// reads is what the dial shows in a bore there, the tip at 30 where it reads zero: a nearer wall presses it.
func reads(e geom.Point, b geom.Bearing) float64 { return 30 - wall(e, b) }

// swept is the fit of n even stations of a bore whose centre lies at e.
func swept(t *testing.T, e geom.Point, n int) indicator.Estimate {
	t.Helper()
	var at []geom.Bearing
	var readings []float64
	for i := range n {
		b := geom.FromDegrees(360 * float64(i) / float64(n))
		at, readings = append(at, b), append(readings, reads(e, b))
	}
	f, err := indicator.Fit(dial, bore, at, readings)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func screw(name string) slide.Slide {
	return slide.Slide{Name: name, TravelPerTurn: 2, Divisions: 100, Clockwise: slide.Increase, TakeUp: slide.Increase,
		Figures: slide.Clockwise, Backlash: 0.1}
}

// Whatever a job plans, the looks follow one another and together take no more of the risk than a single one may: the
// union bound, by which the promise holds however they depend on each other.
func TestLooksShareTheRisk(t *testing.T) {
	for way := range 2 * (indicator.MaxStations + 1) {
		planned, rounds := way/2, way%2 == 1
		if planned < fit.MinStations {
			continue
		}
		for fewest := fit.MinStations; fewest <= planned; fewest++ {
			l := advice.Looks{Fewest: fewest, Planned: planned, Limit: advice.Limit(planned), Rounds: rounds}
			sum, n, last := 0.0, 0, 0.0
			for entries := 1; entries <= l.Limit; entries++ {
				if look, now := l.At(entries); now {
					sum, n, last = sum+look.Tail, n+1, look.Tail
				}
			}
			if past, now := l.At(l.Limit + 1); !now || past.Tail > last {
				t.Fatalf("fewest %d of %d, rounds %v: past the limit a look takes %v (%v), need no more than the last one's %v", fewest, planned,
					rounds, past.Tail, now, last)
			}
			if sum > indicator.FixedTail+1e-12 || sum <= 0 || n < 1 {
				t.Fatalf("fewest %d of %d, rounds %v: %d looks take %v, need at most %v", fewest, planned, rounds, n, sum,
					indicator.FixedTail)
			}
			if _, now := l.At(planned); !now {
				t.Fatalf("fewest %d of %d: no look at the planned stations", fewest, planned)
			}
		}
	}
}

// Two slides that stand askew, each by its own row, bring the axis to the centre: their directions times their travels make e,
// on a table −e.
func TestCrossSlidesCure(t *testing.T) {
	e := geom.Point{X: 0.31, Y: -0.17}
	for _, onTable := range []bool{false, true} {
		names := [2]string{"x", "y"}
		sign := 1.0
		if onTable {
			names, sign = [2]string{"table_x", "table_y"}, -1
		}
		c := advice.Cross{Names: names, Askew: [2]float64{0.03, -0.2}, OnTable: onTable}
		got := geom.Point{}
		for i, a := range c.Askew {
			travel := c.Row(i).X*e.X + c.Row(i).Y*e.Y
			s, cos := math.Sincos(a)
			along := [2]geom.Point{{X: cos, Y: s}, {X: -s, Y: cos}}[i] // X, and Y, turned by a counter-clockwise
			got = geom.Point{X: got.X + travel*along.X, Y: got.Y + travel*along.Y}
		}
		if math.Hypot(got.X-sign*e.X, got.Y-sign*e.Y) > 1e-12 {
			t.Errorf("on a table %v: the slides go %v, want %v times %v", onTable, got, sign, e)
		}
	}
}

// The goal of a parked wind is what the dial will show there by geometry: the axis carried over by the travel, and the bearing
// one at which the slide acts fully.
func TestParkedGoalIsGeometry(t *testing.T) {
	e := geom.Point{X: 0.231, Y: 0}
	f := swept(t, e, 8)
	sl := screw("x")
	cross := advice.Cross{Names: [2]string{"x", "y"}}
	axis, _ := cross.Axis("x")
	marks := func(yield func(geom.Bearing) bool) {
		for d := 0.0; d < 360 && yield(geom.FromDegrees(d)); d += 15 {
		}
	}
	p := advice.Parking{Dial: dial, Circle: &f, Slide: sl, Axis: axis, By: indicator.Value{V: e.X, U: 0.002}, Marks: marks,
		Reached: func(b geom.Bearing) bool { return b.Degrees360() > 90 }} // not at 0
	w, park := p.Place()
	if park == nil || math.Abs(math.Abs(park.Act)-1) > 1e-3 {
		t.Fatalf("parked at %+v, want where the slide acts fully", park)
	}
	if park.Bearing.Degrees360() != 180 {
		t.Errorf("parked at %v°, want 180: at 0 the handwheel is out of reach", park.Bearing.Degrees360())
	}
	now, goal := reads(e, park.Bearing), reads(geom.Point{}, park.Bearing)
	if math.Abs(park.Now-now) > 1e-9 || math.Abs(park.Goal-goal) > 1e-9 {
		t.Errorf("from %v to %v, want %v to %v", park.Now, park.Goal, now, goal)
	}
	if math.Abs(w.Travel-e.X) > 1e-12 {
		t.Errorf("travel %v, want %v", w.Travel, e.X)
	}
	p.Reached = func(geom.Bearing) bool { return false }
	if _, park := p.Place(); park != nil {
		t.Errorf("parked at %v where no handwheel can be reached", park.Bearing)
	}
}

// Four readings of half a circle leave the centre's Y least known: the next one goes to the other half, where nobody has read,
// and not on an obstacle.
func TestNextStationGoesAcross(t *testing.T) {
	var at []geom.Bearing
	var readings []float64
	for _, d := range []float64{30, 70, 110, 150} {
		at, readings = append(at, geom.FromDegrees(d)), append(readings, reads(geom.Point{}, geom.FromDegrees(d)))
	}
	f, err := indicator.Fit(dial, bore, at, readings)
	if err != nil {
		t.Fatal(err)
	}
	far := func(b geom.Bearing) float64 { return advice.Nearest(b, at) }
	undecided := indicator.Verdicts{Radius: indicator.Undecided, Centre: indicator.Undecided}
	all := func(yield func(geom.Bearing) bool) {
		for d := 0.0; d < 360 && yield(geom.FromDegrees(d)); d += 15 {
		}
	}
	if b := advice.NextStation(&f, undecided, all, far); b.Degrees360() != 270 {
		t.Errorf("next at %v°, want 270: across from the middle of those that were read", b.Degrees360())
	}
	few := slices.Values([]geom.Bearing{geom.FromDegrees(90), geom.FromDegrees(200)})
	if b := advice.NextStation(&f, undecided, few, far); b.Degrees360() != 200 {
		t.Errorf("next at %v°, want 200 of 90 and 200", b.Degrees360())
	}
}

// A slide is left alone inside half its tolerance, below what a hand sets, and where nobody knows which way.
func TestWorth(t *testing.T) {
	for _, c := range []struct {
		name    string
		by, u   float64
		verdict indicator.Verdict
		want    bool
	}{
		{"far out", 0.2, 0.005, indicator.Outside, true},
		{"inside half", 0.004, 0.005, indicator.Undecided, false},
		{"less than a hand sets", 0.0019, 0.2, indicator.Outside, false},
		{"either way", 0.02, 0.03, indicator.Undecided, false},
		{"either way, proven", 0.02, 0.03, indicator.Outside, true},
		{"not known", math.NaN(), 0.01, indicator.Outside, false},
	} {
		e := advice.Task{Slide: screw("x"), Travel: indicator.Value{V: c.by, U: c.u}, Half: 0.01, Verdict: c.verdict}
		if e.Worth() != c.want {
			t.Errorf("%s: %v ±%v, worth %v, want %v", c.name, c.by, c.u, !c.want, c.want)
		}
	}
}

// X was to be carried by 0.2 over the work, and the centre went 0.2 the other way: its handwheel is stated wrong. Y went as told.
func TestReversedSlideIsSuspected(t *testing.T) {
	then, now := swept(t, geom.Point{X: 0.2, Y: 0.1}, 8), swept(t, geom.Point{X: 0.4, Y: 0}, 8)
	cross := advice.Cross{Names: [2]string{"x", "y"}}
	wind := func(name string, by float64) advice.Pushed {
		a, _ := cross.Axis(name)
		aside, askew := cross.Aside(name)
		return advice.Push(name, a, aside, by, 0.003, askew, false)
	}
	a := advice.Astray{Then: &then, Now: &now, Winds: []advice.Pushed{wind("x", 0.2), wind("y", 0.1)}, Cross: &cross}
	x, ok := a.Explain()
	if !ok || len(x.Suspects) == 0 || x.Suspects[0].Fault != advice.ScrewFault || !slices.Equal(x.Suspects[0].Slides, []string{"x"}) {
		t.Fatalf("%+v (%v), want clockwise of x", x.Suspects, ok)
	}
	if math.Abs(x.Should[1]+0.2) > 1e-9 || math.Abs(x.Went[1]-0.2) > 1e-6 {
		t.Errorf("should have gone %v, went %v; want −0.2 and 0.2 in x", x.Should, x.Went)
	}
	a.Winds = []advice.Pushed{wind("x", -0.2), wind("y", 0.1)}
	if x, ok := a.Explain(); ok {
		t.Errorf("%+v suspected where all went as told", x.Suspects)
	}
}

// X was to be carried by 0.2 under the needle, and the hand stopped it, unread, half as far the other way: its sense, or
// the touch, is stated wrong, and it did not stand still. Where nothing moved at all, it stood still, and no sense is wrong.
func TestStoppedSlideIsSuspected(t *testing.T) {
	cross := advice.Cross{Names: [2]string{"x", "y"}}
	a, _ := cross.Axis("x")
	aside, askew := cross.Aside("x")
	wind := advice.Push("x", a, aside, 0.2, 0.03, askew, false)
	wind.Watched = true
	for _, c := range []struct {
		name string
		to   float64
		want []advice.Fault
		not  []advice.Fault
	}{
		{"half as far back", 0.3, []advice.Fault{advice.ScrewFault, advice.TouchFault}, []advice.Fault{advice.UnmovedFault}},
		{"stood still", 0.2, []advice.Fault{advice.UnmovedFault}, []advice.Fault{advice.ScrewFault, advice.TouchFault}},
	} {
		then, now := swept(t, geom.Point{X: 0.2}, 8), swept(t, geom.Point{X: c.to}, 8)
		x, _ := (&advice.Astray{Then: &then, Now: &now, Winds: []advice.Pushed{wind}, Cross: &cross}).Explain()
		has := func(f advice.Fault) bool {
			return slices.ContainsFunc(x.Suspects, func(s advice.Suspect) bool { return s.Fault == f })
		}
		for _, f := range c.want {
			if !has(f) {
				t.Errorf("%s: %+v, want %v among them", c.name, x.Suspects, f)
			}
		}
		for _, f := range c.not {
			if has(f) {
				t.Errorf("%s: %+v, want no %v", c.name, x.Suspects, f)
			}
		}
	}
}

// A sweep that is open stops at a look only: before its planned stations where the answer is clear, and at the limit in any case.
func TestOpenSweepCloses(t *testing.T) {
	f := swept(t, geom.Point{}, 6)
	judged := indicator.Verdicts{Radius: indicator.Inside, Centre: indicator.Inside}
	o := advice.Open{Looks: advice.Looks{Fewest: 5, Planned: 6, Limit: 12}, Entries: 6,
		Judge: func(*indicator.Estimate, float64) indicator.Verdicts { return judged },
		Tasks: func(*indicator.Estimate, indicator.Verdicts) []advice.Task { return nil }}
	if got := o.Close(&f); got != advice.Decided {
		t.Errorf("all inside: %v, want decided", got)
	}
	if o.Entries = 7; o.Close(&f) != advice.GoOn {
		t.Error("closed between two looks")
	}
	judged.Radius, o.Entries = indicator.Outside, 6
	if got := o.Close(&f); got != advice.ToWind {
		t.Errorf("outside: %v, want to wind", got)
	}
	judged.Radius, o.Entries, o.Full = indicator.Undecided, 12, true
	if got := o.Close(&f); got != advice.AtLimit {
		t.Errorf("undecided at the limit: %v", got)
	}
}

// A bore whose centre lies 0.03 aside 30 higher up leans by a thousandth; one that was swept at one height only says nothing.
func TestLean(t *testing.T) {
	low, high := swept(t, geom.Point{X: 0.1}, 8), swept(t, geom.Point{X: 0.13}, 8)
	per, u, ok := advice.Lean(&low, &high, 30)
	if !ok || math.Abs(per.X-0.001) > 1e-7 || math.Abs(per.Y) > 1e-7 || !(u > 0) || u > 0.001 {
		t.Errorf("leans by %v ±%v (%v), want 0.001 along X", per, u, ok)
	}
	if _, _, ok := advice.Lean(&low, &high, 0); ok {
		t.Error("a lean of two sweeps at one height")
	}
}

// Two sweeps of which one has five stations and one twenty lean as surely as the worse known of them says. Nobody has stated a
// repeatability, and exact readings of a dial of 0.01 read to fifths scatter by 0.002/√12: five stations leave two degrees of freedom
// (t = 4.303, any table). Even stations know either coordinate to 2/n.
func TestLeanIsAsSureAsTheWorseSweep(t *testing.T) {
	const t2 = 4.302653
	rough := dial
	rough.Repeatability = 0
	on := func(e geom.Point, n int) indicator.Estimate {
		var at []geom.Bearing
		var readings []float64
		for i := range n {
			b := geom.FromDegrees(360 * float64(i) / float64(n))
			at, readings = append(at, b), append(readings, reads(e, b))
		}
		f, err := indicator.Fit(rough, bore, at, readings)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	few, many := on(geom.Point{X: 0.001}, 5), on(geom.Point{X: 0.002}, 20)
	want := t2 * 0.002 / math.Sqrt(12) * math.Sqrt(2.0/5+2.0/20) / 30
	for _, c := range [][2]*indicator.Estimate{{&few, &many}, {&many, &few}} {
		if _, u, ok := advice.Lean(c[0], c[1], 30); !ok || math.Abs(u/want-1) > 1e-4 {
			t.Errorf("the lean is known to %v (%v), want %v", u, ok, want)
		}
	}
}
