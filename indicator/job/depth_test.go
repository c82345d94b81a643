package job_test

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

const rimCut = cutJob + "[cut]\nmetal = \"inside\"\ncutter = 8\n"

// A depth is told in the file's unit, from the top of the stock, and each place where the cutter may go down by its word.
func TestDepth(t *testing.T) {
	for word, want := range map[string]setup.WayIn{"waste": setup.WayInWaste, "off the part": setup.WayInOff, "hole": setup.WayInHole} {
		j, err := job.ParseJob("j", []byte(rimCut+"depth = 6\nstep = 2\nspring = true\nentry = \""+word+"\"\n"))
		if err != nil {
			t.Fatal(err)
		}
		if c := j.Cut; c.Depth != 6 || c.Step != 2 || !c.Spring || c.Entry != want {
			t.Errorf("entry %q: %+v, want 6 by 2 with a spring pass, %q", word, c, want)
		}
	}
	// An inch is 25.4 mm (by its definition of 1959): a quarter by an eighth is two passes.
	j, err := job.ParseJob("j", []byte(strings.Replace(rimCut, `unit = "mm"`, `unit = "in"`, 1)+"depth = 0.25\nstep = 0.125\n"))
	if err != nil {
		t.Fatal(err)
	}
	if p := j.Cut.Passes(); len(p) != 2 || p[1] != 6.35 || j.Cut.Spring || j.Cut.Entry != setup.WayInUnsaid {
		t.Errorf("a quarter of an inch by an eighth: %v of %+v", p, j.Cut)
	}
}

func TestDepthRefused(t *testing.T) {
	for bad, says := range map[string]string{
		"depth = 6":                     "j:19: cut.depth: given without step, need both",
		"step = 2":                      "j:19: cut.step: given without depth, need both",
		"spring = true":                 "j:19: cut.spring: given without depth and step, need all three",
		`entry = "hole"`:                "j:19: cut.entry: given without depth and step, need all three",
		"depth = 6\nstep = 6.5":         "j:20: cut.step: 6.5 mm, need at most the depth of 6 mm",
		"depth = 0\nstep = 2":           "j:19: cut.depth: 0, must be above 0",
		"depth = -6\nstep = 2":          "j:19: cut.depth: -6, must be above 0",
		"depth = 6\nstep = 0":           "j:20: cut.step: 0, must be above 0",
		"depth = 6\nstep = nan":         "j:20: cut.step: NaN, must be above 0",
		"depth = 60\nstep = 0.2":        "j:20: cut.step: 0.2 mm makes more than 100 passes of a depth of 60 mm, need fewer",
		"depth = \"6\"\nstep = 2":       "j:19: cut.depth: ",
		"depth = 6\nstep = 2\nspring=1": "j:21: cut.spring: ",

		"depth = 6\nstep = 2\nentry = \"the waste\"": `j:21: cut.entry: "the waste", need waste, off the part or hole`,
		"depth = 6\nstep = 2\nentry = \"\"":          `j:21: cut.entry: "", need waste, off the part or hole`,
	} {
		_, err := job.ParseJob("j", []byte(rimCut+bad+"\n"))
		if err == nil || !strings.HasPrefix(err.Error(), says) || strings.Contains(err.Error(), ";") {
			t.Errorf("%q: error %v, want %q and no other", bad, err, says)
		}
	}
}

// An arc of a drawing takes the depth that the file states for all of them.
func TestDepthOfArc(t *testing.T) {
	d, err := job.ReadJob("j", []byte(rimCut+"depth = 6\nstep = 2\nspring = true\nentry = \"waste\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	j, err := d.For(&job.Figures{Swing: 42.5, Cutter: 6, Metal: "outside"})
	if err != nil || len(j.Cut.Passes()) != 3 || !j.Cut.Spring || j.Cut.Entry != setup.WayInWaste || j.Cut.Cutter != 6 {
		t.Errorf("%+v (%v), want three passes with a spring pass from the waste", j.Cut, err)
	}
}
