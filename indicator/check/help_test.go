package check_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
)

// exactMM is how far a figure worked out by hand with all its digits may be missed: a few roundings of
// numbers about 100 mm large.
const exactMM = 1e-12

// near compares two numbers; NaN equals NaN.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(want) != math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.15g, want %.15g ± %.1g", what, got, want, tol)
	}
}

// must stops the test where an arc could not be measured.
func must(t testing.TB) func(check.Arc, error) check.Arc {
	return func(a check.Arc, err error) check.Arc {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
}

// exact is a length known without doubt, to a length known to ± limit.
func exact(v float64) check.Figure { return check.Figure{V: v} }

func to(v, limit float64) check.Figure { return check.Figure{V: v, Limit: limit} }

// says reports whether a remark holds a text, and whether it bars a verdict.
func says(all []check.Remark, text string) (said, bars bool) {
	for _, r := range all {
		if strings.Contains(r.In(geom.Millimetre), text) {
			return true, r.Bars
		}
	}
	return false, false
}

// refused wants an error of a type with a text in it.
func refused[E error](t *testing.T, err error, text string) {
	t.Helper()
	var e E
	if !errors.As(err, &e) || !strings.Contains(err.Error(), text) {
		t.Errorf("error %v (%T), want a %T with %q", err, err, e, text)
	}
}

// sure is a value with its expanded uncertainty.
func sure(v, u float64) indicator.Value { return indicator.Value{V: v, U: u} }
