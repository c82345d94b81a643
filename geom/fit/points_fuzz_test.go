package fit

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"example.org/trammel/geom"
)

// FuzzPoints: whatever the coordinates, Orthogonal ends, with an error of its own or an answer of
// finite numbers that leaves no more than its start does.
func FuzzPoints(f *testing.F) {
	f.Add(false, packed(0, 1, 1, 1, 0, 1, 0, -1, 1, -1, 0.1, 1))
	f.Add(true, packed(30, 68, 1, 50, -6, 2, 110, -20, 0.5, 35, 15, 1, 45, 97, 1))
	f.Add(false, packed(0, 2, 1, 1, -1.001, 1, -1, -1.001, 1, 10, 0.001, 1, -10, 0.001, 1))               // the wrong side
	f.Add(false, packed(0, 0, 1, 1, 1, 1, 2, 2, 1, 3, 3, 1))                                              // straight
	f.Add(false, packed(5, 0, 1, -5, 0, 1, 0, 5, 1, 0, -5, 1, 0, 0, 1))                                   // one in the centre
	f.Add(false, packed(7, 7, 1, 7, 7, 1, 7, 7, 1))                                                       // one place
	f.Add(true, packed(0, 0, 1e90, 1, 0, 1e-90, 0, 1, 1, 3, 3, 1))                                        // all weight in one
	f.Add(false, packed(1e99, 0, 1, 0, 1e99, 1, -1e99, 0, 1))                                             // squares near the end
	f.Add(false, packed(1e-99, 0, 1, 0, 1e-99, 1, -1e-99, 0, 1))                                          // and near the other
	f.Add(false, packed(math.NaN(), 0, 1, math.Inf(1), 1, 1, 0, 0, 1))                                    // no numbers
	f.Add(false, packed(0, 0, 1, 1e-8, 0, 1, 0, 1e-8, 1, 100, 100, 1))                                    // three places and one far away
	f.Add(false, packed(0, 0, 1, 1, 0, 1, 2, 0, 1, 0, 1, 1, 1, 1, 1, 2, 1, 1, 0, 2, 1, 1, 2, 1, 2, 2, 1)) // a grid
	f.Fuzz(func(t *testing.T, weighted bool, data []byte) {
		var p []geom.Point
		var w []float64
		for ; len(data) >= 24 && len(p) < 64; data = data[24:] {
			number := func(i int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(data[8*i:])) }
			p = append(p, geom.Point{X: number(0), Y: number(1)})
			if weighted {
				w = append(w, number(2))
			}
		}
		r, err := Orthogonal(p, w)
		if err != nil {
			if !errors.As(err, new(*CoincidentError)) && !errors.As(err, new(*StraightError)) && !errors.As(err, new(*SingularError)) &&
				!errors.As(err, new(*UnsettledError)) && !errors.As(err, new(*ValueError)) {
				t.Fatalf("error of no known kind: %v", err)
			}
			return
		}
		wantFinitePoints(t, &r, p)
		c, err := centred(p, w)
		if err != nil {
			t.Fatal(err)
		}
		a, err := c.algebraic()
		if err != nil {
			t.Fatal(err)
		}
		// The last step may leave each point 1e-13 of the extent, and rounding some of the coordinates.
		dust := 1e-13*c.size + 1e-15*c.largest
		start, left := c.size*math.Sqrt(c.sumSquares(&a)/c.weight), math.Sqrt(r.SSR/c.weight)
		if left > start*(1+1e-6)+dust {
			t.Errorf("the start misses the points by %v, the answer by %v (root mean square)", start, left)
		}
	})
}

func wantFinitePoints(t *testing.T, r *Points, p []geom.Point) {
	t.Helper()
	numbers := []float64{r.Radius, r.Centre.X, r.Centre.Y, r.SSR, r.Condition}
	for i := range 3 {
		numbers = append(numbers, r.Cofactor[i][:]...)
		if !(r.Cofactor[i][i] > 0) {
			t.Errorf("variance %d is %v", i, r.Cofactor[i][i])
		}
	}
	for _, v := range p {
		numbers = append(numbers, r.Residual(v))
	}
	for _, v := range numbers {
		if !finite(v) {
			t.Fatalf("not finite: %+v", r)
		}
	}
	if r.N != len(p) || r.SSR < 0 || !(r.Radius > 0) || !(r.Condition >= 1) {
		t.Errorf("%d points: %+v", len(p), r)
	}
}
