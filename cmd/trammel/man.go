package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func newMan(w world, c *common) *cobra.Command {
	return &cobra.Command{
		Use:   "man FOLDER",
		Short: "write the man pages of all verbs and topics",
		Long: `man writes a page for each verb and each topic of help into FOLDER, below man1 and man7, from
the texts that help prints. The folder is made where it is not there; pages that man has
written before are written again, and a file that it has not is left as it is.

Where ~/.local/bin is looked through for programs, ~/.local/share/man most often is for pages.`,
		Example: "  trammel man ~/.local/share/man",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return misuse("man takes one folder, seen %d", len(args))
			}
			if args[0] == "" {
				return misuse("man takes a folder, seen an empty name; . is the folder that you are in")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return manVerb(w, c, cmd.Root(), args[0]) },
	}
}

// pagesLine says that the pages are written.
type pagesLine struct {
	Say    string `json:"say"`
	Folder string `json:"folder"`
	Pages  int    `json:"pages"`
	first  string
}

func (l pagesLine) Text() string {
	return fmt.Sprintf("%d man pages in %s; man -l %s shows the first", l.Pages, printable(l.Folder), printable(quoted(l.first)))
}

// manVerb writes the pages: none where one would go over a file that is not such a page.
func manVerb(w world, c *common, root *cobra.Command, folder string) error {
	pages := manPages(root, inFooter(programName()), builtOn())
	for _, p := range pages {
		if err := p.free(folder); err != nil {
			return err
		}
	}
	for _, p := range pages {
		if err := replaceWith(p.path(folder), p.text, 0o755, 0o644); err != nil {
			return err
		}
	}
	return say(w, c, pagesLine{"man", folder, len(pages), pages[0].path(folder)})
}

// counted is a version that no tag has given and Go counts by the commit: a page's foot has no room for more than the commit.
var counted = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\bv?\d+\.\d+\.\d+-(?:[\w.]+\.)?\d{14}-([0-9a-f]{12})`)
})

func inFooter(program string) string { return counted().ReplaceAllString(program, "$1") }

// builtOn is the day of the commit that the program was built from; empty where nobody has said.
func builtOn() string {
	info, _ := debug.ReadBuildInfo()
	day, _, _ := strings.Cut(stampOf(info)["vcs.time"], "T")
	return day
}

// manPage is a page: trammel-dial in section 1.
type manPage struct {
	name    string
	section string
	text    []byte
}

func (p *manPage) path(folder string) string {
	return filepath.Join(folder, "man"+p.section, p.name+"."+p.section)
}

// ourPage is how a page of ours begins: a comment to roff.
const ourPage = `.\" Written by trammel man, which may write it again.`

// free refuses a page in whose place something stands that is no such page.
func (p *manPage) free(folder string) error {
	path := p.path(folder)
	text, err := readPlain(path, mostKept)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !bytes.HasPrefix(text, []byte(ourPage)):
		return withHint(fmt.Errorf("%s: is there already, and is no page that trammel has written", path),
			"move it away, or name another folder")
	}
	return nil
}

const (
	ofVerbs  = "1" // the section of programs
	ofTopics = "7" // of what belongs to none
)

// manPages are the pages of a command and all below it, the command's own first, and of the topics of help.
func manPages(root *cobra.Command, program, day string) (out []manPage) {
	add := func(name, section, about string, write func(*roff)) {
		r := roff{}
		fmt.Fprintf(&r.b, "%s\n.TH %s %s %s %s trammel\n.nh\n.ad l\n", ourPage, inQuotes(strings.ToUpper(name)), section, inQuotes(day),
			inQuotes(program))
		r.section("NAME")
		r.line(escaped(name) + ` \- ` + escaped(about))
		write(&r)
		out = append(out, manPage{name, section, r.b.Bytes()})
	}
	for _, c := range verbs(root) {
		if !untold(c) {
			c.InitDefaultHelpFlag()
			add(manName(c), ofVerbs, c.Short, func(r *roff) { r.verb(c) })
		}
	}
	for _, t := range helpTopics() {
		add(root.Name()+"-"+t.Name, ofTopics, t.About, func(r *roff) {
			r.section("DESCRIPTION")
			r.text(t.Text)
			near := []string{reference(root.Name(), ofVerbs)}
			if c, _, err := root.Find([]string{t.Name}); err == nil && c != root {
				near = append(near, reference(manName(c), ofVerbs))
			}
			r.seeAlso(near)
		})
	}
	return out
}

// untold are the commands that no page is about.
func untold(c *cobra.Command) bool { return c.Hidden || c.Name() == "help" }

func manName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// exits is what a program that starts this one goes by.
var exits = []struct{ code, what string }{
	{"0", "done"},
	{"1", "the data or the machine says no, or what was asked for was not had"},
	{"2", "wrong use"},
	{"128 and a signal's number", "a screen that the signal has ended"},
}

// verb writes the sections that a verb has and a topic has not.
func (r *roff) verb(c *cobra.Command) {
	r.section("SYNOPSIS")
	r.line(`\fB` + escaped(strings.TrimSuffix(c.UseLine(), " [flags]")) + `\fR [flags]`)
	r.section("DESCRIPTION")
	r.text(cmp.Or(c.Long, c.Short))
	below := slices.DeleteFunc(slices.Clone(c.Commands()), untold)
	if len(below) > 0 {
		r.section("VERBS")
	}
	for _, sub := range below {
		r.item(`\fB`+escaped(sub.Name())+`\fR`, sub.Short)
	}
	r.flags("OPTIONS", c.LocalFlags())
	r.flags("OPTIONS OF ALL VERBS", c.InheritedFlags())
	if c.Example != "" {
		r.section("EXAMPLES")
		r.literal(strings.Split(strings.Trim(c.Example, "\n"), "\n"))
	}
	r.section("EXIT STATUS")
	for _, e := range exits {
		r.item(escaped(e.code), e.what)
	}
	r.seeAlso(r.near(c, below))
}

// near are the pages above, below and beside a verb's; with the program's own stand all topics.
func (r *roff) near(c *cobra.Command, below []*cobra.Command) (all []string) {
	if c.HasParent() {
		all = append(all, reference(manName(c.Parent()), ofVerbs))
	}
	for _, sub := range below {
		all = append(all, reference(manName(sub), ofVerbs))
	}
	for _, t := range helpTopics() {
		if name := c.Root().Name() + "-" + t.Name; !c.HasParent() || name == manName(c) {
			all = append(all, reference(name, ofTopics))
		}
	}
	return all
}

func (r *roff) flags(title string, all *pflag.FlagSet) {
	if !all.HasAvailableFlags() {
		return
	}
	r.section(title)
	all.VisitAll(func(f *pflag.Flag) {
		name := `\fB` + escaped("--"+f.Name) + `\fR`
		if f.Shorthand != "" {
			name = `\fB` + escaped("-"+f.Shorthand) + `\fR, ` + name
		}
		if f.NoOptDefVal == "" {
			name += ` \fI` + escaped(f.Value.Type()) + `\fR`
		}
		r.item(name, f.Usage)
	})
}

// reference is a page as another names it.
func reference(name, section string) string { return `\fB` + escaped(name) + `\fR(` + section + `)` }

func (r *roff) seeAlso(pages []string) {
	r.section("SEE ALSO")
	r.line(strings.Join(pages, ",\n"))
}
