package main

import (
	"bytes"
	"fmt"
	"sync"
	"time"
)

// stillness tells that the program stood still, as one does that was stopped: what an indicator has sent meanwhile waits in its line, and
// answers no question.
type stillness struct {
	mu    sync.Mutex
	beat  time.Time // when the program last ran for sure
	until time.Time // what comes before then was waiting

	// Of whoever reads the line alone:
	threw bool // some of it, since what was handed over last
	half  bool // ... of which the last was no line's end
}

const (
	heartbeat = 500 * time.Millisecond
	// stoodStill is far longer than a machine that is busy keeps the program waiting.
	stoodStill = 2 * time.Second
	// emptied is how long it takes at most until all that has waited is read; no hand looks at the screen and presses in that time.
	emptied = 300 * time.Millisecond
)

// passed takes in that the program runs now, by a clock that nobody sets, and reports whether what comes now has waited.
func (s *stillness) passed(now time.Time) (waited bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.beat.IsZero() && now.Sub(s.beat) > stoodStill {
		s.until = now.Add(emptied)
	}
	s.beat = now
	return now.Before(s.until)
}

// beats notes that the program runs, until the feed is ended.
func (g *feed) beats() {
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		select {
		case <-beat.C:
			g.still.passed(time.Now())
		case <-g.done:
			return
		}
	}
}

// fresh returns what has come, but for what has waited while the program stood still, which is said; stood says that some was thrown
// away before it. The rest of a line whose beginning was is none.
func (g *feed) fresh(w world, b []byte) (came []byte, stood bool) {
	s := &g.still
	if len(b) == 0 {
		return nil, false
	}
	if g.source.keeps && s.passed(time.Now()) {
		if !s.threw {
			fmt.Fprintln(w.err, "trammel: what the cable indicator sent while the program stood still is not taken")
		}
		s.threw, s.half = true, !endsLine(b)
		return nil, false
	}
	stood = s.threw
	if s.half {
		came = append(came, broken)
	}
	s.threw, s.half = false, false
	return append(came, b...), stood
}

// broken makes a line none.
const broken = '\xff'

// endsLine reports whether the last byte ends a line.
func endsLine(b []byte) bool { return len(bytes.TrimRight(b, "\r\n")) < len(b) }
