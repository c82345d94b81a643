package fit_test

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// Six points touched along a corner of a belt tensioner's plate, drawn with radius 12.
func ExampleOrthogonal() {
	f, err := fit.Orthogonal([]geom.Point{
		{X: 52.003, Y: 20.000}, {X: 51.414, Y: 23.709}, {X: 49.707, Y: 27.056},
		{X: 47.053, Y: 29.706}, {X: 43.709, Y: 31.411}, {X: 39.999, Y: 32.002},
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, dof, _ := f.Spread(fit.Prior{})
	u := fit.Coverage(dof) * s
	fmt.Printf("radius %.4f ±%.4f mm about (%.4f, %.4f)\n", f.Radius, u*math.Sqrt(f.Cofactor[0][0]), f.Centre.X, f.Centre.Y)

	_, err = fit.Orthogonal([]geom.Point{{X: 0, Y: 0}, {X: 10, Y: 5}, {X: 20, Y: 10}}, nil)
	fmt.Println(err)
	// Output:
	// radius 12.0108 ±0.0113 mm about (39.9928, 19.9905)
	// the points lie on a straight line (they bow by 0 mm, need more than 2.4e-13 mm)
}

// Eight readings of a bored hole on a fixed indicator, in mm off 20: which circle says what.
func ExampleRoundness() {
	var t []geom.Bearing
	var r []float64
	for i, reading := range []float64{0.004, 0.001, -0.003, 0.002, 0.005, 0.000, -0.004, 0.001} {
		t, r = append(t, geom.FromDegrees(45*float64(i))), append(r, 20+reading)
	}
	c, err := fit.Roundness(fit.ProfilePoints(t, r))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("least squares        %.4f  departs by %.4f\n", c.LeastSquares.Radius, c.LeastSquares.Departure)
	fmt.Printf("minimum zone         %.4f  departs by %.4f\n", c.MinimumZone.Radius, c.MinimumZone.Departure)
	fmt.Printf("circumscribed        %.4f  departs by %.4f\n", c.MinimumCircumscribed.Radius, c.MinimumCircumscribed.Departure)
	fmt.Printf("inscribed            %.4f  departs by %.4f\n", c.MaximumInscribed.Radius, c.MaximumInscribed.Departure)
	// Output:
	// least squares        20.0008  departs by 0.0084
	// minimum zone         20.0005  departs by 0.0080
	// circumscribed        20.0045  departs by 0.0085
	// inscribed            19.9965  departs by 0.0144
}
