//go:build unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// rimFirst is an order of one's own, the other way round than the one that is proposed: its first arc is the rim's heel, swung at 23.
const rimFirst = "8,3,5,4,14,10,12,7,9,1,11,13,2,6"

// On a terminal the plan comes first: an arc that the job file does not fit is refused with what would, one that
// it fits is set, and the plan comes back and says so. A setting that was left is gone on with.
func TestPlanOnATerminal(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	plate, err := os.ReadFile(filepath.Join(drawingsFolder, "quadrant-plate.dxf"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(home, "plate.dxf"), plate, 0o600); err != nil {
		t.Fatal(err)
	}
	// Arc 4 of the plate is swung at 55, and in a ring of 30 the dial reads zero there with a reach of −25.
	swapInFile(t, filepath.Join(home, benchFiles[0]), "reach = -12.0", "reach = -25.0")
	begin := func() *terminal {
		cmd := program(t, home, "dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1], "--drawing", "plate.dxf",
			"--layer", "rim", "--layer", "slot", "--layer", "bore", "--metal", "boss=inside", "--cutter", "6", "--cutter", "10", "--order",
			rimFirst)
		cmd.Args[0] = quickly
		return on(t, cmd, 100, 30)
	}
	const down = "\x1b[B"
	x := begin()
	x.shows("plan of plate", "0 of 12 arcs set", "▸   8", "→ next")
	x.raws()
	x.answers("\r")
	x.shows("the set-up of arc 8", "what the tip touches") // at 23 a reach of -25 is behind the axis; left, the plan comes back
	x.answers("/")
	x.shows("0 of 12 arcs set", "▸   8")
	for _, n := range []string{"3", "5", "4"} {
		x.types(down)
		x.shows("▸   " + n)
	}
	x.answers("\r")
	x.shows("arc 4  ", "swing to 55.000")
	x.types("q") // which leads back to the plan
	x.shows("0 of 12 arcs set", "? begun")
	x.answers("q")
	if end := x.ends(exitDone); !strings.Contains(end, "go on with: trammel dial --resume") {
		t.Errorf("the last words are %q, want how to go on", end)
	}

	x = begin()
	x.shows("0 of 12 arcs set", "? begun")
	for _, n := range []string{"3", "5", "4"} {
		x.types(down)
		x.shows("▸   " + n)
	}
	x.shows("Enter goes on with arc 4")
	x.answers("\r")
	x.shows("arc 4  ", "Enter goes on")
	x.answers("\r")
	for i := range 3 {
		x.shows(fmt.Sprintf("take up the backlash: %d of 3", i+1))
		x.answers("\r")
	}
	for i := range 6 {
		x.takes(i+1, "0\r", "+0.000")
	}
	x.accepts()
	x.shows("leads back to the plan")
	x.answers("\r")
	x.shows("plan of plate", "1 of 12 arcs set", "✓ set", "worry most about blend ")
	x.answers("q")
	x.ends(exitDone)
}

// An arc that the job file cannot serve is asked for its own set-up where it was chosen, by the keypad alone, and then set: arc 8 is
// swung at 23, and in a ring of 60 the dial reads zero there with a reach of 7. The rings at hand are kept.
func TestPlanAsksForAnArc(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	plate, err := filepath.Abs(filepath.Join(drawingsFolder, "quadrant-plate.dxf"))
	if err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1], "--drawing", plate,
		"--layer", "rim", "--layer", "slot", "--layer", "bore", "--metal", "boss=inside", "--cutter", "6", "--cutter", "10", "--order",
		rimFirst)
	cmd.Args[0] = quickly
	x := on(t, cmd, 100, 30)
	x.shows("0 of 12 arcs set", "▸   8")
	x.answers("\r")
	x.shows("the set-up of arc 8", "what the tip touches")
	x.answers("3\r")
	x.shows("the diameters of the setting rings at hand")
	x.answers("60+40\r")
	x.shows("the radius of the ring", "40 with a reach of −3, 60 with a reach", "* lists the rings at hand by number")
	x.answers("60\r")
	x.shows("d 60 is that ring")
	x.answers("*")
	x.shows("1  type a diameter", "take 30 (ring d 60) mm", "take 20 (ring d 40) mm")
	x.answers("2\r")
	x.shows("how the diameter of the ring is known: radius 30 (diameter 60) mm")
	x.answers("1\r")
	x.shows("what is known of how round the ring is")
	x.answers("1\r")
	x.shows("the dial would read zero at the target with 7 mm")
	x.answers("7\r")
	x.shows("how the reach is known")
	x.answers("2\r")
	x.shows("all is answered")
	x.answers("\r")
	x.shows("arc 8  ", "swing to 23.000")
	x.types("q")
	x.shows("? begun")
	x.answers("q")
	if end := x.ends(exitDone); !strings.Contains(end, "go on with: trammel dial --resume") {
		t.Errorf("the last words are %q, want how to go on", end)
	}
	if text, err := os.ReadFile(filepath.Join(home, ".config", "trammel", "config.toml")); string(text) != "rings = [60, 40]\n" {
		t.Errorf("the settings are %q, %v", text, err)
	}
}

// Without a job the drawing's arcs are asked for what they share, the cutters at hand among it, before the plan is shown: then each
// arc for its own set-up.
func TestPlanWithoutAJob(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	plate, err := filepath.Abs(filepath.Join(drawingsFolder, "quadrant-plate.toml"))
	if err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "dial", "--steps=false", "--machine", benchFiles[1], "--drawing", plate)
	cmd.Args[0] = quickly
	x := on(t, cmd, 100, 30)
	for _, step := range [][2]string{{"in which unit you read", "1\r"}, {"how it is set", "1\r"}, {"the cutters at hand", "10+6\r"},
		{"how far the swing radius may be off", "0.02\r"}, {"how far the axis may stand off", "0.02\r"},
		{"how the cutter's diameter is known", "2\r"}, {"how much is left on", "0.3\r"},
		{"how deep it is cut", "\r"}, {"at how many places", "6\r"},
		{"one mark of the dial", "0.01\r"}, {"one turn of the dial", "1\r"}, {"the dial's tip goes", "1.6\r"},
		{"the dial's own error", "0.003\r"}, {"do its figures grow", "1\r"}, {"how well a reading repeats", "0.003\r"},
		{"the tip's ball", "0\r"},
		{"under which name", "7\r"}, {"all is answered", "\r"}} {
		x.shows(step[0])
		x.answers(step[1])
	}
	x.shows("arcs set", "→ next")
	x.answers("\r")
	x.shows("the set-up of arc", "what the tip touches")
	x.answers("/")
	x.shows("arcs set", "→ next")
	x.answers("q")
	x.ends(exitDone)
	for name, want := range map[string]string{"config.toml": "cutters = [10, 6]\n", filepath.Join("jobs", "7.toml"): "stock = 0.3\n"} {
		if text, err := os.ReadFile(filepath.Join(home, ".config", "trammel", name)); !strings.Contains(string(text), want) {
			t.Errorf("%s holds %q, %v, want %q", name, text, err, want)
		}
	}
}
