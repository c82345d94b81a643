package tui_test

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/job"
)

// Questions in inches take fractions by the keypad, as a rule's are written: 1 3/4 is one and three quarters, and / is their bar. A
// numerator alone is cleared as ever, and what would be left of its fraction is asked for once more; no dial shows a fraction.
func TestAskFractions(t *testing.T) {
	machine, err := job.ParseMachine("mill", answered(t, job.MachineQuestions(job.Facts{Name: "mill"}), "").Text())
	if err != nil {
		t.Fatal(err)
	}
	inches := func(key string) job.Asking {
		q, err := job.JobQuestions(job.Facts{Machine: &machine}).Answer("in")
		if err != nil {
			t.Fatal(err)
		}
		return answered(t, q, key)
	}
	for _, c := range []struct{ of, typed, writes string }{
		{"target.swing_radius", "1 3/4\r", "swing_radius = 1.75\n"},
		{"target.swing_radius", "1-3/4\r", "swing_radius = 1.75\n"},
		{"target.swing_radius", "0-3/4\r", "swing_radius = 0.75\n"},
		{"target.swing_radius", "d 3-1/2\r", "swing_radius = 1.75 # diameter 3.5\n"},
		{"target.swing_radius", "1-3//1.75\r", "swing_radius = 1.75\n"},
	} {
		x := askPages(t, inches(c.of), nil, 80, 24)
		for _, r := range c.typed {
			x.now = x.now.Add(time.Minute)
			if r == '\r' {
				x.Enter()
			} else {
				x.Type(string(r))
			}
		}
		if !strings.Contains(x.text(), c.writes) {
			t.Errorf("%s: %q makes\n%swant %q", c.of, c.typed, x.text(), c.writes)
		}
	}
	x := askPages(t, inches("target.swing_radius"), nil, 80, 24)
	x.presses("3/4\r").Expect(Line("✗ / cleared 3, and 4 in is what is left; Enter again takes it; a fraction is"))
	x.Expect(Line("typed 0-3/4"))
	x.after(50*time.Millisecond, enterKey).Expect(Line("only just changed"))
	if x.presses("\r"); !strings.Contains(x.text(), "swing_radius = 4\n") {
		t.Errorf("4 that is said twice makes\n%s", x.text())
	}
	q, err := inches("dial.repeatability").Answer("find")
	if err != nil {
		t.Fatal(err)
	}
	x = askPages(t, q, nil, 80, 24)
	if x.presses("0-1/"); x.key() != "dial.reading_1" || strings.Contains(x.Screen(), "0−1") {
		t.Errorf("a reading takes the bar of a fraction:\n%s", x.Screen())
	}
	all := askers(t)
	x = askPages(t, answered(t, all["job"], "target.swing_radius"), nil, 80, 24)
	x.presses("3/4\r").Expect(Line("✗ / cleared 3, and 4 mm is what is left"))
	if x.presses("/42\r"); !strings.Contains(x.text(), "swing_radius = 42\n") {
		t.Errorf("42 behind it makes\n%s", x.text())
	}
}

// A number that would be that of one of the common figures, and is none of them, is asked for once more; so is what is far off all
// of them. The same answer again is taken.
func TestAskUncommon(t *testing.T) {
	all := askers(t)
	x := askPages(t, answered(t, all["job"], "dial.graduation"), nil, 80, 24)
	x.Expect(Line("commonly 0.01, 0.002 or 0.001 mm; the figure itself is typed"))
	x.presses("3\r").Expect(Line("✗ 3 mm is no common dial graduation; Enter again takes it; the third named is"))
	x.presses("/10\r").Expect(Line("✗ 10 mm is no common dial graduation; Enter again takes it"))
	x.presses("/0.05\r")
	if !strings.Contains(x.text(), "graduation = 0.05\n") {
		t.Errorf("0.05, which is within ten times a common one, makes\n%s", x.text())
	}
	x = askPages(t, answered(t, all["machine"], "slide.offset.travel_per_turn"), nil, 80, 24)
	x.presses("3\r").Expect(Line("✗ 3 mm is no common offset travel per turn; Enter again takes it; the third"))
	x.presses("\r")
	x.presses("3\r").Expect(Line("✗ 3 is no common offset marks"))
	if x.presses("/60\r"); !strings.Contains(x.text(), "travel_per_turn = 3\ndivisions = 60\n") {
		t.Errorf("3 mm said twice, and 60 marks, make\n%s", x.text())
	}
}

// found are answers of a job whose repeatability and reach are found among the questions: five readings, and a plug of diameter 24 that
// the tip, turned in, meets at 12.1, 12, 11.9 and 12 of its axis, 11.98 away at dial zero.
var found = map[string]string{"dial.repeatability": "find", "dial.reading_1": "0.101", "dial.reading_2": "0.103", "dial.reading_3": "0.099",
	"dial.reading_4": "0.102", "dial.reading_5": "0.1", "setup.reach": "find", "setup.reach_way": "in", "setup.reach_plug": "12",
	"setup.reach_plug_1": "0.12", "setup.reach_plug_2": "0.02", "setup.reach_plug_3": "-0.08", "setup.reach_plug_4": "0.02",
	"cut.depth": "unknown"}

// The last page shows what was found, with its doubt as the question and the file have it, and the arc that is cut; what only led to
// a figure has no row. Its large words say what Enter does there.
func TestAskEndFound(t *testing.T) {
	q := askers(t)["job"]
	shown := ""
	for {
		now, more := q.Next()
		if !more {
			break
		}
		typed, ok := found[now.Key]
		if !ok {
			typed = strings.ReplaceAll(takes(&now, true), "\r", " ")
		}
		if now.Key == "setup.reach_found" {
			shown = regexp.MustCompile(`±[\d.]+ mm`).FindString(now.Text)
		}
		var err error
		if q, err = q.Answer(typed); err != nil {
			t.Fatalf("%s: %v", now.Key, err)
		}
	}
	limit := strings.TrimSuffix(strings.TrimPrefix(shown, "±"), " mm")
	if !strings.Contains(string(q.Text()), "reach_error = "+limit+" # found here\n") {
		t.Errorf("the question shows %q, the file says\n%s", shown, q.Text())
	}
	x := askPages(t, q, nil, 80, 24)
	golden(t, "80x24/ask-end-found", x.Screen())
	x.Expect(Line("reach", "-11.9798 "+strings.TrimSuffix(shown, " mm")))
	x.Expect(Line("arc cut: radius 38 mm (42 less half the cutter), metal inside"))
	if s := x.Screen(); strings.Contains(s, "find it here") || strings.Contains(s, "take it") {
		t.Errorf("the last page hides what was found:\n%s", s)
	}
	small := askPages(t, q, nil, 60, 18)
	golden(t, "60x18/ask-end-found", small.Screen())
}

// A repeatability of more than ten divisions, or beyond the tolerance, is likely to be the answer to the question before: it is asked
// for once more, and taken then.
func TestAskRepeatability(t *testing.T) {
	q := answered(t, askers(t)["job"], "dial.repeatability") // a dial of 0.01
	askPages(t, q, nil, 80, 24).presses("1\r").Expect(Line("✗ 1 mm is 100 divisions: is it that? Enter again takes it"))
	x := askPages(t, q, nil, 80, 24)
	if x.presses("1\r\r"); !strings.Contains(x.text(), "repeatability = 1\n") {
		t.Errorf("1 mm said twice makes\n%s", x.text())
	}
	x = askPages(t, q, nil, 80, 24)
	x.presses("0.03\r").Expect(Line("✗ 0.03 mm is beyond the tolerance of 0.02 mm: is it that?"))
	if x.presses("/0.02\r"); !strings.Contains(x.text(), "repeatability = 0.02\n") {
		t.Errorf("0.02 mm, two divisions, makes\n%s", x.text())
	}
}
