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
	Value float64
	Most  float64 // the dial's range, so far as its bezel may have been turned
	Unit  geom.Unit
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("it sends %.6g %v, which is off the dial (%s)", e.Unit.From(e.Value), e.Unit, e.dial(e.Unit))
}

// dial is what the job states of it: its range, with zero in the middle.
func (e *RangeError) dial(u geom.Unit) string { return fmt.Sprintf("±%.6g %v", u.From(e.Most/2), u) }

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
	read  time.Time // when a reading came last
}

// passed are the lines that one kind of reason was against.
type passed struct {
	kind    reflect.Type
	n       int   // since it was told
	because error // of the newest
	newest  time.Time
	told    time.Time
	pause   time.Duration // behind told
}

const (
	leastApart   = time.Second
	firstPause   = 10 * time.Second
	healthy      = 3 * time.Second // of readings behind the newest: what was told before is over
	longestPause = 10 * time.Minute
)

func (u *unread) note(because error, at time.Time) {
	kind := reflect.TypeOf(because)
	for i := range u.kinds {
		if p := &u.kinds[i]; p.kind == kind {
			p.n, p.because, p.newest = p.n+1, because, at
			return
		}
	}
	u.kinds = append(u.kinds, passed{kind: kind, n: 1, because: because, newest: at})
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
		if p.n == 0 || !p.told.IsZero() && (now.Sub(p.told) < p.pause || u.read.Sub(p.newest) > healthy) {
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
