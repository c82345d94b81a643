package fit

import (
	"math"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// printed is one line of testdata/student/quantiles.txt.
type printed struct {
	law    string
	p, dof float64
	digits string
	status string
}

// tolerance is half a unit of the last printed digit.
func (q printed) tolerance() float64 {
	_, decimals, _ := strings.Cut(q.digits, ".")
	return 0.5 * math.Pow10(-len(decimals))
}

func printedQuantiles(t *testing.T) []printed {
	t.Helper()
	text, err := os.ReadFile("../../testdata/student/quantiles.txt")
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	var all []printed
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if len(f) == 0 || f[0] == "#" {
			continue
		}
		if len(f) < 6 {
			t.Fatalf("short line %q", line)
		}
		all = append(all, printed{f[0], number(f[1]), number(f[2]), f[3], strings.Join(f[5:], " ")})
	}
	return all
}

func TestStudentTable(t *testing.T) {
	rows := map[string]int{}
	for _, q := range printedQuantiles(t) {
		want, err := strconv.ParseFloat(q.digits, 64)
		if err != nil {
			t.Fatal(err)
		}
		var got float64
		switch q.law {
		case "t", "normal":
			got = Student(q.p, q.dof)
		case "chi2": // of two degrees of freedom: the square of the ellipse's factor
			k := EllipseFactor(Confidence, math.Inf(1))
			got = k * k
			if q.dof != 2 || q.p != Confidence {
				t.Errorf("chi-square %v dof %v has nothing to be held against", q.p, q.dof)
			}
		default:
			t.Fatalf("unknown law %q", q.law)
		}
		if apart(got, want) > q.tolerance() {
			t.Errorf("%s %v with %v degrees of freedom = %.6f, printed %s (%s)", q.law, q.p, q.dof, got, q.digits, q.status)
		}
		if low := Student(1-q.p, q.dof); q.law == "t" && apart(low, -got) > 1e-11*got {
			t.Errorf("lower tail %v with %v degrees of freedom = %v, want −%v", 1-q.p, q.dof, low, got)
		}
		if q.p == 0.975 {
			if k := Coverage(q.dof); apart(k, want) > q.tolerance() {
				t.Errorf("Coverage(%v) = %.6f, printed %s", q.dof, k, q.digits)
			}
		}
		rows[q.law]++
	}
	if rows["t"] != 38 || rows["normal"] != 6 || rows["chi2"] != 1 {
		t.Errorf("read %v rows, want 38 t, 6 normal, 1 chi2", rows)
	}
}

// The quantile has a closed form for 1, 2 and 4 degrees of freedom (the Cauchy law, and roots of
// a quadratic and a cubic; W. T. Shaw, J. Computational Finance 9 (2006), from memory; each is
// proven by TestStudentRoundTrip's cumulative law as well).
func TestStudentClosedForms(t *testing.T) {
	const tolerance = 1e-11 // relative: five digits more than any uncertainty has
	forms := map[float64]func(p float64) float64{
		1: func(p float64) float64 { return math.Tan(math.Pi * (p - 0.5)) },
		2: func(p float64) float64 { return (2*p - 1) / math.Sqrt(2*p*(1-p)) },
		4: func(p float64) float64 {
			a := math.Sqrt(4 * p * (1 - p))
			return math.Copysign(2*math.Sqrt(math.Cos(math.Acos(a)/3)/a-1), p-0.5)
		},
	}
	for dof, form := range forms {
		for _, p := range []float64{0.001, 0.025, 0.2, 0.45, 0.55, 0.8, 0.95, 0.975, 0.995, 0.9999} {
			got, want := Student(p, dof), form(p)
			if apart(got, want) > tolerance*math.Abs(want) {
				t.Errorf("Student(%v, %v) = %.15g, want %.15g", p, dof, got, want)
			}
		}
	}
}

// Degrees of freedom that are no whole number come from Welch–Satterthwaite: the cumulative law
// of another library must lead back to p.
func TestStudentRoundTrip(t *testing.T) {
	// Of a probability. For many degrees of freedom the other library keeps no more than ten
	// digits near the middle.
	const tolerance = 2e-10
	for _, dof := range []float64{0.3, 0.5, 1, 1.5, 2.7, 3, 4.25, 7.5, 11, 16.752, 29.9, 64.1, 250.5, 1000, 9876.5, 10000.5, 54321.5} {
		law := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}
		for _, p := range []float64{1e-6, 0.005, 0.025, 0.3, 0.499, 0.501, 0.7, 0.95, 0.975, 0.995, 0.99999} {
			if back := law.CDF(Student(p, dof)); apart(back, p) > tolerance {
				t.Errorf("Student(%v, %v) = %v, whose probability is %v", p, dof, Student(p, dof), back)
			}
		}
	}
}

// A budget that a certain part dominates has any number of degrees of freedom; the factor must
// fall to the normal quantile without a step and without losing digits on the way.
func TestStudentManyDof(t *testing.T) {
	const z = 1.959963984540054 // the normal 0.975 quantile, to all its digits
	last := Student(0.975, 1000)
	for _, dof := range []float64{9000, 9999, 1e4, 10001, 1e5, 1e6, 1e8, 1e10, 1e13} {
		got := Student(0.975, dof)
		// Two terms of the expansion in 1/ν; the next is below 3/ν³.
		want := z + (z*z*z+z)/(4*dof) + (5*math.Pow(z, 5)+16*z*z*z+3*z)/(96*dof*dof)
		const tolerance = 1e-11 // 3/ν³ at 9000 is 4e-12; the rest is rounding
		if apart(got, want) > tolerance {
			t.Errorf("Student(0.975, %g) = %.15g, want %.15g", dof, got, want)
		}
		if !(got < last) {
			t.Errorf("Student(0.975, %g) = %.17g does not fall below %.17g", dof, got, last)
		}
		last = got
	}
	for _, dof := range []float64{1e16, 1e20, 1e300, math.MaxFloat64, math.Inf(1)} {
		if got := Student(0.975, dof); apart(got, z) > 1e-14 {
			t.Errorf("Student(0.975, %g) = %.15g, want %.15g", dof, got, z)
		}
	}
}

// The factors that are kept are the quantiles themselves, to the last bit, whoever asks first; and
// nothing between or beyond the whole numbers is rounded to one of them.
func TestCoverageKept(t *testing.T) {
	var asked sync.WaitGroup
	for range 8 {
		asked.Go(func() {
			for dof := 0.25; dof < wholeDof+3; dof += 0.25 {
				if got, want := Coverage(dof), Student(0.975, dof); got != want {
					t.Errorf("Coverage(%v) = %v, want %v", dof, got, want)
				}
			}
		})
	}
	asked.Wait()
	if allocs := testing.AllocsPerRun(100, func() { Coverage(9) }); allocs != 0 {
		t.Errorf("%v allocations, want 0", allocs)
	}
}

func TestStudentOutOfRange(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct{ p, dof float64 }{
		{0, 5}, {1, 5}, {-0.1, 5}, {1.1, 5}, {nan, 5}, {math.Inf(1), 5}, {math.Inf(-1), 5},
		{0.975, 0}, {0.975, -1}, {0.975, nan}, {0.975, math.Inf(-1)}, {0.5, 0}, {0.5, nan},
		{0, math.Inf(1)}, {1, math.Inf(1)},
	} {
		if got := Student(c.p, c.dof); !math.IsNaN(got) {
			t.Errorf("Student(%v, %v) = %v, want NaN", c.p, c.dof, got)
		}
	}
	for _, dof := range []float64{0, -1, nan, math.Inf(-1)} {
		if k, l := Coverage(dof), EllipseFactor(Confidence, dof); !math.IsNaN(k) || !math.IsNaN(l) {
			t.Errorf("with %v degrees of freedom the factors are %v and %v, want NaN", dof, k, l)
		}
	}
	for _, dof := range []float64{0.5, 3, 1e7, math.Inf(1)} {
		if got := Student(0.5, dof); got != 0 {
			t.Errorf("Student(0.5, %v) = %v, want 0", dof, got)
		}
	}
}

// The factor of the 95 % ellipse is √(2 F) with F the 0.95 quantile of the F law with 2 and ν
// degrees of freedom, here from another library.
func TestEllipseFactor(t *testing.T) {
	const tolerance = 1e-9 // relative
	for _, dof := range []float64{1, 2, 3, 4.5, 8, 11, 16.7, 30, 120, 1000} {
		want := math.Sqrt(2 * distuv.F{D1: 2, D2: dof}.Quantile(Confidence))
		if got := EllipseFactor(Confidence, dof); apart(got, want) > tolerance*want {
			t.Errorf("EllipseFactor(0.95, %v) = %.12g, want %.12g", dof, got, want)
		}
	}
	last := EllipseFactor(Confidence, 1000)
	for _, dof := range []float64{1e6, 1e9, 1e12, math.Inf(1)} {
		got := EllipseFactor(Confidence, dof)
		if !(got <= last && got > math.Sqrt(5.9914)) {
			t.Errorf("EllipseFactor(0.95, %g) = %v, want a fall from %v to √5.9915", dof, got, last)
		}
		last = got
	}
}
