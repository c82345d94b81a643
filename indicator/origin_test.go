package indicator_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// near0 is a machine whose slide stands near R = 0: the head axis at the origin, the slide's line at a
// bearing with the head parked, passing it by miss on the left, and the ring about c.
type near0 struct {
	along, miss float64
	slide       geom.Bearing
	c           geom.Point
	wall        float64
	tool        tool
	inside      bool
}

// spindle is where its axis stands when the head has been swung on by an angle.
func (n near0) spindle(on geom.Bearing) geom.Point {
	b := n.slide + on
	u := b.Unit()
	return geom.Point{X: n.along*u.X - n.miss*u.Y, Y: n.along*u.Y + n.miss*u.X}
}

// sweeps are the spin with the head parked and the swing with the tip along the slide.
func (n near0) sweeps(b []geom.Bearing) (spin, swing []float64) {
	for _, at := range b {
		spin = append(spin, n.tool.read(n.spindle(0), at, n.c, n.wall, n.inside))
		swing = append(swing, n.tool.read(n.spindle(at-n.slide), at, n.c, n.wall, n.inside))
	}
	return spin, swing
}

func (n near0) find(t *testing.T, b []geom.Bearing, slideLimit float64) indicator.Origin {
	t.Helper()
	s := indicator.Setup{ReferenceRadius: n.wall, TipDiameter: 2 * n.tool.radius}
	if !n.inside {
		s.Touch = indicator.Boss
	}
	m, w := n.sweeps(b)
	spin, swing := mustFit(t, indicator.Dial{}, s, b, m), mustFit(t, indicator.Dial{}, s, b, w)
	return indicator.FindOrigin(&spin, &swing, n.slide, slideLimit)
}

// A slide that stands beyond the head axis or short of it, and passes it on either side: place and miss
// are found with their signs, in a ring and round a plug. What is left out is the swing's line passing
// the head axis, |C − A|·h/ρ.
func TestOrigin(t *testing.T) {
	b := stations(8, 0.1, 360)
	for _, along := range []float64{0.4, -0.3, 0} {
		for _, miss := range []float64{0.15, -0.15, 0} {
			for _, deg := range []float64{0, 30, 200} {
				for _, inside := range []bool{true, false} {
					n := near0{along, miss, geom.FromDegrees(deg), geom.Point{X: 0.12, Y: 0.05}, 20, tool{19, 1, true}, inside}
					if !inside {
						n.tool = tool{21, 1, false}
					}
					o := n.find(t, b, 0)
					what := fmt.Sprintf("along %v miss %v slide %v° inside %v", along, miss, deg, inside)
					run := 19.0 // what the ball's middle runs on
					if !inside {
						run = 21
					}
					tol := n.c.Norm()*math.Abs(miss)/run + 1e-5
					near(t, what+": along", o.Along.V, along, tol)
					near(t, what+": miss", o.Miss.V, miss, tol)
					near(t, what+": swing", o.Swing(), math.Hypot(along, miss), tol)
					line := 0.0
					for _, x := range o.Miss.Terms {
						if x.Name == "tip's line in the swing" {
							line = x.U * math.Sqrt(3)
						}
					}
					near(t, what+": what the budget allows for that", line, math.Abs(o.Miss.V-miss), 1e-5)
				}
			}
		}
	}
}

// A slide's bearing that is off by δ puts along·sin δ into the miss: 0.4 at 2° is 14 µm; the budget holds
// 0.4·2°/√3 = 8.06 µm for a limit of 2°. With the slide wound to the head axis nothing is left of it.
func TestOriginBearing(t *testing.T) {
	b := stations(8, 0, 360)
	n := near0{along: 0.4, slide: 30 * geom.Degree, wall: 20, tool: tool{19, 1, true}, inside: true}
	limit := float64(2 * geom.Degree)
	o := n.find(t, b, limit)
	var part float64
	for _, x := range o.Miss.Terms {
		if x.Name == "slide's bearing" {
			part = x.U
		}
	}
	near(t, "slide's bearing", part, 0.4*limit/math.Sqrt(3), 1e-6)

	m, w := n.sweeps(b)
	s := indicator.Setup{ReferenceRadius: 20, TipDiameter: 2}
	spin, swing := mustFit(t, indicator.Dial{}, s, b, m), mustFit(t, indicator.Dial{}, s, b, w)
	o = indicator.FindOrigin(&spin, &swing, n.slide+2*geom.Degree, limit)
	near(t, "miss with the bearing off", o.Miss.V, -0.4*math.Sin(limit), 1e-6)

	n.along, n.miss = 0, 0.1
	o = n.find(t, b, limit)
	near(t, "along, at the head axis", o.Along.V, 0, 1e-6)
	near(t, "miss, at the head axis", o.Miss.V, 0.1, 1e-6)
}

// Three readings leave the spread open, and so what is known of the miss.
func TestOriginWithoutSpread(t *testing.T) {
	n := near0{along: 0.2, miss: 0.1, wall: 20, tool: tool{19, 1, true}, inside: true}
	o := n.find(t, degrees(0, 120, 240), 0)
	if o.Miss.Value().Sure() || o.Along.Value().Sure() {
		t.Errorf("U %v and %v, want both unknown", o.Along.Value().U, o.Miss.Value().U)
	}
}

// Where the spindle truly stands: 8 along the slide and 6 to its left is 10 away, at atan(6/8) beyond
// the collar's bearing.
func TestSpindleBearing(t *testing.T) {
	for _, c := range []struct{ along, miss, collar, zero float64 }{{8, 6, 20, 5}, {8, -6, 20, 5}, {0, 10, 350, 0}, {10, 0, 350, 15}} {
		got, err := indicator.SpindleBearing(geom.FromDegrees(c.collar), geom.FromDegrees(c.zero), c.miss, 10)
		if err != nil {
			t.Fatal(err)
		}
		n := near0{along: c.along, miss: c.miss, slide: geom.FromDegrees(c.collar + c.zero)}
		if want := n.spindle(0).Bearing(); got.Apart(want) > 1e-12 {
			t.Errorf("%+v: spindle at %v°, want %v°", c, got.Degrees(), want.Degrees())
		}
	}
	var miss *indicator.MissError
	for _, c := range []struct{ miss, swing float64 }{{10.01, 10}, {-10.01, 10}, {0, 0}, {0.1, -3}, {math.NaN(), 10}, {0, math.NaN()}} {
		if b, err := indicator.SpindleBearing(0, 0, c.miss, c.swing); !errors.As(err, &miss) {
			t.Errorf("miss %v at R %v: %v, %v; want a MissError", c.miss, c.swing, b, err)
		}
	}
}

// Residuals of ±4 µm at four quarters are s = 8 µm (TestSpread), a component of the centre 8/√2 = 5.657;
// ±2 µm are half of that. Each stands in its own line, for place and miss alike.
func TestOriginBudget(t *testing.T) {
	s := indicator.Setup{ReferenceRadius: 20}
	spin := mustFit(t, indicator.Dial{}, s, quarters, []float64{0.004, -0.004, 0.004, -0.004})
	swing := mustFit(t, indicator.Dial{}, s, quarters, []float64{0.002, -0.002, 0.002, -0.002})
	o := indicator.FindOrigin(&spin, &swing, 30*geom.Degree, 0)
	for _, m := range []indicator.Measure{o.Along, o.Miss} {
		if len(m.Terms) != 2 {
			t.Fatalf("budget %v, want 2 lines", m.Terms)
		}
		near(t, m.Terms[0].Name, m.Terms[0].U, 0.008/math.Sqrt2, 1e-8)
		near(t, m.Terms[1].Name, m.Terms[1].U, 0.004/math.Sqrt2, 1e-8)
		if m.Terms[0].Sensitivity != -1 || m.Terms[1].Sensitivity != 1 {
			t.Errorf("sensitivities %v and %v, want −1 for the spin and 1 for the swing", m.Terms[0].Sensitivity, m.Terms[1].Sensitivity)
		}
	}
}
