package main

import (
	"bytes"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/trammel/indicator/lines"
)

// asks runs the program where there is no terminal, and returns what it says and its exit code.
func asks(args ...string) (out, complaints string, code int) {
	var o, c bytes.Buffer
	code = run(args, world{out: &o, err: &c})
	return o.String(), c.String(), code
}

// The page of words that a person asks for by name is the one that the screens have: every word with what it means.
func TestHelpWordsIsTheTable(t *testing.T) {
	out, complaints, code := asks("help", "words")
	if code != exitDone || complaints != "" {
		t.Fatalf("exit %d, %s", code, complaints)
	}
	page := strings.Join(strings.Fields(out), " ")
	for _, w := range lines.Words {
		if !strings.Contains(page, w.Text()) {
			t.Errorf("trammel help words does not say %q", w.Text())
		}
	}
}

// Two screens of 24 lines; the words are looked up, not read.
const (
	mostLines = 48
	lookedUp  = "words"
)

// widestTopic is what a printed block may take.
const widestTopic = 78

// otherTopic is how a page names another.
var otherTopic = regexp.MustCompile("trammel help ([a-z-]+)")

// Every page is there under its name, in plain signs, with a first line that fits the list; none is longer than two screens, and what
// it refers to is there. Every file is a row's.
func TestTopics(t *testing.T) {
	files, err := fs.Glob(helpPages, "help/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	list, _, _ := asks("help")
	root := newRoot(world{})
	if !regexp.MustCompile(`\nTopics \(trammel help TOPIC\):\n\nto begin with:\n  start (?s:.*)\n\nat the machine:\n  order `).MatchString(list) {
		t.Errorf("the topics do not stand under headings:\n%s", list)
	}
	for _, r := range topicRows {
		name := r.name
		if r.made == nil {
			files = slices.DeleteFunc(files, func(f string) bool { return f == "help/"+name+".txt" })
		}
		out, complaints, code := asks("help", name)
		page := r.page()
		switch {
		case code != exitDone || complaints != "":
			t.Errorf("help %s: exit %d, %s", name, code, complaints)
		case !regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`).MatchString(name):
			t.Errorf("%q is no name of a page", name)
		case !strings.HasPrefix(out, name+": "+page.About+"\n\n"):
			t.Errorf("help %s does not begin with its name and %q:\n%.200s", name, page.About, out)
		case !strings.Contains(list, "  "+name+" ") || !strings.Contains(list, page.About+"\n"):
			t.Errorf("trammel help does not list %s", name)
		}
		if n := utf8.RuneCountInString(page.About); n < 5 || n > 60 || strings.HasSuffix(page.About, ".") {
			t.Errorf("%s is about %q, need 5 to 60 characters and no full stop", name, page.About)
		}
		if n := strings.Count(out, "\n"); n > mostLines && name != lookedUp {
			t.Errorf("%s has %d lines, need at most %d: split it", name, n, mostLines)
		}
		for i, l := range strings.Split(out, "\n") {
			if n := utf8.RuneCountInString(l); n > widestTopic {
				t.Errorf("%s:%d has %d columns, need at most %d: %s", name, i+1, n, widestTopic, l)
			}
			if odd := strings.Map(func(r rune) rune {
				if r >= ' ' && r <= '~' || strings.ContainsRune("°±…−", r) {
					return -1
				}
				return r
			}, l); odd != "" {
				t.Errorf("%s:%d holds %q, which not every terminal shows", name, i+1, odd)
			}
		}
		if m := regexp.MustCompile(`\d\n\s*(%|mm\b)`).FindString(out); m != "" {
			t.Errorf("%s tears a figure from its unit: %q", name, m)
		}
		for _, other := range otherTopic.FindAllStringSubmatch(out, -1) {
			if _, ok := findTopic(other[1]); !ok {
				t.Errorf("%s names the page %s, which is not there", name, other[1])
			}
		}
		verb, _, err := root.Find([]string{name})
		if is := err == nil && verb != root; is != strings.HasSuffix(out, "\nIts flags: trammel "+name+" --help\n") {
			t.Errorf("%s is a verb: %t, and its page ends with:\n%s", name, is, out[max(0, len(out)-100):])
		}
	}
	if len(files) > 0 {
		t.Errorf("%q stand in no row of the pages", files)
	}
}

// A page is as wide as it is to be, and what is kept as it stands is not wrapped.
func TestTopicIsWrapped(t *testing.T) {
	p, _ := findTopic("safety")
	p.Text += "\n    $ trammel practice --setup turned --auto --seed 7 --hand parked\n"
	for _, l := range strings.Split(p.Page(40), "\n") {
		if utf8.RuneCountInString(l) > 40 && !strings.HasPrefix(l, "    $ ") {
			t.Errorf("%q is longer than 40", l)
		}
	}
	narrow, wide := strings.Join(strings.Fields(p.Page(40)), " "), strings.Join(strings.Fields(p.Page(70)), " ")
	if narrow != wide {
		t.Errorf("40 columns say\n%s\n70 say\n%s", narrow, wide)
	}
}

// Of an unknown page the names that are near are told.
func TestHelpOfNonsense(t *testing.T) {
	for asked, near := range map[string]string{
		"safty": "near it: safety;", "repot": "near it: report;", "word": "near it: words;", "mach": "near it: machine",
		"xyzzy": "hint: trammel help lists verbs and topics; the topics: start, safety, keys,", "machinefill": "near it: machine-file;",
		"backlash": "hint: trammel help words says what it means;", "Swing radius": "hint: trammel help words",
	} {
		out, complaints, code := asks("help", asked)
		if code != exitUse || out != "" || !strings.Contains(complaints, near) || !strings.Contains(complaints, `no help on "`+asked+`"`) {
			t.Errorf("help %s: exit %d, %s%s\nwant %d and %q", asked, code, out, complaints, exitUse, near)
		}
	}
	if out, complaints, code := asks("help", "reach", "nonsense"); code != exitUse || out != "" {
		t.Errorf("help reach nonsense: exit %d, %s%s", code, out, complaints)
	}
}

// A flag's value is told once.
func TestWrongFlagIsToldOnce(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"practice --lesson 4", `error: --lesson "4", need 1 (`},
		{"fit --reach abc", `error: --reach "abc" is not a number, need `},
		{"report -o", "error: flag needs an argument: 'o' in -o"},
	} {
		_, complaints, code := asks(strings.Fields(c.args)...)
		if code != exitUse || !strings.Contains(complaints, c.want) {
			t.Errorf("%s: exit %d, %s\nwant %s", c.args, code, complaints, c.want)
		}
	}
}

// Every verb that does something has an example in its help; TestWhatIsShown types it.
func TestExamples(t *testing.T) {
	root := newRoot(world{})
	for _, e := range examples {
		if c, rest, err := root.Find(strings.Fields(e.verb)); err != nil || len(rest) > 0 || !c.Runnable() && c.HasParent() {
			t.Errorf("an example of %q, which is no verb", e.verb)
		}
	}
	for _, c := range allVerbs(root) {
		if c.Runnable() && c.Name() != "help" && !strings.Contains(c.Example, c.CommandPath()) {
			t.Errorf("the help of %q has no example of it: %q", c.CommandPath(), c.Example)
		}
	}
}
