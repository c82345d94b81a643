package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/trammel/indicator/session"
)

// misread are words that were taken for something else at the machine, and what stands in their place. Common practice,
// no source: said by people who set such heads.
var misread = []struct{ words, instead string }{
	{`slide: stands at|\bbeside\b`, "needle at …, off by …; now at …"},
	{`\bbit(e|es|ing)\b`, "gouge, or a cutter that grabs"},
	{`beyond the dial|off, (pressed|free)\b|tip (pressed in|free)\b`, "off the dial: over-pressed, or not touching"},
	{`\b(radius|centre) none\b|, none\b`, "not judged"},
	{`\blarge radius\b`, "by size"},
	{`\bshut\b|\bload(s|ed|ing)? (the|%|\d|of)|slides? (is|are )?loaded|\bw(i|ou)nd off\b|%swind off`, "take up the backlash"},
	{`\b(the|of|with|every|neither|nor) play\b|\bplay( is| stays| lies| out|:|, (pitch|gain|lock)| [-+%\d–])`, "backlash"},
	{`clockwise past to|\bwind(ing)? past\b`, "back off to …, then come up to …"},
	{`\bprouder\b`, "proud"},
	{`\btaught\b|\bteach(es)?\b`, "learnt"},
	{`\bgain\b`, "screw error"},
	{`\bbias(ed)?\b`, "correction"},
	{`limits now|limited by the|what limits`, "largest error: …"},
	{`lobes? [a-z ]*cannot be seen`, "oval needs 6 stations, three-lobed 8"},
	{`degrees? of freedom`, "nothing: --json tells them"},
	{`counter-?clockwise`, "anticlockwise, with its eye"},
}

// mayStand are the exceptions: a text that begins like this, and why it may say so.
var mayStand = []struct{ text, why string }{
	{"bias [FIGURE]", "an entry word of old, which scripts use"},
	{"limit of the gain", "names the field of a file that is damaged"},
	{`"say":"bias"`, "a key of the JSON"},
}

var misreadWords = func() (all []*regexp.Regexp) {
	for _, m := range misread {
		all = append(all, regexp.MustCompile(`(?i)`+m.words))
	}
	return all
}()

// misreads says which words of a text are misread.
func misreads(text string) (out []string) {
	for _, x := range mayStand {
		text = strings.ReplaceAll(text, x.text, "")
	}
	for i, m := range misread {
		if w := misreadWords[i].FindString(text); w != "" {
			out = append(out, strconv.Quote(w)+", say: "+m.instead)
		}
	}
	return out
}

// A word that is taken for something else moves a slide the wrong way. All that a person reads is walked: what the
// sources hold of sentences, the verbs' and the entries' help, pages, screens, lines and records as they are kept, the
// README, and what scripts look for. What is one word alone may be a key of the JSON, which stays.
func TestNoWordIsMisread(t *testing.T) {
	seen := map[string]int{}
	check := func(kind, where, text string) {
		seen[kind]++
		for _, w := range misreads(text) {
			t.Errorf("%s: %s\n\t%.200s", where, w, text)
		}
	}
	sentences(t, func(where, text string) { check("sentence", where, text) })
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		check("verb", c.CommandPath(), c.Use+"\n"+c.Short+"\n"+c.Long+"\n"+c.Example)
		c.Flags().VisitAll(func(f *pflag.Flag) { check("flag", c.CommandPath()+" --"+f.Name, f.Usage) })
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(newRoot(world{}))
	for _, r := range session.Commands() {
		check("entry", r.Word, r.Label+"\n"+r.Asks)
		for _, f := range r.Forms {
			check("entry", r.Word, f.Text+": "+f.Help)
		}
	}
	for _, e := range session.Events() {
		check("undo", e.Kind, e.Undo)
	}
	pages(t, func(path, text string) {
		for i, line := range strings.Split(text, "\n") {
			check(filepath.Ext(path), path+":"+strconv.Itoa(i+1), line)
		}
	})
	// Fewer than there were when this was written: the walk has lost its way.
	for kind, least := range map[string]int{"sentence": 1500, "verb": 15, "flag": 100, "entry": 40, "undo": 20, ".golden": 2000,
		".txt": 1000, ".md": 120, ".html": 100, ".txtar": 500} {
		if seen[kind] < least {
			t.Errorf("%d texts of kind %s, at least %d were there", seen[kind], kind, least)
		}
	}
}

// A turn is told with the eye that sees it, on the same page; a line stands alone.
func TestTurnsHaveAnEye(t *testing.T) {
	eye := regexp.MustCompile(`facing\s+the\s+handle|\babove\b`)
	turn := regexp.MustCompile(`(^|[^."])\b(anti)?clockwise\b($|[^="]($|[^="]))`) // and nothing of a file: slide.x.clockwise, clockwise = "increase"
	seen := 0
	check := func(where, text string) {
		if !turn.MatchString(text) {
			return
		}
		if seen++; !eye.MatchString(text) {
			t.Errorf("%s: a turn without its eye\n%s", where, text)
		}
	}
	pages(t, func(path, text string) {
		switch {
		case strings.Contains(path, "testdata/lines/"):
			for i, line := range strings.Split(text, "\n") {
				check(path+":"+strconv.Itoa(i+1), line)
			}
		case filepath.Ext(path) == ".golden" && !strings.Contains(path, "tui/plot/") && !strings.Contains(path, "pane/testdata/picture/"):
			check(path, text) // the handwheel's picture stands beside the words that have it
		case filepath.Ext(path) == ".md" || strings.Contains(path, "trammel/help/"):
			check(path, text)
		}
	})
	if seen < 20 {
		t.Errorf("%d pages and lines tell a turn, need more to have looked at any", seen)
	}
}

// What is turned is no head: on a table the pass by hand is a dry turn, or both are named.
func TestTableIsTurnedDry(t *testing.T) {
	seen := 0
	pages(t, func(path, text string) {
		if !strings.Contains(filepath.Base(path), "turned") {
			return
		}
		for i, line := range strings.Split(text, "\n") {
			switch {
			case strings.Contains(line, "dry turn"):
				seen++
			case strings.Contains(line, "dry swing"):
				t.Errorf("%s:%d swings a table: %s", path, i+1, line)
			}
		}
	})
	if seen == 0 {
		t.Error("no page of a table tells a dry turn, need one to have looked at any")
	}
}

// sentences calls each with the texts of the sources that are more than a word: constants, joined where the source joins
// them; neither tags nor imports.
func sentences(t *testing.T, each func(where, text string)) {
	t.Helper()
	for _, dir := range []string{"cmd", "tui", "indicator", "geom"} {
		err := filepath.WalkDir(filepath.Join(top, dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files := token.NewFileSet()
			f, err := parser.ParseFile(files, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				switch x := n.(type) {
				case *ast.ImportSpec:
					return false
				case *ast.Field:
					x.Tag = nil
				case ast.Expr:
					if s, ok := joined(x); ok {
						if strings.Contains(strings.TrimSpace(s), " ") {
							each(files.Position(n.Pos()).String(), s)
						}
						return false
					}
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

// joined is the text of a literal, or of literals joined by +.
func joined(x ast.Expr) (string, bool) {
	switch x := x.(type) {
	case *ast.BasicLit:
		s, err := strconv.Unquote(x.Value)
		return s, err == nil && x.Kind == token.STRING
	case *ast.BinaryExpr:
		a, ok := joined(x.X)
		b, too := joined(x.Y)
		return a + b, ok && too && x.Op == token.ADD
	}
	return "", false
}

// pages calls each with what is kept of pages, screens, lines and records for a person, and what scripts look for in
// them.
func pages(t *testing.T, each func(path, text string)) {
	t.Helper()
	filled := regexp.MustCompile(`\{\{[^}]*\}\}`)
	looks := []string{"stdout", "! stdout", "stderr", "! stderr", "grep"}
	rooms := []string{"testdata/lines/", "testdata/record/", "trammel/help/"}
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		ext, in := filepath.Ext(path), filepath.ToSlash(path)
		if !slices.Contains([]string{".golden", ".html", ".md", ".txtar"}, ext) &&
			!(ext == ".txt" && slices.ContainsFunc(rooms, func(room string) bool { return strings.Contains(in, room) })) {
			return nil
		}
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		text := string(b)
		switch {
		case d.Name() == "DEVELOPERS.md": // read at a desk
			return nil
		case ext == ".html":
			text = filled.ReplaceAllString(text, "")
		case ext == ".txtar":
			lines := strings.Split(text, "\n")
			for i, l := range lines {
				if !slices.ContainsFunc(looks, func(v string) bool { return strings.HasPrefix(l, v+" ") }) {
					lines[i] = ""
				}
			}
			text = strings.Join(lines, "\n")
		}
		each(in, text)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
