package indicator_test

import (
	"math"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// A work point carried round by the table stands, n equal turns on, a chord away that shop tables print as a factor of
// the pitch circle's diameter (chordal factors of a public model-engineering spacing table, printed to four digits).
// Where the table has to stand for a point to meet the indicator, Stands says; so far apart are its own angles.
func TestTableFrameChordFactors(t *testing.T) {
	for n, factor := range map[int]float64{3: 0.8660, 4: 0.7071, 5: 0.5878, 6: 0.5000, 7: 0.4339, 8: 0.3827, 9: 0.3420, 10: 0.3090,
		11: 0.2817, 12: 0.2588} {
		for _, stands := range []geom.Bearing{0, 37 * geom.Degree, -150 * geom.Degree} {
			s := indicator.Setup{Kind: indicator.Turned, IndicatorBearing: stands}
			const radius = 42.0
			at := func(k int) geom.Point { // the table's own point that meets the indicator, where that is then
				b := geom.Bearing(2*math.Pi*float64(k)/float64(n)) - 20*geom.Degree
				return (b + s.Stands(b)).Unit().Times(radius)
			}
			chord := func(k int) float64 { // as turned from one to the other
				a, b := geom.Bearing(2*math.Pi*float64(k)/float64(n)), geom.Bearing(2*math.Pi*float64(k+1)/float64(n))
				return s.Stands(b).Unit().Times(radius).Sub(s.Stands(a).Unit().Times(radius)).Norm()
			}
			for k := range n {
				if p := at(k); math.Abs(p.X-radius*math.Cos(float64(stands))) > 1e-9 ||
					math.Abs(p.Y-radius*math.Sin(float64(stands))) > 1e-9 {
					t.Errorf("%d of %d meets the indicator at %v, want it at %v", k, n, p, stands)
				}
				if got := chord(k) / (2 * radius); math.Abs(got-factor) > 0.00005 {
					t.Errorf("%d of %d: chord factor %.5f, printed %.4f", k, n, got, factor)
				}
			}
		}
	}
}

// Three points are the ends of a chord and the middle of its arc: chord 96 and height 24 make a radius of 60, chord 36 and
// height 0.719 one of 225.672 (the former, radius and all, from J. Fusco, Finding the Arc Radius, a public trade note; of the latter
// chord and height are a public note's on checking the radius of a curved segment, and the radius is nobody's print, but worked here as
// 36²/(8·0.719) + 0.719/2). With an edge
// finder of 6 in a bore the finder's middle runs on 3 less (common practice, no source).
func TestThreePointsOfAChord(t *testing.T) {
	for _, c := range []struct{ chord, height, radius float64 }{{96, 24, 60}, {36, 0.719, 36*36/(8*0.719) + 0.719/2}} {
		for _, turn := range []geom.Bearing{0, 33 * geom.Degree, 200 * geom.Degree} {
			u := turn.Unit()
			put := func(x, y float64) geom.Point { return geom.Point{X: 100 + u.X*x - u.Y*y, Y: -40 + u.Y*x + u.X*y} }
			points := []geom.Point{put(-c.chord/2, 0), put(0, c.height), put(c.chord/2, 0)}
			for tip, want := range map[float64]float64{0: c.radius, 6: c.radius + 3} {
				s := indicator.Setup{Kind: indicator.Points, Touch: indicator.Bore, TipDiameter: tip}
				got, err := s.Locate(indicator.Dial{Repeatability: 0.004}, points)
				if err != nil {
					t.Fatal(err)
				}
				if middle := put(0, c.height-c.radius); math.Abs(got.Radius().V-want) > 1e-6 || got.Centre.Sub(middle).Norm() > 1e-6 {
					t.Errorf("chord %v, height %v, tip %v: radius %v about %v, want %v about %v", c.chord, c.height, tip, got.Radius().V,
						got.Centre, want, middle)
				}
			}
		}
	}
}
