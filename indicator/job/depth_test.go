package job_test

import (
	"maps"
	"slices"
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
		"depth = 6":                     "j:16: cut.step: missing, needed with depth",
		"step = 2":                      "j:16: cut.depth: missing, needed with step",
		"spring = true":                 "j:16: cut.depth: missing, needed with spring",
		`entry = "hole"`:                "j:16: cut.depth: missing, needed with entry",
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

// The questions: without a depth no more is asked of it; with one the step has to be known, and is no larger; where the cutter goes
// down may stay unsaid. What is answered is what a job file says.
func TestDepthAsked(t *testing.T) {
	base := map[string]string{"target.swing_radius": "42", "target.tolerance": "0.02", "cut.cutter": "8", "cut.metal": "inside",
		"setup.reference_radius": "30", "setup.reach": "-12"}
	for _, c := range []struct {
		say  map[string]string
		want setup.Cut
		keys string
	}{
		{nil, setup.Cut{}, "depth"},
		{map[string]string{"cut.depth": "unknown"}, setup.Cut{}, "depth"},
		{map[string]string{"cut.depth": "6", "cut.step": "2"}, setup.Cut{Depth: 6, Step: 2}, "depth step spring entry"},
		{map[string]string{"cut.depth": "6", "cut.step": "6", "cut.spring": "yes", "cut.entry": "2"},
			setup.Cut{Depth: 6, Step: 6, Spring: true, Entry: setup.WayInOff}, "depth step spring entry"},
		{map[string]string{"cut.depth": "6", "cut.step": "2", "cut.spring": "false", "cut.entry": "hole"},
			setup.Cut{Depth: 6, Step: 2, Entry: setup.WayInHole}, "depth step spring entry"},
	} {
		say := maps.Clone(base)
		maps.Copy(say, c.say)
		done, keys := askAll(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")}), say)
		var asked []string
		for _, key := range keys {
			if k, ok := strings.CutPrefix(key, "cut."); ok && slices.Contains([]string{"depth", "step", "spring", "entry"}, k) {
				asked = append(asked, k)
			}
		}
		j, err := job.ParseJob("j", done.Text())
		if err != nil {
			t.Fatal(err)
		}
		got := setup.Cut{Depth: j.Cut.Depth, Step: j.Cut.Step, Spring: j.Cut.Spring, Entry: j.Cut.Entry}
		if got != c.want || strings.Join(asked, " ") != c.keys {
			t.Errorf("%v: %+v, asked %q, want %+v, %q", c.say, got, asked, c.want, c.keys)
		}
	}
}

// A file that states a depth and no step is asked for that alone, and a step that is larger is refused there.
func TestStepIsAskedAlone(t *testing.T) {
	d, err := job.ReadJob("j", []byte(rimCut+"depth = 6\n"))
	if err != nil {
		t.Fatal(err)
	}
	q, err := d.Questions(job.Facts{})
	if now, _ := q.Next(); err != nil || now.Key != "cut.step" {
		t.Fatalf("%s is asked (%v), want the step", now.Key, err)
	}
	if _, err := q.Answer("7"); err == nil || !strings.Contains(err.Error(), "need at most the depth of 6 mm") {
		t.Errorf("7: %v, want it refused", err)
	}
	if _, err := q.Answer("unknown"); err == nil {
		t.Error("unknown is taken, where the step has to be known")
	}
	if q, err = q.Answer("2"); err != nil {
		t.Fatal(err)
	}
	for now, more := q.Next(); more; now, more = q.Next() {
		if now.Key != "cut.spring" && now.Key != "cut.entry" {
			t.Errorf("%s is asked too", now.Key)
		}
		if q, err = q.Answer(""); err != nil {
			t.Fatal(err)
		}
	}
	if j, err := q.Draft().For(nil); err != nil || len(j.Cut.Passes()) != 3 {
		t.Errorf("%+v (%v), want three passes", j.Cut, err)
	}
}

// A depth is one that can be cut.
func TestDepthBounds(t *testing.T) {
	for depth, want := range map[string]string{"0.0009": "0.0009 mm", "10001": "10001 mm"} {
		text := shownJob + "\n[cut]\ncutter = 8\nmetal = \"inside\"\ndepth = " + depth + "\nstep = " + depth + "\n"
		if _, err := job.ParseJob("job.toml", []byte(text)); err == nil ||
			!strings.HasSuffix(err.Error(), "cut.depth: "+want+", need 0.001 to 10000 mm") {
			t.Errorf("depth %s: %v, want it refused", depth, err)
		}
	}
}
