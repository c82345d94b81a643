package session

// Now is what the keys depend on of what the session waits for.
type Now struct {
	Waits    Waits
	Undo     bool // there is an entry to take back
	Sealed   bool // it is an accepted setting of an earlier program, which stays
	Doubt    bool // a reading is in doubt and asked for once more
	Proposed bool // there is a value that it may have been
	Which    bool // a number at a parked wind may be the next station's reading
	// Skippable says that what is asked for is a step of the order at the machine; Early that the sweep
	// has not begun, Behind that the setting is accepted.
	Skippable, Early, Behind bool
	// Looking says that what is read is no station of a sweep: it is looked at whether anything has moved since the setting was
	// accepted, or where the slides stand between two winds.
	Looking bool
	// Measures says that such a step, or a wind whose collar has to be read first, is answered with a number.
	Measures bool
	// Parked says that a wind is under the needle, whose going off the dial puts the slide's sense in question.
	Parked bool
	// Stops says that it is the pass by hand to stops that a ring shows.
	Stops bool
	// Arc says that what is asked for is the radius of an arc that was cut.
	Arc bool
	// Ended says that nothing is left of this part, and the next may begin.
	Ended bool
	// Checked says that arcs were checked before this setting.
	Checked bool
	// Named says that something stated is in question, Sign that the sign of a slide is to be checked for it.
	Named, Sign bool
	// Limited says that something of the set-up has a limit of error that can be stated, Unsaid that nobody has stated one of
	// them.
	Limited, Unsaid bool
}

// Now returns what the keys depend on, where p is what the session waits for.
func (s *State) Now(p *Prompt) Now {
	limited, unsaid := s.limits()
	return Now{Waits: p.Waits, Which: p.Wind.Which != nil, Undo: s.LastEntry() != nil, Sealed: s.isSealed(), Doubt: p.Reading.Again,
		Proposed:  p.Reading.Doubt.WouldBe != nil,
		Skippable: p.Chore.Step != "", Measures: p.Waits == ForChore && p.TakesReading() && !p.Chore.May && !p.Chore.Seen || p.Wind.Reads,
		Parked: p.Waits == ForWind && p.Wind.How == UnderNeedle && s.asksBack(),
		Stops:  p.Waits == ForChore && p.Chore.Seen,
		Arc:    p.Waits == ForChore && p.Chore.Step.row().answer == arcRadius,
		Early:  s.Phase == Preparing || s.Phase == Loading, Behind: s.Accepted(), Ended: s.Phase == Ended, Looking: s.Bump != nil ||
			p.Reading.Between,
		Checked: len(s.Arcs) > 0, Named: len(s.Named) > 0,
		Sign:    p.Waits == ForCheck && p.Check.Plan.Slide != "",
		Limited: len(limited) > 0, Unsaid: unsaid > 0}
}

// Over returns the same where a page lies over what the session waits for, so that nothing of it is answered.
func (n Now) Over() Now {
	return Now{Undo: n.Undo, Sealed: n.Sealed, Behind: n.Behind, Ended: n.Ended, Looking: n.Looking, Checked: n.Checked, Named: n.Named}
}

func (n *Now) reading() bool { return n.Waits == ForReading }

// closed says that nothing is open any more; nothing where something is.
func (n *Now) closed() string { return unless(n.Waits != ForNothing, "the setting is closed") }

// accepted says that the setting is accepted, and the indicator out; nothing before.
func (n *Now) accepted() string {
	if n.Behind {
		return "the setting is accepted"
	}
	return n.closed()
}

// unswept says why no sweep stands that could be done anew, or hold a radius; empty where one does.
func (n *Now) unswept() string {
	switch {
	case n.Waits == ForMoved:
		return ""
	case n.Behind || n.Waits == ForNothing:
		return "the setting is accepted"
	case n.Early || n.Waits == ForLoad:
		return "the sweep has not begun"
	}
	return ""
}

// unbiased says why the swing radius cannot be set beside its figure; empty where it can.
func (n *Now) unbiased() string {
	if n.Behind || n.Waits == ForNothing {
		return "the setting is accepted"
	}
	return unless(n.Checked, "no arc was checked before this setting")
}

// unless is why where it does not hold.
func unless(ok bool, why string) string {
	if ok {
		return ""
	}
	return why
}
