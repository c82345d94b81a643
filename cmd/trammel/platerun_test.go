package main

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/indicator/practice"
)

// toldRun is a line of a run.
type toldRun struct {
	toldDial
	Depth *float64
	Key   string
	Next  *struct {
		N        int
		By, What string
		Do       string
	}
	Done, Of int
}

// runHand works a whole plate off at a simulated machine: it does what the lines of one run say, setting by setting. What it cuts is
// kept as the machine truly stood then.
type runHand struct {
	plateHand
	seed   uint64
	plate  *levelPlate
	tasks  []plateCut
	lines  []toldLine
	chance *rand.Rand
	now    int // the element that is set
	cuts   []runCut
	order  []int // the elements as they came
	first  int   // of the cuts since the arc was measured last, the first
	last   toldRun
	milled bool
	behind []string // what is said behind the first setting before the run goes on
}

// runCut is one way of the cutter, in the part's frame: round a centre from a bearing on over so many degrees, anticlockwise +, or
// along a straight.
type runCut struct {
	n          int
	depth      float64 // mm, of the cutter's end below the top of the stock
	final      bool    // it cuts to size
	swing      trueSwing
	from, over float64
	straight   *trueEdge
}

// runStop is how far the hand may be off a stop, degrees either way: a tenth of the graduation of a ring of one degree (common
// practice, no source).
const runStop = 0.1

// answers a line of the run.
func (h *runHand) answers(l *toldRun) (answer string, ok bool) {
	switch l.Say {
	case "run":
		if h.last = *l; l.Next == nil {
			return "", false
		}
		if l.Done == 1 && len(h.behind) > 0 { // neither leaves the setting that has ended
			answer, h.behind = h.behind[0], h.behind[1:]
			return answer, true
		}
		h.now = l.Next.N
		h.order = append(h.order, h.now)
		if l.Next.What == "milling" {
			h.mill(l.Next.Do)
		} else if l.Next.By == "slide" {
			h.slide()
		} else {
			h.rough()
		}
		return "done", true
	case "question":
		return h.question(l), true
	case "did": // the run goes on
		return "", false
	case "step":
		h.step(l)
	}
	return h.do(&l.toldDial)
}

func (h *runHand) task() *plateCut {
	i := slices.IndexFunc(h.tasks, func(c plateCut) bool { return c.n == h.now })
	if i < 0 {
		h.t.Fatalf("element %d is no setting", h.now)
	}
	return &h.tasks[i]
}

// rough puts the machine about the element's centre and radius, as a hand does by scale and by eye: it is the same machine, with the
// same screws and play.
func (h *runHand) rough() {
	c := h.task()
	w := practice.Bench(h.seed)
	w.Reach = 30 - c.swing
	w.Start.Swing += c.swing - 42
	w.OffsetMiss *= min(1, c.swing/42) // a slide that misses the axis by nearly the swing radius cannot be wound by its collar
	h.m = practice.New(w, h.seed<<8+uint64(h.now))
	h.arc = func() float64 { return hundredth(h.m.Truth().Swing + c.side()*(c.cutter-practiceWear)/2) }
	h.first = len(h.cuts)
}

// question answers what a setting asks: the ring of 60, and a tip that reads zero in it at the swing radius.
func (h *runHand) question(l *toldRun) string {
	switch l.Key {
	case "setup.reach":
		return strconv.FormatFloat(30-h.task().swing, 'f', -1, 64)
	case "setup.reach_error":
		return "found before and untouched"
	case "swept_here":
		return "yes"
	}
	return "" // the ring that the job has
}

// step notes what is cut, and which of it is to size: what is cut behind the last measurement, and checked.
func (h *runHand) step(l *toldRun) {
	switch l.Step {
	case "pass", "cut", "rough cut":
		h.cut(l)
	case "measure":
		h.first = len(h.cuts)
	case "check arc":
		for i := h.first; i < len(h.cuts); i++ {
			h.cuts[i].final = true
		}
	}
}

// cut swings the cutter as the line says, from stop to stop as nearly as the hand sets them.
func (h *runHand) cut(l *toldRun) {
	c, truth := h.task(), h.m.Truth()
	if l.Depth == nil {
		h.t.Errorf("element %d: step %v without a depth", h.now, l.Step)
		return
	}
	k := runCut{n: h.now, depth: *l.Depth, over: 360,
		swing: trueSwing{c.centre().minus(trueSpot{truth.CentreX, truth.CentreY}), truth.Swing, (c.cutter - practiceWear) / 2}}
	way := map[string]float64{"anticlockwise": 1, "clockwise": -1, "none": 1}[l.Sense]
	if l.Start != nil {
		off := func() float64 { return runStop * (2*h.chance.Float64() - 1) }
		start, stop := *l.Start+off(), *l.Stop+off()
		k.from, k.over = start, trueTurn(start, stop)
		if way < 0 {
			k.over = trueTurn(stop, start)
		}
	}
	k.over *= way
	h.cuts = append(h.cuts, k)
}

// mill mills the plate off round the boss, by hand: once, behind the boss and before anything is cut deeper than its floor, 4 mm. How far
// it goes is left to the hand, which keeps off the boss.
func (h *runHand) mill(words string) {
	deep := slices.ContainsFunc(h.cuts, func(k runCut) bool { return k.depth > 4 })
	if boss := slices.ContainsFunc(h.cuts, func(k runCut) bool { return k.depth == 4 && k.final }); !boss || deep || h.milled ||
		!strings.Contains(words, "to 4.0 mm below the top of the stock, no deeper; 2 passes: 2.0, 4.0 mm") {
		h.t.Errorf("element %d: %q, behind %d cuts, the boss among them %v, a deeper one %v, milled before %v", h.now, words, len(h.cuts),
			boss, deep, h.milled)
	}
	h.milled = true
}

// slide cuts a straight by a slide, its axis where the plan has it for the cutter as it is marked.
func (h *runHand) slide() {
	i := slices.IndexFunc(h.lines, func(l toldLine) bool { return l.N == h.now })
	if i < 0 {
		h.t.Fatalf("element %d is no straight", h.now)
	}
	who, ok := h.plate.line(&h.lines[i])
	if !ok {
		h.t.Fatalf("straight %d is none of what was drawn", h.now)
	}
	path := who.k.path(who.i, *h.lines[i].Cutter/2)
	h.cuts = append(h.cuts, runCut{n: h.now, depth: h.plate.floor[who.k], final: true,
		swing: trueSwing{radius: (*h.lines[i].Cutter - practiceWear) / 2}, straight: &path})
}

// axes are where the cutter's axis is on the way, no farther apart than a fifth of a millimetre: between two of them it is off what
// joins them by 0.2²/(8·2) = 0.0025 mm at the most, at a swing radius of 2.
func (k *runCut) axes() (all []trueSpot) {
	way := math.Abs(k.over) * trueDegree * k.swing.swing
	if k.straight != nil {
		way = k.straight.b.minus(k.straight.a).length()
	}
	n := int(math.Ceil(way / 0.2))
	for i := range n + 1 {
		part := float64(i) / float64(n)
		if k.straight != nil {
			all = append(all, k.straight.at(part))
		} else {
			all = append(all, k.swing.axis(k.from+part*k.over))
		}
	}
	return all
}

// away is how far a place lies from the way of the axis.
func (k *runCut) away(p trueSpot) float64 {
	if k.straight != nil {
		return k.straight.away(p)
	}
	from := k.from
	if k.over < 0 {
		from += k.over
	}
	return trueArc(k.swing.centre, k.swing.swing, from, math.Abs(k.over)).away(p)
}

// play runs dial --lines --json, and the hand answers what it says until it ends.
func (h *runHand) play(home string, args ...string) {
	h.t.Helper()
	converses(h.t, home, args, h.answers)
}

// levelPlate is a plate on two levels as it was drawn: what stands on each of them, and where the cut of each outline ends, mm below
// the top of the stock.
type levelPlate struct {
	trueDrawing
	levels []plateLevel
	floor  map[*trueContour]float64
}

// plateLevel is the metal from a depth on down: within all of its bounds.
type plateLevel struct {
	top    float64
	bounds []*trueContour
}

// tensioner is the plate of tensioner-two-levels.toml, by hand from its figures: a rim of 52 about the pivot with a heel of 20, its
// corners of 16 about 36 from the pivot and 4 below the axes; a slot of 8 on 36; a boss of 14 that stands 4 above the plate, bored 6.
func tensioner() *levelPlate {
	off := math.Sqrt(36*36 - 4*4)
	lean := math.Asin(4.0/36) / trueDegree
	in := func(layer string, edges ...trueEdge) (out []trueEdge) {
		for _, e := range edges {
			e.layer = layer
			out = append(out, e)
		}
		return out
	}
	pivot := trueSpot{}
	rim := &trueContour{closed: true, metal: "inside", from: "nesting", edges: in(
		"rim",
		trueArc(pivot, 20, 180, 90),
		trueEdge{
			a: trueSpot{0, -20},
			b: trueSpot{off, -20},
		},
		trueArc(trueSpot{off, -4}, 16, 270, 90-lean),
		trueArc(pivot, 52, -lean, 90+2*lean),
		trueArc(trueSpot{-4, off}, 16, 90+lean, 90-lean),
		trueEdge{a: trueSpot{-20, off}, b: trueSpot{-20, 0}},
	)}
	slot := &trueContour{closed: true, metal: "outside", from: "slot", edges: in("slot", trueArc(pivot, 40, 20, 50),
		trueArc(trueRound(pivot, 36, 70), 4, 70, 180), trueArc(pivot, 32, 20, 50), trueArc(trueRound(pivot, 36, 20), 4, 200, 180))}
	boss := &trueContour{closed: true, metal: "inside", from: "stated", edges: in("boss", trueArc(pivot, 14, 0, 360))}
	bore := &trueContour{closed: true, metal: "outside", from: "stated", edges: in("bore", trueArc(pivot, 6, 0, 360))}
	return &levelPlate{
		trueDrawing: trueDrawing{name: "tensioner-two-levels.toml", unit: "mm", contours: []*trueContour{rim, slot, boss, bore},
			args: []string{filepath.Join(drawingsFolder, "tensioner-two-levels.toml"), "--cutter", "8"}},
		levels: []plateLevel{{0, []*trueContour{boss, bore}}, {4, []*trueContour{rim, slot, bore}}},
		floor:  map[*trueContour]float64{rim: 10, slot: 10, boss: 4, bore: 10},
	}
}

// What a finished outline may be out by, mm: as [plateRadius] and [plateCentre]; past an end what is let pass, half the job's
// tolerance.
const runLetPass = 0.01

// A plate on two levels from its drawing to its checked arcs, in one run on each of some machines: what the cutters have truly taken
// is held to the drawing. No pass gouges metal that stands at its depth; the walls are left clean down to their floors; and the steps
// at the blends lie in the bands that the journal foretells.
func TestPlateRun(t *testing.T) {
	plate, machines := tensioner(), 2
	if n, err := strconv.Atoi(os.Getenv("TRAMMEL_TRAPS")); err == nil {
		machines = n
	}
	p := tellPlan(t, plate.args...)
	tasks := plateCuts(t, &plate.trueDrawing, &p)
	steps, inside := make([]int, machines), make([]int, machines)
	sideBySide(t, machines, func(i int) error {
		seed := uint64(i + 1)
		h := &runHand{seed: seed, plate: plate, tasks: tasks, lines: p.Lines, chance: rand.New(rand.NewPCG(seed, 20)),
			behind: []string{"where", "undo"}}
		h.t = t
		journal := h.whole()
		if len(h.behind) > 0 {
			t.Errorf("machine %d: nothing was said behind the first setting: %q is left", seed, h.behind)
		}
		h.judge()
		steps[i], inside[i] = h.steps95(journal)
		return nil
	})
	all, in := 0, 0
	for i := range steps {
		all, in = all+steps[i], in+inside[i]
	}
	t.Logf("%d machines: %d of %d steps at blends inside their bands", machines, in, all)
	if all != 6*machines || in < atLeast(all, 0.95, 10000) {
		t.Errorf("%d of %d steps inside their bands, want 6 a machine and 95 %%", in, all)
	}
}

// whole works the plate off, and returns the journal.
func (h *runHand) whole() string {
	folder := h.t.TempDir()
	job, machine, journal := filepath.Join(folder, "job.toml"), filepath.Join(folder, "machine.toml"), filepath.Join(folder, "run.jsonl")
	stated := append(slices.Clone(practice.BenchJob), "cutter_error = 0.03\n"...) // the practice cutter is worn by less
	for name, text := range map[string][]byte{machine: practice.BenchMachine, job: stated} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			h.t.Fatal(err)
		}
	}
	h.play(folder, append([]string{"--job", job, "--machine", machine, "--journal", journal, "--drawing"}, h.plate.args...)...)
	if all := len(h.tasks) + len(h.lines) + 1; h.last.Next != nil || h.last.Done != h.last.Of || h.last.Of != all || !h.milled {
		h.t.Errorf("machine %d: the run ends with %d of %d done, milled %v, want all %d", h.seed, h.last.Done, h.last.Of, h.milled, all)
	}
	return journal
}
