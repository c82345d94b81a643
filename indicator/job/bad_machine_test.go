package job_test

import (
	"testing"

	"example.org/trammel/indicator/job"
)

// Machine files that are wrong in one place; see TestBadJobs.
func TestBadMachines(t *testing.T) {
	for _, c := range badMachines {
		_, err := job.ParseMachine("mill.toml", []byte(edit(t, shownMachine, c.old, c.new)))
		check(t, c.new, err, c.want, c.hint)
	}
}

// No slide at all, and two that are not known: the first by name is told, whatever the order that
// a map gives.
func TestBadSlides(t *testing.T) {
	_, err := job.ParseMachine("mill.toml", []byte("name = \"mill\"\n"))
	check(t, "no slide", err, "mill.toml: slide: no slide described, need one",
		"describe at least the slides that are wound: [slide.offset], [slide.x], [slide.y]")
	for range 20 {
		_, err = job.ParseMachine("mill.toml", []byte("[slide.z]\n[slide.knee]\n[slide.w]\n"))
		check(t, "three unknown slides", err, `mill.toml:2: slide.knee: unknown slide "knee", need one of x, y, table_x, table_y, offset`,
			"")
	}
}

var badMachines = []bad{
	{"readout = false", "travel = [60, 0]",
		"mill.toml:9: slide.offset.travel: [60 0], need two numbers, the lower first",
		"the lower and the upper end by the slide's own scale, like [0, 60]"},
	{"readout = false", "travel = [1]",
		"mill.toml:9: slide.offset.travel: [1], need two numbers, the lower first",
		"the lower and the upper end by the slide's own scale, like [0, 60]"},
	{`name = "bench mill with offset head"`, `name = "a\u001b[31mb"`,
		`mill.toml:1: name: "a\x1b[31mb", need printable characters only`, ""},
	{`name = "bench mill with offset head"`, `name = "a\nb"`,
		`mill.toml:1: name: "a\nb", need printable characters only`, ""},
	{`name = "bench mill with offset head"`, `name = "a\u202eb"`,
		`mill.toml:1: name: "a\u202eb", need printable characters only`, ""},
	{`name = "bench mill with offset head"`, "name = 3",
		`mill.toml:1: name: a TOML integer, need a text in quotes, seen in "name = 3"`, plainTOML},
	{`unit = "mm"`, `unit = "inch"`,
		`mill.toml:2: unit: "inch", need mm or in`, ""},
	{"[slide.offset]", "[slide.ofset]",
		`mill.toml:3: slide.ofset: unknown slide "ofset", need one of x, y, table_x, table_y, offset`, ""},
	{"[slide.offset]", `[slide."o\u001b"]`,
		`mill.toml:3: slide."o\x1b": unknown slide "o\x1b", need one of x, y, table_x, table_y, offset`, ""},
	{"[slide.offset]", "[slides.offset]",
		"mill.toml:3: slides.offset: unknown key", spelling},
	{"[slide.offset]", "[slide]",
		`mill.toml:4: slide.travel_per_turn: a TOML float, need one table, seen in "travel_per_turn = 2.0"`, brackets},
	{"travel_per_turn = 2.0", "travel_per_turn = 0",
		"mill.toml:4: slide.offset.travel_per_turn: 0, must be 0.001 mm or above", ""},
	{"travel_per_turn = 2.0", "travel_per_turn = -2",
		"mill.toml:4: slide.offset.travel_per_turn: -2, must be 0.001 mm or above", ""},
	{"travel_per_turn = 2.0", "travel_per_turn = 1e-300",
		"mill.toml:4: slide.offset.travel_per_turn: 1e-300, must be 0.001 mm or above", ""},
	{"travel_per_turn = 2.0", "",
		"mill.toml:3: slide.offset.travel_per_turn: missing, must be 0.001 mm or above", add},
	{"travel_per_turn = 2.0", "travel_per_turn = nan",
		"mill.toml:4: slide.offset.travel_per_turn: NaN, must be 0.001 mm or above", ""},
	{"travel_per_turn = 2.0", "travel_per_turn = 1e999",
		`mill.toml:4: slide.offset.travel_per_turn: "1e999", need a number not beyond 1e+09, seen in "travel_per_turn = 1e999"`, plainTOML},
	{"travel_per_turn = 2.0", `travel_per_turn = "2"`,
		`mill.toml:4: slide.offset.travel_per_turn: a TOML string, need a number, seen in "travel_per_turn = \"2\""`, plainTOML},
	{"divisions = 100", "divisions = 100\nDivisions = 50",
		`mill.toml:6: slide.offset.Divisions: unknown key "Divisions", need divisions`, letters},
	{"travel_per_turn = 2.0", "pitch = 2",
		"mill.toml:4: slide.offset.pitch: unknown key", spelling},
	{"divisions = 100", "divisions = 0",
		"mill.toml:5: slide.offset.divisions: 0, must be a whole number of marks from 1 to 10000", ""},
	{"divisions = 100", "divisions = 100.5",
		"mill.toml:5: slide.offset.divisions: 100.5, must be a whole number of marks from 1 to 10000", ""},
	{"divisions = 100", "divisions = 20000",
		"mill.toml:5: slide.offset.divisions: 20000, must be a whole number of marks from 1 to 10000", ""},
	{"divisions = 100", "",
		"mill.toml:3: slide.offset.divisions: missing, must be a whole number of marks from 1 to 10000", add},
	{`clockwise = "increase"`, `clockwise = "up"`,
		`mill.toml:6: slide.offset.clockwise: "up", need increase or decrease`, ""},
	{`clockwise = "increase"`, "#",
		"mill.toml:3: slide.offset.clockwise: missing, need increase or decrease", add},
	{`clockwise = "increase"`, "clockwise = true",
		`mill.toml:6: slide.offset.clockwise: a TOML boolean, need a text in quotes, seen in "clockwise = true      # what a clockwise turn does to the slide's coordinate"`, plainTOML},
	{`take_up = "increase"`, `take_up = ""`,
		`mill.toml:7: slide.offset.take_up: "", need increase or decrease`, ""},
	{`take_up = "increase"`, "#",
		"mill.toml:3: slide.offset.take_up: missing, need increase or decrease", add},
	{"backlash = 0.15", "backlash = -0.15",
		"mill.toml:8: slide.offset.backlash: -0.15, must be 0 mm or above", ""},
	{"backlash = 0.15", "#",
		"mill.toml:3: slide.offset.backlash: missing, must be 0 mm or above", add},
	{"backlash = 0.15", "backlash = 0.15\novershoot = 0.15",
		"mill.toml:9: slide.offset.overshoot: 0.15 mm does not take up a backlash of 0.15 mm, must be above it", ""},
	{"backlash = 0.15", "backlash = 0.15\novershoot = 0",
		"mill.toml:9: slide.offset.overshoot: 0, must be above 0 mm", ""},
	{"backlash = 0.15", "backlash = 0.15\ncollar_figures = \"up\"",
		`mill.toml:9: slide.offset.collar_figures: "up", need clockwise or anticlockwise (the way to turn for the figures to grow)`, ""},
	{"readout = false", `readout = "no"`,
		`mill.toml:9: slide.offset.readout: a TOML string, need true or false, seen in "readout = \"no\"             # a digital readout on this slide: winds also say the"`, ""},
	{"readout = false", "readout = 0",
		`mill.toml:9: slide.offset.readout: a TOML integer, need true or false, seen in "readout = 0             # a digital readout on this slide: winds also say the co"`, ""},
	{`unit = "mm"`, "unit = \"mm\"\nhead = 3",
		`mill.toml:3: head: a TOML integer, need one table, seen in "head = 3"`, brackets},
	{`unit = "mm"`, "unit = \"mm\"\nhead.zero = nan",
		"mill.toml:3: head.zero: NaN, must be a number of degrees", ""},
	{`unit = "mm"`, "unit = \"mm\"\nhead.sense = \"left\"",
		`mill.toml:3: head.sense: "left", need clockwise or anticlockwise (the way the figures grow, seen from above)`, ""},
	{`unit = "mm"`, "unit = \"mm\"\nhead.graduation = 0",
		"mill.toml:3: head.graduation: 0, must be from a second of arc (1/3600) to 30 degrees", ""},
	{`unit = "mm"`, "unit = \"mm\"\ntable.nought = 0",
		"mill.toml:3: table.nought: unknown key", spelling},
	{`unit = "mm"`, "unit = \"mm\"\nslide.x = 0",
		`mill.toml:3: slide.x: a TOML integer, need one table, seen in "slide.x = 0"`, brackets},
	{`unit = "mm"`, "unit = \"mm\"\nslide.x = {}",
		"mill.toml:3: slide.x.travel_per_turn: missing, must be 0.001 mm or above", add},
}
