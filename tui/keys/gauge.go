package keys

// Gauged is what the keys of the page that sets a cable indicator up depend on.
type Gauged struct {
	List bool // a list lies over the page
	Once bool // what is written, or left, is asked for once more
	Gone bool // the line is not there
}

// ForGauge returns the bindings of that page, the most needed first.
func ForGauge(g Gauged) []Binding {
	shell := bind(Suspend, "to shell", "", "ctrl+z")
	switch {
	case g.List:
		return []Binding{bind(Enter, "take the number", "", "enter", "ctrl+j"), bind(List, "close", "", "*", "/", "esc"),
			bind(Quit, "leave", "", "ctrl+c"), shell}
	case g.Once:
		return []Binding{bind(Enter, "yes", "", "enter", "ctrl+j"), bind(Clear, "back", "", "/", "*", "esc"),
			bind(Quit, "leave", "", "ctrl+c"), shell}
	}
	enter := said(bind(Enter, "it is right", "", "enter", "ctrl+j"), "it is right: keep it in the machine's file")
	if g.Gone {
		enter = said(bind(Enter, "try again", "", "enter", "ctrl+j"), "open the line again")
	}
	return []Binding{
		enter,
		bind(List, "change something", "", "*"),
		said(bind(Quit, "leave", "", "/", "q", "ctrl+c", "esc"), "leave"),
		shell,
	}
}
