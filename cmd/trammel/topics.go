package main

import (
	"embed"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/tui/pane"
)

//go:embed help/*.txt
var helpPages embed.FS

// topicRow is a page of help: trammel help NAME prints it, and the screens' help lists it.
type topicRow struct {
	name string
	// made is a page whose text is made elsewhere; nil: help/NAME.txt, whose first line says what it is about.
	made func() string
	// under is the heading that it and those behind it are listed under; empty: that of the row before.
	under string
}

// topicRows are the pages in the order in which they are listed: what is asked for at the machine first.
var topicRows = []topicRow{
	{name: "start", under: "to begin with"},
	{name: "safety"},
	{name: "keys"},
	{name: "order", under: "at the machine"},
	{name: "sweep"},
	{name: "winding"},
	{name: "signs"},
	{name: "verdict"},
	{name: "roundness"},
	{name: "two-points"},
	{name: "depth"},
	{name: "stops"},
	{name: "parts"},
	{name: "trial-cut"},
	{name: "moved"},
	{name: "questions", under: "your machine and your job, by answers or in files"},
	{name: "needle"},
	{name: "machine-file"},
	{name: "job-file"},
	{name: "job-options"},
	{name: "setups"},
	{name: "table"},
	{name: "points"},
	{name: "taps"},
	{name: "set-off"},
	{name: "reach", under: "reach, drawing, and the check of what was cut"},
	{name: "check"},
	{name: "correction"},
	{name: "blends"},
	{name: "drawing"},
	{name: "ends"},
	{name: "straights"},
	{name: "outline"},
	{name: "levels"},
	{name: "plate"},
	{name: "arcs"},
	{name: "no-hole"},
	{name: "journal", under: "record, cable, settings, shells"},
	{name: "gauge"},
	{name: "gauge-file"},
	{name: "settings"},
	{name: "inches"},
	{name: "shell"},
	{name: "figures", under: "about the program"},
	{name: "trust"},
	{name: "changes"},
	{name: "words", made: func() string { return "what the words mean\n\n" + lines.WordsText() }},
}

// Pages are at most so wide; a window that is smaller than the least gets what that one gets.
const (
	topicWidth = 78
	leastWidth = 40
)

// page reads a page.
func (r topicRow) page() pane.Topic {
	var text string
	if r.made != nil {
		text = r.made()
	} else {
		b, err := helpPages.ReadFile("help/" + r.name + ".txt")
		if err != nil {
			panic(fmt.Sprintf("page %s of the help: %v", r.name, err)) // it was forgotten where the program was built
		}
		text = string(b)
	}
	about, text, _ := strings.Cut(text, "\n")
	return pane.Topic{Name: r.name, About: about, Text: strings.TrimLeft(text, "\n")}
}

// helpTopics are all pages of help.
func helpTopics() (all []pane.Topic) {
	for _, r := range topicRows {
		all = append(all, r.page())
	}
	return all
}

// findTopic is the page of a name.
func findTopic(name string) (t pane.Topic, ok bool) {
	for _, r := range topicRows {
		if r.name == name {
			return r.page(), true
		}
	}
	return t, false
}

// pageWidth is how wide a page is printed: as the window, where there is one, within bounds.
func (w world) pageWidth() int {
	if wide := w.window(); wide > 0 {
		return min(wide, topicWidth)
	}
	return topicWidth
}

// addTopics has help print the pages, and the root's own help list them.
func addTopics(w world, root *cobra.Command) {
	var list strings.Builder
	wide := 0
	for _, r := range topicRows {
		wide = max(wide, len(r.name))
	}
	for _, r := range topicRows {
		if r.under != "" {
			fmt.Fprintf(&list, "\n%s:\n", r.under)
		}
		fmt.Fprintf(&list, "  %-*s  %s\n", wide, r.name, r.page().About)
	}
	root.SetUsageTemplate(root.UsageTemplate() + "{{if not .HasParent}}\nTopics (trammel help TOPIC):\n" + list.String() + "{{end}}")
	root.SetHelpCommand(&cobra.Command{
		Use:   "help [VERB or TOPIC]",
		Short: "list verbs and topics, or help on one of them",
		RunE:  func(_ *cobra.Command, args []string) error { return helpVerb(w, root, args) },
	})
}

// helpVerb prints the page of a topic, else the help on a verb.
func helpVerb(w world, root *cobra.Command, args []string) error {
	c, rest, err := root.Find(args)
	verb := err == nil && len(rest) == 0
	if len(args) == 1 {
		if t, ok := findTopic(args[0]); ok {
			text := t.Page(w.pageWidth())
			if verb {
				text += fmt.Sprintf("\nIts flags: trammel %s --help\n", t.Name)
			}
			_, err := fmt.Fprint(w.out, text)
			return err
		}
	}
	if !verb {
		asked := strings.Join(args, " ")
		near := nearestHelp(root, asked)
		if near == listedBy {
			near += "; the topics: " + strings.Join(topicNames(), ", ")
		}
		return withHint(misuse("no help on %q, need a verb or a topic", asked), "%s", near)
	}
	c.InitDefaultHelpFlag()
	return c.Help()
}

func topicNames() (all []string) {
	for _, r := range topicRows {
		all = append(all, r.name)
	}
	return all
}

const listedBy = "trammel help lists verbs and topics"

// nearestHelp says which verbs and topics are called nearly so, or that the page of words tells of it; else how all are listed.
func nearestHelp(root *cobra.Command, asked string) string {
	if slices.ContainsFunc(lines.Words, func(w lines.Word) bool { return strings.EqualFold(w.Name, asked) }) {
		return "trammel help words says what it means; " + listedBy
	}
	// By the library's own distance, over both: a letter in three may be another.
	names := &cobra.Command{SuggestionsMinimumDistance: max(2, len(asked)/3)}
	add := func(name string) { names.AddCommand(&cobra.Command{Use: name, Run: func(*cobra.Command, []string) {}}) }
	for _, verb := range root.Commands() {
		add(verb.Name())
	}
	for _, topic := range topicNames() {
		if c, _, err := root.Find([]string{topic}); err != nil || c == root {
			add(topic)
		}
	}
	near := names.SuggestionsFor(asked)
	if len(near) == 0 {
		return listedBy
	}
	return "near it: " + strings.Join(near, ", ") + "; " + listedBy
}
