package keys

import "example.org/trammel/indicator/session"

// The screen's own actions.
const (
	Enter    Action = "enter"     // take the reading, confirm the load or the wind, go on
	Dial     Action = "dial"      // practice: take what the dial shows
	Wind     Action = "wind"      // practice: the hand on a handle
	Rings    Action = "rings"     // places by the ring's figures, or in the one frame
	Taught   Action = "taught"    // what the machine has taught
	Trials   Action = "trials"    //
	Setup    Action = "setup"     //
	Form     Action = "form"      // how round the reference is
	Swap     Action = "swap"      // the picture in place of the dial
	List     Action = "list"      // all that can be done now, by numbers
	Retry    Action = "retry"     // record again what could not be
	Help     Action = "help"      //
	Quit     Action = "quit"      //
	Suspend  Action = "suspend"   //
	Up       Action = "up"        // plan: the element before
	Down     Action = "down"      // plan: the element after
	TurnSide Action = "turn side" // plan: the metal is on the other side
	Cutters  Action = "cutters"   // plan: the cutters at hand are named
	Where    Action = "where"     // plan: where one is with the whole part
)

// looks are the actions that look or leave, and record nothing.
var looks = []Action{List, Retry, Quit, Suspend, Help, Trials, Taught, Rings, Setup, Form}

// ownKey is a key of the screen itself.
type ownKey struct {
	action Action
	label  func(*Situation) string
	not    func(*Situation) string // why it cannot act now; nil where it always can
	shown  func(*Situation) bool   // nil where it always is
	names  []string
	words  string // in the list; the label where there are none
	over   string // the same once nothing is left to go on with, where it is another
	unkept string // the same in practice, whose sessions nobody goes on with, where it is another
}

func (o *ownKey) bind(s *Situation) (b Binding, ok bool) {
	if o.shown != nil && !o.shown(s) {
		return b, false
	}
	why := ""
	if o.not != nil {
		why = o.not(s)
	}
	b = bind(o.action, o.label(s), why, o.names...)
	if b.Says = o.words; s.Over && o.over != "" {
		b.Says = o.over
	} else if s.Practice && o.unkept != "" {
		b.Says = o.unkept
	}
	return b, true
}

var own = []ownKey{
	{action: Enter, label: (*Situation).enter, not: (*Situation).enterWhy, names: []string{"enter", "ctrl+j"}},
	{action: Dial, label: (*Situation).dial, not: (*Situation).unread, shown: (*Situation).practice, names: []string{"d"},
		words: "take what the dial shows"},
	{action: Wind, label: (*Situation).hand, shown: func(s *Situation) bool { return s.Hand != "" },
		names: []string{"right", "up", "pgup", "left", "down", "pgdown"}, words: "which keys turn the simulated handle"},
	{action: List, label: (*Situation).list, names: []string{"*"}},
	{action: Help, label: called("help"), names: []string{"?", "f1"}, words: "help on this step; the keys, the words"},
	{action: Quit, label: called("quit"), names: []string{"q", "ctrl+c"}, words: "quit; the session goes on another time",
		over: "quit; the setting stays accepted", unkept: "quit; practice keeps no journal"},
	{action: Trials, label: called("trials"), names: []string{"t"}, words: "the trials so far"},
	{action: Form, label: called("form"), not: func(s *Situation) string { return s.NoForm }, names: []string{"f"},
		words: "how round the reference is"},
	{action: Setup, label: called("setup"), names: []string{"i"}, words: "the set-up page"},
	{action: Rings, label: called("ring figures"), names: []string{"x"}, words: "places by the ring's figures, or by bearings"},
	{action: Taught, label: called("learnt"), names: []string{"m"}, words: "what was learnt of the machine"},
	{action: Swap, label: called("dial/picture"), shown: (*Situation).drawn, names: []string{"v"},
		words: "the picture in place of the dial, or the dial again",
		not:   func(s *Situation) string { return when(s.Waits == session.ForReading, "no reading is asked for") }},
	{action: Suspend, label: called("to shell"), names: []string{"ctrl+z"}},
}

func called(label string) func(*Situation) string { return func(*Situation) string { return label } }

func (s *Situation) practice() bool { return s.Practice }

// drawn reports whether a dial may be drawn.
func (s *Situation) drawn() bool { return s.Practice || s.Needle }

// confirms reports whether Enter alone says that what was told is done.
func (s *Situation) confirms() bool {
	return s.Waits == session.ForLoad || s.Waits == session.ForBack ||
		(s.Waits == session.ForWind || s.Waits == session.ForChore) && !s.Measures
}

// enter is what Enter is called.
func (s *Situation) enter() string {
	switch {
	case s.Page:
		return "go on"
	case s.End != "":
		return s.End
	case s.More && !s.Typed:
		return "what comes then"
	case s.Needle && !s.Typed:
		return "take needle"
	case s.Doubt && !s.Typed:
		return "twice: keep"
	case s.confirms():
		return "done"
	case s.Waits == session.ForAccept:
		return "twice: accept"
	case s.Practice && s.Measures && !s.Typed:
		return "measure"
	case s.Practice && s.Waits == session.ForReading && !s.Typed:
		return "take dial"
	}
	return "take"
}

func (s *Situation) enterWhy() string {
	switch {
	case s.Waits == session.ForCheck && !s.Typed && !s.More && !s.Page && !s.Sign:
		return "type the number of what is wrong, then Enter puts it right"
	case s.Page || s.End != "" || s.Waits == session.ForCheck || s.Doubt || s.Measures || s.confirms() || s.Waits == session.ForReading ||
		s.Waits == session.ForAccept || s.Waits == session.ForSize && s.Typed:
		return ""
	case s.Waits == session.ForAgain:
		return "undo the reading that is wrong, or press r to sweep again"
	case s.Waits == session.ForSize && !s.Typed:
		return "type the number of an answer"
	case s.Waits == session.ForMoved:
		return "r sweeps again, k goes on as it stands"
	case s.Waits == session.ForDrift:
		return "e takes the drift out, k leaves it in, r sweeps again"
	}
	return "the setting is closed"
}

func (s *Situation) list() string {
	if s.Arc {
		return "ways" // of measuring it, which come first
	}
	if s.Waits == session.ForAccept && s.Unsaid {
		return "say how right" // what the verdict leans on is, which comes first
	}
	return "list"
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

// hand is what the arrow keys do, and which way the upper one does it.
func (s *Situation) hand() string {
	if s.Hand == "wind" {
		return "wind, up clockwise"
	}
	return s.Hand
}
