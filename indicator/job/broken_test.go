package job_test

import (
	"errors"
	"strings"
	"testing"
	"unicode"

	"example.org/trammel/indicator/job"
)

// Files that are no job at all.
func TestNoJob(t *testing.T) {
	for _, c := range []struct{ name, text, want, hint string }{
		{"empty", "", "job.toml: the file is empty, need a TOML file", "the README shows one to start from"},
		{"blank", " \n\t\r\n", "job.toml: the file is empty, need a TOML file", "the README shows one to start from"},
		{"byte order mark alone", "\ufeff", "job.toml: the file is empty, need a TOML file", "the README shows one to start from"},
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

// The first mistake is told, with as many as there may be.
func TestManyMistakes(t *testing.T) {
	text := edit(t, edit(t, edit(t, shownJob, `touch = "bore"`, `touch = "hole"`), "stations = 6", "stations = 1"), "graduation = 0.01",
		"graduation = -1")
	_, err := job.ParseJob("job.toml", []byte(text))
	check(t, "three mistakes", err, `job.toml:4: setup.touch: "hole", need bore or boss`, "")
}
