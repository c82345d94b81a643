package job_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.org/trammel/indicator/job"
)

// atReference answers the questions of an arc up to the reference's radius, after a setting in a ring of 60 that is at hand.
func atReference(t *testing.T, touch string) job.Asking {
	t.Helper()
	last := mustJob(t, shownJob)
	q, err := job.Shared(&last).Questions(job.Facts{Drawing: true, Arc: &rim, Last: &last,
		AtHand: map[string][]float64{job.Rings: {60, 40}, job.Plugs: {40, 20, 12.7}}})
	if err != nil {
		t.Fatal(err)
	}
	for {
		now, _ := q.Next()
		say := ""
		switch now.Key {
		case "setup.reference_radius":
			return q
		case "setup.touch":
			if now.Default != "ring" {
				t.Errorf("after a ring %q is proposed", now.Default)
			}
			say = touch
		}
		if q, err = q.Answer(say); err != nil {
			t.Fatal(err)
		}
	}
}

// What is at hand is offered by its radius, for what is touched: a ring's for a bore, a plug's for a boss, none for a pin. The ring of the
// setting before is proposed for a ring or a bore alone.
func TestReferencesAtHandAreOffered(t *testing.T) {
	for _, c := range []struct {
		touch, are, def string
		choices         string
		means           string
	}{
		{"", "ring", "30", "30 20", "30 (ring d 60)"}, {"bore", "ring", "30", "30 20", "30 (ring d 60)"},
		{"plug", "plug", "", "20 10 6.35", ""}, {"boss", "plug", "", "20 10 6.35", ""}, {"pin", "", "", "", ""},
	} {
		now, _ := atReference(t, c.touch).Next()
		got := slices.Clone(now.Choices)
		if c.touch == "plug" || c.touch == "boss" {
			slices.SortFunc(got, func(x, y string) int { return strings.Compare(y, x) }) // by what the reach needs, elsewhere
			c.choices = "6.35 20 10"
		}
		if now.Are != c.are || now.Default != c.def || strings.Join(got, " ") != c.choices {
			t.Errorf("a %s: %q %q proposes %q, want %q %q %q", c.touch, now.Are, got, now.Default, c.are, c.choices, c.def)
		}
		if c.means != "" && now.Means(c.def) != c.means {
			t.Errorf("a %s: %q, want %q", c.touch, now.Means(c.def), c.means)
		}
	}
}

// A plug is said at hand by its diameter. The same figure without its d would be a radius twice as large: it is refused with both that
// may be meant. A radius that is at hand, and one that is nothing's diameter, are taken.
func TestADiameterAtHandIsNoRadius(t *testing.T) {
	q := atReference(t, "plug")
	for _, c := range []struct{ typed, radius string }{{"12.7", ""}, {"40", ""}, {"d 40", "20"}, {"20", "20"}, {"6.35", "6.35"},
		{"25", "25"}, {"d 80", "40"}} {
		next, err := q.Answer(c.typed)
		var u *job.Unfit
		switch {
		case c.radius == "" && (!errors.As(err, &u) || !strings.HasPrefix(u.Hint(), "d "+c.typed)):
			t.Errorf("%s: %v, want a hint d %s", c.typed, err, c.typed)
		case c.radius != "" && (err != nil || !strings.Contains(string(next.Text()), "reference_radius = "+c.radius)):
			t.Errorf("%s: %v, want a radius of %s:\n%s", c.typed, err, c.radius, next.Text())
		}
	}
	if _, err := atReference(t, "pin").Answer("40"); err != nil {
		t.Errorf("a pin of 80, none of those at hand: %v", err)
	}
}
