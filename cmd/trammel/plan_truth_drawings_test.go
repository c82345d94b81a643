package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// What this test reads of plan --json.
type (
	toldEnd struct {
		At           [2]float64
		Into         int
		Past, Short  *float64
		EndTolerance *float64 `json:"end_tolerance"`
	}
	toldArc struct {
		N                   int
		Layer               string
		Centre              [2]float64
		Radius, From, Sweep float64
		Side, Sense         string
		MetalFrom           *string `json:"metal_from"`
		Cutter, Swing       *float64
		Start, Stop         *float64
		TableStart          *float64 `json:"table_start"`
		TableStop           *float64 `json:"table_stop"`
		Ends                []toldEnd
	}
	toldLine struct {
		N          int
		Layer      string
		Start, End [2]float64
		Cutter     *float64
	}
	toldSlot struct {
		N                       int
		Centre                  [2]float64
		Radius, Width, From, To float64
		Arcs                    []int
		Swing, Cutter           *float64
		SinglePass              bool `json:"single_pass"`
		Start, Stop             *float64
		Ends                    []toldEnd
	}
	toldProblem struct {
		N, Other int
		Text     string
	}
	toldPlan struct {
		Unit     string
		Arcs     []toldArc
		Lines    []toldLine
		Slots    []toldSlot
		Order    []int
		Groups   []struct{ Arcs []int }
		Problems []toldProblem
	}
)

// tellPlan runs the verb and reads what it tells.
func tellPlan(t *testing.T, args ...string) (out toldPlan) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	w := world{in: strings.NewReader(""), out: &stdout, err: &stderr, now: time.Now, getenv: func(string) string { return "" }}
	if code := run(append([]string{"plan", "--json"}, args...), w); code != 0 {
		t.Fatalf("trammel plan %q: exit code %d, want 0: %s", args, code, stderr.String())
	}
	if err := json.Unmarshal(stdout.Bytes(), &out); err != nil {
		t.Fatalf("trammel plan %q: %v", args, err)
	}
	return out
}

// trueDrawing is a drawing as it was drawn, and how the plan is asked for it.
type trueDrawing struct {
	name, unit string
	args       []string   // unit and metal, and the file
	cutters    [][]string // the cutters at hand, by turns, in the drawing's unit
	letPass    string     // trueLetPassAsked in the drawing's unit
	contours   []*trueContour
	layers     []string
}

// mm is a length of the plan in millimetres.
func (d *trueDrawing) mm(v float64) float64 {
	if d.unit == "in" {
		return v * 25.4
	}
	return v
}

func (d *trueDrawing) spot(p [2]float64) trueSpot { return trueSpot{d.mm(p[0]), d.mm(p[1])} }

// The sides as the parts are meant. The quadrant plate: a plate with a slot in it, and on it a boss that is
// bored. The mixed drawings: closed elements that stand alone, the outermost of their own.
var (
	platesMetal = map[string][2]string{
		"rim": {"inside", "nesting"}, "slot": {"outside", "slot"}, "boss": {"inside", "stated"}, "bore": {"outside", "nesting"},
	}
	mixedMetal = map[string][2]string{"slot": {"inside", "nesting"}, "Bögen": {"inside", "nesting"}, "hidden": {"inside", "nesting"}}
)

// trueDrawings joins the elements of the drawings to outlines.
func trueDrawings(t *testing.T) (all []*trueDrawing) {
	t.Helper()
	const plate = "quadrant-plate.dxf"
	for name, file := range trueFiles(t) {
		d := &trueDrawing{name: name, unit: file.Unit, letPass: fmt.Sprint(trueLetPassAsked)}
		d.args = []string{"--unit", file.Unit, filepath.Join(drawingsFolder, name)}
		metal := mixedMetal
		switch {
		case name == plate:
			d.args, metal = append(d.args, "--metal", "boss=inside"), platesMetal
			d.cutters = [][]string{{"6"}, {"8"}, {"6", "12"}}
		case file.Unit == "in":
			d.cutters, d.letPass = [][]string{{"0.25"}, {"1"}}, fmt.Sprint(trueLetPassAsked/25.4)
		default:
			d.cutters = [][]string{{"6"}, {"3"}}
		}
		d.join(file.Elements, metal)
		all = append(all, d)
		if name == plate { // the same part as an outline of corners, the boss's metal stated in the file
			same := *d
			same.name, same.args = "quadrant-plate.toml", []string{filepath.Join(drawingsFolder, "quadrant-plate.toml")}
			all = append(all, &same)
		}
	}
	slices.SortFunc(all, func(a, b *trueDrawing) int { return strings.Compare(a.name, b.name) })
	if len(all) != 14 {
		t.Fatalf("%d drawings, want 14", len(all))
	}
	return all
}

// join makes outlines of elements that share ends.
func (d *trueDrawing) join(elements []trueElement, metal map[string][2]string) {
	var left []trueEdge
	for _, e := range elements {
		x := trueEdge{a: trueSpot{e.Start[0], e.Start[1]}, b: trueSpot{e.End[0], e.End[1]}}
		if e.Kind == "arc" {
			x = trueArc(trueSpot{e.Centre[0], e.Centre[1]}, e.Radius, e.From, e.Sweep)
		}
		x.layer = e.Layer
		left = append(left, x)
		if !slices.Contains(d.layers, e.Layer) {
			d.layers = append(d.layers, e.Layer)
		}
	}
	meets := func(e, f trueEdge) bool {
		return min(e.a.minus(f.a).length(), e.a.minus(f.b).length(), e.b.minus(f.a).length(), e.b.minus(f.b).length()) <= trueMeet
	}
	for len(left) > 0 {
		k := &trueContour{edges: left[:1:1]}
		left = left[1:]
		for i := 0; i < len(k.edges); i++ {
			left = slices.DeleteFunc(left, func(f trueEdge) bool {
				if meets(k.edges[i], f) {
					k.edges = append(k.edges, f)
					return true
				}
				return false
			})
		}
		k.closed = true
		for i, e := range k.edges {
			_, _, a := k.neighbour(i, true)
			_, _, b := k.neighbour(i, false)
			k.closed = k.closed && (e.full() || a && b)
		}
		if k.closed {
			m := metal[k.edges[0].layer]
			k.metal, k.from = m[0], m[1]
		}
		d.contours = append(d.contours, k)
	}
}

// trueWho is a true element: its outline, and which one of it.
type trueWho struct {
	k *trueContour
	i int
}

func (w trueWho) edge() trueEdge { return w.k.edges[w.i] }

// arcs is how many arcs were drawn.
func (d *trueDrawing) arcs() (n int) {
	for _, k := range d.contours {
		for _, e := range k.edges {
			if e.curved {
				n++
			}
		}
	}
	return n
}

// arc finds the true element that an arc of the plan is.
func (d *trueDrawing) arc(a *toldArc) (trueWho, bool) {
	for _, k := range d.contours {
		for i, e := range k.edges {
			if e.curved && e.layer == a.Layer && e.centre.minus(d.spot(a.Centre)).length() <= trueAlike &&
				math.Abs(e.radius-d.mm(a.Radius)) <= trueAlike && math.Abs(e.sweep-a.Sweep) <= trueAlike &&
				(e.full() || math.Abs(math.Remainder(e.from-a.From, 360)) <= trueAlike) {
				return trueWho{k, i}, true
			}
		}
	}
	return trueWho{}, false
}

// line finds the true element that a straight of the plan is.
func (d *trueDrawing) line(l *toldLine) (trueWho, bool) {
	a, b := d.spot(l.Start), d.spot(l.End)
	for _, k := range d.contours {
		for i, e := range k.edges {
			there, back := max(e.a.minus(a).length(), e.b.minus(b).length()), max(e.a.minus(b).length(), e.b.minus(a).length())
			if !e.curved && e.layer == l.Layer && min(there, back) <= trueAlike {
				return trueWho{k, i}, true
			}
		}
	}
	return trueWho{}, false
}
