package pane

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

// refusals calls each with every refusal and error of the packages below the screen, as it is written: what was seen and needed,
// and what to do.
func refusals(t *testing.T, each func(where, text string)) {
	t.Helper()
	for _, dir := range []string{"../../indicator", "../../geom", ".."} {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files := token.NewFileSet()
			f, err := parser.ParseFile(files, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				name := ""
				switch fun := call.Fun.(type) {
				case *ast.Ident:
					name = fun.Name
				case *ast.SelectorExpr:
					name = fun.Sel.Name
				}
				if name != "refuse" && name != "Errorf" && name != "New" && name != "complain" {
					return true
				}
				var said []string
				for _, a := range call.Args {
					if s := literal(a); strings.Contains(s, " ") {
						said = append(said, s)
					}
				}
				if len(said) > 0 {
					each(files.Position(n.Pos()).String(), strings.Join(said, "; "))
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// literal is the text of a literal, or of literals joined by +; empty of anything else.
func literal(x ast.Expr) string {
	switch x := x.(type) {
	case *ast.BasicLit:
		if s, err := strconv.Unquote(x.Value); err == nil && x.Kind == token.STRING {
			return s
		}
	case *ast.BinaryExpr:
		return literal(x.X) + literal(x.Y)
	}
	return ""
}

// Every refusal of every package, its figures as long as they come, stands whole at the bottom of a window of 80 and of 60 columns,
// and what the hand does above it.
func TestRefusalsWrap(t *testing.T) {
	verb := regexp.MustCompile(`%[-+#0-9.*\[\]]*[a-zA-Z]`)
	v := begin(t, nil).answer(3+4, never).sees(false)
	parked := begin(t, nil).answer(3+6, never).sees(false)
	n := 0
	refusals(t, func(where, text string) {
		n++
		text = verb.ReplaceAllString(text, "−1234.5678 mm")
		for _, v := range []*View{v, parked} {
			for _, c := range [][2]int{{80, 24}, {60, 18}} {
				v.Status, v.Alarm = text, true
				drawn := ansi.Strip(nextAt(v, c[0], c[1]))
				flat := strings.Join(strings.Fields(drawn), " ")
				if want := strings.Join(strings.Fields(v.text(text)), " "); !strings.Contains(flat, want) {
					t.Errorf("%s at %d×%d is cut:\n%s\nwant %s", where, c[0], c[1], drawn, want)
				}
				if !toldIn(drawn, now(v).parts[0], false) {
					t.Errorf("%s at %d×%d: what the hand does is gone:\n%s", where, c[0], c[1], drawn)
				}
			}
		}
	})
	if n < 200 {
		t.Errorf("%d refusals walked, want 200 or more", n)
	}
}
