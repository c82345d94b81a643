package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
	"example.org/trammel/geom/toml"
	"example.org/trammel/indicator/job"
)

// setting is a row of what a person likes to have as it is, whatever the job. Flag, variable and file all say it by a text, so
// that one check serves the three.
type setting struct {
	key  string // in the file; the variable is called by it too
	flag string // that says it for one verb, in the same words; empty for none
	// many says that it is a list of lengths, for which the file has an array.
	many bool
	def  string // where nobody says
	// check returns the text in the form that is used, or what is needed in its place. in is the folder that a relative name
	// counts from, empty for where the program was started.
	check func(text, in string) (string, error)
	// json is the text as a value.
	json func(text string) any
}

const variables = "TRAMMEL_"

func (r *setting) variable() string { return variables + strings.ToUpper(r.key) }

// settingRows are all settings, in the order in which they are told.
var settingRows = []setting{
	{key: "unit", flag: "unit", def: "mm", check: inWords("mm", "in")},
	{key: "operator", flag: "by", check: func(s, _ string) (string, error) {
		if !initials(s) {
			return "", fmt.Errorf("initials: at most %d letters, points between them", mostInitials)
		}
		return s, nil
	}},
	{key: "machine", flag: "machine", check: placed},
	{key: "quiet", flag: "quiet", def: "false", check: truth, json: asTruth},
	{key: "plain", flag: "plain", check: truth, json: asTruth},
	{key: "colours", def: "auto", check: inWords("auto", "none")},
	{key: "cutters", many: true, check: lengths, json: asLengths},
	{key: job.Rings, many: true, check: lengthsOrNone, json: asLengths},
	{key: job.Plugs, many: true, check: lengthsOrNone, json: asLengths},
	{key: "journals", check: func(s, in string) (string, error) {
		path, err := placed(s, in)
		if err == nil && !filepath.IsAbs(path) {
			return "", errors.New("a folder's whole name, from the root on")
		}
		return path, err
	}},
}

func inWords(words ...string) func(string, string) (string, error) {
	return func(s, _ string) (string, error) {
		if !slices.Contains(words, s) {
			return "", errors.New(strings.Join(words, " or "))
		}
		return s, nil
	}
}

func truth(s, _ string) (string, error) {
	v, err := readBool(s)
	if err != nil {
		return "", errors.New("true or false")
	}
	return strconv.FormatBool(v), nil
}

func asTruth(s string) any { return s == "true" }

// placed is the name of a file or folder; ~/ is the person's own folder, as in a shell.
func placed(s, in string) (string, error) {
	if rest, ok := strings.CutPrefix(s, "~/"); ok {
		home, err := os.UserHomeDir()
		if err != nil {
			return "", errors.New("a name without ~: nobody says where that is")
		}
		return filepath.Join(home, rest), nil
	}
	if s == "" || strings.ContainsFunc(s, func(r rune) bool { return !geom.Prints(r) }) {
		return "", errors.New("a name of printable characters")
	}
	if in != "" && !filepath.IsAbs(s) {
		s = filepath.Join(in, s)
	}
	return s, nil
}

// lengths are diameters with their unit behind them, which goes with them wherever they are used.
func lengths(s, _ string) (string, error) {
	const need = "diameters above 0 with their unit behind them, like 8 6 mm"
	words := strings.Fields(s)
	if len(words) < 2 {
		return "", errors.New(need)
	}
	u, err := geom.ParseUnit(words[len(words)-1])
	if err != nil {
		return "", errors.New(need)
	}
	for i, w := range words[:len(words)-1] {
		v, err := geom.ParseLength(w, u)
		if err != nil || !(v > 0) {
			return "", errors.New(need)
		}
		words[i] = strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strings.Join(words, " "), nil
}

// lengthsOrNone are lengths of which there may be none: then the unit stands alone.
func lengthsOrNone(s, in string) (string, error) {
	if u, err := geom.ParseUnit(strings.TrimSpace(s)); err == nil {
		return u.String(), nil
	}
	return lengths(s, in)
}

// lengthsOf are the diameters of a text that has been checked, with their unit.
func lengthsOf(s string) (out []float64, u geom.Unit) {
	out = []float64{}
	words := strings.Fields(s)
	u, _ = geom.ParseUnit(words[len(words)-1])
	for _, w := range words[:len(words)-1] {
		v, _ := geom.ParseNumber(w)
		out = append(out, v)
	}
	return out, u
}

func asLengths(s string) any {
	out, _ := lengthsOf(s)
	return out
}

// found is what holds of a setting, and who says so: a flag, a variable, the file and its line; empty for nobody.
type found struct{ text, from string }

// settings are those that hold, by their keys.
type settings struct {
	file string // its name; empty where no place for it is known
	all  map[string]found
}

// text is what somebody has said of a setting, by a variable or in the file; ok is false where nobody has.
func (s *settings) text(key string) (text string, ok bool) {
	if s == nil {
		return "", false
	}
	f, ok := s.all[key]
	return f.text, ok && f.from != ""
}

// read finds what holds for a verb: flags go over variables, those over the file, and that over what holds by itself. What a
// flag says is not looked up any further.
func (s *settings) read(w world, cmd *cobra.Command) error {
	s.file, s.all = "", map[string]found{}
	folder, err := userFolder(w, "XDG_CONFIG_HOME", "APPDATA", ".config")
	if err == nil { // without a home there is no file
		s.file = filepath.Join(folder, "config.toml")
	}
	inFile, err := readSettings(s.file)
	if err != nil {
		return err
	}
	for i := range settingRows {
		r := &settingRows[i]
		f := found{text: r.def}
		given := cmd.Flag(r.flag)
		switch set, file := w.getenv(r.variable()), inFile[r.key]; {
		case r.flag != "" && given != nil && given.Changed:
			f = found{given.Value.String(), "--" + r.flag} // the verb checks its own
		case set != "":
			text, err := r.check(set, "")
			if err != nil {
				return misuse("%s=%q, need %v", r.variable(), set, err)
			}
			f = found{text, r.variable()}
		case file.from != "":
			f = file
		}
		s.all[r.key] = f
	}
	return nil
}

// readSettings reads the file of settings; there need be none. The error is [job.Errors], with the lines.
func readSettings(name string) (map[string]found, error) {
	text, err := readKept(name)
	if errors.Is(err, fs.ErrNotExist) || name == "" {
		return nil, nil
	}
	if err != nil {
		return nil, withHint(fmt.Errorf("%s: %w", name, err), "the settings are kept there; trammel help config says what it may hold")
	}
	known := make([]string, len(settingRows))
	for i := range settingRows {
		known[i] = settingRows[i].key
	}
	raw, text := map[string]any{}, unmarked(text)
	all, _, _ := toml.Decode(text, &raw, known...)
	at := toml.LinesOf(text, func(path []toml.Part) string { return path[0].Name })
	out, wrong := map[string]found{}, job.Errors{}
	fail := func(line int, key, format string, args ...any) {
		wrong = append(wrong, &job.Error{File: name, Line: line, Key: key, Why: fmt.Sprintf(format, args...)})
	}
	strange := map[string]bool{}
	for _, m := range all {
		switch key := m.Key; {
		case !m.Unknown:
			fail(m.Line, strings.Join(key, "."), "%s, seen in %.80q", m.Why, m.Seen)
		case !strange[key[0]]:
			strange[key[0]] = true
			fail(at[key[0]], key[0], "%s, need one of %s", job.UnknownKey, strings.Join(known, ", "))
		}
	}
	u := "mm"
	if v, ok := raw["unit"].(string); ok {
		if named, err := geom.ParseUnit(v); err == nil { // else it is told below
			u = named.String()
		}
	}
	for i := range settingRows {
		r := &settingRows[i]
		v, given := raw[r.key]
		if !given {
			continue
		}
		said, ok := r.said(v, u)
		checked, err := r.check(said, filepath.Dir(name))
		switch {
		case !ok || (err != nil && r.many):
			fail(at[r.key], r.key, "%v, need %s", v, r.form())
		case err != nil:
			fail(at[r.key], r.key, "%q, need %v", said, err)
		default:
			out[r.key] = found{checked, fmt.Sprintf("%s:%d", name, at[r.key])}
		}
	}
	slices.SortStableFunc(wrong, func(a, b *job.Error) int { return a.Line - b.Line })
	if len(wrong) > 0 {
		return nil, wrong
	}
	return out, nil
}

// said is a value of the file as the text that a variable would say; ok is false for one of another kind.
func (r *setting) said(v any, unit string) (text string, ok bool) {
	switch v := v.(type) {
	case string:
		return v, !r.many && r.json == nil
	case bool:
		return strconv.FormatBool(v), !r.many && r.json != nil
	case []any:
		var words []string
		for _, x := range v {
			switch x.(type) {
			case int64, float64:
				words = append(words, fmt.Sprint(x))
			default:
				return "", false
			}
		}
		return strings.Join(append(words, unit), " "), r.many
	}
	return "", false
}

// form is what the file takes for it.
func (r *setting) form() string {
	switch {
	case r.many:
		return "diameters above 0 in the file's unit, like [8, 6]"
	case r.json != nil:
		return "true or false"
	}
	return "a text in quotes"
}

// typed is the unit of what is typed where neither a flag nor a file names one.
func (c *common) typed() geom.Unit {
	text, ok := c.settings.text("unit")
	if u, err := geom.ParseUnit(text); ok && err == nil {
		return c.unit.or(u)
	}
	return c.unit.or(geom.Millimetre)
}

// unitOfFile is the note on a verb whose files name the unit of its flags, which no setting changes.
const unitOfFile = "unit of file"

// typedIn is the unit of a verb's flags, as far as it is known before its files are read.
func (c *common) typedIn(cmd *cobra.Command) geom.Unit {
	if cmd.Annotations[unitOfFile] != "" {
		return c.unit.or(geom.Millimetre)
	}
	return c.typed()
}

// orMachine is the machine file that is named, else that of the settings.
func (w world) orMachine(named string) string {
	if text, ok := w.settings.text("machine"); named == "" && ok {
		return text
	}
	return named
}
