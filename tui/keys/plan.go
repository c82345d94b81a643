package keys

import "slices"

// Planned is what the keys of the plan view depend on.
type Planned struct {
	Page  bool   // a page lies over the plan
	Why   string // why the chosen element cannot be set; empty where it can
	Turns bool   // the side of the metal can be turned
	Names bool   // cutters can be named
	None  bool   // nothing is left to do, and no element is chosen
	Again bool   // the chosen arc is set already
	Set   bool   // a setting was accepted
	Where bool   // it can be told where one is
	Ticks bool   // the chosen element is ticked off, and not set
}

// enter is what Enter is called.
func (p *Planned) enter() string {
	switch {
	case p.Page:
		return "go on"
	case p.None:
		return "leave"
	case p.Again:
		return "twice: set again"
	case p.Ticks:
		return "tick it off"
	}
	return "set it up"
}

// ForPlan returns the bindings of the plan view, the most needed first.
// The plan has no readings: digits type the number of an element, and the keypad's signs go to the one before and after.
func ForPlan(p Planned) []Binding {
	why, leaves, leave := p.Why, "quit; nothing is set up", []string{"/", "q", "ctrl+c"}
	if p.Page {
		why, leave = "", leave[1:] // the bar closes the page
	}
	side := when(p.Turns && !p.Page, "the side of the metal cannot be turned here")
	if p.None && side == "" {
		side = "choose the element first, by its number"
	}
	if p.Set {
		leaves = "leave; what is accepted stays"
	}
	all := []Binding{
		bind(Enter, p.enter(), why, "enter", "ctrl+j"),
		said(bind(Up, "before", when(!p.Page, "a page lies over the plan"), "-", "up"), "the element before"),
		said(bind(Down, "after", when(!p.Page, "a page lies over the plan"), "+", "down"), "the element after"),
		bind(List, "list", "", "*"),
		said(bind(TurnSide, "turn the metal's side", side, "p"),
			"turn the side of the chosen element's metal"),
		said(bind(Cutters, "cutters", when(p.Names && !p.Page, "cutters cannot be named here"), "c"), "name the cutters at hand"),
		said(bind(Help, "help", "", "?", "f1"), "help: the signs, the keys"),
		said(bind(Quit, "leave", "", leave...), leaves),
		bind(Suspend, "to shell", "", "ctrl+z"),
	}
	if p.Where {
		where := said(bind(Where, "where", when(!p.Page, "a page lies over the plan"), "w"), "where one is with the whole part, on a page")
		all = slices.Insert(all, 4, where)
	}
	return all
}
