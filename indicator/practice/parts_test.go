package practice

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// batches is how many fixtures are drawn: a handful, or as many as TRAMMEL_TRAPS says.
func batches() int {
	if n, err := strconv.Atoi(os.Getenv("TRAMMEL_TRAPS")); err == nil {
		return n
	}
	return 6
}

// batchOf is how many parts each of them holds.
const batchOf = 10

// laidPart is what became of one part behind the first.
type laidPart struct {
	in              float64 // how far off the axis its centre truly lay as it came in
	off             float64 // and as it was accepted
	readings, winds int
	warned          bool // the fixture was said to head out behind it
}

// playBatch sets a drawn machine up for a first part, and lays the others where place says, each with the indicator back in at another
// reach; every part is swept.
func playBatch(t *testing.T, seed uint64, place func(n int) geom.Point) (all []laidPart, tolerance float64) {
	t.Helper()
	d := Draw(seed, Options{})
	o, err := openDrawn(&d)
	if err != nil {
		t.Fatal(err)
	}
	m, l := New(d.World, seed), session.NewLive(session.State{}, &session.Memory{})
	var now laidPart
	do := func(c session.Command) {
		steps, err := l.Do(c, time.Time{})
		if err != nil {
			t.Fatalf("fixture %d: %v", seed, err)
		}
		for _, st := range steps {
			switch st.Event.(type) {
			case session.Took:
				now.readings++
			case session.Wound:
				now.winds++
			}
		}
	}
	play := func() {
		for range 200 {
			s := l.State()
			c, ok, err := m.Do(s.Prompt())
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				return
			}
			do(c)
		}
		t.Fatalf("fixture %d: no end", seed)
	}
	do(session.Open{Opened: o})
	play()
	first, reach := geom.Point{X: m.world.Start.CentreX, Y: m.world.Start.CentreY}, m.world.Reach
	rng := rand.New(rand.NewPCG(seed, 77))
	for n := 2; n <= batchOf; n++ {
		at := first.Add(place(n))
		m.world.Start.CentreX, m.world.Start.CentreY = at.X, at.Y
		m.world.Reach = reach + 0.2*(2*rng.Float64()-1)
		in := m.Truth()
		now = laidPart{in: math.Hypot(in.CentreX, in.CentreY)}
		do(session.Part{How: session.PartSwept})
		play()
		s := l.State()
		out := m.Truth()
		now.off, now.warned = math.Hypot(out.CentreX, out.CentreY), s.Parts.Out > 0
		if s.Part != n || !s.Accepted() {
			t.Fatalf("fixture %d: part %d, phase %d; want part %d accepted", seed, s.Part, s.Phase, n)
		}
		all = append(all, now)
	}
	return all, o.Job.Target.CentreTolerance
}

// Fixtures that lay parts up to 0.05 from their place, and drift by up to 0.005 a part, are drawn; each batch of ten is swept part by
// part. What is accepted lies truly within, but for one in a hundred; a part that lies well inside takes five readings and no wind.
func TestTrapBatchTrulyWithin(t *testing.T) {
	parts, beyond, calm, fives, most := 0, 0, 0, 0, 0
	for i := range batches() {
		seed := uint64(i + 1)
		rng := rand.New(rand.NewPCG(seed, 78))
		move, drift, way := 0.05*rng.Float64(), 0.005*rng.Float64(), geom.Bearing(2*math.Pi*rng.Float64())
		all, tol := playBatch(t, seed, func(n int) geom.Point {
			p := geom.Point{}.Along(geom.Bearing(2*math.Pi*rng.Float64()), move*math.Sqrt(rng.Float64()))
			return p.Along(way, drift*float64(n-1))
		})
		for _, p := range all {
			if parts++; p.off > tol {
				beyond++
			}
			if p.in < tol/2 {
				if calm++; p.readings == 5 && p.winds == 0 {
					fives++
				}
			}
			if p.winds == 0 {
				most = max(most, p.readings)
			}
		}
	}
	t.Logf("%d parts, %d accepted beyond the tolerance; of %d that came in well inside %d took five readings; most without a wind: %d",
		parts, beyond, calm, fives, most)
	if float64(beyond) > 0.01*float64(parts) {
		t.Errorf("%d of %d accepted parts are truly out", beyond, parts)
	}
	if calm == 0 || float64(fives) < 0.97*float64(calm)-1 { // one in a handful
		t.Errorf("%d of %d parts well inside took five readings and no wind", fives, calm)
	}
}

// A fixture that walks by 0.003 to 0.005 a part, and lays parts within 0.002 of where it has walked to, is said to head out, or to
// seem so, before a part comes in out of the tolerance, but for one in twenty. Most never come in so, for what is undecided is brought
// in before.
func TestTrapWalkSaidBeforeAPartIsOut(t *testing.T) {
	walks, said, late, early, warnedOf := 0, 0, 0, 0, 0
	for i := range batches() {
		seed := uint64(i + 1)
		rng := rand.New(rand.NewPCG(seed, 79))
		drift, way := 0.003+0.002*rng.Float64(), geom.Bearing(2*math.Pi*rng.Float64())
		all, tol := playBatch(t, seed, func(n int) geom.Point {
			p := geom.Point{}.Along(geom.Bearing(2*math.Pi*rng.Float64()), 0.002*rng.Float64())
			return p.Along(way, drift*float64(n-1))
		})
		warned := false
		if slices.ContainsFunc(all, func(p laidPart) bool { return p.warned }) {
			warnedOf++
		}
		for k, p := range all {
			if p.in > tol {
				switch walks++; {
				case warned:
					said++
				case k < 3:
					early++
				default:
					late++
					t.Logf("fixture %d, drift %.4f: out with part %d, not said: %+v", seed, drift, k+2, all[:k+1])
				}
				break
			}
			warned = warned || p.warned
		}
	}
	t.Logf("%d fixtures walk out within the batch, of %d that is said before, of %d not, and of %d not within three parts", walks, said,
		late, early)
	if late+early > max(1, walks/20) {
		t.Errorf("of %d fixtures that walk out %d were not said to before, and %d not within three parts", walks, late, early)
	}
	if n := batches(); warnedOf < n*9/10 {
		t.Errorf("%d of %d fixtures that walk were said to", warnedOf, n)
	}
}
