package part_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
)

// moved is an outline with every piece moved.
func moved(o part.Outline, move func(geom.Element) geom.Element) part.Outline {
	chains := func(in [][]part.Piece) (out [][]part.Piece) {
		for _, c := range in {
			var to []part.Piece
			for _, p := range c {
				p.Element = move(p.Element)
				to = append(to, p)
			}
			out = append(out, to)
		}
		return out
	}
	return part.Outline{Loops: chains(o.Loops), Open: chains(o.Open)}
}

// turned is an element turned about the origin and then shifted.
func turned(by geom.Bearing, shift geom.Point) func(geom.Element) geom.Element {
	place := func(p geom.Point) geom.Point { return turnedPoint(p, by).Add(shift) }
	return func(e geom.Element) geom.Element {
		e.Start, e.End, e.Centre = place(e.Start), place(e.End), place(e.Centre)
		return e
	}
}

func turnedPoint(p geom.Point, by geom.Bearing) geom.Point {
	u := by.Unit()
	return at(p.X*u.X-p.Y*u.Y, p.X*u.Y+p.Y*u.X)
}

// mirrored is an element seen in a mirror along the Y axis.
func mirrored(e geom.Element) geom.Element {
	e.Start.X, e.End.X, e.Centre.X, e.Turn = -e.Start.X, -e.End.X, -e.Centre.X, -e.Turn
	return e
}

// outlines are parts to move about.
var outlines = map[string]func() part.Outline{"quadrant": quadrant, "link": link, "moat": func() part.Outline {
	return part.Outline{Loops: [][]part.Piece{
		pieces(geom.ArcOf(at(7, 7), 15, 0, 360*deg)), pieces(geom.ArcOf(at(7, 7), 40, 0, 360*deg)),
		said(part.Outside, geom.ArcOf(at(7, 7), 24, 0, 360*deg))}}
}}

// sameEnds holds two ends to each other; of two elements that are equally far off either may be told.
func sameEnds(t *rapid.T, a, b part.End) {
	if a.Free != b.Free || a.Into != b.Into || a.Tangent != b.Tangent || a.Next != b.Next ||
		!(math.Abs(a.Past-b.Past) <= 1e-6 || a.Past == b.Past) || math.Abs(a.Short-b.Short) > 1e-8 || math.Abs(a.Before-b.Before) > 1e-6 {
		t.Fatalf("end %+v, want %+v", b, a)
	}
}

// Where the outline lies, and how it is turned, changes no size, side, sense, group or order; angles
// turn with it and places move with it.
func TestMovedOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"quadrant", "link", "moat"}).Draw(t, "outline")
		by := geom.Bearing(rapid.Float64Range(-7, 7).Draw(t, "turned by"))
		shift := at(rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y"))
		opt := part.Options{Cutters: []float64{6, 8}, Slides: []geom.Bearing{0}}
		p, err := part.Make(outlines[name](), opt)
		if err != nil {
			t.Fatal(err)
		}
		opt.Slides = []geom.Bearing{by}
		q, err := part.Make(moved(outlines[name](), turned(by, shift)), opt)
		if err != nil {
			t.Fatal(err)
		}
		for i, a := range p.Arcs {
			b := q.Arcs[i]
			if a.Side != b.Side || a.Sense != b.Sense || a.Group != b.Group || a.Cutter != b.Cutter || math.Abs(a.Swing-b.Swing) > tiny {
				t.Fatalf("arc %d: %+v, want as %+v", a.N, b, a)
			}
			if !a.Full() && (a.From+by).Apart(b.From) > tiny || math.Abs(float64(a.Sweep-b.Sweep)) > tiny {
				t.Fatalf("arc %d from %v by %v, want %v turned by %v", a.N, b.From, b.Sweep, a.From, by)
			}
			if off := turnedPoint(a.Centre, by).Add(shift).Sub(b.Readout).Norm(); off > tiny {
				t.Fatalf("arc %d: readout off by %v", a.N, off)
			}
			sameEnds(t, a.Ends[0], b.Ends[0])
			sameEnds(t, a.Ends[1], b.Ends[1])
		}
		for i, a := range p.Lines {
			b := q.Lines[i]
			if !b.Sliding || turnedPoint(a.Axis[0], by).Add(shift).Sub(b.Axis[0]).Norm() > tiny {
				t.Fatalf("line %+v, want as %+v", b, a)
			}
		}
		for i := range p.Order {
			if p.Order[i].N != q.Order[i].N {
				t.Fatalf("order %v, want %v", q.Order, p.Order)
			}
		}
		for i, a := range p.Blends {
			if b := q.Blends[i]; turnedPoint(a.Normal, by).Sub(b.Normal).Norm() > 1e-8 || a.Tangent != b.Tangent {
				t.Fatalf("blend %+v, want as %+v", b, a)
			}
		}
	})
}

// samePast holds how far past two ends the cutter may run.
func samePast(t *testing.T, what string, got, want part.End) {
	t.Helper()
	if got.Past != want.Past {
		near(t, what, got.Past, want.Past, 1e-6)
	}
}

// In a mirror, from and to trade places, and the axis's mirrored run cuts conventionally with the
// mirrored cutter: every sense changes with the cutter's hand, and none without it.
func TestMirroredOutline(t *testing.T) {
	for name, outline := range outlines {
		p := made(t, outline(), part.Options{Cutters: []float64{8}})
		q := made(t, moved(outline(), mirrored), part.Options{Cutters: []float64{8}, LeftHand: true})
		same := made(t, moved(outline(), mirrored), part.Options{Cutters: []float64{8}})
		for i, a := range p.Arcs {
			b := q.Arcs[i]
			want := a.Sense
			if want != part.NoSense {
				want = part.Anticlockwise + part.Clockwise - want
			}
			if b.Sense != want || same.Arcs[i].Sense != a.Sense || b.Side != a.Side || b.Swing != a.Swing {
				t.Errorf("%s, arc %d: %+v, want %+v in the mirror", name, a.N, b, a)
			}
			if !a.Full() {
				if off := (180*deg - a.To).Apart(b.From); off > tiny {
					t.Errorf("%s, arc %d: from %v°, want %v°", name, a.N, b.From.Degrees(), 180-a.To.Degrees())
				}
				for k := range 2 {
					samePast(t, "past", b.Ends[k], a.Ends[1-k])
					near(t, "short", b.Ends[k].Short, a.Ends[1-k].Short, 1e-8)
				}
			}
		}
		for i, a := range p.Lines {
			b := q.Lines[i]
			near(t, "axis", b.Axis[0].X, -a.Axis[0].X, tiny)
			near(t, "axis", b.Axis[1].X, -a.Axis[1].X, tiny)
		}
	}
}

// Drawn the other way, a chain's elements are numbered the other way, and nothing else changes.
func TestDrawnTheOtherWay(t *testing.T) {
	for name, outline := range outlines {
		o := outline()
		p := made(t, o, part.Options{Cutters: []float64{8, 10}})
		number := map[int]int{}
		first := 1
		for _, chains := range [][][]part.Piece{o.Loops, o.Open} {
			for k, c := range chains {
				var back []part.Piece
				for i := range c {
					e := c[len(c)-1-i]
					e.Element = e.Reversed()
					back = append(back, e)
					number[first+len(c)-1-i] = first + i
				}
				chains[k] = back
				first += len(c)
			}
		}
		q := made(t, o, part.Options{Cutters: []float64{8, 10}})
		at := map[int]part.Arc{}
		for _, b := range q.Arcs {
			at[b.N] = b
		}
		for _, a := range p.Arcs {
			b := at[number[a.N]]
			if a.Side != b.Side || a.Sense != b.Sense || a.Cutter != b.Cutter || math.Abs(a.Swing-b.Swing) > tiny ||
				a.From.Apart(b.From) > tiny || math.Abs(float64(a.Sweep-b.Sweep)) > tiny || a.Source != b.Source {
				t.Errorf("%s, arc %d: %+v, want %+v", name, a.N, b, a)
			}
			for k := range 2 {
				samePast(t, name+" past", b.Ends[k], a.Ends[k])
				near(t, name+" short", b.Ends[k].Short, a.Ends[k].Short, 1e-8)
				if number[a.Ends[k].Into] != b.Ends[k].Into {
					t.Errorf("%s, arc %d bites %d, want %d", name, a.N, b.Ends[k].Into, number[a.Ends[k].Into])
				}
			}
		}
		for i, a := range p.Lines {
			b := q.Lines[len(q.Lines)-1-i]
			near(t, name+" axis", a.Axis[0].Sub(b.Axis[0]).Norm()+a.Axis[1].Sub(b.Axis[1]).Norm(), 0, tiny)
		}
		normals := func(p *part.Plan) (sum float64) {
			for _, b := range p.Blends {
				sum += b.Normal.X*b.At.Y + 3*b.Normal.Y*b.At.X + float64(b.Kink)
			}
			return sum
		}
		near(t, name+" normals", normals(q), normals(p), 1e-8)
	}
}

// The cutter stands at bearing b and the table, turned counter-clockwise by t, carries the place at
// bearing β of its frame to b where β + t = b. Between TableStart and TableStop it must pass the whole arc,
// and the told sense must cut conventionally: at the contact the cutter's teeth move against the feed of
// the work, so along the cutter's own run relative to it. The same for a carried head.
func TestSensesCutConventionally(t *testing.T) {
	for _, left := range []bool{false, true} {
		for _, rotary := range []bool{false, true} {
			b := 70 * deg
			p := made(t, quadrant(), part.Options{Cutters: []float64{10}, LeftHand: left, Rotary: rotary, CutterBearing: b})
			for _, a := range p.Arcs[:4] {
				// The cutter's run over the work's own frame, a small step of it in the middle of the arc.
				middle, small := a.From+a.Sweep/2, geom.Bearing(1e-4)
				if a.Sense == part.Clockwise {
					small = -small
				}
				axis := func(step geom.Bearing) geom.Point { return a.Centre.Along(middle+step, a.Swing) }
				if rotary {
					table := (a.TableStart + a.TableStop) / 2
					axis = func(step geom.Bearing) geom.Point {
						cutter := at(0, 0).Along(b, a.Swing) // about the table's axis, which stands on the centre
						return a.Centre.Add(turnedPoint(cutter, -(table + step)))
					}
					for _, end := range []struct{ table, cut geom.Bearing }{{a.TableStart, a.Start}, {a.TableStop, a.Stop}} {
						if got := turnedPoint(at(0, 0).Along(b, 1), -end.table).Bearing(); got.Apart(end.cut) > tiny {
							t.Errorf("arc %d: table at %v° cuts at %v°, want %v°", a.N, end.table.Degrees(), got.Degrees(),
								end.cut.Degrees())
						}
					}
				}
				run := axis(small).Sub(axis(0))
				touch := a.Centre.Along(middle, a.Radius).Sub(axis(0)) // from the cutter's axis to the work
				tooth := at(touch.Y, -touch.X)                         // clockwise
				if left {
					tooth = at(-touch.Y, touch.X)
				}
				if tooth.Dot(run) <= 0 {
					t.Errorf("arc %d, left-hand %v, rotary %v: %v climbs", a.N, left, rotary, a.Sense)
				}
			}
		}
	}
}
