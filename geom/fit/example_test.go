package fit_test

import (
	"errors"
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// A ring of radius 5 whose centre lies 3 to the right of the axis is met at 8 and 2 along X, and
// at √(5² − 3²) = 4 along Y.
func ExampleModel_Fit() {
	bearings := []geom.Bearing{0, 90 * geom.Degree, 180 * geom.Degree, 270 * geom.Degree}
	distances := []float64{8, 4, 2, 4}
	circle, err := fit.Model{Sought: fit.SurfaceRadius}.Fit(bearings, distances, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("radius %.3f\n", circle.Level)
	fmt.Printf("centre %.3f %s\n", circle.Centre.X, geom.FormatFixed(circle.Centre.Y, 3))
	// Output:
	// radius 5.000
	// centre 3.000 0.000
}

func ExampleModel_Fit_tooFew() {
	bearings := []geom.Bearing{0, 180 * geom.Degree, 360 * geom.Degree}
	_, err := fit.Model{Sought: fit.MeanReading}.Fit(bearings, []float64{0.12, -0.08, 0.12}, nil)
	var few *fit.TooFewError
	fmt.Println(errors.As(err, &few))
	fmt.Println(err)
	// Output:
	// true
	// 2 distinct stations, need at least 3
}

// Six readings leave three degrees of freedom, so the interval is half as wide again as that of
// a spread that is known.
func ExampleCoverage() {
	fmt.Printf("%.3f\n", fit.Coverage(3))
	fmt.Printf("%.3f\n", fit.Coverage(30))
	// Output:
	// 3.182
	// 2.042
}
