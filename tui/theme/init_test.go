package theme_test

import (
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/tui/theme"
	tea "github.com/charmbracelet/bubbletea"
)

// The test binary links bubbletea, as the program does; without this line the tests below would
// prove nothing.
var _ tea.Model

// quitAtOnce makes a child of this test binary end before any test, after every init function.
const quitAtOnce = "THEME_TEST_QUIT_AT_ONCE"

func TestMain(m *testing.M) {
	if os.Getenv(quitAtOnce) != "" {
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// The runtime itself is asked in which order packages were initialised (GODEBUG=inittrace=1,
// package runtime, "Environment Variables").
func TestInitialisedBeforeBubbletea(t *testing.T) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), quitAtOnce+"=1", "GODEBUG=inittrace=1")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	ours := strings.Index(string(out), "init "+reflect.TypeOf(theme.Theme{}).PkgPath()+" @")
	theirs := strings.Index(string(out), "init github.com/charmbracelet/bubbletea @")
	if ours < 0 || theirs < 0 || ours > theirs {
		t.Errorf("theme at byte %d, bubbletea at byte %d of the trace, want theme first:\n%s", ours, theirs, out)
	}
}

// A further import could make the package wait until after bubbletea.
func TestImportsLipglossOnly(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		read++
		for _, imp := range f.Imports {
			if imp.Path.Value != `"github.com/charmbracelet/lipgloss"` {
				t.Errorf("%s imports %s, want lipgloss only", name, imp.Path.Value)
			}
		}
	}
	if read == 0 {
		t.Fatal("no source file found")
	}
}
