package gauge

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"time"

	"example.org/trammel/geom"
)

// RangeError: a figure that no needle of the dial can show, millimetres.
type RangeError struct {
	Value, Most float64
	Unit        geom.Unit
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("it sends %.6g %v, and the needle goes to ±%.6g %v at the most", e.Unit.From(e.Value), e.Unit, e.Unit.From(e.Most),
		e.Unit)
}

// Hint says what to do.
func (*RangeError) Hint() string {
	return "see to its unit, its preset and its overload, and to range, or from and to, under [dial] in the job file"
}

// elsewhere reports whether a line that is no reading says that the needle is not where it stood.
func elsewhere(err error) bool {
	var unit *UnitError
	var beyond *RangeError
	return errors.As(err, &unit) || errors.As(err, &beyond)
}

// unread are the lines that were no readings. Each kind of reason is told at once, and while more come again behind ever longer
// pauses; two words never come within a second.
type unread struct {
	kinds []passed
	told  time.Time // the last word
}

// passed are the lines that one kind of reason was against.
type passed struct {
	kind    reflect.Type
	n       int   // since it was told
	because error // of the newest
	told    time.Time
	pause   time.Duration // behind told
}

const (
	leastApart   = time.Second
	firstPause   = 10 * time.Second
	longestPause = 10 * time.Minute
)

func (u *unread) note(because error) {
	kind := reflect.TypeOf(because)
	for i := range u.kinds {
		if p := &u.kinds[i]; p.kind == kind {
			p.n, p.because = p.n+1, because
			return
		}
	}
	u.kinds = append(u.kinds, passed{kind: kind, n: 1, because: because})
}

// some reports whether there are any that are not told.
func (u *unread) some() bool {
	return slices.ContainsFunc(u.kinds, func(p passed) bool { return p.n > 0 })
}

// tell returns what is to be told of one kind; 0 where nothing is.
func (u *unread) tell(now time.Time) (n int, because error) {
	if !u.told.IsZero() && now.Sub(u.told) < leastApart {
		return 0, nil
	}
	for i := range u.kinds {
		p := &u.kinds[i]
		if p.n == 0 || !p.told.IsZero() && now.Sub(p.told) < p.pause {
			continue
		}
		n, because = p.n, p.because
		p.n, p.because, p.told = 0, nil, now
		p.pause = min(max(firstPause, 2*p.pause), longestPause)
		u.told = now
		return n, because
	}
	return 0, nil
}
