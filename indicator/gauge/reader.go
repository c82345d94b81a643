package gauge

import (
	"errors"
	"math"
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

	unread   unread
	beyond   *RangeError // the newest line's; nil where that is a reading
	pulse    pulse
	forgets  int
	endless  bool // that no line ends is noted
	stood    stood
	restless restless
	press    press // kept while the line is gone: what sends all the time still does as it is found
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
	r.has, r.last, r.gap, r.pulse, r.beyond = false, sample{}, 0, pulse{}, nil
}

// Add takes in bytes that came at a time, and calls each, which may be nil, for every value among them, millimetres.
func (r *Reader) Add(b []byte, at time.Time, each func(mm float64)) {
	if len(b) > 0 {
		r.pulse.something(at)
	}
	r.lines.Add(b, func(l Line) {
		v, err := r.read(l)
		if err != nil {
			r.unread.note(err, at)
			errors.As(err, &r.beyond)
			if elsewhere(err) {
				r.stood.gone = true
				r.steady.Forget()
				r.look(at)
			}
			return
		}
		if after, soon := r.pressed(at); soon {
			r.unread.note(&PressError{v, after, r.unit}, at)
			return
		}
		r.unread.read, r.beyond = at, nil
		if r.Mode == Stream {
			r.steady.Add(v, at)
			r.wait(at)
			r.note(v, at)
			r.look(at)
		}
		if each != nil {
			each(v)
		}
	})
	r.ends(at)
}

// pressed takes in that a reading came: of a button's it returns whether that was too soon, and how soon.
func (r *Reader) pressed(at time.Time) (after time.Duration, soon bool) {
	if r.Mode != Button {
		return 0, false
	}
	return r.press.tooSoon(at)
}

// read makes a value of a line. What no needle can show is none of a stream's; what a button sends somebody has looked at, and is
// told that it is not taken.
func (r *Reader) read(l Line) (float64, error) {
	v, err := r.pattern.Read(l, r.unit, r.means.Unit != nil)
	if err != nil {
		return 0, err
	}
	v = r.means.reading(v)
	if most := r.means.Most; r.Mode == Stream && most > 0 && math.Abs(v) > most+rounding {
		return 0, &RangeError{v, most, r.unit}
	}
	return v, nil
}

// note remembers the newest value of a stream. Those that came together tell nothing of its pace.
func (r *Reader) note(v float64, at time.Time) {
	if r.has && at.After(r.last.at) {
		r.gap = at.Sub(r.last.at)
	}
	r.has, r.last = true, sample{v, at}
	r.stood.add(v, r.unit)
}

// wait looks behind a sample whether the needle comes to rest.
func (r *Reader) wait(at time.Time) {
	if len(r.steady.ring) < r.steady.n {
		r.restless.since = time.Time{}
		return
	}
	w := r.steady.window()
	r.restless.look(&w, r.steady.still, r.means.Within, at)
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
	if r.beyond != nil {
		return Mean{}, &MovingError{Beyond: r.beyond}
	}
	m, err := r.steady.Mean(now)
	var moving *MovingError
	if errors.As(err, &moving) && moving.Have < moving.Need { // the silence of a stream of which enough has come is seen there
		moving.Silent, moving.Apart = r.quiet(now), r.gap
	}
	if err == nil {
		w := r.steady.window()
		m.Stay = r.stood.stay(w.trembling, r.means.Within)
	}
	return m, err
}

// Forget has what comes from now on count alone: no sample is taken twice, and none that came before it was asked for. It returns
// how often it was told to: [Moment] has the same count.
func (r *Reader) Forget() int {
	r.steady.Forget()
	r.stood.forget()
	r.forgets++
	return r.forgets
}

// Unread returns how many lines were no readings since that was last told, and why the newest of them was none; 0 where there are
// none, or where it is not to be told again yet: see [unread].
func (r *Reader) Unread(now time.Time) (n int, because error) { return r.unread.tell(now) }

// Silence tells once that a stream has gone silent, with how long nothing has come, and once that it sends again; a button may be
// silent for as long as nobody presses it. It is not asked of a line that is known to be gone.
func (r *Reader) Silence(now time.Time) (gone time.Duration, back bool) {
	if r.Mode != Stream {
		return 0, false
	}
	return r.pulse.silence(now)
}

// Listening reports whether a silence is still to be told.
func (r *Reader) Listening() bool { return r.Mode == Stream && !r.pulse.silent }
