package practice

import (
	"errors"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
)

// drawnSession is a drawn machine with its session, in which nothing has been done yet.
func drawnSession(t *testing.T, seed uint64, o Options) (*Machine, *session.Live) {
	t.Helper()
	d := Draw(seed, o)
	set, err := openDrawn(&d)
	if err != nil {
		t.Fatal(err)
	}
	live := session.NewLive(session.State{}, nowhere{})
	if _, err := live.Do(session.Open{Opened: set}, time.Time{}); err != nil {
		t.Fatal(err)
	}
	return New(d.World, seed), live
}

// The hands play every trap to an accepted end, with either hand, though they have to look after what is refused.
func TestTrapsArePlayedToTheEnd(t *testing.T) {
	for _, trap := range Traps() {
		for _, h := range []Hand{Parked, Collar} {
			for seed := uint64(1); seed <= 5; seed++ {
				m, live := drawnSession(t, seed, Options{Trap: trap, byCollar: h == Collar})
				m.Hand = h
				err := m.Play(live, func() time.Time { return time.Time{} }, func(session.Step) {})
				if s := live.State(); err != nil || !s.Accepted() {
					t.Errorf("%v, %v, machine %d: %v, accepted %v", trap, h, seed, err, s.Accepted())
				}
			}
		}
	}
}

// A check in the middle of a wind that goes against what is stated stands before that wind: it is not confirmed any more,
// but asked again once the check is passed over, or agrees.
func TestNothingIsWoundAgainstACheck(t *testing.T) {
	m, live := drawnSession(t, 3, Options{Trap: YHandleTrap})
	asked := func() session.Prompt { s := live.State(); return s.Prompt() }
	do := func(c session.Command) error { _, err := live.Do(c, time.Time{}); return err }
	refused := func(err error) bool { r := (*session.Refusal)(nil); return errors.As(err, &r) }
	for {
		c, _, err := m.Do(asked())
		if err != nil {
			t.Fatal(err)
		}
		if err = do(c); err != nil {
			t.Fatal(err)
		}
		if asked().Waits == session.ForCheck { // the needle went the other way: passed over, to be asked for by word
			if err := do(session.Skip{}); err != nil {
				t.Fatal(err)
			}
			break
		}
	}
	told := asked()
	if told.Waits != session.ForWind || told.Wind.Slide.Name != "y" {
		t.Fatalf("%v of %s is refused, want the wind of y", told.Waits, told.Wind.Slide.Name)
	}
	s := live.State()
	against, err := m.Sense(&s, "y")
	if err != nil {
		t.Fatal(err)
	}
	for _, way := range []session.Command{session.Skip{}, session.Sense{Slide: "y", Went: other(against)}} {
		if err := do(against); err != nil {
			t.Fatal(err)
		}
		if w := asked().Waits; w != session.ForCheck {
			t.Errorf("behind a check that disagrees %v is asked, want a check", w)
		}
		if err := do(session.Confirm{}); !refused(err) {
			t.Errorf("the wind is confirmed against the check: %v", err)
		}
		if err := do(way); err != nil {
			t.Errorf("%+v: %v", way, err)
		}
		if p := asked(); p.Waits != session.ForWind || p.Wind.Told.Wind.Travel != told.Wind.Told.Wind.Travel {
			t.Errorf("behind %+v %v is asked, want the wind again", way, p.Waits)
		}
	}
}

// other is a check answered the other way.
func other(c session.Command) session.Went {
	if c.(session.Sense).Went == session.Up {
		return session.Down
	}
	return session.Up
}
