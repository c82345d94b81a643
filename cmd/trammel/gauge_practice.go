package main

import (
	"io"
	"sync"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// practiceEvery is the time between two lines of the simulated indicator; a test's clock runs faster.
var practiceEvery = time.Second / practice.LiveRate

// practiceName is what the simulated indicator is called as a source.
const practiceName = session.Practised

// practiceFeed is the line of a simulated machine's indicator, which is read like that of a real one.
func practiceFeed(w world, live *practice.Live) (*feed, error) {
	reader, err := gauge.NewReader(gauge.Usual(), geom.Millimetre)
	if err != nil {
		return nil, err
	}
	g := &feed{name: practiceName, reader: reader, source: gaugeSource{
		open:    func() (io.ReadCloser, error) { return newSimulated(live, w.now), nil },
		because: func(err error) error { return err },
	}}
	reader.Begin(g.source.midway)
	return g, g.begin(w)
}

// simulated is what a simulated indicator sends.
type simulated struct {
	live  *practice.Live
	now   func() time.Time
	every *time.Ticker
	rest  []byte // of a line
	once  sync.Once
	done  chan struct{}
}

func newSimulated(live *practice.Live, now func() time.Time) *simulated {
	return &simulated{live: live, now: now, every: time.NewTicker(practiceEvery), done: make(chan struct{})}
}

// Read waits for the next line, or until it is closed.
func (s *simulated) Read(b []byte) (int, error) {
	if len(s.rest) == 0 {
		select {
		case <-s.done:
			return 0, errDone
		case <-s.every.C:
			s.rest = s.live.Line(s.now())
		}
	}
	n := copy(b, s.rest)
	s.rest = s.rest[n:]
	return n, nil
}

// Close ends a Read that waits.
func (s *simulated) Close() error {
	s.once.Do(func() {
		s.every.Stop()
		close(s.done)
	})
	return nil
}
