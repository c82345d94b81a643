package job_test

import (
	"cmp"
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/trammel/indicator/job"
)

// without is a file without the lines that begin with some keys.
func without(text string, keys ...string) string {
	var out []string
	for _, line := range strings.Split(text, "\n") {
		left := false
		for _, k := range keys {
			left = left || strings.HasPrefix(line, k+" ")
		}
		if !left {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// rim is the plate's rim, of radius 52, with a cutter of 6: swung at 55.
var rim = job.Figures{Swing: 55, Cutter: 6, Metal: "inside"}

// Of a file only what it leaves open is asked, and what goes with that: lists by hand. What it leaves out at will stays out.
func TestOnlyWhatIsOpenIsAsked(t *testing.T) {
	say := map[string]string{"setup.reach": "-12", "setup.reference_radius": "30", "target.tolerance": "0.02",
		"target.centre_tolerance": "0.02", "dial.range": "1.6"}
	const known, reach = " setup.reference_radius_error setup.reference_form_error", "setup.reach setup.reach_error"
	const reference = "setup.touch setup.reference_radius" + known
	for _, c := range []struct {
		name, text, want string
		facts            job.Facts
		say              map[string]string
	}{
		{"all is stated", shownJob, "", job.Facts{}, nil},
		{"no reach", without(shownJob, "reach"), reach, job.Facts{}, nil},
		{"no reference", without(shownJob, "reference_radius"), "setup.reference_radius" + known, job.Facts{}, nil},
		{"no tolerances", without(shownJob, "tolerance", "centre_tolerance"), "target.tolerance target.centre_tolerance", job.Facts{}, nil},
		{"a tolerance of nothing", without(shownJob, "swing_radius"), "target.swing_radius", job.Facts{},
			map[string]string{"target.swing_radius": "42"}},
		{"neither kind nor stations", without(shownJob, "kind", "stations"), "setup.kind sweep.stations", job.Facts{}, nil},
		{"no dial", without(shownJob, "graduation", "range"), "dial.graduation dial.range", job.Facts{}, nil},
		// Without a swing radius the centre is brought in alone: then neither reach nor reference is missing.
		{"centre only", without(shownJob, "swing_radius", "tolerance", "reach", "reference_radius", "centre_tolerance"),
			"target.centre_tolerance", job.Facts{}, nil},
		// An arc for which all of it serves: 42 again.
		{"an arc like the file's own", shownJob, "",
			job.Facts{Drawing: true, Arc: &job.Figures{Swing: 42, Cutter: 6, Metal: "inside"}}, nil},
		// At 55 in a ring of 30 a reach of -12 has the needle 13 off: all about the reference is asked anew.
		{"an arc that it cannot serve", shownJob, reference + " " + reach, job.Facts{Drawing: true, Arc: &rim, AtHand: nothingAtHand},
			map[string]string{"setup.reach": "-25"}},
		{"what the arcs share", without(shownJob, "tolerance", "touch", "reference_radius", "reach"), "target.tolerance",
			job.Facts{Drawing: true, AtHand: map[string][]float64{job.Cutters: {8}}}, nil},
		// The reach is stated and the reference is not: one that the reach does not serve has the reach asked too.
		{"a reference that serves", without(shownJob, "reference_radius"), "setup.reference_radius" + known,
			job.Facts{Drawing: true, Arc: &rim, AtHand: nothingAtHand}, map[string]string{"setup.reference_radius": "43"}},
		{"a reference that does not", without(shownJob, "reference_radius"), "setup.reference_radius" + known + " " + reach,
			job.Facts{Drawing: true, Arc: &rim, AtHand: nothingAtHand}, map[string]string{"setup.reach": "-25"}},
	} {
		all := map[string]string{}
		for _, m := range []map[string]string{say, c.say} {
			for k, v := range m {
				all[k] = v
			}
		}
		q, err := draft(t, c.text).Questions(c.facts)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if _, err := q.Back(); err == nil {
			t.Errorf("%s: what the file states can be taken back", c.name)
		}
		done, keys := askAll(t, q, all)
		if got := strings.Join(keys, " "); got != c.want {
			t.Errorf("%s: asked\n%s\nwant\n%s", c.name, got, c.want)
		}
		if c.facts.Drawing && c.facts.Arc == nil {
			continue
		}
		if _, err := done.Draft().For(c.facts.Arc); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

var nothingAtHand = map[string][]float64{job.Rings: nil, job.Plugs: nil}

// The job is what the file says with the answers in their places; what it says of figures that were asked anew is gone.
func TestAnswersOverAFile(t *testing.T) {
	text := edit(t, shownJob, "reach = -12.0", "reach = -12.0\nreach_error = 0.01\nreference_radius_error = 0.001")
	q, err := draft(t, text).Questions(job.Facts{Drawing: true, Arc: &rim, AtHand: nothingAtHand})
	if err != nil {
		t.Fatal(err)
	}
	done, _ := askAll(t, q, map[string]string{"setup.touch": "plug", "setup.reference_radius": "d 40",
		"setup.reference_radius_error": "reamed", "setup.reach": "-35", "setup.reference_form_error": "drilled"})
	got, err := done.Draft().For(&rim)
	if err != nil {
		t.Fatal(err)
	}
	want := mustJob(t, edited(t, shownJob, "reference_radius = 30.0", "reference_radius = 20", "reach = -12.0", "reach = -35",
		"swing_radius = 42.0", "swing_radius = 55"))
	if got.Setup.ReferenceRadius != 20 || got.Setup.Reach != -35 || got.Setup.ReachLimit != 0 || got.Setup.ReferenceLimit != 0.01 ||
		got.Setup.FormLimit != 0.1 || strings.Join(got.Stated, " ") != "reference_radius reference_form" {
		t.Errorf("the set-up is %+v, stated %v", got.Setup, got.Stated)
	}
	if got.Dial != want.Dial || got.Target != want.Target || got.Sweep.Stations != want.Sweep.Stations || got.Cut.Cutter != 6 {
		t.Errorf("the rest is %+v, want as the file has it: %+v", got, want)
	}
}

// What is wrong in a file is refused as it always was, with its line, and nothing is asked.
func TestAWrongFileIsNotAsked(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"a value, and a gap", without(edit(t, shownJob, "range = 1.6", "range = 0"), "stations"),
			"job.toml:19: dial.range: 0, must be above 0"},
		{"its own reach", edit(t, shownJob, "reach = -12.0", "reach = 12.0"),
			"job.toml:6: setup.reach: with 12 mm the dial would have to show 24 mm"},
		{"half a dial", edit(t, shownJob, "range = 1.6", "from = -0.5"), "dial.from: given without to, need both"},
	} {
		_, err := draft(t, c.text).Questions(job.Facts{})
		var one *job.Error
		if !errors.As(err, &one) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// The setting before is proposed: what was touched and how well it is known, as long as it is the same, and the reach, where it serves.
func TestTheSettingBeforeIsProposed(t *testing.T) {
	last := mustJob(t, edit(t, shownJob, "reach = -12.0",
		"reach = -12.0\nreach_error = 0.05\nreference_radius_error = 0.0015\nreference_form_error = 0.001"))
	for _, c := range []struct {
		name          string
		swing         float64
		reference     string
		known, form   string
		reach, within string
	}{
		{"the same again", 42, "", "setting ring or plug", "setting ring or plug", "-12", "caliper"},
		// In a ring of 43 at 55 the reach of -12 reads zero; how round that ring is nobody has said. One known to 0.0015 was a ring.
		{"another ring", 55, "43", "setting ring or plug", "don't know", "-12", "caliper"},
		// In the ring of 30 it would have to read 13, which no dial of ±0.8 shows: no reach is proposed.
		{"another arc", 55, "", "setting ring or plug", "setting ring or plug", "", "don't know"},
	} {
		q, err := job.Shared(&last).Questions(job.Facts{Drawing: true, Arc: &job.Figures{Swing: c.swing}, Last: &last,
			AtHand: nothingAtHand})
		if err != nil {
			t.Fatal(err)
		}
		for _, step := range []struct{ key, def, say string }{
			{"target.tolerance", "0.02", ""}, {"target.centre_tolerance", "0.02", ""}, {"setup.touch", "ring", ""},
			{"setup.reference_radius", "30", c.reference}, {"setup.reference_radius_error", c.known, ""},
			{"setup.reference_form_error", c.form, ""}, {"setup.reach", c.reach, map[bool]string{true: "-25"}[c.reach == ""]},
			{"setup.reach_error", c.within, ""},
		} {
			now, _ := q.Next()
			if now.Key != step.key || now.Default != step.def {
				t.Errorf("%s: %s proposes %q, want %s and %q", c.name, now.Key, now.Default, step.key, step.def)
			}
			if zero := map[bool]float64{true: 43, false: 30}[c.reference != ""] - c.swing; now.Key == "setup.reach" &&
				(now.ZeroAt == nil || math.Abs(*now.ZeroAt-zero) > 1e-9) {
				t.Errorf("%s: zero at %v", c.name, now.ZeroAt)
			}
			if q, err = q.Answer(step.say); err != nil {
				t.Fatalf("%s: %s: %v", c.name, step.key, err)
			}
		}
		if _, more := q.Next(); more {
			t.Errorf("%s: more is asked", c.name)
		}
	}
}

// A bore of radius ρ reads zero at a swing radius R with the reach ρ − R, and with a reach t it reads R + t − ρ; a boss reads the
// opposite (DEVELOPERS.md, signs and frames). Rings of 60, 40 and 86.4 at R = 55 with t = -12: 43 - 43.2 = -0.2 in the last.
func TestGaugesAtHand(t *testing.T) {
	last := mustJob(t, shownJob)
	at := func(touch string) job.Question {
		t.Helper()
		was := last
		if touch == "boss" {
			was = mustJob(t, edit(t, shownJob, `touch = "bore"`, `touch = "boss"`))
		}
		q, err := job.Shared(&was).Questions(job.Facts{Drawing: true, Arc: &rim, Last: &was,
			AtHand: map[string][]float64{job.Rings: {60, 40, 86.4}, job.Plugs: {86.4}}})
		if err != nil {
			t.Fatal(err)
		}
		for {
			now, _ := q.Next()
			if now.Key == "setup.reference_radius" {
				return now
			}
			if q, err = q.Answer(""); err != nil {
				t.Fatal(err)
			}
		}
	}
	now := at("bore")
	h := now.Hand
	if h == nil || h.What != "ring" || len(h.All) != 3 || h.Reach == nil || *h.Reach != -12 {
		t.Fatalf("at hand: %+v", h)
	}
	for i, want := range []struct{ d, zero float64 }{{86.4, -11.8}, {60, -25}, {40, -35}} {
		if g := h.All[i]; math.Abs(g.Diameter-want.d) > 1e-9 || math.Abs(g.ZeroAt-want.zero) > 1e-9 || (g.Reads != nil) != (i == 0) {
			t.Errorf("%d at hand: %+v, want %+v, the first alone on the dial", i+1, g, want)
		}
	}
	if r := h.All[0].Reads; math.Abs(*r+0.2) > 1e-9 {
		t.Errorf("it reads %v there, want -0.2", *r)
	}
	// The ring of 60 that was touched before cannot be read with that reach, and this one can: it is proposed.
	if now.Default != "43.2" {
		t.Errorf("proposed %q, want 43.2", now.Default)
	}
	if h = at("boss").Hand; h == nil || h.What != "plug" || math.Abs(*h.All[0].Reads-0.2) > 1e-9 {
		t.Errorf("round a plug: %+v", h)
	}
}

// Rings are asked for once, with an arc, in the unit of the job, and are heeded at once; who has none has said so.
func TestRingsAreAskedOnce(t *testing.T) {
	text := edit(t, edit(t, without(shownJob, "reach", "reference_radius"), `unit = "mm"`, `unit = "in"`), "range = 1.6", "range = 0.1")
	text = edit(t, text, "swing_radius = 42.0", "swing_radius = 1.65")
	arc := job.Figures{Swing: 42, Cutter: 6, Metal: "inside"}
	q, err := draft(t, text).Questions(job.Facts{Drawing: true, Arc: &arc})
	if err != nil {
		t.Fatal(err)
	}
	now, _ := q.Next()
	if now.Key != job.Rings || !now.Optional || now.Unit != "in" || now.Default != "none" {
		t.Fatalf("asked first is %+v", now)
	}
	for _, wrong := range []string{"-1", "a", "1.5 0", "1e10"} {
		if _, err := q.Answer(wrong); err == nil {
			t.Errorf("%q is taken", wrong)
		}
	}
	for answer, want := range map[string][]float64{"2.5 1,25": {63.5, 31.75}, "none": {}, "": {},
		"2.5, 1": {63.5, 25.4}, "2.5+1": {63.5, 25.4}} {
		q, err := q.Answer(answer)
		if err != nil {
			t.Fatal(err)
		}
		got, ok := q.HandSaid(job.Rings)
		if !ok || len(got) != len(want) {
			t.Errorf("%q is %v, want %v mm", answer, got, want)
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-9 {
				t.Errorf("%q is %v, want %v mm", answer, got, want)
			}
		}
		if now, _ := q.Next(); now.Key != "setup.reference_radius" || (now.Hand != nil) != (len(want) > 0) {
			t.Errorf("%q: then %+v", answer, now)
		}
	}
	later, err := q.Answer("unknown")
	if _, said := later.HandSaid(job.Rings); err != nil || said {
		t.Errorf("unknown: %v, kept %v", err, said)
	}
	// Said in the settings, and of a pin that is touched, they are not.
	for _, f := range []job.Facts{{Drawing: true, Arc: &arc, AtHand: nothingAtHand}, {}} {
		q, err := draft(t, text).Questions(f)
		if now, _ := q.Next(); err != nil || now.Key != "setup.reference_radius" {
			t.Errorf("asked is %s, %v", now.Key, err)
		}
	}
}

// The last question of a job, where it can be kept, is its name; what is taken is refused, and the text has nothing of it.
func TestKeepAs(t *testing.T) {
	q := job.JobQuestions(job.Facts{Machine: mill("x", "y"), Keep: true, Taken: []string{"Rim"}})
	say := map[string]string{"target.centre_tolerance": "0.02", "setup.reference_radius": "unknown"}
	for {
		now, more := q.Next()
		if !more {
			t.Fatal("it is not asked")
		}
		if now.Key == "keep_as" {
			break
		}
		var err error
		if q, err = q.Answer(say[now.Key]); err != nil {
			t.Fatal(err)
		}
	}
	for _, wrong := range []string{"rim", "a/b", ".hid", strings.Repeat("x", 61)} {
		if _, err := q.Answer(wrong); err == nil {
			t.Errorf("%q is taken", wrong)
		}
	}
	for answer, want := range map[string]string{"": "", "unknown": "", "rim 2": "rim 2", "3": "3"} {
		done, err := q.Answer(answer)
		if _, more := done.Next(); err != nil || more || done.KeepAs() != want || string(done.Text()) != string(q.Text()) {
			t.Errorf("%q: kept as %q, %v", answer, done.KeepAs(), err)
		}
		all := done.Answered()
		if last := all[len(all)-1]; last.Short != "keep as" || last.Answer != cmp.Or(want, "not kept") {
			t.Errorf("%q: told as %+v", answer, last)
		}
	}
	if _, keys := askAll(t, job.JobQuestions(job.Facts{Machine: mill("x", "y")}), say); keys[len(keys)-1] == "keep_as" {
		t.Error("asked where nothing can be kept")
	}
}

// Cutters are asked for with a drawing of which no arc is chosen yet, where nobody has said which are at hand, whatever the file states.
func TestCuttersAreAsked(t *testing.T) {
	for _, c := range []struct {
		name, want string
		facts      job.Facts
	}{
		{"a drawing", job.Cutters, job.Facts{Drawing: true}},
		{"cutters that are known", "", job.Facts{Drawing: true, AtHand: map[string][]float64{job.Cutters: {8}}}},
		{"no drawing", "", job.Facts{}},
	} {
		q, err := draft(t, shownJob).Questions(c.facts)
		if now, _ := q.Next(); err != nil || now.Key != c.want {
			t.Errorf("%s: asked is %q, %v, want %q", c.name, now.Key, err, c.want)
		}
		if c.want == "" {
			continue
		}
		if _, err := q.Answer("none"); err == nil {
			t.Error("no cutters at all are taken")
		}
		done, err := q.Answer("10+6")
		if mm, said := done.HandSaid(job.Cutters); err != nil || !said || len(mm) != 2 || mm[0] != 10 || mm[1] != 6 {
			t.Errorf("10+6 is %v, %v", mm, err)
		}
	}
}

// Back among the answers over a file is the question before, and what was opened by an answer is closed with it.
func TestBackOverAFile(t *testing.T) {
	q, err := draft(t, without(shownJob, "reference_radius")).Questions(job.Facts{Drawing: true, Arc: &rim, AtHand: nothingAtHand})
	if err != nil {
		t.Fatal(err)
	}
	first := q
	for _, answer := range []string{"30", "", ""} {
		if q, err = q.Answer(answer); err != nil {
			t.Fatal(err)
		}
	}
	if now, _ := q.Next(); now.Key != "setup.reach" {
		t.Fatalf("asked is %s", now.Key)
	}
	for range 3 {
		if q, err = q.Back(); err != nil {
			t.Fatal(err)
		}
	}
	if now, _ := q.Next(); now.Key != "setup.reference_radius" {
		t.Fatalf("asked is %s", now.Key)
	}
	done, keys := askAll(t, q, map[string]string{"setup.reference_radius": "43"})
	if len(keys) != 3 {
		t.Errorf("asked then is %q", keys)
	}
	if j, err := done.Draft().For(&rim); err != nil || j.Setup.Reach != -12 {
		t.Errorf("the reach is %v, %v", j.Setup.Reach, err)
	}
	if done, _ := askAll(t, first, map[string]string{"setup.reference_radius": "43"}); !strings.Contains(string(done.Text()), "43") {
		t.Errorf("a value answered twice: %s", done.Text())
	}
}
