package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"example.org/trammel/geom/drawing"
	"example.org/trammel/geom/toml"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/practice"
)

// A page that is read beside the program (README, DEVELOPERS, a page of help, a verb's example) shows blocks: lines that are
// indented by four at least, or fenced. What a block shows is true, or the test that follows fails. It is one of
//
//   - a session: lines behind "$ " are typed into a shell, what follows is printed; … stands for any text in a line, and alone in one
//     for any lines; what the hand types at the program stands behind "> ". A line that ends with a backslash or a bar goes on.
//     One that ends with one of marks needs what no test has: of it the verb, its flags and its words are looked at.
//   - a file: the paragraph before it ends with the file's name and a colon. It is there for the page's commands.
//   - a piece of a file: keys with their values, all of which one kind of our files knows.
//   - figures of many simulated machines: the first line is a command that ends with …, and each row begins with what stands there.
//   - commands for contributors, without "$ ": what they name is there.
var marks = []string{"# needs a gauge", "# at the machine"}

// shownBlock is a block of a page.
type shownBlock struct {
	page   string // its file, from the module's top
	line   int    // of its first line, from 1
	before string // the last word before it
	lines  []string
}

func (b *shownBlock) where() string { return fmt.Sprintf("%s:%d", b.page, b.line) }

// blocksOf returns the blocks of a text; fences are looked for where it is marked down.
func blocksOf(page, text string) (all []shownBlock) {
	last, blank, fenced := "", true, false
	var now *shownBlock
	end := func() {
		if now != nil {
			now.lines = dedented(now.lines)
			all = append(all, *now)
		}
		now = nil
	}
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		switch {
		case strings.HasPrefix(l, "```"):
			end()
			if fenced = !fenced; fenced {
				now = &shownBlock{page: page, line: i + 2, before: last}
			}
			continue
		case fenced, now != nil && (l == "" || strings.HasPrefix(l, "    ")):
			now.lines = append(now.lines, l)
			continue
		case blank && strings.HasPrefix(l, "    "):
			now = &shownBlock{page: page, line: i + 1, before: last, lines: []string{l}}
			continue
		}
		end()
		if blank = l == ""; !blank {
			words := strings.Fields(l)
			last = words[len(words)-1]
		}
	}
	end()
	return all
}

// dedented are lines without the spaces that all have in front, and without blank lines at the end.
func dedented(lines []string) (out []string) {
	in := -1
	for _, l := range lines {
		if n := len(l) - len(strings.TrimLeft(l, " ")); strings.TrimSpace(l) != "" && (in < 0 || n < in) {
			in = n
		}
	}
	for _, l := range lines {
		out = append(out, l[min(max(in, 0), len(l)):])
	}
	for len(out) > 0 && strings.TrimSpace(out[len(out)-1]) == "" {
		out = out[:len(out)-1]
	}
	return out
}

// named is the file that a block is, if the paragraph before it ends with its name.
func (b *shownBlock) named() string {
	name := strings.Trim(strings.TrimSuffix(b.before, ":"), "`")
	if strings.HasSuffix(b.before, ":") && shownFile.MatchString(name) {
		return name
	}
	return ""
}

var shownFile = regexp.MustCompile(`^[\w-]+\.(toml|txt|csv)$`)

// text is the block as it stands.
func (b *shownBlock) text() string { return strings.Join(b.lines, "\n") + "\n" }

// shownPages are the pages with their texts, from the module's top: those that are read, and the verbs' examples.
func shownPages(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	read := func(path string) {
		b, err := os.ReadFile(filepath.Join(top, filepath.FromSlash(path)))
		if err != nil {
			t.Fatal(err)
		}
		all[path] = string(b)
	}
	read("README.md")
	read("DEVELOPERS.md")
	for _, r := range topicRows {
		if r.made == nil {
			read("cmd/trammel/help/" + r.name + ".txt")
		}
	}
	for _, c := range allVerbs(newRoot(world{})) {
		if c.Example != "" {
			all[c.CommandPath()+" --help"] = exampleText(c)
		}
	}
	return all
}

// exampleText is a verb's examples as the text of a page.
func exampleText(c *cobra.Command) string {
	var b strings.Builder
	for _, l := range strings.Split(c.Example, "\n") {
		b.WriteString("    $ " + strings.TrimSpace(l) + "\n    …\n")
	}
	return b.String()
}

// allVerbs are a command and all below it.
func allVerbs(c *cobra.Command) []*cobra.Command {
	all := []*cobra.Command{c}
	for _, sub := range c.Commands() {
		all = append(all, allVerbs(sub)...)
	}
	return all
}

// shownAtHand are the files that every page's commands may name, and where they come from.
var shownAtHand = []struct{ name, from string }{
	{name: "job.toml", from: "indicator/practice/bench-job.toml"},
	{name: "machine.toml", from: "indicator/practice/bench-machine.toml"},
	{name: "plate.dxf", from: "testdata/drawing/quadrant-plate.dxf"},
	{name: "plate.toml", from: "testdata/drawing/quadrant-plate.toml"},
	{name: "arc.jsonl", from: "testdata/journal/v1-practice-7.jsonl"},
}

// shownArcs are the journals that a page on several arcs may name: each of an arc of the plate that was read at the target to one figure.
var shownArcs = []struct{ name, arc, reach, reading string }{
	{"corner.jsonl", "3", "11.0", "-0.006"},
	{"rim.jsonl", "4", "-25.0", "0.008"},
}

// layFiles lays out in a folder what the commands of a page may name.
func layFiles(t *testing.T, folder string) {
	t.Helper()
	write := func(name string, text []byte) {
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, f := range shownAtHand {
		text, err := os.ReadFile(filepath.Join(top, filepath.FromSlash(f.from)))
		if err != nil {
			t.Fatal(err)
		}
		write(f.name, text)
	}
	write("spin.txt", []byte("0 0.031\n90 0.004\n180 -0.029\n270 -0.002\n"))
	write("swing.txt", []byte("0 0.025\n90 0.012\n180 -0.021\n270 -0.014\n"))
	known := filepath.Join(folder, "config", "trammel", "machines", "bench.toml")
	if err := errors.Join(os.MkdirAll(filepath.Dir(known), 0o700), os.WriteFile(known, practice.BenchMachine, 0o600)); err != nil {
		t.Fatal(err)
	}
	if len(shownJournals) == 0 {
		text := bytes.Replace(practice.BenchJob, []byte("stations = 6\n"), []byte("stations = 6\nat_least = 6\n"), 1)
		for _, a := range shownArcs {
			write("arc.toml", bytes.Replace(text, []byte("reach = -12.0"), []byte("reach = "+a.reach), 1))
			words := "dial --lines --job arc.toml --machine machine.toml --drawing plate.toml --layer rim --cutter 6 --arc " + a.arc
			dial := shellLine{words: strings.Fields(words + " --journal " + a.name)}
			dial.run(t, folder, strings.Repeat("\n", 3)+strings.Repeat(a.reading+"\n", 6)+"accept\n")
			journal, err := os.ReadFile(filepath.Join(folder, a.name))
			if err != nil {
				t.Fatal(err)
			}
			shownJournals[a.name] = journal
		}
	}
	for name, text := range shownJournals {
		write(name, text)
	}
}

// shownJournals are those of shownArcs, made once.
var shownJournals = map[string][]byte{}

// Every block of every page shows what is so.
func TestWhatIsShown(t *testing.T) {
	count := map[string]int{}
	pages := shownPages(t)
	for _, page := range slices.Sorted(maps.Keys(pages)) {
		text := pages[page]
		t.Run(page, func(t *testing.T) {
			folder := t.TempDir()
			layFiles(t, folder)
			blocks := blocksOf(page, text)
			for i := range blocks {
				count[blocks[i].check(t, folder)]++
			}
		})
	}
	// Fewer than there were when this was written: the walk has lost its way.
	for kind, least := range map[string]int{"session": 20, "file": 2, "piece": 8, "contributor": 2} {
		if count[kind] < least {
			t.Errorf("%d blocks of kind %s, at least %d were there: %v", count[kind], kind, least, count)
		}
	}
}

// check looks at a block and returns its kind.
func (b *shownBlock) check(t *testing.T, folder string) string {
	t.Helper()
	name := b.named()
	switch {
	case slices.ContainsFunc(b.lines, func(l string) bool { return strings.HasPrefix(l, "$ ") }):
		b.play(t, folder)
		return "session"
	case name != "":
		if err := os.WriteFile(filepath.Join(folder, name), []byte(b.text()), 0o600); err != nil {
			t.Fatal(err)
		}
		if filepath.Ext(name) == ".toml" {
			b.pieceOfFile(t)
		}
		return "file"
	case strings.HasPrefix(b.lines[0], figuresLine):
		b.figures(t)
		return "figures"
	case pieceLine.MatchString(b.lines[0]):
		b.pieceOfFile(t)
		return "piece"
	case contributorLine.MatchString(b.lines[0]):
		b.contributors(t)
		return "contributor"
	case b.page == "DEVELOPERS.md": // what is drawn there names its files, which another test looks for
		for _, p := range regexp.MustCompile(`\b[\w/]+\.go\b`).FindAllString(b.text(), -1) {
			if _, err := os.Stat(filepath.Join(top, filepath.FromSlash(p))); err != nil {
				t.Errorf("%s names %s, which is not there", b.where(), p)
			}
		}
		return "drawing"
	}
	t.Errorf("%s: nobody can tell what this block shows: type it behind $, or name the file that it is:\n%s", b.where(), b.text())
	return ""
}

var (
	pieceLine       = regexp.MustCompile(`^(\[\[?[\w.]+\]\]?|[\w.]+ = .*|# .*)`)
	contributorLine = regexp.MustCompile(`^(go|bash|TRAMMEL_\w+=\S+) `)
)

// pieceOfFile holds a piece of a file to the kinds of files there are: one of them knows all of its keys.
func (b *shownBlock) pieceOfFile(t *testing.T) {
	t.Helper()
	text := []byte(b.text())
	if wrong, _, _ := toml.Decode(text, &map[string]any{}); len(wrong) > 0 {
		t.Errorf("%s: line %d: %s", b.where(), wrong[0].Line, wrong[0].Why)
		return
	}
	_, asJob := job.ParseJob("job", text)
	_, asMachine := job.ParseMachine("machine", text)
	_, asOutline := drawing.ReadTOML(text, drawing.Options{})
	config := filepath.Join(t.TempDir(), "trammel")
	err := errors.Join(os.Mkdir(config, 0o700), os.WriteFile(filepath.Join(config, "config.toml"), text, 0o600))
	if err != nil {
		t.Fatal(err)
	}
	var asSettings strings.Builder
	run([]string{"config"}, world{out: &asSettings, err: &asSettings, getenv: func(name string) string {
		return map[string]string{"XDG_CONFIG_HOME": filepath.Dir(config)}[name]
	}})
	all := []string{fmt.Sprint(asJob), fmt.Sprint(asMachine), fmt.Sprint(asOutline), asSettings.String()}
	for _, why := range all {
		if !strings.Contains(why, job.UnknownKey) {
			return
		}
	}
	t.Errorf("%s: no file has these keys:\n%s\n%s", b.where(), b.text(), strings.Join(all, "\n"))
}

// contributors looks at commands that are for a clone with Go: the packages, tests and variables that they name are there.
func (b *shownBlock) contributors(t *testing.T) {
	t.Helper()
	for _, l := range b.lines {
		command, _, _ := strings.Cut(l, "#")
		for _, word := range strings.Fields(command) {
			word = strings.Trim(word, "'^$")
			switch {
			case strings.Contains(word, "@"): // another module
			case strings.HasPrefix(word, "."):
				if _, err := os.Stat(filepath.Join(top, strings.TrimSuffix(word, "..."))); err != nil {
					t.Errorf("%s names %s, which is not there", b.where(), word)
				}
			case strings.HasPrefix(word, variables):
				if name, _, _ := strings.Cut(word, "="); !strings.Contains(testSources(t), `"`+name+`"`) {
					t.Errorf("%s: no test looks at %s", b.where(), name)
				}
			}
		}
		for _, m := range namedTests.FindAllStringSubmatch(command, -1) {
			pattern := regexp.MustCompile(strings.Trim(m[1], "'"))
			if pattern.String() != "^$" && !slices.ContainsFunc(testNames(t), pattern.MatchString) {
				t.Errorf("%s: there is no test %s", b.where(), pattern)
			}
		}
	}
}

var (
	namedTests = regexp.MustCompile(`-(?:run|bench|fuzz) (\S+)`)
	testFunc   = regexp.MustCompile(`(?m)^func ((?:Test|Fuzz|Benchmark)\w+)`)
)

// testSources is all that stands in the tests' sources, and testNames are the tests there.
var (
	testSources = once(func(t *testing.T) string {
		t.Helper()
		var all strings.Builder
		err := filepath.WalkDir(top, func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
				return err
			}
			b, err := os.ReadFile(path)
			all.Write(b)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return all.String()
	})
	testNames = once(func(t *testing.T) (all []string) {
		t.Helper()
		for _, m := range testFunc.FindAllStringSubmatch(testSources(t), -1) {
			all = append(all, m[1])
		}
		return all
	})
)

// once keeps what was made for the first test that asked.
func once[T any](makes func(*testing.T) T) func(*testing.T) T {
	var kept T
	made := false
	return func(t *testing.T) T {
		t.Helper()
		if !made {
			kept, made = makes(t), true
		}
		return kept
	}
}

// figuresLine begins a table of figures.
const figuresLine = "trammel practice --runs "

// figures looks at a table of figures. It takes a core half a minute to make again, so the rows' flags are looked at, and the figures
// only where TRAMMEL_FIGURES is set.
func (b *shownBlock) figures(t *testing.T) {
	t.Helper()
	head, is := strings.CutSuffix(b.lines[0], "…")
	rows := 0
	for i, l := range b.lines[1:] {
		m := figuresRow.FindStringSubmatch(l)
		if m == nil {
			continue // the heads of the columns
		}
		rows++
		where := fmt.Sprintf("%s:%d", b.page, b.line+1+i)
		line, err := parseShell(head + m[1] + " --json")
		if err != nil {
			t.Fatalf("%s: %v", where, err)
		}
		if line.looks(t, where); os.Getenv("TRAMMEL_FIGURES") == "" {
			continue
		}
		got := line.measured(t)
		if t.Log(m[1], got); got != strings.Join(strings.Fields(m[2]), " ") {
			t.Errorf("%s: shown %s, measured %s", where, l, got)
		}
	}
	if !is || rows < 3 {
		t.Errorf("%s: a table of figures with %d rows, whose command ends with …: %t", b.where(), rows, is)
	}
}

// measured are the figures of a row.
func (l *shellLine) measured(t *testing.T) string {
	t.Helper()
	type spread struct {
		Mean float64
		P95  int
	}
	var s struct {
		Within                  int `json:"truly_within"`
		Settled, Runs           int
		Trials, Readings, Winds spread
		Parked                  spread `json:"parked_readings"`
	}
	if err := json.Unmarshal([]byte(l.run(t, t.TempDir(), "")), &s); err != nil || s.Settled != s.Runs {
		t.Errorf("%v: accepted %d of %d: %v", l.words, s.Settled, s.Runs, err)
	}
	return fmt.Sprintf("%d %.2f %d %.1f %.1f %.1f", s.Within, s.Trials.Mean, s.Trials.P95, s.Readings.Mean, s.Parked.Mean, s.Winds.Mean)
}

var figuresRow = regexp.MustCompile(`^([a-z][a-z-]*(?: --?[a-z]+(?: [a-z0-9]+)?)*) {2,}(\d[\d. ]*)$`)
