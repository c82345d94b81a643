package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/trammel/tui/keys"
	"example.org/trammel/tui/pane"
	"example.org/trammel/tui/theme"
)

// topics are the pages of help that belong to no step, as far as a screen has them, and which of them lies there in place of the
// help page itself.
type topics struct {
	all []pane.Topic
	at  int // from 1; 0: the help page itself
}

// leaves is the help page of these chapters, or the page in its place.
func (p *topics) leaves(t theme.Theme, chapters []pane.Chapter, w, h int) pane.Leaves {
	if p.at > 0 {
		return pane.TopicPage(t, p.page(), w, h)
	}
	if p.lists() && len(chapters) > 0 {
		chapters[0].Rows = append(chapters[0].Rows, pane.Row{Text: pane.OtherPages, Dim: true})
	}
	return pane.Chapters(t, chapters, w, h)
}

// lists reports whether the list of the help page is that of the other pages.
func (p *topics) lists() bool { return p.at == 0 && len(p.all) > 0 }

// pagesOfHelp heads the list of them.
const pagesOfHelp = "the pages of help"

// page is the page that lies there.
func (p *topics) page() *pane.Topic { return &p.all[p.at-1] }

// heading is that of the list; empty where it is that of all that can be done now.
func (p *topics) heading(help bool) string {
	if help && p.lists() {
		return pagesOfHelp
	}
	return ""
}

// named are the keys while the help page is read, its list being that of the other pages.
func (p *topics) named(all []keys.Binding) []keys.Binding {
	for i := range all {
		if p.lists() && all[i].Action == keys.List {
			all[i].SetHelp(all[i].Help().Key, "pages")
		}
	}
	return all
}

// topicItems are lines for the pages, from 1; open puts one in the place of the help page.
func topicItems[M any](all []pane.Topic, open func(m M, at int) M) (out []item[M]) {
	for i := range all {
		out = append(out, item[M]{words: all[i].Heading(), do: func(m M) (M, tea.Cmd) { return open(m, i+1), nil }})
	}
	return out
}
