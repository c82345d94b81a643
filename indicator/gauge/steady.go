package gauge

import (
	"fmt"
	"math"
	"time"

	"example.org/trammel/geom"
)

// The numbers of samples that a steady mean may be made of.
const (
	FewestStable = 3
	MostStable   = 1000
)

// tremble is how many times the samples' own trembling must find room in the range beside them: at its edge a movement could
// hide in it. Found by simulation (TestSteadyIsSeldomFalse): the least whole number that keeps false ones below 1 in 1000 at
// every speed, from the one at which the band is just left.
const tremble = 4

// Steady tells whether a stream of values stands still.
type Steady struct {
	n      int
	within float64
	ring   []sample // the last n, oldest first once it is full: see at
	next   int
	rest
}

type sample struct {
	v  float64
	at time.Time
}

// NewSteady wants the last n samples to lie within a range, millimetres.
func NewSteady(n int, within float64) Steady {
	return Steady{n: min(max(n, FewestStable), MostStable), within: within}
}

// Add takes a value in, millimetres, with the time at which it came. What came before a silence stands for nothing behind it.
func (s *Steady) Add(v float64, at time.Time) {
	if s.silent(at) > 0 {
		s.Forget()
	}
	if len(s.ring) < s.n {
		s.ring = append(s.ring, sample{v, at})
	} else {
		s.ring[s.next] = sample{v, at}
		s.next = (s.next + 1) % s.n
	}
	if len(s.ring) == s.n {
		w := s.window()
		s.rest.look(&w, s.within, at)
	}
}

// Forget begins anew, so that no sample is taken twice.
func (s *Steady) Forget() { s.ring, s.next, s.rest = s.ring[:0], 0, rest{} }

// at is the i-th sample, from the oldest.
func (s *Steady) at(i int) sample { return s.ring[(s.next+i)%len(s.ring)] }

// last is the newest value; NaN where there is none.
func (s *Steady) last() float64 {
	if len(s.ring) == 0 {
		return math.NaN()
	}
	return s.at(len(s.ring) - 1).v
}

// Mean is what a steady stream shows, millimetres: the mean of N samples, and their spread (the standard deviation of one).
type Mean struct {
	Value, Spread float64
	N             int
	Stay          Stay // since the last entry; [Reader.Mean] alone knows
}

// MovingError: there is no steady value now. Lengths are millimetres.
type MovingError struct {
	Have, Need             int           // samples
	Range, Tremble, Within float64       // of them, once there are enough
	Silent                 time.Duration // since the last one came, where that is too long ago
	Apart                  time.Duration // the two newest lines of all, where too few have come
	Beyond                 *RangeError   // what came last is beyond the dial; nil where it is not
	Rest                   time.Duration // for which it must stand still, since it has come to rest and moved, and gone nowhere
}

func (e *MovingError) Error() string { return e.In(geom.Millimetre) }

// lineAtATime is how far apart lines come that somebody sends one by one (common practice, no source: a stream sends at least once a
// second).
const lineAtATime = 2 * time.Second

// In is the reason with its lengths in a unit.
func (e *MovingError) In(u geom.Unit) string {
	length := func(mm float64) string { return fmt.Sprintf("%.2g %v", u.From(mm), u) }
	switch {
	case e.Beyond != nil:
		return fmt.Sprintf("over-pressed, or not touching: the figure %+.6g %v is off the dial (%s)", u.From(e.Beyond.Value), u,
			e.Beyond.dial(u))
	case e.Silent > 0:
		return fmt.Sprintf("nothing has come from the cable indicator for %.1f s", e.Silent.Seconds())
	case e.Have < e.Need:
		samples := fmt.Sprintf("%d samples", e.Have)
		if e.Have == 1 {
			samples = "1 sample"
		}
		if e.Apart >= lineAtATime {
			return fmt.Sprintf("it sends a line at a time, %s since the last entry: state mode = \"button\" (trammel gauge)", samples)
		}
		return fmt.Sprintf("%s since the last entry, need %d that stand still", samples, e.Need)
	case e.Rest > 0:
		return fmt.Sprintf("the needle trembles: it has to stand still for %.1f s now", e.Rest.Seconds())
	case e.Range > e.Within:
		return fmt.Sprintf("the needle moves: the last %d samples range over %s, need within %s", e.Need, length(e.Range), length(e.Within))
	}
	return fmt.Sprintf("the needle trembles: the last %d samples range over %s and jump by %s, so that they may drift by more than %s",
		e.Need, length(e.Range), length(e.Tremble), length(e.Within))
}

// silence is how long a stream may send nothing before its last value stands for nothing: so much, or so many times the time
// between two of its samples.
const (
	silence      = time.Second
	silenceTimes = 5
)

// silent is how long nothing has come, where that is too long; else 0.
func (s *Steady) silent(now time.Time) time.Duration {
	have := len(s.ring)
	if have == 0 {
		return 0
	}
	first, last := s.at(0), s.at(have-1)
	usual := last.at.Sub(first.at) / time.Duration(max(have-1, 1))
	if quiet := now.Sub(last.at); quiet > max(silence, silenceTimes*usual) {
		return quiet
	}
	return 0
}

// Mean returns what the stream shows where it stands still; the error is a *[MovingError].
//
// It stands still where the last n samples range over no more than the range less [tremble] times their trembling, and from then on
// until it leaves: see [rest].
func (s *Steady) Mean(now time.Time) (Mean, error) {
	have := len(s.ring)
	if have < s.n {
		return Mean{}, &MovingError{Have: have, Need: s.n}
	}
	if quiet := s.silent(now); quiet > 0 {
		return Mean{}, &MovingError{Have: have, Need: s.n, Silent: quiet}
	}
	w := s.window()
	switch {
	case s.still:
		return Mean{Value: w.mean, Spread: w.spread, N: have}, nil
	case w.met(s.within):
		return Mean{}, &MovingError{Have: have, Need: s.n, Rest: s.wait}
	}
	return Mean{}, &MovingError{Have: have, Need: s.n, Range: w.over, Tremble: w.trembling, Within: s.within}
}

// window is what the last n samples say, millimetres: their mean and that of the newer half of them, the range that they lie over,
// their standard deviation about their mean, and how much they tremble.
type window struct {
	mean, newer, over, spread, trembling float64
	lasts                                time.Duration
}

// met is the rule by which they stand still.
func (w *window) met(within float64) bool { return w.over+tremble*w.trembling <= within+rounding }

func (s *Steady) window() window {
	n := len(s.ring)
	first := s.at(0)
	low, high, sum, newer := 0.0, 0.0, 0.0, 0.0 // from the first sample, so that no digits are lost
	for i := range n {
		v := s.at(i).v - first.v
		low, high = min(low, v), max(high, v)
		sum += v
		if i >= n/2 {
			newer += v
		}
	}
	w := window{mean: first.v + sum/float64(n), newer: first.v + newer/float64(n-n/2), over: high - low,
		lasts: s.at(n - 1).at.Sub(first.at)}
	w.spread, w.trembling = s.scatter(w.mean)
	return w
}

// scatter returns the samples' standard deviation about their mean, and how much they tremble: about the straight line that
// follows them best, or from one to the next, over √2, whichever is more. A slow vibration shows in the one, a fast one in both.
func (s *Steady) scatter(mean float64) (spread, trembling float64) {
	n := float64(len(s.ring))
	var squares, steps, along, times, before float64
	for i := range s.ring {
		v := s.at(i).v
		d, x := v-mean, float64(i)-(n-1)/2
		squares += d * d
		along += x * d
		times += x * x
		if i > 0 {
			steps += (v - before) * (v - before)
		}
		before = v
	}
	about := max(0, squares-along*along/times) / (n - 2)
	return math.Sqrt(squares / (n - 1)), math.Sqrt(max(about, steps/(2*(n-1))))
}

// rounding is below every figure that an indicator sends, millimetres: sums of figures that are no binary fractions are off by less.
const rounding = 1e-9
