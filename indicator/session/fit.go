package session

import (
	"sync"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// Fit fits the open or just closed sweep. Errors are those of [indicator.Fit].
func (s *State) Fit() (indicator.Estimate, error) {
	if f, err, ok := s.known(); ok {
		return f, err
	}
	return s.fitWithout(0)
}

// keepFit has the state keep its fit, where there can be one.
func (s *State) keepFit() {
	if s.Set == nil || s.Sweep.Readings() < fit.MinStations {
		return
	}
	if _, _, ok := s.known(); !ok {
		found, err := s.fitWithout(0)
		s.fitted = &fitted{s.fits(), found, err, sync.OnceValue(found.Swing)}
	}
}

// known is Fit where it has been kept; ok is false else.
func (s *State) known() (f indicator.Estimate, err error, ok bool) {
	if s.fitted == nil || s.fitted.of != s.fits() {
		return f, nil, false
	}
	return s.fitted.found, s.fitted.err, true
}

// swept is the swing radius as the sweep shows it; ok is false where it cannot be fitted.
func (s *State) swept() (v indicator.Value, ok bool) {
	if _, err, ok := s.known(); ok {
		return s.fitted.swing(), err == nil
	}
	f, err := s.fitWithout(0)
	return f.Swing(), err == nil
}

// fitted is a fit, and what it is of. Its swing radius is found when it is first asked for: how far that may be out costs more than
// the fit, and each look at the steps behind the setting asks for it.
type fitted struct {
	of    fits
	found indicator.Estimate
	err   error
	swing func() indicator.Value
}

// fits is all that a fit depends on. Stations are never changed, only replaced, so where they lie tells which they are.
type fits struct {
	setup       indicator.Setup
	dial        indicator.Dial
	stations    *Station
	n           int
	even        bool
	bezel, then float64
}

func (s *State) fits() fits {
	of := fits{s.setup(), s.Set.Job.Dial, nil, s.Sweep.N, s.Sweep.Even, s.Bezel, s.Sweep.Bezel}
	if s.Sweep.N > 0 {
		of.stations = &s.Sweep.Stations[0]
	}
	return of
}

// fitWithout is Fit with one station (from 1) left out, and any drift left in; 0 leaves out none.
func (s *State) fitWithout(station int) (indicator.Estimate, error) {
	return s.SetUp().Fit(&s.Set.Job, s.setup(), s.others(station))
}
