package geom

import (
	"encoding/json"
	"math"
	"testing"
)

// The inch is 25.4 mm exactly, and a power of two or a whole number of inches stays exact.
func TestInchIsExact(t *testing.T) {
	for _, c := range []struct{ inches, mm float64 }{
		{1, 25.4}, {2, 50.8}, {0.5, 12.7}, {-1, -25.4}, {10, 254}, {0, 0}, {1. / 64, 0.396875}, {100, 2540},
	} {
		if got := Inch.MM(c.inches); got != c.mm {
			t.Errorf("%v in = %v mm, want %v", c.inches, got, c.mm)
		}
		if got := Inch.From(c.mm); got != c.inches {
			t.Errorf("%v mm = %v in, want %v", c.mm, got, c.inches)
		}
	}
	if MillimetresPerInch != 25.4 {
		t.Errorf("an inch is %v mm, want 25.4", MillimetresPerInch)
	}
	for _, v := range []float64{0, 1, -0.001, 1e-300, math.Inf(1)} {
		if Millimetre.MM(v) != v || Millimetre.From(v) != v {
			t.Errorf("%v mm changed to %v and %v", v, Millimetre.MM(v), Millimetre.From(v))
		}
	}
}

// Typed thousandths of an inch must come back as typed: there and back again differs by one unit
// in the last place at most, thirteen digits below what is printed.
func TestInchThereAndBack(t *testing.T) {
	for k := -20000; k <= 20000; k++ {
		in := float64(k) / 10000
		back := Inch.From(Inch.MM(in))
		if apart(back, in) > math.Abs(math.Nextafter(in, math.Inf(1))-in) {
			t.Fatalf("%v in came back as %v", in, back)
		}
		if got, want := FormatFixed(back, 4), FormatFixed(in, 4); got != want {
			t.Fatalf("%s in came back as %s", want, got)
		}
	}
}

func TestUnitNames(t *testing.T) {
	for _, u := range []Unit{Millimetre, Inch} {
		got, err := ParseUnit(u.String())
		if err != nil || got != u {
			t.Errorf("ParseUnit(%q) = %v, %v", u.String(), got, err)
		}
		text, err := json.Marshal(map[string]Unit{"unit": u})
		if want := `{"unit":"` + u.String() + `"}`; err != nil || string(text) != want {
			t.Errorf("JSON %s, %v, want %s", text, err, want)
		}
		var back map[string]Unit
		if err := json.Unmarshal(text, &back); err != nil || back["unit"] != u {
			t.Errorf("%s read back as %v, %v", text, back, err)
		}
	}
	if Millimetre.String() != "mm" || Inch.String() != "in" || Unit(0) != Millimetre {
		t.Errorf("units are %q and %q, the first %v, want mm, in, mm", Millimetre, Inch, Unit(0))
	}
	for _, s := range []string{"", "MM", "inch", "cm", " mm", "mm ", "\""} {
		_, err := ParseUnit(s)
		if err == nil {
			t.Errorf("ParseUnit(%q) gave no error", s)
		}
		var u Unit
		if u.UnmarshalText([]byte(s)) == nil {
			t.Errorf("UnmarshalText(%q) gave no error", s)
		}
	}
	if _, err := ParseUnit("cm"); err == nil || err.Error() != `unit "cm", need mm or in` {
		t.Errorf("message %v", err)
	}
}
