package gauge

import "time"

// pulse is when something came of a stream, whatever it was: a cable that is out of the instrument, or one that has gone to sleep,
// is nothing that the line's other end is told of.
type pulse struct {
	begun  time.Time // the first look
	last   time.Time // zero where nothing has come yet
	apart  time.Duration
	silent bool // and it has been said
	back   bool // and that is still to be said
}

// Nothing has come for too long once it is so long, or so many times what lay between two arrivals of late; of a stream that has not
// begun yet, after so long. (Common practice, no source: those that send all the time do so every second at the least.)
const (
	silentAfter = 3 * time.Second
	silentTimes = 10
	neverAfter  = 10 * time.Second
)

// something came.
func (h *pulse) something(at time.Time) {
	if !h.last.IsZero() && !h.silent {
		h.apart += (at.Sub(h.last) - h.apart) / 4
	}
	h.last = at
	h.silent, h.back = false, h.back || h.silent
}

func (h *pulse) silence(now time.Time) (gone time.Duration, back bool) {
	if h.begun.IsZero() {
		h.begun = now
	}
	if h.back {
		h.back = false
		return 0, true
	}
	since, after := h.last, max(silentAfter, silentTimes*h.apart)
	if since.IsZero() {
		since, after = h.begun, neverAfter
	}
	if gone = now.Sub(since); h.silent || gone < after {
		return 0, false
	}
	h.silent = true
	return gone, false
}
