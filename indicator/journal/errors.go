package journal

import (
	"errors"
	"fmt"
)

// LockedError says that another program, or another part of this one, writes the journal.
type LockedError struct {
	Path string
	By   string // what it has signed with; empty where it has not
}

func (e *LockedError) Error() string {
	if e.By != "" {
		return fmt.Sprintf("%s: in use by another program: %s", e.Path, e.By)
	}
	return fmt.Sprintf("%s: in use by another program", e.Path)
}

// Hint says what to do.
func (e *LockedError) Hint() string {
	return "end the session that writes it, or give this one a journal of its own"
}

// DamageError says that a whole line is not what was written.
type DamageError struct {
	Path string
	Line int    // counted from 1
	Why  string // what is seen, what is needed
}

func (e *DamageError) Error() string {
	return fmt.Sprintf("%s:%d: damaged: %s", e.Path, e.Line, e.Why)
}

// Hint says what to do.
func (e *DamageError) Hint() string {
	if e.Line == 1 {
		return "the file was left as it is; perhaps it is not a journal"
	}
	return fmt.Sprintf("the file was left as it is; lines 1 to %d are good; begin another journal", e.Line-1)
}

// errLocked is what lock returns when somebody else has it.
var errLocked = errors.New("locked")

// both joins two errors on one line, for a status line has only one; either may be nil.
func both(a, b error) error {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	return fmt.Errorf("%w; %w", a, b)
}
