package lines_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// What is stated is said with its unit, what stood before, and where the file says it; of a radius that is held by word of mouth
// no file does. The journal is the golden one, its entries by hand.
func TestLimitLines(t *testing.T) {
	var got []string
	for _, st := range replay(t, "v1-stated.jsonl") {
		if _, ok := st.Event.(session.LimitStated); ok {
			got = append(got, lines.Happened(st, geom.Millimetre))
		}
	}
	for _, want := range []string{
		"stated: the dial is right within 0.002 mm (nobody had said); to keep it, write error = 0.002 under [dial] in the job file",
		"stated: the radius that is held is right within 0.004 mm (nobody had said)",
		"stated: the reach is right within 0.050 mm (nobody had said); to keep it, write reach_error = 0.05 under [setup] in the job file",
		"stated: the reference's form is exact (nobody had said); to keep it, write reference_form_error = 0 under [setup] in the job file",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("%q is not said; said is\n%s", want, strings.Join(got, "\n"))
		}
	}
}
