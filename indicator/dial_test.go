package indicator_test

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/trammel/indicator"
)

// reference is one published or constructed figure: see the sources in the file itself.
type reference struct {
	ID         string
	Kind       string
	Graduation float64
	LSL, USL   float64
	U, Y       float64
	Verdict    string
	WOverU     float64 `json:"w_over_U"`
	Values     []struct {
		Name       string
		Value, Tol float64
		Source     string
		Status     string
	}
}

// readReference reads the cases of one reference file.
func readReference(t *testing.T, path string) []reference {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []reference }
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	if len(file.Cases) == 0 {
		t.Fatalf("%s holds no case", path)
	}
	return file.Cases
}

// Reading to a whole graduation spreads by the graduation over √12; the file names the source.
func TestRoundingAgainstReference(t *testing.T) {
	for _, c := range readReference(t, "../testdata/indicator/rounding.json") {
		d := indicator.Dial{Graduation: c.Graduation, ReadsTo: 1}
		for _, v := range c.Values {
			near(t, c.ID+" ("+v.Status+")", d.Rounding(), v.Value, v.Tol)
		}
	}
}

// A fifth of a 0.01 division is 0.002; over √12 = 3.4641 that is 0.57735 µm.
func TestRoundingToAFifth(t *testing.T) {
	d := indicator.Dial{Graduation: 0.01, ReadsTo: indicator.DefaultReadsTo}
	near(t, "rounding", d.Rounding(), 0.00057735, 5e-9)
	if r := (indicator.Dial{ReadsTo: 0.2}).Rounding(); r != 0 {
		t.Errorf("rounding without a graduation = %v, want 0", r)
	}
}

func TestDialRange(t *testing.T) {
	middle := indicator.Dial{From: -0.8, To: 0.8}
	upwards := indicator.Dial{To: 1.6}
	downwards := indicator.Dial{From: -0.2}
	cases := []struct {
		name    string
		dial    indicator.Dial
		reading float64
		ok      bool
	}{
		{"zero", middle, 0, true},
		{"upper end", middle, 0.8, true},
		{"lower end", middle, -0.8, true},
		{"upper end from inches", middle, 0.8 / 25.4 * 25.4 * (1 + 1e-15), true},
		{"just beyond the upper end", middle, 0.80001, false},
		{"just beyond the lower end", middle, -0.80001, false},
		{"zero at one end", upwards, 0, true},
		{"below a zero at the end", upwards, -0.00001, false},
		{"top of a one-sided dial", upwards, 1.6, true},
		{"zero at the other end", downwards, 0, true},
		{"above it", downwards, 0.00001, false},
		{"nothing known", indicator.Dial{}, 1e6, true},
	}
	for _, c := range cases {
		err := c.dial.Check(c.reading)
		if (err == nil) != c.ok {
			t.Errorf("%s: Check(%v) on %v to %v = %v, want ok %v", c.name, c.reading, c.dial.From, c.dial.To, err, c.ok)
		}
		var beyond *indicator.RangeError
		if err != nil && !errors.As(err, &beyond) {
			t.Errorf("%s: %v, want a RangeError", c.name, err)
		}
	}
	want := "reading 0.9 mm is off the dial, need -0.8 to 0.8 mm"
	if err := middle.Check(0.9); err == nil || err.Error() != want {
		t.Errorf("Check(0.9) = %v, want %q", err, want)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if err := (indicator.Dial{}).Check(bad); err == nil || !strings.Contains(err.Error(), "need a finite number") {
			t.Errorf("Check(%v) = %v, want a refusal that asks for a finite number", bad, err)
		}
	}
}
