package job_test

import (
	"cmp"
	"strings"
	"testing"

	"example.org/trammel/indicator/job"
)

// answeredWith answers all questions: by what is said of a key, else by what Enter takes, the first choice, or that it is not known.
func answeredWith(t *testing.T, q job.Asking, say map[string]string) job.Asking {
	t.Helper()
	for range 100 {
		now, more := q.Next()
		if !more {
			return q
		}
		answer := cmp.Or(say[now.Key], now.Default, strings.Join(now.Choices[:min(1, len(now.Choices))], ""), job.Unknown)
		var err error
		if q, err = q.Answer(answer); err != nil {
			t.Fatalf("%s: %q: %v", now.Key, answer, err)
		}
	}
	t.Fatal("there is no end of questions")
	return q
}

// Of a setting the last page says which arc is cut: 42 less half a cutter of 8 is 38. Of a drawing's arcs it says none, for their
// radii stand in the drawing and are asked of nobody.
func TestArcThatIsCut(t *testing.T) {
	say := map[string]string{"unit": "mm", "setup.kind": "carried", "target.swing_radius": "42", "cut.cutter": "8", "cut.metal": "inside",
		"setup.reach": "-12", "setup.reference_radius": "30", "cut.cutters": "8", "cutters": "8", "target.tolerance": "0.02",
		"target.centre_tolerance": "0.02", "dial.range": "1.6", "dial.repeatability": job.Unknown}
	one := answeredWith(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y"), AtHand: nothingAtHand}), say)
	if got := one.Cuts(); got != "arc cut: radius 38 mm (42 less half the cutter), metal inside" {
		t.Errorf("a setting cuts %q", got)
	}
	shared := answeredWith(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y"), Drawing: true}), say)
	if got := shared.Cuts(); got != "" {
		t.Errorf("what a drawing's arcs share cuts %q, want nothing", got)
	}
}
