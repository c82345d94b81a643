package keys

import "example.org/trammel/indicator/session"

// The screen's own actions.
const (
	Enter    Action = "enter"     // take the reading, confirm the load or the wind, go on
	Dial     Action = "dial"      // practice: take what the dial shows
	Ways     Action = "ways"      // the ways in which an arc can be measured, by number
	Rings    Action = "rings"     // places by the ring's figures, or in the one frame
	Taught   Action = "taught"    // what the machine has taught
	Trials   Action = "trials"    //
	Setup    Action = "setup"     //
	Form     Action = "form"      // how round the reference is
	Swap     Action = "swap"      // the dial in place of the picture
	Retry    Action = "retry"     // record again what could not be
	Help     Action = "help"      //
	Quit     Action = "quit"      //
	Suspend  Action = "suspend"   //
	Up       Action = "up"        // plan: the element before
	Down     Action = "down"      // plan: the element after
	TurnSide Action = "turn side" // plan: the metal is on the other side
)

// looks are the actions that look or leave, and record nothing.
var looks = []Action{Retry, Quit, Suspend, Help, Trials, Taught, Rings, Setup, Form}

// ownKey is a key of the screen itself.
type ownKey struct {
	action Action
	label  func(*Situation) string
	not    func(*Situation) string // why it cannot act now; nil where it always can
	shown  func(*Situation) bool   // nil where it always is
	names  []string
}

func (o *ownKey) bind(s *Situation) (b Binding, ok bool) {
	if o.shown != nil && !o.shown(s) {
		return b, false
	}
	why := ""
	if o.not != nil {
		why = o.not(s)
	}
	return bind(o.action, o.label(s), why, o.names...), true
}

var own = []ownKey{
	{action: Enter, label: (*Situation).enter, not: (*Situation).enterWhy, names: []string{"enter", "ctrl+j"}},
	{action: Dial, label: (*Situation).dial, not: (*Situation).unread, shown: (*Situation).practice, names: []string{"d"}},
	{action: Ways, label: called("ways"), shown: func(s *Situation) bool { return s.Arc }, names: []string{star}},
	{action: Help, label: called("keys"), names: []string{"?", "f1"}},
	{action: Quit, label: called("quit"), names: []string{"q", "ctrl+c"}},
	{action: Trials, label: called("trials"), names: []string{"t"}},
	{action: Form, label: called("form"), not: func(s *Situation) string { return s.NoForm }, names: []string{"f"}},
	{action: Setup, label: called("setup"), names: []string{"i"}},
	{action: Rings, label: called("ring figures"), names: []string{"x"}},
	{action: Taught, label: called("learnt"), names: []string{"m"}},
	{action: Swap, label: called("draw dial"), shown: (*Situation).practice, names: []string{"v"},
		not: func(s *Situation) string { return when(s.Waits == session.ForReading, "no reading is asked for") }},
	{action: Suspend, label: called("to shell"), names: []string{"ctrl+z"}},
}

func called(label string) func(*Situation) string { return func(*Situation) string { return label } }

func (s *Situation) practice() bool { return s.Practice }

// confirms reports whether Enter alone says that what was told is done.
func (s *Situation) confirms() bool {
	return s.Waits == session.ForLoad || s.Waits == session.ForWind || s.Waits == session.ForBack ||
		(s.Waits == session.ForChore && !s.Measures)
}

// enter is what Enter is called. All that can be done with a reading in doubt has a key of the numeric keypad: the number
// and Enter, Enter twice, *, /.
func (s *Situation) enter() string {
	switch {
	case s.Page:
		return "go on"
	case s.Doubt && !s.Typed:
		return "twice: keep"
	case s.confirms():
		return "done"
	}
	return "take"
}

func (s *Situation) enterWhy() string {
	switch {
	case s.Page || s.Waits == session.ForCheck || s.Doubt || s.Measures || s.confirms() || s.Waits == session.ForReading ||
		s.Waits == session.ForSize && s.Typed:
		return ""
	case s.Waits == session.ForAccept:
		return "press a to accept, or r to sweep again"
	case s.Waits == session.ForAgain:
		return "undo the reading that is wrong, or press r to sweep again"
	case s.Waits == session.ForSize && !s.Typed:
		return "type the number of an answer"
	case s.Waits == session.ForDrift:
		return "e takes the drift out, k leaves it in, r sweeps again"
	}
	return "the setting is closed"
}

func (s *Situation) dial() string {
	switch {
	case s.Doubt:
		return "dial"
	case s.Measures:
		return "measure"
	}
	return "take dial"
}

// unread says why there is no dial to be taken.
func (s *Situation) unread() string {
	return when(s.Doubt || s.Measures || s.Waits == session.ForReading, "no reading is asked for")
}
