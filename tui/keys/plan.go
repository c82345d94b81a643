package keys

// ForPlan returns the bindings of the plan view, the most needed first. page says that a page lies over it,
// why why the chosen element cannot be set; empty when it can. turns says that the side of the metal can be turned.
func ForPlan(page bool, why string, turns bool) []Binding {
	enter := "set it up"
	if page {
		enter, why = "go on", ""
	}
	return []Binding{
		bind(Enter, enter, why, "enter", "ctrl+j"),
		bind(Up, "before", when(!page, "a page lies over the plan"), "up"),
		bind(Down, "after", when(!page, "a page lies over the plan"), "down"),
		bind(TurnSide, "turn the metal's side", when(turns && !page, "the side of the metal cannot be turned here"), "p"),
		bind(Help, "keys", "", "?", "f1"),
		bind(Quit, "quit", "", "q", "ctrl+c"),
		bind(Suspend, "to shell", "", "ctrl+z"),
	}
}
