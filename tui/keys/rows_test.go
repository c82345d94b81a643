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
		orders = append(orders, q.first)
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
