package job_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.org/trammel/indicator/job"
)

// Files that are no job at all.
func TestNoJob(t *testing.T) {
	for _, c := range []struct{ name, text, want, hint string }{
		{"empty", "", "job.toml: the file is empty, need a TOML file", shows},
		{"blank", " \n\t\r\n", "job.toml: the file is empty, need a TOML file", shows},
		{"byte order mark alone", "\ufeff", "job.toml: the file is empty, need a TOML file", shows},
		{"comments alone", "# nothing yet\n", "job.toml: setup.kind: missing, need carried, turned or points", add},
		{"not TOML", "angle reading\n0 0.1\n", `job.toml:1: expected '=' after key, seen in "angle reading"`, plainTOML},
		{"JSON", `{"unit": "mm"}`, `job.toml:1: invalid character at start of key: U+007B '{', seen in "{\"unit\": \"mm\"}"`, plainTOML},
		{"UTF-16", "\xff\xfeu\x00n\x00", `job.toml:1: invalid character at start of key: U+00FF 'ÿ', seen in "\xff\xfeu\x00n\x00"`,
			plainTOML},
		{"unknown key in an inline table", "setup = {kind = \"carried\", rech = 1}\n", "job.toml:1: setup.rech: unknown key", spelling},
		{"number out of range in an inline table", "\nsetup = {kind = \"carried\", touch = \"bore\", reference_radius = -1}\n",
			"job.toml:2: setup.reference_radius: -1, must be above 0", ""},
		{"unknown dotted key", "target.swing.radius = 42\n", "job.toml:1: target.swing.radius: unknown key", spelling},
		{"a point in a key", "[setup]\n\"a.b\" = 1\n", `job.toml:2: setup."a.b": unknown key`, spelling},
		{"an empty key", "[setup]\n\"\" = 1\n", `job.toml:2: setup."": unknown key`, spelling},
	} {
		_, err := job.ParseJob("job.toml", []byte(c.text))
		check(t, c.name, err, c.want, c.hint)
	}
}

// Nothing in a file, and nothing in its name, reaches a terminal as a control character: no
// colours, no cursor, no turning round of the writing direction.
func TestNoControlCharacters(t *testing.T) {
	const esc = `\u001b]0;x\u0007`
	for _, text := range []string{
		"\"" + esc + "\" = 1",
		"[\"" + esc + "\"]\nx = 1",
		"[setup]\n\"a\\u202e\" = 1",
		"\"" + esc + "\" = 1\n\"" + esc + "\" = 2",
		"[\"" + esc + "\"]\n[\"" + esc + "\"]",
		"[slide.\"" + esc + "\"]",
		"unit = \"" + esc + "\"",
		"name = \"" + esc + "\"\n[slide.x]\n",
		"name = \"a\\u009bb\"\n[slide.x]\n",
		"unit = \"\x1b[2J\"",
		"\x1b[2J",
		"# \x1b[2J",
		"unit = \x9b",
		"[setup]\nkind = \"carried\" \x07",
	} {
		for _, file := range []string{"job.toml", "a\x1b[2Jb\x9b\u202e.toml"} {
			_, err := job.ParseJob(file, []byte(text))
			clean(t, text, err)
			_, err = job.ParseMachine(file, []byte(text))
			clean(t, text, err)
		}
	}
	_, err := job.ParseJob("a\x1b[2Jb\x9b.toml", nil)
	if want := `a\x1b[2Jb\x9b.toml: the file is empty, need a TOML file`; err == nil || err.Error() != want {
		t.Errorf("a file name with control characters: %v, want %s", err, want)
	}
}

// clean checks that a reader refused, and that its message can be printed.
func clean(t testing.TB, text string, err error) {
	t.Helper()
	var all job.Errors
	if errors.As(err, &all) {
		for _, one := range all {
			clean(t, text, one)
		}
		return
	}
	var e *job.Error
	if !errors.As(err, &e) {
		t.Errorf("%q: %v, want a *job.Error", text, err)
		return
	}
	for what, s := range map[string]string{"message": e.Error(), "key": e.Key, "hint": e.Hint} {
		if i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }); i >= 0 {
			t.Errorf("%q: the %s %q has a character that cannot be printed at %d", text, what, s, i)
		}
	}
}

// All mistakes are told, in the order in which they are found, and the first of each key alone.
func TestManyMistakes(t *testing.T) {
	several(t, "three mistakes", readJob, edited(t, shownJob, `touch = "bore"`, `touch = "hole"`, "stations = 6", "stations = 1",
		"graduation = 0.01", "graduation = -1"),
		`job.toml:4: setup.touch: "hole", need bore or boss`,
		"job.toml:14: sweep.stations: 1, must be a whole number from 3 to 64",
		"job.toml:18: dial.graduation: -1, must be above 0")
	several(t, "comments alone", readJob, "# nothing yet\n",
		"job.toml: setup.kind: missing, need carried, turned or points",
		"job.toml: setup.touch: missing, need bore or boss",
		"job.toml: target.centre_tolerance: missing, must be above 0",
		"job.toml: sweep.stations: missing, must be a whole number from 3 to 64",
		"job.toml: dial.graduation: missing, must be above 0",
		"job.toml: dial.range: missing, must be above 0")
	// A value that cannot be read is not missing, and what stands behind it is read.
	several(t, "values", readJob, edited(t, shownJob, `kind = "carried"`, "kind = carried", "reference_radius = 30.0",
		"reference_radius = 30,0",
		"tolerance = 0.02            # plus", "tolerance = \"0.02\"          # plus", "stations = 6", "stations = 2"),
		`job.toml:3: unexpected character U+0063 'c' at start of value, seen in "kind = carried            # carried | turned | points"`,
		`job.toml:5: expected newline but got U+002C ',', seen in "reference_radius = 30,0"`,
		`job.toml:11: target.tolerance: a TOML string, need a number, seen in `+
			`"tolerance = \"0.02\"          # plus or minus, on the swing radius"`,
		"job.toml:14: sweep.stations: 2, must be a whole number from 3 to 64")
	several(t, "a key misspelt", readJob, edited(t, shownJob, "reach = -12.0", "reech = -12.0", "range = 1.6", "range = 0"),
		"job.toml:6: setup.reech: unknown key",
		"job.toml:2: setup.reach: missing, needed for a swing radius",
		"job.toml:20: dial.range: 0, must be above 0")
	several(t, "a machine", readMachine, edited(t, shownMachine, "divisions = 100", "divsions = 100", "backlash = 0.15", "backlash = -1",
		`unit = "mm"`, `unit = "inch"`),
		"mill.toml:5: slide.offset.divsions: unknown key",
		`mill.toml:2: unit: "inch", need mm or in`,
		"mill.toml:3: slide.offset.divisions: missing, must be a whole number of marks from 1 to 10000",
		"mill.toml:8: slide.offset.backlash: -1, must be 0 mm or above")
}

// What leans on a figure that is wrong is not judged: it may well be right.
func TestNothingFollowsFromAMistake(t *testing.T) {
	cut := "[cut]\nmetal = \"inside\"\ncutter = 90\n"
	for _, c := range []struct{ name, text, want string }{
		{"to, where from is none",
			edited(t, shownJob, "from = 0                    #", "from = nan                  #", "to = 360", "to = 380"),
			"job.toml:15: sweep.from: NaN, must be a number of degrees"},
		{"obstacles, where to is none", edited(t, shownJob, "to = 360", "to = -1\nobstacles = [[0, 350]]"),
			"job.toml:16: sweep.to: -1, must be above from (0) and at most 360"},
		{"the dial's upper end", edited(t, shownJob, "range = 1.6", "from = 0.5\nto = 0.4"),
			"job.toml:20: dial.from: 0.5, must be 0 or below"},
		{"a dial at the target", edited(t, shownJob, "reach = -12.0", "reach = 12.0", "graduation = 0.01", "graduation = 0"),
			"job.toml:18: dial.graduation: 0, must be above 0"},
		{"an arc of no cutter", edited(t, shownJob, "[dial]", cut+"stock = -1\n[dial]"), "job.toml:20: cut.stock: -1, must be 0 or above"},
		{"tolerances of no swing radius", edited(t, shownJob, "swing_radius = 42.0 ", "swing_radius = \"42\""),
			`job.toml:10: target.swing_radius: a TOML string, need a number, seen in ` +
				`"swing_radius = \"42\"        # leave out to bring the centre in only"`},
		{"a held radius without its reach", edited(t, shownJob, "reach = -12.0", "reach = -12,0\nheld_radius = 42"),
			`job.toml:6: expected newline but got U+002C ',', seen in "reach = -12,0"`},
		{"half a dial", edited(t, shownJob, "range = 1.6", "from = -0.5\nto = 1/2 #"),
			`job.toml:21: expected newline but got U+002F '/', seen in ` +
				`"to = 1/2 #                 # total travel (from = …, to = … where the zero is no"`},
		{"the other half", edited(t, shownJob, "range = 1.6", "from = ?\nto = 0.5 #"),
			`job.toml:20: unexpected character U+003F '?' at start of value, seen in "from = ?"`},
		{"taps of no kind", edited(t, shownJob, `kind = "carried"`, "kind = \"turnt\"\ntaps = true"),
			`job.toml:3: setup.kind: "turnt", need carried, turned or points`},
	} {
		several(t, c.name, readJob, c.text, c.want)
	}
	several(t, "a vernier", readMachine, shownMachine+"[head]\ngraduation = 0\nvernier = 0.1\n",
		"mill.toml:11: head.graduation: 0, must be from a second of arc (1/3600) to 30 degrees")
	several(t, "slides of no name", readMachine, "[slide.z]\n[slide.knee]\n",
		`mill.toml:2: slide.knee: unknown slide "knee", need one of x, y, table_x, table_y, offset`,
		`mill.toml:1: slide.z: unknown slide "z", need one of x, y, table_x, table_y, offset`)
}

// Every slide that is missing is told.
func TestAllMissingSlides(t *testing.T) {
	j, err := job.ParseJob("job.toml", []byte(shownJob))
	if err != nil {
		t.Fatal(err)
	}
	m, err := job.ParseMachine("mill.toml", []byte(shownMachine))
	if err != nil {
		t.Fatal(err)
	}
	told(t, "slides", job.Match(&j, &m, "mill.toml"), "mill.toml: slide.x: missing, needed to wind this job",
		"mill.toml: slide.y: missing, needed to wind this job")
}

// A file with more mistakes than anyone writes is read to its end, and tells what it can.
func TestVeryManyMistakes(t *testing.T) {
	_, err := job.ParseJob("job.toml", []byte(strings.Repeat("a = one\n", 5000)))
	var all job.Errors
	if !errors.As(err, &all) || len(all) < 20 {
		t.Errorf("%.100v, want a long list", err)
	}
}

func readJob(text string) error {
	_, err := job.ParseJob("job.toml", []byte(text))
	return err
}

func readMachine(text string) error {
	_, err := job.ParseMachine("mill.toml", []byte(text))
	return err
}

// edited is edit for several places.
func edited(t testing.TB, text string, oldNew ...string) string {
	t.Helper()
	for i := 0; i < len(oldNew); i += 2 {
		text = edit(t, text, oldNew[i], oldNew[i+1])
	}
	return text
}

// several holds a reader to tell just these mistakes of a text.
func several(t testing.TB, what string, read func(string) error, text string, want ...string) {
	t.Helper()
	told(t, what, read(text), want...)
}

func told(t testing.TB, what string, err error, want ...string) {
	t.Helper()
	var got []string
	var all job.Errors
	var one *job.Error
	if errors.As(err, &all) {
		for _, e := range all {
			got = append(got, e.Error())
		}
	} else if errors.As(err, &one) {
		got = append(got, one.Error())
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s:\n got %s\nwant %s", what, strings.Join(got, "\n     "), strings.Join(want, "\n     "))
	}
}
