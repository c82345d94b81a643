package keys

// The actions of a replay.
const (
	Forward     Action = "forward" // one event on
	Back        Action = "back"
	NextTrial   Action = "next trial"
	LastTrial   Action = "last trial"
	NextSetting Action = "next setting" // to where the next one is accepted
	LastSetting Action = "last setting"
	Home        Action = "home"
	End         Action = "end"
	Play        Action = "play"
	Faster      Action = "faster"
	Surprise    Action = "surprise" // the biggest surprise, then the next biggest
	LeaveOut    Action = "without it"
	PutRight    Action = "correct it"
	NoChange    Action = "as it was"
	WhatIf      Action = "what if"
	Notes       Action = "notes"
)

// Replayed is all that the keys of a replay depend on.
type Replayed struct {
	First, Last bool // at the first event, at the last
	Page        bool
	Playing     bool
	Reading     bool // this event is a reading of a sweep
	Changed     bool // a what-if is on
	Surprises   bool
	Settings    bool // more than nothing was accepted
	HasNotes    bool
	NoForm      string
	// Watched says that another program writes the journal: signs and digits that somebody types into what they take for their
	// own session go nowhere.
	Watched bool
}

// ForReplay returns the bindings of a replay, the most needed first. Nothing is entered here: digits type the number of an event,
// and the keypad's signs step on and back, as Enter does where no page lies over the work.
func ForReplay(s Replayed) []Binding {
	const start, end, noReading = "this is the first event", "this is the last event", "this event is no reading of a sweep"
	play := map[bool]string{true: "stop", false: "play"}[s.Playing]
	out, on, back := []Binding{}, []string{"+", "right"}, []string{"-", "left"}
	if s.Watched {
		on, back = on[1:], back[1:]
	}
	switch {
	case s.Page:
		out = append(out, bind(Enter, "go on", "", "enter", "ctrl+j"))
	case !s.Watched:
		on = append(on, "enter", "ctrl+j")
	}
	return append(out,
		said(bind(Forward, "on", when(!s.Last, end), on...), "one event on"),
		said(bind(Back, "back", when(!s.First, start), back...), "one event back"),
		bind(List, "list", "", "*"),
		said(bind(NextTrial, "next trial", when(!s.Last, end), "down"), "to the next trial"),
		said(bind(LastTrial, "trial before", when(!s.First, start), "up"), "to the trial before"),
		said(bind(Play, play, when(!s.Last, end), " "), play+", event by event"),
		said(bind(Surprise, "surprise", when(s.Surprises, "no reading was a surprise"), "s"), "to the biggest surprise, then the next"),
		said(bind(LeaveOut, "without it", when(s.Reading, noReading), "x"), "what if this reading were left out"),
		said(bind(PutRight, "correct it", when(s.Reading, noReading), "c"), "what if this reading were another"),
		said(bind(WhatIf, "what if", when(s.Changed, "no reading is changed: x leaves one out, c corrects it"), "w"),
			"what came of the changed readings"),
		said(bind(NoChange, "as it was", when(s.Changed, "no reading is changed"), "z"), "the readings as they were"),
		said(bind(Help, "help", "", "?", "f1"), "help: the signs, the keys"),
		said(bind(Quit, "quit", "", "q", "ctrl+c"), "quit"),
		said(bind(NextSetting, "next accepted", when(s.Settings && !s.Last, "nothing is accepted behind this event"), "pgdown"),
			"to the next accepted setting"),
		said(bind(LastSetting, "accepted before", when(s.Settings && !s.First, "nothing is accepted before this event"), "pgup"),
			"to the accepted setting before"),
		said(bind(Home, "first", when(!s.First, start), "home"), "to the first event"),
		said(bind(End, "last", when(!s.Last, end), "end"), "to the last event"),
		said(bind(Faster, "speed", "", "v"), "another speed of playing"),
		said(bind(Notes, "notes", when(s.HasNotes, "no note was written"), "n"), "the notes so far"),
		said(bind(Trials, "trials", "", "t"), "the trials so far"),
		said(bind(Form, "form", s.NoForm, "f"), "how round the reference is"),
		said(bind(Setup, "setup", "", "i"), "the set-up page"),
		said(bind(Taught, "learnt", "", "m"), "what was learnt of the machine"),
		bind(Suspend, "to shell", "", "ctrl+z"),
	)
}
