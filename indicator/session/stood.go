package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// stood is where the head, or the table, was set: where the reference was met, and whether the needle was off the dial there.
type stood struct {
	at  geom.Bearing
	off bool
}

// metLast is where it was set last; ok is false where nothing has set it in this setting.
func (s *State) metLast() (at stood, ok bool) {
	for n := s.log; n != nil; n = n.before {
		if at, ok := n.event.row().met(s, n.event); ok {
			return at, true
		}
	}
	return at, false
}

// TipAt is where the tip is to be while a slide is wound by its collar.
type TipAt uint8

// The three: the head stays where it stands, and the needle on the dial; it is swung first to where the needle stays on it; or nobody
// knows such a place, and the tip is brought clear of the work.
const (
	TipStays TipAt = iota
	TipSwings
	TipClear
)

// CollarTip says where the tip is to be while the slide of the wind is wound that is told by the collar, and at which bearing the
// reference is met there.
func (s *State) CollarTip() (how TipAt, at geom.Bearing) {
	b, w := s.bench(), (*setup.Wind)(s.Told)
	f, err := s.circle()
	if err != nil {
		return TipClear, 0
	}
	now, ok := s.metLast()
	switch {
	case !ok || now.off:
		return TipClear, 0
	case b.Stays(f, w.Wind, now.at):
		return TipStays, now.at
	case w.Table != nil: // the handwheel is reached there
		return TipClear, 0
	}
	if at, ok := b.StaysAt(f, w.Wind, now.at); ok {
		return TipSwings, at
	}
	return TipClear, 0
}
