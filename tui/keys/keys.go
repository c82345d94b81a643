// Package keys holds every key of the screen: what it does, what it is called, and why it
// cannot act now. The last line of the screen and the help page are made from the same
// bindings that the program acts on.
//
// The keys of what a person may enter are made from the session's command rows, which say plain
// characters; the screen's own stand in own.go. Which come first, order.go says.
//
// No key begins a number: an indicator's cable may type readings. The hand that types lies on the numeric keypad, so
// what is needed at every reading has a key there: Enter, / and *. Digits and signs belong to readings, and there
// are no more keys, so * means two things: that the needle is off the dial, and in a doubt that the value which is
// proposed is taken. As long as the doubt lasts a needle off the dial is the letter.
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
}

// Situation is all that the bindings depend on.
type Situation struct {
	session.Now
	Practice bool
	Page     bool // a page (help, setup, trials, form) lies over the work
	Typed    bool // something stands in the entry
	// NoForm says why the form of the reference cannot be judged; empty when it can.
	NoForm string
	Lost   bool // an entry could not be put on record: only looking and leaving are left
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
		b = bind(a, label, r.Not(&s.Now), s.names(r)...)
		b.Row = r
		return b, true
	}
	return b, false
}

// action is what the key of a row does; nothing where it has none.
func action(r *session.CommandRow) Action { return Action(r.Label) }

// star lies under the hand that types: it takes the value that is proposed for a reading in doubt, and else says
// that the needle is off the dial.
const star = "*"

// names are a row's characters as the library calls them.
func (s *Situation) names(r *session.CommandRow) []string {
	if !s.Which && (!s.Doubt || !s.Proposed) {
		return r.Keys
	}
	out := slices.DeleteFunc(slices.Clone(r.Keys), func(k string) bool { return k == star })
	if r.Proposal {
		out = append([]string{star}, out...)
	}
	return out
}

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
	return Binding{Binding: key.NewBinding(key.WithKeys(names...), key.WithHelp(label(names[0]), help)), Action: a, Why: why}
}

func label(name string) string {
	switch name {
	case "enter":
		return "Enter"
	case "ctrl+z":
		return "^Z"
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
