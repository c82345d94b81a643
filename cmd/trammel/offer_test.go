package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// livedIn is a person's home with a machine, journals, settings and a drawing in it, of which one name drives a terminal and another
// a shell; the drawing is returned.
func livedIn(t *testing.T) (home, plate string) {
	t.Helper()
	home = t.TempDir()
	for _, v := range []string{"HOME", "USERPROFILE"} {
		t.Setenv(v, home)
	}
	for _, v := range []string{"XDG_CONFIG_HOME", "XDG_DATA_HOME", "APPDATA", "LOCALAPPDATA"} {
		t.Setenv(v, filepath.Join(home, "base"))
	}
	at := filepath.Join(home, "base", "trammel")
	read := func(parts ...string) []byte {
		text, err := os.ReadFile(filepath.Join(append([]string{"..", ".."}, parts...)...))
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	machine, journal := read("indicator", "practice", "bench-machine.toml"), read("testdata", "journal", "v1-misread.jsonl")
	drawn := read("testdata", "drawing", "quadrant-plate.toml")
	plate = filepath.Join(home, "plate.toml")
	evil := strings.ReplaceAll(string(read("testdata", "drawing", "quadrant-plate.dxf")), "\nrim\n", "\nr\x1b[31m\u202eim\n")
	for name, text := range map[string][]byte{
		filepath.Join(at, "config.toml"):                   []byte("cutters = [8, 6]\n"),
		filepath.Join(at, "machines", "my mill.toml"):      machine,
		filepath.Join(at, "machines", "$(x) mill.toml"):    machine,
		filepath.Join(at, "jobs", "rims.toml"):             read("indicator", "practice", "bench-job.toml"),
		filepath.Join(at, "2026-01-01-0900-a-42mm.jsonl"):  journal,
		filepath.Join(at, "2026-01-02-0900-b-42mm.jsonl"):  journal,
		filepath.Join(at, "2026-01-03-0900\x1b[31m.jsonl"): journal,
		plate:                             drawn,
		filepath.Join(home, "evil.dxf"):   []byte(evil),
		filepath.Join(home, "torn.jsonl"): journal[:len(journal)-9],
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return home, plate
}

// tree is all that is below a folder: names, kinds and rights, when it was changed, and what the files hold.
func tree(t *testing.T, folder string) (all []string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		var text []byte
		if !d.IsDir() {
			if text, err = os.ReadFile(path); err != nil {
				return err
			}
		}
		all = append(all, fmt.Sprintf("%q %v %v %x", path, info.Mode(), info.ModTime().UnixNano(), digest("", text).SHA256))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// completes asks what may stand where a line ends, and returns it with what cobra calls the directive.
func completes(t *testing.T, line ...string) (names []string, directive string) {
	t.Helper()
	var out bytes.Buffer
	run(append([]string{cobra.ShellCompNoDescRequestCmd}, line...), world{out: &out, err: new(bytes.Buffer), now: time.Now,
		getenv: os.Getenv})
	names = strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	n := len(names) - 1
	if n < 0 || !strings.HasPrefix(names[n], ":") {
		t.Fatalf("%q: no directive at the end of %q", line, out.String())
	}
	return names[:n], names[n]
}

// Whatever is asked while a line is typed, at every verb, flag and argument: nothing in the person's home is made, changed or
// locked, and nothing that drives a terminal comes back.
func TestCompletionOnlyReads(t *testing.T) {
	home, plate := livedIn(t)
	t.Chdir(home)
	before := tree(t, home)
	asked := 0
	ask := func(line ...string) {
		names, _ := completes(t, line...)
		asked++
		for _, n := range names {
			if n != printable(n) || strings.Contains(n, "$(") {
				t.Errorf("%q offers %q", line, n)
			}
		}
	}
	for _, cmd := range verbs(newRoot(world{})) {
		path := strings.Fields(cmd.CommandPath())[1:]
		drawn := []string{plate}
		if cmd.Flags().Lookup("drawing") != nil {
			drawn = []string{"--drawing", plate}
		}
		args := [][]string{{""}, {plate, ""}, {"torn.jsonl", ""}}
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			if o := offersOf(f); o.known != nil { // of all others nothing is looked up
				args = append(args, append(slices.Clone(drawn), "--"+f.Name, ""))
			}
		})
		for _, a := range args {
			ask(append(path[:len(path):len(path)], a...)...)
		}
	}
	for _, flag := range []string{"--layer", "--metal", "--cutter"} {
		ask("plan", "evil.dxf", flag, "")
	}
	if asked < 110 { // as many as there were when this was written
		t.Errorf("%d lines asked", asked)
	}
	if after := tree(t, home); !slices.Equal(after, before) {
		t.Errorf("before:\n%s\nafter:\n%s", strings.Join(before, "\n"), strings.Join(after, "\n"))
	}
}

// What stands in the person's home and in the drawing on the line, counted by hand.
func TestOffers(t *testing.T) {
	home, plate := livedIn(t)
	t.Chdir(home)
	at := filepath.Join(home, "base", "trammel")
	a, b := filepath.Join(at, "2026-01-01-0900-a-42mm.jsonl"), filepath.Join(at, "2026-01-02-0900-b-42mm.jsonl")
	const (
		asTold  = ":4"  // no files
		inTurn  = ":36" // nor sorted
		files   = ":0"
		ending  = ":8"
		folders = ":16"
	)
	for _, c := range []struct {
		line      []string
		want      []string
		directive string
	}{
		{[]string{"dial", "--machine", ""}, []string{"my mill"}, asTold},
		{[]string{"dial", "--machine", "shop/"}, []string{"toml"}, ending},
		{[]string{"machine", "show", "m"}, []string{"my mill"}, asTold},
		{[]string{"dial", "--job", ""}, []string{"rims"}, asTold},
		{[]string{"replay", ""}, []string{b, a}, inTurn}, // the newest first
		{[]string{"replay", a[:len(a)-len("-42mm.jsonl")]}, []string{a}, inTurn},
		{[]string{"replay", "./"}, nil, files},
		{[]string{"note", a, ""}, nil, asTold},
		{[]string{"plan", ""}, []string{"dxf", "toml"}, ending},
		{[]string{"plan", plate, "--layer", ""}, []string{"boss", "bore", "slot", "rim"}, asTold},
		{[]string{"plan", plate, "--metal", "s"}, []string{"slot=inside", "slot=outside"}, asTold},
		{[]string{"plan", "evil.dxf", "--layer", ""}, []string{"bore", "boss", "r\ufffd[31m\ufffdim", "slot"}, asTold},
		{[]string{"plan", "-", "--layer", ""}, nil, asTold},
		{[]string{"dial", "--drawing", plate, "--layer", "bore", "--arc", ""}, []string{"1"}, inTurn},
		{[]string{"plan", plate, "--cutter", ""}, []string{"8", "6"}, inTurn},
		{[]string{"plan", plate, "--unit", "in", "--cutter", ""}, []string{"0.314961", "0.23622"}, inTurn}, // 25.4 mm are one inch
		{[]string{"practice", "--trap", "x"}, []string{"x-handle"}, asTold},
		{[]string{"--unit", ""}, []string{"mm", "in"}, asTold},
		{[]string{"check", "--metal", ""}, []string{"inside", "outside"}, asTold},
		{[]string{"help", "wor"}, []string{"words"}, asTold},
		{[]string{"help", "machine", "t"}, []string{"test"}, asTold},
		{[]string{"completion", ""}, []string{"bash", "zsh", "fish", "powershell"}, asTold},
		{[]string{"man", ""}, nil, folders},
		{[]string{"sessions", ""}, nil, asTold},
	} {
		got, directive := completes(t, c.line...)
		if !slices.Equal(got, c.want) || directive != c.directive {
			t.Errorf("%q: %q %s, want %q %s", c.line, got, directive, c.want, c.directive)
		}
	}
}

// Settings that cannot be read are in the way of nobody who types.
func TestCompletionWithDamagedSettings(t *testing.T) {
	home, _ := livedIn(t)
	if err := os.WriteFile(filepath.Join(home, "base", "trammel", "config.toml"), []byte("unit = [\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got, directive := completes(t, "dial", "--machine", ""); !slices.Equal(got, []string{"my mill"}) {
		t.Errorf("%q %s", got, directive)
	}
}

// Each row is of a flag or a verb that there is.
func TestOffersAreOfWhatThereIs(t *testing.T) {
	flags, places := map[string]bool{}, map[string]bool{}
	root := newRoot(world{})
	root.InitDefaultHelpCmd()
	for _, cmd := range verbs(root) {
		places[strings.TrimPrefix(cmd.CommandPath(), root.Name()+" ")] = true
		cmd.Flags().VisitAll(func(f *pflag.Flag) { flags[f.Name] = true })
	}
	for name := range flagOffers {
		if !flags[name] {
			t.Errorf("no verb has a flag --%s", name)
		}
	}
	for path := range argOffers {
		if !places[path] {
			t.Errorf("no verb is called %s", path)
		}
	}
}
