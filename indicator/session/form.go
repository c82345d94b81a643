package session

import (
	"fmt"

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

// plainly reports whether the sweep is fitted as the job states it.
func (s *State) plainly() bool {
	u := s.setup()
	u.Form = indicator.Form{}
	return u == s.Set.Job.Setup
}

func (s *State) formOf(w *Sweep, trial int) (Form, error) {
	b := s.bench()
	b.Setup, b.Sweep, b.Shift = s.Set.Job.Setup, w, 0 // as it was read: with nothing held, and no drift taken out
	b.Round().Places = nil
	var known *indicator.Estimate // that of the present sweep is most often its own fit
	if w == &s.Sweep && !w.Even && s.Bezel == w.Bezel && s.plainly() {
		f, err := s.Fit()
		if err == nil {
			known = &f
		}
	}
	r, err := s.SetUp().Form(b, known)
	form := Form{Roundness: r, Trial: trial, Station: w.taken()}
	for _, n := range form.Station {
		if w.Stations[n-1].Kept {
			form.Kept = append(form.Kept, n)
		}
	}
	return form, err
}

// Formed is what sweeps have shown of a reference's form: up to what amplitude it may have two and three lobes, millimetres; 0 where
// no stations have seen them in every phase. A reference is known by its radius and by the side that is touched.
type Formed struct {
	Radius float64         `json:"radius"`
	Touch  indicator.Touch `json:"touch"`
	Two    float64         `json:"two,omitempty"`
	Three  float64         `json:"three,omitempty"`
}

// Formed is what has been shown of the setting's reference; ok is false where nothing has.
func (s *State) Formed() (f Formed, ok bool) {
	u := &s.Set.Job.Setup
	for _, f := range s.Forms {
		if f.Radius == u.ReferenceRadius && f.Touch == u.Touch {
			return f, true
		}
	}
	return Formed{Radius: u.ReferenceRadius, Touch: u.Touch}, false
}

// learnForm keeps what the closed sweep has shown of the reference, where that is less than was known.
func (s *State) learnForm() {
	if !s.rounds() || s.Set.Job.Setup.ReferenceRadius == 0 {
		return
	}
	f, err := s.Fit()
	if err != nil {
		return
	}
	bearings, readings, _ := s.Readings(&f)
	l := f.Lobes(bearings, readings)
	now, known := s.Formed()
	least := func(was *float64, b float64) {
		if b > 0 && (*was == 0 || b < *was) {
			*was = b
		}
	}
	least(&now.Two, l.Bound[0])
	least(&now.Three, l.Bound[1])
	if now.Two == 0 && now.Three == 0 {
		return
	}
	forms := []Formed{now}
	for _, old := range s.Forms {
		if !known || old.Radius != now.Radius || old.Touch != now.Touch {
			forms = append(forms, old)
		}
	}
	s.Forms = forms
}
