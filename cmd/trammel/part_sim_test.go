package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// What the simulated parts are drawn from, evenly and either way, millimetres; each is stated to the job as the limit
// that it is. One tip at one reach sweeps every arc, of which each swing radius has a ring of its own; so reach
// and cutters are common to all of a part's settings, a ring to those of one radius.
const (
	simReach    = -12.0
	simReachOff = 0.006
	simRingOff  = 0.004
	simCutOff   = 0.010  // of a cutter's diameter
	simLean     = 0.0002 // of the spindle against the head axis, and of the head axis against the work; a ratio
	simHeight   = 10.0   // of the sweep above the cut
	simNoise    = 0.003  // standard deviation of a reading; the job's figure comes from nine of them
	simRepeats  = 9
)

// simPart is one part as it truly comes out.
type simPart struct {
	chance *rand.Rand
	plan   *part.Plan
	reach  float64
	ring   map[float64]float64 // by swing radius: the ring's error
	cutter map[float64]float64 // by diameter: the cutter's error
	spin   float64             // lean of the spindle
	lean   geom.Point          // lean of the head axis over the work

	made  []part.Made
	truth map[int]practice.Truth // by arc
}

// quadrant plans the plate's rim.
func quadrant(t testing.TB) *part.Plan {
	t.Helper()
	return testdata.Plate(t, part.Options{Cutters: []float64{6, 8, 10}}, "rim")
}

func newSimPart(p *part.Plan, seed uint64) *simPart {
	s := &simPart{chance: rand.New(rand.NewPCG(seed, 11)), plan: p, ring: map[float64]float64{}, cutter: map[float64]float64{},
		truth: map[int]practice.Truth{}}
	s.reach, s.spin = s.either(simReachOff), s.either(simLean)
	s.lean = geom.Bearing(s.either(math.Pi)).Unit().Times(simLean * math.Sqrt(s.chance.Float64()))
	for i := range p.Groups {
		s.ring[p.Groups[i].Swing] = s.either(simRingOff)
	}
	for _, d := range []float64{6, 8, 10} {
		s.cutter[d] = s.either(simCutOff)
	}
	return s
}

func (s *simPart) either(limit float64) float64 { return limit * (2*s.chance.Float64() - 1) }

// job is what the person at the machine states; the spread of a reading by nine of them, but never finer than half of
// what the dial is read to.
func (s *simPart) job(arc *part.Picked) (setup.Job, error) {
	sum, squares := 0.0, 0.0
	for range simRepeats {
		x := simNoise * s.chance.NormFloat64()
		sum, squares = sum+x, squares+x*x
	}
	spread := math.Sqrt((squares - sum*sum/simRepeats) / (simRepeats - 1))
	text := fmt.Appendf(nil, `unit = "mm"
[setup]
kind = "carried"
touch = "bore"
reference_radius = %v
reference_radius_error = %v
reach = %v
reach_error = %v
tilt_per_100 = %v
sweep_height = %v
[target]
tolerance = 0.03
centre_tolerance = 0.02
[sweep]
stations = 6
[dial]
graduation = 0.01
range = 1.6
reads_to = 0.2
repeatability = %.5f
`, arc.Swing+simReach, simRingOff, simReach, simReachOff, simLean*100, simHeight, max(spread, 0.001))
	draft, err := job.ReadJob("job.toml", text)
	if err != nil {
		return setup.Job{}, err
	}
	return draft.For(arc.Figures())
}

// world is the bench of a seed with the part's errors in it.
func (s *simPart) world(swing float64, seed uint64) practice.World {
	w := practice.Bench(seed)
	w.Start.Swing += swing - 42
	w.ReferenceRadius, w.Reach = swing+simReach+s.ring[swing], simReach+s.reach
	w.SweepHeight, w.SpindleLean, w.LeanX, w.LeanY = simHeight, s.spin, s.lean.X, s.lean.Y
	w.Noise, w.AngleNoise, w.OffsetMiss = simNoise, 0, 0
	return w
}

// set plays an arc's setting to its acceptance.
func (s *simPart) set(n int) error {
	arc, err := part.Pick(s.plan, n, "quadrant-plate")
	if err != nil {
		return err
	}
	m, err := job.ParseMachine("bench-machine.toml", practice.BenchMachine)
	if err != nil {
		return err
	}
	j, err := s.job(arc)
	if err != nil {
		return err
	}
	seed := s.chance.Uint64()
	hands := practice.New(s.world(arc.Swing, seed), seed)
	live := session.NewLive(session.State{}, &session.Memory{})
	if _, err := live.Do(session.Open{Opened: session.Opened{Program: "test", Job: j, Machine: m, Arc: arc}}, time.Time{}); err != nil {
		return err
	}
	if err := hands.Play(live, func() time.Time { return time.Time{} }, func(session.Step) {}); err != nil {
		return fmt.Errorf("arc %d: %w", n, err)
	}
	end := live.State()
	s.made = append(s.made, record.MadeOf(n, &end))
	s.truth[n] = hands.Truth()
	return nil
}

// stands is how far the cut element n stands out of the metal where it meets another at p, along the outward normal
// there: for an arc where that line meets the circle that was truly cut, about the true axis with the true swing
// radius and cutter; for a straight, whose cutter alone is out, half of that.
func (s *simPart) stands(n int, p, normal geom.Point) float64 {
	for i := range s.plan.Lines {
		if l := &s.plan.Lines[i]; l.N == n {
			return -s.cutter[l.Cutter] / 2
		}
	}
	var a *part.Arc
	for i := range s.plan.Arcs {
		if s.plan.Arcs[i].N == n {
			a = &s.plan.Arcs[i]
		}
	}
	t, cut := s.truth[n], a.Cutter+s.cutter[a.Cutter]
	radius := t.Swing - cut/2
	if a.Side == part.Outside {
		radius = t.Swing + cut/2
	}
	axis := a.Centre.Sub(geom.Point{X: t.CentreX, Y: t.CentreY})
	// |p + x·normal − axis| = radius: of both roots the one near the point.
	from := p.Sub(axis)
	along := from.Dot(normal)
	root := math.Sqrt(along*along - from.Dot(from) + radius*radius)
	if along < 0 {
		root = -root
	}
	return root - along
}

// scored are the steps of one part against their predictions: how far each true one lies from the predicted, in
// standard uncertainties.
func scored(p *part.Plan, seed uint64) ([]float64, error) {
	s := newSimPart(p, seed)
	for i := range p.Arcs {
		if err := s.set(p.Arcs[i].N); err != nil {
			return nil, err
		}
	}
	b := part.Believe(p, s.made, part.Doubts{Tolerance: 0.03, CentreTolerance: 0.02, Cutter: simCutOff, Measured: 0.01})
	steps, _, err := b.Steps()
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(steps))
	for k, f := range steps {
		bl := p.Blends[b.Where[k]]
		out[k] = (s.stands(bl.Between[0], bl.At, bl.Normal) - s.stands(bl.Between[1], bl.At, bl.Normal) - f.Value) / f.U
	}
	return out, nil
}

// sideBySide does something for 0 to n − 1, as many at once as there are cores.
func sideBySide(t testing.TB, n int, do func(i int) error) {
	t.Helper()
	errs, next := make([]error, n), make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				errs[i] = do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	for i, err := range errs {
		if err != nil {
			t.Fatalf("%d: %v", i, err)
		}
	}
}
