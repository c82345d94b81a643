package job_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// millText is a machine's file that a hand wrote, with a comment everywhere one can stand.
const millText = `# a mill
name = "mill" # and its name
[slide.x] # the long one
	travel_per_turn=2# on the collar
divisions = 100
clockwise = 'decrease' # seen
take_up = "decrease"
backlash = 0.3 # a guess on the large side
overshoot = 0.5

[slide]
y.travel_per_turn = 2.5
y.divisions = 50
y.clockwise = "increase"
y.take_up = "increase"
y.backlash = 0.2`

// Of a file that is changed only the lines of the keys are other ones, and the old comment of a person stays.
func TestEditMachine(t *testing.T) {
	for _, eol := range []string{"\n", "\r\n"} {
		text := strings.ReplaceAll(millText, "\n", eol)
		got, err := job.EditMachine("mill.toml", []byte(text), []job.Change{
			{Key: "slide.x.travel_per_turn", Is: "2.5", Note: "found by the needle, ±0.008"},
			{Key: "slide.x.clockwise", Is: `"increase"`, Note: "found by the needle"},
			{Key: "slide.x.take_up", Is: `"increase"`},
			{Key: "slide.x.backlash", Is: "0.142", Note: "found by the needle, ±0.006"},
			{Key: "slide.x.backlash_error", Is: "0.006"},
			{Key: "slide.y.backlash", Is: "0.1", Note: "found by the needle, ±0.01"},
			{Key: "slide.y.backlash_error", Is: "0.01"},
		})
		if err != nil {
			t.Fatal(err)
		}
		want := text
		for _, line := range [][2]string{
			{"\ttravel_per_turn=2# on the collar", "\ttravel_per_turn=2.5 # found by the needle, ±0.008; on the collar"},
			{"clockwise = 'decrease' # seen", `clockwise = "increase" # found by the needle; seen`},
			{`take_up = "decrease"`, `take_up = "increase"`},
			{"backlash = 0.3 # a guess on the large side", "backlash = 0.142 # found by the needle, ±0.006" + eol +
				"backlash_error = 0.006"},
		} {
			want = strings.Replace(want, line[0], line[1], 1)
		}
		want = strings.TrimSuffix(want, "y.backlash = 0.2") +
			"y.backlash = 0.1 # found by the needle, ±0.01" + eol + "y.backlash_error = 0.01"
		if string(got) != want {
			t.Errorf("eol %q:\n%q\nwant\n%q", eol, got, want)
		}
	}
}

// What cannot be changed by a line is told with the line, and what to write.
func TestEditMachineRefuses(t *testing.T) {
	play := []job.Change{{Key: "slide.x.backlash", Is: "0.142", Note: "found"}}
	for _, c := range []struct{ what, text, says string }{
		{"a table in one line", "[slide]\nx = {travel_per_turn = 2, divisions = 100, clockwise = \"increase\", take_up = \"increase\", " +
			"backlash = 0.3}", "m.toml:2: slide.x.backlash: does not stand on a line of its own"},
		{"an overshoot that is too small", strings.Replace(millText, "overshoot = 0.5", "overshoot = 0.4", 1), "overshoot"},
		{"a file that is broken", "name = ", "m.toml:1"},
	} {
		changes := play
		if strings.Contains(c.says, "overshoot") {
			changes = []job.Change{{Key: "slide.x.backlash", Is: "0.45"}}
		}
		if got, err := job.EditMachine("m.toml", []byte(c.text), changes); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q; %s", c.what, err, c.says, got)
		}
	}
}

// rig is a slide without an error, under a plunger dial, for hands that do what the questions say: it is turned by its marks, and
// follows when the play is through.
type rig struct {
	perMark, play float64 // mm
	clockwise     float64 // +1 where a clockwise turn presses the tip
	hand, stands  float64
}

func (r *rig) wind(m slide.Move, divisions float64) {
	by := (float64(m.Turns)*divisions + m.Divisions) * r.perMark * r.clockwise
	if m.Turn == slide.Anticlockwise {
		by = -by
	}
	r.hand += by
	r.stands = min(max(r.stands, r.hand-r.play/2), r.hand+r.play/2)
}

// Of a slide without an error the test finds the play that it was made with, its travel and its sense, in either unit of dial and
// file, and whatever was stated; and the file that is then changed says so.
func TestNeedleFindsWhatIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]geom.Unit{geom.Millimetre, geom.Inch}).Draw(t, "file")
		dial := rapid.SampledFrom([]geom.Unit{geom.Millimetre, geom.Inch}).Draw(t, "dial")
		kind := rapid.SampledFrom([][2]float64{{2, 100}, {2.5, 50}, {4, 200}, {1, 50}}).Draw(t, "screw")
		if unit == geom.Inch {
			kind = rapid.SampledFrom([][2]float64{{0.1, 100}, {0.125, 125}, {0.05, 50}}).Draw(t, "inch screw")
		}
		travel, divisions := unit.MM(kind[0]), kind[1]
		r := &rig{perMark: travel / divisions, play: rapid.Float64Range(0, 0.6).Draw(t, "play"), clockwise: 1}
		if rapid.Bool().Draw(t, "frees") {
			r.clockwise = -1
		}
		stated := slide.Slide{Name: "x", TravelPerTurn: travel, Divisions: divisions, Clockwise: slide.Increase, TakeUp: slide.Increase,
			Backlash: rapid.Float64Range(0.05, 0.5).Draw(t, "stated play")}
		side := rapid.SampledFrom([]string{"right", "left"}).Draw(t, "side")
		eye := side
		if r.clockwise < 0 {
			eye = map[string]string{"right": "left", "left": "right"}[side]
		}
		m := setup.Machine{Unit: unit, Slides: []slide.Slide{stated}}
		q := job.NeedleQuestions(job.Facts{Unit: dial, Machine: &m})
		say := map[string]string{"needle.graduation": fmt.Sprint(dial.From(0.002)), "needle.range": fmt.Sprint(dial.From(10)),
			"needle.x.side": side, "needle.x.eye": eye}
		for range 40 {
			now, more := q.Next()
			if !more {
				break
			}
			answer := say[now.Key]
			for _, m := range now.Moves {
				r.wind(m, divisions)
			}
			if len(now.Moves) > 0 {
				answer = fmt.Sprintf("%.9f", dial.From(r.stands))
			}
			next, err := q.Answer(answer)
			if err != nil {
				t.Fatalf("%s: %q: %v", now.Key, answer, err)
			}
			q = next
		}
		all := q.Needle()
		if len(all) != 1 {
			t.Fatalf("%d tests done, want one", len(all))
		}
		n := all[0]
		want := map[string]slide.Way{"right": slide.Increase, "left": slide.Decrease}[eye]
		if !n.Found.Sense || n.Differ || n.Found.Clockwise != want || math.Abs(n.Found.Backlash.V-r.play) > 1e-5 ||
			math.Abs(n.Found.Travel.V-travel) > 1e-9 {
			t.Fatalf("found %+v, want %v, play %v, travel %v", n.Found, want, r.play, travel)
		}
		turned := slices.ContainsFunc(q.Changes(), func(c job.Change) bool { return c.Key == "slide.x.take_up" })
		if turned != (want == slide.Decrease) {
			t.Fatalf("changes %+v, want take_up with the sense alone", q.Changes())
		}
		for _, c := range q.Changes() { // the hand's last way stays: a clockwise turn that now does the other is taken up the other way
			other := map[string]string{`"increase"`: `"decrease"`, `"decrease"`: `"increase"`}
			if end := c.Key[len("slide.x."):]; (end == "take_up" || end == "clockwise") && c.Is != other[c.Was] {
				t.Fatalf("%s was %s and is %s, want the other", c.Key, c.Was, c.Is)
			}
		}
	})
}

// Back goes through the rounds to the first question, and what is answered anew gives the same; a file is never made of a test.
func TestNeedleBack(t *testing.T) {
	m, err := job.ParseMachine("mill.toml", []byte(millText))
	if err != nil {
		t.Fatal(err)
	}
	say := map[string]string{"needle.slide": "x", "needle.x.side": "right", "needle.x.eye": "right"}
	for n, r := range [][3]string{{"0.100", "2.102", "1.546"}, {"0.104", "2.104", "1.546"}, {"0.100", "2.100", "1.544"}} {
		for i := range r {
			say[fmt.Sprintf("needle.x.round_%d.read_%d", n+1, i+1)] = r[i]
		}
	}
	start := job.NeedleQuestions(job.Facts{Machine: &m})
	done, keys := askAll(t, start, say)
	if want := "needle.x.round_3.read_3 needle.x.take_clockwise needle.x.take_backlash"; !strings.HasSuffix(strings.Join(keys, " "), want) {
		t.Errorf("asked %q, want at the end %q", keys, want)
	}
	back := done
	for i := len(keys) - 1; i >= 0; i-- {
		if back, err = back.Back(); err != nil {
			t.Fatal(err)
		}
		if now, _ := back.Next(); now.Key != keys[i] {
			t.Fatalf("back at %s, want %s", now.Key, keys[i])
		}
	}
	if _, err := back.Back(); err == nil {
		t.Error("back before the first question")
	}
	again, _ := askAll(t, back, say)
	if got, want := fmt.Sprint(again.Changes()), fmt.Sprint(done.Changes()); got != want {
		t.Errorf("changes %v, and before %v", got, want)
	}
	if text := string(done.Text()); strings.Contains(text, "round") {
		t.Errorf("a file of a test:\n%s", text)
	}
}

// An overshoot that does not take up the play that was found refuses it where it is to be taken.
func TestNeedleOvershoot(t *testing.T) {
	m, err := job.ParseMachine("mill.toml", []byte(strings.Replace(millText, "overshoot = 0.5", "overshoot = 0.31", 1)))
	if err != nil {
		t.Fatal(err)
	}
	q := job.NeedleQuestions(job.Facts{Machine: &m})
	for _, a := range []string{"", "x", "", "", "", "right", "", "right", "0", "2", "1.65", "0", "2", "1.65", "0", "2", "1.65", "false"} {
		if q, err = q.Answer(a); err != nil {
			t.Fatalf("%q: %v", a, err)
		}
	}
	if _, err := q.Answer("true"); err == nil || !strings.Contains(err.Error(), "overshoot of 0.31 mm") {
		t.Errorf("a play of 0.35 taken: %v", err)
	}
	if _, err := q.Answer("false"); err != nil {
		t.Error(err)
	}
}

// How right a backlash is can be stated, in the file's unit, and not as nothing.
func TestBacklashError(t *testing.T) {
	for _, c := range []struct {
		says string
		mm   float64
		why  string
	}{{"0.006", 0.006, ""}, {"0", 0, "slide.x.backlash_error: 0, must be above 0 mm"}, {"-1", 0, "must be above 0 mm"}} {
		m, err := job.ParseMachine("m.toml", []byte(strings.Replace(millText, "overshoot = 0.5", "backlash_error = "+c.says, 1)))
		if c.why != "" {
			if err == nil || !strings.Contains(err.Error(), c.why) {
				t.Errorf("%s: %v, want %s", c.says, err, c.why)
			}
			continue
		}
		if s, _ := m.Slide("x"); err != nil || s.BacklashLimit != c.mm {
			t.Errorf("%s: %v, %v", c.says, s.BacklashLimit, err)
		}
	}
}

// Whatever is typed is taken or refused, of any slide that a file may hold, and the test comes to an end that a file can be
// changed by, or to none.
func TestNeedleAnyAnswer(t *testing.T) {
	atoms := []string{"", "back", "unknown", "1", "2", "3", "all", "0", "-1", "0.01", "0.8", "10", "1e9", "lever", "right", "left",
		"away", "towards", "grows", "true", "false", "needle", "\"", "\xff", "#", "1.5", "2.1", "-0.3", "0,002"}
	rapid.Check(t, func(t *rapid.T) {
		text := millText
		turn, marks := rapid.SampledFrom([]string{"2", "0.001", "500"}), rapid.SampledFrom([]string{"100", "1", "10000"})
		for _, by := range [][2]string{{"travel_per_turn=2#", "travel_per_turn=" + turn.Draw(t, "turn") + "#"},
			{"divisions = 100", "divisions = " + marks.Draw(t, "marks")},
			{"overshoot = 0.5", "lock = true"}} {
			text = strings.Replace(text, by[0], by[1], 1)
		}
		m, err := job.ParseMachine("mill.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		q := job.NeedleQuestions(job.Facts{Machine: &m})
		for range rapid.IntRange(1, 80).Draw(t, "answers") {
			now, more := q.Next()
			if !more {
				break
			}
			if now.Text == "" || q.Help() == "" {
				t.Fatalf("%s: text %q, help %q", now.Key, now.Text, q.Help())
			}
			for _, move := range now.Moves {
				if move.Turns < 0 || !(move.Divisions >= 0) || move.Turns == 0 && move.Divisions == 0 {
					t.Fatalf("%s: %+v, need movements of something", now.Key, now.Moves)
				}
			}
			answer := rapid.SampledFrom(atoms).Draw(t, "answer")
			if answer == job.Back {
				q, _ = q.Back()
				continue
			}
			q, _ = q.Answer(answer)
		}
		for _, n := range q.Needle() {
			if v := n.Found.Backlash; v.Known() && !(v.V >= 0 && v.U > 0) || n.Found.Travel.Known() && !(n.Found.Travel.V > 0) {
				t.Fatalf("found %+v", n.Found)
			}
		}
		if changes := q.Changes(); len(changes) > 0 {
			if _, err := job.EditMachine("mill.toml", []byte(text), changes); err != nil {
				t.Fatal(err)
			}
		}
	})
}
