package session

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// The closing reading is the first station's, read once more behind all others: whatever moved
// while the sweep was taken (the work, the head, the indicator on its rod) shows there.

// Entries counts the sweep's entries, closing readings apart.
func (w *Sweep) Entries() int {
	n := 0
	for i := range w.Stations[:w.N] {
		if !w.Stations[i].Closing {
			n++
		}
	}
	return n
}

// first is the bearing of the first station that has a reading; ok is false where none has.
func (w *Sweep) first() (b geom.Bearing, ok bool) {
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped {
			return st.Bearing, true
		}
	}
	return 0, false
}

// closed is the number (from 1) of the closing reading, if it stands last: readings behind it
// would want another. 0 where there is none.
func (w *Sweep) closed() int {
	if w.N > 0 && w.Stations[w.N-1].Closing {
		return w.N
	}
	return 0
}

// places returns the readings' places in time, from −½ for the first that was taken to ½ for the
// last, in the order of [Sweep.Data]. Readings are taken to follow each other evenly: a hand-swung
// sweep has no clock.
func (w *Sweep) places() []float64 {
	first, last := w.Taken, 1
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped {
			first, last = min(first, st.Order), max(last, st.Order)
		}
	}
	var out []float64
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped {
			out = append(out, float64(st.Order-first)/float64(max(1, last-first))-0.5)
		}
	}
	return out
}

// wantsClosing reports whether the sweep, about to be closed, still lacks the closing reading that
// the job asks for.
func (s *State) wantsClosing() bool {
	_, some := s.Sweep.first()
	return some && s.Set.Job.Sweep.Closing && s.Sweep.closed() == 0 && s.Sweep.N < indicator.MaxStations
}

// Drifting fits a steady drift over the readings of the sweep. Errors are those of
// [indicator.FitDrift].
func (s *State) Drifting() (indicator.Found, error) {
	bearings, readings, _ := s.Sweep.Data()
	return indicator.FitDrift(s.Set.Job.Dial, s.setup(), bearings, readings, s.Sweep.places())
}

// drifted reports a drift that the closing reading has brought to light and that nobody has
// decided on. A closing reading that is off may be a misread itself: of the two, what explains the
// readings better is said.
func (s *State) drifted(d Doubted, doubted bool) (e Drifted, ok bool) {
	n := s.Sweep.closed()
	if n == 0 || s.Sweep.Even || s.Sweep.Stations[n-1].Skipped || s.Sweep.Stations[n-1].Kept {
		return e, false
	}
	f, err := s.Drifting()
	if err != nil || !f.Drifts {
		return e, false
	}
	if doubted {
		if g, err := s.fitWithout(d.Station); err == nil && g.Circle.SSR < f.Circle.SSR {
			return e, false
		}
	}
	return Drifted{Change: f.Change.V}, true
}

// Readings returns the bearings and readings that f was fitted to, the drift taken out where it is,
// and the stations' numbers (from 1).
func (s *State) Readings(f *indicator.Found) (bearings []geom.Bearing, readings []float64, station []int) {
	if s.touches() {
		return s.seen()
	}
	bearings, readings, station = s.Sweep.Data()
	if s.Sweep.Even {
		readings = f.Evened(readings, s.Sweep.places())
	}
	return bearings, readings, station
}
