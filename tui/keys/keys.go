// Package keys holds every key of the screen: what it does, what it is called, and why it
// cannot act now. The last line of the screen and the help page are made from the same
// bindings that the program acts on.
//
// No key begins a number: an indicator's cable may type readings. The hand that types lies on the
// numeric keypad, so what is needed at every reading has a key there: Enter, / and *.
package keys

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/trammel/indicator/session"
)

// Action is what a key does.
type Action uint8

// The actions.
const (
	Nothing Action = iota
	Enter          // take the reading, confirm the load or the wind, go on
	Undo
	OffDial
	Dial // practice: take what the dial shows
	Skip
	Again
	Keep    // the doubted reading stands
	Correct // take the value that is proposed for it
	Even    // the drift is taken out
	Closing // the first station is read once more
	Hold    // a radius that is known is held
	Bias    // the swing radius is set beside its figure, by what checked arcs say
	At      // where a slide's scale stands
	Bezel   // the dial is set anew
	Signs   // a sign is checked
	Tilt    // a second sweep at another height
	Rings   // places by the ring's figures, or in the one frame
	Taught  // what the machine has taught
	Accept
	Note
	Trials
	Setup
	Form  // how round the reference is
	Swap  // the dial in place of the picture
	Retry // record again what could not be
	Help
	Quit
	Suspend
	Up       // plan: the element before
	Down     // plan: the element after
	TurnSide // plan: the metal is on the other side
)

// Binding is one key that may act.
type Binding struct {
	key.Binding
	Action Action
	// Why says why the key cannot act now; empty when it can.
	Why string
}

// Situation is all that the bindings depend on.
type Situation struct {
	Waits    session.Waits
	Undo     bool // there is an entry to take back
	Practice bool
	Page     bool // a page (help, setup, trials, form) lies over the work
	Doubt    bool // a reading is in doubt and asked for once more
	Proposed bool // there is a value that it may have been
	Typed    bool // something stands in the entry
	// Skippable says that what is asked for is a step of the order at the machine; Early that the sweep
	// has not begun, Behind that the setting is accepted.
	Skippable, Early, Behind bool
	// Measures says that such a step is answered with a number.
	Measures bool
	// NoForm says why the form of the reference cannot be judged; empty when it can.
	NoForm string
	// Checked says that arcs were checked before this setting.
	Checked bool
	Lost    bool // an entry could not be put on record: only looking and leaving are left
}

// For returns the bindings of a situation, the most needed first.
func For(s Situation) []Binding {
	b := work(s)
	switch {
	case s.Doubt:
		b = inDoubt(s)
	case s.Waits == session.ForDrift:
		b = append([]Binding{bind(Even, "take it out", "", "e"), bind(Keep, "leave it in", "", "k")}, b...)
	}
	b = append(b,
		bind(Again, "sweep again", s.unswept(), "r"),
		bind(Trials, "trials", "", "t"),
	)
	if !s.Doubt {
		b = append(b, bind(Skip, "skip", when(s.reading() || s.Skippable, "no station is asked for"), "s"))
	}
	b = append(b,
		bind(Form, "form", s.NoForm, "f"),
		bind(Setup, "setup", "", "i"),
		bind(Closing, "closing", when(s.reading() && !s.Doubt, "no station is asked for"), "l"),
		bind(Rings, "ring figures", "", "x"),
		bind(Taught, "taught", "", "m"),
		bind(At, "scale", when(s.Waits != session.ForNothing, "the setting is closed"), "w"),
		bind(Bezel, "bezel", when(s.Waits != session.ForNothing, "the setting is closed"), "b"),
		bind(Signs, "signs", when(s.Waits != session.ForNothing, "the setting is closed"), "g"),
		bind(Tilt, "height", when(s.Waits == session.ForWind || s.Waits == session.ForAccept, "no closed sweep stands"), "z"),
		bind(Hold, "hold radius", s.unswept(), "h"),
		bind(Bias, "bias", s.unbiased(), "j"),
		bind(Note, "note", "", "n"),
	)
	if s.Practice {
		b = append(b, bind(Swap, "draw dial", when(s.reading(), "no reading is asked for"), "v"))
	}
	b = append(b, bind(Suspend, "to shell", "", "ctrl+z"))
	if s.Lost {
		b = append([]Binding{bind(Retry, "record again", "", "y")}, b...)
		for i := range b {
			b[i].Why = lostWhy(b[i].Action, s.Page)
		}
	}
	return b
}

// unswept says why no sweep stands that could be done anew, or hold a radius; empty where one does.
func (s *Situation) unswept() string {
	switch {
	case s.Behind || s.Waits == session.ForNothing:
		return "the setting is accepted"
	case s.Early || s.Waits == session.ForLoad:
		return "the sweep has not begun"
	}
	return ""
}

// unbiased says why the swing radius cannot be set beside its figure; empty where it can.
func (s *Situation) unbiased() string {
	if s.Behind || s.Waits == session.ForNothing {
		return "the setting is accepted"
	}
	return when(s.Checked, "no arc was checked before this setting")
}

func (s *Situation) reading() bool { return s.Waits == session.ForReading }

// work are the keys that are needed most, where nothing is in doubt.
func work(s Situation) []Binding {
	confirm := s.Waits == session.ForLoad || s.Waits == session.ForWind || (s.Waits == session.ForChore && !s.Measures)
	enter := map[bool]string{true: "done", false: "take"}[confirm]
	if s.Page {
		enter = "go on"
	}
	b := []Binding{bind(Enter, enter, when(s.Page || s.reading() || confirm || s.Measures, enterWhy(s.Waits)), "enter", "ctrl+j")}
	if s.Practice {
		b = append(b, bind(Dial, map[bool]string{false: "take dial", true: "measure"}[s.Measures], when(s.reading() || s.Measures, "no reading is asked for"), "d"))
	}
	return append(b, accept(s), undo(s), offDial(s, "*", "o"), bind(Help, "keys", "", "?", "f1"), bind(Quit, "quit", "", "q", "ctrl+c"))
}

// inDoubt are the keys that are needed most while a reading is in doubt. All that can be done with it
// has a key of the numeric keypad: the number and Enter, Enter twice, *, /.
func inDoubt(s Situation) []Binding {
	enter := "twice: keep"
	switch {
	case s.Page:
		enter = "go on"
	case s.Typed:
		enter = "take"
	}
	correct, off := []string{"c"}, []string{"*", "o"}
	if s.Proposed {
		correct, off = []string{"*", "c"}, []string{"o"}
	}
	b := []Binding{
		bind(Enter, enter, "", "enter", "ctrl+j"),
		bind(Correct, "correct", when(s.Proposed, "no value is proposed; read the station again"), correct...),
		undo(s),
		bind(Skip, "leave out", "", "s"),
	}
	if s.Practice {
		b = append(b, bind(Dial, "dial", "", "d"))
	}
	return append(b, bind(Help, "keys", "", "?", "f1"), bind(Quit, "quit", "", "q", "ctrl+c"), bind(Keep, "keep", "", "k"), offDial(s, off...), accept(s))
}

func accept(s Situation) Binding {
	return bind(Accept, "accept", when(s.Waits == session.ForAccept, "nothing has settled yet, so there is nothing to accept"), "a")
}

func undo(s Situation) Binding {
	return bind(Undo, "undo", when(s.Undo, "there is no entry to take back"), "/", "u")
}

func offDial(s Situation, names ...string) Binding {
	return bind(OffDial, "off dial", when(s.reading(), "no station is asked for"), names...)
}

// lostWhy leaves looking and leaving, once an entry could not be recorded.
func lostWhy(a Action, page bool) string {
	switch a {
	case Retry, Quit, Suspend, Help, Trials, Taught, Rings, Setup, Form:
		return ""
	case Enter:
		if page {
			return ""
		}
	default: // an entry would not be recorded either
	}
	return "the last entry could not be recorded"
}

func enterWhy(w session.Waits) string {
	if w == session.ForAccept {
		return "press a to accept, or r to sweep again"
	}
	if w == session.ForAgain {
		return "undo the reading that is wrong, or press r to sweep again"
	}
	if w == session.ForDrift {
		return "e takes the drift out, k leaves it in, r sweeps again"
	}
	return "the setting is closed"
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
