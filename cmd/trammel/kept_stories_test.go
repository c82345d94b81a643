package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
	"example.org/trammel/tui/theme"
)

// keptStory is a session that is played by simulated hands, with words and misreads between, the same each time. All that is told of it
// is held against what was told before, in the form of a digest for each way of telling: whether a figure is right other tests say,
// by what is published and by simulated machines; that none of a thousand others has changed unseen these say.
type keptStory struct {
	setup    practice.Setup
	seed     uint64
	hand     practice.Hand
	trap     practice.Trap
	coarse   bool // the machine begins 1.5 mm out
	steps    bool
	odds     int      // one word in so many answers; 0 for none
	job      []string // what the job's file says, and what it says instead
	machine  []string
	bearings session.Bearings

	width, height int // of the screen
	plain         bool
}

// keptStories are the stories by their names, in order.
func keptStories() (names []string, all map[string]*keptStory) {
	all = map[string]*keptStory{}
	sizes := [][2]int{{80, 24}, {200, 50}, {60, 18}, {40, 10}}
	add := func(name string, k keptStory) {
		size := sizes[len(names)%len(sizes)]
		k.width, k.height, k.plain = size[0], size[1], len(names)%5 == 4
		names, all[name] = append(names, name), &k
	}
	for _, s := range practice.Setups() {
		for seed := range uint64(3) {
			k := keptStory{setup: s, seed: 11 + seed, steps: seed == 1, odds: []int{0, 8, 3}[seed]}
			if seed == 2 && s.Dial() {
				k.hand = practice.Collar
			}
			add(fmt.Sprintf("%v %d", s, seed), k)
		}
	}
	for _, trap := range practice.Traps() {
		add("trap "+trap.String(), keptStory{seed: 23, trap: trap, odds: 12})
	}
	for _, name := range slices.Sorted(maps.Keys(keptJobs)) {
		for seed := range uint64(2) {
			add(fmt.Sprintf("%s %d", name, seed), keptStory{seed: 31 + seed, steps: seed == 1, odds: 9 * int(seed), job: keptJobs[name],
				coarse: name == "coarse"})
		}
	}
	for _, name := range slices.Sorted(maps.Keys(keptMachines)) {
		add(name, keptStory{seed: 41, odds: 6, machine: keptMachines[name], bearings: session.ByRing})
	}
	return names, all
}

// keptJobs are what else a job may say than that of practice.
var keptJobs = map[string][]string{
	"as it is":           nil,
	"coarse":             {"stations = 6", "stations = 5"},
	"plunger that falls": {"range = 1.6 ", "pressed = \"falls\"\nrange = 1.6 "},
	"aslant":             {"lever_angle = 0 ", "lever_angle = 25\nlever_angle_error = 3 #"},
	"to one side":        {"range = 1.6 ", "from = -0.9\nto = 1.4 #"},
	"nothing stated":     {"repeatability = 0.003", "", "\nerror = 0 ", "\n#", "reach_error = 0 ", "#"},
	"limits": {"reach_error = 0 ", "reach_error = 0.006 #", "form_error = 0 ", "form_error = 0.004 #", "\nerror = 0 ",
		"\nerror = 0.005 #"},
	"part of a circle": {"to = 360", "to = 220"},
	"seven":            {"stations = 6", "stations = 7", "centre_tolerance = 0.02 ", "centre_tolerance = 0.008 #"},
	"without stock":    {"stock = 0.3 ", "#"},
}

// keptMachines are what else a machine's file may say.
var keptMachines = map[string][]string{
	"left-hand screw":    {"clockwise = \"increase\"", "clockwise = \"decrease\""},
	"a readout":          {"readout = false", "readout = true"},
	"ring the other way": {"[slide.offset]", "[head]\nzero = 30\nsense = \"clockwise\"\n\n[slide.offset]"},
	"clamps":             {"readout = false", "readout = false\nlock = true"},
}

// keptWords are what a person may say besides what is asked for, of every kind.
var keptWords = []string{"undo", "undo", "skip", "keep", "closing", "even", "again", "enough", "note plate 7, ø60", "hold 42.03 0.02",
	"release", "at offset 41.9", "at x 3.2", "bezel 0.1 0.12", "off free", "off pressed", "accept", "0.1", "-0.333", "station", "stopped",
	"correction 0.02", "correction", "bias 0.01", "limit reach_error 0.01", "limit reference_radius 0.004", "collar x 12.5",
	"collar offset 50", "sense x up", "sense offset down", "sense y did not move", "sense tip up", "restate", "restate 1", "height 6",
	"chord 30 sagitta 2.2", "diameter 76.1", "from-hole 8.02", "d 76.02", "part", "part sweep", "part unswept", "bumped",
	"bumped untouched", "ring 10 80", "touch 1", "3.1 4.2", "done", "done"}

// files are the story's job and machine.
func (k *keptStory) files(t *testing.T) (jobText, machineText []byte) {
	t.Helper()
	changed := func(text []byte, changes []string) []byte {
		for i := 0; i < len(changes); i += 2 {
			if !bytes.Contains(text, []byte(changes[i])) {
				t.Fatalf("%q is not in the file", changes[i])
			}
		}
		return []byte(strings.NewReplacer(changes...).Replace(string(text)))
	}
	jobText, machineText = k.setup.Files()
	return changed(jobText, k.job), changed(machineText, k.machine)
}

// opening is what a story is opened with, and the machine that it is played on.
func (k *keptStory) opening(t *testing.T) (session.Opened, *practice.Machine) {
	t.Helper()
	jobText, machineText := k.files(t)
	world := k.setup.Bench(k.seed)
	jobText = k.trap.Lay(k.seed, &world, jobText)
	if k.coarse {
		world.Start.Swing, world.Start.CentreX, world.Start.CentreY = world.Start.Swing+1.2, world.Start.CentreX+1.4,
			world.Start.CentreY-0.6
	}
	set, err := practiceSetting(jobText, machineText)
	if err != nil {
		t.Fatal(err)
	}
	set.Program, set.Steps, set.Bearings = "trammel test", k.steps, k.bearings
	m := practice.New(world, k.seed)
	m.Hand = k.hand
	return set, m
}

// played plays a story, and returns the lines of its journal; seen is shown each prompt of it.
func (k *keptStory) played(t *testing.T, seen func(*session.Live)) [][]byte {
	t.Helper()
	set, machine := k.opening(t)
	chance, mem := rand.New(rand.NewPCG(k.seed, 77)), &session.Memory{}
	live := session.NewLive(session.State{}, mem)
	at := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	do := func(c session.Command) error {
		at = at.Add(20 * time.Second)
		_, err := live.Do(c, at)
		return err
	}
	if err := do(session.Open{Opened: set}); err != nil {
		t.Fatal(err)
	}
	for range 90 {
		seen(live)
		s := live.State()
		p := s.Prompt()
		c, ok, err := machine.Do(p)
		if err != nil || !ok {
			break
		}
		if k.odds > 0 && chance.IntN(k.odds) == 0 {
			word := keptWords[chance.IntN(len(keptWords))]
			if said, err := parseAnswer(word, func(text string) (session.Command, error) {
				return session.Parse(text,
					geom.Millimetre)
			}); err == nil {
				_ = do(said) // a refusal is part of the story
				continue
			}
		}
		if err := do(c); err != nil && k.odds == 0 {
			t.Fatal(err)
		}
	}
	return mem.Lines
}

// told is all that is told of a story, by the way of telling.
func (k *keptStory) told(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.ANSI)
	var screens strings.Builder
	at := time.Date(2025, 3, 4, 12, 0, 0, 0, time.UTC)
	n := 0
	lines := k.played(t, func(live *session.Live) {
		var m tea.Model = tui.NewModel(tui.Config{Live: live, Now: func() time.Time { return at }, Plain: k.plain}, theme.New(r, k.plain))
		m, _ = m.Update(tea.WindowSizeMsg{Width: k.width, Height: k.height})
		fmt.Fprintf(&screens, "%s\n", m.View())
		if n++; n%6 == 0 {
			for _, page := range []rune("*?tim") {
				paged, _ := m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{page}})
				fmt.Fprintf(&screens, "%c\n%s\n", page, paged.View())
			}
		}
	})
	out["screens"] = screens.String()
	home := t.TempDir()
	path := filepath.Join(home, "kept.jsonl")
	j, err := journal.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if err := j.Append(l); err != nil {
			t.Fatal(err)
		}
	}
	j.Close()
	for way, args := range map[string][]string{
		"lines": {"replay", path, "--json"}, "text": {"replay", path}, "inches": {"replay", path, "--unit", "in"},
		"report": {"report", path}, "rows": {"report", path, "--csv"},
	} {
		out[way] = strings.ReplaceAll(tellAt(t, home, "", args...), home, "HOME")
	}
	page := filepath.Join(home, "page.html")
	tellAt(t, home, "", "report", path, "-o", page)
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	out["page"] = string(text)
	return out
}

// What is told of the stories is what was told of them before.
func TestStoriesAreToldAsBefore(t *testing.T) {
	t.Parallel()
	names, all := keptStories()
	toldAsBefore(t, "stories", names, func(t *testing.T, name string) map[string]string { return all[name].told(t) })
}
