package keys

// ForPlan returns the bindings of the plan view, the most needed first. page says that a page lies over it,
// why says why the chosen element cannot be set; empty when it can. turns says that the side of the metal can be turned.
// names that cutters can be named.
// The plan has no readings: digits type the number of an element, and the keypad's signs go to the one before and after.
func ForPlan(page bool, why string, turns, names bool) []Binding {
	enter := "set it up"
	if page {
		enter, why = "go on", ""
	}
	return []Binding{
		bind(Enter, enter, why, "enter", "ctrl+j"),
		said(bind(Up, "before", when(!page, "a page lies over the plan"), "-", "up"), "the element before"),
		said(bind(Down, "after", when(!page, "a page lies over the plan"), "+", "down"), "the element after"),
		bind(List, "list", "", "*"),
		said(bind(TurnSide, "turn the metal's side", when(turns && !page, "the side of the metal cannot be turned here"), "p"),
			"turn the side of the chosen element's metal"),
		said(bind(Cutters, "cutters", when(names && !page, "cutters cannot be named here"), "c"), "name the cutters at hand"),
		said(bind(Help, "help", "", "?", "f1"), "help: the signs, the keys"),
		said(bind(Quit, "quit", "", "q", "ctrl+c"), "quit; nothing is set up"),
		bind(Suspend, "to shell", "", "ctrl+z"),
	}
}
