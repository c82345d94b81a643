// Package keys holds every key of the screen: what it does, what it is called, and why it
// cannot act now. The last line of the screen and the help page are made from the same
// bindings that the program acts on.
//
// The keys of what a person may enter are made from the session's command rows, which say plain
// characters; the screen's own stand in own.go. Which come first, order.go says.
//
// No key begins a number: an indicator's cable may type readings. The hand that types lies on the numeric keypad, where
// digits and signs belong to readings and three keys are left: Enter, / and *. Enter takes or confirms, / takes back, and
// * opens the list of all that can be done now, by numbers. Letters are shortcuts.
package keys

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"

	"example.org/trammel/indicator/session"
)

// Action is what a key does: one of the screen's own, or what the key of a command row is called.
type Action string

// Binding is one key that may act.
type Binding struct {
	key.Binding
	Action Action
	// Row is what a person enters with it; nil for a key of the screen itself.
	Row *session.CommandRow
	// Why says why the key cannot act now; empty when it can.
	Why string
	// Says is what it does in a sentence, for a list; empty where the row or the key's own help says it.
	Says string
}

// Situation is all that the bindings depend on.
type Situation struct {
	session.Now
	Practice bool
	Needle   bool // Enter alone takes what the cable indicator stands still at
	Page     bool // a page (help, setup, trials, form) lies over the work
	Typed    bool // something stands in the entry
	More     bool // the action goes on with another piece
	Part     bool // a later piece of it is shown: / shows the one before
	// NoForm says why the form of the reference cannot be judged; empty when it can.
	NoForm string
	Lost   bool // an entry could not be put on record: only looking and leaving are left
	// End is what Enter does on the page of what was reached, which lies there; empty where it does not. Over says that nothing
	// is left to go on with.
	End  string
	Over bool
	// Hand is what the arrow keys do at a simulated machine: wind, or tap; empty for nothing.
	Hand string
}

// For returns the bindings of a situation, the most needed first.
func For(s Situation) []Binding {
	var b []Binding
	for _, a := range order(&s) {
		if k, ok := bound(&s, a); ok {
			b = append(b, k)
		}
	}
	if s.Lost {
		b = append([]Binding{bind(Retry, "record again", "", "y")}, b...)
		for i := range b {
			b[i].Why = lostWhy(b[i].Action, s.Page)
		}
	}
	return b
}

// Listed returns what can be done now besides Enter, the likeliest first: the lines of the list.
func Listed(s Situation) (out []Binding) {
	all, q := For(s), s.asked()
	likely := func(b Binding) int {
		if i := slices.Index(q.listed, b.Action); i >= 0 {
			return i
		}
		return len(q.listed) + slices.Index(q.behind, b.Action) + 1
	}
	out = Acting(all)
	slices.SortStableFunc(out, func(a, b Binding) int { return likely(a) - likely(b) })
	return out
}

// Acting are the bindings that can act now besides Enter: what a list of all that can be done has lines for.
func Acting(all []Binding) (out []Binding) {
	for _, b := range all {
		if b.Why == "" && b.Action != Enter && b.Action != List && b.Action != Suspend {
			out = append(out, b)
		}
	}
	return out
}

// said is a binding with what it does in a sentence.
func said(b Binding, words string) Binding {
	b.Says = words
	return b
}

// Words say in a sentence what a key does.
func (b *Binding) Words() string {
	switch {
	case b.Says != "":
		return b.Says
	case b.Row != nil && len(b.Row.Forms) > 0:
		return b.Row.Forms[0].Help
	}
	return b.Help().Desc
}

// bound is the key of an action, where there is one in a situation.
func bound(s *Situation, a Action) (b Binding, ok bool) {
	if i := slices.IndexFunc(own, func(o ownKey) bool { return o.action == a }); i >= 0 {
		return own[i].bind(s)
	}
	for _, r := range session.Commands() {
		if a != action(r) || !r.Shown(&s.Now) {
			continue
		}
		label := r.Label
		if q := s.asked(); q.label(a) != "" {
			label = q.label(a)
		}
		if s.Part && r.TakesBack {
			label = "part before"
		}
		b = bind(a, label, r.Not(&s.Now), r.Keys...)
		b.Row = r
		return b, true
	}
	return b, false
}

// action is what the key of a row does; nothing where it has none.
func action(r *session.CommandRow) Action { return Action(r.Label) }

// lostWhy leaves looking and leaving, once an entry could not be recorded.
func lostWhy(a Action, page bool) string {
	if slices.Contains(looks, a) || (a == Enter && page) {
		return ""
	}
	return "the last entry could not be recorded"
}

func when(ok bool, why string) string {
	if ok {
		return ""
	}
	return why
}

func bind(a Action, help, why string, names ...string) Binding {
	return Binding{Binding: key.NewBinding(key.WithKeys(names...), key.WithHelp(Label(names[0]), help)), Action: a, Why: why}
}

// Label is what a key is called.
func Label(name string) string {
	switch name {
	case "enter":
		return "Enter"
	case "ctrl+z":
		return "^Z"
	case "right":
		return "arrows"
	case " ":
		return "space"
	}
	return name
}

// Find returns the binding of a key's name.
func Find(all []Binding, name string) (Binding, bool) {
	for _, b := range all {
		for _, k := range b.Keys() {
			if k == name {
				return b, true
			}
		}
	}
	return Binding{}, false
}
