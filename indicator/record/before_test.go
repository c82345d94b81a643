package record_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/testdata"
)

// askew is a bracket's outline with sharp corners: two sides along the slides, two askew, by nobody's drawing but this; its bore.
func askew(t *testing.T) *part.Plan {
	t.Helper()
	at := []geom.Point{{X: -30, Y: -20}, {X: 40, Y: -20}, {X: 50, Y: 25}, {X: -30, Y: 40}}
	var loop []part.Piece
	for i, p := range at {
		loop = append(loop, part.Piece{Element: geom.Straight(p, at[(i+1)%len(at)]), Layer: "rim"})
	}
	bore := []part.Piece{{Element: geom.ArcOf(geom.Point{}, 6, 0, 2*math.Pi), Layer: "bore"}}
	p, err := part.Make(part.Outline{Loops: [][]part.Piece{loop, bore}}, part.Options{Cutters: []float64{6}, Datum: geom.Point{X: 2, Y: 3}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A hand that does what is said, and no more, cuts each straight where it is drawn: the turns are followed from the words alone, and
// by them the straight lies along the slide that is wound, half the cutter off the one that is locked, with the readouts at zero over
// the cutter's axis. Afterwards an arc finds the work as it was, and the readouts at the head's axis.
func TestBeforeFollowedLiterally(t *testing.T) {
	p := askew(t)
	for _, order := range [][]int{nil, {2, 3, 1, 4, 5}} {
		if order != nil {
			var err error
			if p, err = p.Reordered(order); err != nil {
				t.Fatal(err)
			}
		}
		x := record.NewPlan(record.Planned{Name: "bracket", Part: p, Options: part.Options{Cutters: []float64{6},
			Datum: geom.Point{X: 2, Y: 3}}}, geom.Millimetre)
		turn, cutter, askewBefore := 0.0, false, false
		for _, s := range x.Steps {
			words := strings.Join(s.Before, "\n")
			if _, say, ok := strings.Cut(words, "from how the arcs were cut, turn the work "); ok {
				var by float64
				var way string
				if _, err := fmt.Sscanf(say, "%f° %s", &by, &way); err != nil {
					t.Fatalf("%q: %v", say, err)
				}
				turn = map[string]float64{"anticlockwise": by, "clockwise": -by}[way]
			}
			if strings.Contains(words, "turn the work back to 0") {
				turn = 0
			}
			if strings.Contains(words, "bring the cutter's axis over the datum, 2.000, 3.000 of the drawing") {
				cutter = true
			}
			if strings.Contains(words, "bring the head's axis over the datum") {
				cutter = false
			}
			l := x.Line(s.N)
			if l == nil {
				if turn != 0 || cutter {
					t.Errorf("%v: arc %d is swung with the work turned %v°, readouts over the cutter's axis: %v", x.Order, s.N, turn, cutter)
				}
				continue
			}
			if order == nil && turn == 0 && askewBefore {
				t.Errorf("straight %d is cut as the work lies, behind one that is turned", s.N)
			}
			askewBefore = askewBefore || turn != 0
			var across, along string
			var lock, from, to float64
			run := strings.NewReplacer(",", " ").Replace(x.RunWords(l))
			if _, err := fmt.Sscanf(run, "lock %s at %f start at %s %f wind %s alone towards %f stop", &across, &lock, &along, &from, &along,
				&to); err != nil {
				t.Fatalf("%q: %v", run, err)
			}
			sin, cos := math.Sincos(turn * math.Pi / 180)
			for i, end := range []record.Place{l.Start, l.End} {
				dx, dy := float64(end[0])-2, float64(end[1])-3
				at := map[string]float64{"X": cos*dx - sin*dy, "Y": sin*dx + cos*dy}
				if off := math.Abs(at[across] - lock); math.Abs(off-3) > 0.005 || !cutter {
					t.Errorf("straight %d, end %d: %.3f off the cutter's axis, want 3; zeroed over the cutter: %v", l.N, i, off, cutter)
				}
				if near := min(math.Abs(at[along]-from), math.Abs(at[along]-to)); near > 0.005 {
					t.Errorf("straight %d: end %d at %s %.3f, cut from %v to %v", l.N, i, along, at[along], from, to)
				}
			}
		}
	}
}

// Where the cutter, ahead of the start of an arc of the rim, comes nearer to the outline than half of it, the plan sends it down at
// the start, as the machine does; elsewhere it is fed there.
func TestWayInGougesNothing(t *testing.T) {
	x := testdata.TwoLevels(t, geom.Millimetre, part.Options{Cutters: []float64{6}})
	seen := map[bool]int{}
	for i := range x.Arcs {
		a := &x.Arcs[i]
		if a.Layer != "rim" {
			continue
		}
		gouges, back := false, -1.0
		if a.Sense == "clockwise" {
			back = 1
		}
		for ahead := 1.0; ahead < 40; ahead++ {
			at := a.Centre.Point().Along(geom.FromDegrees(float64(a.Start)+back*ahead), float64(a.Swing))
			for _, n := range x.Order {
				if e := x.Outlined(n); e != nil && n != a.N {
					off, _ := e.Distance(at)
					gouges = gouges || off < 3-0.01
				}
			}
		}
		seen[gouges]++
		words := strings.Join(x.CutWords(a.N), "; ")
		if strings.Contains(words, "go down at the start itself, ") != gouges ||
			strings.Contains(words, "then feed to the start") == gouges {
			t.Errorf("arc %d: ahead of its start it gouges: %v, told %q", a.N, gouges, words)
		}
	}
	if seen[true] == 0 || seen[false] == 0 {
		t.Errorf("gouging starts and free ones: %v, want both", seen)
	}
}

// The plate round the boss is milled down at its place in the order: behind the boss, once, before anything that goes deeper; and the
// depths behind say from where they count. By the drawing: the boss to 4 mm, all else to 10; the bore lies in the boss.
func TestPlateIsMilledInTheOrder(t *testing.T) {
	x := testdata.TwoLevels(t, geom.Millimetre, part.Options{Cutters: []float64{6}})
	milled, boss := 0, false
	for _, s := range x.Steps {
		for _, b := range s.Before {
			if strings.HasPrefix(b, "milling 14: mill the plate down by the slides to 4.0 mm below the top of the stock, no deeper; "+
				"2 passes: 2.0, 4.0 mm") {
				milled++
				if !boss {
					t.Errorf("milled ahead of the boss: %q", b)
				}
			}
		}
		a := x.Arc(s.N)
		if a != nil && a.Layer == "boss" {
			boss = true
			continue
		}
		want := "from the stock's top as it was (the plate's face there is 4.0 mm down already), 4 passes"
		if a != nil && a.Layer == "bore" {
			want = "from the top of the boss, element 1, 4 passes"
		}
		if words := strings.Join(x.CutWords(s.N), "; "); !strings.HasPrefix(words, want) || milled != 1 {
			t.Errorf("element %d: %q, want %q; milled %d times before", s.N, words, want, milled)
		}
	}
}

// The milling is told a movement a line, in the plan as on the plate's run: how deep and in which passes, where the head (or the table)
// and the cutter stand, from the floor of the boss's own cutter, to the outline. By the drawing: down to 4 mm in steps of 2.5, so in 2.
func TestMillingIsTold(t *testing.T) {
	for _, rotary := range []bool{false, true} {
		of := testdata.LevelPart(t, part.Options{Cutters: []float64{6}, Rotary: rotary})
		x := record.NewPlan(of, geom.Millimetre)
		said := x.MillWords(x.Mill(14))
		want := []string{"milling 14: mill the plate down by the slides to 4.0 mm below the top of the stock, no deeper; " +
			"2 passes: 2.0, 4.0 mm",
			"lock the head, at any figure of its ring; leave the readouts as they are",
			"the cutter stands a swing radius off what they show: look",
			"begin on the floor round element 1, 6.000 mm wide; stay off its wall",
			"end at the outline round that: past a rim's edge, not into a pocket's wall; look first what else stands higher"}
		if rotary {
			want[1], want[2] = "lock the table; note where the slides stand", "the slides carry the work under the cutter"
		}
		for i, w := range want {
			if i >= len(said) || !strings.HasPrefix(said[i], w) || rotary && strings.Contains(said[i], "head") {
				t.Errorf("rotary %v: %q, want line %d to begin with %q", rotary, said, i, w)
			}
		}
		plate := part.NewPlate(of.Part, "plate")
		// As though all before it were done.
		slices.SortStableFunc(plate.Tasks, func(a, b part.Task) int { return len(b.Mill) - len(a.Mill) })
		now, _ := record.NewWhere(plate, &record.Drawn{}, nil, geom.Millimetre)
		if do := strings.Join(said, "; "); now.Next == nil || "milling 14: "+now.Next.Do != do {
			t.Errorf("rotary %v: the run says %+v, the plan %q", rotary, now.Next, do)
		}
	}
}
