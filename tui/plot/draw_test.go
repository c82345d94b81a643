package plot

import (
	"fmt"
	"math"
	"testing"

	"example.org/trammel/geom"
)

// distance returns how far a dot of a canvas lies from a place, in dot widths.
func distance(c *canvas, d xy, p geom.Point) float64 {
	x, y, _ := c.dot(p)
	return math.Hypot(float64(d.x)-x, (float64(d.y)-y)/c.squash)
}

func dotsOn(c *canvas) map[xy]bool {
	if c.plain {
		return inkOf(joined(c))
	}
	return dotsOf(joined(c))
}

// nearest bounds how far the dot nearest to a point may lie from it: half the diagonal between
// dots, in dot widths. With braille that is 0.71, well within one dot.
func nearest(c *canvas) float64 { return math.Hypot(0.5, 0.5/c.squash) + 1e-9 }

// Every dot of a circle lies within one dot of its radius, the line is unbroken, and it goes all
// the way round.
func TestCircleIsRound(t *testing.T) {
	for _, plain := range []bool{false, true} {
		for _, r := range []float64{2, 3.3, 5, 8.71, 13, 17.5, 29} {
			for _, p := range []geom.Point{{}, {X: 0.5, Y: 0.5}, {X: -0.21, Y: 0.37}} {
				c := newCanvas(80, 34, plain)
				c.Circle(p, r, pen{})
				dots := dotsOn(c)
				name := fmt.Sprintf("plain %v, r %v about %v", plain, r, p)
				var quarters [4]bool
				for d := range dots {
					if off := distance(c, d, p) - r; math.Abs(off) > nearest(c) {
						t.Errorf("%s: dot %v is %.2f dots off the circle, want at most %.2f", name, d, off, nearest(c))
					}
					x, y, _ := c.dot(p)
					quarters[int(math.Floor(math.Atan2(float64(d.y)-y, float64(d.x)-x)/math.Pi*2+4))%4] = true
				}
				if quarters != [4]bool{true, true, true, true} {
					t.Errorf("%s: quarters drawn %v, want all", name, quarters)
				}
				if n := pieces(dots); n != 1 {
					t.Errorf("%s: %d pieces, want 1\n%s", name, n, joined(c))
				}
			}
		}
	}
}

// A circle too small to have an inside is still a mark, one too large for the canvas a line
// across it, at the right place: far below the centre of a circle of radius 10⁴ that touches
// the middle, the edge of the canvas at 39.5 dots lies 39.5²/(2·10⁴) = 0.08 dots lower.
func TestCircleOfAnySize(t *testing.T) {
	small := newCanvas(5, 5, false)
	small.Circle(geom.Point{}, 0.01, pen{})
	if n := len(dotsOn(small)); n != 1 {
		t.Errorf("tiny circle: %d dots, want 1", n)
	}
	c := newCanvas(40, 10, false)
	c.Circle(geom.Point{Y: -1e4}, 1e4, pen{})
	dots := dotsOn(c)
	if len(dots) != 80 {
		t.Errorf("large circle: %d dots, want one in each of 80 columns", len(dots))
	}
	for d := range dots {
		if d.y != 19 && d.y != 20 {
			t.Errorf("large circle: dot %v, want row 19 or 20, the middle", d)
		}
	}
}

func TestArcKeepsToItsBearings(t *testing.T) {
	for _, a := range []struct{ from, to, sweep float64 }{
		{0, 90, 90}, {90, 180, 90}, {350, 10, 20}, {-10, 10, 20}, {200, 560, 360}, {0, 360, 360}, {300, 60, 120},
	} {
		c := newCanvas(40, 20, false)
		const r = 30
		c.Arc(geom.Point{}, r, geom.FromDegrees(a.from), geom.FromDegrees(a.to), pen{})
		dots := dotsOn(c)
		cx, cy, _ := c.dot(geom.Point{})
		slack := nearest(c) / r * 180 / math.Pi // degrees
		for d := range dots {
			b := math.Atan2(cy-float64(d.y), float64(d.x)-cx) * 180 / math.Pi
			if past := math.Mod(b-a.from+720+slack, 360); a.sweep < 360 && past > a.sweep+2*slack {
				t.Errorf("arc %v to %v: dot at %.1f°", a.from, a.to, b)
			}
		}
		// A digital arc has between 4/π·sin 45° = 0.9 and 1 dots to a dot width of its length.
		length := r * a.sweep * math.Pi / 180
		if n := float64(len(dots)); n < 0.85*length || n > 1.05*length+2 {
			t.Errorf("arc %v to %v: %v dots, want about %.0f", a.from, a.to, n, 0.9*length)
		}
	}
}

// The ellipse of a covariance reaches to the square roots of its diagonal along X and Y, and its
// dots satisfy xᵀ·C⁻¹·x = 1 to within one dot.
func TestEllipseFromCovariance(t *testing.T) {
	for _, plain := range []bool{false, true} {
		for _, deg := range []float64{0, 20, 45, 90, 137} {
			const a, b = 28.0, 9.0
			s, k := math.Sincos(deg * math.Pi / 180)
			cov := [2][2]float64{
				{a*a*k*k + b*b*s*s, (a*a - b*b) * s * k},
				{(a*a - b*b) * s * k, a*a*s*s + b*b*k*k},
			}
			c := newCanvas(40, 20, plain)
			if plain {
				c = newCanvas(80, 40, plain)
			}
			c.Ellipse(geom.Point{}, cov, pen{})
			dots := dotsOn(c)
			cx, cy, _ := c.dot(geom.Point{})
			var maxX, maxY, along float64
			for d := range dots {
				x, y := float64(d.x)-cx, (cy-float64(d.y))/c.squash
				maxX, maxY = max(maxX, x), max(maxY, y)
				p, q := x*k+y*s, y*k-x*s // in the frame of the axes
				along = max(along, math.Abs(p))
				// Distance from the curve to first order, F/|grad F|, hence the tenth more below.
				f := p*p/(a*a) + q*q/(b*b) - 1
				if off := f / (2 * math.Hypot(p/(a*a), q/(b*b))); math.Abs(off) > 1.1*nearest(c) {
					t.Errorf("plain %v, %v°: dot %v is %.2f off the ellipse, want at most %.2f", plain, deg, d, off, nearest(c))
				}
			}
			step := 1 / c.squash // a row, in dot widths
			if math.Abs(maxX-math.Sqrt(cov[0][0])) > 1 || math.Abs(maxY-math.Sqrt(cov[1][1])) > step {
				t.Errorf("plain %v, %v°: reaches %.1f, %.1f, want %.1f, %.1f", plain, deg, maxX, maxY, math.Sqrt(cov[0][0]),
					math.Sqrt(cov[1][1]))
			}
			if math.Abs(along-a) > 1 {
				t.Errorf("plain %v, %v°: %.1f along its long axis, want %.1f", plain, deg, along, a)
			}
			if n := pieces(dots); n != 1 {
				t.Errorf("plain %v, %v°: %d pieces, want 1", plain, deg, n)
			}
		}
	}
}

// Known only along one line, the centre's ellipse is that line.
func TestFlatEllipseIsALine(t *testing.T) {
	c := newCanvas(20, 10, false)
	c.Ellipse(geom.Point{}, [2][2]float64{{50, 50}, {50, 50}}, pen{}) // ±10 along 45°
	dots := dotsOn(c)
	for d := range dots {
		if d.x+d.y != 39 { // through 19.5, 19.5, rising to the right
			t.Errorf("dot %v, want x + y = 39", d)
		}
	}
	if n := len(dots); n < 14 || n > 16 { // 2·10·cos 45° = 14.1 columns
		t.Errorf("%d dots, want 14 to 16", n)
	}
	// Rounding may leave such a matrix with a negative eigenvalue of the last bit.
	for deg := 1.0; deg < 180; deg++ {
		s, k := math.Sincos(deg * math.Pi / 180)
		flat := newCanvas(20, 10, false)
		flat.Ellipse(geom.Point{}, [2][2]float64{{100 * k * k, 100 * s * k}, {100 * s * k, 100 * s * s}}, pen{})
		if n := len(dotsOn(flat)); n < 14 {
			t.Errorf("line along %v°: %d dots, want at least 14", deg, n)
		}
	}
	none := newCanvas(20, 10, false)
	none.Ellipse(geom.Point{}, [2][2]float64{{1, 50}, {50, 1}}, pen{})
	none.Ellipse(geom.Point{}, [2][2]float64{{-4, 0}, {0, 9}}, pen{})
	if n := len(dotsOn(none)); n != 0 {
		t.Errorf("matrices that are no covariances draw %d dots, want 0", n)
	}
}

func TestLine(t *testing.T) {
	c := newCanvas(10, 5, false)
	c.Fit(geom.Point{X: 0, Y: 0}, geom.Point{X: 19, Y: 19})
	c.Line(geom.Point{}, geom.Point{X: 19, Y: 19}, pen{})
	dots := dotsOn(c)
	if len(dots) != 20 {
		t.Errorf("%d dots, want 20", len(dots))
	}
	for d := range dots {
		if d.x+d.y != 19 {
			t.Errorf("dot %v is off the diagonal, want x + y = 19", d)
		}
	}
	dashed := newCanvas(10, 1, false)
	dashed.Fit(geom.Point{X: 0, Y: 0}, geom.Point{X: 19, Y: 3})
	dashed.Line(geom.Point{Y: 3}, geom.Point{X: 19, Y: 3}, pen{Dash: 2})
	if got, want := dashed.Lines()[0], "\u2809 \u2809 \u2809 \u2809 \u2809 "; got != want {
		t.Errorf("dashed line %q, want %q", got, want)
	}
}

// A line whose ends are far outside must cross the canvas where it does, as if it were short.
func TestLineIsClippedWhereItCrosses(t *testing.T) {
	for _, far := range []float64{1e2, 1e6, 1e12} {
		c := newCanvas(10, 5, false)
		c.Line(geom.Point{X: -far, Y: -far / 2}, geom.Point{X: far, Y: far / 2}, pen{})
		dots := dotsOn(c)
		if len(dots) != 20 {
			t.Errorf("far %g: %d dots, want one in each of 20 columns", far, len(dots))
		}
		for d := range dots {
			if want := 9.5 - (float64(d.x)-9.5)/2; math.Abs(float64(d.y)-want) > 0.51 {
				t.Errorf("far %g: dot %v, want row %.2f", far, d, want)
			}
		}
	}
	c := newCanvas(10, 5, false)
	c.Line(geom.Point{X: -1e9, Y: 11}, geom.Point{X: 1e9, Y: 11}, pen{})
	c.Line(geom.Point{X: 9, Y: 12}, geom.Point{X: 12, Y: 9}, pen{}) // past the corner
	if n := len(dotsOn(c)); n != 0 {
		t.Errorf("lines that pass outside draw %d dots, want 0", n)
	}
}

// Whatever the numbers are, drawing ends, soon and without a panic; what is not finite leaves
// nothing behind.
func TestDrawingBearsAnyNumber(t *testing.T) {
	values := []float64{0, 1, -1, 1e-300, 1e9, -1e20, 1e160, -1e300, math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1)}
	for _, plain := range []bool{false, true} {
		for _, a := range values {
			for _, b := range values {
				for _, s := range values {
					c := newCanvas(12, 5, plain)
					c.Fit(geom.Point{X: -6, Y: -6}, geom.Point{X: 6, Y: 6})
					p, q := geom.Point{X: a, Y: b}, geom.Point{X: s, Y: a}
					c.Line(p, q, pen{Dash: 1})
					c.Circle(p, s, pen{Dash: 3})
					c.Arc(p, a, geom.Bearing(b), geom.Bearing(s), pen{})
					c.Ellipse(p, [2][2]float64{{a, s}, {s, b}}, pen{})
					c.Dot(p, heavy)
					c.Cross(p, 3, thin)
					c.Label(p, "測", medium)
					c.wipe(p, s)
					for i, l := range c.Lines() {
						if w := widthOf(l); w != 12 {
							t.Fatalf("a %v, b %v, s %v: row %d is %d cells wide, want 12", a, b, s, i, w)
						}
					}
				}
			}
		}
	}
	c := newCanvas(12, 5, false)
	for _, bad := range values[9:] {
		p := geom.Point{X: bad}
		c.Line(p, geom.Point{}, pen{})
		c.Circle(p, 1, pen{})
		c.Circle(geom.Point{}, bad, pen{})
		c.Arc(geom.Point{}, 3, geom.Bearing(bad), 1, pen{})
		c.Dot(p, heavy)
		c.Cross(p, 2, heavy)
		c.Label(p, "x", heavy)
	}
	if n := len(dotsOn(c)); n != 0 {
		t.Errorf("numbers that are not finite draw %d dots, want 0", n)
	}
}

func TestDotGrowsWithItsWeight(t *testing.T) {
	for w, want := range map[weight]int{thin: 1, medium: 4, heavy: 9} {
		c := newCanvas(10, 5, false)
		p := geom.Point{X: 2.2, Y: -3.1}
		c.Dot(p, w)
		dots := dotsOn(c)
		if len(dots) != want {
			t.Errorf("weight %d: %d dots, want %d", w, len(dots), want)
		}
		mx, my := mean(dots)
		if x, y, _ := c.dot(p); math.Abs(mx-x) > 0.51 || math.Abs(my-y) > 0.51 {
			t.Errorf("weight %d: middle %.2f, %.2f, want %.2f, %.2f", w, mx, my, x, y)
		}
	}
}

func TestCross(t *testing.T) {
	c := newCanvas(10, 5, false)
	c.Fit(geom.Point{X: 0, Y: 0}, geom.Point{X: 19, Y: 19})
	c.Cross(geom.Point{X: 7, Y: 9}, 2, thin)
	want := map[xy]bool{}
	for i := -2; i <= 2; i++ {
		want[xy{7 + i, 10}] = true
		want[xy{7, 10 + i}] = true
	}
	if got := dotsOn(c); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("cross %v, want %v", got, want)
	}
	plain := newCanvas(3, 1, true)
	plain.Cross(geom.Point{}, 2, thin)
	if got := plain.Lines()[0]; got != " + " {
		t.Errorf("plain cross %q, want %q", got, " + ")
	}
}
