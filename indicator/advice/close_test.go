package advice_test

import (
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// Before its planned stations a sweep is closed for its winds only where its spread has six degrees of freedom, and
// every wind is known to half of what it has to meet: 0.01 of 0.02.
func TestClosesEarlyForWindsThatAreKnown(t *testing.T) {
	for _, c := range []struct {
		dof, u float64
		want   advice.Reason
	}{
		{6, 0.0099, advice.ToWind}, {5, 0.0099, advice.GoOn}, {6, 0.0101, advice.GoOn}, {60, 0.0101, advice.GoOn},
	} {
		f := swept(t, geom.Point{X: 0.3}, 6)
		f.Dof = c.dof
		o := advice.Open{Looks: advice.Looks{Fewest: 6, Planned: 8, Limit: 16}, Entries: 6,
			Judge: func(*indicator.Estimate, float64) indicator.Verdicts {
				return indicator.Verdicts{Centre: indicator.Outside}
			},
			Tasks: func(*indicator.Estimate, indicator.Verdicts) []advice.Task {
				return []advice.Task{
					{Slide: screw("y"), Half: 0.02},
					{Slide: screw("x"), Travel: indicator.Value{V: 0.3, U: c.u}, Half: 0.02, Verdict: indicator.Outside},
				}
			}}
		if got := o.Close(&f); got != c.want {
			t.Errorf("%v degrees of freedom, a wind to ±%v: %v, want %v", c.dof, c.u, got, c.want)
		}
		if o.Entries = 8; o.Close(&f) != advice.ToWind {
			t.Errorf("%v degrees of freedom, a wind to ±%v: not to wind at the planned stations", c.dof, c.u)
		}
	}
}

// Six readings that may become twelve can halve their variance: what would be decided at 0.0030/√2 = 0.00212 is hoped
// for, what needs less is wound for. Without a spread there is hope always.
func TestHopes(t *testing.T) {
	for _, c := range []struct {
		dof, needs float64
		want       advice.Reason
	}{{3, 0.00213, advice.GoOn}, {3, 0.00211, advice.ToWind}, {0, 0.00211, advice.GoOn}} {
		f := swept(t, geom.Point{X: 0.3}, 6)
		f.Sigma, f.Dof = 0.003, c.dof
		o := advice.Open{Looks: advice.Looks{Fewest: 6, Planned: 6, Limit: 12}, Entries: 6,
			Judge: func(f *indicator.Estimate, _ float64) indicator.Verdicts {
				if f.Sigma < c.needs {
					return indicator.Verdicts{Centre: indicator.Inside}
				}
				return indicator.Verdicts{Centre: indicator.Undecided}
			},
			Tasks: func(*indicator.Estimate, indicator.Verdicts) []advice.Task {
				return []advice.Task{{Slide: screw("x"), Travel: indicator.Value{V: 0.3, U: 0.01}, Half: 0.02}}
			}}
		if got := o.Close(&f); got != c.want {
			t.Errorf("%v degrees of freedom, needs %v: %v, want %v", c.dof, c.needs, got, c.want)
		}
	}
}

// Of a sweep in rounds "inside" is said of whole rounds alone, of which each sees what the one before it did not: with rounds of five
// that are five, ten or fifteen readings, and none between, doubted ones that were read again included. "Outside" is said of
// others too.
func TestInsideOfWholeRoundsOnly(t *testing.T) {
	for _, c := range []struct {
		entries int
		inside  advice.Reason
	}{{5, advice.Decided}, {6, advice.GoOn}, {9, advice.GoOn}, {10, advice.Decided}, {11, advice.GoOn}, {14, advice.GoOn},
		{15, advice.Decided}} {
		f := swept(t, geom.Point{}, 5)
		says := indicator.Inside
		o := advice.Open{Looks: advice.Looks{Fewest: 5, Planned: 5, Limit: 10, Rounds: true}, Entries: c.entries,
			Judge: func(*indicator.Estimate, float64) indicator.Verdicts { return indicator.Verdicts{Centre: says} },
			Tasks: func(*indicator.Estimate, indicator.Verdicts) []advice.Task { return nil }}
		if got := o.Close(&f); got != c.inside {
			t.Errorf("%d readings, inside: %v, want %v", c.entries, got, c.inside)
		}
		want := advice.ToWind
		if c.entries < 10 && c.entries != 5 {
			want = advice.GoOn // no look is due
		}
		if says = indicator.Outside; o.Close(&f) != want {
			t.Errorf("%d readings, outside: %v, want %v", c.entries, o.Close(&f), want)
		}
	}
}
