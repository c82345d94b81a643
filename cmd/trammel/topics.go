package main

import (
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/indicator/lines"
)

// topic is a page of help that belongs to no verb: trammel help NAME prints it.
type topic struct{ name, short, page string }

// topicWidth is how wide the lines of a page are at the most.
const topicWidth = 78

var topics = []topic{
	{"words", "what the words mean", lines.WordsText(topicWidth)},
}

// addTopics hangs the pages under the root: a command without anything to run is a page to cobra.
func addTopics(root *cobra.Command) {
	var names []string
	for _, t := range topics {
		names = append(names, t.name)
		root.AddCommand(&cobra.Command{Use: t.name, Short: t.short, Long: t.page, DisableFlagsInUseLine: true})
	}
	root.SetHelpCommand(&cobra.Command{
		Use:   "help [VERB or TOPIC]",
		Short: "help on a verb, or on a topic: " + strings.Join(names, ", "),
		RunE: func(_ *cobra.Command, args []string) error {
			c, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return misuse("no help on %q, need a verb or a topic: %s", strings.Join(args, " "), strings.Join(names, ", "))
			}
			c.InitDefaultHelpFlag()
			return c.Help()
		},
	})
}
