package main

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.org/trammel/tui/pane"
)

// window is how wide the terminal is that is printed to; 0: it is none.
func (w world) window() int {
	if f, ok := w.uncareful().(*os.File); ok && isTerminal(f) {
		if wide, _, err := term.GetSize(int(f.Fd())); err == nil {
			return max(wide, leastWidth)
		}
	}
	return 0
}

// wrapHelp has the help on verbs fit the terminal; elsewhere it stays a line for each thing, to be searched.
func wrapHelp(w world, root *cobra.Command) {
	whole := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, args []string) {
		var text bytes.Buffer
		out := c.OutOrStdout()
		c.SetOut(&text)
		whole(c, args)
		c.SetOut(out)
		fmt.Fprint(out, wrapped(text.String(), w.window()))
	})
}

const examplesHead = "Examples:" // as the library writes it

// columns are what a line begins with up to the last of its columns: a name and spaces.
var columns = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^ +\S.*?  +`)
})

// wrapped are lines of at most w columns. Lines that begin at the edge are one paragraph up to a blank one; an indented one goes on
// below its last column. Examples stay as they are: they are copied.
func wrapped(text string, w int) string {
	if w == 0 {
		return text
	}
	var out []string
	paragraph, examples := "", false
	end := func() {
		if paragraph != "" {
			out = append(out, pane.Hanging(paragraph, w, 0)...)
		}
		paragraph = ""
	}
	for l := range strings.SplitSeq(text, "\n") {
		switch indented := strings.HasPrefix(l, " "); {
		case l != "" && !indented:
			examples = l == examplesHead
			paragraph = strings.TrimPrefix(paragraph+" "+l, " ")
			continue
		case !indented || examples:
			end()
			out = append(out, l)
		default:
			end()
			out = append(out, pane.Hanging(l, w, hang(l, w))...)
		}
	}
	end()
	return strings.Join(out, "\n")
}

// hang is by how much what goes on of an indented line is indented: as its last column, where that has room for every word of it.
func hang(l string, w int) int {
	in := len(columns().FindString(l))
	longest := 0
	for word := range strings.FieldsSeq(l[in:]) {
		longest = max(longest, len(word))
	}
	if in == 0 || in+max(longest, 20) > w {
		return len(l) - len(strings.TrimLeft(l, " ")) + 4
	}
	return in
}
