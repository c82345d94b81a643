package session_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// What was found before a setting was opened goes through its journal as it is, a setting without it says nothing of it, and what
// nobody can have found is refused, with what is amiss.
func TestFoundOnRecord(t *testing.T) {
	good := setup.Found{Key: setup.FoundReach, By: "spin the spindle in a ring", Value: 12.004, Limit: 0.006,
		Rounds: []setup.FoundRound{{Of: "ring", Radius: 12, RadiusLimit: 0.0015, Readings: []float64{0.004, -0.1, 0.004, 0.1}}}}
	decode := func(f ...setup.Found) (session.Opened, error) {
		set := benchOpened(t)
		set.Found, set.Job.Setup.Reach, set.Job.Setup.ReachKnown = f, 12.004, true
		text, err := session.Encode(1, time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC), set)
		if err != nil {
			return session.Opened{}, err
		}
		if len(f) == 0 && strings.Contains(string(text), "found") {
			t.Errorf("nothing is found, and it says %s", text)
		}
		r, err := session.Decode(1, text)
		o, _ := r.Event.(session.Opened)
		return o, err
	}
	for _, all := range [][]setup.Found{nil, {good}, {good, good}} {
		if o, err := decode(all...); err != nil || len(o.Found) != len(all) || len(all) > 0 && (o.Found[0].Value != good.Value ||
			!slices.Equal(o.Found[0].Rounds[0].Readings, good.Rounds[0].Readings)) {
			t.Errorf("%d found: read %+v (%v)", len(all), o.Found, err)
		}
	}
	for because, change := range map[string]func(f *setup.Found){
		"found \"setup.touch\", need setup.reach or dial.repeatability": func(f *setup.Found) { f.Key = "setup.touch" },
		"found by \"\"":   func(f *setup.Found) { f.By = "" },
		"from 0 rounds":   func(f *setup.Found) { f.Rounds = nil },
		"with 0 readings": func(f *setup.Found) { f.Rounds = []setup.FoundRound{{Of: "ring"}} },
		"of radius -1": func(f *setup.Found) {
			f.Rounds = []setup.FoundRound{{Of: "ring", Radius: -1, Readings: []float64{0}}}
		},
		"setup.reach found as 12.014, and the job says 12.004": func(f *setup.Found) { f.Value = 12.014 },
		"±-0.1, need numbers":                                  func(f *setup.Found) { f.Limit = -0.1 },
		"with 101 readings; need 1": func(f *setup.Found) {
			f.Rounds = []setup.FoundRound{{Of: "ring", Readings: make([]float64, 101)}}
		},
	} {
		bad := good
		change(&bad)
		if _, err := decode(good, bad); err == nil || !strings.Contains(err.Error(), because) {
			t.Errorf("%+v is read (%v), want refused: %s", bad, err, because)
		}
	}
	nan := good
	nan.Value = math.NaN()
	if nan.Check() == nil {
		t.Error("no number is found, and that is let pass")
	}
}
