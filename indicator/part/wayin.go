package part

import "example.org/trammel/indicator/setup"

// wayIn proposes where the cutter may go down to a pass on element i: from which side of the outline the waste lies, and
// whether it is closed in. Nothing where no depth is said, and of an open element in a drawing without a closed one: how
// far the stock reaches nobody knows.
func (w *work) wayIn(i int) setup.WayIn {
	e := &w.elements[i]
	c := &w.chains[e.chain]
	switch {
	case c.floor == 0:
		return setup.WayInUnsaid
	case !c.open && c.side == Inside, e.hand != 0 && c.open:
		return setup.WayInWaste // round a rim or a boss; beside an open run
	case !c.open && c.slot != nil && !e.centreLine:
		return setup.WayInWaste // the slot is open from its first pass
	case !c.open:
		return setup.WayInHole // a hollow is closed in
	}
	begins := e.Start
	if e.Turn < 0 { // without a side it is cut anticlockwise
		begins = e.End
	}
	switch {
	case len(w.around(begins)) > 0:
		return setup.WayInHole // a groove that begins in the metal
	case len(w.closed) > 0:
		return setup.WayInOff
	}
	return setup.WayInUnsaid
}

// comesUp is the one rule for the way to a start at the depth: where nothing of the part lies ahead of it the cutter may come up to it
// in the cutting sense; where another element would be gouged there, or a corner is left out, it goes down at the start itself.
func comesUp(before float64, w *Window) bool { return before == 0 && (w == nil || w.Past == nil) }

// ComesUp reports whether the cutter may come up to an end, where the cut begins, from beyond it.
func (e *End) ComesUp() bool { return comesUp(e.Before, window(e)) }

// ComesUp reports whether the cutter may come up to the start of the arc of a setting from ahead of it.
func (a *Picked) ComesUp(turned bool) bool {
	if a.BeginsAtTo(turned) {
		return comesUp(float64(a.BeforeTo), a.AtTo)
	}
	return comesUp(float64(a.BeforeFrom), a.AtFrom)
}
