//go:build unix

package main

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// startPage is the program without a verb on a terminal.
func startPage(t *testing.T, home string, w, h int) *presser {
	t.Helper()
	cmd := program(t, home)
	cmd.Args[0] = byTheWatch()
	return &presser{on(t, cmd, w, h), keypads[0]}
}

// In an empty home Enter alone is practice: its lessons, and the machine without one; left, its page comes back with what was said; /
// leaves, and nothing is on the disk.
func TestStartIsPractice(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	p := startPage(t, home, 40, 10)
	p.shows("1  practice", "Enter 1, practice")
	p.raws()
	p.presses("\r")
	p.shows("1  lesson 1: read, fit", "4  the machine without")
	p.presses("4\r")
	p.shows("Enter: go on")
	p.types("q")
	p.shows("1  lesson 1: read, fit", "0  more, page 1 of")
	p.presses("/")
	p.shows("1  practice")
	p.presses("/")
	if end := p.ends(exitDone); !strings.Contains(end, "practice machine") {
		t.Errorf("the last words are %q, want what practice said", end)
	}
	if all := kept(t, home); len(all) != 0 {
		t.Errorf("files %v are there, want none", all)
	}
}

// keysOf counts what is pressed.
type keysOf struct {
	*presser
	n int
}

func (k *keysOf) presses(keys string) {
	k.t.Helper()
	k.n += len(keys)
	k.presser.presses(keys)
}

// firstMachine and firstJob answer the questions for the practice bench: what the screen is waited for, and what is pressed then.
// The figures are those of its files; what the owner does not know, or is proposed, is Enter alone.
var firstMachine = [][2]string{
	{"what the machine is called", "\r"}, {"in which unit its figures are", "\r"}, {"which slides it has", "\r"},
	{"moves the offset slide", "\r"}, {"collar of the offset slide", "\r"}, {"away\n", "1\r"}, {"movement at the offset", "\r"},
	{"how much backlash the offset", "\r"}, {"readout watches the offset", "\r"}, {"whether the offset slide is clamped", "\r"},
	{"travel of the offset slide ends", "\r"},
	{"moves the X slide", "\r"}, {"collar of the X slide", "\r"}, {"right\n", "1\r"}, {"movement at the X", "\r"},
	{"how much backlash the X", "\r"}, {"readout watches the X", "\r"}, {"whether the X slide is clamped", "\r"},
	{"travel of the X slide ends", "\r"},
	{"moves the Y slide", "4\r"}, {"collar of the Y slide", "\r"}, {"towards\n", "2\r"}, {"movement at the Y", "\r"},
	{"how much backlash the Y", "\r"}, {"readout watches the Y", "\r"}, {"whether the Y slide is clamped", "\r"},
	{"travel of the Y slide ends", "\r"},
	{"ring shows 0", "\r"}, {"turn the head a little", "\r"}, {"one mark of the head's ring", "\r"},
	{"an indicator with a cable", "\r"},
	{"page 1 of 2", "\r"}, {"page 2 of 2", "\r"},
}

var firstJob = [][2]string{
	{"in which unit you read", "\r"}, {"how it is set", "\r"}, {"the swing radius that is wanted", "42\r"},
	{"how far the swing radius may be off", "0,02\r"}, {"how far the axis may stand off", "\r"}, {"the cutter's diameter", "\r"},
	{"at how many places", "\r"}, {"one mark of the dial", "\r"}, {"one turn of the dial's needle", "\r"},
	{"how far the dial's tip goes", "1.6\r"}, {"the dial's own error", "0.003\r"},
	{"do its figures grow, or fall", "\r"}, {"how well a reading repeats", "0.003\r"},
	{"what the tip touches", "\r"}, {"the radius of the bore", "30\r"}, {"how the diameter of the bore is known", "1\r"},
	{"what is known of how round the bore is", "\r"},
	{"the diameter of the tip's ball", "\r"}, {"would read zero at the target with −12 mm", "-12\r"}, {"how the reach is known", "1\r"},
	{"under which name", "\r"}, {"all is answered", "\r"},
}

// answersAll answers questions as they come.
func (k *keysOf) answersAll(all [][2]string) {
	k.t.Helper()
	for _, a := range all {
		k.shows(a[0])
		k.presses(a[1])
	}
}

// From an empty home to an accepted setting by the keys of a numeric keypad, without leaving the program: the start page, the first
// machine, the first job, steps, winds and readings of a simulated machine that is none of the program's; and back on the start page. A
// second start knows the machine, sees the session again and writes its report.
func TestFirstSetting(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	k := &keysOf{presser: startPage(t, home, 80, 24)}
	k.shows("2  a new setting")
	k.presses("2\r")
	k.shows("first the machine, for none is known yet")
	k.answersAll(firstMachine)
	k.answersAll(firstJob)
	k.shows("swing to 42.000")
	m := practice.New(practice.Bench(7), 7)
	asked := k.works(m)
	t.Logf("from an empty home to the first question for a reading: %d keys, %.1f minutes at one a second", asked, float64(asked)/60)
	if asked > 120 {
		t.Errorf("%d keys to the first question for a reading, want at most 120: two minutes", asked)
	}
	k.shows("accepted in trial 2", "Enter goes on to the steps up to the checked arc")
	if at := m.Truth(); math.Abs(at.Swing-42) > 0.02 || math.Hypot(at.CentreX, at.CentreY) > 0.02 {
		t.Errorf("the machine truly stands at %+v, want swing 42 ± 0.02, centre 0 ± 0.02", at)
	}
	k.lists("quit")
	k.shows("1  go on with swing 42 mm on mill: accepted in trial", "checked arc are to come", "2  a new setting", "is written to")
	k.presses("/")
	k.ends(exitDone)

	p := startPage(t, home, 80, 24)
	p.shows("6  see a session again", "4  machines")
	p.presses("6\r")
	p.shows("1  swing 42 mm on mill: accepted in trial")
	p.presses("\r")
	p.shows("write its report")
	p.presses("2\r")
	p.shows("the report is", ".html", "6  see a session again")
	p.presses("6\r")
	p.shows("1  swing 42 mm on mill: accepted in trial")
	p.presses("\r")
	p.shows("see it again")
	p.presses("\r")
	p.shows("event 1 of")
	p.answers("q")
	p.shows("4  machines")
	p.presses("4\r")
	p.shows("1  what is stated of a machine", "2  a new machine")
	p.presses("\r")
	p.shows("offset: 2 mm a turn, 100 divisions")
	p.presses("/")
	p.shows("2  a new setting")
	p.presses("8\r")
	p.ends(exitDone)
	reports, err := filepath.Glob(filepath.Join(home, "*.html"))
	if err != nil || len(reports) != 1 {
		t.Fatalf("reports %q (%v), want one", reports, err)
	}
	if text, err := os.ReadFile(reports[0]); err != nil || !strings.Contains(string(text), "accepted in trial") {
		t.Errorf("%s (%v) does not say what was accepted", reports[0], err)
	}
}

// works does at a machine what the session waits for until it is accepted, and returns how many keys were pressed before the first reading
// was asked for. What is waited for is read in the journal, which is on disk before the screen shows it.
func (k *keysOf) works(m *practice.Machine) (asked int) {
	k.t.Helper()
	all, err := filepath.Glob(filepath.Join(k.cmd.Dir, "data", "trammel", "*.jsonl"))
	if err != nil || len(all) != 1 {
		k.t.Fatalf("journals %q (%v), want one", all, err)
	}
	for range 100 {
		k.reads("\r") // until nothing more is written of what was done before
		s := folded(k.t, all[0])
		if s.Accepted() {
			return asked
		}
		p := s.Prompt()
		if p.Waits == session.ForReading && asked == 0 {
			asked = k.n
		}
		c, ok, err := m.Do(p)
		if err != nil || !ok {
			k.t.Fatalf("the machine does nothing for %d: %v", p.Waits, err)
		}
		keys := "\r"
		if took, is := c.(session.Take); is {
			keys = strconv.FormatFloat(took.Reading, 'f', -1, 64) + "\r"
		}
		for n := 0; folded(k.t, all[0]).Events == s.Events; n++ { // a page before it, a piece of it, or what is asked once more
			if n > 9 {
				k.t.Fatalf("%q brings nothing:\n%s", keys, k.page())
			}
			before := k.page()
			k.presses(keys)
			k.until("what the keys do", func(rows []string) bool { return strings.Join(rows, "\n") != before })
			k.reads("\r")
			keys = "\r"
		}
	}
	k.t.Fatal("it is never accepted")
	return 0
}

// folded is what a journal holds; its last line may be being written.
func folded(t testing.TB, path string) session.State {
	t.Helper()
	got, err := journal.Read(path)
	if err != nil || got.Err() != nil {
		t.Fatalf("%v, %v", err, got.Err())
	}
	s, err := session.Fold(got.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What is open stands first, the one worked on last, with what it has reached, and Enter alone goes on with it; those that nothing is
// entered in stand behind it, and more than three have a page of their own. On a screen that is told to end, it ends.
func TestStartGoesOn(t *testing.T) {
	t.Parallel()
	home := openHome(t, [2]string{"a.jsonl", ""}, [2]string{"b.jsonl", threeRead}, [2]string{"c.jsonl", ""}, [2]string{"d.jsonl", ""},
		[2]string{"e.jsonl", ""})
	p := startPage(t, home, 80, 24)
	p.shows("1  go on with swing 42 mm on practice mill with offset head: trial 1, 3", "b.jsonl", "8  go on with", "only opened",
		"2  a new setting",
		"10  another open session, 2 of them", "11  leave")
	p.presses("\r")
	p.shows("station 4 of 6")
	p.types("0.32\r")
	p.shows("station 5 of 6")
	p.types("q")
	p.shows("1  go on with swing 42 mm on practice mill with offset head: trial 1, 4", "paused")
	p.presses("10\r")
	p.shows("which session goes on", "1  swing 42 mm on", "2  swing 42 mm on")
	p.presses("/")
	p.shows("2  a new setting")
	p.signals(syscall.SIGTERM)
	p.ends(128 + int(syscall.SIGTERM))
}

// A signal ends the program from a screen that the start page has led to, too, and how to go on is told; a stop from outside is
// carried out there as everywhere (TestStoppedFromOutside).
func TestSignalBehindStart(t *testing.T) {
	t.Parallel()
	home := openHome(t, [2]string{"b.jsonl", threeRead})
	for _, s := range []syscall.Signal{syscall.SIGHUP, syscall.SIGINT} {
		p := startPage(t, home, 80, 24)
		p.shows("1  go on with")
		p.presses("\r")
		p.shows("station 4 of 6")
		p.signals(s)
		if end := p.ends(128 + int(s)); !strings.Contains(strings.Join(strings.Fields(end), ""), "dial--resume--journal") {
			t.Errorf("%v: the last words are %q, want how to go on", s, end)
		}
	}
}

// The arcs of a drawing: what no drawing is is not offered, a name may be typed, and one that cannot be read is refused on the page. The
// job file in the folder is offered beside the questions.
func TestStartDrawing(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "drawing", plateFiles[0]))
	if err != nil {
		t.Fatal(err)
	}
	sub := filepath.Join(home, "plates")
	for name, content := range map[string]string{"a.dxf": string(text), "no.dxf": "no drawing\n", "plates/b.dxf": string(text)} {
		if err := os.MkdirAll(sub, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(home, name), []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := program(t, home)
	cmd.Args[0] = byTheWatch()
	cmd.Env = append(cmd.Env, "TRAMMEL_MACHINE="+filepath.Join(home, benchFiles[1]))
	p := &presser{on(t, cmd, 80, 24), keypads[0]}
	p.shows("3  the arcs of a drawing")
	p.presses("3\r")
	p.shows("which drawing; or type the name of its file", "1  a.dxf")
	if page := p.page(); strings.Contains(page, "no.dxf") || strings.Contains(page, ".toml") {
		t.Errorf("what is no drawing is offered:\n%s", page)
	}
	p.types("plates/none.dxf\r")
	p.shows("which drawing; or type the name of its file", "no such file")
	p.answers("plates/b.dxf\r")
	p.shows("how the arcs are set", "1  by questions", "2  bench-job.toml")
	p.presses("2\r")
	p.shows("the diameters of the cutters at hand")
	p.presses("\r")
	p.shows("has no default")
	p.lists("don't know")
	p.shows("all is answered")
	p.presses("\r")
	p.shows("plan of b", "arc 1 has no swing radius: * and name a cutter")
	p.lists("name the cutters at hand")
	p.shows("the diameters of the cutters at hand, for this plan")
	p.presses("10+6\r")
	p.shows("all is answered")
	p.presses("\r")
	p.shows("plan of b", "Enter sets arc 15 up")
	p.answers("q")
	p.shows("3  the arcs of a drawing")
	p.presses("/")
	p.ends(exitDone)
}

// The next part is a setting in the journal of the one before, by what that was set by.
func TestStartNextPart(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	path := filepath.Join(home, "data", "trammel", "before.jsonl")
	text, err := os.ReadFile("../../testdata/journal/v1-practice-7.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	before := folded(t, path)
	p := startPage(t, home, 80, 24)
	p.shows("1  the next part, set as the one before was")
	p.presses("\r")
	p.shows("bore R 30.000", "swing to 42.000")
	p.answers("q")
	p.shows("1  go on with swing 42 mm")
	p.presses("/")
	p.ends(exitDone)
	now := folded(t, path)
	old := *before.Set
	old.Job.Dial.Before = now.Set.Job.Dial.Before // by which rules a misread is looked for: each setting has its own
	before.Set = &old
	if now.Accepted() || now.Events <= before.Events || now.Trial != 1 || !reflect.DeepEqual(now.Set.Job, before.Set.Job) {
		t.Errorf("accepted %v with %d events, in trial %d of\n%+v; want a new setting of\n%+v", now.Accepted(), now.Events, now.Trial,
			now.Set.Job, before.Set.Job)
	}
}

// Or it begins on the setting as it was left, by the page as by the flag.
func TestStartPartOnTheSetting(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	path := filepath.Join(home, "data", "trammel", "before.jsonl")
	text, err := os.ReadFile("../../testdata/journal/v1-practice-7.jsonl")
	if err == nil {
		err = os.MkdirAll(filepath.Dir(path), 0o700)
	}
	if err == nil {
		err = os.WriteFile(path, text, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	p := startPage(t, home, 80, 24)
	p.shows("7  the next part on the setting as it was left")
	p.presses("7\r")
	p.shows("part 2 · trial 1")
	p.answers("q")
	p.shows("1  go on with swing 42 mm", "part 2, trial 1, 0")
	p.presses("/")
	p.ends(exitDone)
	if now := folded(t, path); now.Part != 2 || now.Phase != session.Sweeping {
		t.Errorf("part %d in phase %d; want part 2, sweeping", now.Part, now.Phase)
	}
}

// An arc of a drawing is called by it on the start page, and one that is gone on with from there leads back to its plan: by the journal
// alone, for the flags that it was begun with are nowhere else. Where the drawing has changed meanwhile, that is said.
func TestStartGoesBackToThePlan(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	// 36 and half a cutter of 12 make the 42 that the bench's reach is for: nothing is asked.
	disc := filepath.Join(home, "disc.toml")
	write := func(radius string) {
		t.Helper()
		text := "unit = \"mm\"\n[[circle]]\nlayer = \"rim\"\ncentre = [10, 0]\nradius = " + radius + "\nmetal = \"inside\"\n"
		if err := os.WriteFile(disc, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("36")
	begin := program(t, home, "dial", "--lines", "--job", benchFiles[0], "--machine", filepath.Join(home, benchFiles[1]), "--drawing", disc,
		"--cutter", "12", "--datum=-5,0", "--arc", "1")
	begin.Stdin = strings.NewReader("quit\n")
	if out, err := begin.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	cmd := program(t, home)
	cmd.Args[0] = byTheWatch()
	cmd.Env = append(cmd.Env, "TRAMMEL_MACHINE="+filepath.Join(home, benchFiles[1]))
	p := &presser{on(t, cmd, 80, 24), keypads[0]}
	p.shows("1  go on with arc 1 of disc, swing 42 mm on practice mill")
	p.presses("\r")
	p.shows("swing to 42.000")
	p.types("q")
	p.shows("plan of disc", "0 of 1 arcs set", "? begun", "12.000", "centre at readout 15.000, 0.000")
	p.answers("q")
	p.shows("1  go on with arc 1 of disc")
	write("35")
	p.presses("\r")
	p.shows("swing to 42.000")
	p.types("q")
	p.shows("1  go on with arc 1 of disc", "the other arcs are behind", "its drawing is not there as it was")
	p.presses("3\r")
	p.shows("which drawing", "1  disc.toml")
	p.presses("\r")
	p.shows("how the arcs are set", "1  bench-job.toml", "2  by questions") // by which the one before was set
	p.presses("/")
	p.shows("2  a new setting")
	p.presses("/")
	p.ends(exitDone)
}
