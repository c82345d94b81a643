package main

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// escapes are those of roff that the pages are written with, and what groff 1.22 shows of them in a terminal (seen; .ci/run has man
// itself look for what it does not know).
var escapes = regexp.MustCompile(`\\(&|e|-|\((?:ha|ti|ga|aq)|f[BIR]|\[u[0-9A-F]{4,6}\])`)

func shown(t *testing.T, line string) string {
	t.Helper()
	if rest := escapes.ReplaceAllString(line, ""); strings.ContainsAny(rest, "\\^~`'") {
		t.Errorf("%q: an escape that is not among them, or what should be one", line)
	}
	return escapes.ReplaceAllStringFunc(line, func(e string) string {
		if hex, ok := strings.CutPrefix(e, `\[u`); ok {
			n, err := strconv.ParseUint(hex[:len(hex)-1], 16, 32)
			if err != nil {
				t.Errorf("%q: %v", line, err)
			}
			return string(rune(n))
		}
		return map[string]string{`\&`: "", `\e`: `\`, `\-`: "-", `\(ha`: "^", `\(ti`: "~", `\(ga`: "`", `\(aq`: "'"}[e]
	})
}

// Every word that help says of a verb or a topic stands in its page, and each line of a page is one of text or a request that
// groff_man(7) knows.
func TestManPages(t *testing.T) {
	request := regexp.MustCompile(`^\.(TH|SH|TP|PP|nf|fi|nh|ad l|IP \\- 2|in( \d+n?)?)( .*)?$`)
	root := newRoot(world{})
	pages := map[string]string{}
	for _, p := range manPages(root, "trammel 0.3.0", "2026-11-30") {
		lines := strings.Split(strings.TrimSuffix(string(p.text), "\n"), "\n")
		if lines[0] != ourPage {
			t.Errorf("%s begins with %q", p.name, lines[0])
		}
		want := `.TH "` + strings.ReplaceAll(strings.ToUpper(p.name), "-", `\-`) + `" ` + p.section +
			` "2026\-11\-30" "trammel 0.3.0" trammel`
		if lines[1] != want {
			t.Errorf("%s is headed %q, want %q", p.name, lines[1], want)
		}
		var text []string
		for _, l := range lines[1:] {
			switch {
			case strings.HasPrefix(l, "."):
				if !request.MatchString(l) {
					t.Errorf("%s: %q", p.name, l)
				}
			case strings.ContainsFunc(l, func(r rune) bool { return r > '~' || r < ' ' }):
				t.Errorf("%s: not ASCII: %q", p.name, l)
			default:
				text = append(text, shown(t, l))
			}
		}
		pages[p.name+"."+p.section] = strings.Join(strings.Fields(strings.Join(text, " ")), " ")
	}
	saying := func(name string) (says func(string)) {
		page, ok := pages[name]
		if !ok {
			t.Errorf("no page %s", name)
		}
		return func(what string) {
			if words := strings.Join(strings.Fields(what), " "); !strings.Contains(page, words) {
				t.Errorf("%s does not say %q", name, words)
			}
		}
	}
	for _, topic := range helpTopics() {
		says := saying("trammel-" + topic.Name + ".7")
		says(topic.About)
		for l := range strings.SplitSeq(topic.Text, "\n") { // a dash that begins a point is the page's own
			says(strings.TrimPrefix(l, "- "))
		}
	}
	for _, c := range verbs(root) {
		says := saying(manName(c) + ".1")
		says(c.Short)
		says(c.Long)
		says(c.Example)
		if c.Runnable() {
			says(c.UseLine())
			c.Flags().VisitAll(func(f *pflag.Flag) { says("--" + f.Name); says(f.Usage) })
		}
	}
}

// What would be a request to roff, or mean something else to it, is text.
func TestRoffText(t *testing.T) {
	var r roff
	r.text(".TH is text\n'so is this\nback\\slash -1 ~ ^ ` 'x' ±0,02 … ▸\n\n  .as it stands\n")
	want := ".PP\n\\&.TH is text\n\\(aqso is this\nback\\eslash \\-1 \\(ti \\(ha \\(ga \\(aqx\\(aq \\[u00B1]0,02 \\[u2026] \\[u25B8]\n" +
		".PP\n.nf\n.in 7n\n  .as it stands\n.in\n.fi\n"
	if got := r.b.String(); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Between the foot's sides a terminal of 80 columns has room for a day in the middle: at most 34 columns before it. What Go calls a
// commit without a tag is longer (go.dev/ref/mod#pseudo-versions).
func TestManFooter(t *testing.T) {
	for program, want := range map[string]string{
		"trammel 0.3.0": "trammel 0.3.0", "trammel development": "trammel development",
		"trammel 0.0.0-20261130151201-ea7947bc0f3c":              "trammel ea7947bc0f3c",
		"trammel 0.3.1-0.20261130151201-ea7947bc0f3c+dirty":      "trammel ea7947bc0f3c+dirty",
		"trammel 1.0.0-rc.1.0.20261130151201-ea7947bc0f3c+dirty": "trammel ea7947bc0f3c+dirty",
	} {
		if got := inFooter(program); got != want || len(got) > 34 {
			t.Errorf("%q: %q, want %q", program, got, want)
		}
	}
}
