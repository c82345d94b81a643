package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// module is the module's path, top its folder as seen from this package.
const (
	module = "example.org/trammel/"
	top    = "../.."
)

// outside are the packages of the standard library that reach outside the program. Files belong
// to the journal and to cmd, everything else of it to cmd.
var outside = map[string][]string{
	"os": {"cmd/trammel", "indicator/journal"}, "io/fs": {"cmd/trammel", "indicator/journal"},
	"path/filepath": {"cmd/trammel", "indicator/journal"},
	"os/signal":     {"cmd/trammel"}, "os/exec": {"cmd/trammel"}, "os/user": {"cmd/trammel"}, // the group that owns a device
	"syscall": {"cmd/trammel"}, "net": nil, "net/http": nil, "log": nil,
	"log/slog":  nil,
	"math/rand": nil, "math/rand/v2": {"indicator/practice"},
}

// clock are the functions that look at a clock or end the program: in cmd only.
var clock = map[string][]string{
	"time":    {"Now", "Since", "Until", "Sleep"},
	"os":      {"Exit"},
	"syscall": {"Exit", "Kill"},
}

// source is one file of the program.
type source struct {
	room, name string // folder from the module's top, file name
	file       *ast.File
}

// sources parses every file that is compiled into some build of the program.
func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	err := filepath.WalkDir(top, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(top, p)
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name := d.Name(); rel != "." && (name == "testdata" || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_")) {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		all = append(all, source{room: path.Dir(rel), name: path.Base(rel), file: f})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// imports returns the paths that a file imports, by the name it knows each under.
func (s source) imports(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, spec := range s.file.Imports {
		p, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		name := path.Base(p)
		if name == "v2" {
			name = path.Base(path.Dir(p))
		}
		if p == "github.com/charmbracelet/bubbletea" {
			name = "tea"
		}
		if spec.Name != nil {
			name = spec.Name.Name
		}
		if name == "." {
			t.Errorf("%s/%s: imports %s without a name", s.room, s.name, p)
		}
		out[name] = p
	}
	return out
}

// uses calls each for every name.Selector in a file where the name is an import.
func (s source) uses(t *testing.T, each func(importPath, selector string)) {
	t.Helper()
	known := s.imports(t)
	ast.Inspect(s.file, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if id, ok := sel.X.(*ast.Ident); ok && known[id.Name] != "" {
				each(known[id.Name], sel.Sel.Name)
			}
		}
		return true
	})
}

// Every package is a room of the table and imports what the table allows; of other modules the table
// allows nothing that a room has no use for.
func TestRooms(t *testing.T) {
	rooms := tableOfRooms(t)
	used := map[string][]string{}
	for _, s := range sources(t) {
		i := slices.IndexFunc(rooms, func(r room) bool { return r.name == s.room })
		if i < 0 {
			t.Errorf("%s/%s: %s is no room of the table", s.room, s.name, s.room)
			continue
		}
		imports := slices.Collect(maps.Values(s.imports(t)))
		used[s.room] = append(used[s.room], imports...)
		for _, p := range imports {
			ours, isOurs := strings.CutPrefix(p, module)
			first, _, _ := strings.Cut(p, "/")
			switch {
			case isOurs && !rooms[i].mayUse(ours):
				t.Errorf("%s/%s imports our %s, may use %q", s.room, s.name, ours, rooms[i].ours)
			case !isOurs && strings.Contains(first, ".") && !covers(rooms[i].others, p):
				t.Errorf("%s/%s imports %s, may use %q", s.room, s.name, p, rooms[i].others)
			}
			if where, reaches := outside[p]; reaches && !slices.Contains(where, s.room) {
				t.Errorf("%s/%s imports %s, which belongs to %q only", s.room, s.name, p, where)
			}
		}
	}
	for _, r := range rooms {
		if _, seen := used[r.name]; !seen {
			t.Errorf("the table has a room %s that has no file", r.name)
		}
		for _, allowed := range r.others {
			if !slices.ContainsFunc(used[r.name], func(p string) bool { return covers([]string{allowed}, p) }) {
				t.Errorf("the table lets %s use %s, which it does not", r.name, allowed)
			}
		}
	}
}

// The clock is looked at, and the program ended, in cmd only; the terminal library's program is
// held in one file, so that no part can send to it from inside its own loop.
func TestWhoMay(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sources(t) {
		s.uses(t, func(p, name string) {
			seen[p+"."+name] = true
			if slices.Contains(clock[p], name) && s.room != "cmd/trammel" {
				t.Errorf("%s/%s uses %s.%s, which belongs to cmd", s.room, s.name, p, name)
			}
			if p == "github.com/charmbracelet/bubbletea" && (name == "Program" || name == "NewProgram") &&
				s.room+"/"+s.name != "tui/run.go" {
				t.Errorf("%s/%s uses tea.%s, which belongs to tui/run.go", s.room, s.name, name)
			}
		})
	}
	// What is searched for is there to be found.
	for _, name := range []string{"time.Now", "os.Exit", "github.com/charmbracelet/bubbletea.NewProgram"} {
		if !seen[name] {
			t.Errorf("%s is used nowhere, so this test sees nothing", name)
		}
	}
}

// The simulated machine judges the program, so it takes no formula from what it judges: of the
// slides only the words that a wind is told in, and a slide as the program states it, of the session only what is asked and answered.
func TestPracticeSharesNoFormula(t *testing.T) {
	words := []string{"Move", "Turn", "Clockwise", "Anticlockwise", "Slide"}
	for _, s := range sources(t) {
		if s.room != "indicator/practice" {
			continue
		}
		s.uses(t, func(p, name string) {
			if p == module+"indicator/slide" && !slices.Contains(words, name) {
				t.Errorf("%s/%s uses slide.%s, may use %q", s.room, s.name, name, words)
			}
		})
	}
}

// At the module's top stand these names and no other; beside them only names with a dot in front.
func TestTopLevel(t *testing.T) {
	names := []string{"cmd", "tui", "geom", "indicator", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE"}
	ignored, err := os.ReadFile(filepath.Join(top, ".gitignore"))
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(top)
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]bool{}
	for _, e := range entries {
		name := e.Name()
		there[name] = true
		leftOut := slices.ContainsFunc(strings.Fields(string(ignored)), func(pattern string) bool {
			ok, _ := path.Match(strings.TrimPrefix(pattern, "/"), name)
			return ok
		})
		if !slices.Contains(names, name) && !strings.HasPrefix(name, ".") && !leftOut {
			t.Errorf("%s stands at the top, allowed are %q", name, names)
		}
	}
	for _, name := range names {
		if !there[name] {
			t.Errorf("%s is missing at the top", name)
		}
	}
}
