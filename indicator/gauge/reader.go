package gauge

import (
	"errors"
	"time"

	"example.org/trammel/geom"
)

// Reader makes readings of what an indicator sends.
type Reader struct {
	Mode Mode

	lines   Splitter
	pattern Pattern
	steady  Steady
	means   Settings
	unit    geom.Unit

	stable  bool // as it was noted last
	changes []Needle

	has  bool          // a stream has sent a value since Begin
	last sample        // the newest of them
	gap  time.Duration // between the newest and the one before

	unread  int   // lines that were no readings, since that was told
	because error // of the last of them
	told    time.Time
	pause   time.Duration // behind told
}

// NewReader reads by what is stated; u is the unit of figures that neither their line nor what is stated names one of. The error is a
// *[PatternError].
func NewReader(s Settings, u geom.Unit) (*Reader, error) {
	p, err := ParsePattern(s.Pattern)
	if err != nil {
		return nil, err
	}
	if s.Unit != nil {
		u = *s.Unit
	}
	return &Reader{Mode: s.Mode, pattern: p, steady: NewSteady(s.Stable, s.Within), means: s, unit: u}, nil
}

// Begin begins with another stream. One that is joined midway, while the indicator may be sending, begins behind its next line
// end; where a button sends nobody presses it just then, and its first line would be missed.
func (r *Reader) Begin(midway bool) {
	r.lines = Splitter{Midway: midway && r.Mode == Stream}
	r.steady.Forget()
	r.has, r.last, r.gap = false, sample{}, 0
}

// Add takes in bytes that came at a time, and calls each, which may be nil, for every value among them, millimetres.
func (r *Reader) Add(b []byte, at time.Time, each func(mm float64)) {
	r.lines.Add(b, func(l Line) {
		v, err := r.pattern.Read(l, r.unit, r.means.Unit != nil)
		if err != nil {
			r.unread++
			r.because = err
			return
		}
		v = r.means.reading(v)
		r.pause = min(r.pause, unreadPause)
		if r.Mode == Stream {
			r.steady.Add(v, at)
			r.note(v, at)
			r.look(at)
		}
		if each != nil {
			each(v)
		}
	})
}

// note remembers the newest value of a stream. Those that came together tell nothing of its pace.
func (r *Reader) note(v float64, at time.Time) {
	if r.has && at.After(r.last.at) {
		r.gap = at.Sub(r.last.at)
	}
	r.has, r.last = true, sample{v, at}
}

// Needle is what the needle shows, millimetres: of a stream that stands still its mean; NaN where nothing has come.
type Needle struct {
	Value  float64
	Stable bool
}

// look notes where Stable changes: between two samples that came together too, for else a needle that went elsewhere and stands
// still again would seem to have stood where it is.
func (r *Reader) look(now time.Time) {
	n := Needle{Value: r.steady.last()}
	if m, err := r.steady.Mean(now); err == nil {
		n = Needle{m.Value, true}
	}
	if n.Stable != r.stable {
		r.stable = n.Stable
		r.changes = append(r.changes, n)
	}
}

// Changes returns what the needle showed wherever Stable has changed, since that was asked last.
func (r *Reader) Changes(now time.Time) []Needle {
	r.look(now)
	out := r.changes
	r.changes = nil
	return out
}

// ErrButton: what sends as its button is pressed shows nothing that could be taken.
var ErrButton = errors.New("the cable indicator sends by its own button")

// Mean returns what the stream shows where it stands still; the error is a *[MovingError], or [ErrButton].
func (r *Reader) Mean(now time.Time) (Mean, error) {
	if r.Mode == Button {
		return Mean{}, ErrButton
	}
	m, err := r.steady.Mean(now)
	var moving *MovingError
	if errors.As(err, &moving) && moving.Have < moving.Need { // the silence of a stream of which enough has come is seen there
		moving.Silent = r.quiet(now)
	}
	return m, err
}

// Forget has what comes from now on count alone: no sample is taken twice, and none that came before it was asked for.
func (r *Reader) Forget() { r.steady.Forget() }

// The least time between two words on lines that are no readings: it doubles from the one to the other as long as nothing else
// comes.
const (
	unreadPause = time.Second
	longestWait = time.Minute
)

// Unread returns how many lines were no readings since that was last asked with success, and why the newest was none; 0 where
// there are none, or where it has been told a moment ago.
func (r *Reader) Unread(now time.Time) (n int, because error) {
	if r.unread == 0 || !r.told.IsZero() && now.Sub(r.told) < r.pause {
		return 0, nil
	}
	n, because = r.unread, r.because
	r.unread, r.because, r.told = 0, nil, now
	r.pause = min(max(unreadPause, 2*r.pause), longestWait)
	return n, because
}
