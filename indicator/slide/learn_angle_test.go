package slide_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/slide"
)

func askew(limit float64) slide.Slide {
	return slide.Slide{Name: "table_y", TravelPerTurn: 2, Divisions: 100, Askew: 0.01, AskewLimit: limit}
}

// The directions that the names say, and turned by 90°.
func TestAlong(t *testing.T) {
	for _, c := range []struct {
		name  string
		askew float64
		want  geom.Point
	}{
		{"x", 0, geom.Point{X: 1}}, {"table_x", 0, geom.Point{X: 1}}, {"y", 0, geom.Point{Y: 1}}, {"table_y", 0, geom.Point{Y: 1}},
		{"table_x", math.Pi / 2, geom.Point{Y: 1}}, {"y", math.Pi / 2, geom.Point{X: -1}}, {"offset", 1, geom.Point{}},
	} {
		got := slide.Along(c.name).Unit(c.askew)
		if got.Sub(c.want).Norm() > 1e-15 || (c.askew == 0 && got != c.want) { // exact where nothing is askew
			t.Errorf("%s askew by %v goes along %v, want %v", c.name, c.askew, got, c.want)
		}
	}
	if slide.Rides("x") || slide.Rides("offset") || !slide.Rides("table_x") || !slide.Rides("table_y") {
		t.Error("table_x and table_y ride on the table, and nothing else does")
	}
}

// Two normal variables: a mean of 0.01 known to 0.03/√3, and seen at 0.02 ± 0.01: weights 1/0.0003 and
// 1/0.0001, so the mean moves by three quarters of the way, to 0.0175, and the doubt is √(1/13333.3) = 0.00866.
func TestAskew(t *testing.T) {
	b := slide.Prior(askew(0.03))
	mean, u := b.Askew()
	if mean != 0.01 || math.Abs(u-0.03/math.Sqrt(3)) > 1e-15 {
		t.Errorf("before: %v ± %v", mean, u)
	}
	b, found := b.SeenAngle(slide.AngleSeen{Askew: 0.02, U: 0.01})
	if found.Kind != slide.Nothing {
		t.Errorf("odd: %+v", found)
	}
	if mean, u = b.Askew(); math.Abs(mean-0.0175) > 1e-12 || math.Abs(u-0.0086603) > 1e-7 {
		t.Errorf("after: %v ± %v, want 0.0175 ± 0.00866", mean, u)
	}
	// What was seen stands when the file is changed, and an exact file is all there is.
	if mean, _ = b.Facing(slide.Slide{Askew: 0.02, AskewLimit: 0.03}).Askew(); math.Abs(mean-0.02) > 1e-12 {
		t.Errorf("with the file at 0.02: %v", mean)
	}
	if mean, u = b.Facing(slide.Slide{Askew: 0.3}).Askew(); mean != 0.3 || u != 0 {
		t.Errorf("exact by the file: %v ± %v", mean, u)
	}
	text, err := json.Marshal(b)
	var back slide.Lesson
	if err != nil || json.Unmarshal(text, &back) != nil || len(back.Angles) != 1 || back.Angles[0] != b.Angles[0] {
		t.Errorf("%s (%v) is read back as %+v", text, err, back)
	}
}

// An angle far off is not taken in, and is told; numbers out of range are refused; and of an exact slide
// nothing is learnt.
func TestOddAngle(t *testing.T) {
	b := slide.Prior(askew(0.02))
	for range 5 {
		b, _ = b.SeenAngle(slide.AngleSeen{Askew: 0.012, U: 0.002})
	}
	mean, _ := b.Askew()
	c, found := b.SeenAngle(slide.AngleSeen{Askew: 0.05, U: 0.002})
	if after, _ := c.Askew(); found.Kind != slide.OddAngle || after != mean || math.Abs(found.Off.V-(0.05-mean)) > 1e-12 ||
		!(found.Off.U > 0) {
		t.Errorf("%+v, mean %v before and %v after", found, mean, after)
	}
	for _, o := range []slide.AngleSeen{{math.NaN(), 1}, {0, 0}, {8, 0.1}, {0, math.Inf(1)}} {
		if c, found := b.SeenAngle(o); found.Kind != slide.Refused || len(c.Angles) != 5 {
			t.Errorf("%+v: %+v", o, found)
		}
	}
	if c, found := slide.Prior(askew(0)).SeenAngle(slide.AngleSeen{Askew: 1, U: 0.1}); found.Kind != slide.Nothing || len(c.Angles) != 0 {
		t.Errorf("an exact slide has learnt %+v (%+v)", c.Angles, found)
	}
}

// Angles drawn from what is assumed are held by the 95 % doubt in 95 % of cases.
func TestAskewCoverage(t *testing.T) {
	const cases = 4000
	rng := rand.New(rand.NewPCG(11, 0))
	held := 0
	for range cases {
		s := askew(0.03)
		true := s.Askew + 0.03/math.Sqrt(3)*rng.NormFloat64()
		b := slide.Prior(s)
		for range 3 {
			u := 0.003 + 0.02*rng.Float64()
			b, _ = b.SeenAngle(slide.AngleSeen{Askew: true + u*rng.NormFloat64(), U: u})
		}
		if mean, u := b.Askew(); math.Abs(mean-true) <= 1.96*u {
			held++
		}
	}
	if p := float64(held) / cases; math.Abs(p-0.95) > 3*math.Sqrt(0.95*0.05/cases) {
		t.Errorf("%.4f of the angles are held, want 0.95", p)
	}
}
