package gauge

import "time"

// Moment is what an indicator with a cable shows at a moment, for a screen; lengths are millimetres.
type Moment struct {
	At     time.Time
	Has    bool    // a value has come since the line was opened, or found again
	Value  float64 // the last one, in the dial's sign
	Steady bool    // Mean may be taken now
	Mean   Mean    // of the last samples, where Steady
	Why    error   // else why it may not: a *[MovingError], or [ErrButton]
	Silent bool    // nothing more comes
	Beyond bool    // what came last is beyond the dial, and no value
	// Forgets is how often it was told to forget until then: one of before the last time is about another question.
	Forgets int

	Lost    string // why the line is gone, printable; empty where it is there
	ForGood bool   // ... and is not tried again

	// Since the moment before: lines that were no readings, with the reason of the last; readings that the indicator's own
	// button has sent, each exactly once; what the program that reads it complains of, printable.
	Unread    int
	UnreadWhy error
	Pressed   []float64
	Says      []string
}

// Shown is the figure to be shown, millimetres: of a needle that stands still its mean, which trembles less.
func (m *Moment) Shown() float64 {
	if m.Steady {
		return m.Mean.Value
	}
	return m.Value
}

// Moment returns what is shown now. What could not be read is told once.
func (r *Reader) Moment(now time.Time) Moment {
	m := Moment{At: now, Has: r.has, Value: r.last.v, Silent: r.quiet(now) > 0, Forgets: r.forgets}
	if r.beyond != nil { // what it showed before stands no more
		m.Beyond, m.Has, m.Silent = true, false, false
	}
	m.Mean, m.Why = r.Mean(now)
	m.Steady = m.Why == nil
	m.Unread, m.UnreadWhy = r.Unread(now)
	r.changes = nil // of which a moment is the newest
	return m
}

// quiet is how long a stream has sent nothing, where that is too long; else 0.
func (r *Reader) quiet(now time.Time) time.Duration {
	if quiet := now.Sub(r.last.at); r.has && quiet > max(silence, silenceTimes*r.gap) {
		return quiet
	}
	return 0
}

// Untold reports whether lines that were no readings are still to be told.
func (r *Reader) Untold() bool { return r.unread.some() }
