package job

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
)

// kind is how an answer is read and what a question says of it.
type kind interface {
	// describe fills in what the kind says of a question: choices, unit, whether it is a number.
	describe(a *answers, q *Question)
	// read makes of an answer what it means.
	read(a *answers, q *Question, text string) (meant, error)
}

// meant is what an answer writes: the value as a file has it, empty for nothing, and a note behind it; and how it is said in full,
// where that is not as it was typed.
type meant struct {
	toml, note, said string
	found            *found // nil where nothing is found
}

// number is a figure in a unit of its own.
type number struct {
	unit func(a *answers) string
	// common are values that are often found, in the unit; nil for none.
	common func(a *answers) []string
	dial   bool // it is read off a dial, which shows no fractions
}

// dialReading is what a dial shows.
var dialReading = number{unit: inUnit, dial: true}

func inUnit(a *answers) string  { return a.unit().String() }
func inDegrees(*answers) string { return "deg" }
func inNothing(*answers) string { return "" }

func (n number) describe(a *answers, q *Question) {
	q.Unit, q.Numeral = n.unit(a), true
	q.Fraction = inFractions(q) && !n.dial
	if n.common != nil {
		q.Choices = n.common(a)
	}
}

func (number) read(_ *answers, q *Question, text string) (meant, error) {
	v, err := figure(q, text)
	return meant{toml: decimal(v)}, err
}

// inFractions says that what is asked is a length in inches.
func inFractions(q *Question) bool { return q.Unit == geom.Inch.String() }

// figure reads a number, no larger than a file may have it; in inches it may be a fraction.
func figure(q *Question, text string) (float64, error) {
	read := geom.ParseNumber
	if u, err := geom.ParseUnit(q.Unit); err == nil && (q.Fraction || u != geom.Inch) {
		read = func(s string) (float64, error) { return geom.ParseLength(s, u) }
	}
	v, err := read(text)
	if err != nil {
		return 0, unfit(how(q), "%v", err)
	}
	if math.Abs(v) > largest {
		return 0, unfit(how(q), "%v, need a number not beyond %v", v, float64(largest))
	}
	return v, nil
}

// radius is a length that may be typed as the diameter, with a d, or the word, before it.
type radius struct{}

func (radius) describe(a *answers, q *Question) {
	q.Unit, q.Numeral, q.Across = inUnit(a), true, true
	q.Fraction = inFractions(q)
}

// reference is the radius of what is touched, for which the rings or plugs at hand are offered.
type reference struct{ radius }

func (r reference) describe(a *answers, q *Question) {
	r.radius.describe(a, q)
	if all := a.radiiAtHand(); len(all) > 0 {
		q.Choices, q.Are = all, surfaceOf(a.typed("setup.touch")).atHand
	}
}

func (radius) read(_ *answers, q *Question, text string) (meant, error) {
	d, across := strings.CutPrefix(strings.ToLower(text), "d")
	if !across {
		v, err := figure(q, text)
		return meant{toml: decimal(v)}, err
	}
	v, err := figure(q, strings.TrimPrefix(d, "iameter"))
	return meant{toml: decimal(v / 2), note: "diameter " + decimal(v)}, err
}

// span is two numbers, the lower first.
type span struct{}

func (span) describe(a *answers, q *Question) {
	q.Unit, q.Two = inUnit(a), true
	q.Fraction = inFractions(q)
}

func (span) read(_ *answers, q *Question, text string) (meant, error) {
	ends := strings.Fields(strings.NewReplacer("[", " ", "]", " ", ", ", " ", ";", " ", " to ", " ").Replace(text))
	if len(ends) != 2 {
		return meant{}, unfit("like 0 60", "%q, need two numbers, the lower first", text)
	}
	if err := oneOrTwo(ends); err != nil {
		return meant{}, err
	}
	var v [2]float64
	for i, end := range ends {
		var err error
		if v[i], err = figure(q, end); err != nil {
			return meant{}, err
		}
	}
	return meant{toml: "[" + decimal(v[0]) + ", " + decimal(v[1]) + "]"}, nil
}

// oneOrTwo refuses figures of which nobody can say whether they are one, 1 3/16, or two.
func oneOrTwo(fields []string) error {
	whole, part, both := geom.Ambiguous(fields)
	if !both {
		return nil
	}
	return unfit("", "%s %s may be one figure or two, need %s-%s for one, and 0-%s for a fraction alone", whole, part, whole, part, part)
}

// label is a name.
type label struct{}

func (label) describe(*answers, *Question) {}

func (label) read(_ *answers, _ *Question, text string) (meant, error) {
	return meant{toml: strconv.Quote(text)}, nil
}

// choice is one of a few answers: its words, what it writes, and what else is taken for it.
type choice struct{ words, toml, or, note string }

// choices is a question that one of them answers, all of them in their own words.
type choices func(a *answers, key string) []choice

// among are choices that are always the same.
func among(all ...choice) choices { return func(*answers, string) []choice { return all } }

// yesNo are the choices of a yes or no.
var yesNo = among(choice{words: "true", toml: "true", or: "yes"}, choice{words: "false", toml: "false", or: "no"})

// words are choices that a file spells as they are said.
func words(all ...string) choices {
	var out []choice
	for _, w := range all {
		out = append(out, choice{words: w, toml: strconv.Quote(w)})
	}
	return among(out...)
}

func (c choices) describe(a *answers, q *Question) {
	q.Closed = true
	for _, one := range c(a, q.Key) {
		q.Choices = append(q.Choices, one.words)
	}
}

func (c choices) read(a *answers, q *Question, text string) (meant, error) {
	one, ok := choose(c(a, q.Key), text)
	if !ok {
		return meant{}, unfit("", "%q, need %s", text, how(q))
	}
	return meant{toml: one.toml, note: one.note, said: one.words}, nil
}

// choose finds the choice that is meant: by its words, or by its number from 1.
func choose(all []choice, text string) (choice, bool) {
	i := slices.IndexFunc(all, func(c choice) bool {
		return strings.EqualFold(text, c.words) || c.or != "" && strings.EqualFold(text, c.or)
	})
	if n, err := strconv.Atoi(text); i < 0 && err == nil {
		i = n - 1
	}
	if i < 0 || i >= len(all) {
		return choice{}, false
	}
	return all[i], true
}

// known is a way in which a figure is known, and how right it then is, plus or minus, millimetres: of a diameter where the
// figure is half of it.
type known struct {
	words string
	limit float64 // 0 where nothing follows from it
}

// dontKnow is the answer of whoever cannot say how right a figure is; it leaves the limit unstated, and never means exact.
const dontKnow = "don't know"

// limit is a question after how right a figure is, asked as how it is known. A number that is none of a choice's is the limit itself.
type limit struct {
	ways func(a *answers) []known
	half bool   // the ways tell of a diameter, and the limit is of the radius
	lead string // begins the list of what the ways say; empty for what most begin with
}

func (l limit) describe(a *answers, q *Question) {
	q.Unit = inUnit(a)
	q.Fraction = inFractions(q)
	for _, k := range l.ways(a) {
		q.Choices = append(q.Choices, k.words)
	}
	q.Choices, q.Closed = append(q.Choices, dontKnow), true
}

// figures lists how right a figure is by each answer.
func (l limit) figures(a *answers) string {
	lead := "Within how much it is then right, in " + inUnit(a) + ", either way: "
	switch {
	case l.lead != "":
		lead = l.lead + ", in " + inUnit(a) + ": "
	case l.half:
		lead = strings.Replace(lead, "it is", "the diameter is", 1)
	}
	var out []string
	for _, k := range l.ways(a) {
		out = append(out, k.words+" "+a.length(k.limit))
	}
	return lead + strings.Join(out, ", ") + "."
}

// written are the ways with what each writes.
func (l limit) written(a *answers) (all []choice) {
	for _, k := range l.ways(a) {
		mm := k.limit
		if l.half {
			mm /= 2
		}
		all = append(all, choice{words: k.words, toml: a.length(mm), note: k.words})
	}
	return all
}

// spelt is the way that a limit was written by, else the limit itself.
func (l limit) spelt(a *answers, toml string) string {
	for _, c := range l.written(a) {
		if c.toml == toml {
			return c.words
		}
	}
	return toml
}

func (l limit) read(a *answers, q *Question, text string) (meant, error) {
	all := l.written(a)
	if one, ok := choose(append(all, choice{words: dontKnow}), text); ok {
		return meant{toml: one.toml, note: one.note, said: one.words}, nil
	}
	v, err := geom.ParseLength(text, a.unit())
	if err != nil || v == math.Trunc(v) && text != q.Default { // a whole number is a choice's, or a slip
		return meant{}, unfit("a limit of your own is typed with its decimals, like 0.004", "%q, need %s", text, how(q))
	}
	return meant{toml: decimal(v)}, nil
}
