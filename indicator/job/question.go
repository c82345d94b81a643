package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Question is what is asked, as it stands after the answers before it.
type Question struct {
	Key  string // of the file; a question that only decides what else is asked has a key of its own
	Text string
	// Choices are offered. Where they are Closed nothing else is an answer, and each may be answered by its number, from 1; else
	// they are figures commonly found, and a number that is typed is the figure itself.
	Choices []string
	Closed  bool
	Unit    string // mm, in or deg; empty for what has none
	Default string // what Enter alone takes, as it would be typed; empty for nothing
	Numeral bool   // the answer is one number
	Two     bool   // the answer is two numbers
	Across  bool   // the answer may be a diameter, with d before it
	// Fraction says that a figure may be a fraction of an inch, as [geom.ParseLength] reads it.
	Fraction bool
	// Path says that the answer is the name of a file or a device, which / belongs to; Choices then are offered by their numbers.
	Path bool
	// Optional says that "unknown" leaves it out.
	Optional bool
	// Said says that it has to be said, to leave it out too: Enter alone is no answer.
	Said bool
	// Out says in words what leaving it out means; empty for that it is not known.
	Out string
	// ZeroAt is, for the reach, the one with which the dial would read zero at the target, in the question's unit; else nil.
	ZeroAt *float64
	// Moves are what the hand does first, in order; nil for nothing.
	Moves []slide.Move
	// Hand are the references at hand, for the reference's radius and for the reach, the one that needs the least done first.
	Hand *Hand
	// Are says that the choices are the radii of rings or plugs at hand, in one's word: ring; empty where they are not.
	Are string
}

// ShortOf is the short form of a choice that stands in the place of a figure, and has it found; empty for all others.
func (q *Question) ShortOf(choice string) string {
	switch {
	case q.Closed:
		return ""
	case choice == FindIt:
		return findWord
	case choice == FindHere:
		return findHereWord
	}
	return ""
}

// Unfit is an answer that was not taken.
type Unfit struct{ Because, Advice string }

func (u *Unfit) Error() string { return u.Because }

// Hint says what to do; it may be empty.
func (u *Unfit) Hint() string { return u.Advice }

func unfit(advice, format string, args ...any) error {
	return &Unfit{Because: fmt.Sprintf(format, args...), Advice: advice}
}

// Facts are what is known before the first question.
type Facts struct {
	// Name is a machine's, where it is given already, and Taken are those of others.
	Name  string
	Taken []string
	// Unit is what Enter alone takes for the unit.
	Unit geom.Unit
	// Ports are the serial ports that are there.
	Ports []string
	// Machine is the one that a job is for; nil where that does not matter.
	Machine *setup.Machine
	// Drawing says that the job is for arcs of a drawing. Until Arc is one of them, only what all of them share is asked.
	Drawing bool
	Arc     *Figures
	// Deep says that the drawing says how deep its arcs are cut, so that nobody is asked.
	Deep bool
	// Last is the setting before, whose figures are proposed; nil for none.
	Last *setup.Job
	// Reach is what the trial cut of the setting before showed of it, millimetres; nil where it showed nothing.
	Reach *indicator.Value
	// AtHand are the diameters of rings and of plugs at hand, by [Rings] and [Plugs], millimetres; those that are not in it are
	// asked for with an arc.
	AtHand map[string][]float64
	// AsksReach says that the job is one kept under a name: its reach, which belongs to how the indicator is seated, is asked anew.
	AsksReach bool
	// Keep asks whether the answers are to be kept under a name; Taken then are those of jobs.
	Keep bool
}

// Given is one answer: what was typed, a choice in its words, and what it writes.
type Given struct {
	Key, Typed string
	toml, note string // empty toml where nothing is written
	found
}

// answers are those that are given, in their order, with what is known besides.
type answers struct {
	Facts
	all []Given
	statements
}

// own is the answer to a key, nil where none is given.
func (a *answers) own(key string) *Given {
	for i := range a.all {
		if a.all[i].Key == key {
			return &a.all[i]
		}
	}
	return nil
}

// of is the answer to a key, or what is stated without being asked; nil for neither.
func (a *answers) of(key string) *Given {
	if g := a.own(key); g != nil {
		return g
	}
	return a.stated(key)
}

// word is what is written under a key, out of its quotes; empty for nothing.
func (a *answers) word(key string) string {
	toml := a.foundAs(key)
	if g := a.of(key); g != nil && toml == "" {
		toml = g.toml
	}
	if w, err := strconv.Unquote(toml); err == nil {
		return w
	}
	return toml
}

// typed is what was answered to a key; empty for nothing.
func (a *answers) typed(key string) string {
	if g := a.of(key); g != nil {
		return g.Typed
	}
	return ""
}

// number is what is written under a key, where that is a number.
func (a *answers) number(key string) (v float64, ok bool) {
	v, err := strconv.ParseFloat(a.word(key), 64)
	return v, err == nil
}

// unit is the file's, as it is answered.
func (a *answers) unit() geom.Unit {
	if u, err := geom.ParseUnit(a.word("unit")); err == nil {
		return u
	}
	return a.Unit
}

// length is a figure of ours in millimetres, as it is typed in the file's unit; so rounded that no more is said than is meant.
func (a *answers) length(mm float64) string {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(a.unit().From(mm), 'g', 2, 64), 64)
	return decimal(v)
}

// decimal is a number as a file has it.
func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// asks is one question: a row. Its functions are given the answers before it and the table that its key stands in.
type asks struct {
	key      string
	text     func(a *answers, in string) string
	help     string // what ? says
	kind     kind
	def      func(a *answers, in string) string                   // nil for none
	optional func(a *answers, in string) bool                     // nil for never
	when     func(a *answers, in string) bool                     // nil for always
	check    func(a *answers, in string, g *Given) error          // beyond what the file's parser refuses; nil for nothing
	guess    func(a *answers, in string) (written string)         // what is written where it is not known; nil for nothing
	zeroAt   func(a *answers, in string) (reach float64, ok bool) // see [Question.ZeroAt]; nil for none
	said     bool                                                 // see [Question.Said]
	out      string                                               // see [Question.Out]
	moves    func(a *answers, in string) []slide.Move             // see [Question.Moves]; nil for none
	finds    bool                                                 // the needle test finds it: see [FindIt]
	hand     func(a *answers) *Hand                               // see [Question.Hand]; nil for none
	doubts   func(a *answers, in string, v float64) string        // why a figure is likely to be a slip; nil for never

	// ofArc says that each arc of a drawing has its own, and with names the key of a question that this one goes with where a file
	// states the rest.
	ofArc bool
	with  string
	// besides says that it is asked whatever a file states: it is none of the file's.
	besides bool
	// lasts says whether what was answered for the setting before is proposed; nil for always.
	lasts func(a *answers, in string) bool
	aside bool // what is answered leads to a figure, and is not written itself
}

// placed is a row in its table.
type placed struct {
	*asks
	in string
}

func (p placed) path() string {
	if p.in == "" {
		return p.key
	}
	return p.in + "." + p.key
}

// isOptional and isAsked are a row's, where it says nothing too.
func (p placed) isOptional(a *answers) bool { return p.optional != nil && p.optional(a, p.in) }
func (p placed) isAsked(a *answers) bool    { return p.when == nil || p.when(a, p.in) }

func always(*answers, string) bool { return true }
func never(*answers, string) bool  { return false }

// says is a text, or a default, that is always the same.
func says(text string) func(*answers, string) string {
	return func(*answers, string) string { return text }
}

// spelt is a value of a file as it would be answered.
func (p placed) spelt(a *answers, toml string) string {
	if k, ok := p.kind.(interface {
		spelt(a *answers, toml string) string
	}); ok {
		return k.spelt(a, toml)
	}
	if w, err := strconv.Unquote(toml); err == nil {
		return w
	}
	return toml
}

// question is the row as it is asked now.
func (p placed) question(a *answers) Question {
	q := Question{Key: p.path(), Text: p.text(a, p.in), Optional: p.isOptional(a), Said: p.said}
	if q.Optional {
		q.Out = p.out
	}
	p.kind.describe(a, &q)
	if p.moves != nil {
		q.Moves = p.moves(a, p.in)
	}
	if p.offersNeedle(a) {
		q.Choices = append(slices.Clip(q.Choices), FindIt)
	}
	if p.def != nil {
		q.Default = p.def(a, p.in)
	}
	if was := a.lately(q.Key); was != "" && (p.lasts == nil || p.lasts(a, p.in)) {
		q.Default = p.spelt(a, was)
	}
	if p.zeroAt != nil {
		if z, ok := p.zeroAt(a, p.in); ok {
			q.ZeroAt = &z
		}
	}
	if p.hand != nil {
		q.Hand = p.hand(a)
	}
	return q
}

// The words that are no answer, and may be said at every question.
const (
	Back    = "back"
	Explain = "?"
	Unknown = "unknown"
)

// answer reads what is typed at the row.
func (p placed) answer(a *answers, text string) (g Given, err error) {
	text = strings.TrimSpace(text)
	q := p.question(a)
	if text == "" {
		text = q.Default
	}
	g = Given{Key: q.Key, Typed: text, found: found{aside: p.aside}}
	if p.takesNeedle(a, &q, text) {
		return Given{Key: useKey(p.in), Typed: FindIt}, nil
	}
	if q.Out != "" && strings.EqualFold(text, q.Out) {
		text = Unknown
	}
	switch {
	case text == "" && (!q.Optional || q.Said):
		return g, unfit(how(&q), "nothing is typed, and this has no default")
	case (text == Unknown || text == "") && q.Optional:
		g.Typed = Unknown
		if p.guess != nil {
			g.toml, g.note = p.guess(a, p.in), "a guess on the large side"
		}
		return g, nil
	case text == Unknown:
		return g, unfit(how(&q), "this has to be known")
	}
	if strings.ContainsFunc(text, notPrint) {
		return g, unfit(how(&q), "%q, need printable characters only", text)
	}
	m, err := p.kind.read(a, &q, text)
	if err != nil {
		return g, err
	}
	if g.toml, g.note = m.toml, m.note; m.said != "" {
		g.Typed = m.said
	}
	if m.found != nil {
		g.found = *m.found
	}
	if p.finds && a.of(useKey(p.in)) != nil {
		g.note = a.needleNote(&g)
	}
	if p.check != nil {
		err = p.check(a, p.in, &g)
	}
	return g, err
}

// how says what may be answered.
func how(q *Question) string {
	var all []string
	switch {
	case q.Closed:
		all = append(all, "one of "+strings.Join(q.Choices, ", ")+", or its number")
	case q.Unit == "deg":
		all = append(all, "a number of degrees")
	case q.Unit != "":
		all = append(all, "a number in "+q.Unit)
	case q.Numeral:
		all = append(all, "a number")
	}
	if q.Optional && !slices.Contains(q.Choices, Unknown) {
		all = append(all, Unknown+" leaves it out")
	}
	return strings.Join(append(all, LineWords), "; ")
}
