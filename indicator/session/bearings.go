package session

import "fmt"

// Bearings says by which figures places round the circle are told: a preference of the setting, which a
// replay needs to say what was said.
type Bearings string

// The figures. AsUsual tells a head's bearings in the one frame, with what its ring shows where that is
// something else, and a table's by its ring.
const (
	AsUsual Bearings = ""
	ByRing  Bearings = "ring"  // what the head's or the table's ring shows
	ByFrame Bearings = "plain" // degrees counter-clockwise from +X of the reference's own frame
)

// Check refuses a word that is none of them.
func (b Bearings) Check() error {
	switch b {
	case AsUsual, ByRing, ByFrame:
		return nil
	}
	return fmt.Errorf("bearings %q, need %s or %s", string(b), ByRing, ByFrame)
}
