package job

import (
	"errors"
	"slices"
	"strings"
)

// Asking is a set of questions and the answers to them so far: a value, of which each answer makes a new one. It ends as the
// text of a file, and what refuses an answer is, beyond a question's own rule, the parser of that file: what is written is what
// would be read.
type Asking struct {
	form  *form
	given answers
	fixed int // the first answers, which were given before the first question
	earlier
}

// form is what is asked about.
type form struct {
	name string
	rows func(a *answers) []placed
	read func(a *answers, text []byte) error
	head string // first line of the file
}

// MachineQuestions ask for a machine.
func MachineQuestions(f Facts) Asking {
	q := Asking{form: &machineForm, given: answers{Facts: f}}
	if f.Name != "" {
		q.given.all = []Given{{Key: nameKey, Typed: f.Name, toml: quote(f.Name)}}
		q.fixed = 1
	}
	return q
}

// JobQuestions ask for a job.
func JobQuestions(f Facts) Asking { return Asking{form: &jobForm, given: answers{Facts: f}} }

// next is the first question that is not answered; ok is false where all are.
func (q Asking) next() (p placed, ok bool) {
	if p, ok := q.isBegun(); ok {
		return p, true
	}
	for _, p := range q.form.rows(&q.given) {
		if q.given.of(p.path()) == nil && p.isAsked(&q.given) && q.given.wants(p) {
			return p, true
		}
	}
	return p, false
}

// Next is what is asked now; ok is false where everything is answered.
func (q Asking) Next() (now Question, ok bool) {
	p, ok := q.next()
	if !ok {
		return now, false
	}
	return p.question(&q.given), true
}

// Help explains what is asked now, and says what may be typed.
func (q Asking) Help() string {
	now, ok := q.Next()
	if !ok {
		return ""
	}
	return q.About() + "\n" + how(&now) + "."
}

// About explains what is asked now.
func (q Asking) About() string {
	p, ok := q.next()
	if !ok {
		return ""
	}
	if l, ok := p.kind.(limit); ok {
		return p.help + "\n" + l.figures(&q.given)
	}
	return p.help
}

// Name is the machine's, once it is given.
func (q Asking) Name() string { return q.given.word(nameKey) }

// Renamed takes the machine's name back alone, wherever it was answered: it is others' by now, as are those that are taken.
func (q Asking) Renamed(taken []string) Asking {
	q.given.Taken, q.given.Name, q.fixed = taken, "", 0
	q.given.all = slices.DeleteFunc(slices.Clone(q.given.all), func(g Given) bool { return g.Key == nameKey })
	return q
}

// Back takes the last answer back.
func (q Asking) Back() (Asking, error) {
	if len(q.given.all) == q.fixed && q.earlier.decided {
		q.earlier.decided, q.earlier.ahead = false, nil
		return q, nil
	}
	if len(q.given.all) == q.fixed {
		return q, unfit("", "this is the first question, need an answer to it")
	}
	q.given.all = slices.Clip(q.given.all[:len(q.given.all)-1])
	q.reopen()
	return q, nil
}

// Answer takes an answer to what is asked now. The error is an *[Unfit], and q stays as it is.
func (q Asking) Answer(text string) (Asking, error) {
	p, ok := q.next()
	if !ok {
		return q, unfit("", "everything is answered")
	}
	now, err := q.take(p, text)
	if err != nil {
		return q, err
	}
	return now.onward(), nil
}

// take takes an answer to a question.
func (q Asking) take(p placed, text string) (Asking, error) {
	g, err := p.answer(&q.given, text)
	if err != nil {
		return q, err
	}
	if g.Key == begunKey {
		return q.decide(&g), nil
	}
	now := q
	if i := now.given.index(g.again); g.again != "" {
		now.given.all = slices.Clip(q.given.all[:i])
		return now, nil
	}
	now.given.all = append(slices.Clip(q.given.all), g)
	now.reopen()
	if err := now.wrong(); err != nil {
		return q, err
	}
	return now, nil
}

// wrong is what the file's parser finds wrong with what is answered; what is missing still is to be asked.
func (q Asking) wrong() error {
	_, more := q.next()
	err := q.form.read(&q.given, q.Text())
	for _, e := range all(err) {
		if !q.given.leaves(e.Key) && (!more || q.given.settled(e.Key)) {
			why := e.Why
			if last := q.given.all[len(q.given.all)-1]; e.Key != "" && e.Key != last.Key {
				why = e.Key + ": " + why
			}
			return unfit(e.Hint, "%s", why)
		}
	}
	return nil
}

// all are the mistakes of an error.
func all(err error) Errors {
	var one *Error
	var several Errors
	switch {
	case errors.As(err, &several):
		return several
	case errors.As(err, &one):
		return Errors{one}
	}
	return nil
}

// Text is the file as far as it is answered.
func (q Asking) Text() []byte { return q.given.text(q.form.head) }

// text is what is answered as a file has it, behind its first line.
func (a *answers) text(head string) []byte {
	if a.mend != nil {
		return a.mend.text(a.writes())
	}
	var b strings.Builder
	b.WriteString(head + "\n")
	var tables []string
	all := a.writes()
	for _, w := range all {
		if t := tableOf(w.key); !slices.Contains(tables, t) {
			tables = append(tables, t)
		}
	}
	slices.SortStableFunc(tables, func(x, y string) int { return min(len(x), 1) - min(len(y), 1) }) // keys without a table first
	for _, t := range tables {
		b.WriteString("\n")
		if t != "" {
			b.WriteString("[" + t + "]\n")
		}
		for _, w := range all {
			if tableOf(w.key) != t {
				continue
			}
			b.WriteString(strings.TrimPrefix(strings.TrimPrefix(w.key, t), ".") + " = " + w.toml)
			if w.note != "" {
				b.WriteString(" # " + w.note)
			}
			b.WriteString("\n")
		}
	}
	return []byte(b.String())
}

// tableOf is the table that a key stands in; empty for none.
func tableOf(key string) string {
	i := strings.LastIndex(key, ".")
	return key[:max(i, 0)]
}
