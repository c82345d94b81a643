package keys

// Clear takes back what has been typed, and nothing else.
const Clear Action = "clear"

// ForOpen returns the bindings of the page that asks what is to become of sessions that are open, the most needed first.
// typed says that a number has been begun.
func ForOpen(typed bool) []Binding {
	if typed {
		return []Binding{
			bind(Enter, "take it", "", "enter", "ctrl+j"),
			bind(Clear, "clear", "", "/", "esc", "backspace", "ctrl+h", "delete"),
			bind(Quit, "leave", "", "q", "ctrl+c"),
			bind(Suspend, "to shell", "", "ctrl+z"),
		}
	}
	return []Binding{
		bind(Enter, "go on with 1", "", "enter", "ctrl+j"),
		bind(Quit, "leave", "", "/", "q", "ctrl+c"),
		bind(Suspend, "to shell", "", "ctrl+z"),
	}
}
