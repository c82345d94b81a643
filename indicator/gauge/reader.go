package gauge

import (
	"time"

	"example.org/trammel/geom"
)

// Reader makes readings of what an indicator sends.
type Reader struct {
	Mode Mode

	lines   Splitter
	pattern Pattern
	steady  Steady
	unit    geom.Unit

	stable bool // as it was told last

	unread  int   // lines that were no readings, since that was told
	because error // of the last of them
	told    time.Time
}

// NewReader reads by what is stated; u is the unit of figures that none is stated of. The error is a *[PatternError].
func NewReader(s Settings, u geom.Unit) (*Reader, error) {
	p, err := ParsePattern(s.Pattern)
	if err != nil {
		return nil, err
	}
	if s.Unit != nil {
		u = *s.Unit
	}
	return &Reader{Mode: s.Mode, pattern: p, steady: NewSteady(s.Stable, s.Within), unit: u}, nil
}

// Begin begins with another stream. One that is joined midway, while the indicator may be sending, begins behind its next line
// end; where a button sends nobody presses it just then, and its first line would be missed.
func (r *Reader) Begin(midway bool) {
	r.lines = Splitter{Midway: midway && r.Mode == Stream}
	r.steady.Forget()
}

// Add takes in bytes that came at a time, and calls each, which may be nil, for every value among them, millimetres.
func (r *Reader) Add(b []byte, at time.Time, each func(mm float64)) {
	r.lines.Add(b, func(l Line) {
		v, err := r.pattern.Read(l, r.unit)
		if err != nil {
			r.unread++
			r.because = err
			return
		}
		if r.Mode == Stream {
			r.steady.Add(v, at)
		}
		if each != nil {
			each(v)
		}
	})
}

// Needle is what the needle shows, millimetres: of a stream that stands still its mean; NaN where nothing has come.
type Needle struct {
	Value  float64
	Stable bool
}

// Needle returns what the needle shows; changed is true where Stable has changed since it was asked last.
func (r *Reader) Needle(now time.Time) (n Needle, changed bool) {
	n.Value = r.steady.last()
	if m, err := r.steady.Mean(now); err == nil {
		n = Needle{m.Value, true}
	}
	changed = n.Stable != r.stable
	r.stable = n.Stable
	return n, changed
}

// Take returns what the stream shows where it stands still, and begins anew: no sample is taken twice. The error is a
// *[MovingError], and nothing is taken.
func (r *Reader) Take(now time.Time) (Mean, error) {
	m, err := r.steady.Mean(now)
	if err == nil {
		r.steady.Forget()
	}
	return m, err
}

// unreadPause is the least time between two words on lines that are no readings.
const unreadPause = time.Second

// Unread returns how many lines were no readings since that was last asked with success, and why the newest was none; 0 where
// there are none, or where it has been told a moment ago.
func (r *Reader) Unread(now time.Time) (n int, because error) {
	if r.unread == 0 || !r.told.IsZero() && now.Sub(r.told) < unreadPause {
		return 0, nil
	}
	n, because = r.unread, r.because
	r.unread, r.because, r.told = 0, nil, now
	return n, because
}
