package plot

import (
	"math"

	"example.org/trammel/geom"
)

// Line draws the straight line from p to q, mm.
func (c *canvas) Line(p, q geom.Point, pen pen) {
	x0, y0, ok0 := c.dot(p)
	x1, y1, ok1 := c.dot(q)
	if !ok0 || !ok1 {
		return
	}
	c.segment(segment{x0, y0, x1, y1}, pen)
}

// segment lies between two places in dot coordinates.
type segment struct{ x0, y0, x1, y1 float64 }

// segment draws a segment, one dot in every column, or in every row
// of a steep line. It is cut to the canvas before it is stepped through, so that the number of
// steps is bounded however far away the ends are.
func (c *canvas) segment(s segment, pen pen) {
	s, ok := c.clip(s)
	if !ok {
		return
	}
	steep := math.Abs(s.y1-s.y0) > math.Abs(s.x1-s.x0)
	if steep {
		s = segment{s.y0, s.x0, s.y1, s.x1}
	}
	first, last := math.Floor(s.x0+0.5), math.Floor(s.x1+0.5)
	slope, step := 0.0, 1.0
	if s.x1 != s.x0 {
		slope = (s.y1 - s.y0) / (s.x1 - s.x0)
	}
	if s.x1 < s.x0 {
		step = -1
	}
	for i := range int(math.Abs(last-first)) + 1 {
		if pen.Dash > 0 && i/pen.Dash%2 == 1 {
			continue
		}
		x := first + step*float64(i)
		y := s.y0 + (x-s.x0)*slope
		if steep {
			x, y = y, x
		}
		c.setNear(x, y, pen.Weight)
	}
}

// setNear draws the dot nearest to a place in dot coordinates.
func (c *canvas) setNear(x, y float64, w weight) {
	x, y = math.Floor(x+0.5), math.Floor(y+0.5)
	if x >= 0 && y >= 0 && x < float64(c.dotsX) && y < float64(c.dotsY) {
		c.set(int(x), int(y), w)
	}
}

// clip cuts a segment to the canvas and half a dot round it; false when nothing is left. It is
// the parametric clipping of Y.-D. Liang and B. A. Barsky, ACM Transactions on Graphics 3
// (1984) 1–22.
func (c *canvas) clip(s segment) (cut segment, ok bool) {
	t0, t1 := 0.0, 1.0
	for _, side := range [4]struct{ out, gap float64 }{ // component towards a side, distance to it
		{s.x0 - s.x1, s.x0 + 0.5}, {s.x1 - s.x0, float64(c.dotsX) - 0.5 - s.x0},
		{s.y0 - s.y1, s.y0 + 0.5}, {s.y1 - s.y0, float64(c.dotsY) - 0.5 - s.y0},
	} {
		switch {
		case side.out == 0:
			if side.gap < 0 {
				return cut, false
			}
		case side.out < 0:
			t0 = max(t0, side.gap/side.out)
		default:
			t1 = min(t1, side.gap/side.out)
		}
	}
	if !(t0 <= t1) {
		return cut, false
	}
	at := func(t float64) (x, y float64) {
		// Far ends leave rounding errors of many dots; hold the result to the canvas.
		x = min(max(s.x0*(1-t)+s.x1*t, -1), float64(c.dotsX))
		y = min(max(s.y0*(1-t)+s.y1*t, -1), float64(c.dotsY))
		return x, y
	}
	cut.x0, cut.y0 = at(t0)
	cut.x1, cut.y1 = at(t1)
	return cut, true
}

// Circle draws the circle of radius r, mm, about p.
func (c *canvas) Circle(p geom.Point, r float64, pen pen) { c.Arc(p, r, 0, 2*math.Pi, pen) }

// Arc draws the part of the circle of radius r, mm, about p that runs counter-clockwise from
// one bearing to the other; a difference of a full turn or more is the whole circle.
func (c *canvas) Arc(p geom.Point, r float64, from, to geom.Bearing, pen pen) {
	cx, cy, ok := c.dot(p)
	if !ok || !finite(float64(from), float64(to)) {
		return
	}
	sweep := float64((to - from).Normalized())
	if to-from >= 2*math.Pi-1e-12 { // 360° less the rounding of degrees
		sweep = 2 * math.Pi
	}
	r *= c.scale
	c.trace(oval{cx: cx, cy: cy, ax: r, by: -r * c.squash}, float64(from.Normalized()), sweep, pen)
}

// Ellipse draws the points p + x with xᵀ·C⁻¹·x = 1, where C = cov, mm², is a covariance matrix
// that has been multiplied by the square of the coverage factor already. The semi-axes are the
// square roots of its eigenvalues: {{a²,0},{0,b²}} is the ellipse with a along X and b along Y.
// A matrix that is no covariance is not drawn.
func (c *canvas) Ellipse(p geom.Point, cov [2][2]float64, pen pen) {
	cx, cy, ok := c.dot(p)
	sx, sy := c.scale, -c.scale*c.squash
	major, minor, along := semiAxes(cov[0][0]*sx*sx, (cov[0][1]+cov[1][0])/2*sx*sy, cov[1][1]*sy*sy)
	if !ok || !finite(major, minor) {
		return
	}
	s, k := math.Sincos(along)
	c.trace(oval{cx, cy, major * k, major * s, -minor * s, minor * k}, 0, 2*math.Pi, pen)
}

// oval is the curve (cx, cy) + (ax, ay)·cos t + (bx, by)·sin t in dot coordinates.
type oval struct{ cx, cy, ax, ay, bx, by float64 }

// largestOval is the size, in dots, above which an oval is not drawn: its parameter could no
// longer tell neighbouring dots apart.
const largestOval = 1e9

// stride is the longest step along a curve, in dots. Below 1, neighbouring steps never skip a dot.
const stride = 0.7

// trace draws an oval from the parameter start on. It goes in small steps where the curve is on
// the canvas, and where it is outside in steps as long as the way back to it, so that the work is
// bounded by the size of the canvas. A dot that only fills the corner of a step
// is left out: the line is unbroken and one dot thick.
func (c *canvas) trace(o oval, start, sweep float64, pen pen) {
	reach := math.Hypot(o.ax, o.ay) + math.Hypot(o.bx, o.by) // bounds the curve's acceleration
	if !(reach <= largestOval) {
		return
	}
	dashes := 0.0 // pairs of a dash and a gap in the sweep
	if pen.Dash > 0 {
		mean := math.Sqrt(math.Abs(o.ax*o.by - o.ay*o.bx))
		dashes = max(1, math.Round(sweep*mean/float64(2*pen.Dash)))
	}
	path := path{canvas: c, weight: pen.Weight}
	t := 0.0
	for range 40*(c.dotsX+c.dotsY) + 1000 {
		s, k := math.Sincos(start + t)
		x, y := o.cx+o.ax*k+o.bx*s, o.cy+o.ay*k+o.by*s
		if dashes > 0 && math.Mod(t/sweep*dashes, 1) >= 0.5 {
			path.end()
		} else {
			path.to(x, y)
		}
		if t >= sweep {
			break
		}
		speed := math.Hypot(o.bx*k-o.ax*s, o.by*k-o.ay*s)
		step := max(stride, c.outside(x, y)-1)
		t = min(t+2*step/(speed+math.Sqrt(speed*speed+2*reach*step)), sweep)
	}
	path.end()
}

// outside returns how far a place in dot coordinates is from the canvas; 0 on it.
func (c *canvas) outside(x, y float64) float64 {
	return math.Hypot(max(-x, x-float64(c.dotsX-1), 0), max(-y, y-float64(c.dotsY-1), 0))
}

// path draws a curve dot by dot, one dot late, so as to see whether the dot is needed.
type path struct {
	canvas   *canvas
	weight   weight
	n        int    // dots that wait: 0, 1 or 2
	old, now [2]int // the last dot drawn and the one that waits
}

func (p *path) to(x, y float64) {
	x, y = math.Floor(x+0.5), math.Floor(y+0.5)
	if x < -1 || y < -1 || x > float64(p.canvas.dotsX) || y > float64(p.canvas.dotsY) {
		p.end()
		return
	}
	d := [2]int{int(x), int(y)}
	if p.n > 0 && d == p.now {
		return
	}
	corner := p.n == 2 && abs(d[0]-p.old[0]) == 1 && abs(d[1]-p.old[1]) == 1 &&
		(p.now == [2]int{d[0], p.old[1]} || p.now == [2]int{p.old[0], d[1]})
	if p.n > 0 && !corner {
		p.canvas.set(p.now[0], p.now[1], p.weight)
		p.old, p.n = p.now, 2
	}
	p.now, p.n = d, max(p.n, 1)
}

// end draws the dot that waits; what follows is not connected to it.
func (p *path) end() {
	if p.n > 0 {
		p.canvas.set(p.now[0], p.now[1], p.weight)
	}
	p.n = 0
}

func abs(n int) int { return max(n, -n) }

// semiAxes returns the semi-axes of the ellipse xᵀ·S⁻¹·x = 1 and the angle of the longer one;
// NaN when S is no covariance matrix. A small negative eigenvalue is taken for rounding.
func semiAxes(s11, s12, s22 float64) (major, minor, angle float64) {
	mean, half := (s11+s22)/2, math.Hypot((s11-s22)/2, s12)
	least := mean - half
	if least < 0 && least > -1e-9*mean {
		least = 0
	}
	return math.Sqrt(mean + half), math.Sqrt(least), math.Atan2(2*s12, s11-s22) / 2
}

// wipe takes out the dots within r, mm, of p, so that what is drawn there next stands alone.
func (c *canvas) wipe(p geom.Point, r float64) {
	cx, cy, ok := c.dot(p)
	if !ok {
		return
	}
	r *= c.scale
	if !(r < maxCells) || c.outside(cx, cy) > r {
		return
	}
	top, bottom := max(cy-r*c.squash, 0), min(cy+r*c.squash, float64(c.dotsY-1))
	left, right := max(cx-r, 0), min(cx+r, float64(c.dotsX-1))
	for y := math.Ceil(top); y <= bottom; y++ {
		for x := math.Ceil(left); x <= right; x++ {
			if math.Hypot(x-cx, (y-cy)/c.squash) <= r {
				c.unset(int(x), int(y))
			}
		}
	}
}

// Dot draws a round mark at p: one dot, two by two or three by three by weight; in plain mode
// one character.
func (c *canvas) Dot(p geom.Point, w weight) {
	x, y, ok := c.dot(p)
	if !ok {
		return
	}
	n := int(min(w, heavy))
	if c.plain {
		n = 0
	}
	left, top := x-float64(n)/2, y-float64(n)/2
	for i := range n + 1 {
		for j := range n + 1 {
			c.setNear(left+float64(i), top+float64(j), w)
		}
	}
}

// Cross draws an upright cross at p with arms of the given number of dots; in plain mode a '+'.
func (c *canvas) Cross(p geom.Point, arm int, w weight) {
	if c.plain {
		c.Label(p, "+", w)
		return
	}
	x, y, ok := c.dot(p)
	if !ok {
		return
	}
	x, y = math.Floor(x+0.5), math.Floor(y+0.5)
	a := float64(min(max(arm, 0), maxCells))
	c.segment(segment{x - a, y, x + a, y}, pen{Weight: w})
	c.segment(segment{x, y - a, x, y + a}, pen{Weight: w})
}
