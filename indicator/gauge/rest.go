package gauge

import (
	"math"
	"time"
)

// rest is whether a needle stands still. One that trembles at the edge of the range would be said to stand and to move many times
// a second: it stands still once the rule is met, and does so until its samples leave the range, or the mean of the newer half of
// them goes off by so much of it. If it comes to rest and moves and has gone nowhere, the rule must be met for half a window the
// next time, and twice as long each time after that; where it has gone elsewhere, or has stood for long, all is as at first.
// Found by simulation (TestSteadySeldomFlickers, TestSteadyIsSeldomFalse).
type rest struct {
	still bool
	held  float64       // the mean as the rule was met last, millimetres
	since time.Time     // when it came to stand still
	met   time.Time     // since when the rule is met; zero where it is not
	wait  time.Duration // for which it has to be met
}

const (
	goes        = 0.25 // of the range
	farOff      = 2    // times the range
	leastAgain  = 100 * time.Millisecond
	longestRest = 3 * time.Second
	stoodLong   = 8 * time.Second
)

// look finds out whether it stands still, behind a sample.
func (r *rest) look(w *window, within float64, now time.Time) {
	met := w.met(within)
	if !met {
		r.met = time.Time{}
	} else if r.met.IsZero() {
		r.met = now
	}
	gone := math.Abs(w.newer - r.held)
	if r.still {
		r.stands(w, met, gone, within, now)
		return
	}
	if gone > farOff*within {
		r.wait = 0
	}
	if met && now.Sub(r.met) >= r.wait {
		r.still, r.held, r.since = true, w.mean, now
	}
}

// stands looks whether it still does.
func (r *rest) stands(w *window, met bool, gone, within float64, now time.Time) {
	switch {
	case met:
		r.held = w.mean
		if now.Sub(r.since) > stoodLong {
			r.wait = 0
		}
	case w.over > within+rounding || gone > goes*within:
		r.still = false
		if again := r.wait > 0; again {
			r.wait = min(max(2*r.wait, leastAgain), longestRest)
		} else {
			r.wait = max(w.lasts/2, 1) // samples that came together last no time
		}
	}
}
