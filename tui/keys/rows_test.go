package keys

import (
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
)

// Whatever a person may say by a key has it in some situation, and on the last line it is called as its row says or
// as the question that is asked does.
func TestEveryRowHasItsKey(t *testing.T) {
	bound := map[string]bool{}
	for _, s := range situations() {
		for _, b := range For(s) {
			if b.Row != nil {
				bound[b.Row.Label] = true
			}
		}
	}
	for _, r := range session.Commands() {
		if (r.Label != "") != bound[r.Label] {
			t.Errorf("%q (%s) is bound: %v", r.Label, strings.Join(r.Keys, " "), bound[r.Label])
		}
	}
}

// The orders name only what there is.
func TestOrdersNameActions(t *testing.T) {
	known := make(map[Action]bool)
	for _, r := range session.Commands() {
		known[action(r)] = true
	}
	for _, o := range own {
		known[o.action] = true
	}
	orders := [][]Action{behind}
	for _, q := range questions {
		orders = append(orders, q.first, q.listed, q.behind)
		for _, c := range q.labels {
			orders = append(orders, []Action{c.action})
		}
	}
	for _, all := range orders {
		for _, a := range all {
			if !known[a] {
				t.Errorf("%q is no action", a)
			}
		}
	}
}

// The list begins with what is likeliest: at a step of the order and on the page of what was reached that is the help, and what takes
// back comes behind it; while a sign is asked for its answer comes first, and what would be put right last.
func TestListBeginsWithTheLikeliest(t *testing.T) {
	for _, c := range []struct {
		name        string
		s           Situation
		first, last Action // last: empty where it is any
	}{
		{"the first page", Situation{Now: session.Now{Waits: session.ForChore, Skippable: true}}, Help, ""},
		{"a later step", Situation{Now: session.Now{Waits: session.ForChore, Skippable: true, Undo: true}}, Help, ""},
		{"what was reached", Situation{Now: session.Now{Undo: true, Behind: true}, End: "go on"}, Help, "undo"},
		{"a sign", Situation{Now: session.Now{Waits: session.ForCheck, Sign: true, Named: true, Undo: true}}, "signs", "put right"},
		{"which statement", Situation{Now: session.Now{Waits: session.ForCheck, Named: true, Undo: true}}, "put right", ""},
	} {
		all := Listed(c.s)
		if got := all[0].Action; got != c.first {
			t.Errorf("%s: begins with %s, want %s", c.name, got, c.first)
		}
		if got := all[len(all)-1].Action; c.last != "" && got != c.last {
			t.Errorf("%s: ends with %s, want %s", c.name, got, c.last)
		}
	}
}
