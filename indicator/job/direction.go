package job

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// How far, ±, a cross slide may stand beside its direction where the machine file does not say (common
// practice, no source): on a rotary table nobody squares them to the ring better by eye; the machine's own
// slides are square to each other, but the head's ring, by which bearings are read, is set to X by eye.
const (
	tableAngle = 0.5 * geom.Degree
	ringAngle  = 2 * geom.Degree
)

// leastSquare is the least sine of the angle between two cross slides: nearer to parallel, a small error
// across both would ask for long winds against each other.
const leastSquare = 0.5

type rawDirection struct {
	Bearing      *float64  `toml:"bearing"`
	BearingError *float64  `toml:"bearing_error"`
	Reached      []float64 `toml:"reached"`
}

// direction reads which way a slide moves, and where its handwheel can be reached.
func (f *file) direction(key func(string) string, r rawDirection, s *slide.Slide) {
	along := slide.Along(s.Name)
	if along == slide.AlongNothing {
		if r.Bearing != nil || r.BearingError != nil {
			f.fail(key("bearing"), "", "given for the slide %q, which moves along the radius; need it at cross slides only", s.Name)
		}
	} else {
		name := along.Bearing().Degrees()
		b := f.number(key("bearing"), r.Bearing, name, func(x float64) bool { return math.Abs(x) <= 360 }, "from -360 to 360 degrees")
		if d := math.Remainder(b-name, 360); d != 0 {
			s.Askew = float64(geom.FromDegrees(d))
		}
		limit := ringAngle.Degrees()
		if slide.Rides(s.Name) {
			limit = tableAngle.Degrees()
		}
		s.AskewLimit = float64(geom.FromDegrees(f.number(key("bearing_error"), r.BearingError, limit,
			func(x float64) bool { return x >= 0 && x <= 30 }, "from 0 to 30 degrees")))
	}
	switch d := r.Reached; {
	case d == nil:
	case !slide.Rides(s.Name):
		f.fail(key("reached"), "", "given for the slide %q, which does not turn with the table; need it at table_x and table_y only",
			s.Name)
	case len(d) != 2 || !(math.Abs(d[0]) <= 360 && math.Abs(d[1]) <= 360) || d[0] == d[1]:
		f.fail(key("reached"), "how far the table may stand turned anticlockwise seen from above, from the first angle on to the second, "+
			"like [330, 60]",
			"%s, must be two different angles from -360 to 360 degrees", bracketed(d))
	default:
		from := geom.FromDegrees(d[0]).Degrees360()
		wide := d[1] - d[0]
		if wide < 0 {
			wide += 360 * math.Ceil(-wide/360)
		}
		if wide > 0 && wide < 360 { // else it can be reached anywhere
			s.ReachedFrom, s.ReachedTo = geom.FromDegrees(from), geom.FromDegrees(from+wide)
		}
	}
}

// square checks that cross slides of one pair are not nearly parallel.
func (f *file) square(m *setup.Machine) {
	for _, pair := range [][2]string{{"x", "y"}, {"table_x", "table_y"}} {
		a, okA := m.Slide(pair[0])
		b, okB := m.Slide(pair[1])
		if !okA || !okB || len(f.wrong) > 0 {
			continue
		}
		u, v := slide.Along(a.Name).Unit(a.Askew), slide.Along(b.Name).Unit(b.Askew)
		if sin := math.Abs(u.X*v.Y - u.Y*v.X); sin < leastSquare {
			deg := geom.Bearing(math.Asin(sin)).Degrees()
			f.fail(fmt.Sprintf("slide.%s.bearing", b.Name), "each bearing says along what its slide's coordinate grows",
				"%.4g degrees from the line of slide %q, need 30 or more", deg, a.Name)
		}
	}
}

// vernier reads what one line of a ring's vernier is worth, degrees.
func (f *file) vernier(key string, v *float64, out *setup.Ring) {
	if v == nil {
		return
	}
	out.Vernier = float64(geom.FromDegrees(f.number(key+".vernier", v, 0, markFits, "from a second of arc (1/3600) to 30 degrees")))
	if !(out.Graduation > out.Vernier) && f.fine(key+".graduation", key+".vernier") {
		f.fail(key+".vernier", "graduation is what one mark of the ring is worth, vernier what one line of its vernier divides it to",
			"%v degrees under a graduation of %v degrees, must be below it", *v, geom.Bearing(out.Graduation).Degrees())
	}
}
