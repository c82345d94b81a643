package plot

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/trammel/geom"
)

// drawn draws a sweep without colours.
func drawn(p Picture, w, h int) string { return Radial(p, w, h, colourless(false)) }

// layout gives the middle and the nominal radius of a picture, in dots. The last row is the
// caption's; the radius is measured on the drawing of a sweep without readings, which is the
// nominal circle, the axis and nothing else.
func layout(t *testing.T, w, h int) (cx, cy, radius float64) {
	t.Helper()
	cx, cy = float64(2*w-1)/2, float64(4*(h-1)-1)/2
	for d := range dotsOf(drawn(Picture{Radius: 30}, w, h)) {
		radius = max(radius, math.Hypot(float64(d.x)-cx, float64(d.y)-cy))
	}
	if radius < 5 {
		t.Fatalf("no nominal circle: radius %.1f dots", radius)
	}
	return cx, cy, radius
}

var written = regexp.MustCompile(`readings ×([0-9.]+)`)

func factorOf(t *testing.T, drawing string) float64 {
	t.Helper()
	m := written.FindStringSubmatch(drawing)
	if m == nil {
		t.Fatalf("no factor is written:\n%s", drawing)
	}
	f, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// A reading outwards lands outside the nominal circle, one inwards inside it, at its bearing,
// as far out as the written factor says. Bearing 90° is up, 0° to the right.
func TestReadingsStandWhereTheyBelong(t *testing.T) {
	const w, h = 80, 41
	cx, cy, circle := layout(t, w, h)
	for _, deg := range []float64{0, 45, 90, 180, 250, 270, 333} {
		for _, out := range []float64{0.21, -0.13, 0.004} {
			p := Picture{Radius: 30, Stations: []Mark{{Bearing: geom.FromDegrees(deg), Out: out, Present: true}}}
			pic := drawn(p, w, h)
			// The blob at the tip is the farthest dots from the circle; its middle is the tip.
			tip, far := xy{}, 0.0
			for d := range without(dotsOf(pic), dotsOf(drawn(Picture{Radius: 30}, w, h))) {
				if off := math.Abs(math.Hypot(float64(d.x)-cx, float64(d.y)-cy) - circle); off > far {
					tip, far = d, off
				}
			}
			dx, dy := float64(tip.x)-cx, cy-float64(tip.y)
			want := circle * factorOf(t, pic) * out / p.Radius
			if got := math.Hypot(dx, dy) - circle; math.Abs(got-want) > 2.5 { // the blob, and rounding
				t.Errorf("%v mm at %v°: ends %.1f dots outside the circle, want %.1f", out, deg, got, want)
			}
			if (math.Hypot(dx, dy) > circle) != (out > 0) {
				t.Errorf("%v mm at %v° ends on the wrong side of the circle", out, deg)
			}
			if off := geom.FromDegrees(deg).Apart(geom.Bearing(math.Atan2(dy, dx))); off > 2/circle {
				t.Errorf("%v mm at %v°: ends at %.1f°", out, deg, math.Atan2(dy, dx)*180/math.Pi)
			}
		}
	}
}

// The written factor is of the series 1, 2, 5, and the largest reading uses at least 1/2.5 of
// the room, whatever its size.
func TestFactorFillsTheRoom(t *testing.T) {
	series := regexp.MustCompile(`^(0\.0*)?[125]0*$`)
	for out := 0.0003; out < 40; out *= 1.7 {
		p := Picture{Radius: 30, Stations: []Mark{{Out: out, Present: true}}}
		pic := drawn(p, 60, 30)
		f := factorOf(t, pic)
		if s := strconv.FormatFloat(f, 'f', -1, 64); !series.MatchString(s) {
			t.Errorf("%v mm: factor %s is not of the series 1, 2, 5", out, s)
		}
		r := newRadial(p, 60, 30, colourless(false))
		if used := r.grow * out / r.out; used > 1+1e-9 || used < 0.4-1e-9 {
			t.Errorf("%v mm: %.2f of the room is used, want 0.4 to 1", out, used)
		}
	}
}

// Readings without scatter end on the curve: the dots of the curve reach within a dot and a
// half of every tip.
func TestCurvePassesThroughTheReadings(t *testing.T) {
	e := geom.Point{X: 0.12, Y: -0.2}
	fitted := Picture{Radius: 30, Fitted: true, Centre: e}
	for deg := 10.0; deg < 220; deg += 50 { // a part of a circle: the e·u(θ) do not cancel
		b := geom.FromDegrees(deg)
		fitted.Stations = append(fitted.Stations, Mark{Bearing: b, Out: -0.05 + e.Dot(b.Unit()), Present: true})
	}
	bare := fitted
	bare.Fitted = false
	const w, h = 80, 41
	r := newRadial(fitted, w, h, colourless(false))
	r.drawFit()
	curve := dotsOn(r.canvas)
	if len(curve) < 100 {
		t.Fatalf("%d dots of a curve, want at least 100", len(curve))
	}
	for _, m := range fitted.Stations {
		tip, nearest := at(m.Bearing, r.circle+r.grow*m.Out), math.Inf(1)
		for d := range curve {
			nearest = min(nearest, distance(r.canvas, d, tip))
		}
		if nearest > 1.5 {
			t.Errorf("%.0f°: the curve passes %.1f dots from the reading, want within 1.5", m.Bearing.Degrees(), nearest)
		}
	}
	if drawn(fitted, w, h) == drawn(bare, w, h) {
		t.Error("fitted and not fitted look the same")
	}
}

// The centre is drawn at e times the factor that the readings have, seen from the axis.
func TestCentreSharesTheFactor(t *testing.T) {
	const w, h = 80, 41
	for _, e := range []geom.Point{{X: 0.2}, {Y: 0.2}, {X: -0.1, Y: -0.15}} {
		p := Picture{Radius: 30, Fitted: true, Centre: e}
		pic := drawn(p, w, h)
		cx, cy, circle := layout(t, w, h)
		x, y := mean(without(dotsOf(pic), dotsOf(drawn(Picture{Radius: 30}, w, h))))
		grow := circle * factorOf(t, pic) / p.Radius
		if math.Abs(x-cx-grow*e.X) > 1 || math.Abs(cy-y-grow*e.Y) > 1 {
			t.Errorf("e = %v: centre drawn %.1f right and %.1f up, want %.1f and %.1f", e, x-cx, cy-y, grow*e.X, grow*e.Y)
		}
	}
}

// Ellipse and tolerance are to the same scale; a tolerance too small to see is left out, and
// the caption says nothing of it.
func TestToleranceAndEllipseShareTheFactor(t *testing.T) {
	const w, h = 80, 41
	_, _, circle := layout(t, w, h)
	p := Picture{
		Radius: 30, Tolerance: 0.02, Fitted: true, Centre: geom.Point{X: 0.001},
		EllipseCov: [2][2]float64{{0.015 * 0.015, 0}, {0, 0.006 * 0.006}},
		Stations:   []Mark{{Out: 0.01, Present: true}},
	}
	r := newRadial(p, w, h, colourless(false))
	r.drawMiddle()
	dots := dotsOn(r.canvas)
	grow := circle * factorOf(t, drawn(p, w, h)) / p.Radius
	if math.Abs(grow-r.grow) > 0.1*grow {
		t.Fatalf("written factor gives %.0f dots a millimetre, the drawing has %.0f", grow, r.grow)
	}
	var right, up, ring float64
	e := geom.Point{X: r.grow * p.Centre.X}
	ox, oy, _ := r.canvas.dot(geom.Point{})
	ex, _, _ := r.canvas.dot(e)
	for d := range dots {
		x, y := float64(d.x)-ox, oy-float64(d.y)
		ring = max(ring, math.Hypot(x, y))
		if math.Abs(y) < 2 && math.Hypot(x, y) < r.grow*0.018 {
			right = max(right, float64(d.x)-ex)
		}
		if math.Abs(float64(d.x)-ex) < 2 && y < r.grow*0.015 {
			up = max(up, y)
		}
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"tolerance", ring, r.grow * 0.02}, {"ellipse along X", right, r.grow * 0.015}, {"ellipse along Y", up, r.grow * 0.006}} {
		if math.Abs(c.got-c.want) > 1 {
			t.Errorf("%s reaches %.1f dots, want %.1f", c.what, c.got, c.want)
		}
	}
	if pic := drawn(p, w, h); !strings.Contains(pic, "tolerance") {
		t.Errorf("the tolerance ring is not named:\n%s", pic)
	}
	p.Stations[0].Out = 0.6
	with := drawn(p, w, h)
	p.Tolerance = 0
	if with != drawn(p, w, h) || strings.Contains(with, "tolerance") {
		t.Errorf("a tolerance of a thirtieth of the readings is drawn:\n%s", with)
	}
}

func TestNextStationIsRinged(t *testing.T) {
	const w, h = 80, 41
	cx, cy, circle := layout(t, w, h)
	next := geom.FromDegrees(120)
	p := Picture{Radius: 30, Stations: []Mark{{}, {Bearing: next}}}
	before := dotsOf(drawn(p, w, h))
	p.Next = &next
	pic := drawn(p, w, h)
	x, y := mean(without(dotsOf(pic), before))
	if math.Abs(x-cx-circle*math.Cos(float64(next))) > 1.5 || math.Abs(cy-y-circle*math.Sin(float64(next))) > 1.5 {
		t.Errorf("ring at %.1f, %.1f from the middle, want on the circle at 120°", x-cx, cy-y)
	}
	if !strings.Contains(pic, "▸2") || strings.Contains(pic, "▸1") {
		t.Errorf("the number of the next station alone must be marked:\n%s", pic)
	}
}

// Every number of a sweep of twelve is there, once, beyond its reading; crowded ones give way.
func TestStationsAreNumbered(t *testing.T) {
	p := sweep(12, 12, geom.Point{X: -0.25, Y: 0.13}, -0.07, 0.015)
	found := map[int]int{}
	for _, f := range regexp.MustCompile(`[0-9]+`).FindAllString(strings.Split(drawn(p, 60, 24), "readings")[0], -1) {
		n, _ := strconv.Atoi(f)
		found[n]++
	}
	for n := 1; n <= 12; n++ {
		if found[n] != 1 {
			t.Errorf("station %d is written %d times, want once", n, found[n])
		}
	}
	crowd := Picture{Radius: 30}
	for i := range 200 {
		crowd.Stations = append(crowd.Stations, Mark{Bearing: geom.FromDegrees(1.8 * float64(i))})
	}
	for _, f := range regexp.MustCompile(`[0-9]+`).FindAllString(drawn(crowd, 40, 16), -1) {
		if n, err := strconv.Atoi(f); err != nil || n > 200 {
			t.Errorf("numbers have run together: %s", f)
		}
	}
}

func TestRadialBelowItsSizeOrWithoutRadius(t *testing.T) {
	p := sweep(6, 6, geom.Point{X: 0.1}, 0, 0.01)
	for _, c := range []struct {
		w, h   int
		radius float64
		empty  bool
	}{
		{16, 7, 30, false}, {15, 7, 30, true}, {16, 6, 30, true}, {0, 0, 30, true}, {-4, -9, 30, true},
		{40, 16, 0, true}, {40, 16, -3, true}, {40, 16, math.NaN(), true}, {40, 16, math.Inf(1), true},
	} {
		p.Radius = c.radius
		if got := Radial(p, c.w, c.h, colourless(false)); (got == "") != c.empty {
			t.Errorf("%d×%d, radius %v: empty is %v, want %v", c.w, c.h, c.radius, got == "", c.empty)
		}
	}
}

// Data that are no numbers are left out, and the rest is drawn as if they were not there.
func TestRadialLeavesOutWhatIsNoNumber(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	clean := Picture{Radius: 30, Stations: []Mark{{Out: 0.1, Present: true}}}
	want := drawn(clean, 40, 16)
	bad := clean
	bad.Stations = append([]Mark{}, clean.Stations...)
	bad.Stations = append(bad.Stations, Mark{Bearing: geom.Bearing(nan), Out: 1, Present: true}, Mark{Bearing: geom.Bearing(inf)})
	next := geom.Bearing(nan)
	bad.Next, bad.Tolerance = &next, nan
	if got := drawn(bad, 40, 16); got != want {
		t.Errorf("bearings that are no numbers show:\n%s\nwant\n%s", got, want)
	}
	bad.Fitted, bad.Centre, bad.EllipseCov = true, geom.Point{X: nan}, [2][2]float64{{inf, nan}, {nan, 1}}
	if got := drawn(bad, 40, 16); got != want {
		t.Errorf("a centre that is no number shows:\n%s\nwant\n%s", got, want)
	}
	for _, v := range []float64{1e-12, 1e300, -1e300, math.MaxFloat64, nan, inf} {
		p := sweep(6, 6, geom.Point{X: v, Y: 0.1}, v, v)
		p.Tolerance = v
		for _, l := range strings.Split(Radial(p, 40, 16, colourless(true)), "\n") {
			if len(l) != 40 {
				t.Errorf("value %v: line %q of %d cells, want 40", v, l, len(l))
			}
		}
	}
	for _, m := range []Mark{{Present: true}, {Out: 0.1}} {
		if pic := drawn(Picture{Radius: 30, Stations: []Mark{m}}, 40, 16); strings.Contains(pic, "×") {
			t.Errorf("a factor is written although nothing is exaggerated (%+v):\n%s", m, pic)
		}
	}
}

func BenchmarkRadial40x16(b *testing.B) {
	p := sweep(12, 12, geom.Point{X: -0.25, Y: 0.13}, -0.07, 0.015)
	t := colourless(false)
	b.ReportAllocs()
	for b.Loop() {
		Radial(p, 40, 16, t)
	}
}

// A pane redraws its picture with every reading, beside everything else; the budget holds the
// drawing to a few allocations a row.
func TestRadialAllocations(t *testing.T) {
	p := sweep(12, 12, geom.Point{X: -0.25, Y: 0.13}, -0.07, 0.015)
	th := colourless(false)
	if n := testing.AllocsPerRun(20, func() { Radial(p, 40, 16, th) }); n > 16*5 {
		t.Errorf("%v allocations, want at most 80", n)
	}
}
