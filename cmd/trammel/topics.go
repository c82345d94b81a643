package main

import (
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
	for _, t := range topics {
		root.AddCommand(&cobra.Command{Use: t.name, Short: t.short, Long: t.page, DisableFlagsInUseLine: true})
	}
}
