package indicator_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// gauge is the GUM's end-gauge example, as the file gives it.
type gauge struct {
	Cases []struct {
		ID     string             `json:"id"`
		Input  map[string]float64 `json:"input"`
		Values []struct {
			Name   string  `json:"name"`
			Value  float64 `json:"value"`
			Tol    float64 `json:"tol"`
			Expect string  `json:"expect"`
		} `json:"values"`
	} `json:"cases"`
}

// The GUM's end gauge through Combine: the components, the combined uncertainty and its effective
// degrees of freedom. The file names the sources and how sure they are.
func TestCombineEndGauge(t *testing.T) {
	raw, err := os.ReadFile("../testdata/gum/gum.json")
	if err != nil {
		t.Fatal(err)
	}
	var g gauge
	if err := json.Unmarshal(raw, &g); err != nil || len(g.Cases) != 1 {
		t.Fatalf("%d cases (%v), want one", len(g.Cases), err)
	}
	in := g.Cases[0].Input
	got := map[string]float64{}
	end := func(ls float64) (u, dof float64) {
		d, dofD := indicator.Budget{
			{Name: "mean of five", U: in["u_d0"], Dof: in["dof_d0"]},
			{Name: "comparator, random", U: in["u_d1"], Dof: in["dof_d1"]},
			{Name: "comparator, systematic", U: in["u_d2"], Dof: in["dof_d2"]},
		}.Combine()
		// The guide's 25.6 goes on from the rounded 9.7; with all digits it is 25.4.
		got["component_d"], got["u_d_full"], got["dof_eff_d"] = d, d, dofD*math.Pow(9.7/d, 4)
		alpha := ls * math.Abs(in["theta_bar"]) * in["halfwidth_d_alpha"] / math.Sqrt(3)
		theta := ls * in["alpha_s"] * in["halfwidth_d_theta"] / math.Sqrt(3)
		got["component_l_s"], got["component_d_alpha"], got["component_d_theta"] = in["u_l_s"], alpha, theta
		return indicator.Budget{
			{Name: "standard", U: in["u_l_s"], Dof: in["dof_l_s"]}, {Name: "difference", U: d, Dof: dofD},
			{Name: "expansion", U: alpha, Dof: in["dof_d_alpha"]}, {Name: "temperature", U: theta, Dof: in["dof_d_theta"]},
		}.Combine()
	}
	got["u_c_ls_5e7"], got["dof_eff_ls_5e7"] = end(5e7)
	got["u_c"], got["dof_eff_gum"] = end(in["l_s"])
	// The oven's temperature: 0.2 at the thermometer and an arcsine of ±0.5.
	oven, dof := indicator.Budget{
		{U: in["u_theta_bar"], Dof: math.Inf(1)}, {U: in["arcsine_halfwidth_delta"] / math.Sqrt2, Dof: math.Inf(1)},
	}.Combine()
	got["u_theta"], got["u_theta_full"] = oven, oven
	if !math.IsInf(dof, 1) {
		t.Errorf("two parts from limits have %v degrees of freedom, want +Inf", dof)
	}
	got["t99_dof16"] = fit.Student(0.995, 16)
	got["U99"] = got["t99_dof16"] * math.Round(got["u_c"])
	seen := 0
	for _, v := range g.Cases[0].Values {
		x, ok := got[v.Name]
		if !ok {
			continue // the length itself, and what second-order terms would add
		}
		seen++
		if met := math.Abs(x-v.Value) <= v.Tol; met == (v.Expect == "FAIL") {
			t.Errorf("%s = %.12g, the file has %v ± %v (%s)", v.Name, x, v.Value, v.Tol, v.Expect)
		}
	}
	if seen != 14 {
		t.Errorf("%d values held, want 14", seen)
	}
}

// Parts may be combined in groups: the degrees of freedom come out the same. And one part alone is
// itself.
func TestCombineGroups(t *testing.T) {
	a, b, c := indicator.Part{U: 3, Dof: 4}, indicator.Part{U: 4, Dof: 9}, indicator.Part{U: 12, Dof: math.Inf(1)}
	u, dof := indicator.Budget{a, b, c}.Combine()
	near(t, "u, by hand: √(9 + 16 + 144)", u, 13, 1e-12)
	// 13⁴/(3⁴/4 + 4⁴/9) = 28561/(20.25 + 28.4444)
	near(t, "dof, by hand", dof, 28561/(20.25+256.0/9), 1e-9)
	u1, dof1 := indicator.Budget{a, b}.Combine()
	u2, dof2 := indicator.Budget{{U: u1, Dof: dof1}, c}.Combine()
	near(t, "u in groups", u2, u, 1e-12)
	near(t, "dof in groups", dof2, dof, 1e-9)
	if u, dof := (indicator.Budget{a}).Combine(); u != 3 || math.Abs(dof-4) > 1e-12 {
		t.Errorf("one part: %v with %v, want 3 with 4", u, dof)
	}
}

// limited is the sweep of TestSpreadWithPrior with limits stated: s = √(136e-6/9) = 0.0038873 with
// nine degrees of freedom, of which a mean of four has half: u = 0.00194365.
func limited(t *testing.T, change func(*indicator.Dial, *indicator.Setup)) indicator.Estimate {
	d, s := indicator.Dial{Repeatability: 0.003}, ring
	change(&d, &s)
	return mustFit(t, d, s, quarters, []float64{0.004, -0.004, 0.004, -0.004})
}

const limitedU = 0.0019436506316151

// Each part of the budget by hand.
func TestBudgetParts(t *testing.T) {
	third := math.Sqrt(3)
	for _, c := range []struct {
		name   string
		change func(*indicator.Dial, *indicator.Setup)
		part   string
		u      float64
	}{
		{"reference", func(_ *indicator.Dial, s *indicator.Setup) { s.ReferenceLimit = 0.003 }, indicator.PartReference, 0.003 / third},
		{"reach", func(_ *indicator.Dial, s *indicator.Setup) { s.ReachLimit = 0.006 }, indicator.PartReach, 0.006 / third},
		// 0.02 over 100, swept 25 above the cut: 0.005.
		{"tilt", func(_ *indicator.Dial, s *indicator.Setup) { s.TiltLimit, s.SweepHeight = 0.0002, 25 }, indicator.PartTilt,
			0.005 / third},
		{"dial", func(d *indicator.Dial, _ *indicator.Setup) { d.ErrorLimit = 0.002 }, indicator.PartDial, 0.002 / third},
	} {
		f := limited(t, c.change)
		b := f.Budget()
		if len(b) != 2 || b[0].Name != indicator.PartReadings || b[1].Name != c.part || b[1].Cure == "" || b[0].Cure == "" {
			t.Fatalf("%s: budget %+v, want the readings and %s", c.name, b, c.part)
		}
		near(t, c.name+": readings", b[0].U, limitedU, 1e-9)
		near(t, c.name+": readings' degrees of freedom", b[0].Dof, 9, 0)
		near(t, c.name, b[1].U, c.u, 1e-12)
		if !math.IsInf(b[1].Dof, 1) {
			t.Errorf("%s: %v degrees of freedom, want +Inf: it is a limit", c.name, b[1].Dof)
		}
	}
	// A lever at cos α = 0.8, sin α = 0.6, whose readings stand at 0.5 on the average, its angle good to
	// ±0.05: 0.5·0.6·0.05/√3. The dial's own error counts 0.8 of itself.
	d := indicator.Dial{LeverAngle: math.Atan2(3, 4), LeverLimit: 0.05, ErrorLimit: 0.01, Repeatability: 0.003}
	for _, m := range []float64{0.5, -0.5} {
		f := mustFit(t, d, ring, quarters, []float64{m, m, m, m})
		b := f.Budget()
		if len(b) != 3 || b[1].Name != indicator.PartDial || b[2].Name != indicator.PartLever {
			t.Fatalf("budget %+v, want readings, dial and lever", b)
		}
		near(t, "lever angle", b[2].U, 0.5*0.6*0.05/third, 1e-12)
		near(t, "dial through a lever", b[1].U, 0.8*0.01/third, 1e-12)
	}
	// A surface's radius rests on neither reference nor reach.
	s := indicator.Setup{Touch: indicator.Boss, ZeroRadius: 30, ReferenceLimit: 0.01, ReachLimit: 0.01}
	f := mustFit(t, indicator.Dial{Repeatability: 0.003, ErrorLimit: 0.002}, s, quarters, []float64{0.004, -0.004, 0.004, -0.004})
	if b := f.Budget(); len(b) != 2 || b[1].Name != indicator.PartDial {
		t.Errorf("budget of a surface %+v, want readings and dial", b)
	}
}

// What is not the readings' is 3 and 4, 5 together; what a budget does not name is exact.
func TestBudgetNames(t *testing.T) {
	b := indicator.Budget{{Name: indicator.PartDial, U: 3}, {Name: indicator.PartReadings, U: 12, Dof: 7},
		{Name: indicator.PartReach, U: 4}}
	if largest, u := b.Rest(); largest.Name != indicator.PartReach || math.Abs(u-5) > 1e-12 {
		t.Errorf("the rest is %v, most of it %s; want 5 and the reach", u, largest.Name)
	}
	if p := b.Of(indicator.PartReadings); p.U != 12 || p.Dof != 7 {
		t.Errorf("readings %+v, want 12 with 7 degrees of freedom", p)
	}
	if p := b.Of(indicator.PartTilt); p.U != 0 {
		t.Errorf("a part that is not in it: %v, want 0", p.U)
	}
}

// Where no radius is claimed, or no doubt is known, there is no budget and nothing that limits.
func TestNoBudget(t *testing.T) {
	noReach := limited(t, func(_ *indicator.Dial, s *indicator.Setup) { s.ReachKnown, s.ReachLimit = false, 0.01 })
	three := mustFit(t, indicator.Dial{}, ring, degrees(0, 120, 240), []float64{0.5, 0, -0.5})
	for name, f := range map[string]indicator.Estimate{"reach not known": noReach, "no spread": three} {
		if b := f.Budget(); b != nil {
			t.Errorf("%s: budget %+v, want none", name, b)
		}
		if p, beyond, ok := f.Limiting(); ok || beyond {
			t.Errorf("%s: %+v limits", name, p)
		}
	}
}

// The radius's U is Student's t of the effective degrees of freedom times the root sum of squares:
// with a reference good to ±0.003, u = √(0.00194365² + 0.00173205²) = 0.00260341, and ν = 9·(0.00260341
// /0.00194365)⁴ = 28.97, whose printed neighbour 29 has t = 2.045 (NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.6.7.2). The centre's U has the readings alone, t(9) = 2.262.
func TestRadiusWithBudget(t *testing.T) {
	f := limited(t, func(_ *indicator.Dial, s *indicator.Setup) { s.ReferenceLimit = 0.003 })
	near(t, "U of the swing radius", f.Swing().U, 2.045*0.00260341, 0.0008*0.0026)
	nearU(t, "U of x", f.CentreX().U, t9, math.Sqrt(136e-6/9)/math.Sqrt2)
	// Nothing stated: as before.
	f = limited(t, func(*indicator.Dial, *indicator.Setup) {})
	nearU(t, "U without limits", f.Swing().U, t9, limitedU)
}

// A tilt moves the centre between the sweep's height and the cut's: with x good to u = 0.0038873·√½ =
// 0.00274874 by nine degrees of freedom and 0.005/√3 = 0.00288675 of tilt, U = t·0.00398615 with
// ν = 9·(0.00398615/0.00274874)⁴ = 39.8, whose printed neighbour 40 has t = 2.021 (NIST/SEMATECH
// e-Handbook of Statistical Methods, 1.3.6.7.2).
func TestCentreWithTilt(t *testing.T) {
	f := limited(t, func(_ *indicator.Dial, s *indicator.Setup) { s.TiltLimit, s.SweepHeight = 0.0002, 25 })
	near(t, "U of x", f.CentreX().U, 2.021*0.00398615, 0.0006*0.004)
	near(t, "U of y", f.CentreY().U, 2.021*0.00398615, 0.0006*0.004)
	// The centre is exactly at the axis: inside where the tilted ellipse is, and not before.
	ell, _ := f.Ellipse()
	if got := f.JudgeCentre(1.02*ell.Major, 0.05); got != indicator.Inside {
		t.Errorf("a tolerance as large as the ellipse: %v, want inside", got)
	}
	if got := f.JudgeCentre(0.85*ell.Major, 0.05); got != indicator.Undecided {
		t.Errorf("a tolerance of 0.85 of the ellipse: %v, want undecided", got)
	}
	// At the height of the cut nothing is moved.
	f = limited(t, func(_ *indicator.Dial, s *indicator.Setup) { s.TiltLimit = 0.0002 })
	nearU(t, "U of x at the cut's height", f.CentreX().U, t9, math.Sqrt(136e-6/9)/math.Sqrt2)
}

// The radius stands for the middle of the sweep: half the drift to either side is a part of its own.
func TestDriftInBudget(t *testing.T) {
	places := []float64{-0.5, -0.3, -0.1, 0.1, 0.3, 0.5}
	at := degrees(0, 90, 180, 270, 45, 0)
	var m []float64
	for i := range at {
		m = append(m, 0.012*places[i])
	}
	f, err := indicator.FitDrift(indicator.Dial{Repeatability: 0.003}, ring, at, m, places)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "change", f.Change.V, 0.012, 1e-12)
	b := f.Budget()
	if len(b) != 2 || b[1].Name != indicator.PartDrift {
		t.Fatalf("budget %+v, want readings and drift", b)
	}
	near(t, "drift", b[1].U, 0.006/math.Sqrt(3), 1e-12)
	for i, even := range f.Evened(m, places) {
		near(t, "evened", even, 0, 1e-12)
		near(t, "residual", f.Residual(at[i], even), 0, 1e-12)
	}
	// Eight degrees of the prior, six readings, four unknowns.
	near(t, "degrees of freedom", f.Dof, 10, 0)
	if plain := mustFit(t, indicator.Dial{Repeatability: 0.003}, ring, at, m); plain.Change.Known() {
		t.Errorf("no drift was fitted, and yet it is %v", plain.Change)
	}
}

// 'More readings cannot help' begins where the other parts together outweigh the readings, 0.00194365:
// one of ±0.0034 does (0.001963), one of ±0.0033 does not (0.001905), two of ±0.0024 do (0.00196
// together), two of ±0.0023 do not (0.00188). Then the largest of them is to be worked on.
func TestLimiting(t *testing.T) {
	for _, c := range []struct {
		reference, reach float64
		part             string
		beyond           bool
	}{
		{0, 0, indicator.PartReadings, false},
		{0.0033, 0, indicator.PartReadings, false},
		{0.0034, 0, indicator.PartReference, true},
		{0, 0.0034, indicator.PartReach, true},
		{0.0023, 0.0023, indicator.PartReadings, false},
		{0.0024, 0.00241, indicator.PartReach, true},
		{0.00241, 0.0024, indicator.PartReference, true},
	} {
		f := limited(t, func(_ *indicator.Dial, s *indicator.Setup) { s.ReferenceLimit, s.ReachLimit = c.reference, c.reach })
		p, beyond, ok := f.Limiting()
		if !ok || p.Name != c.part || beyond != c.beyond {
			t.Errorf("±%v and ±%v: %s limits, more readings cannot help %v, want %s, %v", c.reference, c.reach, p.Name, beyond, c.part,
				c.beyond)
		}
	}
}

// A surface's radius by a known zero radius leans on that: ±0.006 is 0.006/√3 (JCGM 100:2008, 4.3.7, from memory).
func TestZeroRadiusInTheBudget(t *testing.T) {
	f := mustFit(t, indicator.Dial{Repeatability: 0.003}, indicator.Setup{ZeroRadius: 30, ZeroLimit: 0.006}, quarters, make([]float64, 4))
	near(t, "zero radius", f.Budget().Of(indicator.PartZero).U, 0.006/math.Sqrt(3), 1e-12)
}
