package advice_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// marks are those of a whole round.
func marks(yield func(geom.Bearing) bool) {
	for b := geom.Bearing(0); b < 2*math.Pi-1e-9; b += advice.MarkStep {
		if !yield(b) {
			return
		}
	}
}

// ring is where a needle stands in a bore of 30 mm whose centre lies at (x, y) from the axis, the tip swing-42 too far out: where the
// tip's line meets the wall, from vectors and the root of a quadratic, and by no formula of the fit.
type ring struct{ swing, x, y float64 }

func (r ring) at(b geom.Bearing) float64 {
	sin, cos := math.Sincos(float64(b))
	along := r.x*cos + r.y*sin // of the centre on the tip's line
	beside := r.y*cos - r.x*sin
	wall := along + math.Sqrt(30*30-beside*beside)
	return (r.swing - 12) - wall
}

// coarse draws a start as far out as roughing in leaves it.
func coarse(chance *rand.Rand) ring {
	return ring{42 + chance.NormFloat64(), chance.NormFloat64(), chance.NormFloat64()}
}

// hunted is how a search from the first station at 0° goes on: the readings and all stations until three are read, it is given up, or
// ten stations were seen.
func hunted(r ring) (readings, stations int, likely []float64, on []bool) {
	h := advice.Search{From: -0.8, To: 0.8, Rough: advice.RoughIn}
	see := func(b geom.Bearing) bool {
		m := r.at(b)
		stations++
		if math.Abs(m) <= 0.8 {
			h.Bearings, h.Readings = append(h.Bearings, b), append(h.Readings, m)
			return true
		}
		h.Off = append(h.Off, advice.OffDial{Bearing: b, Pressed: m > 0})
		return false
	}
	for b := geom.Bearing(0); see(b) && stations < 5; b += 2 * math.Pi / 5 {
		continue // as planned, as long as the needle is on the dial
	}
	for len(h.Off) > 0 && len(h.Readings) < 3 && stations < 10 && !h.Hopeless(marks) {
		b, p := h.Next(marks)
		likely, on = append(likely, p), append(on, see(b))
	}
	return len(h.Readings), stations, likely, on
}

// evenly is how the plan of five even stations goes on: five, and five between them.
func evenly(r ring) (readings, stations int) {
	for stations < 10 && (readings < 3 || stations < 5) {
		b := geom.Bearing(stations%5) * 2 * math.Pi / 5
		if stations >= 5 {
			b += math.Pi / 5
		}
		if stations++; math.Abs(r.at(b)) <= 0.8 {
			readings++
		}
	}
	return readings, stations
}

// From coarse starts the needle is found oftener, and at fewer stations, than by an even plan; and it is on the dial as often as was
// said. The prior is that of the draw. Of the n stations of a row the count may be beside by four standard deviations of chance, √n/2
// at most, and by 5 % of n for the model: first order, and a finite number of points. (Of 1500 starts 531 were said and 526 seen, 329
// and 312, 1967 and 1951.)
func TestSearchFindsTheNeedle(t *testing.T) {
	chance := rand.New(rand.NewPCG(11, 22))
	found, even, stations, planned := 0, 0, 0, 0
	var said, seen [4]float64
	const starts = 300
	for range starts {
		r := coarse(chance)
		n, of, likely, on := hunted(r)
		for i, p := range likely {
			k := min(3, int(4*p))
			said[k] += p
			if on[i] {
				seen[k]++
			}
		}
		if stations += of; n >= 3 {
			found++
		}
		n, of = evenly(r)
		if planned += of; n >= 3 {
			even++
		}
	}
	t.Logf("found %d of %d in %.2f stations, by an even plan %d in %.2f; said %.0f, seen %.0f", found, starts, float64(stations)/starts,
		even,
		float64(planned)/starts, said, seen)
	if found < even+starts/20 || float64(stations) > 0.85*float64(planned) {
		t.Errorf("found %d in %d stations, want at least a twentieth more than the %d of an even plan, in 85 %% of its %d", found, stations,
			even,
			planned)
	}
	for k := range said {
		if n := said[k] / (float64(k) + 0.5) * 4; math.Abs(said[k]-seen[k]) > 4*math.Sqrt(n)/2+0.05*n {
			t.Errorf("said to be on the dial with %d to %d %%: %.0f expected, %.0f seen", 25*k, 25*k+25, said[k], seen[k])
		}
	}
}

// What was beyond the dial decides by its side alone: pressed at 0° and free at 180° has the needle come through in between, square to
// both; and all the same way round say that it is not the centre but the radius that is out.
func TestSearchGoesBetweenPressedAndFree(t *testing.T) {
	h := advice.Search{From: -0.8, To: 0.8, Rough: advice.RoughIn, Off: []advice.OffDial{{Bearing: 0, Pressed: true}, {Bearing: math.Pi}}}
	at, likely := h.Next(marks)
	// Square to both it reads c + q: of c little is left open, q spreads by 1 mm, and 0.8 mm either way hold some 55 % of that.
	if off := min(at.Apart(math.Pi/2), at.Apart(3*math.Pi/2)); off > 1.01*float64(advice.MarkStep) || likely < 0.5 || likely > 0.6 {
		t.Errorf("next at %.0f°, on the dial with %.2f; want it within a mark of 90° or 270°, with 0.5 to 0.6", at.Degrees360(), likely)
	}
	if h.Hopeless(marks) {
		t.Error("given up with the needle certain to come through in between")
	}
	same := advice.Search{From: -0.8, To: 0.8, Rough: advice.RoughIn}
	for k := range 4 {
		same.Off = append(same.Off, advice.OffDial{Bearing: geom.Bearing(k) * math.Pi / 2})
	}
	if !same.Hopeless(marks) {
		t.Error("free at four stations all round, and the needle is looked for between them")
	}
	one := func(yield func(geom.Bearing) bool) { yield(0) }
	if at, likely := h.Next(one); at != 0 || likely != 0 {
		t.Errorf("next at %v with %v, where no mark is left", at, likely)
	}
}

// A look goes where most is open, and on the dial for certain; none is taken where no more than the tolerance is open, nor a third. The
// sweep stood between 60° and 120°: what it leaves open is what lies across from there.
func TestBetweenLooksWhereMostIsOpen(t *testing.T) {
	d := indicator.Dial{Graduation: 0.01, ReadsTo: 0.2, From: -0.8, To: 0.8, Revolution: 1, Repeatability: 0.003}
	u := indicator.Setup{Kind: indicator.Carried, Touch: indicator.Bore, ReferenceRadius: 30, Reach: -12, ReachKnown: true}
	r := ring{42.01, 0.02, -0.01}
	var at []geom.Bearing
	var read []float64
	for _, deg := range []float64{60, 90, 120} {
		b := geom.FromDegrees(deg)
		at, read = append(at, b), append(read, r.at(b))
	}
	f, err := indicator.Fit(d, u, at, read)
	if err != nil {
		t.Fatal(err)
	}
	b, ok := advice.Between(&f, d, nil, 0.02, marks)
	if !ok || b.Apart(3*math.Pi/2) > 1e-9 {
		t.Errorf("look at %.0f° (%v), want 270°, across from the sweep", b.Degrees360(), ok)
	}
	if _, ok := advice.Between(&f, d, []geom.Bearing{1, 2}, 0.02, marks); ok {
		t.Error("a third look is taken")
	}
	if x := f.Expect(b); x.U < 0.02 {
		t.Fatalf("%v is open across from the sweep, want enough for this test", x.U)
	}
	if _, ok := advice.Between(&f, d, nil, f.Expect(b).U, marks); ok {
		t.Error("a look is taken where no more than the tolerance is open")
	}
	tight := d
	tight.From, tight.To = -0.01, 0.01
	if b, ok := advice.Between(&f, tight, nil, 0.02, marks); ok {
		t.Errorf("look at %.0f°, where the needle may be off the dial", b.Degrees360())
	}
}
