package gauge

import (
	"strings"
	"testing"
	"time"
)

// While all that comes is beyond the dial it is not silent, and no figure of before stands; why is told in the range that the job states,
// ±0.8 of 1.6. As soon as a figure comes that a needle can show, all is as before.
func TestBeyondTheDial(t *testing.T) {
	r := reader(t, func(s *Settings) { s.Most = 1.6 })
	r.Begin(false)
	r.Add([]byte(strings.Repeat("0.1\n", 5)), simTime(0), nil)
	for i := 1; i < 200; i++ {
		r.Add([]byte("+2.310\n"), simTime(i), nil)
	}
	const want = "over-pressed, or not touching: the figure +2.31 mm is off the dial (±0.8 mm)"
	if m := r.Moment(simTime(200)); !m.Beyond || m.Has || m.Steady || m.Silent || m.Why == nil || m.Why.Error() != want {
		t.Errorf("%+v, want %s", m, want)
	}
	r.Add([]byte(strings.Repeat("0.1\n", 5)), simTime(201), nil)
	if m := r.Moment(simTime(201)); m.Beyond || !m.Steady {
		t.Errorf("%+v, want it to stand at 0.1", m)
	}
}

// What was told once does not come back behind its pause where readings have come since; a new one brings the number of all.
func TestOldComplaintStaysAway(t *testing.T) {
	r := reader(t, func(s *Settings) { s.Most = 1.6 })
	r.Begin(false)
	at := func(s float64) time.Time { return simBegin.Add(time.Duration(s * float64(time.Second))) }
	told := map[int]int{} // by second
	for i := range 1000 {
		s := float64(i) / 10
		line := "0.1\n"
		if s < 2 || s == 80 {
			line = "2.31\n"
		}
		r.Add([]byte(line), at(s), nil)
		if n, _ := r.Unread(at(s)); n > 0 {
			told[int(s)] = n
		}
	}
	if len(told) != 2 || told[0] != 1 || told[80] != 20 {
		t.Errorf("told %v, want 1 at once, and 20 at 80 s", told)
	}
}
