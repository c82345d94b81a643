package tui

import (
	"strings"

	"example.org/trammel/indicator/record"
	"example.org/trammel/tui/pane"
)

// wherePage says where one is with the whole part, each element a point of its own.
func wherePage(x *record.Where) pane.Topic {
	var b strings.Builder
	for _, row := range x.Rows() {
		b.WriteString("- " + row + "\n")
	}
	return pane.Topic{Name: "where", About: "where one is with the whole part", Text: b.String() + "\n" + x.NextWords() + "\n"}
}
