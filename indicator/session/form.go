package session

import (
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Form is what a sweep shows of the reference's form.
type Form struct {
	indicator.Roundness
	Trial   int   // whose sweep it was
	Station []int // the station (from 1) of each reading of the profile
	Kept    []int // the stations (from 1) whose readings did not fit and were kept
}

// Form judges the form of the reference by the present sweep, or by the newest one before it that
// has enough of the round: sweeps stop early, and the reference does not change between them. The
// error is that of the present sweep; while a reading is in doubt there is no form, for the slip
// would be in it.
func (s *State) Form() (Form, error) {
	if s.Set == nil {
		return Form{}, fmt.Errorf("no setting is open")
	}
	if s.Doubt != nil {
		return Form{}, fmt.Errorf("station %d is in doubt, settle that first", s.Doubt.Station)
	}
	f, err := s.formOf(&s.Sweep, s.Trial)
	if err == nil {
		return f, nil
	}
	for t := s.Past; t != nil; t = t.Before {
		if f, e := s.formOf(&t.Sweep, t.Number); e == nil {
			return f, nil
		}
	}
	return Form{}, err
}

func (s *State) formOf(w *Sweep, trial int) (Form, error) {
	if s.touches() {
		return s.formOfPoints(w, trial)
	}
	bearings, readings, station := w.Data()
	if n := len(readings); n < indicator.MinProfile {
		return Form{}, fmt.Errorf("%d readings, need at least %d stations", n, indicator.MinProfile)
	}
	f, err := s.formFit(w, bearings, readings)
	if err != nil {
		return Form{}, err
	}
	r, err := f.Roundness(bearings, readings)
	form := Form{Roundness: r, Trial: trial, Station: station}
	for _, n := range station {
		if w.Stations[n-1].Kept {
			form.Kept = append(form.Kept, n)
		}
	}
	return form, err
}

// formFit fits a sweep as it was read: with nothing held, and no drift taken out. That of the present one is most often its
// own fit.
func (s *State) formFit(w *Sweep, bearings []geom.Bearing, readings []float64) (indicator.Found, error) {
	if w == &s.Sweep && !w.Even && s.Bezel == w.Bezel && s.setup() == s.Set.Job.Setup {
		return s.Fit()
	}
	return indicator.Fit(s.Set.Job.Dial, s.Set.Job.Setup, bearings, readings)
}
