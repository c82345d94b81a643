package keys

// Before goes to the question before.
const Before Action = "question before"

// Asked is what the keys of a page of questions depend on.
type Asked struct {
	Typed bool   // something stands in the entry
	Text  bool   // the answer is a text, which letters belong to
	Begun bool   // there is a question before
	More  bool   // the page goes on with another leaf
	Part  bool   // a later leaf is shown
	Takes string // what Enter alone takes; empty for nothing
	Once  bool   // something is asked for once more
	Path  bool   // the answer may have / in it
}

// ForAsk returns the bindings of a page of questions, the most needed first.
func ForAsk(a Asked) []Binding {
	enter, bar := a.Takes, "question before"
	action := Before
	switch {
	case a.Once:
		enter, bar, action = "leave", "stay", Clear
	case a.Typed:
		enter, bar, action = "take it", "clear", Clear
	case a.More:
		enter = "shows more"
	case a.Takes == "":
		enter = "take"
	}
	switch {
	case a.Once, a.Typed:
	case a.Part:
		bar = "back"
	case !a.Begun:
		bar, action = "leave", Quit
	}
	clears := []string{"/", "esc"}
	if a.Path && !a.Once && !a.Part {
		clears = clears[1:]
	}
	if a.Typed {
		clears = append(clears, "backspace", "ctrl+h", "delete")
	}
	leave := []string{"q", "ctrl+c"}
	if a.Text { // which letters are typed into
		leave = leave[1:]
	}
	out := []Binding{bind(Enter, enter, "", "enter", "ctrl+j"), bind(action, bar, "", clears...), bind(List, "list", "", "*")}
	return append(out, said(bind(Help, "explain", "", "?", "f1"), "explain what is asked"),
		said(bind(Quit, "leave", "", leave...), "leave the questions"), bind(Suspend, "to shell", "", "ctrl+z"))
}

// ForAskPage returns the bindings of a page that lies over a question: its explanation, or the list; pages says that other pages of
// help can be listed there.
func ForAskPage(list, pages bool) []Binding {
	if list {
		return []Binding{bind(Enter, "take the number", "", "enter", "ctrl+j"), bind(List, "close", "", "*", "/", "esc"),
			bind(Quit, "leave", "", "ctrl+c"), bind(Suspend, "to shell", "", "ctrl+z")}
	}
	out := []Binding{bind(Enter, "go on", "", "enter", "ctrl+j", "?", "f1"), bind(Clear, "close", "", "/", "esc"),
		bind(Quit, "leave", "", "ctrl+c"), bind(Suspend, "to shell", "", "ctrl+z")}
	if pages {
		return append(out, bind(List, "pages", "", "*"))
	}
	return out
}
