package geom_test

import (
	"errors"
	"fmt"

	"example.org/trammel/geom"
)

func ExampleParseNumber() {
	for _, text := range []string{"0.125", "-0,125", "−0.125", "1.234,5", "0x10"} {
		v, err := geom.ParseNumber(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(v)
	}
	// Output:
	// 0.125
	// -0.125
	// -0.125
	// "1.234,5" has more than one decimal mark, need a number like -0.125
	// "0x10" is not a number, need a number like -0.125
}

func ExampleNumberError() {
	_, err := geom.ParseNumber("1e999")
	var number *geom.NumberError
	if errors.As(err, &number) {
		fmt.Println(number.Text, number.Why)
	}
	// Output:
	// 1e999 is too large
}

// A value is printed to the place that its uncertainty allows.
func ExamplePlaces() {
	const value = 42.01294
	for _, u := range []float64{0.25, 0.031, 0.0123, 0.005} {
		n := geom.Places(u, geom.Millimetre)
		fmt.Printf("%s ±%s mm\n", geom.FormatFixed(value, n), geom.FormatFixed(u, n))
	}
	// Output:
	// 42.01 ±0.25 mm
	// 42.01 ±0.03 mm
	// 42.013 ±0.012 mm
	// 42.013 ±0.005 mm
}

func ExampleFormatSigned() {
	fmt.Println(geom.FormatSigned(0.0482, 3), geom.FormatSigned(-0.0482, 3), geom.FormatSigned(-0.0002, 3))
	// Output:
	// +0.048 -0.048 +0.000
}

func ExampleBearing_Degrees360() {
	b := 350*geom.Degree + 30*geom.Degree
	fmt.Printf("%.1f\n", b.Degrees360())
	fmt.Printf("%.1f\n", geom.FromDegrees(-90).Degrees360())
	// Output:
	// 20.0
	// 270.0
}

func ExampleUnit_MM() {
	fmt.Println(geom.Inch.MM(0.5))
	fmt.Println(geom.Inch.From(25.4))
	fmt.Println(geom.Millimetre.MM(12))
	// Output:
	// 12.7
	// 1
	// 12
}
