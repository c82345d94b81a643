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
}

// ForReplay returns the bindings of a replay, the most needed first.
func ForReplay(s Replayed) []Binding {
	const start, end, noReading = "this is the first event", "this is the last event", "this event is no reading of a sweep"
	play := map[bool]string{true: "stop", false: "play"}[s.Playing]
	out := []Binding{}
	if s.Page {
		out = append(out, bind(Enter, "go on", "", "enter", "ctrl+j"))
	}
	return append(out,
		bind(Forward, "on", when(!s.Last, end), "right"),
		bind(Back, "back", when(!s.First, start), "left"),
		bind(NextTrial, "next trial", when(!s.Last, end), "down"),
		bind(LastTrial, "trial before", when(!s.First, start), "up"),
		bind(Play, play, when(!s.Last, end), " "),
		bind(Surprise, "surprise", when(s.Surprises, "no reading was a surprise"), "s"),
		bind(LeaveOut, "without it", when(s.Reading, noReading), "x"),
		bind(PutRight, "correct it", when(s.Reading, noReading), "c"),
		bind(WhatIf, "what if", when(s.Changed, "no reading is changed: x leaves one out, c corrects it"), "w"),
		bind(NoChange, "as it was", when(s.Changed, "no reading is changed"), "z"),
		bind(Help, "keys", "", "?", "f1"),
		bind(Quit, "quit", "", "q", "ctrl+c"),
		bind(NextSetting, "next accepted", when(s.Settings && !s.Last, "nothing is accepted behind this event"), "pgdown"),
		bind(LastSetting, "accepted before", when(s.Settings && !s.First, "nothing is accepted before this event"), "pgup"),
		bind(Home, "first", when(!s.First, start), "home"),
		bind(End, "last", when(!s.Last, end), "end"),
		bind(Faster, "speed", "", "v"),
		bind(Notes, "notes", when(s.HasNotes, "no note was written"), "n"),
		bind(Trials, "trials", "", "t"),
		bind(Form, "form", s.NoForm, "f"),
		bind(Setup, "setup", "", "i"),
		bind(Taught, "learnt", "", "m"),
		bind(Suspend, "to shell", "", "ctrl+z"),
	)
}
