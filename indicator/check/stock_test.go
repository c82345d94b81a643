package check_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/check"
)

// A boss of 39 with a cutter of 6 and 0.3 left on is roughed at 42.3 and should measure 39.3; a hollow of
// 45 at 41.7 and 44.7. Swing to ±0.06, cutter to ±0.04: (0.06² + 0.02²)/3, times 1.959964: 0.07157.
func TestRoughing(t *testing.T) {
	for _, c := range []struct {
		side                  check.Side
		target, swing, radius float64
	}{{check.Inside, 39, 42.3, 39.3}, {check.Outside, 45, 41.7, 44.7}} {
		r := check.Rough{Target: c.target, Stock: 0.3, Side: c.side, Cutter: to(6, 0.04), Swing: to(0, 0.06)}
		p, err := r.Plan()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "swing", p.Swing, c.swing, exactMM)
		near(t, "radius", p.Radius.V, c.radius, exactMM)
		near(t, "its U", p.Radius.U, 1.959963985*math.Sqrt(0.004/3), 1e-9)
		near(t, "U of the stock", p.Stock.U, p.Radius.U, 0)

		r.Stock = 0.0715
		_, err = r.Plan()
		refused[*check.ShapeError](t, err, "stock 0.0715 mm, need more than its own doubt of 0.0715")
		r.Stock, r.Cutter.Limit, r.Swing.Limit = 0.3, 0, 0
		_, err = r.Plan()
		refused[*check.ShapeError](t, err, "nothing is stated")
	}
	_, err := check.Rough{Target: 3, Stock: 0.5, Side: check.Outside, Cutter: to(6, 0.01)}.Plan()
	refused[*check.ShapeError](t, err, "swing radius -0.5 mm")
	_, err = check.Rough{Target: 39, Stock: math.NaN(), Cutter: to(6, 0.01)}.Plan()
	refused[*check.NumberError](t, err, "stock NaN")
	_, err = check.Rough{Target: 39, Stock: 0, Cutter: to(6, 0.01)}.Plan()
	refused[*indicator.PlaceError](t, err, "stock 0 mm")

	// What earlier arcs taught moves the swing radius, and stands for what was stated.
	l := taken(t, learn(t, 0.03, 0.03), check.Inside, 0.012, 1e-7)
	p, err := check.Rough{Target: 39, Stock: 0.05, Cutter: to(6, 0.04), Swing: to(0, 0.06), Learnt: &l}.Plan()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "swing", p.Swing, 42.038, 1e-6)
}

// Whatever swing radius and cutter are really out by, the arc is right after the last wind, but for what
// the measurement and the wind are out by; and of metal there is always something to take off.
func TestFinishing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		side := sides.Draw(r, "side")
		within := func(limit float64, name string) float64 { return limit * rapid.Float64Range(-1, 1).Draw(r, name) }
		w := world{b: within(0.06, "b"), dd: within(0.04, "δD")}
		target := rapid.Float64Range(10, 200).Draw(r, "target")
		job := check.Rough{Target: target, Stock: rapid.Float64Range(0.15, 1).Draw(r, "stock"), Side: side, Cutter: to(6, 0.04),
			Swing: to(0, 0.06)}
		p, err := job.Plan()
		if err != nil {
			r.Fatal(err)
		}
		rough := cut(side, p.Swing, 6, w.b, w.dd)
		out, wind := within(0.004, "measurement"), within(0.002, "wind")
		measured, err := check.Diameter(to(2*(rough+out), 0.008))
		if err != nil {
			r.Fatal(err)
		}
		travel, err := job.Finish(measured.Radius, to(0, 0.002))
		if err != nil {
			r.Fatal(err)
		}
		if (travel.V < 0) != (side == check.Inside) {
			r.Fatalf("metal %v: travel %v, want − for a boss and + for a hollow", side, travel.V)
		}
		if done := cut(side, p.Swing+travel.V+wind, 6, w.b, w.dd); math.Abs(done-target-wind+out) > 1e-9 {
			r.Fatalf("finished at %v, want %v and %v", done, target, wind-out)
		}
		// 4 and 2 µm, over √3: √20/√3.
		if u := travel.Value().U; math.Abs(u-k95*math.Sqrt(20./3)/1000) > 1e-8 {
			r.Fatalf("U %v of the finished radius", u)
		}
	})
}

func TestFinishRefused(t *testing.T) {
	boss := check.Rough{Target: 39, Side: check.Inside}
	m := func(d, limit float64) indicator.Measure { return must(t)(check.Diameter(to(d, limit))).Radius }
	for _, c := range []struct {
		measured indicator.Measure
		side     check.Side
		want     string
	}{
		{m(77.9, 0.001), check.Inside, "-0.05 mm is left to take off, need above 0"},
		{m(78.1, 0.001), check.Outside, "-0.05 mm is left to take off, need above 0"},
		{m(78.01, 0.02), check.Inside, "0.005 mm is left to take off, need more than its own doubt of 0.0113159 mm"},
		{m(78.022, 0.02), check.Inside, "0.011 mm is left to take off, need more than its own doubt of 0.0113159 mm"},
		{m(78.1, 0), check.Inside, "is not known"},
	} {
		boss.Side = c.side
		_, err := boss.Finish(c.measured, exact(0))
		refused[*check.ShapeError](t, err, c.want)
	}
	boss.Side = check.Inside
	if _, err := boss.Finish(m(78.023, 0.02), exact(0)); err != nil { // 0.0115, a little more than its doubt
		t.Errorf("0.0115 mm known to 0.0113: %v", err)
	}
	_, err := boss.Finish(indicator.Measure{V: math.NaN()}, exact(0))
	refused[*check.NumberError](t, err, "measured radius NaN")
	_, err = boss.Finish(m(78.1, 0.001), to(0, math.NaN()))
	refused[*check.NumberError](t, err, "last wind")
}
