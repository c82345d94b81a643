package tui

// At returns the replay at event n, as a jump leaves it, for benchmarks of any place: keys jump to few.
func (m Replay) At(n int) Replay {
	m.jump(n)
	return m
}
