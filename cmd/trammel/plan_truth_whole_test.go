package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// trueSaid is what must not depend on where a hand stands or on what else is cut, in words for comparing.
func (d *trueDrawing) trueSaid(p *toldPlan, a *toldArc, hand bool) (said []string) {
	x := trueTrial{d: d, p: p}
	figure := func(what string, v *float64) {
		if v == nil {
			said = append(said, what+" null")
			return
		}
		said = append(said, fmt.Sprintf("%s %.6f", what, *v+0)) // to a millionth, see trueAlike
	}
	said = append(said, "side "+a.Side, "metal_from "+orNone(a.MetalFrom))
	figure("swing", a.Swing)
	if hand {
		said = append(said, "sense "+a.Sense)
		figure("start", a.Start)
		figure("stop", a.Stop)
	}
	for _, e := range a.Ends {
		figure("past", e.Past)
		figure("short", e.Short)
		figure("end_tolerance", e.EndTolerance)
		if e.Past != nil {
			who, _ := x.element(e.Into)
			said = append(said, fmt.Sprintf("into %+v", who.edgeOrNone()))
		}
	}
	return said
}

func (w trueWho) edgeOrNone() trueEdge {
	if w.k == nil {
		return trueEdge{}
	}
	return w.edge()
}

// same complains of every arc of q that is told otherwise than in p, and of one that p lacks.
func (d *trueDrawing) same(t *testing.T, what string, p, q *toldPlan, hand bool) (alike int) {
	t.Helper()
	for i := range q.Arcs {
		b := &q.Arcs[i]
		who, ok := d.arc(b)
		j := slices.IndexFunc(p.Arcs, func(a toldArc) bool { w, found := d.arc(&a); return found && w == who })
		if !ok || j < 0 {
			t.Errorf("%s %s: arc %d is not in the whole plan", d.name, what, b.N)
			continue
		}
		if one, other := d.trueSaid(p, &p.Arcs[j], hand), d.trueSaid(q, b, hand); !slices.Equal(one, other) {
			t.Errorf("%s %s: arc %d on %s R %.3f is told\n\t%s\nand arc %d of the whole plan\n\t%s", d.name, what, b.N, b.Layer,
				d.mm(b.Radius), strings.Join(other, ", "), p.Arcs[j].N, strings.Join(one, ", "))
		}
		alike++
	}
	return alike
}

// sameWhatever: the side, the swing and the windows of an arc are the same at every machine.
func (d *trueDrawing) sameWhatever(t *testing.T, what string, p, q *toldPlan) {
	t.Helper()
	if n := d.same(t, what, p, q, false); n != len(p.Arcs) {
		t.Errorf("%s %s: %d arcs, want %d", d.name, what, n, len(p.Arcs))
	}
}

// What is planned alone is planned as in the whole: what is cut does not change what is metal.
func TestPlanOfOneLayerIsThatOfTheWhole(t *testing.T) {
	for _, d := range trueDrawings(t) {
		for _, cutters := range d.cutters {
			if len(cutters) > 1 { // the cutter may be another one
				continue
			}
			t.Run(d.name+" cutter "+cutters[0], func(t *testing.T) {
				asked := append(slices.Clone(d.args), "--cutter", cutters[0])
				whole, n := tellPlan(t, asked...), 0
				for _, layer := range d.layers {
					alone := tellPlan(t, append(slices.Clone(asked), "--layer", layer)...)
					n += d.same(t, "layer "+layer+" alone", &whole, &alone, true)
					for _, s := range alone.Slots {
						i := slices.IndexFunc(whole.Slots, func(w toldSlot) bool { return w.Centre == s.Centre && w.Radius == s.Radius })
						if i < 0 || slotSaid(whole.Slots[i]) != slotSaid(s) {
							t.Errorf("layer %s alone: slot %s is not that of the whole", layer, slotSaid(s))
						}
					}
				}
				if n != len(whole.Arcs) {
					t.Errorf("%d arcs by layers, %d in the whole", n, len(whole.Arcs))
				}
			})
		}
	}
}

func slotSaid(s toldSlot) string {
	show := func(v *float64) string {
		if v == nil {
			return "null"
		}
		return fmt.Sprintf("%.6f", *v)
	}
	return fmt.Sprintf("R %.6f width %.6f swing %s cutter %s single pass %v from %s to %s", s.Radius, s.Width, show(s.Swing),
		show(s.Cutter), s.SinglePass, show(s.Start), show(s.Stop))
}

// truePlates are the quadrant plate, drawn and as an outline.
func truePlates(t *testing.T) []*trueDrawing {
	t.Helper()
	plates := slices.DeleteFunc(trueDrawings(t), func(d *trueDrawing) bool { return !strings.HasPrefix(d.name, "quadrant") })
	if len(plates) != 2 {
		t.Fatalf("%d quadrant plates, want 2", len(plates))
	}
	return plates
}

// swings are the plan's swing radii by layer and radius; NaN where there is none.
func (d *trueDrawing) swings(p *toldPlan) map[string]float64 {
	all := map[string]float64{}
	for _, a := range p.Arcs {
		v := math.NaN()
		if a.Swing != nil {
			v = d.mm(*a.Swing)
		}
		all[fmt.Sprintf("%s %.0f", a.Layer, a.Radius)] = v
	}
	return all
}

// The clamping slot: centre line 36, width 8, from 20° to 70°. A cutter as wide makes it in one pass that
// leaves nothing and gouges nothing; a smaller one goes down the middle first, then along the walls.
func TestPlanOfTheSlot(t *testing.T) {
	for _, d := range truePlates(t) {
		for _, x := range []struct {
			cutter   string
			single   bool
			wall     map[string]float64 // swing radii by hand: 40 − 3, 32 + 3, the ends 4 − 3
			gouge    float64            // of the pass on the centre line, by hand, mm
			leftOver float64
		}{
			{"8", true, map[string]float64{"slot 40": math.NaN(), "slot 32": math.NaN(), "slot 4": math.NaN()}, 0, 0},
			{"6", false, map[string]float64{"slot 40": 37, "slot 32": 35, "slot 4": 1}, -1, 1},
		} {
			t.Run(d.name+" cutter "+x.cutter, func(t *testing.T) {
				p := tellPlan(t, append(slices.Clone(d.args), "--cutter", x.cutter)...)
				if len(p.Slots) != 1 {
					t.Fatalf("%d slots, want 1", len(p.Slots))
				}
				s := p.Slots[0]
				d.slotItself(t, &p, s, x.cutter, x.single)
				for what, got := range d.swings(&p) {
					if want, ok := x.wall[what]; ok && !(math.Abs(got-want) <= trueAlike || math.IsNaN(got) && math.IsNaN(want)) {
						t.Errorf("%s: swing %.6f, want %.6f (NaN: none)", what, got, want)
					}
				}
				d.slotsOrder(t, &p, s)
				d.slotsPass(t, s, x.gouge, x.leftOver)
			})
		}
	}
}

// slotItself: the fields of the slot.
func (d *trueDrawing) slotItself(t *testing.T, p *toldPlan, s toldSlot, cutter string, single bool) {
	t.Helper()
	c := d.spot(s.Centre)
	if c.length() > trueAlike || math.Abs(s.Radius-36) > trueAlike || math.Abs(s.Width-8) > trueAlike || s.SinglePass != single ||
		math.Abs(math.Remainder(s.From-20, 360)) > trueAlike || math.Abs(math.Remainder(s.To-70, 360)) > trueAlike {
		t.Errorf("slot %+v, want centre 0,0, radius 36, width 8, from 20 to 70, single pass %v", s, single)
	}
	if s.Swing == nil || math.Abs(*s.Swing-36) > trueAlike || s.Cutter == nil || fmt.Sprint(*s.Cutter) != cutter {
		t.Errorf("slot %s, want swing 36 with cutter %s", slotSaid(s), cutter)
	}
	var arcs []int
	for _, a := range p.Arcs {
		if a.Layer == "slot" {
			arcs = append(arcs, a.N)
		}
	}
	if got := slices.Sorted(slices.Values(s.Arcs)); len(arcs) != 4 || !slices.Equal(got, arcs) {
		t.Errorf("slot's arcs %v, want the four on layer slot, %v", got, arcs)
	}
	for _, a := range p.Arcs {
		if a.N == s.N {
			t.Errorf("the slot and an arc are both number %d", s.N)
		}
	}
	if len(s.Ends) != 2 {
		t.Errorf("slot has %d ends, want 2", len(s.Ends))
	}
	x := trueTrial{d: d, p: p, complain: func(format string, v ...any) { t.Helper(); t.Errorf("slot "+format, v...) }}
	for i, e := range s.Ends {
		x.corner([]string{"from", "to"}[i], e)
	}
}

// slotsOrder: the pass on the centre line is in the order before the walls; one that does it all is alone there,
// its walls and ends in no setting and no problem.
func (d *trueDrawing) slotsOrder(t *testing.T, p *toldPlan, s toldSlot) {
	t.Helper()
	first := slices.Index(p.Order, s.N)
	if first < 0 {
		t.Errorf("order %v does not name slot %d", p.Order, s.N)
	}
	for _, n := range s.Arcs {
		at := slices.Index(p.Order, n)
		switch {
		case s.SinglePass && at >= 0:
			t.Errorf("order %v names arc %d, which slot %d makes in one pass", p.Order, n, s.N)
		case !s.SinglePass && at < first:
			t.Errorf("order %v: arc %d is not after slot %d", p.Order, n, s.N)
		}
		for _, g := range p.Groups {
			if s.SinglePass && slices.Contains(g.Arcs, n) {
				t.Errorf("arc %d is in a setting, but slot %d is made in one pass", n, s.N)
			}
		}
		for _, q := range p.Problems {
			if s.SinglePass && (q.N == n || q.Other == n) {
				t.Errorf("arc %d is made in one pass and has a problem: %s", n, q.Text)
			}
		}
	}
}

// slotsPass carries the cutter from start to stop along the slot's centre line.
func (d *trueDrawing) slotsPass(t *testing.T, s toldSlot, gouge, leftOver float64) {
	t.Helper()
	if s.Start == nil || s.Stop == nil || s.Swing == nil || s.Cutter == nil {
		t.Errorf("slot's start, stop, swing or cutter is not told")
		return
	}
	if one, other := min(*s.Start, *s.Stop), max(*s.Start, *s.Stop); math.Abs(one-20) > trueAlike || math.Abs(other-70) > trueAlike {
		t.Errorf("slot's start %.4f° and stop %.4f°, want 20 and 70", *s.Start, *s.Stop)
		return
	}
	k, c := trueSlot(), trueSwing{d.spot(s.Centre), *s.Swing, *s.Cutter / 2}
	deepest := math.Inf(-1)
	for i := range 51 {
		depth, _ := k.depth(c.axis(*s.Start+(*s.Stop-*s.Start)*float64(i)/50), c.radius)
		deepest = max(deepest, depth)
	}
	swept, most := trueArc(c.centre, c.swing, 20, 50), math.Inf(-1)
	for _, e := range k.edges {
		for i := range 51 {
			most = max(most, swept.away(e.at(float64(i)/50))-c.radius)
		}
	}
	if math.Abs(deepest-gouge) > trueAlike || math.Abs(most-leftOver) > trueAlike {
		t.Errorf("the pass with %v mm gouges %.6f and leaves %.6f mm, by hand %v and %v", *s.Cutter, deepest, most, gouge, leftOver)
	}
}

// Boss R 16, metal inside as is stated: 16 + 3; the bore R 6 in it: 6 − 3.
func TestPlanOfBossAndBore(t *testing.T) {
	boss, bore := map[string]float64{"boss 16": 19}, map[string]float64{"bore 6": 3}
	for _, d := range truePlates(t) {
		for _, x := range []struct {
			layers []string
			want   []map[string]float64
		}{
			{nil, []map[string]float64{boss, bore}},
			{[]string{"--layer", "boss"}, []map[string]float64{boss}},
			{[]string{"--layer", "bore"}, []map[string]float64{bore}},
		} {
			p := tellPlan(t, slices.Concat(d.args, []string{"--cutter", "6"}, x.layers)...)
			got := d.swings(&p)
			for _, want := range x.want {
				for what, swing := range want {
					if v, ok := got[what]; !ok || !(math.Abs(v-swing) <= trueAlike) {
						t.Errorf("%s %v: %s has swing %v (planned: %v), want %v", d.name, x.layers, what, v, ok, swing)
					}
				}
			}
			for _, q := range p.Problems {
				if strings.Contains(q.Text, "--metal") {
					t.Errorf("%s %v: a problem although the boss's metal is stated: %s", d.name, x.layers, q.Text)
				}
			}
		}
	}
}

// Plate, boss and bore cannot be told from plate, hole and island: where nobody states the metal the plan follows
// nesting, says so, and says what would settle it.
func TestPlanSaysWhatNestingCannotKnow(t *testing.T) {
	const text = `unit = "mm"
[[circle]]
layer = "rim"
centre = [0, 0]
radius = 52
[[circle]]
layer = "boss"
centre = [0, 0]
radius = 16
[[circle]]
layer = "bore"
centre = [0, 0]
radius = 6
`
	file := filepath.Join(t.TempDir(), "plate.toml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, layers := range [][]string{nil, {"--layer", "boss"}, {"--layer", "bore"}} {
		p := tellPlan(t, append([]string{file, "--cutter", "6"}, layers...)...)
		if !slices.ContainsFunc(p.Problems, func(q toldProblem) bool {
			return strings.Contains(q.Text, "boss") && strings.Contains(q.Text, "bore") && strings.Contains(q.Text, "--metal")
		}) {
			t.Errorf("plan %v: no problem names boss, bore and --metal, seen %+v", layers, p.Problems)
		}
		want := map[string]string{"rim": "inside", "boss": "outside", "bore": "inside"} // loop, hole, island
		for _, a := range p.Arcs {
			if a.Side != want[a.Layer] || orNone(a.MetalFrom) != "nesting" {
				t.Errorf("plan %v: %s has its metal %s by %q, want %s by nesting", layers, a.Layer, a.Side,
					orNone(a.MetalFrom), want[a.Layer])
			}
		}
	}
	p := tellPlan(t, file, "--cutter", "6", "--metal", "boss=inside")
	for _, q := range p.Problems {
		if strings.Contains(q.Text, "--metal") {
			t.Errorf("a problem although the boss's metal is stated: %s", q.Text)
		}
	}
}
