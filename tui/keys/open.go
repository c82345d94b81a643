package keys

// Clear takes back what has been typed, and nothing else.
const Clear Action = "clear"

// Menu is what the keys of a page of numbered answers depend on.
type Menu struct {
	Typed, Name   bool   // something is typed, and it is no number
	Takes, Leaves string // what Enter alone does, and what / does
	Help          bool   // there are pages of help
}

// ForMenu returns the bindings of such a page, the most needed first. The bar belongs to the name of a file that is begun.
func ForMenu(m Menu) []Binding {
	if m.Name {
		return []Binding{
			bind(Enter, "take it", "", "enter", "ctrl+j"),
			bind(Clear, "clear", "", "esc", "backspace", "ctrl+h", "delete"),
			bind(Quit, m.Leaves, "", "ctrl+c"),
			bind(Suspend, "to shell", "", "ctrl+z"),
		}
	}
	if m.Typed {
		return []Binding{
			bind(Enter, "take it", "", "enter", "ctrl+j"),
			bind(Clear, "clear", "", "/", "esc", "backspace", "ctrl+h", "delete"),
			bind(Quit, m.Leaves, "", "q", "ctrl+c"),
			bind(Suspend, "to shell", "", "ctrl+z"),
		}
	}
	out := []Binding{
		bind(Enter, m.Takes, "", "enter", "ctrl+j"),
		bind(Quit, m.Leaves, "", "/", "q", "ctrl+c"),
	}
	if m.Help {
		out = append(out, bind(List, "list", "", "*"), bind(Help, "help", "", "?", "f1"))
	}
	return append(out, bind(Suspend, "to shell", "", "ctrl+z"))
}
