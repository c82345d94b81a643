package session

// Undone takes back the last entry.
type Undone struct{}

// Undo takes back the last entry.
type Undo struct{}

func (Undone) row() *EventRow { return undone }
func (Undo) row() *CommandRow { return undo }

var undone = event[Undone]{kind: "undone",
	quick: func(payload []byte) (e Undone, ok bool) {
		c := cursor{rest: payload}
		c.take("{}")
		return e, c.done()
	},
	apply: func(s *State, _ Undone) { s.takeBack() },
}.row()

var undo = command[Undo]{word: "undo", help: "take the last entry back", keys: []string{"/", "u"}, label: "undo",
	always: true, takesBack: true,
	not: func(n *Now) string {
		if n.Sealed {
			return sealedWords
		}
		return unless(n.Undo, "there is no entry to take back")
	},
	decide: func(s *State, _ Undo) (Event, error) {
		switch {
		case s.isSealed():
			return nil, refuse("go on with the steps, or begin the next setting", sealedWords)
		case s.LastEntry() == nil:
			return nil, refuse("", "there is no entry to take back")
		}
		return Undone{}, nil
	},
}.row()

// sealedWords say why an accepted setting is not taken back any more.
const sealedWords = "the setting was accepted before the program was left, and stays so"

// logged is one event of the open setting with those before it: an immutable list, newest first,
// that later states share. Undo goes back along it, and so costs a few words an event instead of a
// state.
type logged struct {
	event  Event
	before *logged // nil before the setting's opening
	entry  *logged // the newest entry up to here, itself included; nil where there is none
	n      int     // number of the event in the journal, from 1
	depth  int     // events before it
	// after is the state behind the event, kept for every keepEvery-th: going back folds from the
	// nearest one on. It does not count events, for an undo is an event too.
	after *State
}

// keepEvery bounds how many events going back folds anew.
const keepEvery = 32

// note puts an event that has been carried out on the setting's list.
func (s *State) note(e Event, entry bool) {
	n := &logged{event: e, n: s.Events, before: s.log}
	if s.log != nil {
		n.depth, n.entry = s.log.depth+1, s.log.entry
	}
	if entry {
		n.entry = n
	}
	if n.depth%keepEvery == 0 {
		kept := *s
		kept.Events, kept.log, kept.fitted, kept.sealed, kept.TakenBack = 0, nil, nil, 0, nil
		n.after = &kept
	}
	s.log = n
}

// takeBack is goBack, which remembers a wind: its slide stays where the hand has left it.
func (s *State) takeBack() {
	kept, wind := s.TakenBack, false
	if s.log != nil && s.log.entry != nil {
		_, wind = s.log.entry.event.(Wound)
	}
	if s.goBack(); wind {
		kept = s.Told
	}
	s.TakenBack = kept
}

// WoundAlready reports whether the wind that is told has been confirmed before, and taken back.
func (s *State) WoundAlready() bool {
	was := s.TakenBack
	return was != nil && s.Told != nil && s.Told.Wind.Slide == was.Wind.Slide && s.Told.Wind.Travel == was.Wind.Travel
}

// goBack goes to the state before the last entry: its own events, applied once more from the nearest state
// that was kept. Where there is nothing to take back it stays.
func (s *State) goBack() {
	if s.log == nil || s.log.entry == nil {
		return
	}
	s.goBackTo(s.log.entry.before)
}

// goBackTo goes to the state behind an event of the list.
func (s *State) goBackTo(to *logged) {
	count, sealed := s.Events, s.sealed
	var events [keepEvery]Event // newest first
	n, at := 0, to
	for ; at.after == nil; at = at.before {
		events[n] = at.event
		n++
	}
	*s = *at.after
	for n--; n >= 0; n-- {
		events[n].row().apply(s, events[n])
	}
	s.Events, s.log, s.sealed = count, to, sealed
}

// TakesBack is the number of the entry that an [Undone] takes back, in this state: it and all events behind it stand no
// more. 0 where it takes nothing back.
func (s *State) TakesBack() int {
	if s.log == nil || s.log.entry == nil {
		return 0
	}
	return s.log.entry.n
}

// LastEntry is what undo would take back; nil where there is nothing.
func (s *State) LastEntry() Event {
	if s.log == nil || s.log.entry == nil || s.isSealed() {
		return nil
	}
	return s.log.entry.event
}

// Undoes is what undo would take back, with the state that stands then, which knows its place and its figures; ok is false
// where there is nothing.
func (s *State) Undoes() (e Event, then State, ok bool) {
	if e = s.LastEntry(); e == nil {
		return nil, then, false
	}
	then = *s
	then.goBack()
	return e, then, true
}

// seal keeps an accepted setting from being taken back: the program that it was accepted in has ended, and its work may
// have been cut since. What was entered behind it is taken back as ever.
func (s *State) seal() {
	if s.Accepted() || s.Part > 1 { // of the parts before, if not of this one
		s.sealed = s.Events
	}
}

// isSealed reports whether what undo would take back next is sealed.
func (s *State) isSealed() bool {
	return s.wasLeft() && s.log.entry.event.row().final
}

// wasLeft reports whether the program has been left since the last entry.
func (s *State) wasLeft() bool {
	return s.log != nil && s.log.entry != nil && s.log.entry.n <= s.sealed
}
