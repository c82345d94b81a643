package job_test

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

const wheeled = shownMachine + "[table]\ngraduation = 1\n"

// A table's own handwheel is read as it is stated, and what cannot be is refused with what is needed.
func TestTableHandwheel(t *testing.T) {
	m, err := job.ParseMachine("mill.toml", []byte(wheeled+
		"handwheel = 4.0\nhandwheel_clockwise = \"decrease\"\nhandwheel_divisions = 80\nworm_play = 0.25\n"))
	if err != nil {
		t.Fatal(err)
	}
	const degree = 0.017453292519943295
	if h := m.Handwheel; h.Turn != 4*degree || h.Clockwise != slide.Decrease || h.Divisions != 80 || h.Play != 0.25*degree {
		t.Errorf("%+v, want 4° a turn, decrease, 80 marks, 0.25° of play", h)
	}
	const wheel = ", must be from 0.01 to 90 degrees a turn"
	const play = ", must be 0 or above and less than one turn of the handwheel, 4 degrees"
	const clockwise = "handwheel_clockwise = \"increase\"\n"
	for text, want := range map[string]string{
		"handwheel = 0\n" + clockwise + "worm_play = 0.1\n":   "table.handwheel: 0" + wheel,
		"handwheel = 0.009\n" + clockwise + "worm_play = 0\n": "table.handwheel: 0.009" + wheel,
		"handwheel = 91\n" + clockwise + "worm_play = 0\n":    "table.handwheel: 91" + wheel,
		"handwheel = 4\n" + clockwise + "worm_play = 4\n":     "table.worm_play: 4" + play,
		"handwheel = 4\n" + clockwise + "worm_play = -0.1\n":  "table.worm_play: -0.1" + play,
		"handwheel = 4\n" + clockwise + "worm_play = 5\n":     "table.worm_play: 5" + play,
		"handwheel = 4\n" + clockwise:                         "table.worm_play: missing" + play,
		"handwheel = 4\nworm_play = 0.1\n": "table.handwheel_clockwise: missing, need increase or decrease (what a turn clockwise, " +
			"facing the handle, does to the figures of the table's ring)",
		"handwheel = 4\nworm_play = 0.1\nhandwheel_divisions = 2.5\n" + clockwise: "table.handwheel_divisions: 2.5, must be a whole " +
			"number of marks from 1 to 10000",
		"worm_play = 0.1\n": "table.worm_play: given without handwheel, need the degrees that one turn of it turns the table by",
	} {
		_, err := job.ParseMachine("mill.toml", []byte(wheeled+text))
		if err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	for text, want := range map[string]string{
		"[head]\ngraduation = 31\n":                   "head.graduation: 31, must be from a second of arc (1/3600) to 30 degrees",
		"[head]\ngraduation = 1e-5\n":                 "head.graduation: 1e-05, must be from a second of arc (1/3600) to 30 degrees",
		"[table]\ngraduation = -1\n":                  "table.graduation: -1, must be from a second of arc (1/3600) to 30 degrees",
		"[table]\ngraduation = 1\nvernier = 0.0002\n": "table.vernier: 0.0002, must be from a second of arc (1/3600) to 30 degrees",
	} {
		if _, err := job.ParseMachine("mill.toml", []byte(shownMachine+text)); err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	for _, text := range []string{"graduation = 30\n", "graduation = 0.000278\n", "graduation = 1\nvernier = 0.000278\n",
		"handwheel = 0.01\n" + clockwise + "worm_play = 0\n", "handwheel = 90\n" + clockwise + "worm_play = 89\n"} {
		if _, err := job.ParseMachine("mill.toml", []byte(shownMachine+"[table]\n"+text)); err != nil {
			t.Errorf("%q: %v, want it read", text, err)
		}
	}
	_, err = job.ParseMachine("mill.toml", []byte(shownMachine+"[head]\nhandwheel = 4\n"))
	if err == nil || !strings.Contains(err.Error(), "handwheel") {
		t.Errorf("a head with a handwheel: %v, want it refused", err)
	}
}
