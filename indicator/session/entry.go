package session

import (
	"reflect"
	"strings"

	"example.org/trammel/geom"
)

// Event is one thing that happened or was decided. Events are plain data: they hold what was
// put in and what was told, never only what can be computed again.
type Event interface{ row() *EventRow }

// EventRow is what journal, fold, undo and what-if know of a kind of event.
type EventRow struct {
	// Kind names it in journals, and never changes.
	Kind string
	// Undo is what is taken back with it; empty where it follows from what a person entered.
	Undo string

	entry func(Event) bool
	final bool // taken back only in the program that it was entered in
	read  func([]byte) (Event, error)
	quick func([]byte) (Event, bool)
	check func(Event) error
	fits  func(*State, Event) error
	apply func(*State, Event)
	anew  func(*State, Event, *Change) (Command, string)
	met   func(*State, Event) (stood, bool)
}

// event is an [EventRow] as the file of an entry writes it, with the event's own type.
type event[E Event] struct {
	kind, undo string
	// entry says whether it is a person's; nil where it always is, and never without a word for undo.
	entry func(E) bool
	// grown says that what its values are made of has grown since it was first written: its own fields are always there, theirs need
	// not be.
	grown bool
	// final says that only the program that it was entered in takes it back.
	final bool
	// quick reads the very form that Encode writes, ok is false for another; nil leaves it to encoding/json.
	quick func([]byte) (e E, ok bool)
	// check refuses a word that this program does not know; nil where there is none.
	check func(E) error
	// fits refuses, with why, what nothing can ever have written where it stands; nil where nothing is to be said of that. What a rule
	// of another time has let pass is no such thing: rules change, and journals stay.
	fits func(*State, E) error
	// apply carries it out.
	apply func(*State, E)
	// anew is the command that it would be now, for a what-if with a change of it or without (nil), and why what is asked
	// is something else; a nil command passes it over, as a nil anew does. Whatever can close a sweep needs one.
	anew func(*State, E, *Change) (c Command, why string)
	// met is where the head, or the table, stands with it, in a state behind it; nil where it sets neither.
	met func(*State, E) (at stood, ok bool)
}

// row is the row without the type.
func (d event[E]) row() *EventRow {
	r := &EventRow{Kind: d.kind, Undo: d.undo, final: d.final,
		entry: func(Event) bool { return d.undo != "" },
		check: func(Event) error { return nil },
		fits:  func(*State, Event) error { return nil },
		apply: func(s *State, e Event) { d.apply(s, e.(E)) },
		anew:  func(*State, Event, *Change) (Command, string) { return nil, "" },
		met:   func(*State, Event) (stood, bool) { return stood{}, false },
	}
	if d.entry != nil {
		r.entry = func(e Event) bool { return d.entry(e.(E)) }
	}
	if d.quick != nil {
		r.quick = func(b []byte) (Event, bool) {
			e, ok := d.quick(b)
			return e, ok && (d.check == nil || d.check(e) == nil)
		}
	}
	if d.check != nil {
		r.check = func(e Event) error { return d.check(e.(E)) }
	}
	if d.fits != nil {
		r.fits = func(s *State, e Event) error { return d.fits(s, e.(E)) }
	}
	if d.anew != nil {
		r.anew = func(s *State, e Event, c *Change) (Command, string) { return d.anew(s, e.(E), c) }
	}
	if d.met != nil {
		r.met = func(s *State, e Event) (stood, bool) { return d.met(s, e.(E)) }
	}
	levels := allLevels
	if d.grown {
		levels = 1
	}
	r.read = func(b []byte) (Event, error) {
		var e E
		if err := strictJSON(b, &e); err != nil {
			return nil, err
		}
		if err := r.check(e); err != nil {
			return nil, err
		}
		return e, exactly(b, reflect.TypeFor[E](), levels)
	}
	return r
}

// Kind is what journals call an event's kind.
func Kind(e Event) string { return e.row().Kind }

// UndoWords are the words for what is taken back with an entry.
func UndoWords(e Event) string { return e.row().Undo }

// IsEntry reports whether an event is what undo takes back: it comes from a person. The others follow
// from one.
func IsEntry(e Event) bool { return e.row().entry(e) }

// Command is what a person (or a program in their place) wants.
type Command interface{ row() *CommandRow }

// CommandRow is what grammar, help, keys and Decide know of what a person may say.
type CommandRow struct {
	// Word begins what is typed for it; empty where none does. Forms are all that may be typed.
	Word  string
	Forms []Phrase
	// Example is what its figures look like, where there are any.
	Example string
	// Keys are the plain characters of its key, the first one on the last line of the screen; none where it has no key.
	// Label is what the key is called.
	Keys  []string
	Label string
	// Choices are the answers to what is asked once the key is pressed; Asks is that, where the moment does not change it.
	Choices []Choice
	Asks    string
	// Figures is how many numbers its text is made of, behind the word that was picked, if any: a keypad has no space between
	// two. 0 says that it is a text of any kind.
	Figures int
	// Ends is what it ends or sets aside, so that it is asked for once more; empty where it is said but once.
	Ends string
	// OfDial says that its figures are read off the dial: see [Dialled].
	OfDial bool
	// TakesBack says that it takes the last entry back, which can be named with it: see [State.Undoes].
	TakesBack bool

	parse   func(rest string, u geom.Unit) (Command, error)
	field   func(*State, string) (Command, error)
	picks   func(*State) []string
	byList  bool
	first   func(*State) string
	answers func(*State, string) []Choice
	hands   bool
	offers  func(*State) []Choice
	not     func(*Now) string
	shown   func(*Now) bool
	always  bool
	opens   bool
	needle  func(Command) bool
	decide  func(*State, Command) (Event, error)
}

// Choice is one answer to what a key asks: the characters that choose it at once, what would be typed behind the word, and what a
// list calls it.
type Choice struct{ Key, Text, Words string }

// command is a [CommandRow] as the file of an entry writes it, with the command's own type.
type command[C Command] struct {
	word    string
	help    string
	forms   []Phrase // the word alone with its help where there are none
	example string
	keys    []string
	label   string
	choices []Choice
	asks    string
	// parse reads what stands behind the word, in unit u; nil where it is the word alone.
	parse func(rest string, u geom.Unit) (C, error)
	// field reads what a screen has asked for, nil for a command that means nothing; a nil field asks for nothing.
	field func(*State, string) (Command, error)
	// figures is how many numbers the text is made of, and picks what may stand in front of them, one of which is chosen from
	// a list: a keypad has no letters. nil for nothing. byList says that the key asks by that list too.
	figures int
	picks   func(*State) []string
	byList  bool
	// first is the pick that the key means by itself; nil for none. answers are those of which one is meant behind a pick; nil
	// where figures stand there. hands says that the simulated hands of practice know it, where nothing stands there.
	first   func(*State) string
	answers func(s *State, pick string) []Choice
	hands   bool
	// offers are the choices of one moment, in place of choices; nil for none.
	offers func(*State) []Choice
	// ends is what it ends or sets aside.
	ends string
	// not says why its key cannot act now, or nothing; nil where it always can.
	not func(*Now) string
	// shown says whether the key is there at all; nil where it always is.
	shown func(*Now) bool
	// always says that it may come behind an accepted setting, and opens that no setting need be open.
	always, opens bool
	// ofDial says that its figures are read off the dial.
	ofDial bool
	// takesBack says that it takes the last entry back.
	takesBack bool
	// needle says whether it makes sense with an indicator only; nil where it never does.
	needle func(C) bool
	// decide is the rule: the event that it causes, or a *[Refusal].
	decide func(*State, C) (Event, error)
}

// row is the row without the type.
func (d command[C]) row() *CommandRow {
	r := &CommandRow{Word: d.word, Forms: d.forms, Example: d.example, Keys: d.keys, Label: d.label,
		Choices: d.choices, Asks: d.asks, Figures: d.figures, Ends: d.ends, OfDial: d.ofDial, TakesBack: d.takesBack,
		field: d.field, picks: d.picks, byList: d.byList,
		first: d.first, answers: d.answers, hands: d.hands, offers: d.offers, not: d.not, shown: d.shown, always: d.always,
		opens: d.opens}
	if r.Forms == nil && d.word != "" {
		r.Forms = []Phrase{{d.word, d.help}}
	}
	if r.not == nil {
		r.not = func(*Now) string { return "" }
	}
	r.parse = func(rest string, u geom.Unit) (Command, error) {
		if d.parse != nil {
			c, err := d.parse(rest, u)
			if err != nil {
				return nil, err
			}
			return c, nil
		}
		if strings.TrimSpace(rest) != "" {
			return nil, ErrUnknownWord
		}
		var c C
		return c, nil
	}
	r.needle = func(c Command) bool { return d.needle != nil && d.needle(c.(C)) }
	r.decide = func(s *State, c Command) (Event, error) { return d.decide(s, c.(C)) }
	return r
}

// needed is for a command that makes sense with an indicator only.
func needed[C Command](C) bool { return true }

// Not says why the row's key cannot act now; empty where it can.
func (r *CommandRow) Not(n *Now) string { return r.not(n) }

// Shown reports whether the row's key is there at all.
func (r *CommandRow) Shown(n *Now) bool { return r.shown == nil || r.shown(n) }

// Takes reports whether a text is asked for once the key is pressed.
func (r *CommandRow) Takes() bool { return r.field != nil }

// Picks are the words of which one stands in front of the figures that a row takes; none where it takes them alone.
func (r *CommandRow) Picks(s *State) []string {
	if r.picks == nil {
		return nil
	}
	return r.picks(s)
}

// ByList reports whether the row's key asks by the list which of its picks is meant.
func (r *CommandRow) ByList() bool { return r.byList }

// First is the pick that the row's key means by itself; empty for none.
func (r *CommandRow) First(s *State) string {
	if r.first == nil {
		return ""
	}
	return r.first(s)
}

// Answers are those of which one is meant behind a pick; none where figures stand there.
func (r *CommandRow) Answers(s *State, pick string) []Choice {
	if r.answers == nil {
		return nil
	}
	return r.answers(s, pick)
}

// Hands reports whether practice's hands find the answer out by themselves.
func (r *CommandRow) Hands() bool { return r.hands }

// Offers are the answers among which a list lets choose; none where there is nothing to choose.
func (r *CommandRow) Offers(s *State) []Choice {
	if r.offers != nil {
		return r.offers(s)
	}
	return r.Choices
}

// Keypad reports whether its text needs no letters, so that / and * keep their meaning while it is typed.
func (r *CommandRow) Keypad() bool { return r.Figures > 0 || r.picks != nil }

// Answer is the command of what was typed for a row that takes it, in the job's unit; nil where it means nothing.
func (r *CommandRow) Answer(s *State, text string) (Command, error) {
	if r.OfDial {
		text = dialled(strings.Fields(text), &s.Set.Job)
	}
	return r.field(s, text)
}

// Say is the command of a row with so much behind its word; empty for the word or the key alone.
func (r *CommandRow) Say(rest string, u geom.Unit) (Command, error) { return r.parse(rest, u) }
