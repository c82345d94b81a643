package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"example.org/trammel/indicator/practice"
)

// plateCut is one setting of the plan as a shop has it: what is to be set, for which elements, with which cutter.
type plateCut struct {
	n             int
	swing, cutter float64
	walls         []trueWho // what it makes
	start, stop   *float64
	sense         string
}

// plateCuts are the settings of the plan, in its order; straights are another trade's.
func plateCuts(t *testing.T, d *trueDrawing, p *toldPlan) (all []plateCut) {
	t.Helper()
	wall := func(n int) trueWho {
		i := slices.IndexFunc(p.Arcs, func(a toldArc) bool { return a.N == n })
		who, ok := d.arc(&p.Arcs[i])
		if !ok {
			t.Fatalf("arc %d is none of what was drawn", n)
		}
		return who
	}
	for _, n := range p.Order {
		if i := slices.IndexFunc(p.Arcs, func(a toldArc) bool { return a.N == n }); i >= 0 {
			a := &p.Arcs[i]
			all = append(all, plateCut{n, *a.Swing, *a.Cutter, []trueWho{wall(n)}, a.Start, a.Stop, a.Sense})
		}
		if i := slices.IndexFunc(p.Slots, func(s toldSlot) bool { return s.N == n }); i >= 0 {
			s := &p.Slots[i]
			c := plateCut{n, *s.Swing, *s.Cutter, nil, s.Start, s.Stop, "none"}
			for _, k := range s.Arcs {
				c.walls = append(c.walls, wall(k))
			}
			all = append(all, c)
		}
	}
	return all
}

// The whole quadrant plate, rim with its heel and corners, slot, boss and bore: planned with a cutter of 8, each setting
// in the plan's order set on a practice machine by a hand that knows no more than the lines, roughed, measured, finished
// by one wind, and checked. What was accepted truly stands within the tolerance; the cutter, carried from start in
// the sense told to stop as the machine truly stands then, makes each wall on the side where the part has no metal,
// leaves nothing on it, gouges nothing, and cuts conventionally; in one pass it makes the slot. All that is judged by the
// drawing's own figures.
func TestPlateFromDrawingToCheckedArcs(t *testing.T) {
	all := trueDrawings(t)
	d := all[slices.IndexFunc(all, func(d *trueDrawing) bool { return d.name == "quadrant-plate.toml" })]
	p := tellPlan(t, append(slices.Clone(d.args), "--cutter", "8")...)
	// By hand: rim 52 + 4, slot 36, boss 16 + 4, bore 6 − 4; the heel 20 + 4, its flanks 25 − 4, the corners 16 + 4.
	want := []float64{2, 20, 20, 20, 21, 21, 24, 36, 56}
	var swings []float64
	for _, c := range plateCuts(t, d, &p) {
		swings = append(swings, c.swing)
		t.Run(fmt.Sprintf("%d of layer %s", c.n, c.walls[0].edge().layer), func(t *testing.T) { c.set(t, d) })
	}
	slices.Sort(swings)
	if !slices.EqualFunc(swings, want, func(a, b float64) bool { return math.Abs(a-b) <= trueAlike }) {
		t.Errorf("settings of swing radius %v, want %v", swings, want)
	}
}

// set sets and cuts what one setting is for, and judges it.
func (c *plateCut) set(t *testing.T, d *trueDrawing) {
	reach := 30 - c.swing // a tip that reads zero at this swing radius, on the bench's ring of 30
	folder := t.TempDir()
	job, machine := filepath.Join(folder, "job.toml"), filepath.Join(folder, "machine.toml")
	for name, text := range map[string][]byte{machine: practice.BenchMachine,
		job: bytes.Replace(practice.BenchJob, []byte("reach = -12.0"), fmt.Appendf(nil, "reach = %v", reach), 1)} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	w := practice.Bench(uint64(c.n))
	w.Reach, w.Start.Swing = reach, w.Start.Swing-42+c.swing
	w.OffsetMiss *= c.swing / 42 // a slide that misses the axis by nearly the swing radius cannot be wound by its collar
	h := &plateHand{t: t, m: practice.New(w, uint64(c.n))}
	cutter := c.cutter - practiceWear
	h.arc = func() float64 { return hundredth(h.m.Truth().Swing + c.side()*cutter/2) }
	h.play(append([]string{"--job", job, "--machine", machine, "--drawing", d.args[len(d.args)-1], "--cutter", "8",
		"--arc", fmt.Sprint(c.n)}, d.args[:len(d.args)-1]...)...)
	if off := math.Hypot(h.set.CentreX, h.set.CentreY); math.Abs(h.set.Swing-c.swing) > 0.02 || off > 0.02 {
		t.Errorf("accepted at swing %.4f, centre off %.4f, want %.4f and 0, within 0.02", h.set.Swing, off, c.swing)
	}
	if n := len(h.steps); n == 0 || h.steps[n-1] != "check arc" {
		t.Errorf("steps %q, want the arc checked last", h.steps)
	}
	c.judge(t, h.swung, cutter/2)
}

// side is +1 where the arc's own metal is outside it, −1 where it is inside, and 0 on a slot's centre line.
func (c *plateCut) side() float64 {
	switch {
	case len(c.walls) > 1:
		return 0
	case c.walls[0].k.sideOf(c.walls[0].i) == "inside":
		return -1
	}
	return 1
}

// What the finished arc may be out by, mm: half a hundredth of the measurement, and 0.2 of a division and a promille of
// 0.3 by the collar, as far as its radius goes; the centre's tolerance besides. On a slot nothing is wound after
// it was set, and the cutter is worn.
const plateRadius, plateCentre, plateSet = 0.012, 0.02, 0.02

// judge carries the cutter as each step says.
func (c *plateCut) judge(t *testing.T, swung []swungStep, radius float64) {
	t.Helper()
	roughs, cuts := 0, 0
	for _, s := range swung {
		if !sameBearing(s.Start, c.start) || !sameBearing(s.Stop, c.stop) || s.Sense != c.sense {
			t.Errorf("%v: start %v, %s, stop %v, the plan says otherwise", s.Step, orNaN(s.Start), s.Sense, orNaN(s.Stop))
		}
		away := trueSwing{c.centre().minus(trueSpot{s.truth.CentreX, s.truth.CentreY}), s.truth.Swing, radius}
		deep, left := c.carried(t, &s, away)
		most := plateRadius + plateCentre
		if c.side() == 0 {
			most = plateSet + plateCentre + practiceWear/2
		}
		switch s.Step {
		case "rough cut": // it leaves the stock of 0.3, as nearly as the cutter and a setting are known
			if roughs++; left < 0.3-most-practiceWear || left > 0.3+most+practiceWear || deep > -0.3+most+practiceWear {
				t.Errorf("rough cut: leaves %.4f at most, and comes as near as %.4f", left, -deep)
			}
		case "cut":
			if cuts++; left > most || deep > most {
				t.Errorf("cut: leaves %.4f and gouges %.4f, want at most %.4f", left, deep, most)
			}
		}
	}
	if rough := int(math.Abs(c.side())); roughs != rough || cuts != 1 {
		t.Errorf("%d rough cuts and %d cuts, want %d and 1", roughs, cuts, rough)
	}
}

// centre is what the setting is about.
func (c *plateCut) centre() trueSpot {
	i := slices.IndexFunc(c.walls, func(w trueWho) bool { return w.edge().radius > 5 }) // the slot's ends have 4
	return c.walls[i].edge().centre
}

// carried is how deep the cutter goes into the outline on its way from start to stop, and how much it leaves on the
// walls that it makes.
func (c *plateCut) carried(t *testing.T, s *swungStep, away trueSwing) (deep, left float64) {
	t.Helper()
	const steps = 180
	start, over := 0.0, 360.0
	way := map[string]float64{"anticlockwise": 1, "clockwise": -1, "none": 1}[s.Sense]
	if s.Start != nil {
		start, over = *s.Start, trueTurn(*s.Start, *s.Stop)
		if way < 0 {
			over = trueTurn(*s.Stop, *s.Start)
		}
	}
	wall := c.walls[0]
	deep = math.Inf(-1)
	var axes []trueSpot
	for k := range steps + 1 {
		at := start + way*over*float64(k)/steps
		axes = append(axes, away.axis(at))
		into, _ := wall.k.depth(away.axis(at), away.radius)
		deep = max(deep, into)
		if c.side() != 0 && !trueConventional(false, away.axis(at), away.axis(at+way/100), trueRound(c.centre(), wall.edge().radius, at)) {
			t.Fatalf("%v: %s it climbs at %.1f°", s.Step, s.Sense, at)
		}
	}
	for _, w := range c.walls {
		for k := range steps + 1 { // every place of the wall is come near to
			place, near := w.edge().at(float64(k)/steps), math.Inf(1)
			for _, a := range axes {
				near = min(near, a.minus(place).length())
			}
			left = max(left, near-away.radius)
		}
	}
	return deep, left
}

func sameBearing(a, b *float64) bool {
	return (a == nil) == (b == nil) && (a == nil || math.Abs(math.Remainder(*a-*b, 360)) <= trueAlike)
}

func orNaN(v *float64) float64 {
	if v == nil {
		return math.NaN()
	}
	return *v
}
