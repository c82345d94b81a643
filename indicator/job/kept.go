package job

import (
	"encoding/json"
	"fmt"
	"slices"
)

// Typed is an answer as it was typed, by the key of its question.
type Typed struct {
	Key   string `json:"key"`
	Typed string `json:"typed"`
}

// kept is what was answered, as it is put down between two goes.
type kept struct {
	Version int     `json:"version"`
	Of      string  `json:"of"` // a form's name
	Answers []Typed `json:"answers"`
}

// keptVersion is that of the form above.
const keptVersion = 1

// earlier are answers of an earlier go.
type earlier struct {
	offered []Typed // whether they stand is asked first; nil for none
	decided bool
	ahead   []Typed // those whose questions are still to come
}

// Keep is what is answered so far, to go on with at another time by [Asking.Offer]; nil where nothing is.
func (q Asking) Keep() []byte {
	all := kept{Version: keptVersion, Of: q.form.name}
	if _, asked := q.isBegun(); asked {
		all.Answers = q.earlier.offered // which stand until that is answered
	}
	for _, g := range q.given.all[q.fixed:] {
		all.Answers = append(all.Answers, Typed{g.Key, g.Typed})
	}
	for _, t := range q.earlier.ahead {
		if q.given.of(t.Key) == nil {
			all.Answers = append(all.Answers, t)
		}
	}
	if len(all.Answers) == 0 {
		return nil
	}
	text, err := json.Marshal(all)
	if err != nil {
		return nil // texts alone cannot fail to be written
	}
	return append(text, '\n')
}

// Offer asks first whether what was kept stands. The error says what is wrong with it, and q then stays as it is.
func (q Asking) Offer(text []byte) (Asking, error) {
	var k kept
	if err := json.Unmarshal(text, &k); err != nil {
		return q, fmt.Errorf("what was answered before cannot be read: %w", err)
	}
	switch {
	case k.Version != keptVersion:
		return q, fmt.Errorf("what was answered before is of version %d, need %d", k.Version, keptVersion)
	case k.Of != q.form.name || len(k.Answers) == 0:
		return q, fmt.Errorf("%d answers about %q, need some about a %s", len(k.Answers), printable(k.Of), q.form.name)
	}
	q.earlier.offered = k.Answers
	return q, nil
}

// Offered is how many answers of an earlier go are offered.
func (q Asking) Offered() int { return len(q.earlier.offered) }

// begunKey is no file's.
const begunKey = "begun"

// The answers to whether what was answered before stands.
const (
	goOn      = "go on"
	anew      = "begin anew"
	begunText = "these questions were begun before, and %s answered: go on with that, or begin anew"
)

var begunAsk = asks{key: begunKey, kind: among(choice{words: goOn}, choice{words: anew}), def: says(goOn),
	help: "What was answered is kept until all is. Going on takes it as it was typed, and what no longer fits is asked\n" +
		"again; back goes to each of the answers."}

// isBegun reports whether that is what is asked now, and asks it.
func (q Asking) isBegun() (p placed, ok bool) {
	if q.earlier.offered == nil || q.earlier.decided {
		return p, false
	}
	ask := begunAsk
	ask.text = says(fmt.Sprintf(begunText, are(len(q.earlier.offered))))
	return placed{&ask, ""}, true
}

// are counts questions.
func are(n int) string {
	if n == 1 {
		return "one of them is"
	}
	return fmt.Sprintf("%d of them are", n)
}

// decide takes the answer to that.
func (q Asking) decide(g *Given) Asking {
	q.earlier.decided = true
	if q.earlier.ahead = nil; g.Typed == goOn {
		q.earlier.ahead = q.earlier.offered
	}
	return q.onward()
}

// onward takes the answers of an earlier go as far as they fit: what does not is asked, and what comes behind it taken then.
func (q Asking) onward() Asking {
	for len(q.earlier.ahead) > 0 {
		p, more := q.next()
		i := slices.IndexFunc(q.earlier.ahead, func(t Typed) bool {
			return more && (t.Key == p.path() || t.Key == useKey(p.in) && p.offersNeedle(&q.given))
		})
		if i < 0 {
			return q
		}
		typed := q.earlier.ahead[i].Typed
		q.earlier.ahead = slices.Delete(slices.Clone(q.earlier.ahead), i, i+1)
		now, err := q.take(p, typed)
		if err != nil {
			return q
		}
		q = now
	}
	return q
}
