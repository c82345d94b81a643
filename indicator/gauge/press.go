package gauge

import (
	"fmt"
	"time"

	"example.org/trammel/geom"
)

// HandAgain is how soon a hand can press an indicator's button again, at the earliest (common practice, no source: it takes that
// long to swing on, and what comes sooner is a button that bounces or an indicator that sends all the time).
const HandAgain = 300 * time.Millisecond

const (
	// streams is how many readings in a row are each too soon before it is known that nobody presses,
	streams = 3
	// presses is after what silence somebody does again.
	presses = 3 * time.Second
)

// press tells what a hand sends by the indicator's button from what comes by itself.
type press struct {
	last time.Time // zero where nothing has come yet
	soon int       // how many in a row came too soon
}

// tooSoon takes in that a reading came, and returns how soon behind the one before it that was, where no hand sends so; else false.
func (p *press) tooSoon(at time.Time) (after time.Duration, soon bool) {
	least := HandAgain
	if p.soon >= streams {
		least = presses
	}
	after = at.Sub(p.last)
	if soon = !p.last.IsZero() && after < least; soon {
		p.soon++
	} else {
		p.soon = 0
	}
	p.last = at
	return after, soon
}

// PressError: a reading, millimetres, that comes sooner behind the one before than a hand presses again.
type PressError struct {
	Value float64
	After time.Duration
	Unit  geom.Unit
}

func (e *PressError) Error() string {
	return fmt.Sprintf("%.6g %v comes %.2f s behind the one before, and no hand presses its button so soon; of those that come so, the "+
		"first alone is taken", e.Unit.From(e.Value), e.Unit, e.After.Seconds())
}

// Hint says what to do.
func (*PressError) Hint() string {
	return `where it sends all the time, state mode = "stream" (trammel gauge), and undo what it has entered; else press again`
}
