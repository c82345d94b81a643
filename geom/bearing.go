package geom

import "math"

// Bearing is an angle in the one frame of the program: radians, counter-clockwise from +X,
// seen from above.
type Bearing float64

// Degree is one degree, so that 30*Degree reads as it should.
const Degree Bearing = math.Pi / 180

// FromDegrees turns degrees into a bearing.
func FromDegrees(deg float64) Bearing { return Bearing(deg * math.Pi / 180) }

// Degrees returns the bearing in degrees, not normalised.
func (b Bearing) Degrees() float64 { return float64(b) * 180 / math.Pi }

// Degrees360 returns the bearing in degrees in the half-open interval [0, 360). A value that
// lies within 1e-9° of a full turn counts as 0, so that 359.9999999999° is never shown.
func (b Bearing) Degrees360() float64 {
	deg := math.Mod(b.Degrees(), 360)
	if deg < 0 {
		deg += 360
	}
	if deg > 360-1e-9 || deg < 1e-9 {
		return 0
	}
	return deg
}

// Normalized returns the same direction in the half-open interval [0, 2π).
func (b Bearing) Normalized() Bearing {
	r := math.Mod(float64(b), 2*math.Pi)
	if r < 0 {
		r += 2 * math.Pi
	}
	if r >= 2*math.Pi { // −1e-17 + 2π rounds up to 2π
		r = 0
	}
	return Bearing(r)
}

// Apart returns the smaller angle between two directions, in radians, in [0, π].
func (b Bearing) Apart(c Bearing) float64 {
	d := float64((b - c).Normalized())
	return min(d, 2*math.Pi-d)
}

// Unit returns the unit vector u(b) = (cos b, sin b) that points along the bearing.
func (b Bearing) Unit() Point {
	s, c := math.Sincos(float64(b))
	return Point{c, s}
}

// Point is a place, or a displacement, in millimetres.
type Point struct{ X, Y float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p − q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Dot returns the scalar product. The conversions keep a compiler from fusing the products, so
// that amd64 and arm64 agree.
func (p Point) Dot(q Point) float64 { return float64(p.X*q.X) + float64(p.Y*q.Y) }

// Norm returns the length of p.
func (p Point) Norm() float64 { return math.Hypot(p.X, p.Y) }

// Bearing returns the direction in which p lies, seen from the origin, in [0, 2π); 0 for the
// origin itself, which has none.
func (p Point) Bearing() Bearing { return Bearing(math.Atan2(p.Y, p.X)).Normalized() }

// Cross returns the third component of the vector product p × q: + where q lies counter-clockwise of p.
func (p Point) Cross(q Point) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }

// Times returns p, k times as long.
func (p Point) Times(k float64) Point { return Point{p.X * k, p.Y * k} }

// Along returns the place at a distance from p in the direction of a bearing.
func (p Point) Along(b Bearing, distance float64) Point { return p.Add(b.Unit().Times(distance)) }
