package session_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// An opening that no file of today or before can have stated is refused as the journal is read, whatever its check says: a collar of
// no divisions would be wound by turns that nobody can count. The very bounds that a file may state are read.
func TestOpeningRefused(t *testing.T) {
	read := func(change func(o *session.Opened)) error {
		o := benchOpened(t)
		change(&o)
		text, err := session.Encode(1, time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC), o)
		if err != nil {
			t.Fatal(err)
		}
		_, err = session.Decode(1, text)
		return err
	}
	degree := math.Pi / 180
	for because, change := range map[string]func(o *session.Opened){
		"divisions 0, need 1":         func(o *session.Opened) { o.Machine.Slides[1].Divisions = 0 },
		"divisions 1e+09, need":       func(o *session.Opened) { o.Machine.Slides[1].Divisions = 1e9 },
		"travel_per_turn 0, need":     func(o *session.Opened) { o.Machine.Slides[0].TravelPerTurn = 0 },
		"travel_per_turn -2, need":    func(o *session.Opened) { o.Machine.Slides[0].TravelPerTurn = -2 },
		"slide without a name":        func(o *session.Opened) { o.Machine.Slides[2].Name = "" },
		"backlash -0.1, need":         func(o *session.Opened) { o.Machine.Slides[0].Backlash = -0.1 },
		"askew_limit 1e+200, need":    func(o *session.Opened) { o.Machine.Slides[0].AskewLimit = 1e200 },
		"askew -4, need":              func(o *session.Opened) { o.Machine.Slides[0].Askew = -4 },
		"high 1, need 2":              func(o *session.Opened) { o.Machine.Slides[0].Low, o.Machine.Slides[0].High = 2, 1 },
		"dial.lever_limit 1, need":    func(o *session.Opened) { o.Job.Dial.LeverLimit = 1 },
		"dial.lever_angle 1.5, need":  func(o *session.Opened) { o.Job.Dial.LeverAngle = 1.5 },
		"dial.reads_to 1.5, need":     func(o *session.Opened) { o.Job.Dial.ReadsTo = 1.5 },
		"dial.reads_to -0.2, need":    func(o *session.Opened) { o.Job.Dial.ReadsTo = -0.2 },
		"setup.tilt_limit -1, need":   func(o *session.Opened) { o.Job.Setup.TiltLimit = -1 },
		"setup.reference_limit -1":    func(o *session.Opened) { o.Job.Setup.ReferenceLimit = -1 },
		"setup.reference_radius 1e+2": func(o *session.Opened) { o.Job.Setup.ReferenceRadius = 1e200 },
		"cut.stock -0.3, need":        func(o *session.Opened) { o.Job.Cut = &setup.Cut{Cutter: 6, Stock: -0.3} },
		"cut.measured_error -1, need": func(o *session.Opened) { o.Job.Cut = &setup.Cut{Cutter: 6, MeasuredError: -1} },
		"about.angle_error 1, need":   func(o *session.Opened) { o.Job.About = &setup.About{AngleLimit: 1} },
	} {
		if err := read(change); err == nil || !strings.Contains(err.Error(), because) {
			t.Errorf("read (%v), want refused: %s", err, because)
		}
	}
	if err := read(func(o *session.Opened) {
		s := &o.Machine.Slides[0]
		s.TravelPerTurn, s.Divisions, s.AskewLimit = 0.001, 10000, 30*degree
		o.Job.Dial.LeverAngle, o.Job.Dial.LeverLimit, o.Job.Dial.AngleError = -75*degree, 45*degree, 20*degree
		o.Job.Dial.ReadsTo, o.Job.Setup.TiltLimit = 1, 0.1
		o.Job.About = &setup.About{} // both at the drawing's origin
	}); err != nil {
		t.Errorf("what a file may state is refused: %v", err)
	}
	text, err := session.Encode(1, time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC), benchOpened(t))
	if err != nil {
		t.Fatal(err)
	}
	for about, because := range map[string]string{"{}": "about without reference_at", `{"reference_at":{"X":1,"Y":2}}`: "without centre_at",
		`{"reference_at":{},"centre_at":{},"more":1}`: "more"} {
		with := strings.Replace(string(text), `"job":{`, `"job":{"about":`+about+`,`, 1)
		if _, err := session.Decode(1, []byte(with)); err == nil || !strings.Contains(err.Error(), because) {
			t.Errorf("about %s is read (%v), want refused: %s", about, err, because)
		}
	}
}
