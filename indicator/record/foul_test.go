package record_test

import (
	"fmt"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/record"
	"example.org/trammel/testdata"
)

// Whatever a file, a part, a machine or a journal is called, the words about it are not cut into a line that nobody has said. What else
// does not print is taken out at the door through which all of them leave.
func TestNoObjectForgesALine(t *testing.T) {
	foul := testdata.Foul
	plan := record.NewPlan(record.Planned{Part: testdata.Plate(t, part.Options{Cutters: []float64{6}}), Name: foul}, geom.Millimetre)
	reached := record.Reached{Trial: 1}
	all := []interface{ Text() string }{
		record.SessionLine{Name: foul, Journal: foul, Wrong: foul, Accepted: []record.Reached{reached}, Stands: &reached},
		record.MachineLine{Name: foul, File: foul}, record.MachineLine{Name: foul, File: foul, Wrong: foul},
		record.Written(foul, foul), record.WrittenJob(foul, foul), plan,
	}
	for _, c := range []job.Change{{Key: "a", Was: "1", Is: "2"}, {Key: "a", Is: "2"}, {Key: "a", Was: "1"}} {
		all = append(all, record.Changed(foul, c))
	}
	q := job.Question{Key: "machine", Text: "which machine", Default: foul, Choices: []string{foul, "b"}, Closed: true}
	for i, l := range append(all, record.Asked(&q)) {
		said := geom.Printable(l.Text(), '?', '\n')
		if bad := testdata.Drives(said); bad != "" {
			t.Errorf("%d, %T: %s", i, l, bad)
		}
	}
	if said := fmt.Sprint(plan.Part); testdata.Drives(said) != "" {
		t.Errorf("the part is called %q", said)
	}
}
