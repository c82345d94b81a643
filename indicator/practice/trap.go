package practice

import (
	"fmt"
	"math"
	"strings"
)

// Trap is what a machine has that its owner's files do not say, or say wrong. The zero value is none.
type Trap int

// The traps.
const (
	NoTrap Trap = iota
	ReachTrap
	OvalTrap
	ThreeLobedTrap
	OffsetHandleTrap
	XHandleTrap
	YHandleTrap

	trapsInAll
)

// trapReach is by how much the reach is off, either way, and trapLobe how high a wave of the reference stands, mm: one that a
// caliper does not see.
const (
	trapReach                   = 0.05
	trapLobeLeast, trapLobeMost = 0.004, 0.015
)

// traps are the traps by their number.
var traps = [trapsInAll]trapRow{
	NoTrap: {word: "none", told: "nothing"},
	ReachTrap: {word: "reach", told: fmt.Sprintf("the reach is %v mm off what the job says, and nobody has said how sure it is", trapReach),
		unsaid: "reach_error", lay: func(w *World, d draw) { w.Reach += math.Copysign(trapReach, d.either(1)) }},
	OvalTrap: {word: "oval", told: lobeTold("oval"), unsaid: "reference_form_error",
		lay: func(w *World, d draw) { w.TwoLobe = d.trapLobe() }},
	ThreeLobedTrap: {word: "three-lobed", told: lobeTold("three-lobed"), unsaid: "reference_form_error",
		lay: func(w *World, d draw) { w.ThreeLobe = d.trapLobe() }},
	OffsetHandleTrap: {word: "offset-handle", told: handleTold("offset slide"), lay: func(w *World, _ draw) { w.Offset.reverse() }},
	XHandleTrap:      {word: "x-handle", told: handleTold("slide x, or table_x,"), lay: func(w *World, _ draw) { w.X.reverse() }},
	YHandleTrap:      {word: "y-handle", told: handleTold("slide y, or table_y,"), lay: func(w *World, _ draw) { w.Y.reverse() }},
}

// trapRow is one trap: the word it is asked for by, what it is in truth, which key of the job nobody has stated, and what
// it makes of the machine.
type trapRow struct {
	word, told, unsaid string
	lay                func(*World, draw)
}

func lobeTold(form string) string {
	return fmt.Sprintf("the reference is %s, by %v to %v mm either way, and nobody has said how round it is", form, trapLobeLeast,
		trapLobeMost)
}

func handleTold(slide string) string {
	return "the handle of the " + slide + " turns it the other way than the machine file says"
}

func (d draw) trapLobe() Lobe {
	return Lobe{Height: d.between(trapLobeLeast, trapLobeMost), At: d.either(math.Pi)}
}

// reverse has the handle move the slide the other way.
func (s *Slide) reverse() { s.ClockwiseIncreases = !s.ClockwiseIncreases }

// Traps are all of them.
func Traps() (all []Trap) {
	for t := NoTrap + 1; t < trapsInAll; t++ {
		all = append(all, t)
	}
	return all
}

// ParseTrap reads the word of a trap.
func ParseTrap(text string) (Trap, error) {
	var words []string
	for _, t := range Traps() {
		if t.String() == text {
			return t, nil
		}
		words = append(words, t.String())
	}
	last := len(words) - 1
	return NoTrap, fmt.Errorf("%q, need %s or %s", text, strings.Join(words[:last], ", "), words[last])
}

func (t Trap) String() string { return traps[t].word }

// Told is what the machine has in truth.
func (t Trap) Told() string { return traps[t].told }

// Lay has a machine of the seed, and the job that its owner writes of it, have the trap.
func (t Trap) Lay(seed uint64, w *World, job []byte) []byte {
	row := traps[t]
	if row.lay != nil {
		row.lay(w, draw{stream(seed, streamTrap)})
	}
	if row.unsaid == "" {
		return job
	}
	return without(job, row.unsaid)
}
