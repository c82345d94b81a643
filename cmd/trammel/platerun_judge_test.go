package main

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"time"
)

// judge holds what the cutters have taken to the drawing.
func (h *runHand) judge() {
	h.gouges()
	h.leaves()
}

// gouges: no way of a cutter goes deeper into metal that stands at its depth than setting, stops and cutter leave open.
func (h *runHand) gouges() {
	for i := range h.cuts {
		c := &h.cuts[i]
		most := plateRadius + plateCentre + runLetPass
		if h.isSlot(c.n) { // which is left as it was set, and ends where the stops are
			most = plateSet + plateCentre + 36*runStop*trueDegree
		}
		for _, l := range h.plate.levels {
			if !(c.depth > l.top+1e-9) { // it passes over that
				continue
			}
			axes := c.axes()
			deep := l.depth(axes[0], c.swing.radius) // once it has begun outside, it comes into the metal by way of its boundary
			for _, axis := range axes {
				deep = max(deep, c.swing.radius-l.away(axis))
			}
			if deep > most {
				h.t.Errorf("machine %d, element %d at depth %.2f: gouges %.4f mm of what stands from %.0f on, want at most %.4f", h.seed, c.n,
					c.depth, deep, l.top, most)
			}
		}
	}
}

// isSlot reports whether an element is the slot's centre line.
func (h *runHand) isSlot(n int) bool {
	return slices.ContainsFunc(h.tasks, func(c plateCut) bool { return c.n == n && c.side() == 0 })
}

// away is how far a place is from what bounds the level's metal.
func (l *plateLevel) away(p trueSpot) float64 {
	near := math.Inf(1)
	for _, k := range l.bounds {
		far, _ := k.away(p)
		near = min(near, far)
	}
	return near
}

// solid reports whether metal stands at a place of the level.
func (l *plateLevel) solid(p trueSpot) bool {
	return !slices.ContainsFunc(l.bounds, func(k *trueContour) bool { return !k.inMetal(p) })
}

// depth is how deep a disc cuts into the level's metal, as [trueContour.depth].
func (l *plateLevel) depth(axis trueSpot, radius float64) float64 {
	if l.solid(axis) {
		return radius + l.away(axis)
	}
	return radius - l.away(axis)
}

// leaves: every wall is come near to by a cut to size that goes down to its floor, as nearly as setting and cutter are known.
func (h *runHand) leaves() {
	const places = 60
	for _, k := range h.plate.contours {
		for i, e := range k.edges {
			worst := math.Inf(-1)
			for n := range places + 1 {
				place, near := e.at(float64(n)/places), math.Inf(1)
				for j := range h.cuts {
					if c := &h.cuts[j]; c.final && c.depth >= h.plate.floor[k]-1e-9 {
						near = min(near, c.away(place)-c.swing.radius)
					}
				}
				worst = max(worst, near)
			}
			most := plateRadius + plateCentre + runLetPass
			if k.edges[0].layer == "slot" { // one pass on the centre line, of a worn cutter; its ends within 0.1
				most = plateSet + plateCentre + practiceWear/2
				if e.radius < 5 {
					most += 36 * runStop * trueDegree
				}
			}
			if worst > most {
				h.t.Errorf("machine %d: %s element %d stands proud by %.4f mm at the most, want %.4f", h.seed, e.layer, i, worst, most)
			}
		}
	}
}

// steps95 are how many of the rim's steps at its blends lie inside the band of 95 % that the journal foretells: each as the circles
// and straights truly cut leave it, where the two elements meet.
func (h *runHand) steps95(journal string) (steps, inside int) {
	var told struct {
		Blends []struct {
			Between [2]int
			At      [2]float64
			Step    *struct{ Value, U95 float64 }
		}
	}
	var stdout, stderr bytes.Buffer
	w := world{in: strings.NewReader(""), out: &stdout, err: &stderr, now: time.Now, getenv: func(string) string { return "" }}
	args := append([]string{"blends", "--json", h.plate.args[0], journal}, h.plate.args[1:]...)
	if code := run(args, w); code != 0 {
		h.t.Fatalf("trammel %q: exit code %d: %s", args, code, stderr.String())
	}
	if err := json.Unmarshal(stdout.Bytes(), &told); err != nil {
		h.t.Fatal(err)
	}
	for _, b := range told.Blends {
		if b.Step == nil {
			continue
		}
		at := trueSpot{b.At[0], b.At[1]}
		step := h.proud(b.Between[0], at) - h.proud(b.Between[1], at)
		if steps++; math.Abs(step-b.Step.Value) <= b.Step.U95 {
			inside++
		} else {
			h.t.Logf("machine %d, blend %v: step %+.4f, told %+.4f ±%.4f", h.seed, b.Between, step, b.Step.Value, b.Step.U95)
		}
	}
	return steps, inside
}

// proud is by how much an element, as it was cut to size, stands proud of a place that it should run through.
func (h *runHand) proud(n int, at trueSpot) float64 {
	for i := len(h.cuts) - 1; i >= 0; i-- {
		if c := &h.cuts[i]; c.n == n && c.final {
			if c.straight == nil { // its whole circle: how far the stop is off is no step
				return math.Abs(at.minus(c.swing.centre).length()-c.swing.swing) - c.swing.radius
			}
			return c.away(at) - c.swing.radius
		}
	}
	return math.NaN()
}
